"""Which drill kinds and regions there are, and what a misspelt one may have meant.

The kinds are imported only when a name is asked for: listing them loads numpy.
"""

from __future__ import annotations

from collections.abc import Collection
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING

from drills.basics.errors import plain

if TYPE_CHECKING:
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


@cache
def other_regions() -> tuple[str, ...]:
    """Regions other than hue families (greys, value bands), as the demo set offers them."""
    from drills.kinds import all_kinds
    from drills.layering.palette import prepare
    from drills.pencils.sets import demo_set

    palette = prepare(demo_set())
    found = {region for kind in all_kinds().values() for region in kind.regions(palette)}
    return tuple(sorted(found.difference(families())))


def is_region(name: str) -> bool:
    """Whether some drill kind can be asked about this region."""
    return name in families() or name in other_regions()


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
