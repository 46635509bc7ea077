"""A pencil as its owner knows it, and a set of them. Nothing here needs numpy."""

from __future__ import annotations

import unicodedata
from dataclasses import dataclass, field
from typing import Literal, TypeAlias, get_args

from drills.basics.errors import InputError

Lab: TypeAlias = tuple[float, float, float]
"""CIE 1976 L*a*b* under D50 for the CIE 1931 2° observer."""

Spectrum: TypeAlias = tuple[float, ...]
"""Reflectance 0–1 at 400, 410 … 700 nm: 31 numbers."""

Opacity: TypeAlias = Literal["transparent", "semi", "opaque", "colourless"]
"""How well a firm layer hides what lies under it; "colourless" is a blender."""

Lightfastness: TypeAlias = Literal["", "I", "II", "III", "IV", "V"]
"""ASTM D6901 class, I (excellent) to V (fugitive); empty when not known."""

OPACITIES: tuple[Opacity, ...] = get_args(Opacity)
LIGHTFASTNESS: tuple[Lightfastness, ...] = get_args(Lightfastness)


def name_key(name: str) -> str:
    """A name or code as it is told from others: case, spaces and forms of a letter don't count."""
    return " ".join(unicodedata.normalize("NFKC", name).casefold().split())


@dataclass(frozen=True)
class Pencil:
    """One pencil and its swatch: firm pressure, evenly laid, on white drawing paper.

    Exactly one of ``hex`` ("#rrggbb", sRGB), ``lab`` and ``reflectance`` is
    given, except that a colourless blender has none. ``on_black`` is the same
    swatch over black paper, as a hex text, a Lab (3 numbers) or a spectrum (31).
    ``painted`` is how many firm swatches its owner painted, of which the colour is the mean:
    as many hands' wandering is in it. 0 where the colour was given some other way, as exact.
    ``row`` is the file row it was read from, as a spreadsheet counts (0: none).
    """

    name: str
    code: str = ""
    hex: str | None = None
    lab: Lab | None = None
    reflectance: Spectrum | None = None
    opacity: Opacity = "semi"
    on_black: str | Lab | Spectrum | None = None
    lightfastness: Lightfastness = ""
    notes: str = ""
    used_up: bool = False
    """Still one of the set, but not to be laid until there is another."""
    painted: int = 0
    row: int = field(default=0, compare=False)

    @property
    def is_blender(self) -> bool:
        """True for the colourless pencil that blends what is already laid."""
        return self.opacity == "colourless"

    @property
    def lays_colour(self) -> bool:
        """True for a coloured pencil that can be laid: no blender, and not used up."""
        return not (self.is_blender or self.used_up)


@dataclass(frozen=True)
class PencilSet:
    """The pencils someone owns, in their own order.

    ``fingerprint`` is the SHA-256, in hex, of the set written as canonical CSV
    (drills.pencils.file.to_csv): two files that mean the same have the same one.
    ``source`` is the file it was read from, for errors; ``ignored`` are columns
    of that file that mean nothing here, ``notes`` what had to be taken for granted.
    """

    name: str = field(compare=False)
    pencils: tuple[Pencil, ...]
    fingerprint: str
    source: str = field(default="", compare=False)
    ignored: tuple[str, ...] = field(default=(), compare=False)
    notes: tuple[str, ...] = field(default=(), compare=False)

    def __len__(self) -> int:
        return len(self.pencils)

    @property
    def blender(self) -> int | None:
        """The place in ``pencils`` of the first colourless blender at hand, or None."""
        at_hand = (i for i, one in enumerate(self.pencils) if one.is_blender and not one.used_up)
        return next(at_hand, None)


class PencilsError(InputError):
    """A fault in a set of pencils; its place is told in ``row`` and ``column`` too.

    ``row`` is 0 and ``column`` empty where there is none to name.
    """

    def __init__(
        self, source: str, problem: str, remedy: str, row: int = 0, column: str = ""
    ) -> None:
        self.row, self.column = row, column
        place = (f"row {row}" if row else "", f"column {column}" if column else "")
        super().__init__(", ".join(filter(None, (source, *place))), problem, remedy)
