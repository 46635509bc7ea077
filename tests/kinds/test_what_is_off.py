"""What is off? The half-made swatch is a plan's own, and every correction is worked out again."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import lab_to_lch
from drills.kinds import draw, what_is_off
from drills.kinds.what_is_off import HALF_MADE, KIND, HalfMade, corrections
from drills.questions.draw import VISIBLE_STEP
from drills.questions.protocol import Question
from drills.questions.results import MODEL_LIMITS, near_miss
from tests.palettes import palette_of

SETS = ("demo", "pocket")
STEPS = (8.0, 1.0)


@cache
def questions(pencils: str) -> tuple[Question, ...]:
    palette = palette_of(pencils)
    return tuple(
        draw(KIND, palette, region, step, 100 * turn + 1)
        for turn, region in enumerate(KIND.regions(palette))
        for step in STEPS
    )


def data_of(question: Question) -> HalfMade:
    assert isinstance(question.data, HalfMade)
    return question.data


over_sets = pytest.mark.parametrize("pencils", SETS)


@over_sets
def test_it_is_half_made_and_one_thing_is_clearly_wrong(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        assert float(delta_e00(data.half, data.target)) >= HALF_MADE
        first, second, *_ = sorted(data.errors)
        assert second - first >= VISIBLE_STEP
        assert question.step == pytest.approx(second - first)


@over_sets
def test_the_key_is_where_the_plans_next_move_goes_too(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        to_next = delta_e00(np.array(data.swatches), np.asarray(data.after))
        assert int(np.argmin(to_next)) == data.best
        assert question.facts["key"] == data.names[data.best]


@over_sets
def test_each_correction_changes_one_thing_alone_by_as_much_as_is_wanted(pencils: str) -> None:
    for question in questions(pencils):
        data = data_of(question)
        names, swatches = corrections(data.half, data.target)
        assert (names, swatches) == (data.names, data.swatches)
        errors = delta_e00(np.array(swatches), np.asarray(data.target))
        assert data.errors == pytest.approx(tuple(errors))
        (L0, C0, _), (L1, C1, _) = lab_to_lch(np.array([data.half, data.target])).tolist()
        for name, swatch in zip(names, swatches, strict=True):
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
def test_the_families_named_are_the_neighbours_of_the_half_made_swatch(pencils: str) -> None:
    for question in questions(pencils)[::3]:
        data = data_of(question)
        at = int(family_at(wheel_position(data.half)))
        hues = {name.removeprefix("more ") for name in data.names if name.startswith("more ")}
        assert hues == {FAMILIES[(at + 1) % 12], FAMILIES[at - 1]}


def test_right_is_the_nearest_and_a_near_miss_earns_more_than_a_wild_one() -> None:
    for question in questions("demo"):
        data = data_of(question)
        scores = []
        for name, error in sorted(
            zip(data.names, data.errors, strict=True), key=lambda pair: pair[1]
        ):
            grade = KIND.grade(question, ((name,),))
            assert grade.right is (error == min(data.errors))
            assert grade.error == error
            assert grade.score == pytest.approx(near_miss(error - min(data.errors), 6.0))
            assert data.names[data.best] in grade.verdict.lower()
            scores.append(grade.score)
        assert scores == sorted(scores, reverse=True)
        assert scores[0] == 1.0
        assert scores[-1] < 1.0


def test_a_stage_that_only_wants_darkening_is_passed_over_where_another_will_do(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """On white paper most half-made swatches want to be darker: said always, it must not pay."""

    def darker(share: float) -> float:
        monkeypatch.setattr(what_is_off, "DARKER_SHARE", share)
        palette = palette_of("demo")
        asked = [
            draw(KIND, palette, region, 3.0, 40 + turn)
            for turn, region in enumerate(KIND.regions(palette))
        ]
        return float(np.mean([question.facts["key"] == "darker" for question in asked]))

    assert darker(0.0) < darker(1.0)


@over_sets
def test_a_harder_step_asks_for_finer_sight(pencils: str) -> None:
    gaps = {step: [] for step in STEPS}  # type: ignore[var-annotated]
    palette = palette_of(pencils)
    for turn, question in enumerate(questions(pencils)):
        gaps[STEPS[turn % len(STEPS)]].append(question.step)
    assert len(gaps[8.0]) == len(KIND.regions(palette))
    assert float(np.mean(gaps[1.0])) < float(np.mean(gaps[8.0]))


def test_the_reveal_shows_what_every_correction_would_have_made_nearest_first() -> None:
    for question in questions("demo")[::4]:
        data = data_of(question)
        worst = data.names[int(np.argmax(data.errors))]
        reveal = KIND.reveal(question, ((worst,),))
        shown = [row.swatch.lab for row in reveal.results if row.swatch is not None]
        by_error = [data.swatches[i] for i in np.argsort(data.errors, kind="stable")]
        assert shown == by_error
        assert reveal.target is not None
        assert reveal.target.lab == data.target
        assert reveal.limits == MODEL_LIMITS
        assert data.laid in reveal.because[0]
        assert data.next_move in reveal.because[1]
        marks = {row.label: row.mark for row in reveal.results}
        assert marks[worst]
        assert marks[data.names[data.best]]
        assert marks[worst] != marks[data.names[data.best]]
