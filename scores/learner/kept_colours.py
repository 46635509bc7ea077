"""Colours that a learner keeps by a name: targets to come back to, each a setting of its own."""

from __future__ import annotations

import math
from dataclasses import dataclass

from drills.basics.errors import InputError, plain
from drills.basics.json_values import JSON
from scores.record.record import Record

PREFIX = "colour:"
LONGEST_NAME = 60
MOST = 500
MOST_SD = 20.0


@dataclass(frozen=True)
class KeptColour:
    """A name and its Lab under D50; ``source`` says in a few words where it is from, ``sd`` how
    much it is in doubt (ΔE00), 0 where it was given exactly."""

    name: str
    lab: tuple[float, float, float]
    source: str = ""
    sd: float = 0.0


def kept_colours(record: Record) -> tuple[KeptColour, ...]:
    """All that are kept, by name. A setting that is no colour is passed over."""
    found = []
    for key, value in record.settings().items():
        if key.startswith(PREFIX):
            colour = _read(key[len(PREFIX) :], value)
            if colour is not None:
                found.append(colour)
    return tuple(sorted(found, key=lambda one: (one.name.casefold(), one.name)))


def keep_colour(record: Record, colour: KeptColour) -> None:
    """Keep a colour by a new name. Raises InputError for a name that won't do, NotSavedError."""
    name = colour.name.strip()
    where = f"colour “{plain(name, 40)}”"
    if not name or len(name) > LONGEST_NAME or plain(name, LONGEST_NAME) != name:
        limit = f"Give 1 to {LONGEST_NAME} letters on one line."
        raise InputError(where, "this can't be a colour's name", limit)
    kept = kept_colours(record)
    if name.casefold() in {one.name.casefold() for one in kept}:
        raise InputError(where, "a colour of this name is kept already", "Give another name.")
    if len(kept) >= MOST:
        raise InputError(where, f"{MOST} colours are kept already", "Forget some first.")
    value: JSON = {
        "lab": [round(x, 4) for x in colour.lab],
        "source": plain(colour.source, 80),
        "sd": round(colour.sd, 2),
    }
    record.set_setting(PREFIX + name, value)


def forget_colour(record: Record, name: str) -> None:
    """Let a colour go. Raises NotSavedError."""
    record.set_setting(PREFIX + name, None)


def _read(name: str, value: JSON) -> KeptColour | None:
    if not isinstance(value, dict) or not isinstance(value.get("lab"), list):
        return None
    parts = value["lab"]
    assert isinstance(parts, list)
    numbers = [float(x) for x in parts if isinstance(x, (int, float)) and not isinstance(x, bool)]
    if len(numbers) != 3 or not all(math.isfinite(x) and abs(x) < 1000 for x in numbers):
        return None
    source, sd = value.get("source"), value.get("sd")
    L, a, b = numbers
    return KeptColour(
        plain(name, LONGEST_NAME),
        (L, a, b),
        source if isinstance(source, str) else "",
        float(sd) if isinstance(sd, (int, float)) and 0 <= sd <= MOST_SD else 0.0,
    )
