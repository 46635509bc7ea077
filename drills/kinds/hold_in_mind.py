"""Hold it in mind: a swatch shown for a few seconds, then found again among near ones.

The four to choose from stand at the corners of a square: one dimension of colour
goes along one side, another along the other, and the swatch seen is any corner.
So two of the wrong ones have slipped in one dimension and one in both, and none
of the four looks like the middle of the rest: three that each differed from the
one seen in a way of their own would give it away to an eye that never saw it.

Difficulty is the side of the square: the least ΔE00 from the swatch seen to
another.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.reading import read_colour
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab, shown_lab
from drills.layering.palette import Palette
from drills.questions.draw import FloatArray, as_json, as_lab, colours_of
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import LETTERS, choices, lettered, listed, made_of, near_miss, result

Dimension = Literal["value", "chroma", "hue"]
DIMENSIONS: tuple[Dimension, ...] = ("value", "chroma", "hue")
PAIRS = tuple(combinations(range(3), 2))
WAYS = ((0, 0), (0, 1), (1, 0), (1, 1))
"""Down or up in the first dimension of a pair, and in the second."""

LOOK_S = 4.0
"""Seconds of looking: about what an artist spares the subject before the paper (our estimate)."""
KEYS = LETTERS[:4]
HELD = "held"

FARTHEST = np.array([45.0, 60.0, 75.0])
"""How far value (L*), chroma (C*ab) and hue (degrees) are moved at most."""
DARKEST, LIGHTEST, DULLEST = 12.0, 96.0, 4.0
UNEVEN = 0.2
"""Share by which a shown square's sides may miss the wanted step before another is tried."""
TRIED, TRIES = 24, 16


@dataclass(frozen=True)
class SeenAndNear:
    """``swatches`` in the order offered, ``at`` the place of the one seen.

    ``slips`` says how each differs from it, in words, ``slipped`` in which
    dimensions; both are empty for the one seen. ``errors`` are ΔE00.
    """

    seen: Lab
    at: int
    swatches: tuple[Lab, ...]
    slips: tuple[tuple[str, ...], ...]
    slipped: tuple[tuple[Dimension, ...], ...]
    errors: tuple[float, ...]
    made_with: str


class HoldInMind(Exercise[SeenAndNear]):
    name = "hold-in-mind"
    version = 2
    title = "Hold it in mind"
    trains = "to carry a colour from the subject to the paper"
    at_the_table = "Say a colour's family, value and dullness before you look down at the paper."
    look_for = (
        "Name it as you look: its family and its lean, light or dark, bright or dull.",
        "Say the names again. Leave out what is brighter, lighter or of another hue than you said.",
    )
    seconds, unit, steps, chance = 13.0, "ΔE00", (14.0, 1.5), 0.25
    screen_only = True

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        mine = np.array(sorted(rng.sample(mine.tolist(), min(TRIED, mine.size))))
        labs = pool.lab[mine]
        squares, sound = _squares(labs, moved_by(labs, step))
        # A colour with room all round may be any corner; only where there is none may one serve
        # that stands at an end of its dimension, and so could be guessed.
        free = np.repeat(sound.all(axis=2, keepdims=True), len(WAYS), axis=2)
        places = np.argwhere(free if free.any() else sound).tolist()
        if not places:
            raise CannotAskError(f"these pencils' {region} leaves no room for near ones")
        pair = rng.choice(sorted({pair for _, pair, _ in places}))
        places = [place for place in places if place[1] == pair]
        tried = rng.sample(places, min(TRIES, len(places)))
        even = (place for place in tried if _uneven(squares[tuple(place)], step) <= UNEVEN)
        row, _, ways = next(even, None) or min(
            tried, key=lambda place: _uneven(squares[tuple(place)], step)
        )
        square = squares[row, pair, ways]
        data = _data_of(square, PAIRS[pair], WAYS[ways], rng, made_of(palette, int(mine[row])))
        return self.question(
            data,
            region,
            min(error for error in data.errors if error > 0.0),
            data.seen,
            key=KEYS[data.at],
            choices=[*KEYS],
            swatches=[as_json(lab) for lab in data.swatches],
            slips=[[*slips] for slips in data.slips],
            delta_e00=[round(error, 3) for error in data.errors],
            look_s=LOOK_S,
            made_with=data.made_with,
        )

    def first_ask(self, data: SeenAndNear) -> Ask:
        prompt = f"Look at this colour and remember it: in {LOOK_S:.0f} seconds it goes."
        return Ask(prompt, choices({HELD: "I have it"}), (Swatch(data.seen),), look_s=LOOK_S)

    def next_ask(self, data: SeenAndNear, keys: Keys) -> Ask | None:
        return Ask("Which of these was it?", lettered(data.swatches)) if len(keys) == 1 else None

    def graded(self, data: SeenAndNear, keys: Keys) -> Grade:
        chosen = KEYS.index(keys[1])
        right, error = chosen == data.at, data.errors[chosen]
        score = 1.0 if right else 0.85 * near_miss(error, 8.0)
        if right:
            verdict = "Yes: you remembered it as it was."
        else:
            same = listed([name for name in DIMENSIONS if name not in data.slipped[chosen]])
            slips = listed(data.slips[chosen])
            verdict = f"You remembered it {slips} than it was, with the same {same}."
        others = sorted(other for other in data.errors if other > 0.0)
        figures = f"ΔE00 {others[0]:.1f} to the nearest other"
        if not right:
            figures = f"ΔE00 {error:.1f} off"
        return Grade(score, right, error, "ΔE00", verdict, figures)

    def revealed(self, data: SeenAndNear, keys: Keys) -> Reveal:
        chosen = KEYS.index(keys[1])
        rows = []
        for i, (key, lab) in enumerate(zip(KEYS, data.swatches, strict=True)):
            words = f"{listed(data.slips[i])} than it was"
            if i == data.at:
                words = "the swatch that was shown"
            swatch = Swatch(lab, "choice")
            rows.append(result(key, words, swatch, i == chosen, i == data.at))
        return Reveal(
            because=(
                "We remember colours as purer than they were (Bartleson 1960, of familiar "
                "things). As you look, name its family, lean, value and chroma.",
                read_colour(data.seen).sentence(),
                f"Your pencils: {data.made_with}.",
            ),
            results=tuple(rows),
            target=Swatch(data.seen, "shown"),
        )


