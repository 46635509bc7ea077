"""From what a course's file says to a course, or to all that is wrong with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from decks.checks import Checker
from decks.courses.course import Course, CourseDeck, Level
from decks.courses.form import DECK, DECKS, FILE_OF_COURSE
from decks.problems import Problem
from decks.toml_text.lines import Path
from decks.vocabulary import meant
from drills.basics.errors import plain

_AGAIN = "Ask for the file again; if it is yours, pack it again."


def check_course(
    said: Mapping[str, object], lines: Mapping[Path, int]
) -> tuple[Course | None, list[Problem]]:
    """The course that a file's content stands for, or None, and its problems by line."""
    top = Checker(said, lines)
    version = FILE_OF_COURSE.keys["format"].value
    if top.read(("format",), version.read, said.get("format")) is None:
        return None, top.problems
    sound = top.table((), {key: said[key] for key in said if key != "decks"}, FILE_OF_COURSE)
    tables = top.read(("decks",), DECKS.read, said.get("decks", [])) or []
    decks = _decks(top, tables, str(sound.get("author", "")))
    levels = _levels(top, sound.pop("levels", []))
    fingerprint = sound.pop("fingerprint", None)
    del sound["format"]
    level = sound.get("level", "")
    if level and level not in (one.name for one in levels):
        problem = f"there is no level “{plain(level, 40)}”"
        there = ", ".join(one.name for one in levels) or "none"
        top.fault(("level",), problem, f"The levels are: {there}.")
    if top.problems:
        return None, sorted(top.problems)
    course = Course(**sound, decks=tuple(decks), levels=levels)
    if fingerprint not in (None, course.fingerprint):
        top.fault(("fingerprint",), "the course has changed since it was packed", _AGAIN)
        return None, top.problems
    return course, []


def _decks(top: Checker, tables: Sequence[object], author: str) -> list[CourseDeck]:
    found: list[CourseDeck] = []
    above: list[str] = []
    titles: set[str] = set()
    every = [one["name"] for one in tables if isinstance(one, dict) and _named(one)]
    for at, table in enumerate(tables):
        path: Path = ("decks", at)
        said = top.read(path, DECK.read, table)
        if said is None:
            continue
        inside = Checker(said, top.lines, path)
        sound = inside.table((), said, DECK)
        name = sound.pop("name", "")
        needs = tuple(one for _, one in sound.pop("needs", ())) if "needs" in said else None
        for place, needed in enumerate(needs or ()):
            if needed in (needs or ())[:place]:
                inside.fault(("needs", place), f"“{needed}” is there twice", "Take one out.")
            _look_at_need(inside, place, needed, name, above, every)
        if name and name in above:
            inside.fault(("name",), f"“{name}” is the name of two decks", "Give each its own.")
        title = str(sound.get("title", "")).casefold()
        if title and title in titles:
            inside.fault(("title",), "two decks have this title", "Give each its own.")
        deck = inside.deck_of({**sound, "author": author})
        if deck is not None:
            found.append(CourseDeck(name, tuple(above[-1:]) if needs is None else needs, deck))
        above += [name] if name else []
        titles.add(title)
        top.problems += inside.problems
    return found


def _named(table: Mapping[str, object]) -> bool:
    return isinstance(table.get("name"), str)


def _look_at_need(
    inside: Checker, place: int, needed: str, name: str, above: Sequence[str], every: Sequence[str]
) -> None:
    """A deck may need those above it alone, so that no circle can keep decks shut."""
    if needed in above:
        return
    path: Path = ("needs", place)
    if needed in every:
        problem = f"“{plain(name)}” needs “{needed}”, which does not come before it"
        remedy = "Put what is needed above; decks that wait for each other never open."
        inside.fault(path, problem, remedy)
    else:
        problem = f"the course has no deck “{needed}”"
        inside.fault(path, problem, meant(needed, above) if above else "Nothing stands above it.")


def _levels(top: Checker, tables: Sequence[tuple[int, dict[str, Any]]]) -> tuple[Level, ...]:
    found: list[Level] = []
    for at, table in tables:
        if "name" not in table:
            continue
        if table["name"].casefold() in (one.name.casefold() for one in found):
            problem = f"“{table['name']}” is the name of two levels"
            top.fault(("levels", at, "name"), problem, "Give each its own.")
        found.append(Level(**table))
    return tuple(found)
