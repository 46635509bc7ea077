"""Every file the coach makes in its own folder, by name: what is private, what is forgotten."""

from __future__ import annotations

import re
import stat
from datetime import date
from pathlib import Path

from scores.record.set_aside import SIDE_FILES

RECORD = "record.db"
BACKUPS = "backups"
"""The folder of the copies made each day, inside the coach's own."""

_ENDS = f"(?:{'|'.join(SIDE_FILES)})?"
_STAMP = r"-\d{8}T\d{6}Z(?:-\d+)?"
_DRAFT = r"(?:\.(?:new|restored|remade|merging|keep)-\d+)?"
_DAY = re.compile(r"record-(\d{4}-\d\d-\d\d)\.db", re.ASCII)
_RECORD = re.compile(
    # The record, its journal and the learner's model, answers not yet in them, those set
    # aside; each with its drafts and logs.
    rf"record(?:-[a-z]+{_STAMP}|-unsaved-[0-9a-f]+)?\.(?:db|journal|learner)"
    rf"(?:{_ENDS}{_DRAFT}|{_DRAFT}{_ENDS})",
    re.ASCII,
)
_BACKUP = re.compile(rf"{_DAY.pattern}{_DRAFT}{_ENDS}", re.ASCII)
_CLASS = re.compile(rf"class\.db{_DRAFT}{_ENDS}", re.ASCII)
_CRASH = re.compile(r"crash-\d{8}T\d{6}Z?(?:-\d+)?\.txt", re.ASCII)


def record_files(home: Path) -> tuple[Path, ...]:
    """All that the learner's record has in ``home``: journal, copies, set aside, drafts, record.

    The record itself comes last, so that a deletion cut short is seen to be one.
    """
    found = _named(home, _RECORD)
    record = [path for path in found if path.name == RECORD]
    others = [path for path in found if path.name != RECORD]
    return (*others, *backup_files(home), *record)


def backup_files(home: Path) -> tuple[Path, ...]:
    """The daily backups, and drafts of them; none through a link to another folder."""
    folder = home / BACKUPS
    return () if folder.is_symlink() else tuple(_named(folder, _BACKUP))


def crash_files(home: Path) -> tuple[Path, ...]:
    """The details of crashes, which may quote an answer."""
    return tuple(_named(home, _CRASH))


def class_files(home: Path) -> tuple[Path, ...]:
    """A teacher's class."""
    return tuple(_named(home, _CLASS))


def backup_day(name: str) -> date | None:
    """The day in the name of a backup; None where it is not exactly such a name."""
    found = _DAY.fullmatch(name)
    try:
        return None if found is None else date.fromisoformat(found[1])
    except ValueError:
        return None


def is_draft(name: str) -> bool:
    """Whether this is the name of a backup not yet finished, or of its log."""
    return _BACKUP.fullmatch(name) is not None and ".new-" in name


def backup_name(day: date) -> str:
    """The name of the backup of a practice day."""
    return f"record-{day.isoformat()}.db"


def _named(folder: Path, pattern: re.Pattern[str]) -> list[Path]:
    """Ordinary files and links of such a name, sorted; none where the folder can't be read."""
    try:
        return sorted(p for p in folder.iterdir() if pattern.fullmatch(p.name) and _is_file(p))
    except OSError:
        return []


def _is_file(path: Path) -> bool:
    try:
        mode = path.lstat().st_mode
    except OSError:
        return False
    return stat.S_ISREG(mode) or stat.S_ISLNK(mode)
