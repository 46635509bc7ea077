"""The subject: colour, pencils, layering, and each kind of drill.

Nothing here knows a screen, a file of records, or what time it is. Randomness
comes in as a seeded generator. ``read_colour``, ``load_pencils`` and ``plan`` are for other
programs; they are loaded when they are first asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drills.public import load_pencils, plan, read_colour

__all__ = ["load_pencils", "plan", "read_colour"]

PART_OF = "coloured-pencil-coach"
"""Whose package this is: others of its name may lie beside it (``coach.__main__`` looks)."""


def __getattr__(name: str) -> object:
    if name in __all__:
        from drills import public

        return getattr(public, name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
