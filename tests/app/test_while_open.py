"""What becomes of the record's files under an open coach, in a real terminal: no answer is lost."""

from __future__ import annotations

import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from coach.session.today_plan import keep_offers
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from scores.record.mending.compare import look_over
from scores.record.record import Record
from tests.answers import START, answer
from tests.pilots import KINDS, MORNING, ready_once

pytest.importorskip("pty", reason="no pseudo-terminals here")

from tests.pseudo_terminal import COACH, Terminal, surroundings

EARLIER = 40


@pytest.fixture
def home(tmp_path: Path) -> Path:
    """A learner's folder with forty answers, where one quick kind is asked."""
    home = tmp_path / "home"
    pencils = pocket_set()
    record = Record.open(home / "record.db")
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), MORNING)
    # As after an earlier start: working these out takes seconds.
    keep_offers(record, pencils.fingerprint, ready_once(pencils).offers)
    off = [kind for kind in KINDS if kind != "lighter-or-darker"]
    record.set_setting("kinds_off", off)
    for number in range(EARLIER):
        record.save(answer(number, kind="lighter-or-darker", region="red", days=number / 9))
    record.close()
    return home


def opened(home: Path) -> Terminal:
    return Terminal(COACH, surroundings(home, TMPDIR=str(home.parent)), columns=100, rows=30)


def answered(terminal: Terminal, numbers: range) -> None:
    """Answer so many questions; each reveal says that its answer is saved."""
    for number in numbers:
        terminal.press_until("\r", f"· question {number} ")
        terminal.until_text("1–2 choose")
        terminal.press_until("1", "Enter next")


def left(terminal: Terminal) -> None:
    terminal.press("\x1b")
    terminal.until_text("How it went")
    terminal.press("q")
    assert terminal.until_gone() == 0
    assert b"Traceback" not in terminal.output


def answers(home: Path) -> int:
    """How many answers the next start finds, all of them sound."""
    record, _ = Record.open_mended(home / "record.db", START)
    for _ in look_over(record):
        pass
    assert record.check() == ()
    assert record.replay() == record.skills()
    ids = [attempt.id for attempt in record.attempts()]
    record.close()
    assert len(set(ids)) == len(ids)
    return len(ids)


def folder_deleted(home: Path) -> None:
    shutil.rmtree(home)


def replaced(home: Path) -> None:
    """Another machine's record, renamed over it."""
    other = home.parent / "other" / "record.db"
    record = Record.open(other)
    for number in range(5):
        record.save(answer(number, kind="lighter-or-darker", region="red", days=number / 9))
    record.close()
    os.replace(other, home / "record.db")


def scribbled(home: Path) -> None:
    path = home / "record.db"
    rng = random.Random(5)
    data = bytearray(path.read_bytes())
    for _ in range(300):
        data[rng.randrange(len(data))] = rng.randrange(256)
    path.write_bytes(data)


# Deleted or cut alone: ``tests.record.test_journal``.
@pytest.mark.parametrize("spoil", [folder_deleted, replaced, scribbled], ids=lambda s: s.__name__)
def test_answers_before_and_after_are_there_at_the_next_start(
    spoil: Callable[[Path], None], home: Path
) -> None:
    with opened(home) as terminal:
        terminal.until_text("skills met")
        answered(terminal, range(1, 3))
        spoil(home)
        answered(terminal, range(3, 5))
        left(terminal)
    assert answers(home) == EARLIER + 4
    with opened(home) as terminal:
        terminal.until_text("skills met")  # no newcomer's welcome
        terminal.press("q")
        assert terminal.until_gone() == 0


# A full disk: a file may not grow beyond a limit set from outside

resource = pytest.importorskip("resource")
needs_prlimit = pytest.mark.skipif(not hasattr(resource, "prlimit"), reason="Linux only")


def limit(terminal: Terminal, size: int) -> None:
    hard = resource.getrlimit(resource.RLIMIT_FSIZE)[1]
    size = hard if size < 0 else size
    resource.prlimit(terminal.process.pid, resource.RLIMIT_FSIZE, (size, hard))


def refused(terminal: Terminal, number: int) -> None:
    terminal.press_until("\r", f"· question {number} ")
    terminal.until_text("1–2 choose")
    terminal.press_until("1", "r save again")


@needs_prlimit
def test_leaving_with_unsaved_answers_asks_first_and_a_later_try_saves_them(home: Path) -> None:
    with opened(home) as terminal:
        terminal.until_text("skills met")
        answered(terminal, range(1, 2))
        limit(terminal, 1)
        refused(terminal, 2)
        terminal.press("\x1b")
        terminal.until_text("not saved yet")
        terminal.press_until("q", "Not everything is saved")
        terminal.until_text("They could not be kept anywhere")
        limit(terminal, -1)
        terminal.press("r")
        assert terminal.until_gone() == 0
        assert b"Traceback" not in terminal.output
    assert answers(home) == EARLIER + 2


@needs_prlimit
def test_a_new_session_saves_what_the_last_could_not(home: Path) -> None:
    with opened(home) as terminal:
        terminal.until_text("skills met")
        limit(terminal, 1)
        refused(terminal, 1)
        terminal.press("\x1b")
        terminal.until_text("not saved yet")
        limit(terminal, -1)
        terminal.press_until("\r", "skills met")
        answered(terminal, range(1, 2))
        left(terminal)
    assert answers(home) == EARLIER + 2


@needs_prlimit
def test_what_could_not_be_saved_waits_in_a_draft_for_the_next_start(home: Path) -> None:
    with opened(home) as terminal:
        terminal.until_text("skills met")
        # Room for a draft, which is short, and none for the journal, which is long.
        limit(terminal, (home / "record.journal").stat().st_size)
        refused(terminal, 1)
        terminal.press("\x1b")
        terminal.until_text("not saved yet")
        terminal.press_until("q", "Not everything is saved")
        # The path before it may break the line anywhere, between any two words.
        terminal.until_text("start.")
        terminal.press("l")
        assert terminal.until_gone() == 0
    (draft,) = home.glob("record-unsaved-*.journal")
    assert draft.stat().st_mode & 0o777 == 0o600
    with opened(home) as terminal:
        terminal.until_text("Saved now: one answer")
        terminal.press("q")
        assert terminal.until_gone() == 0
    assert not list(home.glob("record-unsaved-*"))
    assert answers(home) == EARLIER + 1
