"""Words for failures, files set aside and drafts: to the name."""

from __future__ import annotations

import sqlite3
from datetime import UTC, datetime
from pathlib import Path

import pytest

from scores.record.failures import UnreadableRecordError, is_damage, is_readonly, reason
from scores.record.journal.drafts import draft_path, drafts, keep_drafts
from scores.record.journal.lines import (
    line_of,
    setting_body,
)
from scores.record.set_aside import free_name, notice, set_aside, set_aside_strays
from tests.answers import START, answer


def failure(name: str, text: str = "said") -> sqlite3.OperationalError:
    error = sqlite3.OperationalError(text)
    error.sqlite_errorname = name
    return error


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("SQLITE_FULL", "the disk is full"),
        ("SQLITE_READONLY_DBMOVED", "the record or its folder is read-only"),
        ("SQLITE_PERM", "the record's folder may not be written to"),
        ("SQLITE_BUSY_SNAPSHOT", "another program is holding the record"),
        ("SQLITE_CANTOPEN", "the record's file can't be opened or made"),
        ("SQLITE_IOERR_WRITE", "the disk did not take it (full, over quota, or failing)"),
        ("SQLITE_CORRUPT_VTAB", "the record is damaged"),
        ("SQLITE_NOTADB", "the record is damaged"),
        ("SQLITE_ERROR", "the record did not take it (said)"),
        ("", "the record did not take it (said)"),
    ],
)
def test_why_it_failed_in_plain_words(name: str, words: str) -> None:
    error = failure(name)
    assert reason(error) == words
    assert is_damage(error) == (words == "the record is damaged")
    assert is_readonly(error) == name.startswith("SQLITE_READONLY")


def test_text_that_is_none_is_damage_and_the_system_s_own_words_are_kept() -> None:
    assert is_damage(failure("SQLITE_ERROR", "Could not decode to UTF-8"))
    assert is_damage(UnicodeDecodeError("utf-8", b"\xff", 0, 1, "no"))
    assert not is_damage(ValueError("Could not decode"))
    assert reason(OSError(28, "No space left on device")) == "no space left on device"
    assert reason(OSError()) == "the system refused"


def test_a_notice_says_where_the_old_file_lies_and_what_was_made_again(tmp_path: Path) -> None:
    damaged = UnreadableRecordError("damaged", "it says no version")
    plain = UnreadableRecordError("damaged", "the record is damaged")
    newer = UnreadableRecordError("newer", "it was made by a newer coach")
    at = Path("/x/old.db")
    assert notice(damaged, at, 1200).text == (
        "Your record's file was damaged (it says no version); it was made again with 1,200"
        " answers. The old file is kept at /x/old.db."
    )
    assert notice(plain, None, 0).text == (
        "Your record's file was damaged; nothing in it could be read, so a new one begins."
    )
    assert notice(newer, at, 3).text.startswith(
        "Your record was made by a newer coach; for this one it was made again with 3 answers."
        " The newer file is kept at /x/old.db: "
    )


def test_a_file_set_aside_takes_a_name_that_nothing_has(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    stamp = "record-damaged-20260302T090000Z"
    assert free_name(path, "damaged", START).name == f"{stamp}.db"
    (tmp_path / f"{stamp}.db-wal").write_text("")
    (tmp_path / f"{stamp}-2.db").write_text("")
    assert free_name(path, "damaged", START).name == f"{stamp}-3.db"
    path.write_text("record")
    path.with_name("record.db-wal").write_text("log")
    aside = set_aside(path, "damaged", START)
    assert aside.read_text() == "record"
    assert aside.with_name(aside.name + "-wal").read_text() == "log"
    assert not path.exists()
    before = sorted(tmp_path.iterdir())
    set_aside_strays(path)
    assert sorted(tmp_path.iterdir()) == before
    path.with_name("record.db-shm").write_text("stray")
    set_aside_strays(path)
    early = datetime.fromtimestamp(0, UTC).strftime("%Y%m%dT%H%M%SZ")
    assert (tmp_path / f"record-damaged-{early}.db-shm").read_text() == "stray"


# -- drafts -------------------------------------------------------------------------------------


def test_drafts_lie_in_the_first_folder_that_takes_them(tmp_path: Path) -> None:
    record = tmp_path / "record.db"
    first, second, none = tmp_path / "one", tmp_path / "two", tmp_path / "none"
    first.mkdir()
    second.mkdir()
    waits = [answer(1), answer(2)]
    assert keep_drafts(record, [none, first, second], waits) == draft_path(record, first)
    assert not draft_path(record, second).exists()
    assert drafts(record, [none, first, second]) == waits
    # Those in a folder after it are deleted; each answer is read once.
    assert keep_drafts(record, [second], waits[1:]) == draft_path(record, second)
    assert drafts(record, [first, second]) == waits
    assert keep_drafts(record, [first, second], waits) == draft_path(record, first)
    assert not draft_path(record, second).exists()
    assert (draft_path(record, first).stat().st_mode & 0o777) == 0o600
    with draft_path(record, first).open("ab") as file:
        file.write(line_of(setting_body("minutes", 5)) + b"torn")
    assert drafts(record, [first]) == waits
    assert keep_drafts(record, [first, second], []) is None
    assert drafts(record, [first, second]) == []
    assert draft_path(record, first) != draft_path(tmp_path / "other.db", first)
