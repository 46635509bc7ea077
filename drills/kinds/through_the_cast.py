"""See through the cast: name the family that a colour in tinted light has in daylight.

A swatch and a piece of white paper lie on a grey board in the same light: a lamp,
cool sky, an awning. Their colours are worked out from reflectances under that
light and shown as they are, dimmed until a screen can show the paper.

Difficulty is how much of the cast the eye may leave standing and still name the
right family. An eye adapted to degree D (CIECAM16, CIE 248:2022) takes the share
D of the cast off; the step is 1 − D for the least D from which on the family
reads true. At 0.8 a fifth of the work will do; at 0.1 nine tenths of the cast
must be seen through. So the strength of the light and the room to the next
family are measured as one, and a learner's threshold reads as colour constancy
does in the laboratory (Arend & Reeves 1986, J. Opt. Soc. Am. A 3, 1743).
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from drills.colour.cast import (
    Light,
    adapted_lab,
    cast_on,
    fitting_exposure,
    lights,
    unadapted_lab,
    without_cast,
)
from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position, wheel_steps
from drills.colour.reading import read_colour
from drills.colour.spaces import in_screen_gamut, lab_to_xyz, reflectance_to_lab, shown_lab
from drills.colour.turn import fitted_to_screen, turned_on_screen
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.palette import Palette
from drills.layering.predict import extend, start
from drills.layering.sheet import reflectance
from drills.questions.draw import (
    FloatArray,
    IntArray,
    as_json,
    as_lab,
    as_shown,
    colours_of,
    one_near,
    shown_pool,
)
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import choices, made_words, result
from drills.screen.known import ScreenKnown
from drills.screen.unmeasured import keeps_name

OFFERED = 5
CLEAR = 0.12
"""Wheel steps off a border within which no family is asked as if it were the right one."""
BOARD = 0.4
"""Luminance of the grey board against the white paper's, about Munsell value 6.5: it fills
the swatches' surround so that the eye has something in the same light to rest on."""
LEAST_LEFT = 0.03
TRIED, LIGHTS_TRIED = 32, 4
DEGREES: FloatArray = np.linspace(0.0, 1.0, 51)


@dataclass(frozen=True)
class InTheCast:
    """``daylight`` and ``seen`` are the swatch in each light; ``paper`` and ``board`` as
    seen, ``white`` the paper in daylight.

    ``taken`` is the place in FAMILIES at which the colour stands if taken at its
    word; ``offered`` the families to choose from, in wheel order, each with its
    look ``in_this_light``.
    """

    light: str
    daylight: Lab
    seen: Lab
    paper: Lab
    white: Lab
    board: Lab
    place: float
    family: int
    taken: int
    offered: tuple[int, ...]
    in_daylight: tuple[Lab, ...]
    in_this_light: tuple[Lab, ...]
    made_with: str


