"""One measured swatch, brought to what a pencils file holds: 31 reflectances, or Lab under D50."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from drills.pencils.pencil import Lab, Spectrum

FIRST_NM, LAST_NM, STEP_NM = 400, 700, 10
STEPS_NM: Final = (1, 2, 5, 10, 20)
"""Steps between wavelengths that are read."""
FARTHEST_NM = 20
"""How far short of 400 or 700 nm a spectrum may end: its last value then stands for the rest
(CIE 15:2018, 7.2.2.1 allows so where no better is known; from memory)."""
PER_CENT_FROM = 2.0
"""A table with a reflectance over this holds per cent."""
_MIDWAY: Final = (3 / 256, -25 / 256, 150 / 256, 150 / 256, -25 / 256, 3 / 256)
"""Sprague's interpolation (CIE 167:2005) halfway between the middle two of six."""
_BEFORE: Final = (
    (508, -540, 488, -367, 144, -24),
    (884, -1960, 3033, -2648, 1080, -180),
)
"""Two values before the first, from the first six, in 209ths (CIE 167:2005, table V)."""
_ON_BLACK: Final = re.compile(r"[\s,;:(\-–]*(?:on|over) black(?: paper)?\)?\s*$", re.I)


class MeasuredError(ValueError):
    """A measurement that can't be read: what is wrong, and what to do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


@dataclass(frozen=True)
class Sample:
    """A swatch by ``name``; one of ``lab`` (D50) and ``reflectance`` (31) is given.

    ``place`` is where it stood in its file, as people count.
    """

    name: str
    code: str
    place: int
    lab: Lab | None = None
    reflectance: Spectrum | None = None

    @property
    def bare_name(self) -> str:
        """The name without "on black"."""
        found = self._black_words
        return self.name[: found.start()].strip() if found else self.name

    @property
    def on_black(self) -> bool:
        """Whether its name says that it was laid on black paper."""
        return self._black_words is not None

    @property
    def _black_words(self) -> re.Match[str] | None:
        # Only in the end of it: a stranger's name may be very long.
        return _ON_BLACK.search(self.name, max(0, len(self.name) - 40))


@dataclass(frozen=True)
class Measured:
    """The samples of a file, and in ``notes`` what had to be taken so or so to read them."""

    samples: tuple[Sample, ...]
    notes: tuple[str, ...]


def is_xml(text: str) -> bool:
    """Whether a text looks like CxF3."""
    return text.lstrip("\ufeff \t\r\n").startswith("<")


def is_cgats(text: str) -> bool:
    """Whether a text looks like CGATS.17."""
    return "BEGIN_DATA_FORMAT" in text and "BEGIN_DATA" in text


def step_of(wavelengths: Sequence[int]) -> int:
    """The one step (nm) between wavelengths in their order. Raises MeasuredError."""
    steps = {after - before for before, after in pairwise(wavelengths)}
    if len(steps) != 1:
        raise MeasuredError("its wavelengths lie unevenly", "Give them in even steps.")
    return steps.pop()


def resampled(first_nm: int, step_nm: int, values: Sequence[float]) -> Spectrum:
    """31 reflectances, 400 to 700 nm by 10, of ones measured in even steps.

    Steps of 20 nm are halved by Sprague's interpolation (CIE 167:2005); of finer ones every
    few are taken. Raises MeasuredError.
    """
    if step_nm not in STEPS_NM:
        raise MeasuredError(
            f"its wavelengths lie {step_nm} nm apart", "Export it in steps of 5, 10 or 20 nm."
        )
    last_nm = first_nm + step_nm * (len(values) - 1)
    if first_nm > FIRST_NM + FARTHEST_NM or last_nm < LAST_NM - FARTHEST_NM or len(values) < 6:
        raise MeasuredError(
            f"its spectrum runs from {first_nm} to {last_nm} nm", "It must reach 420 to 680 nm."
        )
    if step_nm == 20:
        values, step_nm = halved(values), 10
    if (FIRST_NM - first_nm) % step_nm:
        raise MeasuredError(
            f"no wavelength of it is a whole ten ({first_nm} nm by {step_nm})",
            "Export it at 400, 410 … 700 nm.",
        )
    found = []
    for nm in range(FIRST_NM, LAST_NM + 1, STEP_NM):
        at = min(len(values) - 1, max(0, (nm - first_nm) // step_nm))
        found.append(min(1.0, max(0.0, float(values[at]))))
    return tuple(found)


def halved(values: Sequence[float]) -> list[float]:
    """Values in steps half as long: those given, and one between each two.

    Beyond either end two more are supposed, as CIE 167:2005 has them.
    """
    ahead = [sum(w * v for w, v in zip(row, values[:6], strict=True)) / 209 for row in _BEFORE]
    behind = [sum(w * v for w, v in zip(row, values[:-7:-1], strict=True)) / 209 for row in _BEFORE]
    padded = [ahead[1], ahead[0], *values, behind[0], behind[1]]
    out: list[float] = []
    for at in range(len(values) - 1):
        six = padded[at : at + 6]
        out += [values[at], sum(w * v for w, v in zip(_MIDWAY, six, strict=True))]
    return [*out, values[-1]]


def of_one(spectra: Sequence[Sequence[float]]) -> tuple[float, str]:
    """What all spectra of a file are divided by (1 or 100), and a note where it is 100.

    Raises MeasuredError where a value is no reflectance either way.
    """
    most = max((max(one) for one in spectra if one), default=0.0)
    scale = 100.0 if most > PER_CENT_FROM else 1.0
    if most / scale > PER_CENT_FROM:
        raise MeasuredError(f"a reflectance of {most:g} is none", "Check the measurement.")
    over = most / scale > 1.0
    notes = []
    if scale == 100.0:
        notes.append("Its reflectances are taken as per cent.")
    if over:
        notes.append("Some reflect over 1 (a brightener, or the white it was set by): cut to 1.")
    return scale, " ".join(notes)
