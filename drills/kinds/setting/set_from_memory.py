"""Set from memory: look at a colour for a few seconds, then set it without seeing it.

Difficulty is how near the setting must come (ΔE00).
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from drills.colour.reading import read_colour
from drills.layering.palette import Palette
from drills.questions.draw import as_lab
from drills.questions.exercise import Keys
from drills.questions.protocol import Ask, Lab, Question, Swatch
from drills.questions.results import choices
from drills.questions.setting import SettingExercise, set_ask, start_for
from drills.questions.steady import steady_colours_of

LOOK_S = 4.0
"""Seconds of looking: about what an artist spares the subject before the paper (our estimate)."""
HELD = "held"


@dataclass(frozen=True)
class ColourToRemember:
    """``start`` is where the setting starts, once the target is gone."""

    target: Lab
    start: Lab
    near_enough: float


class SetFromMemory(SettingExercise[ColourToRemember]):
    name = "set-from-memory"
    version = 2
    title = "Set it from memory"
    trains = "to carry a colour in mind as it was, neither purer nor paler"
    at_the_table = "Look, say what you saw, lay it, and look again: memory makes colours purer."
    look_for = (
        "Name it as you look: its family and its lean, light or dark, bright or dull.",
        "Set value first, then hue, then how dull it is: in memory colours grow purer.",
    )
    seconds, steps = 32.0, (16.0, 2.5)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = steady_colours_of(palette, region)
        target = as_lab(pool.lab[rng.choice(mine.tolist())])
        data = ColourToRemember(target, start_for(target, step, rng), step)
        return self.to_set(data, region, look_s=LOOK_S)

    def first_ask(self, data: ColourToRemember) -> Ask:
        prompt = f"Look at this colour and remember it: in {LOOK_S:.0f} seconds it goes."
        return Ask(prompt, choices({HELD: "I have it"}), (Swatch(data.target),), look_s=LOOK_S)

    def next_ask(self, data: ColourToRemember, keys: Keys) -> Ask | None:
        return set_ask("Set it as you remember it.", data) if len(keys) == 1 else None

    def because(self, data: ColourToRemember) -> tuple[str, ...]:
        return (
            "We remember colours as purer than they were (Bartleson 1960, of familiar things). "
            "As you look, name family, value and dullness.",
            read_colour(data.target).sentence(),
        )


KIND = SetFromMemory()
