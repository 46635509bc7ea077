"""Every rule of the craft, broken alone, beside the nearest moves that keep it.

The rules are common practice, no source. Delete one, and its example here is told to be
without fault; loosen one, and the other half of the pair says so.
"""

from __future__ import annotations

from functools import cache

import pytest

from drills.layering import craft_faults
from drills.layering.craft_faults import broken_rules as broken_on_paper
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
from drills.layering.palette import Palette, prepare
from drills.pencils.sets import demo_set
from drills.planning import rules
from drills.planning.rules import broken_rules

PRESSURES = {"light": LIGHT, "middle": MIDDLE, "firm": FIRM}

# The rule, the target (Lab), moves that break it and nothing else, and moves that don't.
EXAMPLES = (
    (
        "AFTER_BURNISH",
        (31, 2, -30),
        "Pilotcoat Navy light; Pilotcoat Navy firm; burnish; blend light",
        "Pilotcoat Navy light; Pilotcoat Navy firm; burnish",
    ),
    (
        "BLACK_HEAVY",
        (43, -11, -6),
        "Copperhull light; Coalhulk firm; Copperhull firm",
        "Copperhull light; Copperhull firm",
    ),
    (
        "BLEND_EARLY",
        (57, 25, -20),
        "Heatherholm Haze light; blend light; Heatherholm Haze firm",
        "Heatherholm Haze light; Heatherholm Haze firm",
    ),
    (
        "BLEND_HARD",
        (53, -10, 23),
        "Eelgrass Hard light; Eelgrass Hard firm; blend firm; Sandhopper Lane firm",
        "Eelgrass Hard light; Eelgrass Hard firm; Sandhopper Lane firm",
    ),
    (
        "BLEND_LAST",
        (55, 0, 5),
        "Mudhard Grey middle; Skerrysky light; Mudhard Grey middle; blend light",
        "Mudhard Grey middle; Skerrysky light; Mudhard Grey middle",
    ),
    (
        "BLEND_MUTER",
        (83, 5, 77),
        "Oilskin Row light; Heatherholm Haze light; blend light; Oilskin Row firm",
        "Oilskin Row light; Heatherholm Haze light; Oilskin Row firm",
    ),
    (
        "BLEND_THEN_MUTE",
        (60, -28, -16),
        "Lagoonlatch light; Lagoonlatch light; blend light; Flagloft Red light; Lagoonlatch firm",
        "Lagoonlatch light; Lagoonlatch light; Flagloft Red light; Lagoonlatch firm",
    ),
    (
        "BLEND_THEN_MUTE",
        (74, -5, -11),
        "Skerrysky light; Skerrysky light; blend light; Lobsterpot Quay light; Skerrysky middle",
        "Skerrysky light; Skerrysky light; Lobsterpot Quay light; Skerrysky middle",
    ),
    (
        "BLEND_TWICE",
        (30, -5, 3),
        "Kelpstair Olive middle; Kelpstair Olive firm; blend light; blend light;"
        " Wetslate Roof firm",
        "Kelpstair Olive middle; Kelpstair Olive firm; blend light; Wetslate Roof firm",
    ),
    (
        "BURNISH_EARLY",
        (70, -9, -25),
        "Skerrysky firm; burnish",
        "Skerrysky firm",
    ),
    (
        "BURNISH_HAZE",
        (43, 16, 23),
        "Peatcutter middle; Peatcutter middle; blend light; burnish",
        "Peatcutter middle; Peatcutter middle; burnish",
    ),
    (
        "FIRM_FIRST",
        (39, -1, -8),
        "Squallwatch Grey firm; Squallwatch Grey firm",
        "Squallwatch Grey firm",
    ),
    (
        "IDLE",
        (83, -2, 36),
        "Gorsewick Dawn middle; Sandhopper Lane middle; Gorsewick Dawn firm",
        "Sandhopper Lane middle; Gorsewick Dawn firm",
    ),
    (
        "LIGHTER_LATE",
        (32, -5, -5),
        "Copperhull light; Tarbarrel Slip light; Wetslate Roof middle; Wetslate Roof firm;"
        " Copperhull light",
        "Copperhull light; Tarbarrel Slip light; Wetslate Roof middle; Copperhull light",
    ),
    (
        "MUTED_TWICE",
        (68, -18, 14),
        "Eelgrass Hard middle; Heatherholm Haze light; Winterberry Stair light;"
        " Eelgrass Hard light",
        "Eelgrass Hard middle; Winterberry Stair light; Eelgrass Hard light",
    ),
    (
        "MUTER_BARE",
        (89, -8, -19),
        "Skerrysky middle; Lobsterpot Quay light",
        "Skerrysky middle",
    ),
    (
        "MUTER_HEAVY",
        (52, 9, 5),
        "Winterberry Stair light; Copperhull middle; Winterberry Stair middle; Peatcutter light",
        "Winterberry Stair light; Winterberry Stair middle; Peatcutter light",
    ),
    (
        "NOT_NEAR",
        (87, -4, 54),
        "Eelgrass Hard light; Harbourlamp Glow light; Harbourlamp Glow middle",
        "Harbourlamp Glow light; Harbourlamp Glow middle",
    ),
    (
        "PALE_OVER_DARK",
        (38, -6, 17),
        "Marramtip Green light; Tarbarrel Slip firm; Marramtip Green firm",
        "Marramtip Green light; Marramtip Green firm",
    ),
    (
        "STRAY",
        (36, 0, -23),
        "Ferrymark Blue middle; Thriftbank Pink firm; Ferrymark Blue firm",
        "Ferrymark Blue middle; Ferrymark Blue firm",
    ),
    (
        "THREE_FIRM",
        (36, -4, 24),
        "Sandhopper Lane light; Sandhopper Lane firm; Kelpstair Olive firm; Kelpstair Olive firm",
        "Sandhopper Lane light; Kelpstair Olive firm; Kelpstair Olive firm",
    ),
    (
        "THREE_RUNNING",
        (81, 4, 99),
        "Oilskin Row light; Oilskin Row firm; Oilskin Row firm; burnish",
        "Oilskin Row light; Oilskin Row firm; burnish",
    ),
    (
        "WHITE_AND_BLACK",
        (73, 0, -1),
        "Mudhard Grey light; Coalhulk light; Gullfeather middle",
        "Mudhard Grey light; Coalhulk light",
    ),
)

