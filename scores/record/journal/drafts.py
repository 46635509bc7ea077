"""Answers that the record did not take: kept in a file of their own until it does."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import replace
from hashlib import sha256
from pathlib import Path

from drills.basics.drafts import draft_of, fill
from scores.record.attempt import Attempt
from scores.record.journal.lines import answer_body, answer_row, body_of, line_of, what_of
from scores.record.mending.readable_rows import sound_attempt
from scores.record.rows import attempt_row, facts_row

MOST_BYTES = 64 << 20
_UNJUDGED = "held"


def draft_path(record: Path, folder: Path) -> Path:
    """Where a record's drafts lie in a folder: named after the record's own place."""
    place = sha256(str(record.absolute()).encode("utf-8", "surrogateescape")).hexdigest()[:16]
    return folder / f"{record.stem}-unsaved-{place}.journal"


def keep_drafts(record: Path, folders: Iterable[Path], attempts: Sequence[Attempt]) -> Path | None:
    """Write answers in the first folder that takes them, on the disk; the file, None if none did.

    With no answers the drafts are deleted. Nothing is raised: it is tried beside a save
    that has failed, and the answers are still at hand.
    """
    kept: Path | None = None
    for folder in folders:
        path = draft_path(record, folder)
        if not attempts or kept is not None:
            with suppress(OSError):
                path.unlink(missing_ok=True)
            continue
        with suppress(OSError, ValueError):
            _write(path, b"".join(map(_line, attempts)))
            kept = path
    return kept


def drafts(record: Path, folders: Iterable[Path]) -> list[Attempt]:
    """The answers that wait in drafts. Only files of our own user are read."""
    found: dict[str, Attempt] = {}
    for folder in folders:
        with suppress(OSError):
            for line in _read(draft_path(record, folder)).splitlines(keepends=True):
                attempt = _attempt(line)
                if attempt is not None:
                    found.setdefault(attempt.id, attempt)
    return list(found.values())


def _line(attempt: Attempt) -> bytes:
    return line_of(answer_body(attempt_row(attempt), facts_row(attempt)))


def _attempt(line: bytes) -> Attempt | None:
    body = body_of(line)
    entry = what_of(body) if body else None
    if entry is None or entry[0] != "answer":
        return None
    try:
        row, facts = answer_row({**entry[1], "outcome": _UNJUDGED})
    except (KeyError, ValueError, TypeError):
        return None
    attempt = sound_attempt(row, facts)
    return None if attempt is None else replace(attempt, outcome="")


def _write(path: Path, data: bytes) -> None:
    part = draft_of(path)
    part.unlink(missing_ok=True)
    try:
        fill(part, [data])
        os.replace(part, path)
    finally:
        with suppress(OSError):
            part.unlink()


def _read(path: Path) -> bytes:
    flags = os.O_RDONLY | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    file = os.open(path, flags | getattr(os, "O_BINARY", 0))
    try:
        found = os.fstat(file)
        mine = not hasattr(os, "getuid") or found.st_uid == os.getuid()
        if not stat.S_ISREG(found.st_mode) or not mine or found.st_size > MOST_BYTES:
            return b""
        parts = []
        while part := os.read(file, 1 << 20):
            parts.append(part)
        return b"".join(parts)
    finally:
        os.close(file)
