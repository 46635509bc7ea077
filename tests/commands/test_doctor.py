"""coach doctor: what a bug report needs, on any record and terminal, and nothing private."""

from __future__ import annotations

import getpass
import json
import os
import platform
import random
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.reports.checkup import BLOCKS, SIGNS, check_up
from scores.record.migrations import LATEST
from scores.record.record import Record
from scores.upkeep.health import health
from tests.answers import START, answer

TRUE_COLOUR = {"TERM": "xterm-256color", "COLORTERM": "truecolor"}


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("made") / "record.db"
    record = Record.open(path)
    for number in range(120):
        record.save(
            answer(
                number,
                region=f"region {number % 9}",
                days=number / 7,
                verdict="A secret verdict.",
                facts={"named": "Aunt Ada’s scarf", "long": "x" * 900},
            )
        )
    record.put_pencils("a" * 64, "Ada's own tin", "name,hex\r\n", START)
    record.set_setting("pseudonym", "Ada L.")
    record.close()
    return path


@pytest.fixture
def path(made: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    home = tmp_path / "home-of-ada"
    home.mkdir()
    monkeypatch.setenv("COACH_HOME", str(home))
    return Path(shutil.copy(made, home / "record.db"))


def doctor(*words: str) -> Result:
    return CliRunner().invoke(cli, ["doctor", *words])


def told(report: Result) -> dict[str, list[dict[str, object]]]:
    made: dict[str, list[dict[str, object]]] = json.loads(report.stdout)
    return made


def test_a_sound_record_is_said_to_be_sound(path: Path) -> None:
    found = health(path)
    assert (found.state, found.found) == ("sound", ())
    assert (found.answers, found.skills, found.days, found.schema) == (120, 9, 18, LATEST)


def test_no_record_yet_is_no_trouble(path: Path) -> None:
    path.unlink()
    assert health(path).state == "none yet"
    report = told(doctor("--json"))
    assert not any(finding["trouble"] for finding in report["record"])
    assert not path.exists()


def cut_short(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-20_000])


def scribbled(path: Path) -> None:
    data = bytearray(path.read_bytes())
    for page in (5, 9, 12, 30):
        data[page * 4096 : page * 4096 + 4096] = random.Random(page).randbytes(4096)
    path.write_bytes(data)


def schema_gone(path: Path) -> None:
    data = bytearray(path.read_bytes())
    data[100:4096] = random.Random(1).randbytes(3996)
    path.write_bytes(data)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def a_text(path: Path) -> None:
    path.write_text("Dear diary,\n" * 999, encoding="utf-8")


