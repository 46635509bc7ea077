"""Predict the mix: two pencils and their order are shown; set the colour they will come to.

Difficulty is how near the setting must come (ΔE00). The setting starts at the first pencil's
own colour as laid: what the second does to it is the question.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, replace

import numpy as np

from drills.colour.change import describe_difference
from drills.colour.difference import delta_e00
from drills.colour.spaces import in_screen_gamut
from drills.layering.moves import Move, pressure_word
from drills.layering.palette import Palette
from drills.layering.predict import predict_steps
from drills.questions.draw import FloatArray, as_lab, as_shown
from drills.questions.protocol import Ask, CannotAskError, Lab, Question, Swatch
from drills.questions.results import MODEL_LIMITS
from drills.questions.setting import BEYOND, LEAST_OFF, SettingExercise, set_ask
from drills.questions.steady import steady, steady_colours_of

TRIED = 40
"""How many mixes a question is chosen from."""


@dataclass(frozen=True)
class MixToPredict:
    """``names``, ``hands`` (pressures in words) and ``swatches`` of both pencils, the first
    laid first; ``start`` is the first one alone, ``target`` both."""

    names: tuple[str, str]
    hands: tuple[str, str]
    swatches: tuple[Lab, Lab]
    start: Lab
    target: Lab
    near_enough: float


class PredictTheMix(SettingExercise[MixToPredict]):
    name = "predict-the-mix"
    version = 2
    title = "Predict the mix"
    trains = "to see, before laying it, what one pencil over another comes to"
    at_the_table = "Say what two pencils will come to before you lay them; then try it on a scrap."
    look_for = (
        "Begin from the pencil on top: it shows most. Then let the one below darken and turn it.",
    )
    seconds, steps = 35.0, (14.0, 3.0)
    limits = MODEL_LIMITS

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = steady_colours_of(palette, region)
        pencils = palette.pool.pencils[pool.places[mine]]
        mixed = mine[(pencils[:, 1] >= 0) & (pencils[:, 2] < 0)].tolist()
        if not mixed:
            raise CannotAskError(f"these pencils make no {region} of two layers")
        best, far = None, LEAST_OFF
        for at in rng.sample(mixed, min(TRIED, len(mixed))):
            moves = palette.pool.moves(int(pool.places[at]))
            data = _mix(palette, moves, as_lab(pool.lab[at]), step)
            # Neither pencil alone: the mix must be thought of.
            away = 0.0 if data is None else float(_off(data, data.target).min())
            if data is not None and away >= far:
                best, far = replace(data, near_enough=min(step, away / BEYOND)), away
                if away >= BEYOND * step:
                    break
        if best is None:
            raise CannotAskError(f"every {region} of two layers here is one pencil's own colour")
        return self.to_set(best, region, pencils=[*best.names], hands=[*best.hands])

    def first_ask(self, data: MixToPredict) -> Ask:
        (first, second), (hand, over) = data.names, data.hands
        prompt = f"{first}, {hand}; then {second}, {over}, over it. Set what they will come to."
        scene = (Swatch(data.swatches[0], "first"), Swatch(data.swatches[1], "over it"))
        return set_ask(prompt, data, scene)

    def because(self, data: MixToPredict) -> tuple[str, ...]:
        change = describe_difference(data.start, data.target)
        return (f"{data.names[1]} over {data.names[0]} makes it {change}.",)

    def wanted_words(self, data: MixToPredict) -> str:
        return "what the two come to"


def _mix(
    palette: Palette, moves: tuple[Move, ...], target: Lab, step: float
) -> MixToPredict | None:
    """The question of two moves; None where a screen doesn't show it truly."""
    first, second = moves
    alone = predict_steps(palette, (first,))[-1]
    labs = np.stack([alone, palette.lab[first.pencil], palette.lab[second.pencil]])
    if not in_screen_gamut(labs).all() or not steady(palette, labs).all():
        return None
    names = (palette.names[first.pencil], palette.names[second.pencil])
    hands = (_hand(first), _hand(second))
    swatches = (as_shown(labs[1]), as_shown(labs[2]))
    return MixToPredict(names, hands, swatches, as_shown(alone), target, step)


def _hand(move: Move) -> str:
    return f"{pressure_word(move.pressure)} pressure"


def _off(data: MixToPredict, target: Lab) -> FloatArray:
    """ΔE00 of the target from where the setting starts, and from both pencils' swatches."""
    return delta_e00(np.array([data.start, *data.swatches]), np.asarray(target))


KIND = PredictTheMix()
