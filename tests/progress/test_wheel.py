"""Where skills stand, what comes due, minutes by day: each defined in numbers."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from scores.progress.wheel import (
    LETTERS,
    STRONG_LEVEL,
    SURE_FROM,
    calendar,
    forecast,
    standing_of,
    wheel,
)
from scores.record.record import DayCount, Record
from scores.skill.memory import SkillState, advance, is_due
from scores.skill.skill_threshold import SkillThreshold
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

MONDAY = date(2026, 3, 2)


RANGE_LOG, SD = 1.30103, 0.1
"""log10(20 / 1), and how well a threshold is known here."""


def learnt(answers: int, level: float | None = 0.9, days: float = 0.5, **more) -> SkillState:  # type: ignore[no-untyped-def]
    """A skill after so many answers, its threshold at a level; None where none is measured."""
    state = None
    for number in range(answers):
        state = advance(state, answer(number, days=number * days, **more), "held")
    assert state is not None
    if level is None:
        return state
    mean = RANGE_LOG * (1 - level)
    known = SkillThreshold((20.0, 1.0), 0.5, mean, SD, answers, float(answers))
    return replace(state, threshold=known)


def after(state: SkillState, days: float = 0.0) -> datetime:
    assert state.last_tried is not None
    return state.last_tried + timedelta(days=days)


def test_a_skill_never_answered_is_unmet() -> None:
    assert standing_of(None, START) == "unmet"
    assert standing_of(SkillState("value:violet"), START) == "unmet"


def test_a_fine_eye_freshly_practised_is_strong() -> None:
    state = learnt(20)
    assert standing_of(state, after(state)) == "strong"


def test_few_answers_are_shaky_however_good() -> None:
    state = learnt(SURE_FROM - 1)
    assert standing_of(state, after(state)) == "shaky"


def test_a_coarse_eye_is_shaky() -> None:
    state = learnt(20, level=0.2)
    assert standing_of(state, after(state)) == "shaky"


def test_a_strong_skill_fades_on_the_day_it_is_due_and_not_before() -> None:
    state = learnt(20)
    assert state.due is not None
    eve = after(state, (state.due - after(state).date()).days - 1)
    assert standing_of(state, eve) == "strong"
    assert standing_of(state, eve + timedelta(days=1)) == "due"
    assert is_due(state, eve + timedelta(days=1))


def test_where_nothing_can_be_measured_the_scores_say() -> None:
    good = learnt(10, None, score=1.0)
    poor = learnt(10, None, score=0.6)
    assert standing_of(good, after(good)) == "strong"
    assert standing_of(poor, after(poor)) == "shaky"


def test_the_bound_of_strong_is_its_number() -> None:
    """The level less one standard deviation, on either side of STRONG_LEVEL."""
    for above, wanted in ((0.01, "strong"), (-0.01, "shaky")):
        state = learnt(30, level=STRONG_LEVEL + SD / RANGE_LOG + above, days=0.01)
        assert standing_of(state, after(state)) == wanted


def offers(*pairs: tuple[str, str]) -> Offers:
    kinds = {
        kind: KindFacts(kind, 1, kind.title(), 5.0, "ΔL*", (20.0, 1.0), 0.5, True)
        for kind, _ in pairs
    }
    return Offers(kinds, pairs)


def test_the_wheel_has_a_cell_for_every_pair_and_none_where_nothing_is_asked() -> None:
    state = learnt(20)
    made = wheel(
        {"value:violet": state},
        offers(("value", "violet"), ("value", "red"), ("hue", "red"), ("value", "neutral")),
        after(state),
    )
    # Families go round the wheel as it is written; other regions follow.
    assert made.regions == ("red", "violet", "neutral")
    assert made.kinds == ("hue", "value")
    cell = made.cell("violet", "value")
    assert cell is not None
    assert (cell.standing, cell.tries) == ("strong", 20)
    assert made.cell("violet", "hue") is None
    assert made.together("red", made.kinds) == "unmet"
    assert made.together("violet", ["hue"]) is None


def test_a_skill_met_once_is_shown_though_these_pencils_ask_it_no_more() -> None:
    state = replace(learnt(3), skill="value:green")
    made = wheel({"value:green": state}, offers(("value", "red")), after(state))
    cell = made.cell("green", "value")
    assert cell is not None
    assert cell.standing == "shaky"


def test_standings_differ_by_letter() -> None:
    assert len(set(LETTERS.values())) == len(LETTERS)
    assert all(len(letter) == 1 for letter in LETTERS.values())


# -- forecast -----------------------------------------------------------------------------


def test_what_falls_due_in_the_week_is_forecast_and_nothing_else() -> None:
    now = START
    today = now.date()
    state = learnt(3)
    due = {
        f"value:region {n}": replace(
            state, skill=f"value:region {n}", due=today + timedelta(days=n)
        )
        for n in range(-2, 12)
    }
    found = forecast(due, now)
    assert [coming.day for coming in found] == [today + timedelta(days=n) for n in range(1, 8)]
    assert found[0].day_words == "tomorrow"


# -- minutes by day ---------------------------------------------------------------------------


def test_the_calendar_is_whole_weeks_with_days_of_rest() -> None:
    first, last = MONDAY + timedelta(days=2), MONDAY + timedelta(days=16)
    days = [DayCount(first, 30, 20, 600.0), DayCount(first + timedelta(days=5), 10, 9, 90.0)]
    made = calendar(days, first, last)
    assert made[0].day == MONDAY
    assert made[-1].day == last
    assert [day.day for day in made] == [MONDAY + timedelta(days=n) for n in range(17)]
    assert {day.day: day.minutes for day in made if day.answers} == {
        first: 10.0,
        first + timedelta(days=5): 1.5,
    }


def test_the_calendar_of_a_record_is_what_was_answered(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    for number in range(9):
        record.save(answer(number, days=number // 3, response_s=20.0))
    made = calendar(record.days(), MONDAY, MONDAY + timedelta(days=3))
    assert [day.minutes for day in made] == pytest.approx([1.0, 1.0, 1.0, 0.0])
