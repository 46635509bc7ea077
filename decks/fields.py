"""What a value of a deck may be. Each kind reads one, and says the same as JSON Schema."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import MISSING, fields
from datetime import date, datetime
from typing import Any, NamedTuple, Protocol, get_type_hints

from drills.basics.days import day_of
from drills.basics.errors import plain
from drills.basics.json_values import JSON

Schema = dict[str, JSON]

# What ``plain`` makes a dot of, as far as a regular expression can say it.
_UNSEEN = r"\u007f-\u009f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff"
_BASE64 = re.compile(r"(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?")
_WORD = re.compile(r"[a-z][a-z0-9._-]*(?: [a-z0-9_-]+)*")


class FaultError(Exception):
    """A value that can't stand: what is wrong, and what to do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


class Value(Protocol):
    """A kind of value; the limits in it are those of the check and of the schema alike."""

    def read(self, value: object) -> Any:
        """The value, its parts not looked at. Raises FaultError."""

    def schema(self) -> Schema:
        """The same in JSON Schema's words."""


class Text(NamedTuple):
    """A text of visible characters, its ends trimmed; ``lines`` allows line breaks."""

    longest: int
    lines: bool = False
    empty: bool = False

    def read(self, value: object) -> str:
        if not isinstance(value, str):
            raise _misplaced(value, "a text", "Put it in quotes.")
        if len(value) > self.longest:
            raise FaultError(f"it is over {self.longest:,} characters long", "Shorten it.")
        text = value.replace("\r\n", "\n").strip(" \n" if self.lines else " ")
        if not text and not self.empty:
            raise FaultError("nothing is written", "Write a few words.")
        looked_at = text.replace("\n", " ") if self.lines else text
        if plain(looked_at, self.longest) != looked_at:
            raise FaultError(
                f"“{plain(looked_at, 30)}” holds a control or invisible character",
                "Type it again by hand.",
            )
        return text

    def schema(self) -> Schema:
        low = r"\u0000-\u0009\u000b\u000c\u000e-\u001f" if self.lines else r"\u0000-\u001f"
        seen = f"[^{low}{_UNSEEN}]*"
        made: Schema = {"type": "string", "maxLength": self.longest, "pattern": f"^{seen}$"}
        return made if self.empty else {**made, "minLength": 1, "pattern": rf"^{seen}\S{seen}$"}


class Base64(NamedTuple):
    """Bytes as base64 (RFC 4648), broken into lines as one likes; ``longest`` counts without them.

    What the bytes are is looked into when all is read.
    """

    longest: int

    def read(self, value: object) -> str:
        if not isinstance(value, str):
            raise _misplaced(value, "a text", "Let coach deck pack --picture put it in.")
        text = "".join(value.split())
        if len(text) > self.longest:
            problem = f"it is over {self.longest:,} characters long"
            raise FaultError(problem, "Let coach deck pack --picture make it smaller.")
        if not _BASE64.fullmatch(text):
            raise FaultError("it is not base64", "Let coach deck pack --picture put it in.")
        return text

    def schema(self) -> Schema:
        return {
            "type": "string",
            "maxLength": 2 * self.longest,
            "pattern": r"^[A-Za-z0-9+/\s]*=?\s*=?\s*$",
            "contentEncoding": "base64",
        }


class Word(NamedTuple):
    """The name of a drill kind or a region."""

    longest: int = 40

    def read(self, value: object) -> str:
        text = Text(self.longest).read(value)
        if not _WORD.fullmatch(text):
            raise FaultError(
                f"“{plain(text, 40)}” is not a name",
                "Write small letters, as in blue-green or dark greys.",
            )
        return text

    def schema(self) -> Schema:
        return {"type": "string", "maxLength": self.longest, "pattern": f"^{_WORD.pattern}$"}


class Whole(NamedTuple):
    """A whole number within bounds."""

    low: int
    high: int

    def read(self, value: object) -> int:
        remedy = f"Write a whole number from {self.low} to {self.high}."
        if isinstance(value, bool) or not isinstance(value, int):
            if not (isinstance(value, float) and value.is_integer()):
                raise FaultError(f"{_shown(value)} is not a whole number", remedy)
            value = int(value)
        if not self.low <= value <= self.high:
            raise FaultError(f"{_shown(value)} is out of range", remedy)
        return value

    def schema(self) -> Schema:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}


class Share(NamedTuple):
    """A number within bounds."""

    low: float = 0.0
    high: float = 1.0

    def read(self, value: object) -> float:
        remedy = f"Write a number from {self.low:g} to {self.high:g}."
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise _misplaced(value, "a number", remedy)
        if isinstance(value, float) and not math.isfinite(value):
            raise FaultError("it is not a finite number", remedy)
        if not self.low <= value <= self.high:
            raise FaultError(f"{_shown(value)} is out of range", remedy)
        return float(value)

    def schema(self) -> Schema:
        return {"type": "number", "minimum": self.low, "maximum": self.high}


