"""What a learner or a teacher may set: what is asked, how long, and how it is seen.

Settings live in the record. Each is read where it matters; this module names
them, turns them over, and says what a way of seeing withholds.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from drills.basics.json_values import JSON, names_in
from scores.record.record import Record
from scores.skill.skill_words import region_words, skill_name

if TYPE_CHECKING:
    from drills.colour.vision import Vision
    from scores.today.offers import Offers

VISIONS: tuple[Vision, ...] = ("usual", "red-weak", "green-weak", "blue-weak")
RETENTIONS = (0.8, 0.85, 0.9, 0.95)
"""Shares still remembered when a skill comes back: higher asks more often."""
HUE_UNITS = ("wheel steps", "of the cast", "C*ab")
"""Units of the drills whose answer is a hue."""


@dataclass(frozen=True)
class Setting:
    """One line of the settings: its key, what it is and how it stands."""

    key: str
    words: str
    state: str


def listed(record: Record, key: str) -> list[str]:
    """A setting that is a list of names."""
    return list(names_in(record.setting(key)))


def all_settings(record: Record, offers: Offers) -> tuple[Setting, ...]:
    """Every setting as it stands, in the order shown."""
    kinds_off, families_off = listed(record, "kinds_off"), listed(record, "families_off")
    withheld = len(listed(record, "skills_off"))
    vision = str(record.setting("vision", "usual"))
    state = vision if not withheld else f"{vision}, {withheld} withheld"
    untimed = record.setting("untimed") is True
    large = record.setting("large") is True
    sure = record.setting("sure") is True
    retention = record.setting("desired_retention", 0.9)
    regions = list(dict.fromkeys(region for _, region in offers.pairs))
    return (
        Setting("untimed", "Quickness", "counts for nothing" if untimed else "counts a little"),
        Setting("large", "Swatches, and things beside them", "larger, fewer" if large else "usual"),
        Setting("sure", "Say of an answer that you are sure", "asked for" if sure else "off"),
        Setting("retention", "Still remembered when a skill comes back", f"{retention:.0%}"),
        Setting("vision", "Colour vision", state),
        *(
            Setting(f"kind:{name}", facts.title, "off" if name in kinds_off else "on")
            for name, facts in offers.kinds.items()
        ),
        *(
            Setting(
                f"family:{region}",
                region_words(region).capitalize(),
                "off" if region in families_off else "on",
            )
            for region in regions
        ),
    )


def turn(record: Record, key: str, offers: Offers) -> None:
    """Turn one setting over to its next state. Raises NotSavedError."""
    what, _, name = key.partition(":")
    if what == "kind":
        _toggle(record, "kinds_off", name)
    elif what == "family":
        _toggle(record, "families_off", name)
    elif what in ("untimed", "large", "sure"):
        record.set_setting(what, record.setting(what) is not True)
    elif what == "retention":
        now = record.setting("desired_retention", 0.9)
        place = RETENTIONS.index(now) if now in RETENTIONS else 1
        record.set_setting("desired_retention", RETENTIONS[(place + 1) % len(RETENTIONS)])
    elif what == "vision":
        now = record.setting("vision", "usual")
        place = next((i for i, vision in enumerate(VISIONS) if vision == now), -1)
        vision = VISIONS[(place + 1) % len(VISIONS)]
        off: JSON = [*withheld_from(vision, offers)]
        record.set_setting("vision", vision)
        record.set_setting("skills_off", off)


def withheld_from(vision: Vision, offers: Offers) -> tuple[str, ...]:
    """The skills whose answer such an eye can't see: hues of families that pass for others.

    A drill of hue over a whole band (greys, say) is withheld once any family is lost.
    """
    from drills.colour.hue import FAMILIES
    from drills.colour.vision import lost_families

    lost = lost_families(vision)
    return tuple(
        skill_name(kind, region)
        for kind, region in offers.pairs
        if lost
        and offers.kinds[kind].unit in HUE_UNITS
        and (region in lost or region not in FAMILIES)
    )


def withheld_words(record: Record, offers: Offers) -> str:
    """Which skills the way of seeing withholds, by drill; nothing where none are."""
    by_kind: dict[str, list[str]] = {}
    for skill in listed(record, "skills_off"):
        kind, _, region = skill.partition(":")
        if kind in offers.kinds:
            by_kind.setdefault(offers.kinds[kind].title, []).append(region_words(region))
    lines = [f"{title}: {', '.join(regions)}" for title, regions in by_kind.items()]
    return "Withheld. " + "; ".join(lines) + "." if lines else ""


def _toggle(record: Record, key: str, name: str) -> None:
    names = listed(record, key)
    kept: JSON = [*(n for n in names if n != name), *([] if name in names else [name])]
    record.set_setting(key, kept)
