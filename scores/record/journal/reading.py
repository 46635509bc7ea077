"""Reading a journal's file: its lines, its name, and what stands after a place."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from drills.basics.json_values import names_in
from scores.record.journal.lines import LONGEST_LINE, body_of, what_of


@dataclass(frozen=True, slots=True)
class Place:
    """How far a journal has been taken in: its name, bytes read, and the last line of them.

    ``line`` is that line's checksum as it stands in the file, ``length`` its bytes.
    """

    name: str
    end: int
    length: int
    line: bytes


def regular(file: int) -> os.stat_result:
    """Make sure that an open file is an ordinary one. Raises OSError."""
    found = os.fstat(file)
    if not stat.S_ISREG(found.st_mode):
        raise OSError(0, "the journal is no ordinary file")
    return found


def name_of(line: bytes) -> str:
    """The name that a journal's first line gives it; empty where that can't be read."""
    body = body_of(line)
    entry = what_of(body) if body else None
    name = entry[1].get("id") if entry and entry[0] == "journal" else None
    return name if isinstance(name, str) else ""


def lines_of(path: Path, since: int) -> Iterator[bytes]:
    """The whole lines of a file from a place on; overlong ones are passed over in pieces."""
    try:
        with path.open("rb") as file:
            regular(file.fileno())
            file.seek(since)
            while line := file.readline(LONGEST_LINE):
                if line.endswith(b"\n") or len(line) == LONGEST_LINE:
                    yield line
    except FileNotFoundError:
        return


def lines_from(path: Path, place: Place) -> list[bytes] | None:
    """The whole lines after a place; None where the place is not in the file. Raises OSError."""
    try:
        with path.open("rb") as file:
            regular(file.fileno())
            if not place.name or name_of(file.readline(LONGEST_LINE)) != place.name:
                return None
            file.seek(place.end - place.length)
            last = file.read(place.length)
            if body_of(last) is None or last[:8] != place.line:
                return None
            return [line for line in file if line.endswith(b"\n")]
    except FileNotFoundError:
        return None


def line_before(path: Path, at: int) -> bytes:
    """The last whole line of a file's first ``at`` bytes. Raises OSError."""
    width = 4096
    with path.open("rb") as file:
        while True:
            start = max(0, at - width)
            file.seek(start)
            data = file.read(at - start)
            cut = data.rfind(b"\n", 0, -1)
            if cut >= 0 or start == 0:
                return data[cut + 1 :]
            width *= 8


def names_before(bodies: Sequence[bytes]) -> list[str]:
    """The journals that this one was written in place of."""
    names: list[str] = []
    for body in bodies:
        entry = what_of(body) if is_header(body) else None
        names += names_in(entry[1].get("after") if entry else None)
    return names


def is_header(body: bytes) -> bool:
    """Whether an entry says which journal it is in."""
    return body.startswith(b'{"journal":')
