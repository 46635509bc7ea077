"""What a class keeps counted is what its answers come to, whatever happened to it.

The tables that screens and reports read are held to a plain count of the answers, written here
once more: after files in any order, edited files, sheets typed in, students joined and parted,
renamed decks, and students forgotten.
"""

from __future__ import annotations

import tempfile
from collections import Counter, defaultdict
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from scores.classes import people, store, store_rows
from scores.classes.counted import counting
from scores.classes.paper.tables import TABLE
from scores.classes.store import ClassBook
from scores.exchange.on_paper import SharedOnPaper
from scores.exchange.results_written import DeckNamed
from tests.classes import DECK, NOW, STUDENTS, attempts, read, results_file

OTHER = replace(DECK, fingerprint="e" * 64, title="Browns", items_a_day=2)
RENAMED = replace(DECK, fingerprint="f" * 64, title="Geens", questions="a" * 64)
ASKED = replace(DECK, questions="a" * 64)
DECKS = (DECK, ASKED, OTHER, RENAMED)

Step = Callable[[ClassBook], object]


def a_file(student: str, deck: DeckNamed, ends: tuple[int, int], hours: int, score: int) -> Step:
    """A results file of answers to a deck, each some hours after the last."""
    grade = score / 4
    numbers = range(min(ends), max(ends))
    mine = [
        replace(
            one,
            deck=deck.fingerprint,
            region=("red", "blue")[one.number % 2],
            score=grade,
            right=grade > 0.5,
            at_utc=one.at_utc + timedelta(hours=hours * one.number),
            facts={"named": "Leaf"} if one.number % 3 == 0 else one.facts,
        )
        for one in attempts(student, numbers)
    ]
    results = read(results_file(student, mine, deck))
    return lambda book: book.add(results, "file.json")


def a_sheet(student: str, deck: DeckNamed, number: int, minute: int) -> Step:
    """A sheet typed in: one answer on paper."""
    results = read(results_file(student, attempts(student, [number], score=minute / 4), deck=DECK))
    said = results.answers[0]._replace(deck=deck.fingerprint)
    one = SharedOnPaper(said, "1-abcd", 1 + number % 3, "a", NOW + timedelta(minutes=minute))
    written = replace(results, deck=deck, answers=(), on_paper=(one,))
    return lambda book: book.add(written, "sheet", typed=True)


def joined(one: str, other: str) -> Step:
    def step(book: ClassBook) -> None:
        found = [people.find(book, STUDENTS[name]) for name in (one, other)]
        if one != other and all(found) and found[0] != found[1]:
            people.join(book, found[0][0], found[1][0])

    return step


def parted(one: str) -> Step:
    def step(book: ClassBook) -> None:
        found = people.find(book, STUDENTS[one])
        if found and len(found[0].ids) > 1:
            people.part(book, found[0], [STUDENTS[one]])

    return step


def given_deck(deck: DeckNamed, items: int) -> Step:
    return lambda book: book.give_deck(replace(deck, items_a_day=items)) or None


NAMES = st.sampled_from(sorted(STUDENTS))
ANY_DECK = st.sampled_from(DECKS)
ENDS = st.tuples(st.integers(0, 30), st.integers(0, 30))
STEPS = st.one_of(
    st.builds(a_file, NAMES, ANY_DECK, ENDS, st.integers(0, 9), st.integers(0, 4)),
    st.builds(a_file, NAMES, ANY_DECK, ENDS, st.integers(0, 9), st.integers(0, 4)),
    st.builds(a_sheet, NAMES, ANY_DECK, st.integers(0, 9), st.integers(0, 4)),
    st.builds(joined, NAMES, NAMES),
    st.builds(parted, NAMES),
    st.builds(lambda name: lambda book: book.drop(STUDENTS[name]), NAMES),
)
"""Decks are not given first: then files of others would be refused."""


