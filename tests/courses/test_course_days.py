"""A course over its days: what opens when, how a week grows, what a change of it keeps."""

from __future__ import annotations

import random
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

from coach.session.assigned.course_work import at_hand, course_words, courses, just_opened
from coach.session.assigned.deck_progress import opened
from coach.session.assigned.deck_work import deck_items
from coach.teaching.adding import add, looked_at
from coach.teaching.adding_course import (
    add_course,
    course_looked_at,
    course_named,
    drop_course,
)
from decks.courses.course import Course
from decks.courses.levels import at_level
from decks.record_form import to_kept
from decks.tasks import DeckTask
from drills.basics.errors import InputError
from scores.classes.passing import days_done, items_on, latest_wanted, wanted
from scores.record.decks_added import decks_kept, put_deck
from scores.record.failures import NotSavedError
from scores.record.record import Record
from scores.today.offers import KindFacts, Offers
from tests.answers import START
from tests.courses.made import TEXT, at, course, practise, stands, taken


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return taken(tmp_path / "record.db", course())


def passed_first(record: Record) -> None:
    practise(record, "one", 0, 4)
    practise(record, "one", 1, 6)


# -- what opens when -----------------------------------------------------------------------


def test_a_deck_opens_once_the_one_above_it_is_passed(record: Record):
    first = stands(record)
    assert [one.state for one in first.values()] == ["to do", "not open", "not open"]
    assert first["two"].words == "opens once “Value” is passed"
    assert first["three"].words == "opens once “Value” and “Hue” are passed"
    assert [one.left_today for one in first.values()] == [4, 0, 0]
    passed_first(record)
    then = stands(record, 2)
    assert [one.state for one in then.values()] == ["finished", "to do", "not open"]
    assert then["three"].waits_for == ("Hue",)


def test_a_deck_that_needs_none_is_open_beside_the_first(tmp_path: Path):
    side = course(TEXT.replace('needs = ["one", "two"]', "needs = []"))
    found = stands(taken(tmp_path / "record.db", side))
    assert [one.state for one in found.values()] == ["to do", "not open", "to do"]
    (told,) = courses(tuple(found.values()))
    assert [one.deck.title for one in told.now] == ["Value", "Greys"]
    assert course_words(told) == (
        "Week 1 of 3: Value, 0 of 4 today, day 1 of 2;"
        " Week 3 of 3: Greys, 0 of 4 today, day 1 of 1. Next: Hue."
    )


def test_one_not_passed_goes_on_beyond_its_days_until_it_is(record: Record):
    practise(record, "one", 0, 4, score=0.3)
    practise(record, "one", 1, 6, score=0.3)
    one = stands(record, 2)["one"]
    assert (one.days_done, one.passed, one.state, one.left_today) == (2, False, "to do", 6)
    assert one.words == "0 of 6 today, all its days done, on until it is passed"
    assert stands(record, 2)["two"].state == "not open"
    practise(record, "one", 2, 6, score=0.9)
    assert stands(record, 3)["one"].state == "finished"
    assert stands(record, 3)["two"].state == "to do"


def test_one_that_these_pencils_cant_be_asked_for_holds_up_nothing(record: Record):
    found = list(stands(record).values())
    found[0] = replace(found[0], tasks=())
    assert [one.state for one in opened(found)] == ["can't be asked", "to do", "not open"]


def test_in_a_course_a_date_past_closes_nothing(tmp_path: Path):
    dated = course(TEXT.replace('title = "Value"', 'title = "Value"\ndue = 2026-03-03'))
    one = stands(taken(tmp_path / "record.db", dated), 60)["one"]
    assert (one.state, one.left_today) == ("to do", 4)
    assert "was due 60 days ago" in one.words or "was due 59 days ago" in one.words


def test_the_open_deck_and_the_next_are_made_ready_and_no_more(record: Record):
    found = list(stands(record).values())
    assert [one.deck.title for one in at_hand(found)] == ["Value", "Hue"]
    first, second, _ = (one.fingerprint for one in found)
    assert just_opened(found, {first, second}) == set()
    passed_first(record)
    later = list(stands(record, 2).values())
    assert [one.deck.title for one in at_hand(later)] == ["Hue", "Greys"]
    assert just_opened(later, {first}) == {second}


def test_a_line_says_which_week_stands_and_what_comes_next(record: Record):
    def line(day: int) -> str:
        (told,) = courses(tuple(stands(record, day).values()))
        return course_words(told)

    assert line(0) == "Week 1 of 3: Value, 0 of 4 today, day 1 of 2. Next: Hue."
    passed_first(record)
    assert line(2) == "Week 2 of 3: Hue, 0 of 4 today, day 1 of 2. Next: Greys."
    for name, days in (("two", (2, 3)), ("three", (4,))):
        for day in days:
            practise(record, name, day, 4)
    assert line(5) == "“Three weeks” is done: all 3 decks are passed."


# -- a week's growth ------------------------------------------------------------------------


def test_a_later_day_wants_more_and_is_not_done_with_less(record: Record):
    practise(record, "one", 0, 4)
    assert stands(record, 0)["one"].state == "done today"
    second = stands(record, 1)["one"]
    assert (second.day_number, second.wanted_today, second.left_today) == (2, 6, 6)
    practise(record, "one", 1, 4)
    assert (stands(record, 1)["one"].left_today, stands(record, 1)["one"].days_done) == (2, 1)
    assert stands(record, 1)["two"].state == "not open"


