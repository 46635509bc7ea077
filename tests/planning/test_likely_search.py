"""The search by the miss to be expected: it finds what insisting on a pencil would find."""

from __future__ import annotations

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.layering.doubt.draws import many_in_doubt
from drills.planning.choose import DRAWS, weighed
from drills.planning.plan_limits import Limits
from drills.planning.request import Job, likely, make_job, ranked, task_of
from drills.planning.rules import broken_rules
from drills.planning.search.finished_plans import likeliest
from drills.planning.search.likely_search import FIRM_SHARE, likely_search
from tests.palettes import palette_of

POCKET, DEMO = palette_of("pocket"), palette_of("demo")


def job(palette, target, **limits) -> Job:
    return make_job(palette, target, Limits(**limits), 0, None)


def least(asked: Job) -> float:
    return min(one.expected for one in weighed(asked, likely(asked)))


@pytest.mark.parametrize("target", [(52.0, 28.0, 14.0), (60.0, -10.0, 12.0), (40.0, 4.0, -14.0)])
def test_insisting_on_a_pencil_finds_hardly_anything_nearer(target):
    free = least(job(POCKET, target))
    for at in POCKET.colour_indices.tolist():
        asked = job(POCKET, target, insist=frozenset({at}))
        plans = weighed(asked, likely(asked))
        assert not plans or min(one.expected for one in plans) > free - 0.3


@pytest.mark.parametrize("target", [(48.0, 45.0, 33.0), (62.0, 7.0, 57.0)])
def test_it_expects_to_miss_by_less_than_the_nearest_in_colour_do(target):
    asked = job(DEMO, target)
    nearest = [one.moves for one in ranked(asked, most=120)]
    labs = many_in_doubt(DEMO, nearest, DRAWS, 0)
    assert least(asked) < float(delta_e00(labs, asked.aim).mean(axis=1).min()) - 0.1


def test_what_it_finds_keeps_the_craft_and_the_limits():
    target = (45.0, 25.0, 12.0)
    muted = DEMO.names.index("Mudhard Grey")
    for limits in ({}, {"max_layers": 3, "max_pencils": 2}, {"insist": frozenset({muted})}):
        found = likely(job(DEMO, target, **limits))
        assert found
        for one in found[::9]:
            assert broken_rules(DEMO, one.moves, target) == ()
            assert len(one.moves) <= limits.get("max_layers", 5)
            assert len(one.kit) <= limits.get("max_pencils", 4)
            assert limits.get("insist", frozenset()) <= one.kit


def test_plans_of_firm_layers_have_their_own_share_and_no_more():
    """They look steady; left to themselves they would crowd out what leads farther."""
    assert 0.0 < FIRM_SHARE < 0.5
    found = likeliest(likely_search(task_of(job(DEMO, (62.0, 7.0, 57.0))), rounds=()))
    firm = np.mean([any(move.pressure == 1.0 for move in one.moves) for one in found])
    assert 0.1 < firm < 0.95
