"""What the made-up learners are asked: every drill there is, of the invented pencils."""

from __future__ import annotations

from functools import cache

from coach.session.today_plan import work_out_offers
from drills.colour.hue import FAMILIES
from drills.kinds import all_kinds
from drills.layering.palette import Palette, prepare
from drills.pencils.sets import demo_set
from scores.today.offers import Offers

JUDGED = {"wheel steps": "hue", "of the cast": "hue", "ΔL*": "value", "ΔC*": "chroma"}
"""What a kind judges, by its unit; else it is colour as a whole."""
MADE = "make-the-match"


@cache
def palette() -> Palette:
    """The invented pencils."""
    return prepare(demo_set())


@cache
def offers() -> Offers:
    """Every drill, with the regions it has for the invented pencils; those of ours alone."""
    ours = {name: kind for name, kind in all_kinds().items() if "." not in name}
    return work_out_offers(palette(), ours)


def judged(kind: str) -> str:
    """What a kind judges: value, hue, chroma or colour."""
    return JUDGED.get(offers().kinds[kind].unit, "colour")


def of_the_eye(skill: str) -> bool:
    """Whether a skill has a threshold of sight; a card to remember has none."""
    return offers().kinds[skill.partition(":")[0]].of_the_eye


def beside(skill: str) -> tuple[str, ...]:
    """The skills of the neighbouring families, where there are any."""
    kind, _, region = skill.partition(":")
    if region not in FAMILIES:
        return ()
    place = FAMILIES.index(region)
    near = (f"{kind}:{FAMILIES[(place + turn) % 12]}" for turn in (-1, 1))
    return tuple(name for name in near if name in _skills())


@cache
def _skills() -> frozenset[str]:
    return frozenset(offers().skills)
