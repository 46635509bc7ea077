"""Put in value order: five colours of mixed hue and chroma, from light to dark.

The colours are what the learner's pencils make, no two of one family where
that can be. At least one neighbour is set to mislead: the darker of a pair is
the brighter by far. Graded by the pairs that stand the wrong way round, each
by its ΔL*, so that two near ones swapped cost little. Difficulty is the
smallest ΔL* between neighbours; the other gaps are little wider, so guessing
part of the order gains little.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.munsell import munsell_value
from drills.colour.words import strength, value_word
from drills.layering.palette import Palette
from drills.questions.draw import BoolArray, FloatArray, as_json, as_lab, askable, shown_pool
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal
from drills.questions.results import (
    LETTERS,
    ORDINALS,
    graded_row,
    lettered,
    made_of,
    order_given,
    result,
)

BANDS = ("light", "middle", "dark")
WIDEST_GAP = 1.6
"""How many times the smallest gap another gap may be."""
LEAST_STEP = 1.0
"""Least ΔL* between neighbours: under it even two greys are hard to tell."""
NEAR_L = 0.12
"""How far off its place in the row a colour may stand, as a share of the step."""
MISLEADS = 2.0
"""Strength (about Munsell chroma) by which the darker of some two neighbours is the brighter."""
TRIES, ENOUGH = 40, 12
"""Throws for a row, and after how many the nearest so far will do."""
MIDDLES = 6


@dataclass(frozen=True)
class ValueRow:
    """The five as offered, with how each was made."""

    labs: tuple[Lab, ...]
    made_with: tuple[str, ...]

    @property
    def lightness(self) -> tuple[float, ...]:
        """L* of each."""
        return tuple(lab[0] for lab in self.labs)

    @property
    def order(self) -> tuple[int, ...]:
        """The places among the offered, lightest first."""
        return tuple(np.argsort([-L for L in self.lightness]).tolist())


class ValueOrder(Exercise[ValueRow]):
    name = "value-order"
    version = 2
    title = "Put in value order"
    trains = "to see value through hue and brightness, over a whole row"
    at_the_table = "Put the pencils for a drawing in a row by value before you start."
    look_for = (
        "Half close your eyes until the hues fade. Which is palest, which darkest? Then "
        "compare two at a time.",
    )
    seconds, unit, steps, chance = 25.0, "ΔL*", (12.0, 1.5), 1 / 120

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, [f"{band} colours" for band in BANDS])

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        if region not in {f"{band} colours" for band in BANDS}:
            raise CannotAskError(f"{region} is no band of value")
        lightness = pool.lab[:, 0]
        words = [value_word(v) for v in munsell_value(_greys(lightness)).tolist()]
        in_band = np.array([f"{word} colours" == region for word in words], dtype=bool)
        if not in_band.any():
            raise CannotAskError(f"these pencils make no {region}")
        found: list[tuple[float, list[int]]] = []
        for turn in range(TRIES):
            if found and turn >= ENOUGH:
                break
            row = _row(palette, in_band, max(LEAST_STEP, step), rng)
            if row is not None and _gap(lightness[row]) >= LEAST_STEP:
                off = abs(np.log(_gap(lightness[row]) / step))
                found.append((off, row))
                if off < 0.1:
                    break
        if not found:
            raise CannotAskError(f"these pencils make no row of five about {region}")
        row = min(found)[1]
        rng.shuffle(row)
        data = ValueRow(
            labs=tuple(as_lab(pool.lab[i]) for i in row),
            made_with=tuple(made_of(palette, i) for i in row),
        )
        return self.question(
            data,
            region,
            _gap(np.array(data.lightness)),
            None,
            choices=[as_json(lab) for lab in data.labs],
            key=[LETTERS[i] for i in data.order],
            made_with=list(data.made_with),
        )

    def first_ask(self, data: ValueRow) -> Ask:
        return Ask(
            "Put these in order of value, the lightest first. Ignore hue and brightness: which "
            "would be the palest grey?",
            lettered(data.labs),
            form="arrange",
        )

    def graded(self, data: ValueRow, keys: Keys) -> Grade:
        values = [-data.lightness[i] for i in order_given(keys)]
        return graded_row(values, "ΔL*", "Yes: all five are in order of value.")

    def revealed(self, data: ValueRow, keys: Keys) -> Reveal:
        mine = order_given(keys)
        rows = []
        for at, i in enumerate(data.order):
            yours = "rightly placed" if mine[at] == i else f"you had it {ORDINALS[mine.index(i)]}"
            L = data.lightness[i]
            value = float(munsell_value(_greys(np.array([L])))[0])
            label = f"{ORDINALS[at]}: {LETTERS[i]}, {yours}"
            words = f"at right as a grey, value {value:.1f}"
            rows.append(result(label, words, data.labs[i], beside=(L, 0.0, 0.0)))
        return Reveal(
            because=(
                _lesson(data, mine),
                "Half close your eyes until hue fades, and compare two at a time (common "
                "practice).",
            ),
            results=tuple(rows),
            limits="Value is L*; very bright colours look lighter (Helmholtz–Kohlrausch effect).",
        )


def _greys(lightness: FloatArray) -> FloatArray:
    """Lab (n, 3) of the greys of L* (n,)."""
    return np.stack([lightness, np.zeros_like(lightness), np.zeros_like(lightness)], axis=-1)


def _gap(lightness: FloatArray) -> float:
    """The smallest ΔL* between neighbours in value."""
    return float(np.diff(np.sort(lightness)).min())


def _row(palette: Palette, in_band: BoolArray, step: float, rng: random.Random) -> list[int] | None:
    """Places in the pool of five colours from light to dark, the middle one in the band.

    ``in_band`` (n,) says which of the pool may be the middle one. None where no
    such row was found at this throw.
    """
    pool = shown_pool(palette)
    gaps = np.array([rng.uniform(1.0, WIDEST_GAP) for _ in range(4)])
    gaps[rng.randrange(4)] = 1.0
    least, most = pool.lab[:, 0].min(), pool.lab[:, 0].max()
    up, down = gaps[:2].sum(), gaps[2:].sum()
    middles = pool.lab[in_band, 0].tolist()
    # As wide a step as fits about the middle between what is darkest and lightest here.
    fits = [
        (min(step, (most - middle) / up, (middle - least) / down), middle)
        for middle in (rng.choice(middles) for _ in range(MIDDLES))
    ]
    widest = max(fits)[0]
    wide, middle = rng.choice([fit for fit in fits if fit[0] == widest])
    wanted = middle + wide * np.array([up, gaps[1], 0.0, -gaps[2], -down])
    row: list[int] = [-1] * 5
    families: set[int] = set()
    for at in rng.sample(range(5), 5):
        close = np.abs(pool.lab[:, 0] - wanted[at]) <= NEAR_L * wide
        near = np.flatnonzero(close & in_band if at == 2 else close)
        fresh = near[[int(f) not in families for f in pool.family[near]]]
        among = fresh if fresh.size else near
        if not among.size:
            return None
        row[at] = int(among[rng.randrange(len(among))])
        families.add(int(pool.family[row[at]]))
    # Of some two neighbours, lighter first, the darker is to be much the brighter.
    misleads = (np.diff(pool.strength[row]) >= MISLEADS).any()
    return row if len(families) >= 4 and misleads else None


def _lesson(data: ValueRow, mine: tuple[int, ...]) -> str:
    """What misled in the widest pair put wrong, or what might have."""
    about = strength(np.array(data.labs))
    L = data.lightness
    wrong = [(L[b] - L[a], a, b) for i, a in enumerate(mine) for b in mine[i + 1 :] if L[b] > L[a]]
    if not wrong:
        beside = zip(data.order[1:], data.order, strict=False)
        _, dark, light = max((about[d] - about[l], d, l) for d, l in beside)
        return (
            f"{LETTERS[dark]} is brighter than {LETTERS[light]}, and darker all the same: "
            "bright colours look lighter."
        )
    _, dark, light = max(wrong)
    wrong_pair = f"You put {LETTERS[dark]} before {LETTERS[light]}, which is lighter."
    if about[dark] >= about[light] + 1.0:
        return f"{wrong_pair} {LETTERS[dark]} is the brighter, and looks lighter than it is."
    if about[light] >= about[dark] + 1.0:
        return f"{wrong_pair} {LETTERS[light]} is the brighter: rich is not always dark."
    return f"{wrong_pair} They are about as bright, so only hue and value differ."


KIND = ValueOrder()