def a_table_missing(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute("DROP TABLE trials")
    db.close()


def answers_uncounted(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute("DELETE FROM days WHERE day < '2026-03-09'")
    db.close()


def details_lost(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute("DELETE FROM attempt_facts WHERE seq = 7")
    db.close()


DAMAGES = (
    *(cut_short, scribbled, schema_gone, empty, a_text),
    *(a_table_missing, answers_uncounted, details_lost),
)


@pytest.mark.parametrize("damage", DAMAGES, ids=lambda d: d.__name__)
def test_a_damaged_record_is_reported_and_left_as_it_is(
    damage: Callable[[Path], None], path: Path
) -> None:
    damage(path)
    before = path.read_bytes()
    found = health(path)
    assert found.state == "damaged"
    assert found.found
    result = doctor("--json")
    assert result.exit_code == 1
    record = told(result)["record"]
    assert any(finding["trouble"] and finding["remedy"] for finding in record)
    assert path.read_bytes() == before


def test_a_newer_record_is_reported(path: Path) -> None:
    with sqlite3.connect(path) as db:
        db.execute(f"PRAGMA user_version = {LATEST + 3}")
    db.close()
    assert health(path).state == "newer"


def test_an_older_record_is_looked_at_without_being_changed(path: Path) -> None:
    """Bringing it up to date is the app's business."""
    with sqlite3.connect(path) as db:
        db.execute("DROP TABLE trials")
        db.execute(f"PRAGMA user_version = {LATEST - 1}")
    db.close()
    assert health(path).state == "sound"
    assert health(path).schema == LATEST - 1


@pytest.mark.parametrize("seed", range(8))
def test_bytes_changed_anywhere_never_crash_the_doctor(seed: int, path: Path) -> None:
    rng = random.Random(seed)
    data = bytearray(path.read_bytes())
    for _ in range(rng.randrange(1, 300)):
        data[rng.randrange(len(data))] = rng.randrange(256)
    path.write_bytes(data)
    result = doctor()
    assert result.exit_code in (0, 1)
    assert result.exception is None or isinstance(result.exception, SystemExit)


@pytest.mark.parametrize("spoil", [lambda path: None, scribbled, schema_gone])
def test_nothing_private_is_told(spoil: Callable[[Path], None], path: Path) -> None:
    spoil(path)
    aside = path.parent / "record-damaged-20260101T000000Z.db"
    aside.write_bytes(b"old")
    for result in (doctor(), doctor("--json")):
        text = result.output
        for private in (
            *("Ada", "scarf", "secret", "tin", "home-of", "region", "violet", "2026-03"),
            str(Path.home()),
            platform.node(),
            str(path.parent.parent),
        ):
            assert private.lower() not in text.lower() or not private, private
        user = getpass.getuser()
        # A name such as "root" may be part of a word of SQLite's own.
        assert f"/{user}" not in text


def test_the_versions_at_work_are_told(path: Path) -> None:
    names = {finding["name"]: finding["found"] for finding in told(doctor("--json"))["versions"]}
    assert names["python"].endswith(platform.python_version())  # type: ignore[attr-defined]
    assert names["sqlite"] == sqlite3.sqlite_version
    assert {"textual", "numpy", "fsrs", "click", "sqlite-utils"} <= names.keys()


def test_a_good_terminal_is_no_trouble(tmp_path: Path) -> None:
    widths = dict.fromkeys(BLOCKS + SIGNS, 1)
    report = check_up(tmp_path / "record.db", TRUE_COLOUR, widths)
    trouble = {finding.name for finding in report.troubles}
    assert "colour" not in trouble
    assert "characters" not in trouble


def test_few_colours_are_a_trouble_with_a_remedy(tmp_path: Path) -> None:
    report = check_up(tmp_path / "record.db", {"TERM": "xterm-256color"})
    (colour,) = [f for f in report.parts["Terminal"] if f.name == "colour"]
    assert colour.trouble
    assert colour.remedy


def test_characters_drawn_wide_are_named(tmp_path: Path) -> None:
    widths = {**dict.fromkeys(BLOCKS + SIGNS, 1), "Δ": 2}
    report = check_up(tmp_path / "record.db", TRUE_COLOUR, widths)
    (found,) = [f for f in report.parts["Terminal"] if f.name == "characters"]
    assert found.trouble
    assert "Δ" in found.found


def test_what_the_environment_says_is_made_plain(tmp_path: Path) -> None:
    report = check_up(tmp_path / "record.db", {**TRUE_COLOUR, "TERM_PROGRAM": "x\x1b[31m[red]"})
    text = "".join(finding.found for part in report.parts.values() for finding in part)
    assert "\x1b" not in text


@pytest.mark.skipif(os.name != "posix", reason="pseudo-terminals are POSIX's")
@pytest.mark.parametrize(("wide", "answering"), [("", True), ("Δ", True), ("", False)])
def test_widths_are_asked_of_the_terminal(wide: str, answering: bool) -> None:
    """A terminal of ours, which draws some characters two columns wide, or never answers."""
    import pty

    ours, theirs = pty.openpty()
    script = (
        "import json, os; from coach.reports.character_widths import measured_widths\n"
        "found = measured_widths('█Δ')\n"
        "os.write(2, json.dumps(found).encode())"
    )
    child = subprocess.Popen(
        [sys.executable, "-c", script],
        stdin=theirs,
        stdout=theirs,
        stderr=subprocess.PIPE,
        cwd=Path(__file__).parent.parent.parent,
    )
    os.close(theirs)
    heard = ""
    for char in "█Δ":
        while answering and f"{char}\x1b[6n" not in heard:
            heard += os.read(ours, 4096).decode()
        if answering:
            os.write(ours, f"\x1b[1;{3 if char == wide else 2}R".encode())
    assert child.stderr is not None
    found = json.loads(child.stderr.read())
    child.wait()
    os.close(ours)
    assert found == ({"█": 1, "Δ": 2 if wide else 1} if answering else {})
