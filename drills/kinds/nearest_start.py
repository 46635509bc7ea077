"""Nearest start: which of the learner's pencils has the hue of the target.

The pencil may be lighter, darker or brighter: value and chroma are easily
moved, hue is not. Among four pencils one has the target's hue; from none to
all of the others look more like the target (a smaller ΔE00), so that likeness
tells nothing. Graded by hue, in steps of the wheel. Difficulty is how much
nearer in hue the best is than the next.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_position, wheel_steps
from drills.colour.reading import describe_difference
from drills.colour.spaces import in_screen_gamut, lab_to_lch, shown_lab
from drills.colour.turn import fitted_to_screen, turned
from drills.colour.words import strength
from drills.layering.palette import Palette
from drills.questions.decoys import decoys, ranks_wanted
from drills.questions.draw import FloatArray, IntArray, as_lab, shown_pool
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import LETTERS as ALL_LETTERS
from drills.questions.results import gap, lettered, made_of, near_miss, result
from drills.screen.known import ScreenKnown
from drills.screen.unmeasured import keeps_answer

LETTERS = ALL_LETTERS[:4]
SAME_HUE = 0.4
"""Most wheel steps of the best from the target: less than half a family."""
CLEARLY = 0.6
"""Most wheel steps the best may be off, as a share of the gap to the next."""
LEAST_GAP = 0.2
"""Least gap asked, in wheel steps: under it, two hues of unlike value pass for one."""
NOT_IT = 6.0
"""Least ΔE00 of the best from the target, or it would be the colour itself."""
HUED = 2.0
"""Least strength (about Munsell chroma) of a target and of a pencil, for a hue to be seen."""
BEYOND = 2.5
"""Most wheel steps by which a wrong one lies farther round the wheel than the rival should."""
MARKS = 3
"""What a pencil could be told by, its hue not seen: likeness to the target, value, chroma."""
TARGETS = 60
CLOSE = 0.4
"""How ill a question may fit what is wanted of it, to end the search (``decoys.decoys``)."""


@dataclass(frozen=True)
class StartsOffered:
    """The pencils offered: ``off`` in wheel steps, ``apart`` in ΔE00 from the target."""

    target: Lab
    made_with: str
    names: tuple[str, ...]
    swatches: tuple[Lab, ...]
    off: tuple[float, ...]
    apart: tuple[float, ...]

    @property
    def best(self) -> int:
        """The place among the offered of the one nearest in hue."""
        return int(np.argmin(self.off))


class NearestStart(Exercise[StartsOffered]):
    name = "nearest-start"
    version = 3
    title = "Nearest start"
    trains = "to pick the pencil of the right hue, whatever its value and brightness"
    at_the_table = (
        "Start with the pencil nearest in hue, even if it is too light or too "
        "bright: value and dullness come later."
    )
    look_for = (
        "Light or dark, bright or dull: leave that aside. Which pencil has its hue, leaning "
        "the same way?",
    )
    seconds, unit, steps, chance = 12.0, "wheel steps", (3.0, 0.25), 1 / len(LETTERS)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = pool.of(region)
        mine = mine[pool.strength[mine] >= HUED]
        mine = mine[rng.sample(range(len(mine)), min(TARGETS, len(mine)))]
        pencils = _hued(palette)
        if not mine.size or pencils.size < len(LETTERS):
            raise CannotAskError(f"these pencils make no {region} to start toward")
        labs = shown_lab(palette.lab[pencils])
        off = wheel_steps(pool.wheel[mine][:, None], wheel_position(labs))
        apart = delta_e00(pool.lab[mine][:, None, :], labs)
        found: list[tuple[float, int, list[int]]] = []
        wanted = ranks_wanted(MARKS, rng)
        for at in range(len(mine)):
            ill, offered = _offered(off[at], apart[at], labs, step, wanted, rng)
            better = offered and (not found or ill < found[-1][0])
            known = palette.screen_known
            if better and _steady(pool.lab[mine[at]], labs[offered], known):
                found.append((ill, at, offered))
                if ill < CLOSE:
                    break
        if not found:
            raise CannotAskError(f"no pencil here has the hue of {region} without its looks")
        _, at, offered = found[-1]
        rng.shuffle(offered)
        data = StartsOffered(
            target=as_lab(pool.lab[mine[at]]),
            made_with=made_of(palette, mine[at]),
            names=tuple(palette.names[pencils[i]] for i in offered),
            swatches=tuple(as_lab(labs[i]) for i in offered),
            off=tuple(float(off[at, i]) for i in offered),
            apart=tuple(float(apart[at, i]) for i in offered),
        )
        return self.question(
            data,
            region,
            gap(data.off),
            data.target,
            choices=list(data.names),
            wheel_steps=[round(one, 3) for one in data.off],
            delta_e00=[round(one, 3) for one in data.apart],
            key=LETTERS[data.best],
            made_with=data.made_with,
        )

    def first_ask(self, data: StartsOffered) -> Ask:
        return Ask(
            "Which of these pencils has the target's hue? It may be lighter, darker or brighter.",
            lettered(data.swatches),
            (Swatch(data.target, "the target"),),
        )

    def graded(self, data: StartsOffered, keys: Keys) -> Grade:
        chosen, best = LETTERS.index(keys[0]), data.best
        error, least = data.off[chosen], data.off[best]
        if chosen == best:
            verdict = f"Yes: {data.names[best]} has the target's hue."
        else:
            verdict = (
                f"No: {data.names[best]} has its hue. {data.names[chosen]} "
                f"{_nearer(data, chosen)}has another hue."
            )
        score = near_miss(error - least, 1.5)
        figures = f"{error:.1f} wheel steps from the target's hue"
        return Grade(score, chosen == best, error - least, "wheel steps", verdict, figures)

    def revealed(self, data: StartsOffered, keys: Keys) -> Reveal:
        chosen, best = LETTERS.index(keys[0]), data.best
        rows = []
        for i in sorted(range(len(data.names)), key=lambda place: data.off[place]):
            words = f"brought to its value and chroma: {data.off[i]:.1f} wheel steps off"
            brought = _brought(data.swatches[i], data.target)
            label = f"{LETTERS[i]}: {data.names[i]}"
            rows.append(result(label, words, brought, i == chosen, i == best))
        start = data.swatches[best]
        return Reveal(
            because=(
                f"From {data.names[best]} the target is {describe_difference(start, data.target)}.",
                "Value and chroma are easy to change, hue is hard (common practice).",
                f"Your pencils: {data.made_with}.",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
            limits="Hue is CIECAM16's in daylight (D50), in steps of the wheel.",
        )


def _nearer(data: StartsOffered, chosen: int) -> str:
    """In what a pencil that looks more like the target is nearer to it than the best; nothing
    where it doesn't. A step of value counts as two of chroma, as in Nickerson's index of fading
    (1936; from memory)."""
    if data.apart[chosen] >= data.apart[data.best]:
        return ""
    target, ours, best = data.target, data.swatches[chosen], data.swatches[data.best]
    value = (abs(best[0] - target[0]) - abs(ours[0] - target[0])) / 5.0
    off_best, off_ours = np.abs(strength(np.array([best, ours])) - strength(target)).tolist()
    chroma = off_best - off_ours
    if max(value, chroma) <= 0.0:
        return ""
    return f"is nearer in {'value' if value > chroma else 'chroma'}, but "


def _steady(target: FloatArray, offered: FloatArray, known: ScreenKnown) -> bool:
    """Whether the same one is nearest in hue on any screen that an unmeasured one may be."""

    def nearest(labs: FloatArray) -> int:
        wheel = wheel_position(labs)
        return int(np.argmin(wheel_steps(wheel[1:], wheel[0])))

    return keeps_answer(np.concatenate([target[None], offered]), nearest, known)


@lru_cache(maxsize=8)
def _hued(palette: Palette) -> IntArray:
    """The pencils whose hue can be seen and whose swatch the screen shows."""
    pencils = palette.at_hand
    labs = palette.lab[pencils]
    hued: IntArray = pencils[(strength(labs) >= HUED) & in_screen_gamut(labs)]
    return hued


def _offered(
    off: FloatArray,
    apart: FloatArray,
    labs: FloatArray,
    step: float,
    wanted: Sequence[int],
    rng: random.Random,
) -> tuple[float, list[int]]:
    """Four places among the pencils, the best of them first, as ``decoys.decoys`` gives them.

    ``off`` (n,) in wheel steps and ``apart`` (n,) in ΔE00, of each from the target; ``labs``
    (n, 3). Empty where there are none.
    """
    same = np.flatnonzero((off <= SAME_HUE) & (apart >= NOT_IT)).tolist()
    if not same:
        return math.inf, []
    best = rng.choice([i for i in same if off[i] <= CLEARLY * step] or same)
    gap = off - off[best]
    least = max(LEAST_GAP, off[best] / CLEARLY)
    # Not too far round the wheel: no one takes a green for a brown.
    rivals = np.flatnonzero((gap >= least) & (gap <= step + BEYOND)).tolist()
    marks = np.stack([-apart, labs[:, 0], lab_to_lch(labs)[:, 1]], axis=1)
    return decoys(gap, rivals, marks, best, step, wanted, rng)


def _brought(pencil: Lab, target: Lab) -> Lab:
    """A pencil's hue at the target's value and chroma, as near as a screen shows it."""
    return as_lab(fitted_to_screen(turned(target, [wheel_position(pencil)]))[0])


KIND = NearestStart()
