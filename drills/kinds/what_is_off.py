"""What is off? A target beside a swatch that is nearly it: which one change does it want most?

Both are colours that these pencils make. The swatch lies near the target, and
one change of six (value, chroma or hue, either way) all but closes the gap.
Which of the six is drawn first, so that none is right oftener than another.
Difficulty is how much nearer the best change comes than the next best (ΔE00), as it looks;
graded is the miss to be expected on paper, with the spread that layers like those laid have.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.reading import describe_difference
from drills.colour.spaces import lab_to_lch, lch_to_lab
from drills.layering.doubt.draws import many_in_doubt
from drills.layering.palette import Palette
from drills.planning.choose import DRAWS
from drills.questions.draw import (
    VISIBLE_STEP,
    FloatArray,
    as_json,
    as_lab,
    colours_of,
    shown_pool,
)
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import (
    MODEL_LIMITS,
    choices,
    gap,
    grain_words,
    made_of,
    near_miss,
    result,
)

NEARLY = (3.0, 20.0)
"""ΔE00 of the swatch from the target, least and most."""
STILL_OFF = 3.0
"""Most ΔE00 that the best change may leave: one change all but makes the match."""
HUED = 2.0
"""Least strength (about Munsell chroma) of both, for a hue to be seen."""
TARGETS = 8
"""Targets tried until a swatch near the wanted step is found."""
CLOSE = 0.1
"""How near the wanted step, as a share of it, ends the search."""
CHANGES = ("lighter", "darker", "brighter", "duller", "onward", "back")
"""The last two are ways round the wheel; the learner reads the family that each leads to."""

ON_PAPER = {
    "lighter": "Little can be taken off: lift what comes, or begin again with a lighter hand",
    "darker": "Another layer of the same pencils darkens it",
    "brighter": "A layer of a brighter pencil of the same hue lifts it",
    "duller": "A light layer of the complement quiets it",
    "onward": "A light layer of a pencil of that family turns it",
    "back": "A light layer of a pencil of that family turns it",
}
"""How each change is made on paper (common practice, no source)."""


@dataclass(frozen=True)
class NearlyMade:
    """Each change with the swatch it would give, how far ``off`` that looks (ΔE00), and the
    ``errors``, misses to be expected when it is laid; ``doubt`` says in words how far layers
    like those laid stray."""

    target: Lab
    half: Lab
    laid: str
    doubt: str
    names: tuple[str, ...]
    swatches: tuple[Lab, ...]
    off: tuple[float, ...]
    errors: tuple[float, ...]

    @property
    def best(self) -> int:
        return int(np.argmin(self.errors))


class WhatIsOff(Exercise[NearlyMade]):
    name = "what-is-off"
    version = 3
    title = "What is off?"
    trains = "to see what a nearly made colour still wants"
    at_the_table = "Compare value first, then dullness, then hue, and mend what is off most."
    look_for = (
        "Look at one thing at a time: value, then bright or dull, then hue. Which is farthest off?",
    )
    seconds, unit, steps, chance = 15.0, "ΔE00", (12.0, 1.0), 1 / 6

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        mine = mine[pool.strength[mine] >= HUED]
        if not mine.size:
            raise CannotAskError(f"every {region} of these pencils is too grey")
        hued = np.flatnonzero(pool.strength >= HUED)
        wanted = rng.randrange(len(CHANGES))
        found: list[tuple[bool, float, int, int]] = []
        for at in rng.sample(mine.tolist(), min(TARGETS, len(mine))):
            target = pool.lab[at]
            away = delta_e00(pool.lab[hued], target)
            near = hued[(away >= NEARLY[0]) & (away <= NEARLY[1])]
            if not near.size:
                continue
            errors = delta_e00(changed(pool.lab[near], target), target)
            first, second = np.sort(errors, axis=1)[:, :2].T
            best = np.argmin(errors, axis=1)
            sound = (second - first >= VISIBLE_STEP) & (first <= STILL_OFF)
            misses = np.where(sound, np.abs(second - first - step), np.inf)
            for other in (False, True):
                far = np.where((best == wanted) != other, misses, np.inf)
                least = int(np.argmin(far))
                if np.isfinite(far[least]):
                    found.append((other, float(far[least]), at, int(near[least])))
            if found and min(found)[:2] <= (False, CLOSE * step):
                break
        if not found:
            raise CannotAskError(f"no {region} here has one thing clearly off")
        for _, _, at, laid in sorted(found):
            data = _nearly_made(palette, as_lab(pool.lab[at]), laid)
            # What looks best must be best on paper too.
            if data.best == int(np.argmin(data.off)):
                break
        else:
            raise CannotAskError(f"no {region} here has one thing clearly off on paper")
        return self.question(
            data,
            region,
            gap(data.off),
            data.target,
            half=as_json(data.half),
            laid=data.laid,
            choices=list(data.names),
            delta_e00=[round(one, 3) for one in data.off],
            expected_miss=[round(error, 3) for error in data.errors],
            key=data.names[data.best],
        )

    def first_ask(self, data: NearlyMade) -> Ask:
        return Ask(
            "The swatch is nearly the target. Which one change would bring it nearest?",
            choices({name: name for name in data.names}),
            (Swatch(data.target, "the target"), Swatch(data.half, "so far")),
        )

    def graded(self, data: NearlyMade, keys: Keys) -> Grade:
        (said,) = keys
        chosen = data.names.index(said)
        error, best = data.errors[chosen], data.errors[data.best]
        right = chosen == data.best
        verdict = (
            f"Yes: it should go {said}."
            if right
            else f"No: it should go {data.names[data.best]}, not {said}."
        )
        score, figures = near_miss(error - best, 6.0), f"ΔE00 {error:.1f} off to be expected"
        return Grade(score, right, error, "ΔE00", verdict, figures)

    def revealed(self, data: NearlyMade, keys: Keys) -> Reveal:
        (said,) = keys
        rows = []
        for i in sorted(range(len(data.names)), key=lambda place: data.errors[place]):
            name = data.names[i]
            left = describe_difference(data.swatches[i], data.target)
            words = "then it would match" if left == "the same to the eye" else f"then: {left}"
            rows.append(result(name, words, data.swatches[i], name == said, i == data.best))
        return Reveal(
            because=(
                f"So far: {data.laid}. {data.doubt}",
                f"On paper: {ON_PAPER[CHANGES[data.best]]} (common practice).",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
            limits=MODEL_LIMITS,
        )


def _nearly_made(palette: Palette, target: Lab, laid: int) -> NearlyMade:
    """The question of a target and the swatch at the place ``laid`` of the shown pool."""
    pool = shown_pool(palette)
    half = as_lab(pool.lab[laid])
    goal = np.array(target)
    swatches = changed(np.array([half]), goal)[0]
    moves = palette.pool.moves(int(pool.places[laid]))
    seen = many_in_doubt(palette, [moves], DRAWS, 0)[0]
    strays = seen - seen.mean(axis=0)
    expected = delta_e00(swatches[:, None] + strays, goal).mean(axis=1)
    far = float(delta_e00(half + strays, np.array(half)).mean())
    return NearlyMade(
        target,
        half,
        made_of(palette, laid),
        f"It looks {grain_words(palette, moves)}; layers like these stray by about {far:.0f}.",
        (*CHANGES[:4], *(f"toward {one}" for one in _led_to(half, swatches[4:]))),
        tuple(as_lab(lab) for lab in swatches),
        tuple(delta_e00(swatches, goal).tolist()),
        tuple(expected.tolist()),
    )


def changed(halves: FloatArray, target: FloatArray) -> FloatArray:
    """Lab (n, 6, 3): each change of swatches (n, 3), of the size that a target (3,) asks for.

    The wrong way of each goes as far as the right way.
    """
    L0, C0, h0 = lab_to_lch(halves).T
    L1, C1, h1 = lab_to_lch(target).tolist()
    by_L, by_C = np.abs(L1 - L0), np.abs(C1 - C0)
    turn = np.abs((h1 - h0 + 180.0) % 360.0 - 180.0)
    tried = [
        (np.minimum(100.0, L0 + by_L), C0, h0),
        (np.maximum(0.0, L0 - by_L), C0, h0),
        (L0, C0 + by_C, h0),
        (L0, np.maximum(0.0, C0 - by_C), h0),
        # The hue angle falls as the wheel goes on from yellow to red.
        (L0, C0, h0 - turn),
        (L0, C0, h0 + turn),
    ]
    lch: FloatArray = np.stack([np.stack(one, axis=-1) for one in tried], axis=1)
    return lch_to_lab(lch)


def _led_to(half: Lab, turned: FloatArray) -> Sequence[str]:
    """The family that a turn onward and one back (2, 3) each lead to.

    The family reached, or within the swatch's own the neighbour on that side.
    """
    own = int(family_at(wheel_position(half)))
    reached = family_at(wheel_position(turned)).tolist()
    return [
        FAMILIES[(own + way) % 12 if family == own else family]
        for family, way in zip(reached, (1, -1), strict=True)
    ]


KIND = WhatIsOff()
