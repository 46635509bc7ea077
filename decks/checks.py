"""From what a file says to a deck, or to all that is wrong with it.

The shape is that of ``deck.schema.json``; beyond it, colours must be colours,
kinds and regions must exist, and what the keys say together must make sense.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeVar

from decks import deck_limits as limits
from decks.deck import Deck, Target
from decks.deck_pencils import pencils_of
from decks.fields import (
    FaultError,
    as_day,
    as_list,
    as_share,
    as_table,
    as_text,
    as_whole,
    as_word,
)
from decks.problems import Problem
from decks.toml_lines import Path, line_for
from decks.vocabulary import families, is_region, kind_names, kind_of, meant, region_names
from drills.basics.errors import plain
from drills.outside import package_of

T = TypeVar("T")

KEYS = (
    *("format", "title", "author", "purpose", "note", "kinds", "families", "targets"),
    *("difficulty", "items_a_day", "days", "due", "pass_level", "pencils", "fingerprint"),
)
TARGET_KEYS = ("name", "colour")
DIFFICULTY_KEYS = ("easiest", "hardest")


def check(
    said: Mapping[str, object], lines: Mapping[Path, int]
) -> tuple[Deck | None, list[Problem]]:
    """The deck that a file's content stands for, or None, and its problems by line.

    ``lines`` gives a line for each path, for the problems.
    """
    checker = _Checker(said, dict(lines))
    deck = checker.deck()
    return (None if checker.problems else deck), sorted(checker.problems)


class _Checker:
    def __init__(self, said: Mapping[str, object], lines: dict[Path, int]) -> None:
        self.said = said
        self.lines = lines
        self.problems: list[Problem] = []

    def fault(self, path: Path, problem: str, remedy: str) -> None:
        key = ""
        for part in path:
            key += f"[{part + 1}]" if isinstance(part, int) else f".{plain(part, 30)}"
        self.problems.append(Problem(line_for(self.lines, path), key.lstrip("."), problem, remedy))

    def read(self, path: Path, value: object, reader: Callable[[object], T]) -> T | None:
        try:
            return reader(value)
        except FaultError as fault:
            self.fault(path, fault.problem, fault.remedy)
            return None

    def field(self, key: str, reader: Callable[[object], T], default: T | None = None) -> T:
        """A key's value; without a default the key must be there.

        After a fault something of no use is returned: no deck comes of it.
        """
        if key in self.said:
            found = self.read((key,), self.said[key], reader)
            return found if found is not None else default  # type: ignore[return-value]
        if default is None:
            self.fault((key,), "the key is missing", f"Add a line that begins: {key} =")
        return default  # type: ignore[return-value]

    def unknown(self, table: Mapping[str, object], known: tuple[str, ...], at: Path) -> None:
        for key in list(table)[:50]:
            if key not in known:
                problem = f"there is no key “{plain(key, 30)}” here"
                self.fault((*at, key), problem, meant(key, known))

    def deck(self) -> Deck | None:
        if not self._format():
            return None
        self.unknown(self.said, KEYS, ())
        title = self.field("title", lambda v: as_text(v, limits.TITLE))
        author = self.field("author", lambda v: as_text(v, limits.AUTHOR))
        purpose = self.field("purpose", lambda v: as_text(v, limits.PURPOSE, empty=True), "")
        note = self.field("note", lambda v: as_text(v, limits.NOTE, lines=True, empty=True), "")
        kinds = self._kinds()
        regions = self._families(all(map(kind_of, kinds)))
        targets = self._targets(kinds)
        easiest, hardest = self._difficulty()
        items = self.field(
            "items_a_day", lambda v: as_whole(v, limits.ITEMS_A_DAY), limits.DEFAULT_ITEMS_A_DAY
        )
        days = self.field("days", lambda v: as_whole(v, limits.DAYS), limits.DEFAULT_DAYS)
        due = self.read(("due",), self.said["due"], as_day) if "due" in self.said else None
        level = self.field(
            "pass_level", lambda v: as_share(v, limits.PASS_LEVEL), limits.DEFAULT_PASS_LEVEL
        )
        pencils = pencils_of(self.said["pencils"], self.fault) if "pencils" in self.said else ""
        if self.problems:
            return None
        deck = Deck(
            title=title,
            author=author,
            kinds=kinds,
            purpose=purpose,
            note=note,
            families=regions,
            targets=targets,
            pencils=pencils,
            easiest=easiest,
            hardest=hardest,
            items_a_day=items,
            days=days,
            due=due,
            pass_level=level,
        )
        self._fingerprint(deck)
        return deck

    def _format(self) -> bool:
        """Whether the file is of this format; a newer one's keys would only be misread."""
        value = self.said.get("format")
        if isinstance(value, int) and not isinstance(value, bool) and value > limits.FORMAT:
            self.fault(("format",), "the deck was made for a newer coach", "Update the coach.")
            return False
        if value != limits.FORMAT or isinstance(value, bool):
            problem = "the format is missing" if value is None else "there is no such format"
            self.fault(("format",), problem, f"Write: format = {limits.FORMAT}")
            return False
        return True

    def _kinds(self) -> tuple[str, ...]:
        found = self._words("kinds", limits.MAX_KINDS, "drill kinds", least=1)
        for place, name in found:
            # One from a package that isn't installed here is left for those who have it.
            if kind_of(name) is None and not package_of(name):
                problem = f"there is no drill kind “{plain(name)}”"
                self.fault(("kinds", place), problem, meant(name, kind_names()))
        if "kinds" not in self.said:
            remedy = f'Add a line such as: kinds = ["{kind_names()[0]}"]'
            self.fault(("kinds",), "the key is missing", remedy)
        return tuple(name for _, name in found)

    def _families(self, all_here: bool) -> tuple[str, ...]:
        found = self._words("families", limits.MAX_FAMILIES, "families")
        for place, name in found:
            # A kind that isn't here may have regions of its own.
            if all_here and not is_region(name):
                problem = f"there is no family “{plain(name)}”"
                remedy = meant(name, region_names())
                self.fault(("families", place), problem, remedy)
        # Round the wheel, whatever order they were written in.
        order = {name: place for place, name in enumerate(families())}
        return tuple(sorted((name for _, name in found), key=lambda n: (order.get(n, 99), n)))

    def _words(self, key: str, longest: int, what: str, least: int = 0) -> list[tuple[int, str]]:
        if key not in self.said:
            return []
        values = self.read((key,), self.said[key], lambda v: as_list(v, longest, what, least))
        found: list[tuple[int, str]] = []
        for place, value in enumerate(values or []):
            name = self.read((key, place), value, as_word)
            if name is None:
                continue
            if name in (other for _, other in found):
                self.fault((key, place), f"“{plain(name)}” stands there twice", "Take one out.")
            else:
                found.append((place, name))
        return found

    def _targets(self, kinds: tuple[str, ...]) -> tuple[Target, ...]:
        from drills.questions.given_colour import asks_about_given

        if "targets" not in self.said:
            return ()
        values = self.read(
            ("targets",),
            self.said["targets"],
            lambda v: as_list(v, limits.MAX_TARGETS, "target colours"),
        )
        found: list[Target] = []
        for place, value in enumerate(values or []):
            target = self._target(("targets", place), value)
            if target is None:
                continue
            if target.name.casefold() in (other.name.casefold() for other in found):
                problem = f"“{target.name}” is the name of two targets"
                self.fault(("targets", place, "name"), problem, "Give each its own name.")
            found.append(target)
        able = [name for name in kind_names() if asks_about_given(kind_of(name))]
        known = kinds and all(kind_of(name) for name in kinds)
        if found and known and not set(able) & set(kinds):
            problem = "none of the kinds can be asked about a given colour"
            self.fault(("kinds",), problem, f"Add one of: {', '.join(able)}.")
        return tuple(found)

    def _target(self, path: Path, value: object) -> Target | None:
        from decks.targets import target_of

        table = self.read(path, value, as_table)
        if table is None:
            return None
        self.unknown(table, TARGET_KEYS, path)
        parts: dict[str, str] = {}
        for key, longest in (("name", limits.TARGET_NAME), ("colour", limits.COLOUR)):
            if key not in table:
                remedy = 'Write name = "…" and colour = "#c06030" under [[targets]].'
                self.fault((*path, key), "the key is missing", remedy)
                continue
            text = self.read((*path, key), table[key], partial(as_text, longest=longest))
            if text is not None:
                parts[key] = text
        if len(parts) < 2:
            return None
        return self.read(
            (*path, "colour"), parts["colour"], lambda _: target_of(parts["name"], parts["colour"])
        )

    def _difficulty(self) -> tuple[float, float]:
        if "difficulty" not in self.said:
            return 0.0, 1.0
        table = self.read(("difficulty",), self.said["difficulty"], as_table)
        if table is None:
            return 0.0, 1.0
        self.unknown(table, DIFFICULTY_KEYS, ("difficulty",))
        ends = [0.0, 1.0]
        for place, key in enumerate(DIFFICULTY_KEYS):
            if key in table:
                path: Path = ("difficulty", key)
                share = self.read(path, table[key], lambda v: as_share(v, (0.0, 1.0)))
                ends[place] = ends[place] if share is None else share
        if ends[0] > ends[1]:
            problem = "the easiest question is harder than the hardest"
            remedy = "Write the smaller number for easiest: 0 is easy, 1 is hard."
            self.fault(("difficulty",), problem, remedy)
        return ends[0], ends[1]

    def _fingerprint(self, deck: Deck) -> None:
        if "fingerprint" in self.said and self.said["fingerprint"] != deck.fingerprint:
            self.fault(
                ("fingerprint",),
                "the deck has changed since it was packed",
                "Ask for the file again; if it is yours, pack it again.",
            )
