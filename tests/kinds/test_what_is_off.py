"""What is off? The swatch is nearly made, and every change is worked out again."""

from __future__ import annotations

from collections import Counter
from functools import cache

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import lab_to_lch
from drills.kinds import draw
from drills.kinds.what_is_off import KIND, NEARLY, ON_PAPER, STILL_OFF, NearlyMade, changed
from drills.questions.draw import VISIBLE_STEP, shown_pool
from drills.questions.protocol import Question
from drills.questions.results import MODEL_LIMITS, near_miss
from tests.palettes import palette_of

SETS = ("demo", "pocket")
STEPS = (8.0, 3.0, 1.5)


@cache
def questions(pencils: str) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 100 * turn + seed)
        for turn, region in enumerate(KIND.regions(palette))
        for step in STEPS
        for seed in range(3)
    )


def data_of(question: Question) -> NearlyMade:
    assert isinstance(question.data, NearlyMade)
    return question.data


over_sets = pytest.mark.parametrize("pencils", SETS)


@over_sets
def test_one_change_all_but_makes_the_match_and_is_clearly_the_best(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        assert NEARLY[0] <= float(delta_e00(data.half, data.target)) <= NEARLY[1]
        first, second, *_ = sorted(data.off)
        assert first <= STILL_OFF
        assert second - first >= VISIBLE_STEP
        assert question.step == pytest.approx(second - first)
        assert question.facts["key"] == data.names[data.best]


@over_sets
def test_both_are_colours_that_these_pencils_make(pencils: str) -> None:
    pool = shown_pool(palette_of(pencils))
    for question in questions(pencils):
        for lab in (data_of(question).half, data_of(question).target):
            assert np.isclose(pool.lab, lab).all(axis=1).any()


@over_sets
def test_each_change_is_of_one_thing_alone_by_as_much_as_is_wanted(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        errors = delta_e00(np.array(data.swatches), np.asarray(data.target))
        assert data.off == pytest.approx(tuple(errors))
        # What is graded is the miss to be expected: never less, by much, than what it looks.
        assert all(one > off - 0.5 for one, off in zip(data.errors, data.off, strict=True))
        assert int(np.argmin(data.errors)) == int(np.argmin(data.off))
        (L0, C0, _), (L1, C1, _) = lab_to_lch(np.array([data.half, data.target])).tolist()
        for name, swatch in zip(data.names, data.swatches, strict=True):
            L, C, _ = lab_to_lch(np.array(swatch)).tolist()
            if name in ("lighter", "darker"):
                assert pytest.approx(C0, abs=1e-6) == C
                assert abs(L - L0) <= abs(L1 - L0) + 1e-6
                assert (L >= L0) if name == "lighter" else (L <= L0)
            elif name in ("brighter", "duller"):
                assert pytest.approx(L0) == L
                assert (C >= C0) if name == "brighter" else (C <= C0)
                assert abs(C - C0) <= abs(C1 - C0) + 1e-6
            else:
                assert pytest.approx((L0, C0), abs=1e-6) == (L, C)


@over_sets
def test_the_family_named_is_where_the_turn_leads(pencils: str) -> None:
    """Reached, or the next on that side: never two families off, as it once was."""
    for question in questions(pencils):
        data = data_of(question)
        assert len(set(data.names)) == 6
        own = int(family_at(wheel_position(data.half)))
        for name, swatch in zip(data.names[4:], data.swatches[4:], strict=True):
            led_to = FAMILIES.index(name.removeprefix("toward "))
            reached = int(family_at(wheel_position(swatch)))
            assert led_to != own
            assert reached in (own, led_to)
            if reached == own:
                assert (led_to - own) % 12 in (1, 11)


def test_each_change_is_the_key_about_as_often_as_another() -> None:
    keys = Counter(
        data_of(question).best
        for turn, region in enumerate(KIND.regions(palette_of("demo")))
        for seed in range(12)
        for question in [draw(KIND, palette_of("demo"), region, 2.0, 50 * turn + seed)]
    )
    assert len(keys) == 6
    assert max(keys.values()) < 0.25 * keys.total()


def test_the_step_is_near_the_one_asked() -> None:
    for step in STEPS:
        asked = [question.step for question in questions("demo")]
        of_step = [one for at, one in enumerate(asked) if STEPS[at // 3 % 3] == step]
        assert np.median(of_step) == pytest.approx(step, rel=0.1)


def test_right_is_the_nearest_and_a_near_miss_earns_more_than_a_wild_one() -> None:
    for question in questions("demo")[::2]:
        data = data_of(question)
        scores = []
        for name, error in sorted(
            zip(data.names, data.errors, strict=True), key=lambda pair: pair[1]
        ):
            grade = KIND.grade(question, ((name,),))
            assert grade.right is (error == min(data.errors))
            assert grade.error == error
            assert grade.score == pytest.approx(near_miss(error - min(data.errors), 6.0))
            assert f"should go {data.names[data.best]}" in grade.verdict
            scores.append(grade.score)
        assert scores == sorted(scores, reverse=True)


def test_the_reveal_shows_what_every_change_would_have_made_nearest_first() -> None:
    for question in questions("demo")[::4]:
        data = data_of(question)
        worst = data.names[int(np.argmax(data.errors))]
        reveal = KIND.reveal(question, ((worst,),))
        shown = [row.swatch.lab for row in reveal.results if row.swatch is not None]
        assert shown == [data.swatches[i] for i in np.argsort(data.errors, kind="stable")]
        assert reveal.target is not None
        assert reveal.target.lab == data.target
        assert reveal.limits.endswith(MODEL_LIMITS)
        assert data.laid in reveal.because[0]
        assert any(words in reveal.because[1] for words in ON_PAPER.values())
        marks = {row.label: row.mark for row in reveal.results}
        assert marks[worst] == "yours"
        assert marks[data.names[data.best]] == "best"


def test_the_finest_question_says_that_there_is_no_finer() -> None:
    def limits(step: float) -> str:
        question = draw(KIND, palette_of("demo"), "red", step, 6)
        return KIND.reveal(question, (("darker",),)).limits

    assert "finest question" in limits(KIND.steps[1])
    assert "finest question" not in limits(KIND.steps[0])


def test_changes_of_many_swatches_are_each_alone() -> None:
    halves = shown_pool(palette_of("demo")).lab[:40]
    target = np.array([50.0, 30.0, 20.0])
    alone = [changed(half[None], target)[0] for half in halves]
    assert changed(halves, target) == pytest.approx(np.array(alone))
