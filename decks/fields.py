"""Checking one value of a deck; each returns the value, or raises ``FaultError``."""

from __future__ import annotations

import math
import re
from datetime import date, datetime

from decks import deck_limits as limits
from drills.basics.errors import plain

_WORD = re.compile(r"[a-z][a-z0-9._-]*(?: [a-z0-9_-]+)*")


class FaultError(Exception):
    """A value that can't stand: what is wrong, and what to do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


def kind_words(value: object) -> str:
    """What a value is, in plain words."""
    if isinstance(value, bool):
        return "true or false"
    if isinstance(value, int | float):
        return "a number"
    if isinstance(value, str):
        return "a text"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, dict):
        return "a table"
    return "a date or time"


def as_text(value: object, longest: int, lines: bool = False, empty: bool = False) -> str:
    """A text of visible characters, its ends trimmed; ``lines`` allows line breaks."""
    if not isinstance(value, str):
        raise FaultError(f"{kind_words(value)} stands where a text belongs", "Put it in quotes.")
    if len(value) > longest:
        raise FaultError(f"it is over {longest:,} characters long", "Shorten it.")
    text = value.replace("\r\n", "\n").strip(" \n" if lines else " ")
    if not text and not empty:
        raise FaultError("nothing is written", "Write a few words.")
    looked_at = text.replace("\n", " ") if lines else text
    if plain(looked_at, longest) != looked_at:
        raise FaultError(
            f"“{plain(looked_at, 30)}” holds a control or invisible character",
            "Type it again by hand.",
        )
    return text


def as_word(value: object) -> str:
    """The name of a drill kind or a region."""
    text = as_text(value, limits.WORD)
    if not _WORD.fullmatch(text):
        raise FaultError(
            f"“{plain(text, 40)}” is not a name",
            "Write small letters, as in blue-green or dark greys.",
        )
    return text


def as_whole(value: object, bounds: tuple[int, int]) -> int:
    """A whole number within bounds."""
    low, high = bounds
    remedy = f"Write a whole number from {low} to {high}."
    if isinstance(value, bool) or not isinstance(value, int):
        if not (isinstance(value, float) and value.is_integer()):
            raise FaultError(f"{_shown(value)} is not a whole number", remedy)
        value = int(value)
    if not low <= value <= high:
        raise FaultError(f"{_shown(value)} is out of range", remedy)
    return value


def as_share(value: object, bounds: tuple[float, float]) -> float:
    """A number within bounds."""
    low, high = bounds
    remedy = f"Write a number from {low:g} to {high:g}."
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise FaultError(f"{kind_words(value)} stands where a number belongs", remedy)
    if isinstance(value, float) and not math.isfinite(value):
        raise FaultError("it is not a finite number", remedy)
    if not low <= value <= high:
        raise FaultError(f"{_shown(value)} is out of range", remedy)
    return float(value)


def as_day(value: object) -> date:
    """A day of the calendar: a TOML date, or a text such as "2026-09-30"."""
    remedy = "Write the day as year-month-day, such as 2026-09-30."
    if isinstance(value, datetime):
        raise FaultError("it names a time of day too", remedy)
    if isinstance(value, str):
        try:
            value = date.fromisoformat(value) if len(value) == 10 else None
        except ValueError:
            value = None
    if not isinstance(value, date):
        raise FaultError("it is no day of the calendar", remedy)
    first, last = limits.DUE_YEARS
    if not first <= value.year <= last:
        raise FaultError(f"the year {value.year} is out of range", f"Write {first} to {last}.")
    return value


def as_list(value: object, longest: int, what: str, least: int = 0) -> list[object]:
    """A list of so many things."""
    if not isinstance(value, list):
        raise FaultError(
            f"{kind_words(value)} stands where a list belongs", 'Write it as ["one", "two"].'
        )
    if len(value) > longest:
        raise FaultError(f"it holds {len(value):,} {what}", f"Keep at most {longest}.")
    if len(value) < least:
        raise FaultError(f"it holds no {what}", "Name at least one.")
    return value


def as_table(value: object) -> dict[str, object]:
    """A table of keys."""
    if not isinstance(value, dict):
        raise FaultError(
            f"{kind_words(value)} stands where a table belongs",
            "See the example of: coach deck new",
        )
    return value


def _shown(value: object) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return kind_words(value)
    if isinstance(value, int) and abs(value) >= 10**12:
        return "so long a number"
    return f"{value:g}" if isinstance(value, float) else str(value)
