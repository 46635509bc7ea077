"""The record is its owner's: exported in open forms, copied, put back, forgotten."""

from __future__ import annotations

import csv
import json
import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from drills.basics.errors import InputError
from scores.exchange.xapi import answer_of
from scores.record.forgetting import forget_deck
from scores.record.mending.compare import look_over
from scores.record.migrations import LATEST
from scores.record.record import Record
from scores.record.trials import RETEST
from scores.upkeep.copies import backup, restore
from scores.upkeep.forget import forget_everywhere
from tests.answers import START, answer

LATER = START + timedelta(days=40)
DECK = "d" * 64


@pytest.fixture
def path(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A record with sixty answers, nine of them to a deck, in the learner's own folder."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    path = tmp_path / "home" / "record.db"
    record = Record.open(path)
    for number in range(60):
        deck = DECK if number % 7 == 3 else RETEST if number == 50 else ""
        made = answer(number, region=f"region {number % 5}", days=number / 3, deck=deck)
        record.save(made)
    record.put_pencils("a" * 64, "Tin", "name,hex\r\nRed,#c03030\r\n", START)
    record.set_setting("minutes", 12)
    record.close()
    return path


def run(*words: str, **more: object) -> Result:
    return CliRunner().invoke(cli, words, **more)  # type: ignore[arg-type]


def attempts_of(path: Path) -> list[object]:
    record = Record.open(path, create=False)
    try:
        return [*record.attempts(), *record.skills().values(), record.settings()]
    finally:
        record.close()


# -- export --------------------------------------------------------------------------------


def test_the_csv_holds_every_answer_with_its_details(path: Path, tmp_path: Path) -> None:
    out = tmp_path / "answers.csv"
    assert run("scores", "export", "--csv", str(out)).exit_code == 0
    data = out.read_bytes()
    # RFC 4180: lines end in CRLF, and every row has as many cells as the header.
    assert data.count(b"\r\n") == 61
    rows = list(csv.DictReader(data.decode("utf-8").splitlines()))
    record = Record.open(path)
    for row, attempt in zip(rows, record.attempts(), strict=True):
        assert row["id"] == attempt.id
        assert float(row["step"]) == attempt.step
        assert row["right"] == str(int(attempt.right))
        assert json.loads(row["facts"]) == attempt.facts
        assert json.loads(row["answers"]) == [list(reply) for reply in attempt.answers]
    record.close()


def test_the_json_holds_all_of_the_record(path: Path, tmp_path: Path) -> None:
    out = tmp_path / "record.json"
    assert run("scores", "export", "--json", str(out)).exit_code == 0
    whole = json.loads(out.read_text(encoding="utf-8"))
    assert len(whole["answers"]) == 60
    assert whole["settings"]["minutes"] == 12
    assert whole["pencils"][0]["csv"].startswith("name,hex")
    assert {skill["skill"] for skill in whole["skills"]} == {f"value:region {n}" for n in range(5)}


def test_the_statements_can_be_read_back(path: Path, tmp_path: Path) -> None:
    out = tmp_path / "answers.xapi.json"
    assert run("scores", "export", "--xapi", str(out)).exit_code == 0
    told = [answer_of(said) for said in json.loads(out.read_text(encoding="utf-8"))]
    record = Record.open(path)
    kept = list(record.attempts())
    record.close()
    assert [said.id for said in told] == [attempt.id for attempt in kept]
    assert [said.right for said in told] == [attempt.right for attempt in kept]


def test_an_export_goes_to_standard_output_too(path: Path) -> None:
    result = run("scores", "export", "--csv", "-")
    assert result.exit_code == 0
    assert result.stdout.startswith("id,session,number,kind,")


def test_an_export_overwrites_nothing(path: Path, tmp_path: Path) -> None:
    out = tmp_path / "mine.csv"
    out.write_text("dear", encoding="utf-8")
    result = run("scores", "export", "--csv", str(out))
    assert isinstance(result.exception, InputError)
    assert out.read_text(encoding="utf-8") == "dear"


# -- backup and restore ------------------------------------------------------------------------


def test_a_backup_made_while_the_app_writes_is_whole(path: Path, tmp_path: Path) -> None:
    app, other = Record.open(path), Record.open(path)
    app.save(answer(100, days=30))
    # A transaction half done is not in the copy.
    with app._write() as db:
        db.execute("DELETE FROM settings")
        assert backup(other, tmp_path / "copy.db") == 61
    other.close()
    app.close()
    copy = Record.open(tmp_path / "copy.db")
    assert copy.check() == ()
    assert copy.setting("minutes") == 12
    assert copy.replay() == copy.skills()
    copy.close()
    assert not list(tmp_path.glob("copy.db.new-*"))


def test_a_backup_overwrites_nothing(path: Path, tmp_path: Path) -> None:
    (tmp_path / "copy.db").write_text("dear", encoding="utf-8")
    result = run("scores", "backup", str(tmp_path / "copy.db"))
    assert isinstance(result.exception, InputError)
    assert (tmp_path / "copy.db").read_text(encoding="utf-8") == "dear"


def test_what_was_backed_up_comes_back_and_the_other_is_set_aside(
    path: Path, tmp_path: Path
) -> None:
    before = attempts_of(path)
    assert run("scores", "backup", str(tmp_path / "copy.db")).exit_code == 0
    record = Record.open(path)
    record.save(answer(200, days=35))
    record.close()
    newer = attempts_of(path)

    done = restore(tmp_path / "copy.db", path, LATER, exactly=True)
    assert done.answers == 60
    assert attempts_of(path) == before
    assert done.aside is not None
    assert done.aside.name == f"record-replaced-{LATER:%Y%m%dT%H%M%SZ}.db"
    assert attempts_of(done.aside) == newer
    record = Record.open(path)
    record.save(answer(201, days=36))
    assert record._rows("PRAGMA journal_mode") == [("wal",)]
    assert record.check() == ()
    record.close()


def test_answers_given_since_the_copy_come_back_from_the_journal(
    path: Path, tmp_path: Path
) -> None:
    assert run("scores", "backup", str(tmp_path / "copy.db")).exit_code == 0
    record = Record.open(path)
    record.save(answer(200, days=35))
    record.close()
    newer = attempts_of(path)
    restore(tmp_path / "copy.db", path, LATER)
    assert attempts_of(path) == newer


def test_restoring_waits_until_the_app_is_closed(path: Path, tmp_path: Path) -> None:
    assert run("scores", "backup", str(tmp_path / "copy.db")).exit_code == 0
    app = Record.open(path)
    with pytest.raises(InputError, match="open in another program"):
        restore(tmp_path / "copy.db", path, LATER)
    app.save(answer(300, days=30))
    assert app.count() == 61
    app.close()
    assert not list(path.parent.glob("*replaced*"))
    assert not list(path.parent.glob("*restored*"))


def damaged(copy: Path) -> None:
    data = bytearray(copy.read_bytes())
    data[4096 * 3 : 4096 * 9] = bytes(4096 * 6)
    copy.write_bytes(data)


def newer(copy: Path) -> None:
    with sqlite3.connect(copy) as db:
        db.execute(f"PRAGMA user_version = {LATEST + 1}")
    db.close()


def another_programs(copy: Path) -> None:
    copy.unlink()
    with sqlite3.connect(copy) as db:
        db.execute("CREATE TABLE diary (day TEXT)")
    db.close()


def empty(copy: Path) -> None:
    copy.write_bytes(b"")


def a_text(copy: Path) -> None:
    copy.write_text("Dear diary,\n" * 900, encoding="utf-8")


def gone(copy: Path) -> None:
    copy.unlink()


@pytest.mark.parametrize("spoil", [damaged, newer, another_programs, empty, a_text, gone])
def test_a_copy_that_is_no_good_changes_nothing(spoil, path: Path, tmp_path: Path) -> None:  # type: ignore[no-untyped-def]
    copy = tmp_path / "copy.db"
    assert run("scores", "backup", str(copy)).exit_code == 0
    spoil(copy)
    before = path.read_bytes()
    result = run("scores", "restore", str(copy), "--yes")
    assert isinstance(result.exception, InputError)
    assert "\n" not in str(result.exception)
    assert str(copy) in str(result.exception)
    assert path.read_bytes() == before
    assert sorted(file.name for file in path.parent.iterdir()) == ["record.db", "record.journal"]


def test_the_record_itself_is_no_copy_of_it(path: Path) -> None:
    with pytest.raises(InputError, match="this is the record itself"):
        restore(path, path, LATER)


def test_restoring_asks_first(path: Path, tmp_path: Path) -> None:
    assert run("scores", "backup", str(tmp_path / "copy.db")).exit_code == 0
    assert run("scores", "restore", str(tmp_path / "copy.db"), input="n\n").exit_code != 0
    assert not list(path.parent.glob("*replaced*"))


# -- forget ---------------------------------------------------------------------------------------


def test_forgetting_everything_leaves_nothing(path: Path) -> None:
    (path.parent / "record-damaged-20260101T000000Z.db").write_bytes(b"old")
    (path.parent / "record-damaged-20260101T000000Z.journal").write_bytes(b"old")
    (path.parent / "somebody-elses.db").write_bytes(b"theirs")
    result = run("scores", "forget", "--yes")
    assert result.exit_code == 0
    assert sorted(file.name for file in path.parent.iterdir()) == ["somebody-elses.db"]


def test_forgetting_asks_first(path: Path) -> None:
    assert run("scores", "forget", input="n\n").exit_code != 0
    assert path.exists()


def test_forgetting_waits_until_the_app_is_closed(path: Path) -> None:
    app = Record.open(path)
    with pytest.raises(InputError, match="open in another program"):
        forget_everywhere(path.parent)
    assert app.count() == 60
    app.close()


def test_forgetting_a_deck_forgets_what_followed_from_it_too(path: Path, tmp_path: Path) -> None:
    record = Record.open(path)
    left = [attempt for attempt in record.attempts() if attempt.deck != DECK]
    assert forget_deck(record, DECK) == 60 - len(left)
    assert [attempt.id for attempt in record.attempts()] == [attempt.id for attempt in left]
    record.close()

    fresh = Record.open(tmp_path / "fresh.db")
    for attempt in left:
        fresh.save(attempt)
    again = Record.open(path)
    # Outcomes stand as they were told; all that is counted is as if it never was.
    assert again.days() == fresh.days()
    assert again.kind_times() == fresh.kind_times()
    assert again._rows("SELECT * FROM trials ORDER BY 1, 2") == fresh._rows(
        "SELECT * FROM trials ORDER BY 1, 2"
    )
    assert again.replay() == again.skills()
    assert again.check() == ()
    again.close()
    fresh.close()
    assert DECK.encode() not in path.read_bytes()
    assert DECK.encode() not in path.with_suffix(".journal").read_bytes()
    # Nor does the next start bring any of it back.
    later, notice = Record.open_mended(path, LATER)
    assert notice is None
    assert not any(look_over(later))
    assert later.said() == ""
    assert [attempt.id for attempt in later.attempts()] == [attempt.id for attempt in left]
    later.close()