class Day(NamedTuple):
    """A day of the calendar, in these years: a TOML date, or a text such as "2026-09-30"."""

    first: int
    last: int

    def read(self, value: object) -> date:
        remedy = "Write the day as year-month-day, such as 2026-09-30."
        if isinstance(value, datetime):
            raise FaultError("it names a time of day too", remedy)
        try:
            day = day_of(value) if isinstance(value, str) else value
        except ValueError:
            day = None
        if not isinstance(day, date):
            raise FaultError("it is no day of the calendar", remedy)
        if not self.first <= day.year <= self.last:
            years = f"Write {self.first} to {self.last}."
            raise FaultError(f"the year {day.year} is out of range", years)
        return day

    def schema(self) -> Schema:
        decades = range(self.first // 10, self.last // 10 + 1)
        years = "|".join(
            f"{ten}[{max(self.first - 10 * ten, 0)}-{min(self.last - 10 * ten, 9)}]"
            for ten in decades
        )
        return {"type": "string", "format": "date", "pattern": f"^({years})-[0-9]{{2}}-[0-9]{{2}}$"}


class Several(NamedTuple):
    """A list of at most so many of one kind of value; ``what`` names them."""

    of: Value
    what: str
    most: int
    least: int = 0
    unique: bool = False

    def read(self, value: object) -> list[object]:
        if not isinstance(value, list):
            raise _misplaced(value, "a list", 'Write it as ["one", "two"].')
        if len(value) > self.most:
            raise FaultError(f"it holds {len(value):,} {self.what}", f"Keep at most {self.most}.")
        if len(value) < self.least:
            raise FaultError(f"it holds no {self.what}", "Name at least one.")
        return value

    def schema(self) -> Schema:
        made: Schema = {"type": "array", "maxItems": self.most, "items": self.of.schema()}
        if self.least:
            made["minItems"] = self.least
        return {**made, "uniqueItems": True} if self.unique else made


class Spectrum(NamedTuple):
    """A reflectance at each of 31 wavelengths."""

    of: Share = Share()
    size: int = 31

    def read(self, value: object) -> list[float]:
        numbers = Several(self.of, "numbers", self.size).read(value)
        if len(numbers) != self.size:
            remedy = f"Give {self.size} numbers, for 400 to 700 nm in steps of 10."
            raise FaultError(f"there are {len(numbers)} numbers", remedy)
        return [self.of.read(number) for number in numbers]

    def schema(self) -> Schema:
        return Several(self.of, "numbers", self.size, least=self.size).schema()


class Key(NamedTuple):
    """A key of a table: its value, what it is for, its default, and whether it must be there."""

    value: Value
    about: str = ""
    default: JSON = None
    needed: bool = False


class Table(NamedTuple):
    """A table of keys; ``missing`` is the remedy where one that must be there is not."""

    keys: Mapping[str, Key]
    missing: str = ""

    def read(self, value: object) -> dict[str, object]:
        if not isinstance(value, dict):
            raise _misplaced(value, "a table", "See the example of: coach deck new")
        return value

    def schema(self) -> Schema:
        named: Schema = {}
        for name, key in self.keys.items():
            made = key.value.schema()
            if key.about:
                made["description"] = key.about
            if key.default is not None:
                made["default"] = key.default
            named[name] = made
        needed: list[JSON] = [name for name, key in self.keys.items() if key.needed]
        made = {"type": "object", "additionalProperties": False, "properties": named}
        return {**made, "required": needed} if needed else made


def keys_of(model: type) -> dict[str, Key]:
    """The keys that a dataclass's annotations tell of: ``Annotated[type, Value, about]``.

    Fields annotated with no ``Value`` are not in a file.
    """
    hints = get_type_hints(model, include_extras=True)
    found: dict[str, Key] = {}
    for field in fields(model):
        value, *about = getattr(hints[field.name], "__metadata__", (None,))
        if value is not None:
            shown = field.default if isinstance(value, Text | Whole | Share) else None
            default: Any = None if shown is MISSING else shown
            needed = field.default is MISSING
            found[field.name] = Key(value, "".join(about), default, needed)
    return found


def _misplaced(value: object, wanted: str, remedy: str) -> FaultError:
    return FaultError(f"{_kind_words(value)} stands where {wanted} belongs", remedy)


def _kind_words(value: object) -> str:
    """What a value is, in plain words."""
    words = {bool: "true or false", int: "a number", float: "a number"}
    words |= {str: "a text", list: "a list", dict: "a table"}
    return words.get(type(value), "a date or time")


def _shown(value: object) -> str:
    if isinstance(value, bool) or not isinstance(value, int | float):
        return _kind_words(value)
    if isinstance(value, int) and abs(value) >= 10**12:
        return "so long a number"
    return f"{value:g}" if isinstance(value, float) else str(value)