def plain_count(book: ClassBook) -> dict[str, dict[tuple[Any, ...], tuple[Any, ...]]]:
    """Every kept table, by its key, from the answers alone."""
    db = book.db
    person = dict(db.execute("SELECT key, person FROM students").fetchall())
    ids = dict(db.execute("SELECT key, id FROM students").fetchall())
    work = dict(db.execute("SELECT key, work FROM decks").fetchall())
    wants = {
        key: (items, max(items, wanted // 2))
        for key, items, wanted in db.execute("SELECT key, items_a_day, wanted FROM decks")
    }
    answers: dict[tuple[int, bytes], tuple[Any, ...]] = {}
    rows = db.execute(
        "SELECT student, id, deck, skill, target, at_ms, day, score, right, seconds, level, said,"
        " truth FROM answers"
    ).fetchall()
    for row in sorted(rows, key=lambda row: ids[row[0]]):
        answers.setdefault((person[row[0]], row[1]), (person[row[0]], *row[1:]))
    typed: dict[tuple[Any, ...], tuple[Any, ...]] = {}
    for student, name, deck, sheet, number, typed_ms, at_ms, day, score in db.execute(
        f"SELECT student, id, deck, sheet, number, typed_ms, at_ms, day, score FROM {TABLE}"
    ):
        place = (person[student], work[deck], sheet, number)
        one = (typed_ms, name, person[student], deck, at_ms, day, score)
        typed[place] = max(typed.get(place, one), one)
    marks: dict[tuple[Any, ...], list[tuple[Any, ...]]] = defaultdict(list)
    bins: dict[tuple[Any, ...], list[tuple[Any, ...]]] = defaultdict(list)
    days: dict[tuple[Any, ...], list[float]] = defaultdict(list)
    mixed: Counter[tuple[Any, ...]] = Counter()
    targets: dict[tuple[Any, ...], list[float]] = defaultdict(list)
    works: dict[tuple[Any, ...], list[tuple[Any, ...]]] = defaultdict(list)
    for one in answers.values():
        student, name, deck, skill, target, at, day, score, right, _, level, said, truth = one
        marks[student, deck, skill].append((-at, name, score, right, level, day))
        bins[student, deck, skill, min(39, int(level * 40))].append((right, level))
        days[student, deck, day].append(score)
        works[student, work[deck]].append((-at, name, score, day))
        mixed[student, deck, truth, said] += truth >= 0 and said >= 0
        if target >= 0:
            targets[student, deck, target].append(score)
    for _, name, student, deck, at, day, score in typed.values():
        days[student, deck, day].append(score)
        works[student, work[deck]].append((-at, name, score, day))
    every: dict[int, Counter[int]] = defaultdict(Counter)
    for (student, _, day), scores in days.items():
        every[student][day] += len(scores)
    return {
        "marks": {
            key: (
                *(len(some), sum(row[3] for row in some), sum(row[2] for row in some)),
                *(len(some[:20]), sum(row[2] for row in sorted(some)[:20])),
                *(sum(row[4] for row in sorted(some)[:20]), max(row[5] for row in some)),
            )
            for key, some in marks.items()
        },
        "level_marks": {
            key: (len(some), sum(right for right, _ in some), sum(level for _, level in some))
            for key, some in bins.items()
        },
        "days": {key: (len(some), sum(some)) for key, some in days.items()},
        "mixups": {key: (count,) for key, count in mixed.items() if count},
        "target_marks": {key: (len(some), sum(some)) for key, some in targets.items()},
        "deck_marks": {
            (student, deck): _of_work(some, *wants[deck]) for (student, deck), some in works.items()
        },
        "totals": {
            (student,): (sum(counts.values()), len(counts), min(counts))
            for student, counts in every.items()
        },
    }


def _of_work(some: list[tuple[Any, ...]], items: int, most: int) -> tuple[Any, ...]:
    latest = [row[2] for row in sorted(some)[:most]]
    counts = Counter(row[3] for row in some)
    return len(latest), sum(latest), len(counts), sum(one >= items for one in counts.values())


KEYS = {"marks": 3, "level_marks": 4, "days": 3, "mixups": 4, "target_marks": 3, "deck_marks": 2}


def kept(book: ClassBook) -> dict[str, dict[tuple[Any, ...], tuple[Any, ...]]]:
    """Every kept table, by its key."""
    found = {}
    for table in counting.COUNTED:
        size = KEYS.get(table, 1)
        # The seconds of a day are told nowhere.
        columns = "student, deck, day, tries, total" if table == "days" else "*"
        rows = book.db.execute(f"SELECT {columns} FROM {table}").fetchall()
        found[table] = {row[:size]: row[size:] for row in rows}
    return found


def hold(steps: list[Step]) -> None:
    """Nothing kept differs from the plain count after any step."""
    with tempfile.TemporaryDirectory() as folder:
        book = ClassBook.open(Path(folder) / "class.db")
        for step in steps:
            step(book)
            plain = plain_count(book)
            for table, rows in kept(book).items():
                assert rows.keys() == plain[table].keys(), table
                for key, values in rows.items():
                    assert values == pytest.approx(plain[table][key]), (table, key)
        book.close()


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(STEPS, min_size=1, max_size=7))
def test_what_is_kept_is_what_the_answers_come_to(steps: list[Step]) -> None:
    hold(steps)


WREN = a_file("Wren", DECK, (0, 9), 3, 4)
STORY: list[Step] = [
    WREN,
    a_file("Rail", DECK, (0, 12), 5, 1),
    a_sheet("Wren", DECK, 2, 3),
    joined("Wren", "Rail"),
    parted("Wren"),
    a_file("Rail", RENAMED, (3, 14), 4, 3),
    a_file("Wren", ASKED, (3, 14), 4, 3),
    given_deck(ASKED, 1),
    given_deck(ASKED, 2),
    lambda book: book.drop(STUDENTS["Wren"]),
]


def test_a_story_with_every_kind_of_step_keeps_it_too() -> None:
    hold(STORY)


@pytest.mark.parametrize(
    ("module", "name"),
    [
        (store, "derive"),
        (people, "derive"),
        (store_rows, "derive_work"),
    ],
)
def test_the_law_finds_a_place_where_nothing_is_counted_anew(
    module: Any, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Each call that keeps the figures fresh, taken away, breaks the law."""
    monkeypatch.setattr(module, name, lambda *_: None)
    with pytest.raises(AssertionError):
        hold(STORY)
