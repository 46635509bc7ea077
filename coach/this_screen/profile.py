"""A screen's ICC profile: its curves and primaries.

Only matrix profiles (ICC.1:2022, 8.4.3) are read, which is what a screen's are but for a few;
``vcgt``, which some hold for the graphics card, is ignored. littleCMS looks the file over first
(Pillow's ImageCms); it doesn't give the curves, so their tags are read here.
"""

from __future__ import annotations

import io
import struct
from itertools import pairwise

from coach.home import expanded
from coach.this_screen.kept import BEND, SAMPLES, SCALE, Known
from drills.basics.errors import InputError, plain
from drills.basics.ordinary_file import read_ordinary

MOST_BYTES, MOST_TAGS = 4 << 20, 100
NEVER_READ = "no matrix profile can be read from it"
REMEDY = "Measure the screen by eye instead."
_PARAMETERS = (1, 3, 4, 5, 7)
"""How many parameters each function type of a parametric curve has (ICC.1:2022, table 68)."""


def read_profile(path: str) -> Known:
    """What a profile says of its screen. Raises InputError, which names file, fault and remedy."""
    where = plain(path, 200)
    data = read_ordinary(expanded(path.strip() or ".", "profile"), MOST_BYTES, "a profile")
    from PIL import ImageCms

    try:
        opened = ImageCms.getOpenProfile(io.BytesIO(data)).profile
        kind = opened.device_class.strip(), opened.xcolor_space.strip()
    except (OSError, ImageCms.PyCMSError):
        raise InputError(where, "it is no colour profile", REMEDY) from None
    if kind != ("mntr", "RGB"):
        raise InputError(where, "it is no screen's profile", "Take the one of the screen.")
    try:
        tags = _tags(data)
        curves = tuple(_samples(tags[name]) for name in (b"rTRC", b"gTRC", b"bTRC"))
        primaries = tuple(_chromaticity(tags[name]) for name in (b"rXYZ", b"gXYZ", b"bXYZ"))
    except (struct.error, ArithmeticError, KeyError, TypeError, ValueError):
        raise InputError(where, NEVER_READ, REMEDY) from None
    if not all(0.0 < part < 1.0 for xy in primaries for part in xy):
        raise InputError(where, "its primaries are no colours", REMEDY)
    if any(later < sooner for curve in curves for sooner, later in pairwise(curve)):
        raise InputError(where, "a channel's curve falls", REMEDY)
    return Known("profile", curves=curves, primaries=primaries)


def _tags(data: bytes) -> dict[bytes, bytes]:
    """Each tag's bytes (ICC.1:2022, 7.3)."""
    (count,) = struct.unpack_from(">I", data, 128)
    found = {}
    for at in range(min(count, MOST_TAGS)):
        name, start, size = struct.unpack_from(">4sII", data, 132 + 12 * at)
        found[name] = data[start : start + size]
    return found


def _chromaticity(tag: bytes) -> tuple[float, float]:
    """x, y of an XYZ tag, which stands under D50."""
    x, y, z = (part / 65536 for part in struct.unpack_from(">3i", tag, 8))
    return round(x / (x + y + z), 4), round(y / (x + y + z), 4)


def _samples(tag: bytes) -> tuple[int, ...]:
    """The curve as it is kept: SAMPLES of light ** (1 / BEND) in parts of SCALE."""
    places = [at / (SAMPLES - 1) for at in range(SAMPLES)]
    if tag[:4] == b"curv":
        lights = [_table_at(tag, place) for place in places]
    elif tag[:4] == b"para":
        lights = [_function_at(tag, place) for place in places]
    else:
        raise ValueError("no curve")
    return tuple(round(SCALE * min(1.0, max(0.0, light)) ** (1 / BEND)) for light in lights)


def _table_at(tag: bytes, place: float) -> float:
    """A curveType at a place from 0 to 1 (ICC.1:2022, 10.6)."""
    (count,) = struct.unpack_from(">I", tag, 8)
    if count == 0:
        return place
    if count == 1:
        return float(place ** (struct.unpack_from(">H", tag, 12)[0] / 256))
    at = place * (count - 1)
    low = min(int(at), count - 2)
    first, second = struct.unpack_from(">2H", tag, 12 + 2 * low)
    return float((first + (second - first) * (at - low)) / 65535)


def _function_at(tag: bytes, place: float) -> float:
    """A parametricCurveType at a place from 0 to 1 (ICC.1:2022, 10.18)."""
    (kind,) = struct.unpack_from(">H", tag, 8)
    if kind >= len(_PARAMETERS):
        raise ValueError("no such function")
    given = [part / 65536 for part in struct.unpack_from(f">{_PARAMETERS[kind]}i", tag, 12)]
    g, a, b, c, d, e, f = given + [0.0] * (7 - len(given))
    if kind == 0:
        return float(place**g)
    if kind in (1, 2):
        return float((a * place + b) ** g + c if place >= -b / a else c)
    return float((a * place + b) ** g + e if place >= d else c * place + f)
