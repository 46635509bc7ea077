"""The journal beside the record: whatever becomes of either file, no answer is lost."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from coach.cli import cli
from drills.basics.errors import InputError
from scores.record.attempt import Attempt
from scores.record.decks_added import decks_kept, drop_deck, put_deck
from scores.record.journal.file import Journal
from scores.record.journal.lines import body_of, line_of
from scores.record.mending.compare import look_over
from scores.record.record import NotSavedError, Record
from scores.upkeep.merge import merge
from tests.answers import START, answer

FINGERPRINT = "a" * 64
DECK = "d" * 64


def made(path: Path, numbers: range, session: str = "s") -> None:
    record = Record.open(path)
    for number in numbers:
        record.save(answer(number, session, region=f"region {number % 4}", days=number / 5))
    record.close()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A closed record with thirty answers, a setting, a set of pencils and a deck."""
    path = tmp_path / "home" / "record.db"
    made(path, range(30))
    record = Record.open(path)
    record.set_setting("minutes", 12)
    record.put_pencils(FINGERPRINT, "Tin", "name,hex\r\nRed,#c03030\r\n", START)
    put_deck(record, DECK, "Reds", "{}", START)
    record.close()
    return path


def journal_of(path: Path) -> Path:
    return path.with_suffix(".journal")


def whole(path: Path) -> tuple[object, ...]:
    """All that is a person's own in a record, as the next start finds it."""
    record, _ = Record.open_mended(path, START)
    for _ in look_over(record):
        pass
    found = (
        list(record.attempts()),
        record.skills(),
        record.days(),
        record.settings(),
        record.active_pencils(),
        decks_kept(record),
    )
    assert record.check() == ()
    assert record.replay() == record.skills()
    record.close()
    return found


# -- the database is lost ----------------------------------------------------------------


def deleted(path: Path) -> None:
    path.unlink()


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 3])


def emptied(path: Path) -> None:
    path.write_bytes(b"")


def an_older_copy(path: Path) -> None:
    """Another valid record with a part of the answers renamed over it, as a sync client does."""
    other = path.with_name("other.db")
    made(other, range(12))
    os.replace(other, path)
    journal_of(other).unlink()


SPOILS = [deleted, cut, emptied, an_older_copy]


@pytest.mark.parametrize("spoil", SPOILS, ids=lambda s: s.__name__)
def test_everything_comes_back_from_the_journal(spoil: Callable[[Path], None], path: Path) -> None:
    before = whole(path)
    spoil(path)
    record, notice = Record.open_mended(path, START)
    assert notice is not None
    assert notice.text.endswith(".")
    assert record.active_pencils() is not None
    record.close()
    assert whole(path) == before


@pytest.mark.parametrize("spoil", SPOILS, ids=lambda s: s.__name__)
def test_answers_given_after_it_was_spoilt_under_an_open_coach_are_kept(
    spoil: Callable[[Path], None], path: Path
) -> None:
    record = Record.open(path)
    record.save(answer(100, days=20))
    spoil(path)
    for number in range(101, 104):
        record.save(answer(number, days=21))
    assert {attempt.number for attempt in record.attempts()} >= {100, 101, 102, 103}
    record.close()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert sorted(attempt.number for attempt in attempts) == [*range(30), 100, 101, 102, 103]


def test_the_folder_deleted_under_an_open_coach_is_made_again(path: Path) -> None:
    record = Record.open(path)
    record.save(answer(100, days=20))
    shutil.rmtree(path.parent)
    for number in range(101, 105):
        record.save(answer(number, days=21))
    assert record.count() == 35
    record.close()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 35


def test_a_first_days_record_is_mended_when_it_is_read_too(tmp_path: Path) -> None:
    """It was begun by this coach, and no door was passed on the way in."""
    path = tmp_path / "record.db"
    record = Record.open(path)
    for number in range(30):
        record.save(answer(number, days=number / 5))
    record._rows("PRAGMA wal_checkpoint(TRUNCATE)")
    cut(path)
    # A read that finds nothing of it in SQLite's own memory.
    record._rows("PRAGMA shrink_memory")
    assert [attempt.number for attempt in record.attempts()] == list(range(30))
    assert "made again with 30 answers" in record.said()
    record.close()


def test_a_log_of_the_old_file_is_not_read_into_the_new_one(path: Path) -> None:
    record = Record.open(path)
    record.save(answer(100, days=20))
    an_older_copy(path)
    record.close()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 31


