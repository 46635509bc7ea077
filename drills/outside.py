"""Kinds of drill that other packages bring, found by the entry-point group ``coach.kinds``.

An entry's name is the kind's, its value names an object as ``drills.questions.protocol.Kind``
has it. In the record it is called ``package-name.kind-name``, which no kind of ours can be.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, cast

from drills.basics.errors import plain

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

    from drills.questions.protocol import Kind

GROUP = "coach.kinds"
NAME = re.compile(r"(?=.{3,40}$)([a-z][a-z0-9-]*)\.[a-z][a-z0-9-]*")
"""A kind from outside, as records and decks call it; its package comes first."""

_TYPES: dict[str, type | tuple[type, ...]] = {
    **dict.fromkeys(("title", "trains", "unit"), str),
    **dict.fromkeys(("seconds", "chance"), (int, float)),
    **{"version": int, "needs_colour": bool, "of_the_eye": bool, "steps": tuple},
}
_METHODS = ("regions", "make", "ask", "grade", "reveal")


def package_of(kind: str) -> str | None:
    """The package that a kind's name says it is from; None for a kind of ours."""
    found = NAME.fullmatch(kind)
    return found[1] if found else None


def installed() -> tuple[str, ...]:
    """Name and version of each package that brings kinds. Reads its folder, imports nothing."""
    # importlib.metadata takes longer to load than the first screen has time for.
    found = set()
    for folder in sys.path:
        for file in Path(folder).glob("*.dist-info/entry_points.txt"):
            try:
                text = file.read_text(encoding="utf-8", errors="replace")
            except OSError:
                continue
            if f"[{GROUP}]" in text:
                found.add(file.parent.name)
    return tuple(sorted(found))


def lacking(kinds: Iterable[str]) -> tuple[str, ...]:
    """The packages after which kinds are named and that are not installed. As light."""
    named = {package for kind in kinds if (package := package_of(kind))}
    if named:
        named -= {_compared(folder.partition("-")[0]) for folder in installed()}
    return tuple(sorted(named))


@cache
def outside_kinds() -> tuple[dict[str, Kind], tuple[str, ...]]:
    """The kinds that can be used, by name; and of each other, in a line, which and why not."""
    kinds: dict[str, Kind] = {}
    faults: list[str] = []
    for name, entry in _entries():
        try:
            kind = entry.load()
            fault = "it is there twice" if name in kinds else fault_of(kind, name)
        except (Exception, SystemExit) as error:
            fault = f"it can't be loaded: {type(error).__name__}: {error}"
        if fault:
            faults.append(plain(f"{name}: {fault}", 200))
        else:
            kinds[name] = cast("Kind", kind)
    return kinds, tuple(faults)


def _entries() -> Iterator[tuple[str, EntryPoint]]:
    """What is installed, by the name that each kind must have, in order."""
    if not installed():
        return
    from importlib.metadata import entry_points

    for entry in sorted(entry_points(group=GROUP), key=lambda entry: (entry.name, entry.value)):
        yield f"{_compared(entry.dist.name if entry.dist else '')}.{entry.name}", entry


def _compared(package: str) -> str:
    """A package's name as names are compared, whatever letters and signs it is written with."""
    return re.sub(r"[-_.]+", "-", package).lower()


def fault_of(kind: object, name: str) -> str:
    """Why an object can't be the kind of this name; empty where it can."""
    if not NAME.fullmatch(name):
        return "a name is a package's and a kind's in small letters, 40 characters at most"
    if getattr(kind, "name", None) != name:
        return f"its name must be {name}"
    for key, wanted in _TYPES.items():
        if not isinstance(getattr(kind, key, None), wanted):
            return f"its {key} is missing or of a wrong type"
    for key in _METHODS:
        if not callable(getattr(kind, key, None)):
            return f"it has no {key}()"
    return ""
