"""Evenly between: two swatches are given; which of four has the hue midway between theirs?

All have one lightness and one chroma, as far as the screen allows, so that
nothing but hue sets them apart. The four follow each other round the wheel, and
the one midway is any of them. Graded by how far from midway the chosen one
lies; difficulty is how much nearer the best is than the next, both in wheel
steps.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import in_screen_gamut, lab_to_lch, shown_lab
from drills.colour.turn import fitted_to_screen, turned
from drills.layering.palette import Palette
from drills.questions.draw import VISIBLE_STEP, FloatArray, as_json, as_lab, colours_of
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import LETTERS, gap, lettered, near_miss, result
from drills.screen.known import ScreenKnown
from drills.screen.unmeasured import keeps_answer

OFFERED = 4
NEAREST_END = 1.0
"""Least wheel steps from midway to either end."""
BEYOND = 0.3
"""Least wheel steps from a choice to either end."""
LEAST_CHROMA = 10.0
"""Least C*ab: duller, hues can hardly be told."""
TRIES, OF_EACH = 6, 3
"""Colours tried as the middle, each the brightest of so many drawn."""
MIDWAY = 0.3
"""Most that the best may lie off midway once shown, as a share of the step."""
CLOSE, SERVE = 0.06, 3
"""How near the wanted step, as a share of it, ends the search; or how many sound ones."""
WIDER = 1.15
"""How much wider the choices are set each time they can't be told apart."""


@dataclass(frozen=True)
class Between:
    """The two ends, the four as offered, and how far past midway each lies (wheel steps)."""

    ends: tuple[Lab, Lab]
    labs: tuple[Lab, ...]
    past: tuple[float, ...]

    @property
    def best(self) -> int:
        return int(np.argmin(np.abs(self.past)))


class EvenlyBetween(Exercise[Between]):
    name = "evenly-between"
    version = 2
    title = "Evenly between"
    trains = "to judge even steps of hue"
    at_the_table = (
        "To bridge two colours, lay the one between as a swatch and look from both sides."
    )
    look_for = ("Ask of each which end it is nearer to. The even one is nearer to neither.",)
    seconds, unit, steps, chance = 12.0, "wheel steps", (0.75, 0.12), 1 / OFFERED

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        easiest, hardest = self.steps
        asked = min(max(step, hardest), easiest)
        drawn = rng.sample(mine.tolist(), min(TRIES * OF_EACH, len(mine)))
        brightest = [
            max(drawn[at : at + OF_EACH], key=lambda i: float(pool.strength[i]))
            for at in range(0, len(drawn), OF_EACH)
        ]
        way = rng.choice((1.0, -1.0))
        before = rng.randrange(OFFERED)
        listed = rng.sample(range(OFFERED), OFFERED)
        found: list[tuple[float, int, Between]] = []
        while not found and asked < WIDER * easiest:
            for at in (*brightest, *drawn[:TRIES]):
                row = _row(pool.lab[at], float(pool.wheel[at]), way * asked, before)
                data = None if row is None else _sound(row, way, listed)
                if data is not None and _steady(row, way, palette.screen_known):
                    # The screen's 8 bits move a hue a little: the nearest to what is asked serves.
                    found.append((abs(gap(np.abs(data.past)) - step), at, data))
                    if found[-1][0] < CLOSE * step or len(found) == SERVE:
                        break
            asked *= WIDER
        if not found:
            raise CannotAskError(f"no hues about {region} here can be told apart")
        _, _, data = min(found, key=lambda one: one[:2])
        return self.question(
            data,
            region,
            gap(np.abs(data.past)),
            None,
            ends=[as_json(lab) for lab in data.ends],
            choices=[as_json(lab) for lab in data.labs],
            wheel_steps=[round(one, 3) for one in data.past],
            key=LETTERS[data.best],
        )

    def first_ask(self, data: Between) -> Ask:
        return Ask(
            "Which of these has the hue evenly between the two, no nearer to one than the other?",
            lettered(data.labs),
            (Swatch(data.ends[0], "the first"), Swatch(data.ends[1], "the second")),
        )

    def graded(self, data: Between, keys: Keys) -> Grade:
        chosen, best = LETTERS.index(keys[0]), data.best
        error, least = abs(data.past[chosen]), abs(data.past[best])
        if chosen == best:
            verdict = f"Yes: {LETTERS[best]} lies evenly between them."
        else:
            verdict = (
                f"No: {LETTERS[chosen]} is nearer the {_nearer(data.past[chosen])}. "
                f"{LETTERS[best]} lies evenly between them."
            )
        score, figures = near_miss(error - least, 0.8), f"{error:.2f} wheel steps from midway"
        return Grade(score, chosen == best, error, "wheel steps", verdict, figures)

    def revealed(self, data: Between, keys: Keys) -> Reveal:
        chosen = LETTERS.index(keys[0])
        families = [FAMILIES[i] for i in family_at(wheel_position(data.labs)).tolist()]
        first, second = (FAMILIES[int(i)] for i in family_at(wheel_position(data.ends)))
        rows = [result("the first", first, data.ends[0])]
        for i in np.argsort(data.past).tolist():
            past = data.past[i]
            where = f"{abs(past):.2f} wheel steps nearer the {_nearer(past)}"
            if i == data.best:
                where = "evenly between"
            words = f"{families[i]}, {where}"
            rows.append(result(LETTERS[i], words, data.labs[i], i == chosen, i == data.best))
        rows.append(result("the second", second, data.ends[1]))
        return Reveal(
            because=(
                "Only hue sets them apart: ask of each which of the two it has more of.",
                "Two pencils mix duller in the middle, the more so the farther apart they stand. "
                "A bright pencil of the middle hue lifts it (common practice).",
            ),
            results=tuple(rows),
            limits="Hue is CIECAM16's in daylight (D50), in steps of the wheel.",
        )