def test_a_second_coach_that_sets_the_record_aside_takes_nothing_from_the_first(path: Path) -> None:
    first = Record.open(path)
    first.save(answer(100, days=20))
    emptied(path)
    second, notice = Record.open_mended(path, START)
    assert notice is not None
    first.save(answer(101, days=20))
    second.save(answer(1, "t", days=20))
    first.save(answer(102, days=20))
    first.close()
    second.close()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 34


# -- the journal is lost -----------------------------------------------------------------


def test_a_journal_that_is_gone_is_written_again(path: Path) -> None:
    before = whole(path)
    journal_of(path).unlink()
    assert whole(path) == before
    path.unlink()
    assert whole(path) == before


def test_a_journal_deleted_under_an_open_coach_is_written_again_at_once(path: Path) -> None:
    record = Record.open(path)
    record.save(answer(100, days=20))
    journal_of(path).unlink()
    record.save(answer(101, days=20))
    assert "journal had been deleted" in record.said()
    record.close()
    path.unlink()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 32


def test_a_journal_replaced_under_an_open_coach_gets_what_it_lacks(path: Path) -> None:
    older = journal_of(path).read_bytes()
    record = Record.open(path)
    record.save(answer(100, days=20))
    journal_of(path).with_suffix(".old").write_bytes(older)
    os.replace(journal_of(path).with_suffix(".old"), journal_of(path))
    record.save(answer(101, days=20))
    record.close()
    path.unlink()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 32


@pytest.mark.parametrize("place", [0.0, 0.3, 0.6, 0.99])
def test_a_damaged_line_costs_nothing_that_the_database_has(place: float, path: Path) -> None:
    before = whole(path)
    data = bytearray(journal_of(path).read_bytes())
    data[int(place * len(data)) + 3] ^= 0x55
    journal_of(path).write_bytes(data)
    assert whole(path) == before
    path.unlink()
    assert whole(path) == before
    kept = list(path.parent.glob("record-damaged-*.journal"))
    if place:  # Of a first line damaged nothing is lost but the journal's name.
        assert [file.read_bytes().startswith(bytes(data)) for file in kept] == [True]


def test_a_torn_last_line_is_passed_over_and_ended(path: Path) -> None:
    with journal_of(path).open("ab") as file:
        file.write(b'0badc0de {"answer":{"id":"half')
    record, _ = Record.open_mended(path, START)
    record.save(answer(100, days=20))
    record.close()
    path.unlink()
    attempts = whole(path)[0]
    assert isinstance(attempts, list)
    assert len(attempts) == 31


def test_an_answer_in_the_journal_that_the_database_never_got_is_taken_in(path: Path) -> None:
    """As after a crash between the two writes."""
    copy = path.with_name("copy.db")
    shutil.copy(path, copy)
    made(path, range(100, 101))
    os.replace(copy, path)
    record, notice = Record.open_mended(path, START)
    assert notice is None
    assert record.count() == 31
    record.close()


