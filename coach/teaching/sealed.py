"""Small files between a student and a teacher: JSON with a digest, hostile until checked.

``{"digest": …, "sealed": {"format": …, "schema": 1, …}}``. The digest is the sha256 of the
canonical text of ``sealed``; it finds damage, and is no proof of who wrote the file.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import MISSING, fields
from typing import Any, TypeVar

from drills.basics.errors import InputError, plain
from drills.basics.json_values import as_json, from_json, json_text
from scores.exchange.results_written import digest_of

SCHEMA = 1
MAX_BYTES = 1_000_000
NOTE_MOST, NOTE_LINES = 1_000, 20
"""Characters and lines of a note."""
_AGAIN = "Ask for it again."
T = TypeVar("T")


def sealed(form: str, value: object) -> str:
    """The text of a file of this form that holds a dataclass."""
    inner = json_text({"format": form, "schema": SCHEMA, **as_json(value)}, in_order=True)
    return f'{{"digest":"{digest_of(inner)}","sealed":{inner}}}\n'


def _unsealed(data: bytes, where: str, form: str, kind: type[T]) -> T:
    """The dataclass in a file's bytes, its shape alone checked. Raises InputError."""
    if len(data) > MAX_BYTES:
        raise InputError(where, "the file is too big", f"The limit is {MAX_BYTES:,} bytes.")
    what = form.rsplit(maxsplit=1)[-1]
    try:
        whole: Any = json.loads(data.decode("utf-8-sig"), parse_constant=_no_number)
        inside = whole["sealed"]
        said, schema = inside["format"], inside["schema"]
    except UnicodeDecodeError:
        raise InputError(where, "it is not UTF-8", _AGAIN) from None
    except (KeyError, TypeError, IndexError):
        raise InputError(where, f"this is not a {what}", "") from None
    except (ValueError, RecursionError, MemoryError):
        raise InputError(where, "it is damaged or of another kind (not JSON)", _AGAIN) from None
    if said != form:
        raise InputError(where, f"this is not a {what}", "")
    if type(schema) is not int or schema != SCHEMA:
        raise InputError(where, f"it is of a schema other than {SCHEMA}", "Update the coach.")
    try:
        if digest_of(json_text(inside, in_order=True)) != whole.get("digest"):
            raise InputError(where, "its digest is wrong: it was damaged or changed", _AGAIN)
        return from_json(kind, with_usual(kind, inside))
    except InputError:
        raise
    except (ValueError, RecursionError):
        raise InputError(where, "a part of it is missing or of another shape", _AGAIN) from None


def with_usual(kind: type, said: dict[str, Any]) -> dict[str, Any]:
    """A dataclass as JSON with what an older coach's lacks, as the dataclass has it."""
    usual = {one.name: as_json(one.default) for one in fields(kind) if one.default != MISSING}
    return {**usual, **said}


def read_sealed(
    data: bytes, source: str, form: str, kind: type[T], check: Callable[[T], None]
) -> T:
    """The dataclass in a file's bytes, sound; ``source`` names the file. Raises InputError.

    ``check`` raises ValueError or InputError for what such a file can't hold.
    """
    where = plain(source, 200)
    found = _unsealed(data, where, form, kind)
    try:
        check(found)
    except InputError as error:
        raise InputError(f"{where}: {error.where}", error.problem, _AGAIN) from None
    except ValueError as error:
        raise InputError(where, str(error), _AGAIN) from None
    return found


def tidy_line(text: str, what: str, longest: int, needed: bool = True) -> None:
    """Raises ValueError for what ``sound_line`` would change or refuse."""
    if sound_line(text, what, longest, needed) != text:
        raise ValueError(f"{what} has spaces too many")


def tidy_note(text: str) -> None:
    """Raises ValueError for what ``sound_note`` would change or refuse."""
    if sound_note(text) != text:
        raise ValueError("the note has spaces at its lines' ends")


def is_sealed(data: bytes, form: str) -> bool:
    """Whether a file says that it is of this form."""
    return form.encode() in data[:MAX_BYTES] and data.lstrip().startswith(b"{")


def sound_note(text: str) -> str:
    """A note tidied: lines without spaces at their ends. Raises ValueError, in plain words."""
    lines = [line.rstrip() for line in text.strip().split("\n")]
    if len(text) > NOTE_MOST or len(lines) > NOTE_LINES:
        raise ValueError(f"a note may have {NOTE_MOST:,} characters on {NOTE_LINES} lines")
    if any(plain(line, NOTE_MOST) != line for line in lines):
        raise ValueError("the note holds a control or invisible character")
    return "\n".join(lines)


def sound_line(text: str, what: str, longest: int, needed: bool = True) -> str:
    """One line of words. Raises ValueError, in plain words."""
    line = " ".join(text.split())
    if len(line) > longest or (needed and not line):
        raise ValueError(f"{what} is missing or over {longest} characters long")
    if plain(line, longest) != line:
        raise ValueError(f"{what} holds a control or invisible character")
    return line


def sound_lab(lab: tuple[float, float, float] | None, what: str) -> None:
    """Raises ValueError for a Lab that no paper has."""
    if lab is not None and not (
        0.0 <= lab[0] <= 100.0 and abs(lab[1]) <= 150.0 and abs(lab[2]) <= 150.0
    ):
        raise ValueError(f"{what} is no colour")


def _no_number(text: str) -> None:
    raise ValueError(f"{text} is no number of JSON")
