"""Everyday names that hide a colour's true family: brown, pink, olive, navy, beige …

To mix a brown you must see that it is an orange. Borders are common practice,
no source; the numbers are our estimate.
"""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True)
class EverydayName:
    """A name, what it says of its family, and the place it holds.

    ``value`` is Munsell value from–to, ``strength`` about Munsell chroma from–to.
    """

    name: str
    is_a: str
    families: frozenset[str]
    value: tuple[float, float]
    strength: tuple[float, float]


def _name(
    name: str,
    is_a: str,
    families: str,
    value: tuple[float, float] = (0.0, math.inf),
    strength: tuple[float, float] = (1.5, math.inf),
) -> EverydayName:
    return EverydayName(name, is_a, frozenset(families.split()), value, strength)


EVERYDAY: tuple[EverydayName, ...] = (
    _name("navy", "very dark", "blue blue-violet", (0, 3), (1.5, 20)),
    _name("maroon", "dark", "red-violet red", (0, 3.5), (6.5, 14)),
    _name("brown", "dark, dull", "red", (0, 4.2), (1.5, 7.5)),
    _name("brown", "dark, dull", "red-orange orange yellow-orange", (0, 5), (1.5, 9.5)),
    _name("olive", "dark, dull", "yellow yellow-green", (0, 6), (1.5, 9.5)),
    _name("ochre", "dull", "orange yellow-orange yellow", (5, 7.2), (7, 11)),
    _name("tan", "dull", "orange yellow-orange", (5, 7.2), (2, 7)),
    _name("cream", "very light, dull", "yellow-orange yellow", (9.2, 10.1), (2.5, 5.5)),
    _name("beige", "light, dull", "orange yellow-orange yellow", (7.2, 10.1), (1.5, 4)),
    _name("peach", "light", "orange", (7, 10.1), (3, 9)),
    _name("salmon", "light", "red-orange", (6, 10.1), (5, 11)),
    _name("pink", "light", "red-orange", (6.5, 10.1), (1.5, 5)),
    _name("pink", "light", "red", (5.5, 10.1), (1.5, 12.5)),
    _name("pink", "light", "red-violet", (5.5, 10.1)),
    _name("sage", "dull", "yellow-green green", (5, 7.5), (1.5, 4)),
    _name("mint", "light, dull", "green", (8, 10.1), (1.5, 5)),
    _name("teal", "dark", "blue-green", (0, 5.5), (3, math.inf)),
    _name("turquoise", "light", "blue-green", (5.5, 10.1), (5, math.inf)),
    _name("sky blue", "light", "blue", (6.5, 10.1), (4.5, math.inf)),
    _name("lavender", "light", "blue-violet violet", (6.5, 10.1), (1.5, 12)),
    _name("plum", "dark", "violet red-violet", (0, 4), (3, 10)),
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
