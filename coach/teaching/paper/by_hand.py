"""What a sheet asks the hand: a value scale to fill, a muting grid, a plan with boxes.

All of it can be done from a print in greys: pencils are named, values stand in figures.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.pencils.pencil import Lab
    from drills.planning.plan import Plan
    from drills.questions.protocol import Kind

MUTES = ("mute-with-complement", "brighter-or-duller", "grey-lean", "what-is-off")
MAKES = ("make-the-match", "order-of-layers", "predict-the-mix", "set-the-colour")
"""Drills whose work on paper is a muting grid, and a plan."""
SCALE = (9, 8, 7, 6, 5, 4, 3, 2)
"""Munsell values of the scale, from light to dark."""
GRID = 3
"""Pencils to be muted, and pencils that mute them."""


_PLANS = 4
"""Colours tried, until one is found that pencils make."""


@dataclass(frozen=True)
class ValueScale:
    """Boxes to be filled to each of ``SCALE``'s greys with one pencil; ``darkest`` its own value
    laid firmly: beyond that it can't go."""

    pencil: str
    darkest: float


@dataclass(frozen=True)
class MutingGrid:
    """Each of ``rows`` with each of ``columns`` laid lightly inside it: names, and the Lab of
    each that is to be expected, row by row."""

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    made: tuple[tuple[Lab, ...], ...]


@dataclass(frozen=True, eq=False)
class PlanToLay:
    """A colour and the plan that makes it, a box beside each step."""

    name: str
    plan: Plan


ByHand = ValueScale | MutingGrid | PlanToLay


def by_hand(deck: Deck, palette: Palette, kinds: Mapping[str, Kind], day: int) -> ByHand | None:
    """The day's work for the hand, in turn what the deck's drills call for."""
    dice = random.Random(f"{deck.questions_in_order}/{palette.set.fingerprint}/hand/{day}")
    ways: list[Callable[[Deck, Palette, int, random.Random], ByHand]] = []
    if any(kinds[one].unit == "ΔL*" for one in deck.kinds if one in kinds):
        ways.append(_scale)
    if set(MUTES) & set(deck.kinds):
        ways.append(_grid)
    if deck.targets or set(MAKES) & set(deck.kinds):
        ways.append(_plan)
    if not ways or len(palette.at_hand) < 2:
        return None
    return ways[(day - 1) % len(ways)](deck, palette, (day - 1) // len(ways), dice)


def _of_families(deck: Deck, palette: Palette) -> list[int]:
    """The coloured pencils in the deck's families, else all of them."""
    from drills.questions.given_colour import region_of

    every = [int(i) for i in palette.at_hand]
    wanted = set(deck.families) | {one.region for one in deck.targets}
    mine = [i for i in every if region_of(_lab(palette, i)) in wanted]
    return mine or every


def _lab(palette: Palette, pencil: int) -> Lab:
    L, a, b = (float(part) for part in palette.lab[pencil])
    return L, a, b


def _scale(deck: Deck, palette: Palette, turn: int, _: random.Random) -> ValueScale:
    from drills.colour.munsell import munsell_value

    # The darkest first: it has the longest way from paper.
    mine = sorted(_of_families(deck, palette), key=lambda i: _lab(palette, i)[0])
    chosen = mine[turn % min(3, len(mine))]
    return ValueScale(palette.names[chosen], float(munsell_value(_lab(palette, chosen))))


def _grid(deck: Deck, palette: Palette, _: int, dice: random.Random) -> MutingGrid:
    from drills.colour.hue import wheel_steps
    from drills.colour.words import strength
    from drills.layering.moves import LIGHT, MIDDLE, Move
    from drills.layering.predict import predict

    every = [int(i) for i in palette.at_hand]
    bright = sorted(_of_families(deck, palette), key=lambda i: -float(strength(_lab(palette, i))))
    rows = bright[: 2 * GRID]
    dice.shuffle(rows)
    rows = rows[:GRID]

    def across(i: int) -> float:
        return float(wheel_steps(palette.wheel[i], palette.wheel[rows[0]]))

    others = [i for i in every if i not in rows]
    columns = sorted(others, key=lambda i: -across(i))[: 2 * GRID]
    dice.shuffle(columns)
    columns = sorted(columns[:GRID], key=lambda i: -across(i))
    made = tuple(
        tuple(
            predict(
                palette,
                (Move("lay", row, MIDDLE), Move("lay", column, LIGHT), Move("lay", row, MIDDLE)),
            )
            for column in columns
        )
        for row in rows
    )
    names = palette.names
    return MutingGrid(tuple(names[i] for i in rows), tuple(names[i] for i in columns), made)


def _plan(deck: Deck, palette: Palette, turn: int, dice: random.Random) -> PlanToLay:
    from drills.colour.reading import read_colour
    from drills.planning.planner import plan

    if deck.targets:
        target = deck.targets[turn % len(deck.targets)]
        return PlanToLay(target.name, plan(palette, target.lab))
    wanted = set(deck.families)
    pool = palette.pool
    places = [i for i in range(len(pool.lab)) if not wanted]
    if wanted:
        from drills.questions.given_colour import region_of

        tried = dice.sample(range(len(pool.lab)), min(400, len(pool.lab)))
        places = [i for i in tried if region_of(_at(pool.lab[i])) in wanted]
    for _ in range(_PLANS):
        lab = _at(pool.lab[dice.choice(places or [0])])
        made = plan(palette, lab)
        # Of a colour that bare paper comes nearest to there is nothing to lay.
        if made.moves:
            break
    reading = read_colour(lab)
    return PlanToLay(f"a {reading.value_word} {reading.family or 'grey'}", made)


def _at(row: object) -> Lab:
    L, a, b = (float(part) for part in row)  # type: ignore[attr-defined]
    return L, a, b
