"""Questions about a given colour, for the kinds that can be asked about any.

Most kinds choose their own colours within a region. A kind that has
``make_for`` can also be asked about one colour: a teacher's target, a colour
from a photo.
"""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING, Protocol, TypeGuard, runtime_checkable

from drills.questions.protocol import Kind, Lab, Question

if TYPE_CHECKING:
    from drills.layering.palette import Palette


@runtime_checkable
class AsksAboutGiven(Kind, Protocol):
    """What a kind has beyond ``Kind`` when it can be asked about a given colour."""

    def make_for(self, palette: Palette, target: Lab, step: float, rng: random.Random) -> Question:
        """A question about ``target``, as 8 bits show it, near ``step``. Raises CannotAskError.

        Its region is that of ``region_of``.
        """
        ...


def region_of(target: Lab) -> str:
    """The hue family a colour reads as, or for a grey its value band, such as "dark greys"."""
    from drills.colour.hue import family
    from drills.colour.munsell import munsell_value
    from drills.colour.words import NEUTRAL_BELOW, strength, value_word

    if float(strength(target)) < NEUTRAL_BELOW:
        return f"{value_word(float(munsell_value(target)))} greys"
    return family(target)


def asks_about_given(kind: object) -> TypeGuard[AsksAboutGiven]:
    """Whether a kind can be asked about a given colour."""
    return isinstance(kind, AsksAboutGiven)


def draw_for(
    kind: AsksAboutGiven, palette: Palette, target: Lab, step: float, seed: int
) -> Question:
    """The question about ``target`` that this seed stands for. Raises CannotAskError."""
    return replace(kind.make_for(palette, target, step, random.Random(seed)), seed=seed)
