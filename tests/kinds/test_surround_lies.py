"""The surround lies: one colour on two grounds, judged by what it is and not by how it looks."""

from __future__ import annotations

import json
import random
from collections import Counter

import numpy as np
import pytest

from drills.colour.hue import family, wheel_position, wheel_steps
from drills.colour.spaces import in_screen_gamut, lab_to_lch, screen_rgb
from drills.colour.words import strength
from drills.kinds import draw
from drills.kinds.surround_lies import GREY, KIND, LEAST_REACH, SAID, TwoGrounds
from drills.layering.palette import Palette
from drills.questions.draw import shown_pool
from drills.questions.protocol import CannotAskError
from tests.palettes import palette_of, palette_with, pencil

SEEDS = range(15)


def questions(palette: Palette, step: float):
    for region in KIND.regions(palette):
        for seed in SEEDS:
            yield draw(KIND, palette, region, step, seed)


@pytest.fixture(scope="module", params=[("demo", 4.0), ("demo", 1.0), ("pocket", 12.0)], ids=str)
def drawn(request):
    name, step = request.param
    return list(questions(palette_of(name), step))


def data_of(question) -> TwoGrounds:
    assert isinstance(question.data, TwoGrounds)
    return question.data


def levels(lab) -> list[int]:
    return screen_rgb(lab).tolist()


def test_greys_are_asked_as_well_as_every_family():
    regions = KIND.regions(palette_of("demo"))
    assert len(regions) == 13
    assert GREY in regions


def test_the_key_is_what_the_screens_levels_say(drawn):
    for question in drawn:
        left, right = (swatch.lab for swatch in KIND.ask(question, ()).scene)
        if question.facts["key"] == "same":
            assert levels(left) == levels(right)
        else:
            assert levels(left) != levels(right)
            assert (right[0] > left[0]) == (question.facts["key"] == "lighter")


def test_only_value_differs_between_the_two(drawn):
    for question in drawn:
        data = data_of(question)
        # Eight bits move a* and b* by a fraction of a unit.
        assert data.right[1:] == pytest.approx(data.left[1:], abs=1.2)


def test_the_left_colour_is_of_the_region_and_one_the_pencils_make(drawn):
    for question in drawn:
        left = data_of(question).left
        grey = float(strength(left)) < 1.5
        assert question.region == GREY if grey else family(left) == question.region


def test_one_ground_is_darker_than_both_and_one_lighter(drawn):
    for question in drawn:
        data = data_of(question)
        values = [data.left[0], *(lab[0] for lab in data.versions)]
        dark, light = sorted(data.grounds)
        assert dark[0] <= min(values) - LEAST_REACH + 1.0
        assert light[0] >= max(values) + LEAST_REACH - 1.0


def test_tinted_grounds_hold_the_colours_opposite_and_its_own_hue():
    for question in questions(palette_of("demo"), 4.0):
        data = data_of(question)
        dark, light = sorted(data.grounds)
        chroma = lab_to_lch(np.array([dark, light]))[:, 1]
        if not data.tinted:
            assert chroma.max() < 1.0
            continue
        here = wheel_position(data.left)
        if chroma[0] > 8.0:
            assert wheel_steps(wheel_position(dark), here) > 5.2
        if chroma[1] > 8.0:
            assert wheel_steps(wheel_position(light), here) < 0.8


def test_all_that_is_shown_lies_on_the_screen(drawn):
    for question in drawn:
        data = data_of(question)
        assert in_screen_gamut([data.left, *data.versions, *data.grounds]).all()


def test_the_grounds_tell_nothing_about_the_answer():
    # No rule serves, neither "it is always the other way" nor "it is always the same".
    palette, rng, count = palette_of("demo"), random.Random(4), Counter()
    for _ in range(900):
        question = draw(KIND, palette, rng.choice(("red", "blue", GREY)), 4.0, rng.getrandbits(40))
        left, right = data_of(question).grounds
        count[question.facts["key"], left[0] < right[0]] += 1
    assert set(count) == {(said, dark) for said in SAID for dark in (True, False)}
    assert max(count.values()) < 200
    assert min(count.values()) > 105


