"""A deck written in the app: its lines typed, turned and chosen; its questions with answers."""

from __future__ import annotations

from dataclasses import replace

import pytest

from coach.session.assigned.deck_questions import preview, ready_deck
from coach.teaching.drafting import (
    EMPTY,
    LINES,
    chosen,
    fault,
    standing_in,
    turned,
    typed,
    written,
)
from coach.teaching.previewing import previewed
from decks.deck import Deck, Step
from decks.deck_file import read_deck
from decks.fields import keys_of
from decks.pack import pack
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from drills.layering.palette import prepare
from drills.pencils.sets import pocket_set
from drills.questions.answered import answered_rightly

GREENS = replace(EMPTY, title="Greens", author="A. Teacher", kinds=("hue-and-lean",))


def test_every_key_of_a_deck_has_a_line_but_what_is_kept_as_it_came():
    kept = {"pencils", "easiest", "steps"}
    assert {line.key for line in LINES} == set(keys_of(Deck)) - kept
    deck = replace(GREENS, easiest=0.2, steps=(Step(title="One", word="Look."),))
    assert written(deck, "title", "Other greens") == replace(deck, title="Other greens")


def test_what_is_missing_is_said_until_nothing_is():
    deck = EMPTY
    assert fault(deck) == "It still wants a title."
    deck = written(deck, "title", "  Greens ")
    assert fault(deck) == "It still wants whom it is from."
    deck = written(deck, "author", "A. Teacher")
    assert fault(deck) == "It still wants drills."
    deck = chosen(deck, "kinds", ["hue-and-lean"])
    assert fault(deck) == ""
    assert read_deck(pack(deck).encode(), "f").sound() == deck


@pytest.mark.parametrize(
    ("key", "text", "told"),
    [
        ("title", "x" * 81, "over 80 characters"),
        ("title", " ", "nothing is written"),
        ("author", "a\x1b[31m", "control or invisible"),
        ("due", "tomorrow", "no day of the calendar"),
        ("due", "1999-01-01", "year 1999 is out of range"),
    ],
)
def test_what_can_t_be_typed_is_told_with_its_remedy(key: str, text: str, told: str):
    with pytest.raises(InputError, match=told):
        written(GREENS, key, text)


def test_a_note_keeps_its_lines_through_the_one_line_field():
    deck = written(GREENS, "note", "Value first. //Then hue.")
    assert deck.note == "Value first.\nThen hue."
    assert typed(deck, "note") == "Value first. // Then hue."
    assert written(deck, "note", typed(deck, "note")) == deck


def test_a_date_may_be_taken_away_again():
    deck = written(GREENS, "due", "2026-12-18")
    assert standing_in(deck, "due", {}) == "18 December 2026"
    assert written(deck, "due", "").due is None


@pytest.mark.parametrize("key", ["items_a_day", "days", "hardest", "pass_level"])
def test_numbers_are_turned_within_their_bounds(key: str):
    low = high = GREENS
    for _ in range(400):
        low, high = turned(low, key, -1), turned(high, key, 1)
    assert fault(low) == fault(high) == ""
    bounds = {
        "items_a_day": (1, 100),
        "days": (1, 366),
        "hardest": (0.1, 1),
        "pass_level": (0.1, 1),
    }
    assert (getattr(low, key), getattr(high, key)) == bounds[key]
    assert turned(GREENS, "title", 1) == GREENS


PALETTE = prepare(pocket_set())


@pytest.mark.parametrize("name", sorted(all_kinds()))
def test_every_kind_is_shown_with_its_answer_graded_as_right_and_nobody_s_own(name: str):
    """But for one that is built up, where many ways are good: a good one is told in words."""
    kind = all_kinds()[name]
    deck = replace(GREENS, kinds=(name,), families=kind.regions(PALETTE)[:1])
    question = next(preview(ready_deck(deck, PALETTE, {name: kind}), {name: kind}, 1))
    asks, answers = answered_rightly(kind, question)
    if answers is None:
        assert {asked.form for asked in asks} == {"build"}
    else:
        assert kind.grade(question, answers).right
    one = next(previewed(deck, PALETTE, {name: kind}))
    assert one.asks == asks
    assert one.answer
    assert one.title == kind.title
    assert (one.reveal is None) == (answers is None)
    if one.reveal is not None:
        assert all(row.mark in ("", "best") for row in one.reveal.results)
