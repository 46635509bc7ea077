"""Hue family and lean: name a swatch's family among near ones, then which way it leans.

Difficulty is how near the colour stands to the border of its family, in wheel
steps: half a step is its very middle, a twentieth is a colour that two artists
might argue over.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position, wheel_steps
from drills.colour.reading import Reading, read_colour
from drills.colour.turn import turned_on_screen
from drills.layering.palette import Palette
from drills.questions.draw import (
    VISIBLE_STEP,
    as_lab,
    as_shown,
    colours_of,
    families_with,
    one_near,
)
from drills.questions.exercise import Exercise, Keys
from drills.questions.given_colour import region_of
from drills.questions.protocol import (
    YOU_SAY,
    Ask,
    CannotAskError,
    Grade,
    Lab,
    Question,
    Reveal,
    Swatch,
)
from drills.questions.results import choices, made_of, made_words, result
from drills.questions.steady import hold_steady
from drills.screen.unmeasured import keeps_name

OFFERED = 5
"""Families to choose from; the true one stands anywhere among them."""
NEAREST = 0.02
"""Wheel steps off a border within which no family is asked as if it were the right one."""
SQUARE = 0.1
"""Wheel steps on either side of a family's centre within which a colour sits squarely in it.

As the readings have it (``words.lean_strength``)."""
ARGUED = 0.1
"""Wheel steps off a border within which two artists may well differ (our estimate)."""
LIMITS = "So near a border artists may differ; hue is CIECAM16's in daylight (D50)."
WILD = 2.0
"""Wheel steps off from which an answer earns nothing."""


@dataclass(frozen=True)
class ColourToName:
    """The colour, and the ``families`` offered, in wheel order."""

    lab: Lab
    reading: Reading
    families: tuple[int, ...]
    made_with: str


class HueAndLean(Exercise[ColourToName]):
    name = "hue-and-lean"
    version = 3
    title = "Hue family and lean"
    trains = "to name a colour's family, and the neighbour it leans to"
    at_the_table = (
        "Name a colour's family, and the neighbour it leans to, before you reach for a pencil."
    )
    look_for = (
        "Is it nearest to red, orange, yellow, green, blue or violet? Then: is it that, or on "
        "the way to the next?",
        "Think of the family on either side: which of the two is this colour nearer to?",
    )
    seconds, unit, steps, chance = 14.0, "wheel steps", (0.5, 0.04), 1 / OFFERED

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return families_with(palette)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        index = FAMILIES.index(region)
        from_border = 0.5 - wheel_steps(pool.wheel[mine], index)
        mine, from_border = mine[from_border >= NEAREST], from_border[from_border >= NEAREST]
        if not mine.size:
            raise CannotAskError(f"every {region} here stands on a border")
        known = palette.screen_known
        if known is not True:
            sound = keeps_name(pool.lab[mine], lambda lab: family_at(wheel_position(lab)), known)
            mine, from_border = mine[sound], from_border[sound]
            if not mine.size:
                raise CannotAskError(f"an unmeasured screen may show any {region} as another")
        at = int(mine[one_near(from_border, step, rng)])
        moves = made_of(palette, at)
        return self._question(region, as_lab(pool.lab[at]), moves, rng)

    def make_for(self, palette: Palette, target: Lab, step: float, rng: random.Random) -> Question:
        """See ``drills.questions.given_colour``."""
        shown = as_shown(target)
        region = region_of(shown)
        if region not in FAMILIES:
            raise CannotAskError("a grey has no family to name")
        if 0.5 - wheel_steps(wheel_position(shown), FAMILIES.index(region)) < NEAREST:
            raise CannotAskError("it stands on the border of two families")
        hold_steady(palette, shown)
        off = delta_e00(palette.pool.lab, np.asarray(shown))
        nearest = int(np.argmin(off))
        moves = made_words(palette, palette.pool.moves(nearest))
        if off[nearest] >= VISIBLE_STEP:
            moves += f" comes nearest, within ΔE00 {off[nearest]:.1f}"
        return self._question(region, shown, moves, rng)

    def _question(self, region: str, lab: Lab, made_with: str, rng: random.Random) -> Question:
        index = FAMILIES.index(region)
        reading = read_colour(lab)
        first = index - _stands(rng, (reading.position - index + 6.0) % 12.0 > 6.0)
        families = tuple((first + i) % len(FAMILIES) for i in range(OFFERED))
        data = ColourToName(lab, reading, families, made_with)
        return self.question(
            data,
            region,
            0.5 - float(wheel_steps(reading.position, index)),
            lab,
            family=reading.family,
            lean=reading.lean,
            wheel=round(reading.position, 3),
            choices=[FAMILIES[i] for i in families],
            key=[reading.family, reading.lean or "squarely"],
            made_with=data.made_with,
        )

    def first_ask(self, data: ColourToName) -> Ask:
        families = choices({FAMILIES[i]: FAMILIES[i] for i in data.families})
        return Ask("Which hue family does this colour belong to?", families, (Swatch(data.lab),))

    def next_ask(self, data: ColourToName, keys: Keys) -> Ask | None:
        if len(keys) > 1:
            return None
        chosen = FAMILIES.index(keys[0])
        before, after = FAMILIES[chosen - 1], FAMILIES[(chosen + 1) % len(FAMILIES)]
        squarely = f"neither: squarely {keys[0]}"
        leans = {before: f"toward {before}", "squarely": squarely, after: f"toward {after}"}
        prompt = f"{YOU_SAY}{keys[0]}. Which way does it lean?"
        return Ask(prompt, choices(leans), (Swatch(data.lab),))

    def graded(self, data: ColourToName, keys: Keys) -> Grade:
        reading = data.reading
        family, lean = keys
        error = _steps_off(reading.position, family, lean)
        right = family == reading.family
        lean_right = right and (reading.lean or "squarely") == lean
        # Two steps off is wild; being a hair over a border is not.
        score = 1.0 if lean_right else 0.9 * max(0.0, 1.0 - error / WILD)
        away = float(wheel_steps(reading.position, FAMILIES.index(reading.family or family)))
        figures = (
            f"About Munsell {reading.munsell}, {away:.1f} wheel steps from mid {reading.family}"
        )
        verdict = _verdict(reading, family, lean_right)
        return Grade(score, right, error, "wheel steps", verdict, figures)

    def revealed(self, data: ColourToName, keys: Keys) -> Reveal:
        reading = data.reading
        chosen = keys[0]
        away = float(wheel_steps(reading.position, FAMILIES.index(reading.family or chosen)))
        centres = turned_on_screen(data.lab, data.families)
        rows = []
        for index, lab in zip(data.families, centres, strict=True):
            name = FAMILIES[index]
            best = name == reading.family
            rows.append(result(name, "at the same value", as_lab(lab), name == chosen, best))
        return Reveal(
            because=(
                reading.sentence(),
                f"Your pencils: {data.made_with}.",
            ),
            results=tuple(rows),
            target=Swatch(data.lab),
            limits=LIMITS if 0.5 - away < ARGUED else "",
        )


def _stands(rng: random.Random, onward: bool) -> int:
    """Where the true family stands among those offered.

    The neighbour across the nearer border, which lies ``onward`` or back, is
    always offered: it is the one to mistake. So the truth is never last of those
    when it lies onward, nor first when back; the other end counts double, that
    over both ways its place tells nothing.
    """
    place = max(0, rng.randrange(OFFERED) - 1)
    return place if onward else OFFERED - 1 - place


def _steps_off(position: float, family: str, lean: str) -> float:
    """Wheel steps from a colour to the nearest place that an answer covers.

    "Squarely" covers what lies within SQUARE of a family's centre; a lean, the
    rest of the family on that side.
    """
    index = FAMILIES.index(family)
    off = (position - index + 6.0) % 12.0 - 6.0
    if lean == "squarely":
        return max(0.0, abs(off) - SQUARE)
    if FAMILIES[(index + 1) % len(FAMILIES)] != lean:
        off = -off
    # From the middle of the covered stretch, the shorter way round.
    middle = (0.5 + SQUARE) / 2
    return max(0.0, float(wheel_steps(off, middle)) - (0.5 - SQUARE) / 2)


def _verdict(reading: Reading, family: str, lean_right: bool) -> str:
    truth = f"{reading.family}, " + (f"leaning to {reading.lean}" if reading.lean else "squarely")
    if lean_right:
        return f"Yes: {truth}."
    if family == reading.family:
        return f"The family is right: it is {truth}."
    apart = round(float(wheel_steps(FAMILIES.index(family), FAMILIES.index(reading.family))))
    off = {1: "No, but near", 2: "Two families off"}.get(apart, "Far off")
    return f"{off}: it is {truth}."


KIND = HueAndLean()
