"""Brighter or duller: chroma judged apart from value and hue.

Two swatches of one hue, of different value: the lighter one passes for the
brighter. As often as not it is the duller, so that value answers nothing.
Difficulty is the step of chroma between them, ΔC* (C*ab).
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.everyday import with_article
from drills.colour.hue import cam_chroma, complement, wheel_position, wheel_steps
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab
from drills.colour.turn import turned
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.palette import Palette
from drills.questions.beside import Beside, LaidBeside
from drills.questions.draw import FloatArray, as_lab, as_shown, colours_of
from drills.questions.protocol import CannotAskError, Lab, Question, Result, Swatch
from drills.questions.results import made_of

VALUE_APART = (8.0, 22.0)
"""Least and most ΔL* between the two: enough to mislead, and still to be compared."""
LIGHTNESS = (12.0, 96.0)
HUE_APART = 0.12
"""Wheel steps that the screen's 8 bits may turn the hue of the second swatch."""
TRIED = 40
"""Colours of these pencils tried at once as the target."""
LEAST_STEP = 1.5
"""Least ΔC* asked: a level or two of an 8-bit screen is as much."""
GIVES = 0.7
"""What share of a step is tried next where no colours lie so far apart."""


@dataclass(frozen=True)
class OneHuePair(Beside):
    """Two of one hue."""

    family: str


class BrighterOrDuller(LaidBeside[OneHuePair]):
    name = "brighter-or-duller"
    version = 2
    title = "Brighter or duller"
    trains = "to judge how bright a colour is apart from how light it is"
    at_the_table = (
        "Lay a scrap of your brightest pencil beside a colour: what looked "
        "bright alone is often dull."
    )
    look_for = (
        "Ask of each how much grey is in it, as if both were as light. More grey is duller, light "
        "or dark.",
    )
    seconds, unit, steps = 7.0, "ΔC*", (25.0, 2.0)
    words, near, none = ("brighter", "duller"), 6.0, "no screen shows it"
    prompt = (
        "Look at chroma only, not at value. Is what you laid down brighter (purer) or duller "
        "(greyer) than the target?"
    )
    limits = "Chroma is C*ab; CIECAM16 agrees which of the two is brighter."

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool, mine = colours_of(palette, region)
        tried = mine[rng.sample(range(len(mine)), min(TRIED, len(mine)))]
        lighter_is_brighter = rng.random() < 0.5
        roles_swapped = rng.random() < 0.5
        found = None
        wanted = max(LEAST_STEP, step)
        while found is None and wanted >= LEAST_STEP:
            for way in (lighter_is_brighter, not lighter_is_brighter):
                found = found or _second(pool.lab[tried], way, wanted, rng)
            wanted *= GIVES
        if found is None:
            raise CannotAskError(f"no {region} here can be both lighter and duller on this screen")
        at, partner = found
        own = as_lab(pool.lab[tried[at]])
        target, laid = (partner, own) if roles_swapped else (own, partner)
        whose = "What you laid down" if roles_swapped else "The target"
        made = f"{whose} is {made_of(palette, int(tried[at]))}"
        (_, C0, _), (_, C1, _) = lab_to_lch([target, laid]).tolist()
        by = float(C1 - C0)
        data = OneHuePair(target, laid, by, made, region)
        return self.asked(data, region, made, delta_c=round(by, 3))

    def mirrored(self, data: OneHuePair) -> Lab | None:
        L, C, h = lab_to_lch(data.laid).tolist()
        chroma = C - 2.0 * data.by
        lab = lch_to_lab((L, chroma, h))
        return as_lab(lab) if chroma >= 0.0 and in_screen_gamut(lab) else None

    def seen(self, data: OneHuePair) -> float:
        L, C, h = lab_to_lch(data.target).tolist()
        return float(delta_e00(data.target, lch_to_lab((L, C + data.by, h))))

    def compared(self, data: OneHuePair) -> list[Result]:
        return _at_one_value(data)

    def because(self, data: OneHuePair) -> tuple[str, ...]:
        lighter_is_brighter = (data.laid[0] > data.target[0]) == (data.by > 0)
        across = complement(data.family)
        return (
            f"Here the lighter one is the {'brighter' if lighter_is_brighter else 'duller'}; "
            "just as often it is not. Ask of each: how much grey is in it?",
            f"To dull {with_article(data.family)}, lay a little {across} between its layers; to "
            f"keep it bright, keep {across} and greys out (common practice).",
            f"{data.made_with}. The other is the same hue, computed.",
        )


def _second(
    labs: FloatArray, lighter_is_brighter: bool, step: float, rng: random.Random
) -> tuple[int, Lab] | None:
    """Which of ``labs`` (n, 3) has a partner of its hue that far off in chroma, and the partner.

    None where the screen shows no such pair.
    """
    up = np.array([rng.choice((1.0, -1.0)) for _ in labs])
    lch = lab_to_lch(labs)
    lch[:, 0] += up * [rng.uniform(*VALUE_APART) for _ in labs]
    lch[:, 1] += step * (up if lighter_is_brighter else -up)
    sound = (lch[:, 0] > LIGHTNESS[0]) & (lch[:, 0] < LIGHTNESS[1]) & (lch[:, 1] > 2.0)
    # Near enough to leave out what no screen shows; the hue is made exact below.
    rough = lch_to_lab(lch)
    for at in np.flatnonzero(sound & in_screen_gamut(rough)).tolist():
        exact = turned(rough[at], wheel_position(labs[at : at + 1]))[0]
        partner = as_shown(exact)
        if in_screen_gamut(exact) and _is_pair(as_lab(labs[at]), partner):
            return at, partner
    return None


def _is_pair(first: Lab, second: Lab) -> bool:
    """Whether two colours have one hue, a chroma that both scales order alike, and hue at all."""
    pair = np.array([first, second])
    by_lab, by_cam = np.diff(lab_to_lch(pair)[:, 1])[0], np.diff(cam_chroma(pair))[0]
    turn = float(wheel_steps(*wheel_position(pair)))
    hued = bool((strength(pair) >= NEUTRAL_BELOW).all())
    return bool(by_lab * by_cam > 0 and abs(by_lab) >= LEAST_STEP) and hued and turn <= HUE_APART


def _at_one_value(data: OneHuePair) -> list[Result]:
    """Both swatches at one lightness, hue and chroma held, so that only chroma is left.

    The target's own lightness where a screen can show the other there, else one
    between; nothing where it can't show either.
    """
    two = np.array([data.target, data.laid])
    places = wheel_position(two)
    C0, C1 = lab_to_lch(two)[:, 1].tolist()
    words = f"chroma {C1:.0f} against {C0:.0f}; only chroma is left to compare"
    for share in (0.0, 0.5, 1.0, 0.25, 0.75):
        lightness = float(two[0, 0] + share * (two[1, 0] - two[0, 0]))
        first, second = (
            turned((lightness, *lab[1:]), [place])[0]
            for lab, place in zip(two.tolist(), places, strict=True)
        )
        if not (in_screen_gamut(first) and in_screen_gamut(second)):
            continue
        if share == 0.0:
            return [Result("laid down, at the target's value", words, Swatch(as_lab(second)))]
        both = Swatch(as_lab(first)), Swatch(as_lab(second))
        return [Result("both at one value", words, both[0], beside=both[1])]
    return []


KIND = BrighterOrDuller()
