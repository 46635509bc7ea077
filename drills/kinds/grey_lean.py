"""Which way does the grey lean: warm or cool, then toward which hue.

Near-neutrals, down to very dark ones. Six hues are told apart, not twelve:
finer is idle where so little colour is left. Difficulty is that little: C*ab,
from about 7 down to 1. No grey is asked that leans to a family between two of
the six, nor one whose lean the screen's 8 bits can't carry: a level more or
less in any one channel must leave the answer as it is, and on a screen that was never
measured the common faults of screens must too.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from drills.colour.hue import FAMILIES, complement, family_at, wheel_position, wheel_steps
from drills.colour.munsell import munsell_value
from drills.colour.reading import read_colour
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab, screen_rgb, srgb_to_lab
from drills.colour.turn import fitted_to_screen, turned
from drills.colour.words import HUELESS_BELOW, NEUTRAL_BELOW, strength_at, temperature, value_word
from drills.layering.palette import Palette
from drills.questions.draw import BoolArray, FloatArray, IntArray, as_lab, shown_pool
from drills.questions.exercise import Exercise, Keys
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
from drills.questions.results import choices, made_words, result
from drills.screen.unmeasured import keeps_name

BANDS = ("light", "middle", "dark")
HUES = ("yellow", "orange", "red", "violet", "blue", "green")
"""Every other family of the wheel: its primaries and secondaries, at places 0, 2, … 10."""
LEANS = {"warm": HUES[:3], "cool": HUES[3:]}
WITHIN = 0.5
"""Wheel steps from a hue's place within which a grey is of its family and leans to no other."""
LEAST_C, MOST_C = HUELESS_BELOW, 7.0
"""C*ab under which a grey leans nowhere that an eye could tell, and over which it is a colour."""
NEAR = 1.15
"""By what factor of C*ab a grey may miss the step wanted before another is made for it."""
LEAST_OF_A_BAND = 3
"""Leans a band must have, or which one it is would soon be known by heart."""
BASES, ANGLES, STRENGTHS = 6, 36, 8
"""How many lightnesses of a band are tinted, in how many directions, how strongly."""
WILD = 4.0
"""Wheel steps off at which nothing is right about an answer."""
PLAIN_C = 24.0
"""C*ab to which the reveal turns a lean up, so that anyone sees it."""
PLAIN_TIMES = 2.0
"""By how much at least; near white and black a screen has too little chroma for that."""
ANY_HUE_L = 65.0
"""L* at which a screen shows every hue as bright as that."""


@dataclass(frozen=True, eq=False)
class Greys:
    """The n greys that can be asked, as the screen shows them.

    ``lab`` (n, 3), ``chroma`` (n,) C*ab, ``wheel`` (n,), ``hue`` (n,) place in
    HUES, ``band`` (n,) place in BANDS; ``place`` (n,) in the pool of the grey
    itself or of the one it was tinted from, ``tinted`` (n,).
    """

    lab: FloatArray
    chroma: FloatArray
    wheel: FloatArray
    hue: IntArray
    band: IntArray
    place: IntArray
    tinted: BoolArray


@dataclass(frozen=True)
class LeaningGrey:
    """The grey, where on the wheel it leans, and the place in HUES of that lean.

    ``tinted``: no grey that the pencils make, but tinted from one.
    """

    lab: Lab
    wheel: float
    hue: int
    made_with: str
    tinted: bool


