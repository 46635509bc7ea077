"""Setting a record aside that can't be read: renamed, over nothing, with its logs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Literal

from drills.basics.errors import plain
from scores.record.failures import UnreadableRecordError

SIDE_FILES = ("-wal", "-shm", "-journal")


@dataclass(frozen=True)
class Notice:
    """A record was set aside or mended: where the old file lies now, and words for the screen."""

    state: Literal["damaged", "newer", "mended"]
    path: Path | None
    text: str


def notice(error: UnreadableRecordError, aside: Path | None, answers: int) -> Notice:
    """The notice for a record set aside and made again with so many answers."""
    where = "" if aside is None else plain(str(aside), 200)
    made = (
        f"it was made again with {answers:,} answers"
        if answers
        else "nothing in it could be read, so a new one begins"
    )
    why = "" if error.problem == "the record is damaged" else f" ({error.problem})"
    if error.state == "newer":
        text = (
            f"Your record was made by a newer coach; for this one {made}."
            f" The newer file is kept at {where}: update the coach and move it back."
        )
    else:
        text = f"Your record's file was damaged{why}; {made}." + (
            f" The old file is kept at {where}." if where else ""
        )
    return Notice(error.state, aside, text)


def set_aside(path: Path, state: Literal["damaged", "newer"], at: datetime) -> Path:
    """Rename a record and its logs out of the way, over nothing; the new path.

    The logs go first: should this stop half-way, no log lies beside a new record.
    Raises OSError.
    """
    return _rename(path, state, at, (*SIDE_FILES, ""))


def set_aside_replaced(path: Path, at: datetime) -> Path:
    """The same for a record that another is to take the place of. Raises OSError."""
    return _rename(path, "replaced", at, (*SIDE_FILES, ""))


def clear(draft: Path) -> None:
    """Delete a draft and its side files."""
    for end in ("", *SIDE_FILES):
        draft.with_name(draft.name + end).unlink(missing_ok=True)


def set_aside_strays(path: Path) -> None:
    """A log left behind by a record that is gone must not be replayed into a new one.

    Named by the beginning of time: when its record went is not known.
    """
    if any(path.with_name(path.name + end).exists() for end in SIDE_FILES):
        _rename(path, "damaged", datetime.fromtimestamp(0, UTC), SIDE_FILES)


def free_name(path: Path, state: str, at: datetime) -> Path:
    """A name beside ``path`` that says its state and the time, and that no file has."""
    stamp = at.astimezone(UTC).strftime("%Y%m%dT%H%M%SZ")
    for turn in count(1):
        extra = "" if turn == 1 else f"-{turn}"
        aside = path.with_name(f"{path.stem}-{state}-{stamp}{extra}{path.suffix}")
        if not any(aside.with_name(aside.name + end).exists() for end in (*SIDE_FILES, "")):
            break
    return aside


def _rename(path: Path, state: str, at: datetime, ends: tuple[str, ...]) -> Path:
    aside = free_name(path, state, at)
    for end in ends:
        old = path.with_name(path.name + end)
        if old.exists():
            old.rename(aside.with_name(aside.name + end))
    return aside
