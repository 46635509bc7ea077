"""``coach class``: add, show, expect, drop, report and export from the command line."""

from __future__ import annotations

import csv
import io
import json
import stat
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from decks.starters import starter
from drills.basics.errors import InputError
from scores.classes.person import id_words
from scores.exchange.xapi import answer_of
from tests.classes import DECK, STUDENTS, attempts, results_file


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    for student in STUDENTS:
        data = results_file(student, attempts(student, range(6)))
        (tmp_path / f"{student}.json").write_bytes(data)
    return tmp_path


def run(*words: str, keys: str = "") -> Result:
    return CliRunner().invoke(cli, ["class", *words], input=keys)


def told(result: Result) -> str:
    """The one line a command ends with when what it was given won't do."""
    assert isinstance(result.exception, InputError)
    return str(result.exception)


def test_add_says_what_each_file_brought(home: Path):
    done = run("add", "Wren.json", "Rail.json")
    assert done.exit_code == 0
    assert "Wren.json: Wren, Greens: 6 new of 6 answers" in done.output
    assert "12 answers added from 2 of 2 files." in done.output
    again = run("add", "Rail.json", "Teal.json", "Wren.json")
    assert "6 answers added from 3 of 3 files." in again.output


def test_answers_dated_ahead_are_told(home: Path):
    mine = attempts("Wren", range(3))
    mine[2] = replace(mine[2], at_utc=mine[2].at_utc.replace(year=2190))
    (home / "ahead.json").write_bytes(results_file("Wren", mine))
    assert "1 not counted, dated in the future" in run("add", "ahead.json").output


def test_a_deck_given_is_the_only_one_taken(home: Path):
    from decks.pack import pack

    (home / "values.deck.toml").write_text(pack(starter("values")), encoding="utf-8")
    done = run("add", "--deck", "values.deck.toml", "Wren.json")
    assert done.exit_code == 2
    assert "The class takes results of “Values before colours”" in done.output
    assert "a deck that this class was not given" in done.output


def test_show_and_expect(home: Path):
    run("add", "Wren.json", "Rail.json")
    (home / "names.txt").write_text("Wren\nTeal\n\nDipper\n", encoding="utf-8")
    assert "3 names are expected" in run("expect", "names.txt").output
    shown = run("show").output
    assert "2 students, 12 answers" in shown
    assert "Not begun: Dipper, Teal" in shown
    (home / "names.txt").write_text("Wren\n\x1b[31mred\n", encoding="utf-8")
    assert "names.txt, line 2" in told(run("expect", "names.txt"))


def test_drop_asks_and_forgets(home: Path):
    run("add", "Wren.json", "Rail.json")
    assert run("drop", "wren", keys="n\n").exit_code != 0
    assert "2 students" in run("show").output
    assert "Wren is forgotten" in run("drop", "wren", keys="y\n").output
    assert "1 student, 6 answers" in run("show").output
    assert "there is no such student" in told(run("drop", "wren", "--yes"))


def test_drop_of_a_name_that_two_have_asks_which(home: Path):
    for student in ("Wren", "Rail"):
        data = results_file(student, attempts(student, range(3)), name="Sam")
        (home / f"{student}.json").write_bytes(data)
    run("add", "Wren.json", "Rail.json")
    one, two = (f"Sam ({id_words(STUDENTS[student])})" for student in ("Wren", "Rail"))
    assert f"Say which: {one}; {two}." in told(run("drop", "Sam", "--yes"))
    assert "Sam is forgotten" in run("drop", two, "--yes").output
    assert "there is no such student" not in run("drop", "1111", "--yes").output


def test_a_folder_s_files_are_all_added(home: Path):
    (home / "sent").mkdir()
    for student in STUDENTS:
        (home / f"{student}.json").rename(home / "sent" / f"{student}.json")
    (home / "sent" / "notes.txt").write_text("not one of them")
    assert "18 answers added from 3 of 3 files" in run("add", "sent").output
    (home / "empty").mkdir()
    assert "holds no results files" in told(run("add", "empty"))


def test_the_brief_is_one_page_and_prints_on_a4_or_letter(home: Path):
    run("add", "Wren.json", "Rail.json", "Teal.json")
    shown = run("brief").output
    assert shown.startswith("Before class: all decks.")
    assert "Whom to ask, and what" in shown
    assert "model's word" in shown
    assert len(shown.splitlines()) <= 60
    assert run("brief", "--html", "brief.html", "--size", "letter").exit_code == 0
    page = (home / "brief.html").read_text(encoding="utf-8")
    assert "@page { size: Letter" in page
    assert page.count("<section>") == 1
    assert run("brief", "--html", "brief.html", "--size", "a4").exit_code == 0, "its own page"
    (home / "mine.html").write_text("mine")
    assert "there is a file of this name" in told(run("brief", "--html", "mine.html"))


def test_standings_are_exported_by_student_and_as_json_alike(home: Path):
    run("add", "Wren.json", "Rail.json", "Teal.json")
    rows = list(csv.DictReader(io.StringIO(run("export", "--students").output)))
    said = json.loads(run("export", "--json").output)
    shown = run("show").output
    assert {row["student"] for row in rows} == set(STUDENTS)
    for row, one in zip(rows, said["students"], strict=True):
        assert (row["student"], row["place"], row["words"]) == (
            *(one["student"], one["place"], one["words"]),
        )
        assert row["student"] in shown
    assert "model's word" in said["how_sure"]
    assert "model's word" in shown


def test_the_report_is_written_whole_and_for_its_owner_alone(home: Path):
    run("add", "Wren.json")
    assert "report.html is written" in run("report", "report.html", "--deck", "greens").output
    path = home / "report.html"
    assert path.read_text(encoding="utf-8").endswith("</html>\n")
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
    assert {one.name for one in home.iterdir() if one.name.startswith(".")} == set()
    assert "There are: Greens." in told(run("report", "report.html", "--deck", "reds"))
    assert "there is no such folder" in told(run("report", "no/such/folder.html"))


def test_csv_holds_every_answer_and_no_formula(home: Path):
    mine = attempts("Wren", range(3), facts={"named": "@SUM(A1)"})
    (home / "Wren.json").write_bytes(results_file("Wren", mine, name="=cmd|x!A1"))
    run("add", "Wren.json", "Rail.json")
    rows = list(csv.DictReader(io.StringIO(run("export", "--csv").output, newline="")))
    assert len(rows) == 9
    ours = [row for row in rows if row["student_id"] == STUDENTS["Wren"]]
    assert {row["student"] for row in ours} == {"'=cmd|x!A1"}
    assert {row["target"] for row in ours} == {"'@SUM(A1)"}
    assert ours[0]["at_utc"] == "2026-03-02T09:00:00.000+00:00"
    assert {row["deck"] for row in rows} == {DECK.fingerprint}


def test_xapi_holds_every_answer_as_a_statement(home: Path):
    run("add", "Wren.json", "Rail.json")
    assert run("export", "--xapi", "-o", "all.json").exit_code == 0
    said: list[Any] = json.loads((home / "all.json").read_text(encoding="utf-8"))
    assert len(said) == 12
    assert {answer_of(one).student for one in said} == {STUDENTS["Wren"], STUDENTS["Rail"]}
    assert "say --csv, --xapi, --parquet, --students or --json" in str(run("export").output)


def test_looking_before_anything_was_added_makes_no_file(home: Path):
    assert "0 students" in run("show").output
    assert not (home / "home").exists()
