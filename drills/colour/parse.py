"""A colour as written: ``#rrggbb``, CSS ``rgb()`` or ``lab()``, or Munsell notation."""

from __future__ import annotations

import math
import re

from drills.basics.errors import InputError, plain
from drills.colour.munsell import munsell_to_lab
from drills.colour.spaces import Lab, srgb_to_lab

LONGEST = 200
"""Characters in a colour; anything longer is no colour."""

FORMS = "#rrggbb, rgb(255 0 0), lab(50 20 -30), or Munsell such as 5R 4/10 or N 5"

_HEX = re.compile(r"#(?:[0-9a-f]{3}|[0-9a-f]{6})", re.I)
_HEX_LIKE = re.compile(r"#?[0-9a-f]+", re.I)
_FUNCTION = re.compile(r"([a-z][a-z-]*)\(([^()]*)\)", re.I)
_NUMBER = re.compile(r"([+-]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)(?:e[+-]?[0-9]+)?)(%?)", re.I)
_MUNSELL_LIKE = re.compile(r"\s*(?:[0-9.]+\s*[a-z]{1,2}[\s0-9./]*|N\s*[0-9.].*)", re.I)

_REACH_AB = 170.0  # a* and b* of no surface colour go beyond ±170


def parse_colour(text: str) -> Lab:
    """Lab under D50 of a colour as written.

    ``rgb()`` and ``lab()`` follow CSS Color 4: numbers or percentages, spaces
    or (in rgb) commas, ``none`` for 0; lab() is Lab under D50 as it stands.
    Opacity is refused, as are numbers out of range, which CSS would clamp
    without a word. Raises InputError.
    """
    where = f"colour '{plain(text, 40)}'"
    if len(text) > LONGEST:
        raise InputError(where, f"longer than {LONGEST} characters", f"Write {FORMS}.")
    given = text.strip()
    if not given:
        raise InputError(where, "nothing is written", f"Write {FORMS}.")
    if _HEX.fullmatch(given):
        digits = given[1:] if len(given) == 7 else "".join(digit * 2 for digit in given[1:])
        return _screen(*(int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4)))
    function = _FUNCTION.fullmatch(given)
    if function:
        name, inside = function[1].lower(), function[2].strip()
        if name in {"rgb", "rgba"}:
            return _rgb(where, inside)
        if name == "lab":
            return _lab(where, inside)
        raise InputError(where, f"{plain(name, 20)}() is not understood", f"Write {FORMS}.")
    if given.startswith("#") or (_HEX_LIKE.fullmatch(given) and len(given) in (3, 4, 6, 8)):
        raise InputError(where, _hex_fault(given), "Write # and 3 or 6 digits, as in #c06030.")
    if _MUNSELL_LIKE.fullmatch(given):
        return munsell_to_lab(given)
    raise InputError(where, "not a colour that can be read", f"Write {FORMS}.")


def _hex_fault(given: str) -> str:
    if not given.startswith("#"):
        return "the # is missing"
    if not _HEX_LIKE.fullmatch(given):
        return "a hex colour has only the digits 0–9 and a–f"
    if len(given) in (5, 9):
        return "opacity can't be read, for a swatch is opaque"
    return f"{len(given) - 1} digits where 3 or 6 belong"


def _screen(r: float, g: float, b: float) -> Lab:
    L, a, b = srgb_to_lab([r, g, b]).tolist()
    return (L, a, b)


def _rgb(where: str, inside: str) -> Lab:
    remedy = "Write three numbers from 0 to 255, as in rgb(192 96 48), or three percentages."
    parts = _parts(where, inside, "," in inside, remedy)
    channels = [_number(where, part, 255.0, remedy) / 255 for part in parts]
    if "," in inside and len({part.endswith("%") for part in parts}) > 1:
        raise InputError(where, "numbers and percentages are mixed", remedy)
    for part, channel in zip(parts, channels, strict=True):
        if not 0 <= channel <= 1:
            raise InputError(where, f"{part} is out of range", remedy)
    return _screen(*channels)


def _lab(where: str, inside: str) -> Lab:
    remedy = "Write L* from 0 to 100, then a* and b*, as in lab(50 20 -30)."
    if "," in inside:
        raise InputError(where, "lab() takes spaces, not commas", remedy)
    parts = _parts(where, inside, False, remedy)
    L = _number(where, parts[0], 100.0, remedy)
    a, b = (_number(where, part, 125.0, remedy) for part in parts[1:])
    if not 0 <= L <= 100:
        raise InputError(where, f"L* {parts[0]} is out of range", remedy)
    for name, number in (("a*", a), ("b*", b)):
        if abs(number) > _REACH_AB:
            limit = f"Keep a* and b* within ±{_REACH_AB:g}."
            raise InputError(where, f"no surface has {name} {number:g}", limit)
    return (L, a, b)


def _parts(where: str, inside: str, commas: bool, remedy: str) -> list[str]:
    if "/" in inside or (commas and inside.count(",") == 3):
        raise InputError(where, "opacity can't be read, for a swatch is opaque", "Leave it off.")
    parts = [part.strip() for part in inside.split(",")] if commas else inside.split()
    if len(parts) != 3:
        raise InputError(where, f"{len(parts)} numbers where 3 belong", remedy)
    return parts


def _number(where: str, part: str, full: float, remedy: str) -> float:
    if part.lower() == "none":
        return 0.0
    match = _NUMBER.fullmatch(part)
    if match is None:
        raise InputError(where, f"'{plain(part, 20)}' is not a number", remedy)
    number = float(match[1])
    if not math.isfinite(number):
        raise InputError(where, f"{plain(part, 20)} is out of range", remedy)
    return number / 100 * full if match[2] else number
