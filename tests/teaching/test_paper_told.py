"""What is kept of worksheets is told truly in exports, and writes over nothing."""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from datetime import date, datetime, timedelta
from itertools import permutations
from pathlib import Path

import duckdb
import pytest
from click.testing import CliRunner

from coach.cli import cli
from coach.reports.classes.export import answers_csv, class_json, students_csv
from coach.reports.classes.kinds import kind_scales, kind_titles
from coach.reports.classes.parquet import answers_parquet
from coach.teaching.paper.keeping import keep_for_student, keep_own, kept_deck
from coach.teaching.paper.sheet import PaperDeck
from coach.teaching.sharing import made_of, shown
from decks.record_form import deck_named, to_kept
from drills.kinds import all_kinds
from scores.classes.people import call, find, only_one
from scores.classes.person import people_of
from scores.classes.standings import class_standing
from scores.classes.store import ClassBook
from scores.classes.views import overview
from scores.exchange.exports import xapi_parts
from scores.exchange.on_paper import SharedOnPaper
from scores.exchange.results_read import ResultsFile, read_results
from scores.exchange.results_written import DeckNamed, digest_of
from scores.exchange.xapi import EXTENSION, SharedAnswer
from scores.record.attempt import Attempt
from scores.record.decks_added import decks_kept, drop_deck, put_deck, tally
from scores.record.paper_answers import SHEET, paper_answers, that_count
from scores.record.record import Record
from tests.answers import answer
from tests.teaching.test_paper_kept import DECK, NOW, PALETTE, SHEETS, typed_of

ID = "7d444840-9dc0-11d1-b245-5ffdce74fad2"
COUNT = len(SHEETS[1].questions)


@pytest.fixture
def record(tmp_path: Path) -> Iterator[Record]:
    made = Record.open(tmp_path / "record.db")
    put_deck(made, DECK.fingerprint, DECK.title, to_kept(DECK), NOW)
    made.set_setting("student", ID)
    yield made
    made.close()


@pytest.fixture
def book(tmp_path: Path) -> Iterator[ClassBook]:
    made = ClassBook.open(tmp_path / "class.db")
    yield made
    made.close()


def own(record: Record, wrong: int = 0, at: datetime = NOW, on: date | None = None):
    kept = kept_deck(record, DECK)
    assert kept is not None
    return keep_own(record, kept, SHEETS[1], typed_of(1, wrong), on, at)


def type_in(book: ClassBook, name: str, wrong: int = 0, at: datetime = NOW) -> str:
    return keep_for_student(book, DECK, name, SHEETS[1], typed_of(1, wrong), None, at)[0]


def sent(name: str, at: datetime, pencils: str = "", identity: str = ID) -> ResultsFile:
    deck = deck_named(DECK)
    one = SharedAnswer(
        "0" * 8 + identity[8:], identity, deck.fingerprint, "lighter-or-darker", "red", at,
        1.0, True, 3.0, 0.5,
    )  # fmt: skip
    return ResultsFile(identity, name, deck, "0", (one,), 0, pencils)


# Two decks that ask the same

TWIN = replace(DECK, title=f"{DECK.title} 2")


def test_a_deck_that_asks_the_same_has_answers_of_its_own(record: Record, book: ClassBook):
    sheet = PaperDeck(TWIN, PALETTE, all_kinds()).sheet(1, grey=True)
    assert (sheet.name, TWIN.questions) == (SHEETS[1].name, DECK.questions)
    put_deck(record, TWIN.fingerprint, TWIN.title, to_kept(TWIN), NOW + timedelta(days=1))
    for at, deck in enumerate((DECK, TWIN), start=1):
        kept = kept_deck(record, deck)
        assert kept is not None
        assert keep_own(record, kept, sheet, typed_of(), None, NOW).new == COUNT
        assert record.count() == at * COUNT
        assert keep_for_student(book, deck, "Wren", sheet, typed_of(), None, NOW)[1].new == COUNT
        assert tally(record, deck.fingerprint).on_paper == COUNT
        (line,) = overview(book, deck.fingerprint).students
        assert line.on_paper is not None
        assert line.on_paper.answers == COUNT
    # Typed again for the same deck with its words changed, it is known.
    worded = replace(TWIN, note="Corrected.")
    assert keep_for_student(book, worded, "Wren", sheet, typed_of(), None, NOW)[1].known == COUNT


def test_a_deck_dropped_since_can_be_forgotten_though_it_was_answered_on_paper_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    with closing(Record.open(tmp_path / "record.db")) as record:
        put_deck(record, DECK.fingerprint, DECK.title, to_kept(DECK), NOW)
        own(record)
        drop_deck(record, DECK.fingerprint)
    words = ["scores", "forget", "--deck", DECK.fingerprint[:12], "--yes"]
    told = CliRunner().invoke(cli, words)
    assert (told.exit_code, f"{COUNT} answers" in told.output) == (0, True), told
    with closing(Record.open(tmp_path / "record.db")) as record:
        assert record.count() == 0


