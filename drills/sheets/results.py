"""What photos of sheets come to: swatches and patches, and words for what was dropped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.spaces import Lab, lab_to_xyz, reflectance_to_lab, xyz_to_lab
from drills.layering.paper import black_paper
from drills.pictures.white import paper_lab
from drills.sheets.layout import Kind, Page, Part
from drills.sheets.sampling import BoxRead

EMPTY: Final = 2.5
"""ΔE00 from the bare ground within which a box counts as empty: a box of bare paper reads to
about 1; our estimate."""
DISAGREE: Final = 5.0
"""ΔE00 from their mean at which photos of one box don't show the same."""
_OVER_BLACK: Final[tuple[Part, ...]] = ("over black", "patch")
_ON_WHITE: Final[tuple[Part, ...]] = ("light", "firm", "patch")
_TOO_WHITE = "as white as the paper: empty"
_TOO_BLACK = "no lighter than the bare black: empty, or it doesn't show"


@dataclass(frozen=True)
class Swatch:
    """One box over all photos of it: Lab, or None and the reason. ``photos`` agreed on it."""

    lab: Lab | None
    trouble: str = ""
    photos: int = 0


Slots = Mapping[tuple[int, int], Mapping[Part, Swatch]]
"""Swatches by the page's number and slot, and part."""


Sheet = tuple[str, Kind]
"""A sheet's name and what its pages hold: one name may stand on pages of both kinds."""


def combined(reads: Iterable[tuple[Page, Sequence[BoxRead]]]) -> dict[Sheet, Slots]:
    """Every photo's boxes put together, by sheet."""
    seen: dict[Sheet, dict[tuple[int, int], dict[Part, list[BoxRead]]]] = {}
    for page, boxes in reads:
        sheet = seen.setdefault((page.id, page.kind), {})
        for one in boxes:
            parts = sheet.setdefault((page.number, one.box.slot), {})
            parts.setdefault(one.box.part, []).append(one)
    return {
        name: {place: _slot(parts) for place, parts in sorted(sheet.items())}
        for name, sheet in seen.items()
    }


def _slot(parts: Mapping[Part, Sequence[BoxRead]]) -> dict[Part, Swatch]:
    out = {part: _agreed(reads) for part, reads in parts.items()}
    paper, bare = np.array(paper_lab()), out.get("bare black")
    if bare is not None and bare.lab is not None:
        for part in _OVER_BLACK:
            over = out.get(part)
            if over is not None and over.lab is not None and _near(over.lab, np.array(bare.lab)):
                out[part] = Swatch(None, _TOO_BLACK)
    over = out.get("over black")
    for part in _ON_WHITE:
        one = out.get(part)
        if one is None or one.lab is None or not _near(one.lab, paper):
            continue
        # A white pencil doesn't show on white paper, but over black it does.
        if not (part == "firm" and over is not None and over.lab is not None):
            out[part] = Swatch(None, _TOO_WHITE)
    return out


def _near(lab: Lab, other: FloatArray) -> bool:
    return float(delta_e00(np.array(lab), other)) < EMPTY


def _agreed(reads: Sequence[BoxRead]) -> Swatch:
    good = [one for one in reads if not one.trouble]
    if not good:
        return Swatch(None, reads[0].trouble)
    labs = np.array([one.lab for one in good])
    mean = labs.mean(axis=0)
    if float(delta_e00(labs, mean).max()) > DISAGREE:
        return Swatch(None, "its photos disagree")
    L, a, b = mean.tolist()
    return Swatch((L, a, b), photos=len(good))


def used(parts: Mapping[Part, Swatch]) -> bool:
    """Whether a slot was filled, or spoiled, rather than left empty."""
    return any(
        one.lab is not None or one.trouble not in (_TOO_WHITE, _TOO_BLACK)
        for part, one in parts.items()
        if part != "bare black"
    )


def on_black_paper(firm: Lab, over: Lab, bare: Lab) -> Lab | None:
    """A swatch ``over`` printed black, as it would be over black paper; None where none can be.

    The film's own reflectance R0 and what it lets through, T², follow from it on white paper and
    on the printed black (Kubelka 1948: R = R0 + T² g / (1 − R0 g) over a ground g), one X, Y, Z
    after another, which is an approximation.
    """
    full = lab_to_xyz(np.array([100.0, 0.0, 0.0]))
    w, Rw, b, Rb, g = (
        lab_to_xyz(np.array(one)) / full
        for one in (
            paper_lab(), firm, bare, over, reflectance_to_lab(black_paper().reflectance),
        )
    )  # fmt: skip
    below = Rb - Rw + 1 / b - 1 / w
    R0 = np.clip((Rb / b - Rw / w) / np.where(below == 0, np.inf, below), 0.0, 0.98)
    through = np.maximum((Rw - R0) * (1 - R0 * w) / w, 0.0)
    seen = R0 + through * g / (1 - R0 * g)
    if not np.isfinite(seen).all():
        return None
    L, a, b_ = xyz_to_lab(np.clip(seen, 0.0, 1.0) * full).tolist()
    return (L, a, b_)
