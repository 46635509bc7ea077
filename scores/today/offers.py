"""What can be asked at all: the kinds' fixed facts, and the regions each has for these pencils.

Working this out needs the pencils' spectra, so it is kept with the settings: the
first screen plans from the kept copy and imports nothing heavy.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from typing import Any

from drills.basics.json_values import JSON, as_json, from_json
from scores.skill.skill_words import skill_name


@dataclass(frozen=True)
class KindFacts:
    """What a plan needs to know of a kind; see ``drills.questions.protocol.Kind`` for each.

    ``of_the_eye`` is False for a card to remember, which has no threshold of sight.
    """

    name: str
    version: int
    title: str
    seconds: float
    unit: str
    steps: tuple[float, float]
    chance: float
    needs_colour: bool
    of_the_eye: bool = True


@dataclass(frozen=True)
class Offers:
    """The kinds by name, and every (kind, region) that can be asked."""

    kinds: Mapping[str, KindFacts]
    pairs: tuple[tuple[str, str], ...]

    @property
    def skills(self) -> tuple[str, ...]:
        return tuple(skill_name(kind, region) for kind, region in self.pairs)

    def only(
        self,
        *,
        colour: bool = True,
        without_kinds: Collection[str] = (),
        without_regions: Collection[str] = (),
        without_skills: Collection[str] = (),
    ) -> Offers:
        """The offers left over: ``colour`` False drops kinds that need 24-bit colour."""
        pairs = tuple(
            (kind, region)
            for kind, region in self.pairs
            if kind in self.kinds
            and (colour or not self.kinds[kind].needs_colour)
            and kind not in without_kinds
            and region not in without_regions
            and skill_name(kind, region) not in without_skills
        )
        return Offers(self.kinds, pairs)

    def as_json(self) -> dict[str, JSON]:
        return {"kinds": as_json(list(self.kinds.values())), "pairs": as_json(self.pairs)}


def offers_from_json(value: Any) -> Offers | None:
    """The offers kept as JSON; None when they are not of this shape."""
    try:
        kinds = from_json(tuple[KindFacts, ...], value["kinds"])
        pairs = from_json(tuple[tuple[str, str], ...], value["pairs"])
    except (KeyError, TypeError, ValueError):
        return None
    return Offers({facts.name: facts for facts in kinds}, pairs)


def offers_in(kept: JSON) -> Offers | None:
    """The offers in the setting that keeps them, of whichever pencils and drills they are."""
    return offers_from_json(kept.get("offers")) if isinstance(kept, dict) else None
