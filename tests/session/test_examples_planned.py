"""The time that solved questions have of a day, and when there is none."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from drills.basics.json_values import JSON
from scores.record.queries import EXAMPLE, session_seconds
from scores.record.record import Record
from scores.today.day_plan import Item
from scores.today.examples import (
    LONG_BREAK_DAYS,
    LONG_SHARE,
    SHARE,
    example_seconds,
    planned_with_examples,
    shown_before,
)
from scores.today.shares import AWAY_SHARE
from tests.answers import answer
from tests.session.test_examples import NOW, READS, item, marked, state


def test_one_that_takes_much_of_a_short_day_comes_on_no_two_days_running() -> None:
    yesterday = {"other": NOW.date() - timedelta(days=1)}
    before = {"other": NOW.date() - timedelta(days=2)}
    long = example_seconds(READS) / LONG_SHARE / 60.0
    assert marked([item("kind")], shown=yesterday, minutes=long - 0.01) == []
    assert marked([item("kind")], shown=before, minutes=long - 0.01) == [0]
    assert marked([item("kind")], shown=yesterday, minutes=long + 0.01) == [0]


def test_on_a_first_day_back_they_have_their_share_of_that_short_day() -> None:
    """And what they take is taken from its questions, though a plan is told the usual minutes."""
    kinds = [f"kind-{at}" for at in range(6)]
    for ago, day in ((LONG_BREAK_DAYS, 600.0 * AWAY_SHARE), (1, 600.0)):
        asked: list[float] = []

        def plan_in(minutes: float, asked: list[float] = asked) -> list[Item]:
            asked.append(minutes)
            return [item(kind) for kind in kinds]

        known = {one.skill: one for one in (state("other:red", ago=ago),)}
        made = planned_with_examples(plan_in, known, {}, NOW, 10, READS)
        count = sum(one.example_s > 0 for one in made)
        assert count == SHARE * day // example_seconds(READS)
        taken = count * example_seconds(READS)
        share = day / 600.0
        assert asked[1] * share == pytest.approx(10 * share - taken / 60.0)


def test_what_examples_take_is_taken_from_the_questions() -> None:
    asked: list[float] = []

    def plan_in(minutes: float) -> list[Item]:
        asked.append(minutes)
        return [item("hue"), item("value")]

    made = planned_with_examples(plan_in, {}, {}, NOW, 10, READS)
    assert asked == [10, 10 - 2 * example_seconds(READS) / 60]
    assert [one.example_s for one in made] == [example_seconds(READS)] * 2
    known = {one.skill: one for one in (state("hue:red", 9, 9), state("value:red", 9, 9))}
    asked.clear()
    assert not any(
        one.example_s for one in planned_with_examples(plan_in, known, {}, NOW, 10, READS)
    )
    assert asked == [10]


def test_one_is_shown_where_it_is_marked_not_yet_seen_today_and_has_time() -> None:
    one = replace(item("hue"), example_s=21.0, seconds=41.0)
    assert shown_before(one, {}, NOW, 41.0)
    assert not shown_before(one, {}, NOW, 40.9)
    assert not shown_before(one, {"hue": NOW.date()}, NOW, 600.0)
    assert shown_before(one, {"hue": NOW.date() - timedelta(days=1)}, NOW, 600.0)
    assert not shown_before(item("hue"), {}, NOW, 600.0)


@pytest.mark.parametrize(
    ("kept", "counted"), [({EXAMPLE: 50.0}, 50.0), ({}, 0.0), ({EXAMPLE: "x"}, 0.0)]
)
def test_one_before_the_first_question_is_part_of_how_long_a_session_was(
    tmp_path: Path, kept: dict[str, JSON], counted: float
) -> None:
    record = Record.open(tmp_path / "record.db")
    for number in (1, 2):
        at = NOW + timedelta(seconds=20 * number)
        # The second's lies between two answers and is counted already.
        record.save(answer(number, facts=kept, at_utc=at, response_s=8.0))
    assert session_seconds(record) == [28.0 + counted]
