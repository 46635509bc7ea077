"""What a plan may use: how many moves and pencils, which ones, which not."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

from drills.basics.errors import InputError, plain
from drills.pencils.pencil import PencilSet, name_key

MOST_LAYERS = 8
"""More passes than paper takes and an artist would follow; our estimate."""

LIGHTFAST = ("I", "II")
"""ASTM D6901 classes that last: excellent and very good."""

THERE_AGAIN = "Mark it as there again (u in the pencils, or: coach pencils used-up --back)"
_WHERE = "plan"


@dataclass(frozen=True)
class Limits:
    """What a plan may use.

    ``max_layers`` counts every pass over the paper, blending and burnishing
    too; ``max_pencils`` the different colours (the blender is not one).
    ``without``, ``insist`` and ``tray`` hold places in the palette: pencils left
    out, pencils that must be used, and the only ones at hand (None: all).
    ``lightfast_only`` keeps ASTM D6901 classes I and II; a pencil whose class is
    not known is left out.
    """

    max_layers: int = 5
    max_pencils: int = 4
    without: frozenset[int] = frozenset()
    insist: frozenset[int] = frozenset()
    tray: frozenset[int] | None = None
    lightfast_only: bool = False
    blender: bool = True
    burnish: bool = True


def find_pencils(pencil_set: PencilSet, names: Iterable[str]) -> frozenset[int]:
    """Places of pencils given by name or code, in any case.

    Raises InputError for one that is not in the set, naming the nearest.
    """
    places: dict[str, int] = {}
    for i, pencil in enumerate(pencil_set.pencils):
        if pencil.code:
            places.setdefault(name_key(pencil.code), i)
    # A name counts before a code that reads the same.
    places.update({name_key(pencil.name): i for i, pencil in enumerate(pencil_set.pencils)})
    found = set()
    for name in names:
        place = places.get(name_key(name))
        if place is None:
            near = difflib.get_close_matches(name_key(name)[:80], list(places), n=1)
            hint = (
                f"Did you mean “{plain(pencil_set.pencils[places[near[0]]].name)}”?"
                if near
                else "See the names with: coach pencils list"
            )
            raise InputError(
                f"pencil “{plain(name, 40)}”", f"not in {plain(pencil_set.name)}", hint
            )
        found.add(place)
    return frozenset(found)


def usable(pencil_set: PencilSet, limits: Limits) -> tuple[int, ...]:
    """Places of the coloured pencils a plan may use, in order.

    Raises InputError for limits that no plan can keep.
    """
    if not 1 <= limits.max_layers <= MOST_LAYERS:
        raise InputError(
            _WHERE,
            f"{limits.max_layers} layers can't be planned",
            f"Ask for 1 to {MOST_LAYERS}.",
        )
    if limits.max_pencils < 1:
        raise InputError(_WHERE, "a plan needs at least one pencil", "Ask for 1 or more.")
    pencils = pencil_set.pencils
    for places in (limits.without, limits.insist, limits.tray or frozenset()):
        unknown = [i for i in places if not 0 <= i < len(pencils)]
        if unknown:
            raise InputError(_WHERE, f"there is no pencil {unknown[0]}", "Choose from the set.")
    kept = [
        i
        for i, pencil in enumerate(pencils)
        if pencil.lays_colour
        and i not in limits.without
        and (limits.tray is None or i in limits.tray)
        and (not limits.lightfast_only or pencil.lightfastness in LIGHTFAST)
    ]
    if not kept:
        raise InputError(
            _WHERE,
            "these limits leave no coloured pencil that is there",
            "Leave fewer out, or give more pencils.",
        )
    _check_insisted(pencil_set, limits, set(kept))
    return tuple(kept)


def _check_insisted(pencil_set: PencilSet, limits: Limits, kept: set[int]) -> None:
    for i in sorted(limits.insist):
        name = plain(pencil_set.pencils[i].name)
        if pencil_set.pencils[i].is_blender:
            raise InputError(
                _WHERE, f"“{name}” lays no colour, so it can't be insisted on", "Leave it off."
            )
        if pencil_set.pencils[i].used_up:
            raise InputError(_WHERE, f"“{name}” is used up", f"{THERE_AGAIN}, or leave it off.")
        if i not in kept:
            raise InputError(
                _WHERE, f"“{name}” is both insisted on and left out", "Choose one of the two."
            )
    most = min(limits.max_layers, limits.max_pencils)
    if len(limits.insist) > most:
        raise InputError(
            _WHERE,
            f"{len(limits.insist)} pencils are insisted on and only {most} may be used",
            "Insist on fewer, or allow more layers and pencils.",
        )
