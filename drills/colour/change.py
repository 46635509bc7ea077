"""What would have to change for one colour to become another, in an artist's words."""

from __future__ import annotations

from dataclasses import dataclass

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


@dataclass(frozen=True)
class _Change:
    """``parts`` are changes in value and chroma, (degree, comparative), the greatest first; ``hue``
    is (degree, comparative) of one that turns; ``family`` the hue that a grey gains, or its new
    lean where it stays grey (``stays_grey``)."""

    parts: tuple[tuple[str, str], ...]
    hue: tuple[str, str] | None = None
    family: str = ""
    stays_grey: bool = False


def describe_difference(lab_from: ArrayLike, lab_to: ArrayLike) -> str:
    """Say how one Lab must change to become the other.

    "a touch darker and duller, leaning greener"; "the same to the eye" where
    the whole difference is under one ΔE00.
    """
    change = _change(lab_from, lab_to)
    if change is None:
        return "the same to the eye"
    phrases: list[str] = []
    for size, word in change.parts:
        if phrases and size == change.parts[0][0]:
            phrases[-1] += f" and {word}"
        else:
            phrases.append(size + word)
    if change.hue:
        phrases.append("leaning " + "".join(change.hue))
    elif change.family:
        phrases.append(f"{'its lean ' if change.stays_grey else ''}toward {change.family}")
    return ", ".join(phrases)


def told_beside(lab_seen: ArrayLike, lab_reference: ArrayLike, reference: str) -> str:
    """How one Lab looks beside a ``reference``, to follow "it looks".

    "darker and much greyer than the target, leaning redder"; "the same to the eye" as
    ``describe_difference`` has it.
    """
    change = _change(lab_reference, lab_seen)
    if change is None:
        return "the same to the eye"
    parts = list(change.parts)
    if len(parts) > 1 and (parts[0][0], parts[1][0]) == ("much ", ""):
        parts.reverse()  # "much" would be read of both
    alike = len({size for size, _ in parts}) == 1
    than = f"than {reference}"
    if not parts:
        turned = "".join(change.hue or ())
        return f"{turned} {than}" if turned else f"leaning more to {change.family} {than}"
    first, *others = (size + word for size, word in parts)
    said = " and ".join([first, *((word for _, word in parts[1:]) if alike else others)])
    if change.hue:
        return f"{said} {than}, leaning {''.join(change.hue)}"
    if change.family:
        return f"{said} {than}, leaning {'more ' if change.stays_grey else ''}to {change.family}"
    return f"{said} {than}"


def _change(lab_from: ArrayLike, lab_to: ArrayLike) -> _Change | None:
    """None where the whole difference is under one ΔE00."""
    pair = np.stack([np.asarray(lab_from, np.float64), np.asarray(lab_to, np.float64)])
    (L1, C1, _), (L2, C2, _) = lch = lab_to_lch(pair).tolist()
    place = wheel_position(pair)
    about = strength_at([one[1] for one in lch], place, [one[0] for one in lch])
    if float(delta_e00(pair[0], pair[1])) < SEEN_FROM:
        return None
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
    told = tuple((degree(size), word) for size, word in seen)
    family = FAMILIES[int(family_at(place[1]))]
    if from_grey and not to_grey:
        return _Change(told, family=family)
    if by_h >= SEEN_FROM and not to_grey:
        return _Change(told, (degree(by_h), _toward(float(place[0]), float(place[1]))))
    if by_h >= SEEN_FROM and (from_grey or not seen):
        return _Change(told, family=family, stays_grey=True)
    return _Change(told)


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
