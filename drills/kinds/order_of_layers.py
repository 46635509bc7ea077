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
from drills.questions.draw import (
    MODEL_LIMITS,
    as_json,
    as_lab,
    as_shown,
    askable,
    mark_of,
    near_miss,
)
from drills.questions.protocol import (
    VISIBLE_STEP_DELTA_E00,
    Answers,
    Ask,
    CannotAskError,
    Choice,
    Grade,
    Lab,
    Question,
    Result,
    Reveal,
    Swatch,
)
from drills.questions.recipes import (
    LEAST_SPREAD,
    Order,
    Recipe,
    across,
    every_order,
    make_recipe,
    rough_spread,
    rules_asked,
    rules_broken,
)

COLOUR_SHARE = 0.7
"""How much of the score is the colour reached; the rest is the working rules."""
PLANS = 40
"""How many recipes a question is chosen from, by a rough look at a few orders of each."""
TRIES, MOST_TRIES = 4, 12
"""How many of them, the likeliest first, are worked out in every order; the most if none serves."""
FALL = 2.5
"""ΔE00 past a visible step at which the colour's share of the score is down to 0.37."""


@dataclass(frozen=True)
class Data:
    """``moves`` as listed to the learner; each order of them with its result and error (ΔE00)."""

    main: int
    muter: int
    moves: tuple[Move, ...]
    words: tuple[str, ...]
    intended: Order
    target: Lab
    results: dict[Order, Lab]
    errors: dict[Order, float]


@dataclass(frozen=True)
class OrderOfLayers:
    """See the module."""

    name: str = "order-of-layers"
    version: int = 1
    title: str = "Order the layers"
    trains: str = "to lay colours in the order that keeps them clean"
    needs_colour: bool = True
    seconds: float = 25.0
    unit: str = "ΔE00"
    steps: tuple[float, float] = (5.0, 1.5)
    chance: float = 0.07

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, [name for name in FAMILIES if across(palette, name)])

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pairs = across(palette, region)
        if not pairs:
            raise CannotAskError(f"these pencils have no {region} with its complement")
        found: list[Data] = []
        plans = [make_recipe(palette, *pairs[rng.randrange(len(pairs))], rng) for _ in range(PLANS)]
        rough = rough_spread(palette, [plan.moves for plan in plans], rng)
        wanted = max(step, 1.1 * LEAST_SPREAD)
        likeliest = sorted(
            range(PLANS), key=lambda i: (rough[i] < LEAST_SPREAD, abs(rough[i] - wanted))
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
        return Question(
            kind=self.name,
            version=self.version,
            region=region,
            seed=0,
            step=_spread(data),
            target=data.target,
            facts={
                "choices": list(data.words),
                "key": [str(i) for i in data.intended],
                "orders": {
                    " ".join(map(str, order)): round(error, 3)
                    for order, error in data.errors.items()
                },
                "reached": as_json(data.results[data.intended]),
            },
            data=data,
        )

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        if answers:
            return None
        data = _data(question)
        return Ask(
            "These moves make the target. In which order would you make them?",
            tuple(Choice(str(i), words) for i, words in enumerate(data.words)),
            (Swatch(data.target, "the target"),),
            form="arrange",
        )

    def grade(self, question: Question, answers: Answers) -> Grade:
        data = _data(question)
        order = _order(answers)
        error = data.errors[order]
        broken = broken_by(data, order)
        asked = rules_asked(data.moves)
        colour = near_miss(error - VISIBLE_STEP_DELTA_E00, FALL)
        kept = 1.0 - len(broken) / max(1, len(asked))
        right = error < VISIBLE_STEP_DELTA_E00 and not broken
        score = COLOUR_SHARE * colour + (1.0 - COLOUR_SHARE) * kept
        if right:
            verdict = "Yes: this order makes the target."
        elif error < VISIBLE_STEP_DELTA_E00:
            verdict = "The colour comes out, but a working rule is broken."
        else:
            verdict = f"This order lands ΔE00 {error:.1f} from the target."
        return Grade(score, right, error, "ΔE00", verdict)

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        data = _data(question)
        mine = _order(answers)
        rows = []
        for label, order in _telling(data, mine):
            best = data.errors[order] < VISIBLE_STEP_DELTA_E00 and not broken_by(data, order)
            off = describe_difference(data.target, data.results[order])
            off = "is a match to the eye" if off == "the same to the eye" else f"comes out {off}"
            route = " → ".join(data.words[i] for i in order)
            words = f"{route}. It {off}."
            label = f"{label}, ΔE00 {data.errors[order]:.1f}"
            rows.append(
                Result(label, words, Swatch(data.results[order]), mark_of(order == mine, best))
            )
        broken = broken_by(data, mine)
        because = tuple(f"Rule broken: {rule}." for rule in broken) or (
            "Every working rule that applies here is kept.",
        )
        return Reveal(because, tuple(rows), Swatch(data.target), MODEL_LIMITS)


def _data(question: Question) -> Data:
    assert isinstance(question.data, Data)
    return question.data


def _order(answers: Answers) -> Order:
    return tuple(int(key) for key in answers[0])


def _spread(data: Data) -> float:
    return float(np.median(list(data.errors.values())))


def broken_by(data: Data, order: Order) -> tuple[str, ...]:
    """The working rules an order breaks."""
    return rules_broken(data.main, data.muter, [data.moves[i] for i in order])


def _telling(data: Data, mine: Order) -> list[tuple[str, Order]]:
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


def _try(palette: Palette, recipe: Recipe, rng: random.Random) -> Data | None:
    """One question, or None where the colours don't show on screen or order hardly matters."""
    listed = list(range(len(recipe.moves)))
    rng.shuffle(listed)
    moves = tuple(recipe.moves[i] for i in listed)
    intended = tuple(listed.index(i) for i in range(len(moves)))
    orders, labs = every_order(palette, moves)
    reached = labs[orders.index(intended)]
    if not in_screen_gamut(reached):
        return None
    target = as_shown(reached)
    errors = delta_e00(labs, np.asarray(target))
    if float(np.median(errors)) < LEAST_SPREAD:
        return None
    return Data(
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
