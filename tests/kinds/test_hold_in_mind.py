"""Hold it in mind: a swatch looked at, taken away, and found again among near ones."""

from __future__ import annotations

import json
import random
from collections import Counter

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab, shown_lab
from drills.kinds import draw
from drills.kinds.hold_in_mind import DIMENSIONS, HELD, KEYS, KIND, LOOK_S, SeenAndNear, moved_by
from drills.questions.protocol import CannotAskError
from tests.palettes import palette_of, palette_with, pencil

SEEDS = range(12)


@pytest.fixture(scope="module", params=[("demo", 6.0), ("demo", 1.5), ("pocket", 14.0)], ids=str)
def drawn(request):
    name, step = request.param
    palette = palette_of(name)
    return [
        draw(KIND, palette, region, step, seed)
        for region in KIND.regions(palette)
        for seed in SEEDS
    ]


def data_of(question) -> SeenAndNear:
    assert isinstance(question.data, SeenAndNear)
    return question.data


def answered(key: str):
    return ((HELD,), (key,))


def test_every_family_is_asked():
    for name in ("demo", "pocket"):
        assert KIND.regions(palette_of(name)) == FAMILIES


def test_first_it_is_shown_for_a_few_seconds_and_then_no_more(drawn):
    for question in drawn:
        look = KIND.ask(question, ())
        assert look.look_s == LOOK_S
        assert [swatch.lab for swatch in look.scene] == [data_of(question).seen]
        assert [choice.swatch for choice in look.choices] == [None]
        choosing = KIND.ask(question, ((look.choices[0].key,),))
        assert choosing.scene == ()
        assert choosing.look_s is None
        assert KIND.ask(question, answered("A")) is None


def test_then_four_swatches_one_of_which_was_seen_named_by_letters_only(drawn):
    for question in drawn:
        choices = KIND.ask(question, ((HELD,),)).choices
        assert [choice.text for choice in choices] == [*KEYS]
        labs = [choice.swatch.lab for choice in choices]
        assert labs.count(data_of(question).seen) == 1
        assert KEYS[labs.index(data_of(question).seen)] == question.facts["key"]
        assert len(set(labs)) == 4


def test_the_swatch_seen_is_of_its_family_and_all_lie_on_the_screen(drawn):
    for question in drawn:
        data = data_of(question)
        assert family(data.seen) == question.region
        assert in_screen_gamut(data.swatches).all()
        assert shown_lab(data.swatches) == pytest.approx(np.array(data.swatches), abs=1e-6)


def test_two_slip_in_one_dimension_and_one_in_both(drawn):
    for question in drawn:
        data = data_of(question)
        assert sorted(len(slipped) for slipped in data.slipped) == [0, 1, 1, 2]
        both = max(data.slipped, key=len)
        assert {name for slipped in data.slipped for name in slipped} == set(both)
        assert [len(slips) for slips in data.slips] == [len(one) for one in data.slipped]


def test_a_single_slip_leaves_the_other_dimensions_alone(drawn):
    for question in drawn:
        data = data_of(question)
        lch = lab_to_lch(np.array(data.seen))
        for lab, slipped in zip(data.swatches, data.slipped, strict=True):
            if len(slipped) != 1:
                continue
            there = lab_to_lch(np.array(lab))
            put_back = there.copy()
            at = DIMENSIONS.index(slipped[0])
            put_back[at] = lch[at]
            # What eight bits add on their own, where a dull colour's hue angle is coarse.
            assert float(delta_e00(lch_to_lab(put_back), data.seen)) < 1.3
            assert float(delta_e00(lab, data.seen)) > 1.0


def test_the_slips_are_said_as_they_are(drawn):
    for question in drawn:
        data = data_of(question)
        L, C, _ = lab_to_lch(np.array(data.seen)).tolist()
        for lab, slips in zip(data.swatches, data.slips, strict=True):
            L2, C2, _ = lab_to_lch(np.array(lab)).tolist()
            said = {"lighter": L2 > L, "darker": L2 < L, "brighter": C2 > C, "duller": C2 < C}
            assert all(said.get(word, True) for word in slips)


def test_a_slip_of_hue_names_the_neighbour_it_goes_toward():
    for seed in range(60):
        question = draw(KIND, palette_of("demo"), "green", 8.0, seed)
        data = data_of(question)
        for lab, slips in zip(data.swatches, data.slips, strict=True):
            (toward,) = [word for word in slips if word.startswith("nearer")] or [""]
            if toward:
                assert toward in {"nearer to blue-green", "nearer to yellow-green"}
                assert family(lab) in {"green", toward.removeprefix("nearer to ")}


