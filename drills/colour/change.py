"""What would have to change for one colour to become another, in an artist's words."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.spaces import lab_to_lch, lch_to_lab
from drills.colour.words import NEUTRAL_BELOW, strength_at

# Places on the wheel that a comparative names: yellow, orange, red, violet, blue, green.
_COMPARATIVES = ("yellower", "more orange", "redder", "more violet", "bluer", "greener")

SEEN_FROM, PLAIN_FROM, MUCH_FROM = 1.0, 3.0, 8.0
"""ΔE00 from which a change is named, loses its "a touch", and becomes "much"; our estimate."""


def parts_of_difference(lab_from: ArrayLike, lab_to: ArrayLike) -> tuple[float, float, float]:
    """ΔE00 of the change in lightness, in chroma and in hue, each on its own."""
    pair = np.stack([np.asarray(lab_from, np.float64), np.asarray(lab_to, np.float64)])
    (L1, C1, h1), (L2, C2, h2) = lab_to_lch(pair).tolist()
    middle_C = float(np.sqrt(C1 * C2))
    starts = lch_to_lab([[L1, C1, h1], [L1, C1, h1], [L1, middle_C, h1]])
    ends = lch_to_lab([[L2, C1, h1], [L1, C2, h1], [L1, middle_C, h2]])
    by_L, by_C, by_h = delta_e00(starts, ends).tolist()
    return (by_L, by_C, by_h)


def describe_difference(lab_from: ArrayLike, lab_to: ArrayLike) -> str:
    """Say how one Lab must change to become the other.

    "a touch darker and duller, leaning greener"; "the same to the eye" where
    the whole difference is under one ΔE00.
    """
    pair = np.stack([np.asarray(lab_from, np.float64), np.asarray(lab_to, np.float64)])
    (L1, C1, _), (L2, C2, _) = lch = lab_to_lch(pair).tolist()
    place = wheel_position(pair)
    about = strength_at([one[1] for one in lch], place, [one[0] for one in lch])
    if float(delta_e00(pair[0], pair[1])) < SEEN_FROM:
        return "the same to the eye"
    by_L, by_C, by_h = parts_of_difference(lab_from, lab_to)
    from_grey, to_grey = bool(about[0] < NEUTRAL_BELOW), bool(about[1] < NEUTRAL_BELOW)
    fewer = "greyer" if to_grey else "duller"
    parts = [
        (by_L, "lighter" if L2 > L1 else "darker"),
        (by_C, "brighter" if C2 > C1 else fewer),
    ]
    seen = sorted((part for part in parts if part[0] >= SEEN_FROM), reverse=True)
    if not seen and by_h < SEEN_FROM:
        # No single part is seen, but together they are: name the largest.
        seen = [max(parts)] if max(parts)[0] >= by_h else []
        by_h = 0.0 if seen else SEEN_FROM
    phrases: list[str] = []
    for size, word in seen:
        if phrases and degree(size) == degree(seen[0][0]):
            phrases[-1] += f" and {word}"
        else:
            phrases.append(f"{degree(size)}{word}")
    if from_grey and not to_grey:
        phrases.append(f"toward {FAMILIES[int(family_at(place[1]))]}")
    elif by_h >= SEEN_FROM and not to_grey:
        phrases.append(f"leaning {degree(by_h)}{_toward(float(place[0]), float(place[1]))}")
    elif by_h >= SEEN_FROM and (from_grey or not seen):
        phrases.append(f"its lean toward {FAMILIES[int(family_at(place[1]))]}")
    return ", ".join(phrases)


def degree(size: float) -> str:
    """What comes before a comparative for a change of this ΔE00: "a touch ", "" or "much "."""
    if size < PLAIN_FROM:
        return "a touch "
    return "much " if size >= MUCH_FROM else ""


def _toward(start: float, end: float) -> str:
    """The comparative for going the shorter way round from one place to another."""
    onward = (end - start) % 12.0 < 6.0
    # The next named place, leaving out one that is all but reached at the start.
    index = np.ceil((start + 0.5) / 2.0) if onward else np.floor((start - 0.5) / 2.0)
    return _COMPARATIVES[int(index) % len(_COMPARATIVES)]
