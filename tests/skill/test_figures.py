"""Measure, memory and outcome to the figure: each constant holds something that shows."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from scores.record.record import Record
from scores.record.remeasure import measure_again
from scores.skill.difficulty import START, level, step_at
from scores.skill.memory import (
    SkillState,
    advance,
    is_due_on,
    kindred_of,
    memory_days,
    reschedule,
    retrievability_on,
    review,
)
from scores.skill.outcome import judge
from scores.skill.psychometric import scale_of
from scores.skill.step_choice import expected_right, first_step, step_to_ask
from scores.skill.threshold import answered, cells_of, fresh, marginal, on_day, threshold_step
from scores.skill.threshold_kept import (
    Measured,
    lately,
    level_of,
    measured_from_json,
    range_log,
    spread_on,
    wandered,
)
from tests.answers import answer

DAY = date(2026, 3, 2)
STEPS = (100.0, 1.0)


def begun(steps: tuple[float, float] = STEPS, kindred: tuple[Measured, ...] = ()) -> Measured:
    made = fresh(steps, 0.5, DAY, kindred)
    assert made is not None
    return made


# -- what is kept of a threshold ---------------------------------------------------------------


def test_a_threshold_wanders_by_days_and_answers_and_no_further_than_both_bounds() -> None:
    assert wandered(1, 1) == pytest.approx(0.03**2 + 0.02**2)
    assert wandered(9, 0) == pytest.approx(9 * 0.03**2)
    assert wandered(400, 0) == wandered(900, 0) == pytest.approx(400 * 0.03**2)
    assert wandered(1, 25) == wandered(1, 90) == pytest.approx(0.03**2 + 25 * 0.02**2)
    assert wandered(0, 5) == wandered(-3, 5) == 0.0


def kept(**changes: object) -> Measured:
    made = Measured(STEPS, 0.5, DAY, 9, 0, 8.0, (1.0, 0.3), 1.0, 0.1, 0.8, 1.2, "")
    return made._replace(**changes)


def test_the_spread_grows_by_what_is_wandered_as_far_as_it_began() -> None:
    after = spread_on(kept(), DAY + timedelta(4))
    assert after == pytest.approx(math.sqrt(0.1**2 + 4 * 0.03**2))
    assert spread_on(kept(), DAY + timedelta(300)) == 0.3
    assert spread_on(kept(sd=0.5), DAY + timedelta(300)) == 0.5
    assert spread_on(kept(), DAY - timedelta(4)) == pytest.approx(0.1)


def test_answers_fade_by_half_in_sixty_days_and_levels_run_from_easiest_to_hardest() -> None:
    assert lately(kept(), DAY + timedelta(60)) == pytest.approx(4.0)
    assert lately(kept(), DAY - timedelta(60)) == 8.0
    assert range_log(STEPS) == range_log((1.0, 100.0)) == pytest.approx(2.0)
    assert [level_of(kept(mean=m)) for m in (2.0, 1.0, 0.0, -1.0)] == [0.0, 0.5, 1.0, 1.5]
    # Where a greater step is finer, logs are negative: −2 is the finest of 1 to 100.
    rising = kept(steps=(1.0, 100.0))
    assert [level_of(rising._replace(mean=m)) for m in (0.0, -1.0, -2.0)] == [0.0, 0.5, 1.0]


def test_a_threshold_comes_back_from_its_json_or_not_at_all() -> None:
    made = answered(begun(), 10.0, True, DAY)
    text = made.as_json()
    assert measured_from_json(text) == made
    assert text.startswith("[1,100.0,") or text.startswith("[1,[100.0,1.0],")
    for spoilt in (text.replace("[1,", "[2,", 1), text[:-1], "[]", "5", '"x"', None, ""):
        assert measured_from_json(spoilt) is None


# -- measuring -------------------------------------------------------------------------------


def test_a_newcomer_begins_a_third_of_the_way_with_a_factor_of_two() -> None:
    mean, sd = begun().prior
    assert (mean, sd) == (pytest.approx(2.0 - 0.35 * 2.0), pytest.approx(math.hypot(0.16, 0.22)))
    # One skill of the kind known well draws a new one more than half of the way to it.
    other = answered(begun(), 10.0, True, DAY)._replace(mean=0.3, sd=0.0)
    mean, sd = begun(kindred=(other,)).prior
    own, seen = 1 / 0.22**2, 1 / 0.16**2
    assert mean == pytest.approx((own * 1.3 + seen * 0.3) / (own + seen))
    assert sd == pytest.approx(math.sqrt(0.16**2 + 1 / (own + seen)))
    # One that was never answered says nothing.
    assert begun(kindred=(begun(),)).prior == begun().prior


def test_each_answer_counts_and_a_day_begins_anew() -> None:
    one = answered(begun(), 10.0, True, DAY)
    two = answered(one, 10.0, False, DAY)
    next_day = answered(two, 10.0, True, DAY + timedelta(1))
    assert [(m.answers, m.since) for m in (one, two, next_day)] == [(1, 1), (2, 2), (3, 1)]
    assert next_day.of_late == pytest.approx(1 + 2 * 0.5 ** (1 / 60))
    assert on_day(two, DAY + timedelta(1)).since == 0
    assert on_day(two, DAY) is two
    assert answered(next_day, 10.0, True, DAY).day == DAY


def test_right_answers_say_finer_and_wrong_ones_coarser() -> None:
    right = answered(begun(), 10.0, True, DAY)
    wrong = answered(begun(), 10.0, False, DAY)
    assert right.mean < begun().mean < wrong.mean
    assert right.low < right.mean < right.high
    logs, weights = marginal(right)
    assert sum(weights) == pytest.approx(1.0)
    below = sum(w for log, w in zip(logs, weights, strict=True) if log < right.low)
    above = sum(w for log, w in zip(logs, weights, strict=True) if log > right.high)
    assert below == pytest.approx(0.025, abs=0.01)
    assert above == pytest.approx(0.025, abs=0.01)
    mean = sum(log * w for log, w in zip(logs, weights, strict=True))
    assert right.mean == pytest.approx(mean)


def test_a_mark_is_made_each_seventh_day_from_eight_answers_and_sixteen_are_kept() -> None:
    known = begun()
    for turn in range(8):
        known = answered(known, 10.0, turn % 5 != 4, DAY)
    assert known.marks == ()
    few = answered(known._replace(answers=7), 10.0, True, DAY + timedelta(1))
    assert few.marks == ()
    marked = answered(known, 10.0, True, DAY + timedelta(3))
    assert marked.marks == ((DAY, known.mean, known.sd),)
    for days, marks in ((6, 1), (7, 2)):
        last = answered(marked, 10.0, True, DAY + timedelta(days))
        last = answered(last, 10.0, True, DAY + timedelta(days + 1))
        assert len(last.marks) == marks
    for week in range(1, 30):
        known = answered(known, 10.0, True, DAY + timedelta(7 * week))
    assert len(known.marks) == 16
    assert known.marks[-1].day == DAY + timedelta(7 * 28)


def test_thresholds_measured_again_are_those_of_the_answers(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "r.db")
    for number in range(12):
        steps = (5.0, 5.0) if number == 11 else (20.0, 1.0)
        region = "grey" if number == 11 else f"region {number % 3}"
        deck = "probe" if number == 5 else ""
        made = answer(number, region=region, days=number / 4, right=number % 4 != 3, deck=deck)
        record.save(replace(made, steps=steps))
    kept = record.skills()
    assert record._db is not None
    record._db.execute("UPDATE skills SET measured = NULL, step = 1.5")
    measure_again(record._db)
    assert record.skills() == kept
    record.close()


def test_after_years_what_was_known_is_gone_and_the_prior_back() -> None:
    known = begun()
    for _ in range(60):
        known = answered(known, 3.0, True, DAY)
    later = on_day(known, DAY + timedelta(30_000))
    assert later.mean == pytest.approx(begun().mean, abs=1e-3)
    assert later.sd == pytest.approx(begun().sd, abs=1e-3)


def test_a_posterior_of_nonsense_begins_again() -> None:
    scale = scale_of(STEPS, 0.5)
    assert scale is not None
    assert list(cells_of(scale, begun()._replace(cells="?"))) == pytest.approx(
        list(cells_of(scale, begun()._replace(cells="")))
    )
    prior = cells_of(scale, begun()._replace(cells=""))
    assert sum(prior) == pytest.approx(1.0)
    assert min(prior) > 0.0


def test_a_threshold_is_held_to_what_can_be_asked() -> None:
    assert threshold_step(kept(mean=1.0)) == pytest.approx(10.0)
    assert threshold_step(kept(mean=3.0)) == 100.0
    assert threshold_step(kept(mean=-1.0)) == 1.0
    assert threshold_step(kept(steps=(1.0, 100.0), mean=-1.0)) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("chance", "steps", "measured"),
    [
        (0.0, STEPS, True),
        (0.75, STEPS, True),
        (0.76, STEPS, False),
        (-0.01, STEPS, False),
        (0.5, (1.13, 1.0), True),
        (0.5, (1.12, 1.0), False),
        (0.5, (5.0, 0.0), False),
        (0.5, (math.inf, 1.0), False),
        (0.5, (1.0, 100.0), True),
    ],
)
def test_what_can_be_measured(chance: float, steps: tuple[float, float], measured: bool) -> None:
    """Guessing must be right 0.05 less often than at the threshold, 0.8, and the range be 0.05."""
    assert (scale_of(steps, chance) is not None) == measured


def test_the_grid_is_about_a_twentieth_apart_and_runs_past_both_ends() -> None:
    scale = scale_of(STEPS, 0.5)
    assert scale is not None
    assert scale.spacing == pytest.approx(0.055, abs=0.002)
    assert 0.36 <= 0.0 - scale.logs[0] < 0.36 + scale.spacing
    assert 0.30 <= scale.logs[-1] - 2.0 < 0.30 + scale.spacing
    narrow, wide = scale_of((1.2, 1.0), 0.5), scale_of((1e9, 1.0), 0.5)
    assert narrow is not None
    assert wide is not None
    assert (narrow.between, wide.between) == (6, 64)
    assert (scale.level(0.5), scale.at_level(0.75)) == (pytest.approx(0.75), pytest.approx(0.5))


def test_what_is_asked_is_right_about_four_times_in_five_and_nothing_finer_than_shows() -> None:
    known = begun()
    for turn in range(30):
        known = answered(known, 10.0, turn % 5 != 4, DAY)
    step = step_to_ask(known, DAY)
    assert 0.74 < expected_right(known, step) < 0.86
    assert step_to_ask(known, DAY, finest=30.0) == 30.0
    assert step_to_ask(known, DAY, finest=step / 2) == step
    assert step_to_ask(known, DAY, finest=500.0) == 100.0
    assert first_step((5.0, 0.0), 0.5) == 5.0
    assert first_step(STEPS, 0.5) == step_to_ask(begun(), DAY)


# -- difficulty ------------------------------------------------------------------------------------


def test_levels_are_ratios_or_differences_where_a_range_touches_nought() -> None:
    assert START == 0.3
    assert level(STEPS, 10.0) == pytest.approx(0.5)
    assert step_at(STEPS, 0.5) == pytest.approx(10.0)
    assert level((4.0, 0.0), 1.0) == pytest.approx(0.75)
    assert step_at((4.0, 0.0), 0.75) == pytest.approx(1.0)
    assert (level(STEPS, 0.0), level((1.0, 100.0), 0.0), level((3.0, 3.0), 9.0)) == (1.0, 0.0, 0.0)
    assert (step_at(STEPS, -1), step_at(STEPS, 2), step_at((3.0, 3.0), 0.5)) == (100.0, 1.0, 3.0)


# -- outcome ---------------------------------------------------------------------------------------


def said(**changes: object) -> str:
    usual = {
        "score": 1.0,
        "right": True,
        "response_s": 5.0,
        "usual_s": 5.0,
        "step": 10.0,
        "usual_step": 10.0,
        "chance": 0.25,
    }
    return judge(**{**usual, **changes})  # type: ignore[arg-type]


def test_outcomes_change_at_their_borders() -> None:
    wrong = {"right": False, "score": 0.0}
    assert [said(right=False, score=s) for s in (0.59, 0.6)] == ["lost", "shaky"]
    assert [said(**wrong, step=s) for s in (8.1, 8.0)] == ["lost", "shaky"]
    assert [said(response_s=s) for s in (0.34, 0.35)] == ["shaky", "easy-won"]
    assert [said(response_s=s) for s in (3.5, 3.51)] == ["easy-won", "held"]
    assert [said(response_s=s) for s in (10.0, 10.01)] == ["held", "shaky"]
    assert [said(response_s=3.0, step=s) for s in (12.5, 12.6)] == ["easy-won", "held"]
    assert [said(response_s=3.0, chance=c) for c in (0.33, 0.34)] == ["easy-won", "held"]
    assert [said(response_s=30.0, usual_s=s) for s in (None, 0.0)] == ["held", "held"]
    for unknown in (None, 0.0):
        assert said(response_s=3.0, step=90.0, usual_step=unknown) == "easy-won"
        assert said(**wrong, step=1.0, usual_step=unknown) == "lost"


# -- memory ----------------------------------------------------------------------------------------

FIRST, LAST = date(2025, 1, 1), date(2200, 1, 1)


def test_days_as_the_memory_counts_them() -> None:
    one = timedelta(1)
    assert memory_days(DAY, None) == (DAY, None)
    assert memory_days(FIRST - one, None) == (FIRST, None)
    assert memory_days(LAST + one, None) == (LAST, None)
    assert memory_days(DAY, DAY) == (DAY, DAY)
    assert memory_days(DAY + one, DAY) == (DAY + one, DAY)
    # Two days back is a changed zone, three a clock put right.
    assert memory_days(DAY - 2 * one, DAY) == (DAY, DAY)
    assert memory_days(DAY - 3 * one, DAY) == (DAY - 3 * one, DAY - 3 * one)
    for nonsense in (FIRST - one, LAST + one):
        assert memory_days(nonsense, DAY) == (DAY, DAY)
    assert memory_days(FIRST, DAY) == (FIRST, FIRST)
    assert memory_days(LAST, DAY) == (LAST, DAY)


def state(days_ago: int, due_in: int, stability: float | None = 10.0) -> SkillState:
    return SkillState(
        "k:red",
        stability=stability,
        difficulty=5.0,
        reviewed=DAY - timedelta(days_ago),
        due=DAY + timedelta(due_in),
    )


def test_due_on_its_day_and_when_dated_more_than_two_days_ahead() -> None:
    assert [is_due_on(state(5, d), DAY) for d in (-1, 0, 1)] == [True, True, False]
    assert [is_due_on(state(-d, 99), DAY) for d in (2, 3)] == [False, True]
    assert not is_due_on(state(-9999, 9999), FIRST - timedelta(1))
    assert is_due_on(replace(state(0, 9), reviewed=FIRST + timedelta(9)), FIRST)
    assert not is_due_on(SkillState("k:red"), DAY)


def test_nine_in_ten_are_held_after_as_many_days_as_it_is_stable() -> None:
    assert retrievability_on(state(10, 0), DAY) == pytest.approx(0.9)
    assert retrievability_on(state(0, 9), DAY) == retrievability_on(state(-5, 9), DAY) == 1.0
    assert retrievability_on(state(3, 0, None), DAY) == 0.0
    moved = reschedule(state(10, 0), 0.9)
    assert moved.due == DAY
    assert reschedule(state(10, 0), 0.97).due == DAY - timedelta(8)  # the curve: 2 days of 10
    for stability, days in ((0.01, 1), (1e9, 36500)):
        kept = reschedule(state(0, 0, stability), 0.9)
        assert kept.due == DAY + timedelta(days)
    for unknown in (SkillState("k:red"), state(1, 1, None), replace(state(1, 1), reviewed=None)):
        assert reschedule(unknown, 0.9) == unknown


def test_more_answers_of_one_day_say_no_more_than_shaky_or_held() -> None:
    at = datetime(2026, 3, 2, 12, tzinfo=UTC)
    first = review(SkillState("k:red"), "held", at)
    for bold, plain in (("lost", "shaky"), ("easy-won", "held")):
        assert review(first, bold, at) == review(first, plain, at)  # type: ignore[arg-type]
    later = at + timedelta(3)
    assert review(first, "lost", later) != review(first, "shaky", later)
    assert review(first, "easy-won", later) != review(first, "held", later)


def test_means_move_by_a_fifth_to_each_answer() -> None:
    one = advance(None, answer(1, step=10.0, score=0.5), "held")
    assert (one.tries, one.right, one.mean_score, one.usual_step) == (1, 1, 0.5, 10.0)
    two = advance(one, answer(2, step=20.0, score=1.5, right=False), "shaky")
    assert (two.tries, two.right, two.last_score) == (2, 1, 1.0)
    assert two.mean_score == pytest.approx(0.6)
    assert two.usual_step == pytest.approx(10.0 * 2**0.2)
    assert advance(one, answer(2, score=-3.0), "held").last_score == 0.0
    assert advance(one, answer(2, step=0.0), "held").usual_step == 0.0
    assert advance(replace(one, usual_step=0.0), answer(2, step=7.0), "held").usual_step == 7.0
    assert two.last_right == one.last_right
    assert two.last_tried == answer(2).at_utc


def test_kindred_are_the_others_of_a_kind_by_name() -> None:
    states = [SkillState(name) for name in ("k:red", "k:blue", "k2:red", "k:green")]
    assert [s.skill for s in kindred_of(states, "k:red")] == ["k:blue", "k:green"]
    assert (states[2].kind, states[2].region) == ("k2", "red")
