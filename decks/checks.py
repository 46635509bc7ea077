"""From what a file says to a deck, or to all that is wrong with it.

Its shape is that of ``decks.form``; beyond it, colours must be colours,
kinds and regions must exist, and what the keys say together must make sense.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import Any

from decks.deck import Deck, Step, Target
from decks.deck_pencils import pencils_of
from decks.fields import FaultError, Several, Table, Value
from decks.form import DIFFICULTY, FILE
from decks.problems import Problem
from decks.toml_text.lines import Path, line_for
from decks.vocabulary import families, is_region, kind_names, kind_of, meant, region_names
from drills.basics.errors import plain
from drills.outside import package_of

Found = list[tuple[int, Any]]
"""What of a list is sound, by its place there."""


def check(
    said: Mapping[str, object], lines: Mapping[Path, int]
) -> tuple[Deck | None, list[Problem]]:
    """The deck that a file's content stands for, or None, and its problems by line.

    ``lines`` gives a line for each path, for the problems.
    """
    checker = Checker(said, lines)
    deck = checker.deck()
    return (None if checker.problems else deck), sorted(checker.problems)


class Checker:
    """Gathers every fault of a file; ``inside`` is the path of the table that ``said`` is."""

    def __init__(
        self, said: Mapping[str, object], lines: Mapping[Path, int], inside: Path = ()
    ) -> None:
        self.said = said
        self.lines = lines
        self.inside = inside
        self.problems: list[Problem] = []

    def fault(self, path: Path, problem: str, remedy: str) -> None:
        """Note what is wrong at a path, and what to do."""
        key = ""
        whole = (*self.inside, *path)
        for part in whole:
            key += f"[{part + 1}]" if isinstance(part, int) else f".{plain(part, 30)}"
        line = line_for(self.lines, whole)
        self.problems.append(Problem(line, key.lstrip("."), problem, remedy))

    def read(self, path: Path, reader: Callable[[object], Any], value: object) -> Any:
        """What the reader makes of a value, or None and a fault."""
        try:
            return reader(value)
        except FaultError as fault:
            self.fault(path, fault.problem, fault.remedy)
            return None

    def value(self, path: Path, value: object, kind: Value) -> Any:
        """A value with its parts, a list as ``Found``; None, and a fault, where it can't stand."""
        found = self.read(path, kind.read, value)
        if found is not None and isinstance(kind, Table):
            return self.table(path, found, kind)
        if found is None or not isinstance(kind, Several):
            return found
        parts = [(at, self.value((*path, at), one, kind.of)) for at, one in enumerate(found)]
        return [(at, part) for at, part in parts if part is not None]

    def table(self, path: Path, table: Mapping[str, object], kind: Table) -> dict[str, Any]:
        """The keys of a table that are sound."""
        for name in list(table)[:50]:
            if name not in kind.keys:
                problem = f"there is no key “{plain(name, 30)}” here"
                self.fault((*path, name), problem, meant(name, kind.keys))
        sound: dict[str, Any] = {}
        for name, key in kind.keys.items():
            if name in table:
                found = self.value((*path, name), table[name], key.value)
                if found is not None:
                    sound[name] = found
            elif key.needed:
                remedy = kind.missing.format(key=name)
                if (*path, name) == ("kinds",):
                    remedy = f'Add a line such as: kinds = ["{kind_names()[0]}"]'
                self.fault((*path, name), "the key is missing", remedy)
        return sound

    def deck(self) -> Deck | None:
        """The deck of a file of its own."""
        form = FILE.keys["format"].value
        if self.read(("format",), form.read, self.said.get("format")) is None:
            return None
        sound = self.table((), self.said, FILE)
        fingerprint = sound.pop("fingerprint", None)
        del sound["format"]
        deck = self.deck_of(sound)
        if deck is not None and fingerprint not in (None, deck.fingerprint):
            self.fault(
                ("fingerprint",),
                "the deck has changed since it was packed",
                "Ask for the file again; if it is yours, pack it again.",
            )
        return deck

    def deck_of(self, sound: dict[str, Any]) -> Deck | None:
        """The deck of keys that are sound one by one; None, and faults, where they can't stand."""
        sound["kinds"] = self._kinds(sound.get("kinds", []))
        sound["families"] = self._families(sound.get("families", []), sound["kinds"])
        sound["targets"] = self._targets(sound.get("targets", []), sound["kinds"])
        sound["steps"] = self._steps(sound.get("steps", []), sound)
        sound |= self._difficulty(sound.pop("difficulty", {}))
        if "pencils" in sound:
            sound["pencils"] = self._pencils(sound["pencils"])
        return None if self.problems else Deck(**sound)

    def _kinds(self, words: Found) -> tuple[str, ...]:
        found = self._once("kinds", words)
        for place, name in found:
            # One from a package that isn't installed here is left for those who have it.
            if kind_of(name) is None and not package_of(name):
                problem = f"there is no drill kind “{plain(name)}”"
                self.fault(("kinds", place), problem, meant(name, kind_names()))
        return tuple(name for _, name in found)

    def _families(self, words: Found, kinds: tuple[str, ...]) -> tuple[str, ...]:
        found, all_here = self._once("families", words), all(map(kind_of, kinds))
        for place, name in found:
            # A kind that isn't here may have regions of its own.
            if all_here and not is_region(name, kinds):
                problem = f"there is no family “{plain(name)}”"
                self.fault(("families", place), problem, meant(name, region_names()))
        # Round the wheel, whatever order they were written in.
        order = {name: place for place, name in enumerate(families())}
        return tuple(sorted((name for _, name in found), key=lambda n: (order.get(n, 99), n)))

    def _once(self, key: str, words: Found) -> Found:
        """The words of a list, each once; a second of the same is a fault."""
        found: dict[str, int] = {}
        for place, name in words:
            if name in found:
                self.fault((key, place), f"“{plain(name)}” is there twice", "Take one out.")
            found.setdefault(name, place)
        return [(place, name) for name, place in found.items()]

    def _targets(self, tables: Found, kinds: tuple[str, ...]) -> tuple[Target, ...]:
        if not tables:
            return ()
        from decks.targets import target_of
        from drills.questions.given_colour import asks_about_given

        found: list[Target] = []
        for place, table in tables:
            if len(table) < 2:
                continue
            path: Path = ("targets", place)
            target = self.read(
                (*path, "colour"), partial(target_of, table["name"]), table["colour"]
            )
            if target is None:
                continue
            if target.name.casefold() in (other.name.casefold() for other in found):
                problem = f"“{target.name}” is the name of two targets"
                self.fault((*path, "name"), problem, "Give each its own name.")
            found.append(target)
        able = [name for name in kind_names() if asks_about_given(kind_of(name))]
        known = kinds and all(kind_of(name) for name in kinds)
        if found and known and not set(able) & set(kinds):
            problem = "none of the kinds can be asked about a given colour"
            self.fault(("kinds",), problem, f"Add one of: {', '.join(able)}.")
        return tuple(found)

    def _steps(self, tables: Found, sound: Mapping[str, Any]) -> tuple[Step, ...]:
        days = sound.get("days", Deck.days)
        found: list[Step] = []
        for place, table in tables:
            path: Path = ("steps", place)
            kinds = table.pop("kinds", [])
            for at, name in kinds:
                if name not in sound["kinds"]:
                    problem = f"“{plain(name)}” is none of the deck's kinds"
                    self.fault((*path, "kinds", at), problem, "Name it under kinds as well.")
            if table.get("day", 1) > days:
                problem = f"the step begins on day {table['day']} of {days}"
                self.fault((*path, "day"), problem, "Write an earlier day.")
            if table.get("picture"):
                from decks.lessons.pictures import look_over

                self.read((*path, "picture"), look_over, table["picture"])
            if "title" in table:
                found.append(Step(**table, kinds=tuple(name for _, name in kinds)))
        days_on = [step.day for step in found]
        if days_on != sorted(days_on):
            problem = "a step begins before the one above it"
            self.fault(("steps",), problem, "Put the steps in the order of their days.")
        return tuple(found)

    def _difficulty(self, bounds: dict[str, float]) -> dict[str, float]:
        low, high = (bounds.get(key, getattr(Deck, key)) for key in DIFFICULTY)
        if low > high:
            problem = "the easiest question is harder than the hardest"
            remedy = "Write the smaller number for easiest: 0 is easy, 1 is hard."
            self.fault(("difficulty",), problem, remedy)
        return bounds

    def _pencils(self, tables: Found) -> str:
        """Their canonical CSV; of no use after a fault."""
        given = self.said["pencils"]
        if not isinstance(given, list) or len(tables) < len(given):
            return ""  # A table among them is none: the rows would be counted wrongly.
        return pencils_of([table for _, table in tables], self.fault)
