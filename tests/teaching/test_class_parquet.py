"""A class's answers as Parquet, read by an engine that has nothing of ours (DuckDB)."""

from __future__ import annotations

import csv
import io
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import duckdb
import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.reports.classes import parquet
from drills.basics.errors import InputError
from tests.classes import STUDENTS, attempts, results_file


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, ["class", *words])


def class_of(home: Path, name: str, students: dict[str, list[Any]]) -> None:
    """A class of its own, exported as NAME.parquet and NAME.csv."""
    import os

    os.environ["COACH_HOME"] = str(home / name)
    for student, tries in students.items():
        (home / f"{student}.json").write_bytes(results_file(student, tries))
        assert run("add", f"{student}.json").exit_code == 0
    for form in ("parquet", "csv"):
        assert run("export", f"--{form}", "-o", f"{name}.{form}").exit_code == 0


def test_several_classes_are_one_query(home: Path):
    class_of(home, "monday", {"Wren": attempts("Wren", range(7))})
    class_of(home, "tuesday", {name: attempts(name, range(5)) for name in ("Rail", "Teal")})
    found = duckdb.sql(
        "SELECT parse_filename(filename, true) AS class, count(*), count(DISTINCT student_id),"
        ' avg(score), sum("right"::int)'
        " FROM read_parquet('*day.parquet', filename = true) GROUP BY ALL ORDER BY class"
    ).fetchall()
    assert [(row[0], row[1], row[2]) for row in found] == [("monday", 7, 1), ("tuesday", 10, 2)]
    for name, _, _, mean, right in found:
        rows = list(csv.DictReader((home / f"{name}.csv").open(encoding="utf-8", newline="")))
        assert mean == pytest.approx(sum(float(row["score"]) for row in rows) / len(rows))
        assert right == sum(int(row["right"]) for row in rows)


def test_columns_have_types_and_hold_what_the_csv_holds(home: Path):
    key = {"key": "red"}
    class_of(home, "one", {"Wren": attempts("Wren", range(3), facts={"named": "=Leaf", **key})})
    table = duckdb.sql("SELECT * FROM 'one.parquet'")
    said = dict(zip(table.columns, map(str, table.types), strict=True))
    assert (said["right"], said["score"], said["at_utc"]) == (
        *("BOOLEAN", "DOUBLE", "TIMESTAMP WITH TIME ZONE"),
    )
    rows = list(csv.DictReader((home / "one.csv").open(encoding="utf-8", newline="")))
    assert list(rows[0]) == list(table.columns)
    found = duckdb.sql(
        "SELECT id, kind, region, deck, target, epoch_ms(at_utc), score, level FROM 'one.parquet'"
    ).fetchall()
    for row, (name, kind, region, deck, target, at, score, level) in zip(rows, found, strict=True):
        assert (row["id"], row["kind"], row["region"], row["deck"]) == (name, kind, region, deck)
        assert target == "=Leaf", "as it was sent"
        assert datetime.fromtimestamp(at / 1000, UTC) == datetime.fromisoformat(row["at_utc"])
        assert float(row["score"]) == score
        assert float(row["level"]) == pytest.approx(level, abs=6e-5)


def test_more_answers_than_one_row_group_all_come_in_order(
    home: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.setattr(parquet, "ROWS", 4)
    class_of(home, "long", {name: attempts(name, range(6)) for name in STUDENTS})
    rows = [row["id"] for row in csv.DictReader(io.StringIO((home / "long.csv").read_text()))]
    assert len(rows) == 6 * len(STUDENTS)
    assert [one for (one,) in duckdb.sql("SELECT id FROM 'long.parquet'").fetchall()] == rows


def test_a_class_of_nobody_is_a_table_of_no_rows(home: Path):
    class_of(home, "none", {})
    assert duckdb.sql("SELECT count(*) FROM 'none.parquet'").fetchall() == [(0,)]


def test_without_the_extra_one_line_says_how_to_get_it(home: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(parquet, "find_spec", lambda name: None)
    done = run("export", "--parquet", "-o", "all.parquet")
    assert isinstance(done.exception, InputError)
    words = str(done.exception)
    assert 'pip install "coloured-pencil-coach[parquet]"' in words
    assert "\n" not in words
    assert not (home / "all.parquet").exists()


def test_a_parquet_file_is_named_and_nothing_is_written_over(home: Path):
    assert "name it with -o FILE" in run("export", "--parquet").output
    (home / "mine.parquet").write_text("mine")
    done = run("export", "--parquet", "-o", "mine.parquet")
    assert "there is a file of this name" in str(done.exception)
    assert (home / "mine.parquet").read_text() == "mine"
