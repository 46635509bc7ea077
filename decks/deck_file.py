"""Reading a deck's file: hostile until it has been checked through and through."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass

from decks.checks import check
from decks.deck import Deck
from decks.problems import Problem, first_of
from decks.toml_text.lines import lines_of
from decks.toml_text.slips import in_words
from drills.basics.errors import plain
from drills.basics.ordinary_file import read_ordinary

MAX_BYTES = 256 * 1024
MAX_LINE = 4_000
"""Characters in one line of a deck's file."""
MAX_DOTS = 100
"""Dots in one line: a dotted key nests tables, and deep ones cost the square of their depth."""
_AT_LINE = re.compile(r"\s*\(at line (\d+), column \d+\)|\s*\(at end of document\)")
_REMEDY = "Compare it with the example of: coach deck new"


@dataclass(frozen=True)
class CheckedDeck:
    """A deck, or None and what is wrong with its file; ``packed`` tells a packed one."""

    source: str
    deck: Deck | None
    problems: tuple[Problem, ...] = ()
    packed: bool = False

    def sound(self) -> Deck:
        """The deck. Raises InputError with the first problem, and how many more there are."""
        if self.deck is not None:
            return self.deck
        raise first_of(self.problems, self.source, "coach deck check")


def load_deck(path: str | os.PathLike[str]) -> CheckedDeck:
    """Read a deck's file. Raises InputError only when it can't be read as a file at all."""
    data = read_ordinary(path, MAX_BYTES, "a deck")
    return read_deck(data, os.fspath(path))


def read_deck(data: bytes, source: str) -> CheckedDeck:
    """Read a deck from the bytes of a file; ``source`` names it in problems."""
    try:
        text, said = toml_in(data)
    except RefusedError as error:
        return CheckedDeck(source, None, (error.problem,))
    if is_course(said):
        whole = Problem(0, "", "this is a course, not a deck", "See: coach course show FILE")
        return CheckedDeck(source, None, (whole,))
    return deck_said(text, said, source)


def deck_said(text: str, said: Mapping[str, object], source: str) -> CheckedDeck:
    """The deck that a file's content stands for, checked through and through."""
    deck, problems = check(said, lines_of(text))
    return CheckedDeck(source, deck, tuple(problems), "fingerprint" in said)


def is_course(said: Mapping[str, object]) -> bool:
    """Whether a file's content is a course's: it has decks, or levels, within it."""
    return "decks" in said or "levels" in said


def toml_in(
    data: bytes, what: str = "a deck", most_bytes: int = MAX_BYTES
) -> tuple[str, dict[str, object]]:
    """The text of a file and what it says, its size and lines within limits.

    Raises RefusedError.
    """
    text = _text(data, what, most_bytes)
    return text, _parse(text)


class RefusedError(Exception):
    """A file that can't be read as TOML: the one ``problem``."""

    def __init__(self, line: int, problem: str, remedy: str = _REMEDY) -> None:
        super().__init__(problem)
        self.problem = Problem(line, "", problem, remedy)


def _text(data: bytes, what: str, most_bytes: int) -> str:
    if len(data) > most_bytes:
        limit = f"{what.capitalize()} may hold {most_bytes // 1024} KB."
        raise RefusedError(0, f"the file is too big ({len(data):,} bytes)", limit)
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise RefusedError(0, "the file is in UTF-16", "Save it again in UTF-8.")
    if data.startswith((b"PK", b"\x1f\x8b")):
        raise RefusedError(0, f"this is an archive, not {what}", "Unpack it first.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise RefusedError(line, "a byte is not UTF-8", "Save it again in UTF-8.") from None
    for number, line_text in enumerate(text.split("\n"), start=1):
        if len(line_text) > MAX_LINE:
            limit = f"Keep lines under {MAX_LINE:,} characters."
            raise RefusedError(number, "the line is too long", limit)
        if line_text.count(".") > MAX_DOTS:
            raise RefusedError(number, "the line holds too many dots", "Break it up.")
    return text


def _parse(text: str) -> dict[str, object]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        told = str(error)
        at = _AT_LINE.search(told)
        line = int(at[1]) if at and at[1] else text.count("\n") + 1
        words = plain(_AT_LINE.sub("", told), 120).rstrip(".")
        lines = text.split("\n")
        problem, remedy = in_words(lines[line - 1] if line <= len(lines) else "", words)
        raise RefusedError(line, problem, remedy or _REMEDY) from None
    except RecursionError:
        raise RefusedError(0, "it is nested too deep") from None
    except (ValueError, OverflowError, MemoryError):
        raise RefusedError(0, "it holds a number that is too long") from None
