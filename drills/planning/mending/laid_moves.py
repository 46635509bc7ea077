"""Moves as people write them down: "Flagloft Red lightly; Mudhard Grey firmly; blend"."""

from __future__ import annotations

import re
from typing import Final

from drills.basics.errors import InputError, plain
from drills.layering import constants as c
from drills.layering.moves import Move
from drills.pencils.pencil import PencilSet
from drills.planning.plan_limits import find_pencils

_HOW: Final = {
    "light": c.LIGHT, "lightly": c.LIGHT, "middle": c.MIDDLE, "medium": c.MIDDLE,
    "firm": c.FIRM, "firmly": c.FIRM, "hard": c.HEAVIEST, "heavy": c.HEAVIEST,
    "heavily": c.HEAVIEST,
}  # fmt: skip
_AROUND = re.compile(r"^\s*(?:\d+[.)]\s*)?(?:lay\s+)?|\s*\([^()]*\)(?=\s|$)|[\s.]+$", re.I)
_PRESSED = re.compile(r"[\s,]+(?:at\s+)?(\w+)(?:\s+pressure)?$", re.I)


def laid_moves(pencil_set: PencilSet, text: str) -> tuple[Move, ...]:
    """The moves of ``text``, split at semicolons and line ends; a pencil by name or code.

    How hard may be left out: middle then. Raises InputError for a pencil that isn't there.
    """
    return tuple(_move(pencil_set, part) for part in re.split(r"[;\n]", text) if part.strip())


def _move(pencil_set: PencilSet, text: str) -> Move:
    bare = _AROUND.sub("", text)
    first, _, rest = bare.partition(" ")
    how = _PRESSED.search(f" {bare}")
    pressure = _HOW.get(how[1].casefold()) if how else None
    if first.casefold() == "blend":
        return Move("blend", -1, c.LIGHT if pressure is None else pressure)
    if first.casefold() in {"burnish", "burnish:"}:
        named = rest.removeprefix("with ").strip()
        with_pencil = bool(named) and not named.startswith("press")
        return Move("burnish", _place(pencil_set, named) if with_pencil else -1)
    name = bare if pressure is None else _PRESSED.sub("", bare)
    return Move("lay", _place(pencil_set, name), c.MIDDLE if pressure is None else pressure)


def _place(pencil_set: PencilSet, name: str) -> int:
    (place,) = find_pencils(pencil_set, [name])
    return place


def done_of(recipe: tuple[Move, ...], steps: int) -> tuple[Move, ...]:
    """The first ``steps`` moves of a plan. Raises InputError where it has fewer."""
    if not 0 <= steps <= len(recipe):
        moves = f"{len(recipe)} moves" if len(recipe) != 1 else "one move"
        raise InputError(
            "--after",
            f"the plan has {moves}, not {plain(str(steps), 20)}",
            "Say how many you laid.",
        )
    return recipe[:steps]
