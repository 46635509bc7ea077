"""Set the colour: move a swatch until it equals the target beside it.

The method of adjustment (Fechner 1860). Difficulty is how near the setting must come (ΔE00).
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from drills.colour.reading import read_colour
from drills.layering.palette import Palette
from drills.questions.draw import as_lab, as_shown
from drills.questions.given_colour import region_of
from drills.questions.protocol import Ask, Lab, Question, Swatch
from drills.questions.setting import SettingExercise, set_ask, start_for
from drills.questions.steady import hold_steady, steady_colours_of


@dataclass(frozen=True)
class ColourToSet:
    """``start`` is where the setting starts."""

    target: Lab
    start: Lab
    near_enough: float


class SetTheColour(SettingExercise[ColourToSet]):
    name = "set-the-colour"
    version = 2
    title = "Set the colour"
    trains = "to see by how much value, dullness and hue are off"
    at_the_table = "Where a swatch is off, say which part is off most: that names the next pencil."
    look_for = ("Half close your eyes and set value first. Then hue, then how dull it is.",)
    seconds, steps = 30.0, (8.0, 1.2)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = steady_colours_of(palette, region)
        return self._question(as_lab(pool.lab[rng.choice(mine.tolist())]), region, step, rng)

    def make_for(self, palette: Palette, target: Lab, step: float, rng: random.Random) -> Question:
        """See ``drills.questions.given_colour``."""
        shown = as_shown(target)
        hold_steady(palette, shown)
        return self._question(shown, region_of(shown), step, rng)

    def _question(self, target: Lab, region: str, step: float, rng: random.Random) -> Question:
        return self.to_set(ColourToSet(target, start_for(target, step, rng), step), region)

    def first_ask(self, data: ColourToSet) -> Ask:
        prompt = "Make the right half equal the left: set value, dullness and hue."
        return set_ask(prompt, data, (Swatch(data.target),))

    def because(self, data: ColourToSet) -> tuple[str, ...]:
        return (
            "Set value first: with value right, dullness and hue are easier to see.",
            read_colour(data.target).sentence(),
        )


KIND = SetTheColour()
