"""What is said at a session's end, and what is not."""

from __future__ import annotations

from datetime import timedelta

import pytest

from coach.screens.practice.closing import NOTHING, figures, said
from coach.session.summary import PractisedSkill, Summary, needs_most, returns_words
from drills.kinds import all_kinds
from tests.answers import START

DAY = START.date()


def skill(days: int | None, words: str = "Hue: red") -> PractisedSkill:
    due = None if days is None else DAY + timedelta(days=days)
    when = {None: "", 1: "tomorrow"}.get(days, f"in {days} days")
    return PractisedSkill(words, 3, 2, due, when)


def summary(**changes: object) -> Summary:
    made = {
        "asked": 3,
        "right": 2,
        "seconds": 121.0,
        "skills": (skill(1),),
        "unsaved": 0,
        "drills": ("Hue family and lean", "Nearest start"),
        "at_the_table": "Look twice.",
        **changes,
    }
    return Summary(**made)  # type: ignore[arg-type]


def test_it_says_what_was_practised_one_thing_to_do_and_what_is_next() -> None:
    assert figures(summary()) == "3 answered in 2 minutes, 2 right."
    assert said(summary()) == (
        ["Practised: Hue family and lean, Nearest start.", "Due again: 1 tomorrow."],
        ["For the drawing table: look twice."],
    )


def test_a_change_is_told_only_where_one_is_known() -> None:
    assert "finer" not in str(said(summary()))
    assert "Your eye sees finer." in said(summary(), "Your eye sees finer.")[1]


def test_where_nothing_was_answered_there_is_a_kind_word_and_no_report() -> None:
    empty = summary(asked=0, right=0, skills=(), drills=(), at_the_table="")
    assert figures(empty) == NOTHING
    assert said(empty, "Your eye sees finer.") == ([], [])


def test_nobody_is_praised_counted_or_ranked() -> None:
    for words in (figures(summary()), *said(summary())[0], *said(summary())[1], NOTHING):
        assert not {"streak", "points", "badge", "level", "great", "!"} & set(words.lower().split())


def test_the_drill_that_needs_most_is_the_one_with_most_answers_not_right() -> None:
    assert needs_most({"a": 5, "b": 3}, {"a": 5, "b": 1}) == "b"
    assert needs_most({"a": 2, "b": 3}, {"a": 2, "b": 3}) == "b"
    assert needs_most({}, {}) == ""


def test_the_three_that_need_most_take_turns() -> None:
    tries, right = dict.fromkeys("abcde", 4), {"a": 0, "b": 1, "c": 2, "d": 3, "e": 4}
    assert [needs_most(tries, right, turn) for turn in range(4)] == ["a", "b", "c", "a"]
    assert needs_most(tries, {**tries, "d": 3}, 2) == "d"


def test_the_next_two_times_are_told_with_how_many_come_back() -> None:
    some = (skill(1), skill(1), skill(3), skill(9), skill(None))
    assert returns_words(some) == "2 tomorrow, 1 in 3 days"
    assert returns_words((skill(None),)) == ""


@pytest.mark.parametrize("name", sorted(all_kinds()))
def test_every_drill_has_something_for_the_drawing_table(name: str) -> None:
    words = str(getattr(all_kinds()[name], "at_the_table", ""))
    assert words.endswith(".")
    assert len(words) <= 140
