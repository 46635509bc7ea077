"""Picture files made for the tests, their truth known."""

from __future__ import annotations

import struct
from io import BytesIO

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from drills.pictures.opening import picture_of
from drills.pictures.picture import Picture

Levels = NDArray[np.uint8]

# Display P3: primaries of SMPTE RP 431-2, white D65, the curve of IEC 61966-2-1.
P3_XY = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
D65_XY = (0.3127, 0.3290)


def filed(levels: Levels, form: str = "PNG", **options: object) -> bytes:
    """The bytes of a file with these pixels (h, w, 3 or 4) or (h, w)."""
    return saved(Image.fromarray(levels), form, **options)


def saved(image: Image.Image, form: str, **options: object) -> bytes:
    if form == "HEIF":
        from pillow_heif import register_heif_opener

        register_heif_opener()
    out = BytesIO()
    image.save(out, form, **options)
    return out.getvalue()


def opened(levels: Levels, form: str = "PNG", **options: object) -> Picture:
    return picture_of(filed(levels, form, **options), "a picture")


def plain(colour: tuple[int, ...], width: int = 32, height: int = 24) -> Levels:
    """One colour all over."""
    return np.full((height, width, len(colour)), colour, dtype=np.uint8)


def quarters() -> Levels:
    """Four colours, each a quarter, so that a turn shows: red, green over blue, yellow."""
    levels = np.zeros((16, 24, 3), dtype=np.uint8)
    levels[:8, :12], levels[:8, 12:] = (200, 40, 40), (40, 160, 60)
    levels[8:, :12], levels[8:, 12:] = (40, 60, 180), (220, 200, 60)
    return levels


def wide_profile() -> bytes:
    """A matrix profile of Display P3, written by ICC.1:2022: header, tag table, six XYZ or curves.

    The primaries are taken to D50 by Bradford, as the standard wants.
    """
    import colour

    space = colour.RGB_COLOURSPACES["Display P3"]
    adapt = colour.adaptation.matrix_chromatic_adaptation_VonKries(
        colour.xy_to_XYZ(np.array(D65_XY)), np.array([0.9642, 1.0, 0.8249]), transform="Bradford"
    )
    columns = (adapt @ space.matrix_RGB_to_XYZ).T
    curve = parametric_curve()
    named = zip((b"rXYZ", b"gXYZ", b"bXYZ"), columns.tolist(), strict=True)
    tags = [
        (b"desc", b"mluc" + struct.pack(">IIIHHII", 0, 1, 12, 0x656E, 0x5553, 4, 28) + b"\0P\0003"),
        (b"wtpt", xyz_tag((0.9642, 1.0, 0.8249))),
        *((name, xyz_tag(tuple(column))) for name, column in named),
        *((name, curve) for name in (b"rTRC", b"gTRC", b"bTRC")),
    ]
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for name, data in tags:
        data += b"\0" * (-len(data) % 4)
        table += name + struct.pack(">II", start + len(body), len(data))
        body += data
    rest = struct.pack(">I", len(tags)) + table + body
    head = struct.pack(
        ">I4sI4s4s4s", 128 + len(rest), b"none", 0x04400000, b"mntr", b"RGB ", b"XYZ "
    )
    head += b"\0" * 12 + b"acsp" + b"\0" * 28
    head += xyz_tag((0.9642, 1.0, 0.8249))[8:]
    return head + b"\0" * (128 - len(head)) + rest


def xyz_tag(xyz: tuple[float, ...]) -> bytes:
    return b"XYZ \0\0\0\0" + b"".join(struct.pack(">i", round(x * 65536)) for x in xyz)


def parametric_curve() -> bytes:
    """The sRGB curve as an ICC parametric curve of type 3."""
    g, a, b, c, d = 2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045
    fields = b"".join(struct.pack(">i", round(x * 65536)) for x in (g, a, b, c, d))
    return b"para\0\0\0\0" + struct.pack(">HH", 3, 0) + fields
