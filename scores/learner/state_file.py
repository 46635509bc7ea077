"""The model's state in a file beside the record, so that a start need not go over the answers.

It holds nothing that the answers don't say: lost, damaged or of another record, it is
made again. ``MAGIC``, the length of the head (4 bytes), the head in JSON (figures and
marks, read by the first screen without numpy), the state (``scores.skill.model.blob``),
and the CRC-32 of all before it (4 bytes).
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple
from zlib import crc32

from drills.basics.drafts import draft_of
from scores.skill.model.figures import LearnerFigures, Pooled, figures_from_json

if TYPE_CHECKING:
    from collections.abc import Mapping


MAGIC = b"EYE1"
SUFFIX = ".learner"


class Mark(NamedTuple):
    """Where the eye stood at the end of a day (an ordinal), for the course over weeks.

    ``person`` is as in ``LearnerFigures``; ``kinds`` are the means of each kind's log10
    thresholds.
    """

    day: int
    person: Pooled
    kinds: Mapping[str, Pooled]


class Kept(NamedTuple):
    """What the file holds. ``first_id`` is the id of the record's first answer."""

    first_id: str
    figures: LearnerFigures
    marks: tuple[Mark, ...]
    state: bytes


def state_path(record: Path) -> Path:
    """Where the state of a record stands."""
    return record.with_suffix(SUFFIX)


def read(record: Path) -> Kept | None:
    """What is kept beside a record; None where there is nothing that can be read."""
    try:
        data = state_path(record).read_bytes()
    except OSError:
        return None
    if data[:4] != MAGIC or crc32(data[:-4]) != int.from_bytes(data[-4:], "little"):
        return None
    size = int.from_bytes(data[4:8], "little")
    try:
        first_id, figures, marks = json.loads(data[8 : 8 + size])
        made = figures_from_json(figures)
        if made is None:
            return None
        return Kept(str(first_id), made, tuple(map(_mark, marks)), data[8 + size : -4])
    except (ValueError, TypeError, IndexError, KeyError, AttributeError):
        return None


def write(record: Path, kept: Kept) -> None:
    """Keep it, in place of what was there. Where it can't be, the next start makes it again."""
    marks = [[mark.day, mark.person, dict(mark.kinds)] for mark in kept.marks]
    head = json.dumps([kept.first_id, kept.figures.as_json(), marks], separators=(",", ":"))
    text = head.encode()
    data = MAGIC + len(text).to_bytes(4, "little") + text + kept.state
    path = state_path(record)
    draft = draft_of(path)
    with suppress(OSError):
        with suppress(FileNotFoundError):
            draft.unlink()
        draft.write_bytes(data + crc32(data).to_bytes(4, "little"))
        draft.replace(path)


def forget(record: Path) -> None:
    """Take the file away."""
    with suppress(OSError):
        state_path(record).unlink()


def _mark(value: Any) -> Mark:
    day, person, kinds = value
    return Mark(int(day), _pooled(person), {str(k): _pooled(p) for k, p in kinds.items()})


def _pooled(value: Sequence[Any]) -> Pooled:
    return Pooled(float(value[0]), float(value[1]), int(value[2]))