def moved_by(labs: FloatArray, step: float) -> FloatArray:
    """How far each dimension of Lab (n, 3) must be moved to differ by ``step`` ΔE00.

    Shape (n, 3 dimensions, 2 ways): signed L*, C*ab and degrees of hue angle;
    NaN where the dimension has no room for it. Found by halving the interval.
    """
    lch = lab_to_lch(labs)
    limits = np.stack([FARTHEST, FARTHEST], axis=-1) * np.ones((len(labs), 1, 1))
    # Value and chroma have ends.
    limits[:, 0, 0] = np.minimum(limits[:, 0, 0], np.maximum(lch[:, 0] - DARKEST, 0.0))
    limits[:, 0, 1] = np.minimum(limits[:, 0, 1], np.maximum(LIGHTEST - lch[:, 0], 0.0))
    limits[:, 1, 0] = np.minimum(limits[:, 1, 0], np.maximum(lch[:, 1] - DULLEST, 0.0))
    signs = np.array([-1.0, 1.0])
    unit = np.eye(3)[:, None, :] * signs[:, None]

    def apart(size: FloatArray) -> FloatArray:
        there = lch_to_lab(lch[:, None, None] + size[..., None] * unit)
        return delta_e00(labs[:, None, None], there)

    reached = apart(limits) >= step
    low, high = np.zeros_like(limits), limits.copy()
    for _ in range(14):
        middle = 0.5 * (low + high)
        far = apart(middle) >= step
        high, low = np.where(far, middle, high), np.where(far, low, middle)
    moves: FloatArray = np.where(reached, high, np.nan) * signs
    return moves


def _squares(labs: FloatArray, moves: FloatArray) -> tuple[FloatArray, NDArray[np.bool_]]:
    """Every square from each colour, as shown (n, 3 pairs, 4 ways, 4 corners, 3); which are sound.

    Corners: the colour itself, moved in the first dimension, in the second, in both.
    """
    shape = (len(labs), len(PAIRS), len(WAYS))
    corners = np.broadcast_to(lab_to_lch(labs)[:, None, None, None], (*shape, 4, 3)).copy()
    room = np.ones(shape, dtype=np.bool_)
    for p, (first, second) in enumerate(PAIRS):
        for w, (one, two) in enumerate(WAYS):
            by_one, by_two = moves[:, first, one], moves[:, second, two]
            room[:, p, w] = np.isfinite(by_one) & np.isfinite(by_two)
            corners[:, p, w, 1::2, first] += np.nan_to_num(by_one)[:, None]
            corners[:, p, w, 2:, second] += np.nan_to_num(by_two)[:, None]
    wanted = lch_to_lab(corners)
    return shown_lab(wanted), room & in_screen_gamut(wanted).all(axis=-1)


def _uneven(square: FloatArray, step: float) -> float:
    """By what share of the wanted step the corners (4, 3) lie amiss."""
    apart = delta_e00(square[:, None], square[None])
    side, least = float(apart[0, 1:].min()), float(apart[np.triu_indices(4, 1)].min())
    return max(abs(side / step - 1.0), 1.0 - least / step)


def _data_of(
    square: FloatArray,
    dims: tuple[int, int],
    ways: tuple[int, int],
    rng: random.Random,
    made_with: str,
) -> SeenAndNear:
    """The four corners shuffled, each with its slips."""
    words = [
        _slip(square, dim, way, corner) for dim, way, corner in zip(dims, ways, (1, 2), strict=True)
    ]
    names = [DIMENSIONS[dim] for dim in dims]
    which = ((), (0,), (1,), (0, 1))
    order = rng.sample(range(4), 4)
    errors = delta_e00(square[0], square)
    return SeenAndNear(
        seen=as_lab(square[0]),
        at=order.index(0),
        swatches=tuple(as_lab(square[i]) for i in order),
        slips=tuple(tuple(words[j] for j in which[i]) for i in order),
        slipped=tuple(tuple(names[j] for j in which[i]) for i in order),
        errors=tuple(float(errors[i]) for i in order),
        made_with=made_with,
    )


def _slip(square: FloatArray, dim: int, way: int, corner: int) -> str:
    """How a corner moved in one dimension differs from the swatch seen."""
    if DIMENSIONS[dim] == "value":
        return ("darker", "lighter")[way]
    if DIMENSIONS[dim] == "chroma":
        return ("duller", "brighter")[way]
    place, there = wheel_position(square[[0, corner]]).tolist()
    index = int(family_at(place))
    onward = (there - place) % len(FAMILIES) < len(FAMILIES) / 2
    return f"nearer to {FAMILIES[(index + (1 if onward else -1)) % len(FAMILIES)]}"


KIND = HoldInMind()