def _steady(row: FloatArray | None, way: float, known: ScreenKnown) -> bool:
    """Whether the same one is even on any screen that an unmeasured one may be."""
    return row is not None and keeps_answer(
        row, lambda labs: int(np.argmin(np.abs(_past(labs, way)))), known
    )


def _past(row: FloatArray, way: float) -> FloatArray:
    """Wheel steps by which the choices of a row (6, 3) lie past midway between its ends, (4,)."""
    place = wheel_position(row)
    along = (way * (place - place[0]) + 1.0) % 12.0 - 1.0
    past: FloatArray = along[2:] - along[1] / 2.0
    return past


def _nearer(past: float) -> str:
    return "first" if past < 0.0 else "second"


def _row(lab: FloatArray, middle: float, spacing: float, before: int) -> FloatArray | None:
    """Lab (6, 3) as shown, the two ends and four choices in hue order, ``before`` short of midway.

    ``spacing`` is in wheel steps, below zero against the wheel. All have one lightness, and about
    the most chroma that all can have; None where that is too little.
    """
    reach = max(NEAREST_END, (OFFERED - 1) * abs(spacing) + BEYOND) * np.sign(spacing)
    along = np.array([-reach, reach, *(spacing * (np.arange(OFFERED) - before))])
    fitted = lab_to_lch(fitted_to_screen(turned(lab, middle + along)))
    chroma = float(fitted[:, 1].min())
    if chroma < LEAST_CHROMA:
        return None
    # The hue angle of a place bends a little with chroma, so the row is turned anew.
    row = turned((float(lab[0]), chroma, 0.0), middle + along)
    return shown_lab(row) if bool(in_screen_gamut(row).all()) else None


def _sound(row: FloatArray, way: float, listed: list[int]) -> Between | None:
    """The question of a row (6, 3); None where choices can't be told apart or none is even."""
    past = _past(row, way)
    step = gap(np.abs(past))
    clear = float(delta_e00(row[2:-1], row[3:]).min()) >= VISIBLE_STEP
    if not clear or float(np.abs(past).min()) > MIDWAY * step:
        return None
    return Between(
        ends=(as_lab(row[0]), as_lab(row[1])),
        labs=tuple(as_lab(row[2 + i]) for i in listed),
        past=tuple(float(past[i]) for i in listed),
    )


KIND = EvenlyBetween()
