"""Read a colour in an artist's words."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike

from drills.colour import words
from drills.colour.change import describe_difference
from drills.colour.everyday import everyday_name, with_article
from drills.colour.hue import FAMILIES, complement, family_at, wheel_position
from drills.colour.munsell import lab_to_munsell, munsell_value
from drills.colour.spaces import Lab, lab_to_lch

__all__ = ["Reading", "describe_difference", "read_colour", "read_colours"]


@dataclass(frozen=True)
class Reading:
    """What an artist's eye should find in a colour.

    ``family`` is one of the twelve, and None for a ``neutral``, which has none.
    ``lean`` is the neighbour the colour leans to, for a neutral the family it
    leans to, and None for a colour that sits squarely in its family or leans
    nowhere, as a ``hueless`` grey (C*ab under 1) does. ``position`` is the place
    on the wheel, [0, 12), and means nothing for a ``hueless`` one. ``value`` is
    Munsell's 0–10, ``strength`` about Munsell's chroma, ``chroma`` C*ab.
    ``complement`` is the family opposite on the wheel, None for a neutral.
    ``everyday`` is the name that hides the family (brown, pink …), or None.
    """

    lab: Lab
    lch: tuple[float, float, float]
    position: float
    family: str | None
    lean: str | None
    lean_strength: words.LeanStrength
    value: float
    value_word: words.ValueWord
    strength: float
    chroma_word: words.ChromaWord
    temperature: words.Temperature
    complement: str | None
    neutral: bool
    everyday: str | None
    everyday_note: str
    _munsell: str | None = field(default=None, repr=False, compare=False)

    @property
    def chroma(self) -> float:
        """C*ab."""
        return self.lch[1]

    @property
    def hueless(self) -> bool:
        """Whether the colour is too grey for its hue to be told."""
        return self.lch[1] < words.HUELESS_BELOW

    @cached_property
    def munsell(self) -> str:
        """Munsell notation, such as ``5R 4/10``; worked out when first asked for."""
        return self._munsell if self._munsell is not None else lab_to_munsell(self.lab)[0]

    def sentence(self) -> str:
        """The reading as one or two plain sentences."""
        value = f"value {self.value:.1f}"
        if self.neutral:
            shade = _grey(self.value)
            if shade == "grey":
                shade = f"{self.value_word} grey"
            if self.hueless:
                return f"{_capital(with_article(shade))} that leans nowhere, {value}."
            feel = "" if self.temperature == "neither" else f"{self.temperature}, "
            how = "a touch" if self.lean_strength == "slightly" else self.lean_strength
            return (
                f"{_capital(with_article(shade))} that leans {how} to {self.lean}: {feel}{value}."
            )
        mood = {"neither": "neither warm nor cool"}.get(self.temperature, self.temperature)
        chroma = "" if self.chroma_word == "moderate" else f", {self.chroma_word}"
        light = "middle-value" if self.value_word == "middle" else self.value_word
        name = with_article(f"{light}{chroma} {self.family}")
        lean = (
            f"leaning {self.lean_strength} to {self.lean}"
            if self.lean
            else "squarely in its family"
        )
        text = f"{_capital(name)}, {lean}: {mood}, {value}. Its complement is {self.complement}."
        return f"{text} {self.everyday_note}." if self.everyday_note else text


def read_colour(lab: ArrayLike) -> Reading:
    """Read one Lab."""
    return read_colours(np.asarray(lab, dtype=np.float64)[None])[0]


def read_colours(labs: ArrayLike, *, with_munsell: bool = False) -> list[Reading]:
    """Read Lab (n, 3) at once; with Munsell notations too if they will be wanted of all."""
    given = np.asarray(labs, dtype=np.float64).reshape(-1, 3)
    lch = lab_to_lch(given)
    positions = wheel_position(given)
    notations: Sequence[str | None] = lab_to_munsell(given) if with_munsell else [None] * len(given)
    columns = zip(
        given.tolist(),
        lch.tolist(),
        positions.tolist(),
        family_at(positions).tolist(),
        munsell_value(given).tolist(),
        words.strength_at(lch[:, 1], positions, lch[:, 0]).tolist(),
        notations,
        strict=True,
    )
    return [_read(*column) for column in columns]


def _read(
    lab: list[float],
    lch: list[float],
    position: float,
    index: int,
    value: float,
    strength: float,
    munsell: str | None,
) -> Reading:
    hue = FAMILIES[index]
    neutral = strength < words.NEUTRAL_BELOW
    offset = (position - index + 6) % 12 - 6
    if neutral:
        how = words.grey_lean_strength(lch[1])
        lean = hue
    else:
        how = words.lean_strength(abs(offset))
        lean = FAMILIES[(index + (1 if offset > 0 else -1)) % len(FAMILIES)]
    everyday = None if neutral else everyday_name(hue, value, strength)
    note = ""
    if everyday is not None:
        note = f"Many call it {everyday.name}: look for the {hue} in it"
    return Reading(
        lab=(lab[0], lab[1], lab[2]),
        lch=(lch[0], lch[1], lch[2]),
        position=position,
        family=None if neutral else hue,
        lean=None if how == "squarely" else lean,
        lean_strength=how,
        value=value,
        value_word=words.value_word(value),
        strength=strength,
        chroma_word=words.chroma_word(strength),
        temperature="neither" if lch[1] < words.HUELESS_BELOW else words.temperature(index),
        complement=None if neutral else complement(hue),
        neutral=neutral,
        everyday=None if everyday is None else everyday.name,
        everyday_note=note,
        _munsell=munsell,
    )


def _grey(value: float) -> str:
    """What a neutral of this Munsell value is called."""
    if value >= 9.0:
        return "white"
    return "black" if value < 1.5 else "grey"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