class GreyLean(Exercise[LeaningGrey]):
    name = "grey-lean"
    version = 3
    title = "Which way does the grey lean?"
    trains = "to see the colour in a grey"
    at_the_table = (
        "Hold a grey beside white paper and see which way it leans, before you shade with it."
    )
    look_for = (
        "Think of a neutral grey as light as this one. Does this look redder or yellower than that "
        "(warm), or bluer, greener or more violet (cool)?",
        "Which of these would you have to take out to make it neutral?",
    )
    seconds, unit, steps, chance = 10.0, "C*ab", (MOST_C, LEAST_C), 1 / len(HUES)

    def regions(self, palette: Palette) -> tuple[str, ...]:
        greys = _greys(palette)
        return tuple(
            f"{band} greys"
            for i, band in enumerate(BANDS)
            if _worth_asking(np.unique(greys.hue[greys.band == i]).tolist())
        )

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        greys = _greys(palette)
        mine = np.flatnonzero([f"{BANDS[i]} greys" == region for i in greys.band])
        if not mine.size:
            raise CannotAskError(f"these pencils make no {region}")
        # Every lean as likely, or the commonest would be the best guess.
        hue = rng.choice(np.unique(greys.hue[mine]).tolist())
        mine = mine[greys.hue[mine] == hue]
        off = np.abs(np.log(greys.chroma[mine] / max(step, LEAST_C)))
        near = off <= max(np.log(NEAR), float(off.min()))
        own = near & ~greys.tinted[mine]
        at = int(rng.choice(mine[own if own.any() else near].tolist()))
        made = made_words(palette, palette.pool.moves(int(greys.place[at])))
        if greys.tinted[at]:
            made = f"a grey as light as {made}, tinted"
        data = LeaningGrey(
            as_lab(greys.lab[at]), float(greys.wheel[at]), hue, made, bool(greys.tinted[at])
        )
        return self.question(
            data,
            region,
            float(greys.chroma[at]),
            data.lab,
            wheel=round(data.wheel, 3),
            choices=list(HUES),
            key=[_temperature(HUES[hue]), HUES[hue]],
            made_with=made,
        )

    def first_ask(self, data: LeaningGrey) -> Ask:
        prompt = "There is a little colour in this grey. Is it warm or cool?"
        return Ask(prompt, choices({"warm": "warm", "cool": "cool"}), (Swatch(data.lab),))

    def next_ask(self, data: LeaningGrey, keys: Keys) -> Ask | None:
        if len(keys) > 1:
            return None
        prompt = f"{YOU_SAY}{keys[0]}. Which hue does it lean to?"
        hues = choices({hue: f"to {hue}" for hue in LEANS[keys[0]]})
        return Ask(prompt, hues, (Swatch(data.lab),))

    def graded(self, data: LeaningGrey, keys: Keys) -> Grade:
        warmth, said = keys
        truth = HUES[data.hue]
        right = said == truth
        # An answer covers a stretch of the wheel; how far outside it does the grey lie?
        away = float(wheel_steps(data.wheel, 2 * HUES.index(said)))
        error = 0.0 if right else away - WITHIN
        score = 1.0 if right else 0.9 * max(0.0, 1.0 - error / WILD)
        full = f"a {_temperature(truth)} grey that leans to {truth}"
        if right:
            verdict = f"Yes: {full}."
        elif warmth == _temperature(truth):
            verdict = f"{warmth.capitalize()} is right, but it leans to {truth}."
        else:
            verdict = f"No: it is {full}."
        figures = f"C*ab {float(lab_to_lch(data.lab)[1]):.1f}"
        if not right:
            figures += f", {error:.1f} wheel steps off"
        return Grade(score, right, error, "wheel steps", verdict, figures)

    def revealed(self, data: LeaningGrey, keys: Keys) -> Reveal:
        warmth, said = keys
        truth = HUES[data.hue]
        offered = [truth, *(hue for hue in LEANS[warmth] if hue != truth)]
        greys = turned(data.lab, [2.0 * HUES.index(hue) for hue in offered])
        rows = [
            result(hue, f"this leans to {hue}", as_lab(lab), hue == said, hue == truth)
            for hue, lab in zip(offered, greys, strict=True)
        ]
        words, plain = _turned_up(data)
        neutral = (data.lab[0], 0.0, 0.0)
        rows.append(result("its hue made plain, and none", words, plain, beside=neutral))
        advice = (
            f"A trace of {complement(truth)}, the complement, makes it neutral. Beside a known "
            "neutral the lean of a grey shows (common practice)."
        )
        # What was tinted, no pencils make.
        made = () if data.tinted else (f"Your pencils: {data.made_with}.",)
        return Reveal(
            because=(read_colour(data.lab).sentence(), advice, *made),
            results=tuple(rows),
            target=Swatch(data.lab),
            limits="A night tint on the screen turns every grey warm.",
        )


def _turned_up(data: LeaningGrey) -> tuple[str, Lab]:
    """The grey with its hue made plain, at its own value where a screen can show that."""
    own, chroma, _ = lab_to_lch(data.lab).tolist()
    place = [data.wheel]
    lab = fitted_to_screen(turned((own, PLAIN_C, 0.0), place))[0]
    where = ""
    if float(lab_to_lch(lab)[1]) < PLAIN_TIMES * chroma:
        lab, where = turned((ANY_HUE_L, PLAIN_C, 0.0), place)[0], " at a middle value"
    times = float(lab_to_lch(lab)[1]) / chroma
    return f"{times:.0f} times the chroma{where}; then a neutral grey as light", as_lab(lab)


