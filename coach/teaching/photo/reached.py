"""A deck's named colours held against pencils: whose can make them, and how near others come."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.deck import Deck, Lab, Target
    from drills.pencils.pencil import PencilSet
    from drills.planning.for_picture.reach import Reach
    from scores.classes.store import ClassBook

NAMES_TOLD = 4
NONE_SENT = (
    "No student has sent their pencils yet: coach scores share DECK --pencils puts them in, and so"
    " does a question to you."
)


@dataclass(frozen=True)
class Owned:
    """Pencils and whose they are, as it is told."""

    owner: str
    pencils: PencilSet


@dataclass(frozen=True)
class Reached:
    """Of so many ``owners``, whose pencils can't make a colour: each with how near they come."""

    owners: int
    short: tuple[tuple[str, Reach], ...]


class Reaches:
    """Pencils of several people, each set made ready once."""

    def __init__(self, owned: Sequence[Owned]) -> None:
        self.owned = owned
        self._known: dict[tuple[str, Lab], Reach | None] = {}

    def of(self, lab: Lab) -> Reached:
        """Who can make a colour; whose pencils can't be made ready counts for nobody."""
        told = [(one.owner, self._one(one.pencils, lab)) for one in self.owned]
        sound = [(owner, reach) for owner, reach in told if reach is not None]
        short = sorted(
            ((owner, reach) for owner, reach in sound if not reach.reached),
            key=lambda pair: pair[1].miss,
        )
        return Reached(len(sound), tuple(short))

    def any_of(self, lab: Lab) -> Reached:
        """As ``of``, but no further than to the first that can: who comes after isn't counted."""
        short: list[tuple[str, Reach]] = []
        for one in self.owned:
            reach = self._one(one.pencils, lab)
            if reach is not None and reach.reached:
                return Reached(len(short) + 1, tuple(short))
            if reach is not None:
                short.append((one.owner, reach))
        return Reached(len(short), tuple(sorted(short, key=lambda pair: pair[1].miss)))

    def _one(self, pencils: PencilSet, lab: Lab) -> Reach | None:
        from drills.layering.palette import prepare
        from drills.planning.for_picture.reach import reach

        key = (pencils.fingerprint, lab)
        if key not in self._known:
            try:
                self._known[key] = reach(prepare(pencils), lab)
            except InputError:
                self._known[key] = None
        return self._known[key]


def of_class(book: ClassBook) -> list[Owned]:
    """The pencils that students of the class sent."""
    from drills.pencils.file import parse_pencils
    from scores.classes.pencils_sent import pencils_known

    found = []
    for one in pencils_known(book):
        try:
            found.append(Owned(one.name, parse_pencils(one.csv.encode(), one.name)))
        except InputError:
            continue  # What a failing disk changed counts for nobody.
    return found


def class_or_own(owned: Sequence[Owned], own: PencilSet | None) -> list[Owned]:
    """The class's pencils; where none are known, one's own, or the demo set."""
    if owned:
        return list(owned)
    from drills.pencils.sets import demo_set

    mine = own or demo_set()
    return [Owned(f"“{plain(mine.name, 60)}”", mine)]


def known_words(sent: int, students: int) -> str:
    """Whose pencils are known."""
    if not sent:
        return NONE_SENT
    return f"Pencils are known of {sent} of the {students} students in the class."


def reached_words(name: str, found: Reached) -> str:
    """Who can make a colour, in a sentence or two: "3 of 24 can't reach Brass: …"."""
    short = found.short
    if not found.owners:
        return f"{name}: no pencils to try it with."
    if not short:
        return f"All {found.owners} can reach {name}." if found.owners > 1 else f"{name}: in reach."
    named = "; ".join(f"{owner} {_far(reach)}" for owner, reach in short[:NAMES_TOLD])
    more = f"; and {len(short) - NAMES_TOLD} more" if len(short) > NAMES_TOLD else ""
    if len(short) < found.owners:
        return f"{len(short)} of {found.owners} can't reach {name}: {named}{more}."
    owner, nearest = short[0]
    if found.owners == 1:
        return f"{owner} can't reach {name}: {_nearest(nearest)}"
    return f"None of {found.owners} can reach {name}. Nearest come {owner}: {_nearest(nearest)}"


def _far(reach: Reach) -> str:
    return f"stays {reach.miss:.0f} off ({reach.way})"


def _nearest(reach: Reach) -> str:
    from drills.colour.spaces import hex_of

    return f"{reach.miss:.0f} off ({reach.way}). The nearest made is {hex_of(reach.lab)}."


def out_of_reach(deck: Deck, owned: Sequence[Owned]) -> list[str]:
    """A line on each named colour of a deck that none of these pencils make, and the nearest."""
    return [
        f"Mind: {reached_words(plain(target.name, 60), found)}"
        for target, found in _each(deck.targets, owned)
        if len(found.short) == found.owners and found.owners
    ]


def _each(targets: Iterable[Target], owned: Sequence[Owned]) -> Iterable[tuple[Target, Reached]]:
    reaches = Reaches(owned)
    for target in targets:
        yield target, reaches.any_of(target.lab)
