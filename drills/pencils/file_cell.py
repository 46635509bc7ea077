"""Reading one cell of a pencils file; a cell that is wrong raises ``CellError``."""

from __future__ import annotations

import re

from drills.basics.errors import plain
from drills.pencils.pencil import (
    LIGHTFASTNESS,
    OPACITIES,
    Lab,
    Lightfastness,
    Opacity,
    Spectrum,
)

NAME_CHARS = 60
CODE_CHARS = 20
NOTES_CHARS = 300

WAVELENGTHS_NM = tuple(range(400, 701, 10))
REFLECTANCE_COLUMNS = tuple(f"r{nm}" for nm in WAVELENGTHS_NM)
ON_BLACK_COLUMNS = tuple(f"k{nm}" for nm in WAVELENGTHS_NM)
PAINTED_COLUMNS = ("painted",)
MOST_PAINTED = 99

# Python's float() also takes "nan", "1_000" and other scripts' digits; a swatch may not.
_NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]{1,3})?")
_HEX = re.compile(r"#?([0-9a-fA-F]{6})")
_LAB_FUNCTION = re.compile(r"lab\((.*)\)", re.IGNORECASE)


class CellError(ValueError):
    """A cell that can't be read: what is wrong, and what to do."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy


def read_text(cell: str, limit: int, what: str) -> str:
    """A name, code or note: one line of at most ``limit`` visible characters."""
    text = cell.strip()
    if len(text) > limit:
        raise CellError(f"the {what} is over {limit} characters long", "Shorten it.")
    if plain(text, limit) != text:
        raise CellError(
            f"the {what} “{plain(text, 30)}” holds a control or invisible character",
            "Type it again by hand.",
        )
    return text


def read_number(text: str) -> float:
    """A plain decimal number."""
    if not _NUMBER.fullmatch(text):
        raise CellError(f"“{plain(text, 20)}” is not a number", "Write a number such as 0.25.")
    return float(text)


def read_reflectance(cell: str) -> float:
    """A reflectance from 0 to 1."""
    value = read_number(cell.strip())
    if not 0.0 <= value <= 1.0:
        raise CellError(
            f"reflectance {plain(cell.strip(), 20)} is outside 0 to 1",
            "Write 0.25 for 25 per cent.",
        )
    return value


def read_hex(cell: str) -> str:
    """``#rrggbb`` in lower case."""
    match = _HEX.fullmatch(cell.strip())
    if not match:
        raise CellError(
            f"“{plain(cell.strip(), 20)}” is not a hex colour",
            "Write # and six of 0-9 a-f, such as #b5443c.",
        )
    return "#" + match[1].lower()


def read_lab(cell: str) -> Lab:
    """``L a b`` or ``lab(L a b)``: L* 0 to 100, a* and b* −160 to 160."""
    text = cell.strip()
    inner = _LAB_FUNCTION.fullmatch(text)
    parts = (inner[1] if inner else text).replace(",", " ").replace(";", " ").split()
    if len(parts) != 3:
        raise CellError(
            f"“{plain(text, 30)}” is not three Lab numbers", "Write L a b, such as 52.1 48 23.5."
        )
    L, a, b = (read_number(part) for part in parts)
    if not 0.0 <= L <= 100.0:
        raise CellError(f"L* {parts[0][:20]} is outside 0 to 100", "Check the measurement.")
    for axis, value, part in (("a*", a, parts[1]), ("b*", b, parts[2])):
        if abs(value) > 160.0:
            raise CellError(f"{axis} {part[:20]} is outside -160 to 160", "Check the measurement.")
    return (L, a, b)


def read_on_black(cell: str) -> str | Lab:
    """The swatch over black paper, as a hex colour or as Lab."""
    text = cell.strip()
    if text.startswith("#") or _HEX.fullmatch(text):
        return read_hex(text)
    return read_lab(text)


def read_opacity(cell: str) -> Opacity:
    """One of the opacities; empty means "semi"."""
    text = cell.strip().lower().replace("colorless", "colourless") or "semi"
    for opacity in OPACITIES:
        if text == opacity:
            return opacity
    raise CellError(
        f"“{plain(cell.strip(), 20)}” is not an opacity",
        "Write transparent, semi, opaque, or colourless for a blender.",
    )


def read_lightfastness(cell: str) -> Lightfastness:
    """An ASTM D6901 class; empty means not known."""
    text = cell.strip().upper()
    for grade in LIGHTFASTNESS:
        if text == grade:
            return grade
    raise CellError(
        f"“{plain(cell.strip(), 20)}” is not a lightfastness class",
        "Write I, II, III, IV or V (ASTM D6901), or leave it empty.",
    )


def read_used_up(cell: str) -> bool:
    """Whether a pencil is used up; empty means that it is there."""
    text = " ".join(cell.lower().split())
    if text in ("yes", "used up"):
        return True
    if text in ("", "no"):
        return False
    raise CellError(
        f"“{plain(cell.strip(), 20)}” doesn't say whether it is used up",
        "Write yes, or leave it empty.",
    )


def read_painted(cell: str) -> int:
    """Of how many swatches of one's own a colour is the mean; empty means 0."""
    text = cell.strip()
    digits = text.lstrip("0") or "0"
    # Their length first: thousands of digits can't be made a number.
    sound = not text or (text.isascii() and text.isdecimal() and len(digits) < 9)
    if not sound or int(digits) > MOST_PAINTED:
        raise CellError(
            f"“{plain(text, 20)}” is not a number of swatches",
            f"Write how many you painted, 1 to {MOST_PAINTED}, or leave it empty.",
        )
    return int(digits)


def lab_text(lab: Lab) -> str:
    """Lab as a cell, so that reading it again gives the very same numbers."""
    return " ".join(repr(number) for number in lab)


def spectrum_cells(spectrum: Spectrum) -> list[str]:
    """A spectrum as 31 cells, so that reading them again gives the same numbers."""
    return [repr(number) for number in spectrum]