# Exports


def test_one_who_only_wrote_on_paper_is_exported_with_what_is_known(book: ClassBook):
    type_in(book, "Wren", wrong=1)
    book.add(sent("Teal", NOW), "a")
    view, standing = overview(book, DECK.fingerprint), class_standing(book, kind_scales())
    titles = kind_titles()
    rows = csv.DictReader(io.StringIO("".join(students_csv(view, standing, titles))))
    by_name = {row["student"]: row for row in rows}
    wren = by_name["Wren"]
    assert (wren["answers"], wren["place"], wren["level"]) == ("0", "not known yet", "")
    assert (wren["on_paper"], wren["on_paper_right"]) == (str(COUNT), str(COUNT - 1))
    assert wren["passed"] in ("0", "1")
    assert f"{COUNT} answers on paper" in wren["words"]
    assert (by_name["Teal"]["answers"], by_name["Teal"]["on_paper"]) == ("1", "0")
    told = {
        one["student"]: one for one in json.loads(class_json(view, standing, titles))["students"]
    }
    assert told["Wren"].keys() == told["Teal"].keys()
    assert told["Wren"]["level"] is None
    assert told["Wren"]["on_paper"]["right"] == COUNT - 1
    assert told["Teal"]["on_paper"] is None


def test_answers_on_paper_are_in_the_tables_of_answers_and_said_to_be(
    book: ClassBook, tmp_path: Path
):
    """One row each that counts: the latest typed of a question, under the name told."""
    type_in(book, "Wren", wrong=2)
    type_in(book, "Wren", wrong=1, at=NOW + timedelta(hours=1))
    book.add(sent("Teal", NOW), "a")
    call(book, only_one(book, "Wren"), "=Wren")
    file = tmp_path / "all.parquet"
    file.write_bytes(b"".join(answers_parquet(book, DECK.fingerprint)))
    rows = list(csv.DictReader(io.StringIO("".join(answers_csv(book, DECK.fingerprint)))))
    typed = duckdb.sql(f"SELECT * FROM '{file}'").fetchall()
    assert [row["on_paper"] for row in rows] == ["0"] + ["1"] * COUNT
    assert [row[-1] for row in typed] == [False] + [True] * COUNT
    assert sum(row["right"] == "1" for row in rows[1:]) == COUNT - 1
    for row, one in zip(rows[1:], typed[1:], strict=True):
        told = dict(zip(rows[0], one, strict=True))
        assert (row["student"], told["student"]) == ("'=Wren", "=Wren")
        assert row["id"] == told["id"]
        assert (row["kind"], row["region"]) == (told["kind"], told["region"])
        assert [row[name] for name in ("seconds", "level", "truth", "said")] == [""] * 4
        assert [told[name] for name in ("seconds", "level", "truth", "said")] == [None] * 4
        assert float(row["score"]) == told["score"]
        assert row["at_utc"].startswith(f"{NOW:%Y-%m-%d}T12:00:00.000")
    assert list(answers_csv(book, "0" * 64)) == list(answers_csv(book, "1" * 64))
    assert len("".join(answers_csv(book, "0" * 64)).splitlines()) == 1


def test_a_statement_says_paper_and_help(record: Record):
    own(record, on=date(2026, 3, 8))
    helped: Attempt = answer(1, deck="")
    record.save(replace(helped, chance=1.0, facts={"help": "look"}))
    made = json.loads("".join(xapi_parts(record, ID, "Wren")))
    *paper, screen = made
    assert len(paper) == COUNT
    for one in paper:
        assert one["context"]["extensions"][EXTENSION]["on_paper"]["sheet"] == SHEETS[1].name
        assert one["timestamp"].startswith("2026-03-08T12:00")
        assert "duration" not in one["result"]
        grouping = one["context"]["contextActivities"]["grouping"]
        assert grouping[0]["id"].endswith(DECK.fingerprint)
    assert "duration" in screen["result"]
    assert screen["context"]["extensions"][EXTENSION]["help"] == "look"


def test_who_shares_is_told_of_all_that_is_in_the_file(record: Record):
    (kept,) = decks_kept(record)
    record.save(answer(1, deck=DECK.fingerprint))
    assert "paper" not in "\n".join(shown(made_of(record, kept, "Wren", NOW)))
    own(record)
    lines = shown(made_of(record, kept, "Wren", NOW))
    assert len(lines) == 4
    assert f"{COUNT} on paper" in lines[0]
    assert "on paper also the sheet, your letters, and when they were typed" in lines[2]


# Nothing is written over


def test_names_of_stops_alone_are_not_one_student(book: ClassBook):
    for name in ("...", "!!"):
        assert type_in(book, name) == name
    assert len(people_of(book.db)) == 2


