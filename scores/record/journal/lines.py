"""What stands in a journal: one line an entry, each with a checksum of its own.

A line is eight hexadecimal figures (CRC-32, ISO/IEC 3309, of what follows the blank), a
blank, and an entry as JSON (RFC 8259) in UTF-8. The first line says which journal it
is; every other holds an answer, a setting, a pencil set, or a deck kept or dropped. An
answer always makes the same line, so that two lines tell whether two answers are one.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal
from zlib import crc32

from drills.basics.json_values import JSON, json_text
from scores.record.rows import ATTEMPT_COLUMNS

FORMAT = 1
LONGEST_LINE = 4_000_000
"""Bytes; no entry of ours is so long."""
NOT_KEPT = frozenset({"offers"})
"""Settings that are worked out from others, and stand in no journal."""
_NAMES = tuple(name.strip() for name in ATTEMPT_COLUMNS.split(","))
_REALS = frozenset({"step", "easiest", "hardest", "chance", "score", "error", "response_s"})
_ANSWER = b'{"answer":{"id":"'
_PENCILS = ("fingerprint", "name", "csv", "added_utc")
_DECK = ("fingerprint", "title", "content", "added_utc")

What = Literal["answer", "setting", "pencils", "deck", "deck_dropped", "journal"]


def line_of(body: str) -> bytes:
    """An entry's line. Raises ValueError for text that UTF-8 can't hold."""
    data = body.encode("utf-8")
    return b"%08x %b\n" % (crc32(data), data)


def body_of(line: bytes) -> bytes | None:
    """The entry of a line; None where the line is not as it was written."""
    body = line[9:-1]
    if len(line) < 11 or line[8:9] != b" " or line[-1:] != b"\n":
        return None
    return body if b"%08x" % crc32(body) == line[:8] else None


def header(name: str, after: Sequence[str] = ()) -> str:
    """The first entry: the journal's name, and those of journals it stands in place of."""
    return json_text({"journal": {"format": FORMAT, "id": name, "after": list(after)}})


def answer_body(row: Sequence[Any], facts: Sequence[str]) -> str:
    """The entry of an answer: a row of ATTEMPT_COLUMNS, and one of FACT_COLUMNS.

    Raises ValueError or TypeError where a number is none.
    """
    values = {
        name: float(value) if name in _REALS else value
        for name, value in zip(_NAMES, row, strict=True)
    }
    target, chosen, answers, verdict = facts
    return (
        f'{{"answer":{json_text(values)[:-1]},"target":{target},"facts":{chosen},'
        f'"answers":{answers},"verdict":{json_text(verdict)}}}}}'
    )


def setting_body(key: str, value: JSON) -> str:
    """The entry of a setting."""
    return json_text({"setting": {"key": key, "value": value}})


def pencils_body(row: Sequence[str]) -> str:
    """The entry of a pencil set: fingerprint, name, CSV and when it was added."""
    return json_text({"pencils": dict(zip(_PENCILS, row, strict=True))})


def deck_body(row: Sequence[str]) -> str:
    """The entry of a deck: fingerprint, title, content and when it was added."""
    return json_text({"deck": dict(zip(_DECK, row, strict=True))})


def dropped_body(fingerprint: str) -> str:
    """The entry of a deck no longer kept."""
    return json_text({"deck_dropped": {"fingerprint": fingerprint}})


def answer_id(body: bytes) -> str | None:
    """The attempt's id where an entry is an answer; read without its JSON."""
    if not body.startswith(_ANSWER):
        return None
    return body[len(_ANSWER) : body.index(b'"', len(_ANSWER))].decode("utf-8", "replace")


def what_of(body: bytes) -> tuple[What, dict[str, Any]] | None:
    """An entry and what kind it is; None for one that this coach does not know."""
    try:
        parsed = json.loads(body)
    except (ValueError, RecursionError):
        return None
    if not isinstance(parsed, dict) or len(parsed) != 1:
        return None
    [(what, held)] = parsed.items()
    known = ("answer", "setting", "pencils", "deck", "deck_dropped", "journal")
    if what not in known or not isinstance(held, dict):
        return None
    return what, held


def answer_row(held: dict[str, Any]) -> tuple[list[Any], tuple[str, str, str, str]]:
    """The rows of an answer's entry. Raises KeyError, ValueError or TypeError."""
    target, facts, answers = (json_text(held[name]) for name in ("target", "facts", "answers"))
    return [held[name] for name in _NAMES], (target, facts, answers, str(held["verdict"]))


def texts(held: dict[str, Any], what: Literal["pencils", "deck"]) -> tuple[str, ...] | None:
    """The columns of a pencil set or a deck; None where one is no text."""
    row = tuple(held.get(name) for name in (_PENCILS if what == "pencils" else _DECK))
    return row if all(isinstance(value, str) for value in row) else None  # type: ignore[return-value]


@dataclass
class JournalContent:
    """What a journal holds, gathered entry by entry.

    ``sums`` gives the checksum of each answer's entry by the attempt's id, and
    ``answers`` the entries of those that were wanted. The last of several entries for
    one setting, set or deck counts; ``decks`` has None for one that was dropped.
    ``unread`` counts lines that are not as they were written.
    """

    sums: dict[str, int] = field(default_factory=dict)
    answers: dict[str, bytes] = field(default_factory=dict)
    settings: dict[str, JSON] = field(default_factory=dict)
    pencils: dict[str, tuple[str, ...]] = field(default_factory=dict)
    decks: dict[str, tuple[str, ...] | None] = field(default_factory=dict)
    unread: int = 0

    def __bool__(self) -> bool:
        return bool(self.sums or self.settings or self.pencils or self.decks)

    def add(self, body: bytes | None, wanted: Callable[[str], bool] = lambda _: True) -> None:
        """Take one entry in (None: a line that can't be read). An unknown kind is passed over."""
        if body is None:
            self.unread += 1
            return
        name = answer_id(body)
        if name is not None:
            if name not in self.sums:
                self.sums[name] = crc32(body)
                if wanted(name):
                    self.answers[name] = body
            return
        entry = what_of(body)
        if entry is None:
            return
        what, held = entry
        if what == "setting" and isinstance(held.get("key"), str):
            self.settings[held["key"]] = held.get("value")
        elif what == "pencils" and (row := texts(held, "pencils")):
            self.pencils[row[0]] = row
        elif what == "deck" and (row := texts(held, "deck")):
            self.decks[row[0]] = row
        elif what == "deck_dropped" and isinstance(held.get("fingerprint"), str):
            self.decks[held["fingerprint"]] = None


def gather(
    bodies: Iterable[bytes | None], wanted: Callable[[str], bool] = lambda _: True
) -> JournalContent:
    """Everything of a run of entries; the answers' own text only where ``wanted`` by their id."""
    held = JournalContent()
    for body in bodies:
        held.add(body, wanted)
    return held
