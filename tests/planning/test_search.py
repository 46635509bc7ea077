"""The search: its rules are the rules, its short cut is the model, and it finds what there is."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.colour.spaces import lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette
from drills.layering.predict import extend, predict_many, sheet_lab, start
from drills.layering.sheet import blend, lay
from drills.planning.plan_limits import Limits
from drills.planning.request import LONG, SHORT, Job, make_job, ranked
from drills.planning.rules import broken_rules
from drills.planning.search.craft import Roles, roles
from drills.planning.search.half_made import PRESSURES, Trails, begin
from drills.planning.search.lengthen import blended, laid, leads_on, may_blend, may_end, may_lay
from drills.planning.search.next_layer import Looker
from drills.planning.search.prospects import local_metric
from tests.palettes import palette_of

BLEND_NOW = -1
layer = st.tuples(st.integers(0, 11), st.integers(0, 2))
walks = st.lists(st.one_of(layer, st.just((BLEND_NOW, 0))), min_size=1, max_size=5)
targets = st.sampled_from(
    ["#a04040", "#7a5a3a", "#3d5a4c", "#c8b48c", "#6b6f75", "#2b3440", "#b07a9a", "#59713c"]
)


def may_be_walked(palette: Palette, walk: list[tuple[int, int]], target: np.ndarray) -> bool:
    """Whether the search would let these moves follow each other, and end."""
    places = palette.colour_indices
    parts: Roles = roles(palette, tuple(target.tolist()), places)
    trails = begin(palette, len(places), reflectance_to_lab(palette.paper.reflectance))
    ended = False
    for at, (pencil, press) in enumerate(walk):
        left = len(walk) - at
        if pencil == BLEND_NOW:
            if trails.moves == 0 or left == 1 or not may_blend(trails)[0]:
                return False
            trails, ended = blended(trails, np.array([0]), target), False
            continue
        if not may_lay(trails, parts, left, 9)[0, press, pencil]:
            return False
        if at == 0 and press == 2 and left > 1:
            return False  # kept by the search itself: a plan of several doesn't begin firm
        row, one, hand = np.array([0]), np.array([pencil]), np.array([press])
        lab = sheet_lab(lay(trails.sheet, palette, places[one], PRESSURES[hand]))
        off = delta_e00(lab, target)
        if not leads_on(trails, parts, row, one, off)[0]:
            return False
        ended = bool(may_end(trails, parts)[0, pencil])
        trails = laid(palette, places, trails, parts, row, hand, one, lab, off)
    return ended


@settings(max_examples=400, deadline=None)
@given(walk=walks, target=targets)
@example(walk=[(3, 0), (0, 0), (BLEND_NOW, 0), (2, 0)], target="#a04040")
def test_what_the_search_allows_is_what_the_rules_allow(
    walk: list[tuple[int, int]], target: str
) -> None:
    palette = palette_of("pocket")
    colours = palette.colour_indices.tolist()
    walk = [(pencil % len(colours) if pencil >= 0 else pencil, press) for pencil, press in walk]
    goal = np.array(parse_colour(target))
    moves = [
        Move("blend", -1, LIGHT)
        if pencil == BLEND_NOW
        else Move("lay", colours[pencil], float(PRESSURES[press]))
        for pencil, press in walk
    ]
    broken = broken_rules(palette, moves, tuple(goal.tolist()))
    assert may_be_walked(palette, walk, goal) == (broken == ())


def test_the_walks_above_meet_both_answers() -> None:
    # Else the law above might hold of nothing.
    palette = palette_of("pocket")
    n = len(palette.colour_indices)
    for text in ("#a04040", "#3d5a4c"):
        goal = np.array(parse_colour(text))
        pairs = [[(i, 1), (j, 2)] for i in range(n) for j in range(n)]
        allowed = sum(may_be_walked(palette, pair, goal) for pair in pairs)
        assert 0 < allowed < len(pairs)


@pytest.mark.parametrize("hazy", [False, True])
def test_a_next_layer_looked_at_is_the_layer_laid(hazy: bool) -> None:
    palette = palette_of("demo")
    rng = np.random.default_rng(3)
    places = palette.colour_indices
    sheet = start(palette, 6)
    for _ in range(2):
        pencil, press = rng.choice(places, 6), rng.choice(PRESSURES, 6)
        sheet = extend(palette, sheet, pencil, press)
    if hazy:
        sheet = blend(sheet, LIGHT)
    looked = xyz_to_lab(Looker.of(palette, places, PRESSURES).xyz(sheet, np.zeros(6, np.int64)))
    for press in range(3):
        for n in (0, 9, 34):
            seen = sheet_lab(lay(sheet, palette, int(places[n]), float(PRESSURES[press])))
            np.testing.assert_allclose(looked[:, press, n], seen, atol=2e-3)


@settings(max_examples=50, deadline=None)
@given(
    lab=st.tuples(st.floats(20, 90), st.floats(-50, 50), st.floats(-50, 50)),
    step=st.tuples(*[st.floats(-0.4, 0.4)] * 3),
)
def test_near_the_target_the_local_metric_is_the_difference(
    lab: tuple[float, float, float], step: tuple[float, float, float]
) -> None:
    # CIEDE2000 is smooth but at grey, where its hue terms turn.
    if np.hypot(lab[1], lab[2]) < 5:
        return
    target = np.array(lab)
    xyz = lab_to_xyz(target + np.array(step)) - lab_to_xyz(target)
    near = float(np.linalg.norm(local_metric(target) @ xyz))
    assert near == pytest.approx(float(delta_e00(target, target + np.array(step))), abs=0.04)


def all_plans(job: Job) -> float:
    """ΔE00 of the nearest of all plans of two layers that break no rule, tried one by one."""
    palette = job.palette
    moves = [Move("lay", int(i), p) for i in job.places for p in (LIGHT, MIDDLE, FIRM)]
    recipes = [(one,) for one in moves] + [(one, two) for one in moves for two in moves]
    off = [
        *delta_e00(predict_many(palette, [r for r in recipes if len(r) == 1]), job.target),
        *delta_e00(predict_many(palette, [r for r in recipes if len(r) == 2]), job.target),
    ]
    tray = job.places.tolist()
    for i in np.argsort(off):
        if not broken_rules(palette, recipes[i], tuple(job.target.tolist()), tray):
            return float(off[i])
    raise AssertionError("there is no plan")


@pytest.mark.parametrize("text", ["#a05050", "#4f6b5a", "#8a7a60", "#35506e"])
def test_no_plan_of_two_layers_is_missed(text: str) -> None:
    # tests/bench/bench_planner.py does the same for three layers and 200 targets.
    limits = Limits(max_layers=2, blender=False, burnish=False)
    job = make_job(palette_of("pocket"), parse_colour(text), limits, 0, None)
    assert ranked(job, SHORT)[0].delta_e00 == pytest.approx(all_plans(job), abs=2e-3)


def test_a_wider_beam_hardly_does_better() -> None:
    from dataclasses import replace

    gains = []
    for text in ("#a05050", "#4f6b5a", "#35506e"):
        job = make_job(palette_of("demo"), parse_colour(text), Limits(), 0, None)
        wide = replace(LONG, beam=2000, blends=200)
        gains.append(ranked(job, LONG)[0].delta_e00 - ranked(job, wide)[0].delta_e00)
    assert np.mean(gains) < 0.3


def test_trails_taken_and_joined_are_the_same_trails() -> None:
    palette = palette_of("pocket")
    paper = reflectance_to_lab(palette.paper.reflectance)
    one = begin(palette, 3, paper)
    both = Trails.join(one, one)
    assert len(both) == 2
    np.testing.assert_array_equal(both.take(np.array([1])).lab, one.lab)