class ThroughTheCast(Exercise[InTheCast]):
    name = "through-the-cast"
    version = 3
    title = "See through the cast"
    trains = "to find a thing's own colour when the light is tinted"
    at_the_table = "See what colour the light is, before you trust a colour under it."
    look_for = (
        "Look at the white paper first: which way does the light push it? Take as much away from "
        "the colour.",
    )
    seconds, unit, steps, chance = 14.0, "of the cast", (0.85, 0.1), 1 / OFFERED

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        index = FAMILIES.index(region)
        mine = mine[wheel_steps(pool.wheel[mine], index) <= 0.5 - CLEAR]
        if not mine.size:
            raise CannotAskError(f"these pencils make no {region}")
        mine = np.array(sorted(rng.sample(mine.tolist(), min(TRIED, mine.size))))
        spectra = reflectances(palette, pool.places[mine])
        tried: list[tuple[Light, float, int]] = []
        leaves: list[float] = []
        shuffled = rng.sample(_lights(palette), len(lights()))
        for turn, (light, exposure) in enumerate(shuffled):
            if turn >= LIGHTS_TRIED and tried:
                break
            left = tolerated(spectra, light, index)
            seen = unadapted_lab(spectra @ light.weights, exposure)
            passes = family_at(wheel_position(shown_lab(seen))) != index
            sound = in_screen_gamut(seen) & passes & (left > LEAST_LEFT) & (left < 1.0 - LEAST_LEFT)
            if palette.screen_known is not True:
                paper = unadapted_lab(palette.paper.reflectance @ light.weights, exposure)
                sound &= _steady(seen, paper, index, palette.screen_known)
            for at in np.flatnonzero(sound).tolist():
                tried.append((light, exposure, at))
                leaves.append(float(left[at]))
        if not tried:
            raise CannotAskError(f"no light here turns these pencils' {region} into another family")
        pick = one_near(np.array(leaves), step, rng, among=2)
        light, exposure, at = tried[pick]
        data = _data_of(palette, light, exposure, spectra[at], int(mine[at]), rng)
        return self.question(
            data,
            region,
            leaves[pick],
            data.daylight,
            light=data.light,
            seen=as_json(data.seen),
            paper=as_json(data.paper),
            key=region,
            taken_at_its_word=FAMILIES[data.taken],
            choices=[FAMILIES[i] for i in data.offered],
            cast_delta_e00=round(float(delta_e00(data.seen, data.daylight)), 3),
            made_with=data.made_with,
        )

    def first_ask(self, data: InTheCast) -> Ask:
        return Ask(
            f"In {data.light}, beside white paper in the same light. "
            "Which family is the colour in daylight?",
            choices({FAMILIES[i]: FAMILIES[i] for i in data.offered}),
            (
                Swatch(data.seen, "the colour", data.board),
                Swatch(data.paper, "white paper, same light", data.board),
            ),
        )

    def graded(self, data: InTheCast, keys: Keys) -> Grade:
        (said,) = keys
        chosen = FAMILIES.index(said)
        error = float(wheel_steps(data.place, chosen))
        right = chosen == data.family
        score = 1.0 if right else 0.9 * max(0.0, 1.0 - error / 3.0)
        truth = FAMILIES[data.family]
        pulled, said_off = _turn(data.family, data.taken), _turn(data.family, chosen)
        if right:
            verdict = f"Yes: {truth}, though this light makes it look {FAMILIES[data.taken]}."
        elif chosen == data.taken:
            verdict = f"That is how it looks in this light; in daylight it is {truth}."
        elif pulled * said_off < 0:
            verdict = f"You allowed for too much tint: in daylight it is {truth}."
        elif abs(said_off) < abs(pulled):
            verdict = f"Nearly: some of the tint is still in it. In daylight it is {truth}."
        else:
            verdict = f"No: that adds tint instead of taking it off. In daylight it is {truth}."
        return Grade(score, right, error, "wheel steps", verdict)

    def revealed(self, data: InTheCast, keys: Keys) -> Reveal:
        (said,) = keys
        rows = []
        for i, day, here in zip(data.offered, data.in_daylight, data.in_this_light, strict=True):
            best = i == data.family
            words = f"would look {read_colour(here).family or 'grey'} in this light"
            if best:
                words = f"the colour itself: looks {FAMILIES[data.taken]} in this light"
            shown, by_day = Swatch(here, "here"), Swatch(day, "by day")
            rows.append(result(FAMILIES[i], words, shown, FAMILIES[i] == said, best, by_day))
        return Reveal(
            because=(
                f"The light pushes all toward {_cast_word(data.paper)}: judge against the paper.",
                f"Your pencils: {data.made_with}.",
            ),
            results=tuple(rows),
            target=Swatch(data.seen, "seen"),
            limits="CIE lights, invented awnings, dimmed; easier in a lit room than on a screen.",
        )


def reflectances(palette: Palette, places: IntArray) -> FloatArray:
    """The reflectance (n, 31) of swatches at ``places`` (n,) of the palette's pool."""
    pencils, pressures = palette.pool.pencils[places], palette.pool.pressures[places]
    sheet = start(palette, len(places))
    for turn in range(pencils.shape[1]):
        laid = np.flatnonzero(pencils[:, turn] >= 0)
        if not laid.size:
            break
        # Where there is no such layer, some pencil is laid with no pressure: nothing.
        some = np.where(pencils[:, turn] < 0, palette.at_hand[0], pencils[:, turn])
        sheet = extend(palette, sheet, some, pressures[:, turn])
    return reflectance(sheet)


