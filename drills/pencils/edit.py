"""Changing a set of pencils: one added, put right, taken out, or moved; checked as a file is."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace

from drills.pencils.file import make_set, parse_pencils, to_csv
from drills.pencils.file_cell import NAME_CHARS
from drills.pencils.pencil import Pencil, PencilSet, name_key


@dataclass(frozen=True)
class Edited:
    """The set as changed; ``places`` has, for each pencil of the old one, where it is now."""

    set: PencilSet
    places: tuple[int | None, ...]


def added(pencil_set: PencilSet, pencil: Pencil) -> Edited:
    """With one more, at the end. Raises PencilsError for a pencil no file may hold."""
    return _edited(pencil_set, (*pencil_set.pencils, pencil), range(len(pencil_set)))


def put_right(pencil_set: PencilSet, at: int, pencil: Pencil) -> Edited:
    """With another in one's place. Raises PencilsError."""
    pencils = [pencil if place == at else one for place, one in enumerate(pencil_set.pencils)]
    return _edited(pencil_set, pencils, range(len(pencil_set)))


def taken_out(pencil_set: PencilSet, at: int) -> Edited:
    """Without one. Raises PencilsError where no coloured pencil is left."""
    pencils = [one for place, one in enumerate(pencil_set.pencils) if place != at]
    places = [None if place == at else place - (place > at) for place in range(len(pencil_set))]
    return _edited(pencil_set, pencils, places)


def marked_used_up(pencil_set: PencilSet, places: Collection[int], used_up: bool) -> Edited:
    """With those at ``places`` marked as used up, or as there again.

    Raises PencilsError where no coloured pencil would be left to lay.
    """
    pencils = [
        replace(one, used_up=used_up) if place in places else one
        for place, one in enumerate(pencil_set.pencils)
    ]
    return _edited(pencil_set, pencils, range(len(pencil_set)))


def moved(pencil_set: PencilSet, at: int, to: int) -> Edited:
    """With one at another place, the others closing up."""
    order = [place for place in range(len(pencil_set)) if place != at]
    order.insert(min(len(order), max(0, to)), at)
    places = [order.index(place) for place in range(len(pencil_set))]
    return _edited(pencil_set, [pencil_set.pencils[place] for place in order], places)


def joined(pencil_set: PencilSet, box: PencilSet) -> Edited:
    """With the pencils of another box after its own.

    One that is in both is taken once; of two that only share a name, the new one has its box's
    name behind it. Raises PencilsError for more than a set may hold.
    """
    there = {replace(one, used_up=False) for one in pencil_set.pencils}
    names = {name_key(one.name) for one in pencil_set.pencils}
    pencils = list(pencil_set.pencils)
    for one in box.pencils:
        if replace(one, used_up=False) in there:
            continue
        count, given = 1, one.name
        while name_key(one.name) in names:
            count += 1
            mark = f" ({box.name[:20]})" if count == 2 and box.name else f" ({count})"
            one = replace(one, name=f"{given[: NAME_CHARS - len(mark)]}{mark}")
        names.add(name_key(one.name))
        pencils.append(one)
    return _edited(pencil_set, pencils, range(len(pencil_set)))


def with_colour(pencil: Pencil, lab: tuple[float, float, float]) -> Pencil:
    """The pencil with another swatch, given as exact; a spectrum of the old one is given up."""
    return replace(pencil, hex=None, lab=lab, reflectance=None, painted=0)


def _edited(old: PencilSet, pencils: Sequence[Pencil], places: Sequence[int | None]) -> Edited:
    made = make_set(old.name, tuple(pencils))
    checked = parse_pencils(to_csv(made).encode(), old.name or "pencils")
    return Edited(replace(checked, name=old.name, source=old.source), tuple(places))
