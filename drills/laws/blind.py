"""Ways to answer that never look at what is asked: none may win by much over guessing.

A fixed place, the longest text, the swatch most like the target or farthest round the wheel from
it: each is a rule a learner could hit upon in a week, and would then be measured in place of the
eye. ``STRATEGIES`` maps a name to what picks one of the choices of an ask; ``blindly`` answers
a whole question by it. Which strategy is a kind's very task is in ``TASKS``, or for
another package's kind in its attribute ``task``, a tuple of names.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.spaces import lab_to_lch
from drills.kinds import draw
from drills.layering.palette import Palette
from drills.questions.adjusting import key_of
from drills.questions.protocol import Answers, Ask, CannotAskError, Kind, Swatch

Scores = Sequence[float]
Strategy = Callable[[Ask], "Scores | None"]
"""A number for each choice, the largest chosen, or put last in an order; None where it says
nothing of this ask."""
Asks = Callable[[Answers], Ask | None]

BUILT = 4
"""Replies after which a builder says done: two pencils, each with its pressure."""

ENOUGH_PENCILS = 20
ASKED_BLINDLY, BY_LUCK = 60, 0.19
"""Questions answered without looking, and how far over guessing that may come: about three
standard errors of a share of a quarter. ``python -m tests.bench fair`` holds 0.05 of 500."""

TASKS: Mapping[str, tuple[str, ...]] = {
    "hold-in-mind": ("most alike",),
    "nearest-start": ("nearest hue",),
    "order-of-layers": ("most alike", "nearest hue"),
    "surround-lies": ("most alike",),
    "value-order": ("lightest", "darkest"),
}
"""The strategies that are the very thing asked, by kind."""


def _place(at: int) -> Strategy:
    def picks(ask: Ask) -> Scores | None:
        if at >= len(ask.choices):
            return None
        return [float(i == at) for i in range(len(ask.choices))]

    return picks


def _by_text(ask: Ask) -> Scores | None:
    lengths = [float(len(choice.text)) for choice in ask.choices]
    return lengths if len(set(lengths)) > 1 else None


def _labs(ask: Ask) -> np.ndarray | None:
    swatches = [choice.swatch for choice in ask.choices if choice.swatch is not None]
    # Only a blender has none.
    if len(swatches) < max(2, len(ask.choices) - 1):
        return None
    return np.array([c.swatch.lab if c.swatch else (np.nan,) * 3 for c in ask.choices])


def _part(at: int) -> Strategy:
    """By L* (0) or by C*ab (1)."""

    def picks(ask: Ask) -> Scores | None:
        labs = _labs(ask)
        return None if labs is None else list(lab_to_lch(labs)[:, at])

    return picks


def _against(scene: int, apart: Callable[[np.ndarray, Swatch], np.ndarray]) -> Strategy:
    """By how far the choices lie from one swatch of the scene."""

    def picks(ask: Ask) -> Scores | None:
        labs = _labs(ask)
        if labs is None or scene >= len(ask.scene):
            return None
        return list(apart(labs, ask.scene[scene]))

    return picks


def _difference(labs: np.ndarray, target: Swatch) -> np.ndarray:
    return np.asarray(delta_e00(labs, np.asarray(target.lab)))


def _turn(labs: np.ndarray, target: Swatch) -> np.ndarray:
    return np.asarray(wheel_steps(wheel_position(labs), wheel_position(np.asarray(target.lab))))


def _less(one: Strategy) -> Strategy:
    def picks(ask: Ask) -> Scores | None:
        scores = one(ask)
        return None if scores is None else [-score for score in scores]

    return picks


def _second(one: Strategy) -> Strategy:
    def picks(ask: Ask) -> Scores | None:
        scores = one(ask)
        if scores is None or len(scores) < 3 or ask.form == "arrange":
            return None
        second = int(np.argsort(scores, kind="stable")[-2])
        return [float(i == second) for i in range(len(scores))]

    return picks


_apart, _round = _against(0, _difference), _against(0, _turn)
STRATEGIES: Mapping[str, Strategy] = {
    **{f"place {at + 1}": _place(at) for at in range(6)},
    "longest text": _by_text,
    "shortest text": _less(_by_text),
    "most alike": _less(_apart),
    "second most alike": _second(_less(_apart)),
    "third most alike": _second(_apart),
    "least alike": _apart,
    "nearest hue": _less(_round),
    "second nearest hue": _second(_less(_round)),
    "farthest hue": _round,
    "second most alike to what is laid": _second(_less(_against(1, _difference))),
    "most alike to what is laid": _less(_against(1, _difference)),
    "least alike to what is laid": _against(1, _difference),
    "nearest hue to what is laid": _less(_against(1, _turn)),
    "farthest hue from what is laid": _against(1, _turn),
    "second farthest hue from what is laid": _second(_against(1, _turn)),
    "lightest": _part(0),
    "darkest": _less(_part(0)),
    "brightest": _part(1),
    "dullest": _less(_part(1)),
}


def blindly(asks: Asks, strategy: Strategy) -> Answers | None:
    """The answers of one strategy to every ask; None where it says nothing of the first.

    ``asks`` gives the ask after some answers: ``partial(kind.ask, question)``, say.
    Later asks of which it says nothing get their last choice. Of what is built, the chosen
    pencil is laid so twice, then "done".
    """
    answers: Answers = ()
    while (ask := asks(answers)) is not None:
        if ask.form == "set":
            # Left as it is found.
            answers = (*answers, (key_of(ask.start or (50.0, 0.0, 0.0)),))
            continue
        scores = strategy(ask)
        if scores is None and not answers:
            return None
        keys = [choice.key for choice in ask.choices]
        order = list(range(len(keys))) if scores is None else np.argsort(scores, kind="stable")
        if ask.form == "arrange":
            answers = (*answers, tuple(keys[i] for i in order))
        elif ask.form == "build" and len(answers) >= BUILT:
            answers = (*answers, ("done",))
        else:
            answers = (*answers, (keys[order[-1]],))
    return answers


def tasks_of(kind: Kind) -> tuple[str, ...]:
    """The strategies that are the very thing a kind asks."""
    return TASKS.get(kind.name) or tuple(getattr(kind, "task", ()))


def no_answer_without_looking_wins(kind: Kind, palette: Palette) -> None:
    """No strategy is right much over chance at the harder half of the steps, the task itself apart.

    Of few pencils no others can be found that hide the right one: there it is not held.
    """
    if len(palette.at_hand) < ENOUGH_PENCILS:
        return
    regions, (easiest, hardest) = kind.regions(palette), kind.steps
    middle = math.sqrt(easiest * hardest)
    asked = []
    for seed in range(ASKED_BLINDLY):
        step = middle * (hardest / middle) ** (seed % 5 / 4)
        try:
            asked.append(draw(kind, palette, regions[seed % len(regions)], step, 500 + seed))
        except CannotAskError:
            continue
    # Many strategies come to the same answers: each is asked and graded once.
    asks = [cache(partial(kind.ask, question)) for question in asked]
    grades = [cache(partial(kind.grade, question)) for question in asked]
    for name, strategy in STRATEGIES.items():
        if name in tasks_of(kind):
            continue
        right = [
            grade(answers).right
            for ask, grade in zip(asks, grades, strict=True)
            if (answers := blindly(ask, strategy)) is not None
        ]
        if len(right) >= 0.5 * len(asked):
            share = sum(right) / len(right)
            assert share <= kind.chance + BY_LUCK, f"“{name}” is right in {share:.2f}"
