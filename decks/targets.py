"""A named target colour: what its text means, and the region it lies in."""

from __future__ import annotations

from decks.deck import Target
from decks.fields import FaultError
from drills.basics.errors import InputError


def target_of(name: str, colour: str) -> Target:
    """The target of a name and a colour as written. Raises FaultError."""
    from drills.colour.parse import parse_colour
    from drills.colour.spaces import in_screen_gamut
    from drills.questions.given_colour import region_of

    try:
        lab = parse_colour(colour)
    except InputError as error:
        raise FaultError(error.problem, error.remedy) from None
    if not bool(in_screen_gamut(lab)):
        raise FaultError("no screen shows this colour", "Name a duller one.")
    return Target(name, colour, lab, region_of(lab))
