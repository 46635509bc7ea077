"""Everyday names that hide a colour's true family: brown, pink, olive, navy, beige …

To mix a brown you must see that it is an orange. Borders are common practice,
no source; the numbers are our estimate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class EverydayName:
    """A name and the place it holds.

    ``value`` is Munsell value from–to, ``strength`` about Munsell chroma from–to.
    """

    name: str
    families: frozenset[str]
    value: tuple[float, float]
    strength: tuple[float, float]


def _name(
    name: str,
    families: str,
    value: tuple[float, float] = (0.0, math.inf),
    strength: tuple[float, float] = (1.5, math.inf),
) -> EverydayName:
    return EverydayName(name, frozenset(families.split()), value, strength)


EVERYDAY: tuple[EverydayName, ...] = (
    _name("navy", "blue blue-violet", (0, 3), (1.5, 20)),
    _name("maroon", "red-violet red", (0, 3.5), (6.5, 14)),
    _name("brown", "red", (0, 4.2), (1.5, 7.5)),
    _name("brown", "red-orange orange yellow-orange", (0, 5), (1.5, 9.5)),
    _name("olive", "yellow yellow-green", (0, 6), (1.5, 9.5)),
    _name("ochre", "orange yellow-orange yellow", (5, 7.2), (7, 11)),
    _name("tan", "orange yellow-orange", (5, 7.2), (2, 7)),
    _name("cream", "yellow-orange yellow", (9.2, 10.1), (2.5, 5.5)),
    _name("beige", "orange yellow-orange yellow", (7.2, 10.1), (1.5, 4)),
    _name("peach", "orange", (7, 10.1), (3, 9)),
    _name("salmon", "red-orange", (6, 10.1), (5, 11)),
    _name("pink", "red-orange", (6.5, 10.1), (1.5, 5)),
    _name("pink", "red", (5.5, 10.1), (1.5, 12.5)),
    _name("pink", "red-violet", (5.5, 10.1)),
    _name("sage", "yellow-green green", (5, 7.5), (1.5, 4)),
    _name("mint", "green", (8, 10.1), (1.5, 5)),
    _name("teal", "blue-green", (0, 5.5), (3, math.inf)),
    _name("turquoise", "blue-green", (5.5, 10.1), (5, math.inf)),
    _name("sky blue", "blue", (6.5, 10.1), (4.5, math.inf)),
    _name("lavender", "blue-violet violet", (6.5, 10.1), (1.5, 12)),
    _name("plum", "violet red-violet", (0, 4), (3, 10)),
)


def everyday_name(family: str, value: float, strength: float) -> EverydayName | None:
    """The everyday name of a colour, the first that fits, or None."""
    for name in EVERYDAY:
        if (
            family in name.families
            and name.value[0] <= value < name.value[1]
            and name.strength[0] <= strength < name.strength[1]
        ):
            return name
    return None


def with_article(noun: str) -> str:
    """``noun`` after "a" or "an"."""
    return f"an {noun}" if noun[0] in "aeiou" else f"a {noun}"