def test_an_answer_is_in_the_journal_before_it_is_saved(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A journal that does not take it leaves nothing in the database."""
    record = Record.open(path)

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(NotSavedError, match="no space left"):
        record.save(answer(100, days=20))
    monkeypatch.undo()
    assert record.count() == 30
    assert answer(100).id.encode() not in journal_of(path).read_bytes()
    record.save(answer(100, days=20))
    assert record.count() == 31
    record.close()


def test_settings_pencils_and_decks_are_in_the_journal_too(path: Path) -> None:
    record = Record.open(path)
    drop_deck(record, DECK)
    record.set_setting("minutes", 25)
    record.set_setting("offers", {"big": "and worked out again"})
    record.close()
    path.unlink()
    record = Record.open(path)
    assert decks_kept(record) == ()
    assert record.setting("minutes") == 25
    assert record.setting("offers") is None
    assert record.active_pencils() is not None
    record.close()


def test_a_line_is_known_to_be_whole_by_its_checksum() -> None:
    line = line_of('{"setting":{"key":"minutes","value":12}}')
    assert body_of(line) == b'{"setting":{"key":"minutes","value":12}}'
    for at in range(len(line)):
        spoilt = line[:at] + bytes([line[at] ^ 1]) + line[at + 1 :]
        assert body_of(spoilt) is None


def test_the_journal_is_its_owners_alone(path: Path) -> None:
    assert journal_of(path).stat().st_mode & 0o777 == 0o600


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="POSIX")
def test_a_pipe_in_its_place_is_said_and_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "record.db"
    os.mkfifo(journal_of(path))
    with pytest.raises(InputError, match="no ordinary file"):
        Record.open(path)


def test_another_that_holds_the_journal_is_waited_for_then_said(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("scores.record.journal.lock._TRIES", 3)
    other = Journal(journal_of(path))
    record = Record.open(path)
    with other.held(), pytest.raises(NotSavedError, match="another program is holding"):
        record.save(answer(100, days=20))
    record.save(answer(100, days=20))
    assert record.count() == 31
    record.close()
    other.close()


# -- two records made one ------------------------------------------------------------------


def ids(path: Path) -> list[str]:
    record = Record.open(path)
    found = [attempt.id for attempt in record.attempts()]
    assert record.replay() == record.skills()
    record.close()
    return found


def merged(path: Path, source: Path) -> tuple[int, int]:
    record = Record.open(path)
    made = merge(record, source)
    record.close()
    return made.added, made.here


@pytest.mark.parametrize("suffix", [".db", ".journal"])
@pytest.mark.parametrize("common", [0, 20])
def test_records_of_two_machines_become_one_without_loss_or_doubling(
    common: int, suffix: str, tmp_path: Path
) -> None:
    one, two = tmp_path / "one" / "record.db", tmp_path / "two" / "record.db"
    made(one, range(common))
    if common:
        shutil.copytree(one.parent, two.parent)
    made(one, range(100, 110), "one")
    made(two, range(104, 125), "two")
    assert merged(one, two.with_suffix(suffix)) == (21, common)
    assert merged(one, two.with_suffix(suffix)) == (0, common + 21)
    assert merged(two, one.with_suffix(suffix)) == (10, common + 21)
    assert ids(one) == ids(two)
    assert len(set(ids(one))) == common + 31

    def order(attempt: Attempt) -> object:
        return attempt.at_utc

    record = Record.open(one)
    attempts = list(record.attempts())
    assert attempts == sorted(attempts, key=order)
    skills = record.skills()
    record.close()
    # All of it is in the journal as well.
    one.unlink()
    assert whole(one)[1] == skills


def test_what_is_merged_in_goes_over_nothing_of_ones_own(path: Path, tmp_path: Path) -> None:
    other = tmp_path / "other" / "record.db"
    made(other, range(200, 203), "t")
    record = Record.open(other)
    record.set_setting("minutes", 55)
    record.set_setting("vision", "deutan")
    record.set_setting("student", "theirs")
    record.close()
    record = Record.open(path)
    assert merge(record, other).others == 1
    assert record.setting("minutes") == 12
    assert record.setting("vision") == "deutan"
    assert record.setting("student") is None
    record.close()


def test_the_command_says_what_was_added(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(path.parent))
    other = tmp_path / "other.db"
    made(other, range(200, 203), "t")
    result = CliRunner().invoke(cli, ["scores", "merge", str(other)])
    assert result.exit_code == 0
    assert "3 answers added" in result.output
    assert "0 were here already" in result.output


@pytest.mark.parametrize("content", [b"", b"Dear diary", b"SQLite format 3\0", b"x" * 5_000_000])
def test_a_file_that_is_neither_is_one_line_and_changes_nothing(
    content: bytes, path: Path, tmp_path: Path
) -> None:
    other = tmp_path / "other"
    other.write_bytes(content)
    record = Record.open(path)
    with pytest.raises(InputError) as refusal:
        merge(record, other)
    assert "\n" not in str(refusal.value)
    assert record.count() == 30
    record.close()


def test_hostile_lines_are_left_out(path: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.db"
    made(other, range(200, 203), "t")
    with journal_of(other).open("ab") as file:
        for text in (
            '{"answer":{"id":"x"}}',
            '{"answer":[]}',
            '{"answer":{"id":"y","score":"<b>"}}',
            '{"unknown":{}}',
            "[" * 10_000,
        ):
            file.write(line_of(text))
    record = Record.open(path)
    assert merge(record, journal_of(other)).added == 3
    assert record.check() == ()
    record.close()
    with sqlite3.connect(path) as db:
        assert db.execute("SELECT count(*) FROM attempts WHERE id IN ('x', 'y')").fetchone() == (0,)
    db.close()
