"""Lighter or darker: value judged apart from brightness.

Two swatches of one hue family but of different chroma: the bright one looks
lighter than it is. It is the lighter and the darker one equally often, so that
brightness tells nothing. Difficulty is the step of lightness between them, |ΔL*|.
"""

from __future__ import annotations

import random

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.munsell import munsell_value
from drills.colour.spaces import in_screen_gamut
from drills.colour.turn import fitted_to_screen
from drills.colour.words import strength
from drills.layering.palette import Palette
from drills.questions.beside import Beside, LaidBeside
from drills.questions.draw import as_lab, families_with, shown_pool
from drills.questions.protocol import JSON, CannotAskError, Lab, Question, Result
from drills.questions.results import made_of, result

CHROMA_APART = 2.0
"""Least difference in strength (about Munsell chroma), so that brightness misleads."""
LEAST_STEP = 0.4
"""Least |ΔL*| asked: one level of an 8-bit screen is about as much."""
NEAREST = 20
"""How many of the pairs nearest to the wanted step one is drawn from."""


class LighterOrDarker(LaidBeside[Beside]):
    name = "lighter-or-darker"
    version = 2
    title = "Lighter or darker"
    trains = "to judge value apart from how bright a colour is"
    at_the_table = (
        "Squint at subject and paper: with half-shut eyes value is easier to compare than hue."
    )
    look_for = (
        "Half close your eyes until the hues fade: which of the two would be the darker grey?",
    )
    seconds, unit, steps = 7.0, "ΔL*", (20.0, 0.8)
    words, near, none = ("lighter", "darker"), 5.0, "no colour here is"
    prompt = "Look at value only. Is what you laid down lighter or darker than the target?"

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return families_with(palette)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = pool.of(region)
        if mine.size > 160:
            mine = np.array(sorted(rng.sample(mine.tolist(), 160)))
        lightness, chroma = pool.lab[mine, 0], pool.strength[mine]
        apart = lightness[:, None] - lightness
        # Each row the brighter of the pair, each column the duller.
        fit = (chroma[:, None] - chroma >= CHROMA_APART) & (np.abs(apart) >= LEAST_STEP)
        if not fit.any():
            raise CannotAskError(f"these pencils make no two {region}s that differ in brightness")
        # In some families the bright colours are nearly all the lighter or the darker ones.
        near = fit & (np.abs(np.abs(apart) - step) <= max(LEAST_STEP, step / 4))
        ways = [way for way in (near & (apart > 0), near & (apart < 0)) if way.any()] or [fit]
        first, second = np.nonzero(rng.choice(ways))
        order = np.argsort(np.abs(np.abs(apart[first, second]) - step), kind="stable")
        pick = int(order[rng.randrange(min(NEAREST, len(order)))])
        pair = [int(mine[first[pick]]), int(mine[second[pick]])]
        rng.shuffle(pair)
        target, laid = (as_lab(pool.lab[i]) for i in pair)
        made: list[JSON] = [made_of(palette, i) for i in pair]
        words = f"Target: {made[0]}. Laid down: {made[1]}."
        return self.asked(Beside(target, laid, laid[0] - target[0], words), region, made)

    def in_other_words(self, data: Beside) -> str:
        # As greys: Munsell value is taken under another light, which shifts bright colours.
        greys = [(lab[0], 0.0, 0.0) for lab in (data.target, data.laid)]
        return f", or {abs(float(np.diff(munsell_value(greys))[0])):.1f} of a value step"

    def seen(self, data: Beside) -> float:
        return float(delta_e00((data.target[0], 0.0, 0.0), (data.laid[0], 0.0, 0.0)))

    def mirrored(self, data: Beside) -> Lab | None:
        (lab,) = fitted_to_screen((2 * data.target[0] - data.laid[0], *data.laid[1:]))
        return as_lab(lab) if in_screen_gamut(lab) else None

    def compared(self, data: Beside) -> list[Result]:
        greys = [(lab[0], 0.0, 0.0) for lab in (data.target, data.laid)]
        words = "the target's grey, then the grey of what you laid down"
        return [result("both as greys", words, greys[0], beside=greys[1])]

    def because(self, data: Beside) -> tuple[str, ...]:
        laid_is_brighter = strength(data.laid) > strength(data.target)
        return (
            f"{'What you laid down' if laid_is_brighter else 'The target'} is the brighter, and "
            "a bright colour looks lighter than it is. Half close your eyes: chroma fades first.",
            data.made_with,
        )


KIND = LighterOrDarker()
