"""Order the layers: three pencils laid equally hard; which order makes the target?

No working rule decides, for the hand is the same in all three: it must be seen
in the target which pencil lies over which. Every order is worked out and
compared with the target. Difficulty is how far from it the next best order
lands (ΔE00). The rules of the order of work are asked as cards (``handling``).
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache
from itertools import permutations

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES
from drills.colour.reading import describe_difference
from drills.colour.spaces import in_screen_gamut, shown_lab
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.moves import MIDDLE
from drills.layering.palette import Palette
from drills.layering.predict import extend, sheet_lab, start
from drills.questions.draw import (
    VISIBLE_STEP,
    FloatArray,
    IntArray,
    as_lab,
    as_shown,
    askable,
    family_of,
)
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import MODEL_LIMITS, choices, gap, near_miss, result

LAYERS = 3
TRIPLES = 80
"""How many threes of pencils a question is chosen from."""
UNLIKE = 8.0
"""Least ΔE00 between the pencils' own swatches."""
Order = tuple[int, ...]
ORDERS: tuple[Order, ...] = tuple(permutations(range(LAYERS)))


@dataclass(frozen=True)
class LayersToOrder:
    """The pencils as listed; each order of their places with its result and error (ΔE00)."""

    pencils: tuple[int, ...]
    names: tuple[str, ...]
    swatches: tuple[Lab, ...]
    target: Lab
    results: dict[Order, Lab]
    errors: dict[Order, float]

    @property
    def best(self) -> Order:
        return min(self.errors, key=lambda order: self.errors[order])


class OrderOfLayers(Exercise[LayersToOrder]):
    name = "order-of-layers"
    version = 2
    title = "Order the layers"
    trains = "to see in a colour which layer lies over which"
    at_the_table = "The last layer shows most: lay last what should be seen first."
    look_for = (
        "The last layer shows most. Which pencil do you see first in the colour? It lies on top.",
    )
    seconds, unit, steps, chance = 20.0, "ΔE00", (5.0, 1.0), 1 / len(ORDERS)

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, [name for name in FAMILIES if _mains(palette, name)])

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        mains = _mains(palette, region)
        colours = palette.at_hand.tolist()
        if not mains or len(colours) < LAYERS:
            raise CannotAskError(f"these pencils have no {region} to lay with two others")
        # Drawn first: which is on top, the lightest or another, must tell nothing.
        wanted = rng.choice(ORDERS)
        threes = []
        for _ in range(TRIPLES):
            main = rng.choice(mains)
            three = [main, *rng.sample([one for one in colours if one != main], LAYERS - 1)]
            threes.append(sorted(three, key=lambda one: float(palette.lab[one, 0])))
        places = np.array(threes, dtype=np.int64)
        labs = _laid(palette, places)
        at = ORDERS.index(wanted)
        errors = delta_e00(labs, shown_lab(labs[:, at])[:, None])
        first, second = np.sort(errors, axis=1)[:, :2].T
        apart = np.where(np.argmin(errors, axis=1) == at, second - first, 0.0)
        swatches = palette.lab[places]
        unlike = delta_e00(swatches, np.roll(swatches, 1, axis=1)).min(axis=1) >= UNLIKE
        seen = in_screen_gamut(labs[:, at]) & in_screen_gamut(swatches).all(axis=1)
        sound = np.flatnonzero(unlike & seen & (apart >= VISIBLE_STEP))
        if not sound.size:
            raise CannotAskError(f"no order of {region} and two others here shows")
        chosen = int(sound[np.argmin(np.abs(np.log(apart[sound] / step)))])
        data = _data_of(palette, places[chosen], labs[chosen], at, rng)
        return self.question(
            data,
            region,
            gap(list(data.errors.values())),
            data.target,
            choices=list(data.names),
            key=[str(i) for i in data.best],
            orders={
                " ".join(map(str, order)): round(error, 3) for order, error in data.errors.items()
            },
        )

    def first_ask(self, data: LayersToOrder) -> Ask:
        return Ask(
            "These three, each laid at middle pressure, make the target. In which order? The "
            "first goes on the paper first.",
            choices({str(i): name for i, name in enumerate(data.names)}, data.swatches),
            (Swatch(data.target, "the target"),),
            form="arrange",
        )

    def graded(self, data: LayersToOrder, keys: Keys) -> Grade:
        order, best = _order(keys), data.best
        error = data.errors[order]
        names = [data.names[i] for i in best]
        if order == best:
            verdict = f"Yes: with {names[-1]} on top it is the target."
        elif order[-1] != best[-1]:
            verdict = f"No: {names[-1]} lies on top here, not {data.names[order[-1]]}."
        else:
            verdict = f"No: {names[-1]} does lie on top, but {names[0]} goes on first."
        score = near_miss(error - data.errors[best], 6.0)
        return Grade(score, order == best, error, "ΔE00", verdict)

    def revealed(self, data: LayersToOrder, keys: Keys) -> Reveal:
        mine = _order(keys)
        rows = []
        for order in sorted(data.errors, key=lambda one: data.errors[one]):
            off = describe_difference(data.target, data.results[order])
            off = "the target" if off == "the same to the eye" else off
            label = ", ".join(data.names[i] for i in order)
            rows.append(result(label, off, data.results[order], order == mine, order == data.best))
        top = data.names[data.best[-1]]
        return Reveal(
            (f"The last layer shows most, here {top}.",),
            tuple(rows),
            Swatch(data.target),
            MODEL_LIMITS,
        )


def _order(keys: Keys) -> Order:
    order = tuple(int(key) for key in keys)
    if order not in ORDERS:
        raise ValueError("not an order of the three")
    return order


@lru_cache(maxsize=64)
def _mains(palette: Palette, family: str) -> tuple[int, ...]:
    """The pencils of a family that are no greys."""
    colours = palette.at_hand
    hued = colours[strength(palette.lab[colours]) >= NEUTRAL_BELOW].tolist()
    return tuple(i for i in hued if family_of(palette, i) == family)


def _laid(palette: Palette, places: IntArray) -> FloatArray:
    """Lab (n, 6, 3) of three pencils (n, 3) in each of ORDERS, all at middle pressure."""
    turns = places[:, np.array(ORDERS)].reshape(-1, LAYERS)
    sheet = start(palette, len(turns))
    for turn in range(LAYERS):
        sheet = extend(palette, sheet, turns[:, turn], np.full(len(turns), MIDDLE))
    return sheet_lab(sheet).reshape(len(places), len(ORDERS), 3)


def _data_of(
    palette: Palette, pencils: IntArray, labs: FloatArray, at: int, rng: random.Random
) -> LayersToOrder:
    """The question of three pencils (3,) whose orders give ``labs`` (6, 3), that ``at`` asked."""
    mixed = rng.sample(range(LAYERS), LAYERS)
    target = as_shown(labs[at])
    errors = delta_e00(labs, np.asarray(target))
    listed_as = [tuple(mixed.index(place) for place in order) for order in ORDERS]
    places = [int(pencils[i]) for i in mixed]
    return LayersToOrder(
        pencils=tuple(places),
        names=tuple(palette.names[i] for i in places),
        swatches=tuple(as_shown(palette.lab[i]) for i in places),
        target=target,
        results={order: as_lab(lab) for order, lab in zip(listed_as, labs, strict=True)},
        errors={order: float(one) for order, one in zip(listed_as, errors, strict=True)},
    )


KIND = OrderOfLayers()