def _worth_asking(hues: list[int]) -> bool:
    """Whether a band of these leans tells nothing of the answer: enough of them, of either kind."""
    kinds = {_temperature(HUES[hue]) for hue in hues}
    return len(hues) >= LEAST_OF_A_BAND and len(kinds) == len(LEANS)


def _temperature(hue: str) -> str:
    """Warm or cool: none of the six hues is neither."""
    return temperature(FAMILIES.index(hue))


@lru_cache(maxsize=8)
def _greys(palette: Palette) -> Greys:
    """Every grey that these pencils make and that can be asked, and tints of them."""
    pool = shown_pool(palette)
    made = np.flatnonzero(pool.family < 0)
    band = _bands(pool.lab)
    labs, places = [pool.lab[made]], [pool.places[made]]
    for i in range(len(BANDS)):
        # Where the pencils make no grey so light or dark, the lightness of a colour serves.
        among = np.flatnonzero((band == i) & (pool.family < 0))
        among = among if among.size else np.flatnonzero(band == i)
        if among.size:
            bases = among[np.argsort(pool.lab[among, 0], kind="stable")]
            bases = bases[np.linspace(0, len(bases) - 1, BASES).round().astype(int)]
            tints = _tints(pool.lab[bases, 0])
            labs.append(tints)
            places.append(np.repeat(pool.places[bases], len(tints) // BASES))
    lab, place = np.concatenate(labs), np.concatenate(places)
    tinted = np.arange(len(lab)) >= len(made)
    levels = screen_rgb(lab)
    in_gamut = in_screen_gamut(lab)
    lab = srgb_to_lab(levels / 255)
    chroma, wheel = lab_to_lch(lab)[:, 1], wheel_position(lab)
    hue = _hue_at(wheel)
    sound = (
        in_gamut
        & (chroma >= LEAST_C)
        & (chroma <= MOST_C)
        & (strength_at(chroma, wheel, lab[:, 0]) < NEUTRAL_BELOW)
        & (family_at(wheel) == 2 * hue)
    )
    kept = np.flatnonzero(sound)
    kept = kept[_steady(levels[kept], hue[kept])]
    known = palette.screen_known
    if known is not True:
        kept = kept[keeps_name(lab[kept], lambda seen: _hue_at(wheel_position(seen)), known)]
    return Greys(
        lab[kept],
        chroma[kept],
        wheel[kept],
        hue[kept],
        _bands(lab[kept]),
        place[kept],
        tinted[kept],
    )


def _bands(lab: FloatArray) -> IntArray:
    """The place in BANDS of Lab (n, 3)."""
    words = [value_word(value) for value in munsell_value(lab).tolist()]
    return np.array([BANDS.index(word) for word in words], dtype=np.int64)


def _tints(lightness: FloatArray) -> FloatArray:
    """Lab (n · ANGLES · STRENGTHS, 3): greys of each L* (n,) tinted every way, faint to plain."""
    angles = np.arange(ANGLES) * 360.0 / ANGLES
    chroma = np.geomspace(LEAST_C, MOST_C, STRENGTHS)
    lch = np.stack(np.meshgrid(lightness, chroma, angles, indexing="ij"), axis=-1)
    return lch_to_lab(lch.reshape(-1, 3))


def _hue_at(wheel: FloatArray) -> IntArray:
    """The place in HUES nearest to places on the wheel (n,)."""
    nearest: IntArray = np.floor(wheel / 2.0 + 0.5).astype(np.int64) % len(HUES)
    return nearest


def _steady(levels: IntArray, hue: IntArray) -> BoolArray:
    """Whether 8-bit colours (n, 3) keep their hue (n,) with any one channel a level off."""
    shifts = np.concatenate([np.eye(3, dtype=np.int64), -np.eye(3, dtype=np.int64)])
    near = np.clip(levels[:, None, :] + shifts, 0, 255)
    steady: BoolArray = (_hue_at(wheel_position(srgb_to_lab(near / 255))) == hue[:, None]).all(1)
    return steady


KIND = GreyLean()