def test_the_step_is_the_least_difference_shown(drawn):
    for question in drawn:
        data = data_of(question)
        apart = sorted(float(delta_e00(data.seen, lab)) for lab in data.swatches)
        assert apart[0] == 0.0
        assert question.step == pytest.approx(apart[1])
        assert data.errors[data.at] == 0.0


def test_steps_come_out_near_what_was_wanted():
    for step in (14.0, 5.0, 1.5):
        for region in FAMILIES:
            shown = [draw(KIND, palette_of("pocket"), region, step, seed).step for seed in SEEDS]
            assert shown == pytest.approx([step] * len(shown), rel=0.25)


def test_moves_differ_by_the_step_asked():
    labs = np.array([[50.0, 20.0, 10.0], [70.0, -30.0, 15.0], [35.0, 5.0, -30.0]])
    moves = moved_by(labs, 3.0)
    lch = lab_to_lch(labs)
    for dim in range(3):
        for way in range(2):
            there = lch.copy()
            there[:, dim] += moves[:, dim, way]
            assert delta_e00(labs, lch_to_lab(there)) == pytest.approx(3.0, abs=0.01)
    assert (moves[:, :, 0] < 0.0).all()
    assert (moves[:, :, 1] > 0.0).all()


def test_where_a_dimension_has_no_room_it_is_not_moved():
    nearly_grey, nearly_white = [50.0, 5.0, 0.0], [95.0, 0.0, 12.0]
    moves = moved_by(np.array([nearly_grey, nearly_white]), 10.0)
    assert np.isnan(moves[0, DIMENSIONS.index("chroma"), 0])
    assert np.isnan(moves[1, DIMENSIONS.index("value"), 1])


def test_no_corner_is_likelier_than_another():
    # A learner who looked away must not do better by always taking the dullest, or the first.
    palette, rng, slips, places = palette_of("demo"), random.Random(8), Counter(), Counter()
    for _ in range(600):
        question = draw(KIND, palette, rng.choice(FAMILIES), 4.0, rng.getrandbits(40))
        data = data_of(question)
        places[data.at] += 1
        slips.update(max(data.slips, key=len))
    assert max(places.values()) < 190
    assert slips["lighter"] == pytest.approx(slips["darker"], rel=0.3)
    assert slips["brighter"] == pytest.approx(slips["duller"], rel=0.3)


def test_right_scores_one_and_the_smaller_slip_more_than_the_larger(drawn):
    for question in drawn:
        data = data_of(question)
        grades = [KIND.grade(question, answered(key)) for key in KEYS]
        assert [grade.right for grade in grades].count(True) == 1
        assert grades[data.at].right
        assert grades[data.at].score == 1.0
        scores = [
            grade.score
            for _, grade in sorted(zip(data.errors, grades, strict=True), key=lambda pair: pair[0])
        ]
        assert scores == sorted(scores, reverse=True)
        assert max(grade.score for grade in grades if not grade.right) < 0.85


def test_the_verdict_says_what_slipped_and_what_held(drawn):
    for question in drawn:
        data = data_of(question)
        for i, key in enumerate(KEYS):
            reveal = KIND.reveal(question, answered(key))
            assert [row.label for row in reveal.results] == [*KEYS]
            assert reveal.target.lab == data.seen
            assert reveal.results[i].mark == ("yours, best" if i == data.at else "yours")
            verdict = KIND.grade(question, answered(key)).verdict
            if i == data.at:
                assert verdict.startswith("Yes")
            else:
                slipped, held = verdict.split(" than it was, with the same ")
                assert all(slip in slipped for slip in data.slips[i])
                assert {name for name in DIMENSIONS if name in held} == set(DIMENSIONS) - set(
                    data.slipped[i]
                )


def test_the_same_seed_asks_the_same_and_the_facts_are_json():
    first, again = (draw(KIND, palette_of("demo"), "violet", 3.0, 9) for _ in range(2))
    assert first == again
    assert json.loads(json.dumps(dict(first.facts))) == dict(first.facts)


def test_a_family_the_pencils_do_not_make_is_refused():
    palette = palette_with(pencil("Ember", "#b5443c"), pencil("Madder", "#9c2f45"))
    with pytest.raises(CannotAskError, match="green"):
        draw(KIND, palette, "green", 4.0, 1)