def test_its_questions_are_as_hard_as_the_day_s_step_allows(record: Record):
    facts = KindFacts("lighter-or-darker", 1, "Value", 6.0, "ΔL*", (20.0, 1.0), 0.5, True)
    offers = Offers({facts.name: facts}, ((facts.name, "red"),))

    def hardest(day: int) -> set[float]:
        one = replace(stands(record, day)["one"], tasks=(DeckTask(facts.name, "red"),))
        items = deck_items(one, one.left_today, offers, {}, random.Random(1))
        assert len(items) == one.wanted_today
        return {item.hardest for item in items}

    assert hardest(0) == {0.4}
    practise(record, "one", 0, 4)
    assert hardest(1) == {1.0}


def test_the_rule_of_days_counts_each_by_what_it_wants():
    growth = ((3, 6), (5, 8))
    assert [items_on(4, growth, day) for day in (1, 2, 3, 4, 5, 9)] == [4, 4, 6, 6, 8, 8]
    assert wanted(4, 5, growth) == 4 + 4 + 6 + 6 + 8
    assert latest_wanted(4, 5, growth) == 14
    assert days_done([4, 3, 4, 5, 6], 4, growth) == 3
    assert days_done([4, 4, 4, 4], 4) == 4


# -- the same course again -------------------------------------------------------------------


def again(record: Record, made: Course, anew: bool = False) -> list[str]:
    adding = course_looked_at(record, made, at(9), anew)
    add_course(record, adding, at(9))
    return adding.words


def test_at_another_level_what_was_passed_stays_and_the_week_under_way_begins_anew(record: Record):
    passed_first(record)
    practise(record, "two", 2, 4)
    told = again(record, at_level(course(), "LIGHTER"))
    assert "What you have passed stays passed: 1 of its decks." in told[-1]
    found = stands(record, 3)
    assert [one.state for one in found.values()] == ["finished", "to do", "not open"]
    assert (found["two"].days_done, found["two"].wanted_today) == (0, 2)
    assert found["two"].deck.hardest == pytest.approx(0.8)
    assert found["two"].deck.pass_level == 0.5
    assert len(decks_kept(record)) == 3
    # And back again.
    again(record, course())
    assert stands(record, 3)["one"].state == "finished"
    assert stands(record, 3)["two"].wanted_today == 4


@pytest.mark.parametrize("level", ["", "lighter"])
@pytest.mark.parametrize("kept", range(6))
def test_broken_off_at_any_write_it_is_added_again_with_what_was_passed(
    record: Record, monkeypatch: pytest.MonkeyPatch, kept: int, level: str
):
    passed_first(record)
    changed = course(TEXT.replace('purpose = "To see"', 'purpose = "To see more"'))
    changed = at_level(changed, level) if level else changed
    with monkeypatch.context() as patch:
        writes, transact = iter(range(kept)), Record.transact

        def broken_off(self: Record, work: object) -> None:
            if next(writes, None) is None:
                raise NotSavedError("the disk is full")
            transact(self, work)  # type: ignore[arg-type]

        patch.setattr(Record, "transact", broken_off)
        with suppress(InputError):
            again(record, changed)
    again(record, changed)
    assert stands(record, 3)["one"].passed
    assert len(decks_kept(record)) == 3


def test_words_corrected_begin_nothing_anew(record: Record):
    practise(record, "one", 0, 4)
    again(record, course(TEXT.replace("Fill five boxes.", "Fill six boxes.")))
    one = stands(record, 1)["one"]
    assert (one.days_done, one.wanted_today) == (1, 6)
    assert len(decks_kept(record)) == 3


def test_other_questions_begin_anew_but_not_what_was_passed(record: Record):
    passed_first(record)
    practise(record, "two", 2, 4)
    asks_else = TEXT.replace('"lighter-or-darker"', '"brighter-or-duller"')
    again(record, course(asks_else.replace('kinds = ["hue-and-lean"]', 'kinds = ["grey-lean"]')))
    found = stands(record, 3)
    assert [one.state for one in found.values()] == ["finished", "to do", "not open"]
    assert found["two"].days_done == 0


def test_anew_begins_all_of_it(record: Record):
    passed_first(record)
    again(record, at_level(course(), "lighter"), anew=True)
    assert [one.state for one in stands(record, 3).values()] == ["to do", "not open", "not open"]


def test_the_same_file_twice_changes_nothing(record: Record):
    assert course_looked_at(record, course(), START).there
    assert not course_looked_at(record, at_level(course(), "lighter"), START).there


def test_a_deck_taken_out_of_the_course_goes_and_one_of_its_decks_held_alone_counts(
    tmp_path: Path,
):
    record = Record.open(tmp_path / "record.db")
    whole = course()
    alone = whole.decks[0].deck
    put_deck(record, alone.fingerprint, alone.title, to_kept(alone), START)
    assert stands(record)["Value"].course is None
    practise(record, "Value", 0, 4)
    add_course(record, course_looked_at(record, whole, START), START)
    assert stands(record, 1)["one"].days_done == 1
    short = course(TEXT[: TEXT.index('[[decks]]\nname = "three"')])
    add_course(record, course_looked_at(record, short, START), START)
    assert list(stands(record, 1)) == ["one", "two"]


def test_a_deck_of_it_sent_alone_corrected_keeps_its_place(record: Record):
    mended = replace(course().decks[1].deck, note="Look twice.")
    add(record, looked_at(record, mended), START)
    two = stands(record)["two"]
    assert (two.deck.note, two.state) == ("Look twice.", "not open")


def test_a_course_is_dropped_whole_by_the_beginning_of_its_title(record: Record):
    with pytest.raises(InputError, match="no such course"):
        course_named(record, "Four")
    found, decks = course_named(record, "three w")
    drop_course(record, found, decks)
    assert found.title == "Three weeks"
    assert stands(record) == {}


def test_what_is_passed_does_not_close_again_with_time(record: Record):
    passed_first(record)
    assert stands(record, 300)["one"].state == "finished"
    assert stands(record, 300)["two"].left_today == 4
