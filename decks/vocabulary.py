"""Which drill kinds and regions there are, and what a misspelt one may have meant.

The kinds are imported only when a name is asked for: listing them loads numpy.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING

from drills.basics.errors import plain

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind


def kind_of(name: str) -> Kind | None:
    """The drill kind of a name, None if there is none."""
    from drills.kinds import all_kinds

    return all_kinds().get(name)


def kind_names() -> tuple[str, ...]:
    """Every drill kind's name."""
    from drills.kinds import all_kinds

    return tuple(all_kinds())


@cache
def families() -> tuple[str, ...]:
    """The twelve hue families, round the wheel."""
    from drills.colour.hue import FAMILIES

    return FAMILIES


def regions_of(kind: str) -> tuple[str, ...]:
    """The regions that a drill kind offers of the demo set."""
    from decks.tasks import regions_offered
    from drills.kinds import all_kinds

    return regions_offered(all_kinds()[kind], _demo_palette())


@cache
def other_regions() -> tuple[str, ...]:
    """Regions other than hue families (greys, value bands), as the demo set offers them."""
    found = {region for kind in kind_names() for region in regions_of(kind)}
    return tuple(sorted(found.difference(families())))


def is_region(name: str, likely: Iterable[str] = ()) -> bool:
    """Whether some drill kind can be asked about this region.

    The kinds that ``likely`` names are looked at first: a deck's families are most often those
    of its own kinds, and to ask all kinds takes seconds.
    """
    if name in families():
        return True
    known = kind_names()
    first = [kind for kind in likely if kind in known]
    rest = [kind for kind in known if kind not in first]
    return any(name in regions_of(kind) for kind in (*first, *rest))


@cache
def _demo_palette() -> Palette:
    from drills.layering.palette import prepare
    from drills.pencils.sets import demo_set

    return prepare(demo_set())


def region_names() -> tuple[str, ...]:
    """Every region: the families round the wheel, then the others."""
    return families() + other_regions()


def meant(name: str, names: Collection[str]) -> str:
    """The remedy for a name that is none of ``names``: the likeliest, else all of them."""
    word = "-".join(name.lower().replace("_", " ").split())[:100]
    tries = [name, word, word.removesuffix("s"), "-".join(reversed(word.split("-")))]
    for tried in tries:
        near = get_close_matches(tried, list(names), n=1, cutoff=0.7)
        if near:
            return f"Did you mean {plain(near[0])}?"
    return f"There are: {', '.join(sorted(names))}."
