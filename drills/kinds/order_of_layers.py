"""Order the layers: put three to five moves in the order that makes the target.

Every order is worked out and compared with the target; orders that the eye
can't tell from the best count as right too. Working rules are graded beside the
colour: light before heavy, the muting layer held inside, the blender before the
finishing layer. Difficulty is how far off a shuffled order lands (the median
ΔE00 over all orders): where order matters much, a wrong one shows.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES
from drills.colour.reading import describe_difference
from drills.colour.spaces import in_screen_gamut
from drills.layering.moves import Move, move_words
from drills.layering.palette import Palette
from drills.questions import recipes
from drills.questions.draw import VISIBLE_STEP, as_json, as_lab, as_shown, askable
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import MODEL_LIMITS, choices, near_miss, result

COLOUR_SHARE = 0.7
"""How much of the score is the colour reached; the rest is the working rules."""
PLANS = 40
"""How many recipes a question is chosen from, by a rough look at a few orders of each."""
TRIES, MOST_TRIES = 4, 12
"""How many of them, the likeliest first, are worked out in every order; the most if none serves."""
FALL = 2.5
"""ΔE00 past a visible step at which the colour's share of the score is down to 0.37."""


@dataclass(frozen=True)
class MovesToOrder:
    """``moves`` as listed to the learner; each order of them with its result and error (ΔE00)."""

    main: int
    muter: int
    moves: tuple[Move, ...]
    words: tuple[str, ...]
    intended: recipes.Order
    target: Lab
    results: dict[recipes.Order, Lab]
    errors: dict[recipes.Order, float]


class OrderOfLayers(Exercise[MovesToOrder]):
    name = "order-of-layers"
    version = 2
    title = "Order the layers"
    trains = "to lay colours in the order that keeps them clean"
    seconds, unit, steps, chance = 25.0, "ΔE00", (5.0, 1.5), 0.07
    of_the_eye = False

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, [name for name in FAMILIES if recipes.across(palette, name)])

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pairs = recipes.across(palette, region)
        if not pairs:
            raise CannotAskError(f"these pencils have no {region} with its complement")
        found: list[MovesToOrder] = []
        plans = [
            recipes.make_recipe(palette, *pairs[rng.randrange(len(pairs))], rng)
            for _ in range(PLANS)
        ]
        rough = recipes.rough_spread(palette, [plan.moves for plan in plans], rng)
        wanted = max(step, 1.1 * recipes.LEAST_SPREAD)
        likeliest = sorted(
            range(PLANS), key=lambda i: (rough[i] < recipes.LEAST_SPREAD, abs(rough[i] - wanted))
        )
        for turn, i in enumerate(likeliest[:MOST_TRIES]):
            if found and turn >= TRIES:
                break
            data = _try(palette, plans[i], rng)
            if data is not None:
                found.append(data)
                if abs(_spread(data) - step) < 0.25 * step:
                    break
        if not found:
            raise CannotAskError(f"for {region} here no order differs by a visible step")
        data = min(found, key=lambda one: abs(_spread(one) - step))
        return self.question(
            data,
            region,
            _spread(data),
            data.target,
            choices=list(data.words),
            key=[str(i) for i in data.intended],
            orders={
                " ".join(map(str, order)): round(error, 3) for order, error in data.errors.items()
            },
            reached=as_json(data.results[data.intended]),
        )

    def first_ask(self, data: MovesToOrder) -> Ask:
        return Ask(
            "These moves make the target. In which order would you make them?",
            choices({str(i): words for i, words in enumerate(data.words)}),
            (Swatch(data.target, "the target"),),
            form="arrange",
        )

    def graded(self, data: MovesToOrder, keys: Keys) -> Grade:
        order = _order(keys)
        error = data.errors[order]
        broken = broken_by(data, order)
        asked = recipes.rules_asked(data.moves)
        colour = near_miss(error - VISIBLE_STEP, FALL)
        kept = 1.0 - len(broken) / max(1, len(asked))
        right = error < VISIBLE_STEP and not broken
        score = COLOUR_SHARE * colour + (1.0 - COLOUR_SHARE) * kept
        if right:
            verdict = "Yes: this order makes the target."
        elif error < VISIBLE_STEP:
            verdict = "The colour comes out, but a working rule is broken."
        else:
            verdict = f"This order lands ΔE00 {error:.1f} from the target."
        return Grade(score, right, error, "ΔE00", verdict)

    def revealed(self, data: MovesToOrder, keys: Keys) -> Reveal:
        mine = _order(keys)
        rows = []
        for label, order in _telling(data, mine):
            best = data.errors[order] < VISIBLE_STEP and not broken_by(data, order)
            off = describe_difference(data.target, data.results[order])
            off = "is a match to the eye" if off == "the same to the eye" else f"comes out {off}"
            route = " → ".join(data.words[i] for i in order)
            words = f"{route}. It {off}."
            label = f"{label}, ΔE00 {data.errors[order]:.1f}"
            rows.append(result(label, words, data.results[order], order == mine, best))
        broken = broken_by(data, mine)
        because = tuple(f"Rule broken: {rule}." for rule in broken) or (
            "Every working rule that applies here is kept.",
        )
        return Reveal(because, tuple(rows), Swatch(data.target), MODEL_LIMITS)


def _order(keys: Keys) -> recipes.Order:
    return tuple(int(key) for key in keys)


def _spread(data: MovesToOrder) -> float:
    return float(np.median(list(data.errors.values())))


def broken_by(data: MovesToOrder, order: recipes.Order) -> tuple[str, ...]:
    """The working rules an order breaks."""
    return recipes.rules_broken(data.main, data.muter, [data.moves[i] for i in order])


def _telling(data: MovesToOrder, mine: recipes.Order) -> list[tuple[str, recipes.Order]]:
    """The orders worth seeing: the learner's, the planned one, and some that teach by failing."""
    by_error = sorted(data.errors, key=lambda order: data.errors[order])
    on_top = [o for o in by_error if data.moves[o[-1]].pencil == data.muter]
    first = [o for o in by_error if data.moves[o[0]].pencil == data.muter]
    rows = [("your order", mine), ("the planned order", data.intended)]
    if on_top:
        rows.append(("the muting layer on top", on_top[len(on_top) // 2]))
    if first:
        rows.append(("the muting layer first", first[len(first) // 2]))
    rows.append(("the order farthest off", by_error[-1]))
    return [row for at, row in enumerate(rows) if row[1] not in [o for _, o in rows[:at]]]


def _try(palette: Palette, recipe: recipes.Recipe, rng: random.Random) -> MovesToOrder | None:
    """One question, or None where the colours don't show on screen or order hardly matters."""
    listed = list(range(len(recipe.moves)))
    rng.shuffle(listed)
    moves = tuple(recipe.moves[i] for i in listed)
    intended = tuple(listed.index(i) for i in range(len(moves)))
    orders, labs = recipes.every_order(palette, moves)
    reached = labs[orders.index(intended)]
    if not in_screen_gamut(reached):
        return None
    target = as_shown(reached)
    errors = delta_e00(labs, np.asarray(target))
    if float(np.median(errors)) < recipes.LEAST_SPREAD:
        return None
    return MovesToOrder(
        main=recipe.main,
        muter=recipe.muter,
        moves=moves,
        words=tuple(move_words(palette, move) for move in moves),
        intended=intended,
        target=target,
        results={order: as_lab(lab) for order, lab in zip(orders, labs, strict=True)},
        errors={order: float(error) for order, error in zip(orders, errors, strict=True)},
    )


KIND = OrderOfLayers()
