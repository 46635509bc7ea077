"""Records as every released coach wrote them: opened by today's, with not an answer changed.

``tests/data/records/schema-N.sql`` was written once by the coach of schema N.
"""

from __future__ import annotations

import re
import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest

from coach.reports.progress_figures import figures
from scores.learner.eye import EyeModel
from scores.progress.answers import read_history
from scores.record.migrations import LATEST, TABLES
from scores.record.record import Record
from scores.record.rows import COLUMNS
from scores.record.trials import rebuild_trials
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

FOLDER = Path(__file__).parent.parent / "data" / "records"
SCHEMAS = sorted(FOLDER.glob("schema-*.sql"), key=lambda path: int(path.stem.split("-")[1]))
KEPT = ("attempts", "attempt_facts", "settings", "pencil_sets", "decks")
ANSWERS = 48


def rows_of(path: Path, table: str) -> list[tuple[object, ...]]:
    with closing(sqlite3.connect(path)) as db:
        names = {row[0] for row in db.execute("SELECT name FROM sqlite_master")}
        if table not in names:
            return []
        return db.execute(f"SELECT {COLUMNS[table]} FROM {table} ORDER BY 1").fetchall()


@pytest.fixture(params=SCHEMAS, ids=lambda path: path.stem)
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    path = tmp_path / "record.db"
    with closing(sqlite3.connect(path)) as db:
        db.executescript(request.param.read_text(encoding="utf-8"))
    return path


def test_a_record_of_every_schema_is_here() -> None:
    assert [int(re.sub(r"\D", "", path.stem)) for path in SCHEMAS] == list(range(1, LATEST + 1))


def test_nothing_that_was_kept_is_changed(old: Path) -> None:
    before = {table: rows_of(old, table) for table in KEPT}
    assert len(before["attempts"]) == ANSWERS
    Record.open(old).close()
    assert {table: rows_of(old, table) for table in KEPT} == before


def test_it_is_brought_up_to_date_and_sound(old: Path) -> None:
    record = Record.open(old)
    assert record._rows("PRAGMA user_version") == [(LATEST,)]
    names = {row[0] for row in record._rows("SELECT name FROM sqlite_master")}
    assert names >= TABLES
    assert record.check() == ()
    assert record.count() == ANSWERS
    assert record.active_pencils() is not None
    record.close()


def test_memory_stands_as_the_answers_say(old: Path) -> None:
    record = Record.open(old)
    replayed = record.replay()
    kept = record.skills()
    assert kept.keys() == replayed.keys()
    for skill, state in kept.items():
        again = replayed[skill]
        # An older coach kept thresholds as the step; the memory must agree.
        assert replace(state, step=None) == replace(again, step=None)
    assert record.rebuild_skills() == replayed == record.skills()
    record.close()


def test_practice_goes_on(old: Path) -> None:
    record = Record.open(old)
    record.save(answer(500, session="new", kind="hue-and-lean", region="green", days=20))
    assert record.count() == ANSWERS + 1
    record.close()
    assert Record.open(old).check() == ()


def test_its_progress_is_drawn_from_every_answer(old: Path) -> None:
    record = Record.open(old)
    kept = record._rows("SELECT * FROM trials ORDER BY 1, 2, 3")
    [(helped,)] = record._rows("SELECT count(*) FROM attempts WHERE chance >= 1.0")
    assert helped in (0, 2)
    assert len(read_history(record).practice) == ANSWERS - helped
    kinds = {
        row[0]: KindFacts(row[0], 1, row[0], 9.0, "ΔL*", (row[1], row[2]), row[3], True)
        for row in record._rows(
            "SELECT DISTINCT kind, easiest, hardest, chance FROM attempts WHERE chance < 1.0"
        )
    }
    now, offers = START + timedelta(days=13), Offers(kinds, ())
    eye = EyeModel.of(record, offers, now.date().toordinal())
    made = figures(record, now, "all", offers=offers, eye=eye)
    assert made.answers == ANSWERS
    told = eye.figures(now.date().toordinal())
    assert told is not None
    assert told.person.answers == ANSWERS - helped
    with record._write() as db:
        rebuild_trials(db)
    assert record._rows("SELECT * FROM trials ORDER BY 1, 2, 3") == kept
    record.close()
