"""The first question that a kind gives with some pencils."""

from __future__ import annotations

from contextlib import suppress

from drills.kinds import draw
from drills.layering.palette import Palette
from drills.questions.protocol import CannotAskError, Kind, Question


def first_question(kind: Kind, palette: Palette) -> Question:
    """The first that these pencils allow."""
    for seed, region in enumerate(kind.regions(palette)):
        with suppress(CannotAskError):
            return draw(kind, palette, region, kind.steps[0], seed)
    raise LookupError(kind.name)
