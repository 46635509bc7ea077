"""The pencils for a picture, in words."""

from __future__ import annotations

from drills.basics.errors import plain
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of
from drills.layering.moves import move_words
from drills.layering.palette import Palette
from drills.planning.for_picture.pencils_for import PencilsFor, Reached
from drills.planning.plan import LIMITS_OF_MODEL


def summary(palette: Palette, found: PencilsFor) -> str:
    """How many pencils, and how near they come on the whole."""
    count = len(found.pencils)
    some = "one pencil" if count == 1 else f"{count} pencils"
    return (
        f"Of {plain(palette.set.name)} take out {some}. Were hand and model exact, the main "
        f"colours would be missed by ΔE00 {found.mean_miss:.1f} in the mean (each counts by the "
        f"root of its share). {LIMITS_OF_MODEL}"
    )


def layer_words(palette: Palette, one: Reached) -> str:
    """What to lay for a main colour, and what miss to expect."""
    if not one.moves:
        return f"Leave the paper bare: ΔE00 {one.miss:.1f} off."
    laid = "; ".join(plain(move_words(palette, move)) for move in one.moves)
    return f"{laid}. {one.likely.words()}"


def one_more_words(palette: Palette, found: PencilsFor) -> str:
    """What a further pencil of the set would bring."""
    more = found.one_more
    if more is None:
        return "No one more of your pencils would bring it visibly nearer."
    name = plain(palette.names[more.pencil])
    colour = read_colour(more.helps.lab)
    what = colour.family or "grey"
    most = f"the {colour.value_word} {what} {hex_of(more.helps.lab)}"
    return (
        f"One more, {name}, would bring that mean miss from {found.mean_miss:.1f} to "
        f"{more.mean_miss:.1f}; most {most}, from {more.before:.1f} to {more.after:.1f}."
    )
