"""Fill the row: five swatches between two hues, put in hue order.

All have one lightness and one chroma, as far as the screen allows, so that
nothing but hue sets them apart; the two ends are shown. Graded by the pairs
that stand the wrong way round, each by its wheel steps. Difficulty is the
spacing of the row in wheel steps, never so close that two neighbours can't be
told apart.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import in_screen_gamut, lab_to_lch, shown_lab
from drills.colour.turn import fitted_to_screen, turned
from drills.layering.palette import Palette
from drills.questions.draw import VISIBLE_STEP, FloatArray, ShownPool, as_json, as_lab, colours_of
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import LETTERS, ORDINALS, graded_row, lettered, order_given, result

IN_ROW = np.arange(-3.0, 4.0)
"""The five and the two ends, in spacings from the middle."""
LEAST_CHROMA = 10.0
"""Least C*ab of a row: duller, its hues can hardly be told."""
TRIES, OF_EACH = 6, 3
"""Colours tried as the middle of a row, each the brightest of so many drawn."""
BACKWARD = (1.0 - 0.8) ** 2
"""Score from which down a row was put the wrong way round."""
EVEN = 0.6
"""Least gap of a row as shown, as a share of its spacing."""


@dataclass(frozen=True)
class HueRow:
    """The two ends, the five between them as offered, and how far along each lies (wheel steps)."""

    ends: tuple[Lab, Lab]
    labs: tuple[Lab, ...]
    along: tuple[float, ...]

    @property
    def order(self) -> tuple[int, ...]:
        """The places among the offered, from the left end to the right."""
        return tuple(np.argsort(self.along).tolist())


class FillTheRow(Exercise[HueRow]):
    name = "fill-the-row"
    version = 2
    title = "Fill the row"
    trains = "to walk from hue to hue in even steps"
    seconds, unit, steps, chance = 25.0, "wheel steps", (0.8, 0.1), 1 / 120

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        easiest, hardest = self.steps
        spacing = min(max(step, hardest), easiest)
        drawn = rng.sample(mine.tolist(), min(TRIES * OF_EACH, len(mine)))
        brightest = [
            max(drawn[at : at + OF_EACH], key=lambda i: float(pool.strength[i]))
            for at in range(0, len(drawn), OF_EACH)
        ]
        way = rng.choice((1.0, -1.0))
        row = _told_apart(pool, brightest, way * spacing, way * easiest)
        if row is None:
            # Widened until its hues are told apart, each left the screen: a duller one may not.
            row = _told_apart(pool, drawn[:TRIES], way * spacing, way * easiest)
        if row is None:
            raise CannotAskError(f"no row through {region} here has hues that can be told apart")
        along = _along(row, way)
        listed = list(range(1, 6))
        rng.shuffle(listed)
        data = HueRow(
            ends=(as_lab(row[0]), as_lab(row[6])),
            labs=tuple(as_lab(row[i]) for i in listed),
            along=tuple(float(along[i]) for i in listed),
        )
        return self.question(
            data,
            region,
            float(np.diff(along[1:6]).min()),
            None,
            ends=[as_json(lab) for lab in data.ends],
            choices=[as_json(lab) for lab in data.labs],
            wheel_steps=[round(one, 3) for one in data.along],
            key=[LETTERS[i] for i in data.order],
        )

    def first_ask(self, data: HueRow) -> Ask:
        return Ask(
            "Five are missing from the row between these two. Put them in order of hue, from the "
            "left end to the right.",
            lettered(data.labs),
            (Swatch(data.ends[0], "from this"), Swatch(data.ends[1], "to this")),
            form="arrange",
        )

    def graded(self, data: HueRow, keys: Keys) -> Grade:
        values = [data.along[i] for i in order_given(keys)]
        grade = graded_row(values, "wheel steps", "Yes: the row runs evenly from hue to hue.")
        if grade.score <= BACKWARD:
            return replace(grade, verdict="The row runs backward: it starts from the left end.")
        return grade

    def revealed(self, data: HueRow, keys: Keys) -> Reveal:
        mine = order_given(keys)
        rows = []
        for at, i in enumerate(data.order):
            family = FAMILIES[int(family_at(wheel_position(data.labs[i])))]
            yours = "as you had it" if mine[at] == i else f"you put {LETTERS[mine[at]]} here"
            label = f"{ORDINALS[at]}: {LETTERS[i]}, {yours}"
            words = f"{family}, {data.along[i]:.1f} wheel steps from the left end"
            rows.append(result(label, words, data.labs[i], beside=data.labs[mine[at]]))
        L, C, _ = lab_to_lch(data.labs[data.order[2]]).tolist()
        return Reveal(
            because=(
                f"Left halves: the row in order, {_way(data)}. Right halves: as you filled it.",
                f"All have value L* {L:.0f} and chroma {C:.0f}: nothing but hue sets them apart. "
                "Ask of each which end it holds more of.",
                "On paper a row between two pencils sags: the farther apart they stand on the "
                "wheel, the duller its middle. A bright pencil of the middle hue lifts it "
                "(common practice).",
            ),
            results=tuple(rows),
            limits="Hue is CIECAM16 hue composition under daylight (D50), in steps of the wheel.",
        )


def _way(data: HueRow) -> str:
    """The families a row passes through, in order: "red, red-orange, orange"."""
    labs = [data.ends[0], *(data.labs[i] for i in data.order), data.ends[1]]
    families = [FAMILIES[i] for i in family_at(wheel_position(labs)).tolist()]
    return ", ".join(dict.fromkeys(families))


def _along(row: FloatArray, way: float) -> FloatArray:
    """How far each of a row (7, 3) lies from its first end, in wheel steps; ``way`` 1 or −1."""
    place = wheel_position(row)
    along: FloatArray = (way * (place - place[0])) % 12.0
    # The first itself may come a hair under a whole turn.
    return np.where(along > 11.5, along - 12.0, along)


def _told_apart(
    pool: ShownPool, middles: Sequence[int], spacing: float, most: float
) -> FloatArray | None:
    """A row, Lab (7, 3) as shown, through one of ``middles``, whose neighbours can be told apart.

    ``spacing`` is in wheel steps, below zero for a row against the wheel. Where
    neighbours would pass for one in every row, the clearest is drawn again,
    wider, up to ``most``.
    """
    clearest, middle = 0.0, -1
    for at in middles:
        row = _row(pool.lab[at], pool.wheel[at] + spacing * IN_ROW)
        seen = 0.0 if row is None else _clear(row, spacing)
        if seen >= 1.0:
            return row
        if seen > clearest:
            clearest, middle = seen, at
    while middle >= 0 and abs(spacing) < abs(most):
        spacing = np.sign(most) * min(abs(most), abs(spacing) * 1.1 / max(clearest, 0.25))
        row = _row(pool.lab[middle], pool.wheel[middle] + spacing * IN_ROW)
        if row is None:
            return None
        clearest = _clear(row, spacing)
        if clearest >= 1.0:
            return row
    return None


def _clear(row: FloatArray, spacing: float) -> float:
    """How clearly neighbours in a row (7, 3) are told apart: from 1 they all are."""
    seen = float(delta_e00(row[:-1], row[1:]).min()) / VISIBLE_STEP
    # The screen's 8 bits may have pushed a hue to its neighbour.
    even = float(np.diff(_along(row, np.sign(spacing))).min()) / (EVEN * abs(spacing))
    return max(0.0, min(seen, even))


def _row(lab: FloatArray, places: FloatArray) -> FloatArray | None:
    """Lab (n, 3) at ``places`` (n,) as shown: one lightness, about the most chroma all can have."""
    fitted = lab_to_lch(fitted_to_screen(turned(lab, places)))
    chroma = float(fitted[:, 1].min())
    if chroma < LEAST_CHROMA:
        return None
    # The hue angle of a place bends a little with chroma, so the row is turned anew.
    row = turned((float(lab[0]), chroma, 0.0), places)
    return shown_lab(row) if bool(in_screen_gamut(row).all()) else None


KIND = FillTheRow()
