"""A colour as a person says it beside another: "a bit too light and too green"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

import numpy as np

from drills.basics.errors import InputError, plain
from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.colour.spaces import Lab, lab_to_lch, lch_to_lab
from drills.colour.turn import turned

LONGEST: Final = 200
SIZES: Final = {"touch": 2.0, "plain": 5.0, "much": 10.0}
"""ΔE00 meant by each degree: amid the sizes that ``drills.colour.change.degree`` has words for."""
DOUBT: Final = 0.5
"""What is in doubt, as a share of each size said; our estimate."""
LEAST_DOUBT: Final = 2.0
"""ΔE00 by which a colour said to be right may be off; our estimate."""

_DEGREES: Final = {
    **dict.fromkeys(("touch", "bit", "little", "slightly", "slight", "tad", "hint"), "touch"),
    **dict.fromkeys(("quite", "rather", "clearly", "somewhat", "plainly"), "plain"),
    **dict.fromkeys(("much", "far", "very", "way", "lot", "strongly"), "much"),
}
_PARTS: Final = {
    **dict.fromkeys(("light", "lighter", "pale", "paler"), ("lightness", 1)),
    **dict.fromkeys(("dark", "darker", "deep", "deeper"), ("lightness", -1)),
    **dict.fromkeys(("bright", "brighter", "strong", "stronger", "vivid"), ("chroma", 1)),
    **dict.fromkeys(
        ("dull", "duller", "grey", "greyer", "gray", "grayer", "muted", "muddy", "weak"),
        ("chroma", -1),
    ),
}
_HUES: Final = {
    **dict.fromkeys(("yellow", "yellower", "yellowish"), 0),
    **dict.fromkeys(("orange", "warm", "warmer"), 2),
    **dict.fromkeys(("red", "redder", "reddish"), 4),
    **dict.fromkeys(("violet", "purple"), 6),
    **dict.fromkeys(("blue", "bluer", "bluish", "cool", "cooler", "cold", "colder"), 8),
    **dict.fromkeys(("green", "greener", "greenish"), 10),
}
_AROUND = """a an the too more less and but is it its now than leaning lean leans toward towards
by on in side paper mine my what i have got came out enough of to eye"""
_PASSED_OVER: Final = frozenset(_AROUND.split())
_SAME: Final = frozenset({"same", "right", "equal", "equals", "matches", "match"})
_HUELESS_BELOW: Final = 8.0
"""C*ab below which a hue is added to a colour rather than turned to."""
_FARTHEST_TURN: Final = 4.0
"""Places on the wheel beyond which a hue dulls a colour rather than turns it."""


@dataclass(frozen=True)
class Said:
    """The colour meant (D50 Lab), and ``sd``, the doubt in it as a ΔE00."""

    lab: Lab
    sd: float


def said_beside(words: str, reference: Lab) -> Said:
    """What a colour is that is said to be such beside ``reference``.

    "a touch" or "a bit", nothing, and "much" or "far" give the size, which holds on over
    "and" until a comma or another. "Not dark enough" is too light. Raises InputError for
    words that say nothing of a colour.
    """
    where = f"'{plain(words, 60)}'"
    if len(words) > LONGEST:
        raise InputError(where, f"longer than {LONGEST} characters", _REMEDY)
    changes: dict[str, float] = {}
    hues: list[tuple[int, float]] = []
    same = False
    for phrase in re.split(r"[,;.]|\bbut\b", words.lower()):
        size, sign = "plain", -1 if "not" in phrase.split() and "enough" in phrase.split() else 1
        for word in re.findall(r"[a-z]+", phrase.replace("-", " ")):
            if word in _DEGREES:
                size = _DEGREES[word]
            elif word in _PARTS:
                part, way = _PARTS[word]
                changes[part] = sign * way * SIZES[size]
            elif word in _HUES:
                hues.append((_HUES[word], sign * SIZES[size]))
            elif word in _SAME:
                same = True
            elif word not in _PASSED_OVER and word != "not":
                raise InputError(where, f"“{plain(word, 30)}” is not understood", _REMEDY)
    if not (changes or hues or same):
        raise InputError(where, "it says nothing of the colour", _REMEDY)
    lab = _shifted(reference, "lightness", changes.get("lightness", 0.0))
    lab = _shifted(lab, "chroma", changes.get("chroma", 0.0))
    for place, size_toward in hues:
        lab = _leaning(lab, place, size_toward)
    sizes = [*changes.values(), *(by for _, by in hues)]
    sd = float(np.sqrt(LEAST_DOUBT**2 + sum((DOUBT * by) ** 2 for by in sizes)))
    return Said(lab, sd)


def written_or_said(text: str, reference: Lab) -> Said:
    """A colour as written (``parse_colour``; its ``sd`` is 0), or as said beside ``reference``.

    Raises InputError, for words or for a colour, as the text looks to be.
    """
    try:
        return Said(parse_colour(text), 0.0)
    except InputError:
        if not re.match(r"\s*[a-z]+\b(?!\()", text, re.I) or re.search(r"[0-9#]", text):
            raise
        return said_beside(text, reference)


_REMEDY: Final = "Say it as in: a bit too light and too green; or: much too dull, a touch too red."


def _shifted(lab: Lab, part: str, by: float) -> Lab:
    """``lab`` moved in lightness or chroma alone until it is |by| ΔE00 off, or at the limit."""
    if not by:
        return lab
    L, C, h = lab_to_lch(lab).tolist()
    along = np.linspace(0.0, 60.0, 601)
    moved = np.tile([L, C, h], (len(along), 1))
    at = 0 if part == "lightness" else 1
    moved[:, at] = np.clip(moved[:, at] + np.copysign(along, by), 0.0, 100.0 if at == 0 else None)
    return _first_off(lab, lch_to_lab(moved), abs(by))


def _leaning(lab: Lab, place: int, by: float) -> Lab:
    """``lab`` moved toward a place on the wheel (away, where ``by`` < 0) by |by| ΔE00."""
    from drills.colour.hue import wheel_position

    _, C, _ = lab_to_lch(lab).tolist()
    along = np.linspace(0.0, 6.0, 241)
    start = float(wheel_position(np.asarray([lab]))[0])
    shorter = (place - start + 6.0) % 12.0 - 6.0
    if C >= _HUELESS_BELOW and abs(shorter) <= _FARTHEST_TURN:
        way = np.sign(shorter) * np.sign(by)
        most = abs(shorter) if by > 0 else 6.0
        return _first_off(lab, turned(lab, start + way * np.minimum(along, most)), abs(by))
    toward = turned((lab[0], 30.0, 0.0), [float(place)])[0, 1:] * np.sign(by) / 30.0
    moved = np.tile(np.asarray(lab), (len(along), 1))
    moved[:, 1:] += along[:, None] * 6.0 * toward
    return _first_off(lab, moved, abs(by))


def _first_off(lab: Lab, along: np.ndarray, by: float) -> Lab:
    off = delta_e00(np.broadcast_to(np.asarray(lab), along.shape), along)
    far = np.flatnonzero(off >= by)
    L, a, b = along[far[0] if far.size else int(off.argmax())].tolist()
    return (L, a, b)