def tolerated(spectra: FloatArray, light: Light, family: int) -> FloatArray:
    """The share of the cast (n,) that may be left standing with the family still read true.

    1 − D for the least degree of adaptation D from which on every degree reads
    reflectances (n, 31) as ``family``. 0 where even a fully adapted eye doesn't,
    or reads it too near a border, or where the colour goes grey on the way.
    """
    xyz = spectra @ light.weights
    labs = adapted_lab(xyz[:, None], light, DEGREES)
    place = wheel_position(labs)
    true = (family_at(place) == family) & (strength(labs) >= NEUTRAL_BELOW)
    # Counted back from full adaptation, the first that reads false ends the run.
    run = np.cumprod(true[:, ::-1], axis=1).sum(axis=1)
    sure = wheel_steps(place[:, -1], family) <= 0.5 - CLEAR
    hued = (strength(labs) >= NEUTRAL_BELOW).all(axis=1)
    left: FloatArray = np.where(sure & hued, (run - 0.5) / (len(DEGREES) - 1.0), 0.0)
    return np.clip(left, 0.0, 1.0)


def _steady(
    seen: FloatArray, paper: FloatArray, family: int, known: ScreenKnown
) -> NDArray[np.bool_]:
    """Whether colours (n, 3) are of the family beside the paper shown, and not at their word, on
    any screen that one known so may be, (n,)."""

    def names(labs: FloatArray) -> IntArray:
        word, taken_off = labs[1:], without_cast(labs[1:], labs[0])
        there = np.stack([wheel_position(taken_off), wheel_position(word)])
        beside, at_word = family_at(there)
        kept: IntArray = np.concatenate([[1], (beside == family) & (at_word != family)])
        return kept

    return keeps_name(np.concatenate([paper[None], seen]), names, known)[1:]


@lru_cache(maxsize=8)
def _lights(palette: Palette) -> tuple[tuple[Light, float], ...]:
    """Each light, and how far it is dimmed for a screen to show this palette's paper in it."""
    paper = palette.paper.reflectance
    return tuple((light, fitting_exposure(paper @ light.weights)) for light in lights())


def _data_of(
    palette: Palette,
    light: Light,
    exposure: float,
    spectrum: FloatArray,
    at: int,
    rng: random.Random,
) -> InTheCast:
    """The question about one swatch (its place in the shown pool) in one light."""
    pool = shown_pool(palette)
    paper = palette.paper.reflectance @ light.weights
    seen = as_shown(unadapted_lab(spectrum @ light.weights, exposure))
    family, taken = int(pool.family[at]), int(family_at(wheel_position(seen)))
    daylight = as_lab(pool.lab[at])
    offered = _offered(family, rng)
    turned = turned_on_screen(daylight, offered)
    here = fitted_to_screen(unadapted_lab(cast_on(lab_to_xyz(turned), light), exposure))
    mine = offered.index(family)
    moves = palette.pool.moves(int(pool.places[at]))
    return InTheCast(
        light=light.words,
        daylight=daylight,
        seen=seen,
        paper=as_shown(unadapted_lab(paper, exposure)),
        white=as_shown(reflectance_to_lab(palette.paper.reflectance)),
        board=as_shown(unadapted_lab(paper, BOARD * exposure)),
        place=float(pool.wheel[at]),
        family=family,
        taken=taken,
        offered=offered,
        in_daylight=tuple(daylight if i == mine else as_lab(lab) for i, lab in enumerate(turned)),
        in_this_light=tuple(seen if i == mine else as_lab(lab) for i, lab in enumerate(here)),
        made_with=made_words(palette, moves),
    )


def _offered(family: int, rng: random.Random) -> tuple[int, ...]:
    """Neighbouring families, the true one anywhere among them, so that no place is likelier.

    The one it passes for is mostly there too: always there, its place would tell where the
    true one can't be.
    """
    first = family - rng.randrange(OFFERED)
    return tuple((first + i) % len(FAMILIES) for i in range(OFFERED))


def _turn(start: int, end: int) -> int:
    """Steps from one family to another, the shorter way, onward positive: −5 to 6."""
    onward = (end - start) % len(FAMILIES)
    return onward if onward <= 6 else onward - len(FAMILIES)


def _cast_word(paper: Lab) -> str:
    return FAMILIES[int(family_at(wheel_position(paper)))]


KIND = ThroughTheCast()