def test_the_step_is_the_spacing_of_the_three_answers_as_shown(drawn):
    for question in drawn:
        down, none, up = data_of(question).steps
        assert none == 0.0
        wanted = {"darker": -down, "same": (up - down) / 2, "lighter": up}
        assert question.step == pytest.approx(wanted[question.facts["key"]])


def test_steps_come_out_near_what_was_wanted_down_to_one_level_of_the_screen():
    for step in (12.0, 4.0, 1.0):
        for region in ("red", "green", "violet", GREY):
            shown = [draw(KIND, palette_of("demo"), region, step, seed).step for seed in SEEDS]
            assert shown == pytest.approx([step] * len(shown), abs=0.35)


def test_right_scores_one_and_the_far_answer_least(drawn):
    for question in drawn:
        grades = {said: KIND.grade(question, ((said,),)) for said in SAID}
        key = question.facts["key"]
        assert [said for said in SAID if grades[said].right] == [key]
        assert grades[key].score == 1.0
        assert grades[key].error == 0.0
        assert all(0.0 < grades[said].score <= 0.7 for said in SAID if said != key)
        if key != "same":
            far = "darker" if key == "lighter" else "lighter"
            assert grades[far].score < grades["same"].score
            assert grades[far].error > grades["same"].error


def test_a_small_slip_scores_more_than_a_large_one():
    def missed(step: float) -> float:
        asked = [draw(KIND, palette_of("demo"), "blue", step, seed) for seed in range(40)]
        wrong = [
            KIND.grade(question, (("same",),)).score
            for question in asked
            if question.facts["key"] != "same"
        ]
        return float(np.mean(wrong))

    assert missed(1.0) > missed(4.0) > missed(12.0)


def test_it_says_when_the_grounds_were_believed():
    for question in questions(palette_of("demo"), 3.0):
        data = data_of(question)
        left, right = data.grounds
        pushed = "lighter" if right[0] < left[0] else "darker"
        verdict = KIND.grade(question, ((pushed,),)).verdict
        assert ("the grounds misled you" in verdict) == (question.facts["key"] != pushed)


def test_the_reveal_lays_the_two_side_by_side_without_their_grounds(drawn):
    for question in drawn:
        data = data_of(question)
        reveal = KIND.reveal(question, (("same",),))
        assert reveal.target.lab == data.left
        assert {row.label for row in reveal.results} == set(SAID)
        assert all(row.swatch.surround is None for row in reveal.results)
        best = next(row for row in reveal.results if "best" in row.mark)
        assert best.label == question.facts["key"]
        assert best.swatch.lab == data.right
        assert next(row for row in reveal.results if "yours" in row.mark).label == "same"
        lightness = [row.swatch.lab[0] for row in reveal.results]
        assert lightness == sorted(lightness, reverse=True)


def test_the_same_seed_asks_the_same_and_the_facts_are_json():
    first, again = (draw(KIND, palette_of("demo"), "orange", 3.0, 9) for _ in range(2))
    assert first == again
    assert json.loads(json.dumps(dict(first.facts))) == dict(first.facts)


def test_light_colours_that_leave_no_room_for_a_large_step_are_asked_at_a_smaller():
    palette = palette_of("demo")
    pool = shown_pool(palette)
    yellows = pool.lab[pool.of("yellow")]
    assert np.median(yellows[:, 0]) > 65.0
    for seed in SEEDS:
        assert 3.0 < draw(KIND, palette, "yellow", 12.0, seed).step < 12.5


def test_white_alone_leaves_no_room_and_says_so():
    palette = palette_with(pencil("Gull", "#f7f7f2"), pencil("Ermine", "#f4f5f3"))
    assert KIND.regions(palette) == ()
    with pytest.raises(CannotAskError, match="grey"):
        draw(KIND, palette, GREY, 4.0, 1)