def test_typing_a_sheet_leaves_what_a_student_s_files_said(book: ClassBook):
    book.add(sent("wren92", NOW - timedelta(days=1), "Garden 24"), "a")
    call(book, only_one(book, "wren92"), "Wren K.")
    assert type_in(book, "Wren K.") == "Wren K."
    (person,) = people_of(book.db)
    assert (person.name, person.sent, person.pencils) == ("Wren K.", ("wren92",), "Garden 24")
    call(book, person, "")
    assert people_of(book.db)[0].name == "wren92"
    # And the next file may give another name, though it tells of days before the typing.
    book.add(sent("wren93", NOW - timedelta(hours=5), "Garden 36"), "a")
    (person,) = people_of(book.db)
    assert (person.name, person.pencils) == ("wren93", "Garden 36")
    assert find(book, "wren93")


def test_of_two_decks_that_are_one_the_one_sent_is_meant(record: Record):
    later = replace(DECK, note="Corrected.")
    assert later.fingerprint != DECK.fingerprint
    put_deck(record, later.fingerprint, later.title, to_kept(later), NOW + timedelta(days=1))
    for deck in (DECK, later):
        kept = kept_deck(record, deck)
        assert kept is not None
        assert kept.fingerprint == deck.fingerprint


def test_the_later_typed_counts_though_the_clock_was_put_back(record: Record):
    own(record, wrong=2)
    assert own(record, wrong=0, at=NOW - timedelta(hours=3)).changed == 2
    assert all(score == 1.0 for score in tally(record, DECK.fingerprint).scores)
    assert own(record, wrong=0, at=NOW - timedelta(hours=2)).known == COUNT


def test_what_is_said_to_be_typed_in_years_to_come_does_not_count(record: Record):
    own(record)
    (kept,) = decks_kept(record)
    said = json.loads(json.dumps(made_of(record, kept, "Wren", NOW).results))
    more = said["on_paper"][0]["context"]["extensions"][EXTENSION]
    more["on_paper"]["typed"] = "8999-01-01T00:00:00+00:00"
    text = json.dumps(said, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    whole = f'{{"digest":"{digest_of(text)}","results":{text}}}'
    found = read_results(whole.encode(), "results", NOW)
    assert (len(found.on_paper), found.not_counted) == (COUNT - 1, 1)


BROKEN = [
    {"written": "0001-01-01"},
    {"number": float("inf")},
    {"typed": "yesterday"},
    {"letters": None, "name": None, "written": None},
]


@pytest.mark.parametrize("spoilt", BROKEN, ids=str)
def test_an_answer_whose_facts_are_broken_hides_no_other(record: Record, spoilt: dict[str, object]):
    own(record)
    rows = record._rows("SELECT seq, facts FROM attempt_facts ORDER BY seq")
    facts = json.loads(rows[0][1])
    facts[SHEET].update(spoilt)
    with record._write() as db:
        db.execute(
            "UPDATE attempt_facts SET facts = ? WHERE seq = ?", (json.dumps(facts), rows[0][0])
        )
    assert len(that_count(paper_answers(record, (DECK.fingerprint,)))) == COUNT - 1
    for name in ("[" * 100_000, "null", "7"):
        with record._write() as db:
            db.execute("UPDATE attempt_facts SET facts = ? WHERE seq = ?", (name, rows[0][0]))
        assert tally(record, DECK.fingerprint).on_paper == COUNT - 1


def test_days_hang_on_no_order_where_decks_turn_out_to_be_one(tmp_path: Path):
    """Two decks that are one by a third: a sheet typed for both is one, whichever came first."""
    titles = ("Greens of spring", "Greens of springtime", "All new greens of springtime")
    decks = [
        DeckNamed(digest_of(title), title, "Ms Lark", 4, 2, None, 0.5, digest_of("asks"))
        for title in titles
    ]

    def file(number: int, student: str) -> ResultsFile:
        deck = decks[number]
        identity = f"{number}{ID[1:]}"
        said = SharedAnswer(
            identity,
            student,
            deck.fingerprint,
            "lighter-or-darker",
            "red",
            NOW,
            1.0,
            True,
            0.0,
            0.5,
        )
        one = SharedOnPaper(said, SHEETS[1].name, 1, "a", NOW + timedelta(minutes=number))
        return ResultsFile(student, "Wren", deck, "0", (), 0, on_paper=(one,))

    files = [file(0, ID), file(2, ID), file(1, f"8{ID[1:]}")]
    found = set()
    for at, order in enumerate(permutations(files)):
        book = ClassBook.open(tmp_path / f"{at}.db")
        for one in order:
            book.add(one, "x")
        rows = book.db.execute(
            "SELECT students.id, fingerprint, tries FROM days JOIN students ON students.key ="
            " student JOIN decks ON decks.key = deck"
        )
        found.add(tuple(sorted(rows)))
        book.close()
    (one,) = found
    assert sum(row[2] for row in one if row[0] == ID) == 1