# On the paper alone, whatever the target: the planner's rules say these too, in their own words.
ON_PAPER = (
    ("BLEND_BARE", "blend light; Flagloft Red light", "Flagloft Red light"),
    (
        "OVERFULL",
        "Flagloft Red firm; Flagloft Red firm; Flagloft Red firm; Flagloft Red firm;"
        " Flagloft Red firm; Flagloft Red firm; Flagloft Red firm",
        "Flagloft Red firm; Flagloft Red firm",
    ),
)


@cache
def demo() -> Palette:
    return prepare(demo_set())


def moves(words: str) -> list[Move]:
    """Moves as they are written above."""
    made = []
    for one in words.split("; "):
        name, _, pressure = one.rpartition(" ")
        if one == "burnish":
            made.append(Move("burnish"))
        elif name == "blend":
            made.append(Move("blend", -1, PRESSURES[pressure]))
        else:
            made.append(Move("lay", demo().names.index(name), PRESSURES[pressure]))
    return made


def words_of(name: str) -> str:
    return str(getattr(rules, name, None) or getattr(craft_faults, name))


def test_every_rule_has_its_example() -> None:
    named = {
        name
        for module in (rules, craft_faults)
        for name, value in vars(module).items()
        if name.isupper() and isinstance(value, str) and not name.startswith("_")
    }
    assert {row[0] for row in EXAMPLES} | {row[0] for row in ON_PAPER} == named


@pytest.mark.parametrize(("rule", "target", "breaks", "keeps"), EXAMPLES)
def test_it_is_told_alone_and_its_neighbour_keeps_it(
    rule: str, target: tuple[float, float, float], breaks: str, keeps: str
) -> None:
    assert broken_rules(demo(), moves(breaks), target) == (words_of(rule),)
    assert broken_rules(demo(), moves(keeps), target) == ()


@pytest.mark.parametrize(("rule", "breaks", "keeps"), ON_PAPER)
def test_what_the_paper_refuses_is_told_alone_too(rule: str, breaks: str, keeps: str) -> None:
    assert broken_on_paper(demo(), moves(breaks)) == (words_of(rule),)
    assert broken_on_paper(demo(), moves(keeps)) == ()
