"""A phone's photograph of a filled sheet, with known truth.

Measured reflectances × illuminant → a camera's measured sensitivities (colour-science) → white
balance with an error, a colour matrix, a tone curve → the sheet bowed and seen at a slant →
falloff, a shadow, blur, noise, JPEG. What phones do besides (local tones, HDR) isn't here: it
isn't known.
"""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from drills.colour.data.tables import FloatArray
from drills.colour.spaces import reflectance_to_lab
from drills.layering.paper import drawing_paper
from drills.sheets.codes import MODULES, modules
from drills.sheets.layout import CODE, Page

NM = np.arange(400, 701, 10)
DETAIL = 8
"""Pixels a millimetre of the sheet as laid out before it is photographed."""
PRINTED_BLACK = 0.045
CHART = (60.0, 8.0, 90.0, 26.0)
"""Left, top, width and height in mm of a chart laid on the head of a sheet."""


@cache
def measured() -> FloatArray:
    """Reflectances (n, 31) of 48 patches: two measured charts of colour-science."""
    import colour

    rows = []
    for chart in ("BabelColor Average", "ColorChecker N Ohta"):
        for one in colour.SDS_COLOURCHECKERS[chart].values():
            rows.append(np.interp(NM, one.wavelengths, one.values))
    return np.array(rows)


@cache
def cameras() -> dict[str, FloatArray]:
    """Sensitivities (31, 3) by camera."""
    import colour

    out = {}
    for name, one in colour.MSDS_CAMERA_SENSITIVITIES.items():
        values = np.stack([np.interp(NM, one.wavelengths, v) for v in one.values.T], axis=1)
        out[name] = values
    return out


@cache
def lights() -> dict[str, FloatArray]:
    """Illuminants (31,): daylight, and white LEDs of CIE 015:2018."""
    import colour

    out = {}
    for name in ("D50", "D55", "D65", "D75", "LED-B3", "LED-B4", "LED-B5", "LED-V2"):
        one = colour.SDS_ILLUMINANTS[name]
        out[name] = np.interp(NM, one.wavelengths, one.values)
    return out


@dataclass(frozen=True)
class Take:
    """How one photo is taken. Lengths in mm, angles in degrees; ``seed`` draws noise and grain."""

    camera: str
    light: str
    megapixels: float = 8.0
    tilt: float = 0.0
    turn: float = 0.0
    """About the optical axis."""
    toward: float = 0.0
    """The direction in which it is tilted."""
    bow: float = 0.0
    balance: tuple[float, float] = (1.0, 1.0)
    """Gains that red and blue are off by."""
    tone: float = 0.0
    """How much of an S-curve's contrast is added, 0 to 1."""
    falloff: float = 0.15
    shadow: float = 1.0
    """Light left in a shadow over the lower right; 1 for none."""
    blur: float = 0.6
    noise: float = 0.008
    quality: int = 90
    exposure: float = 0.75
    chart: bool = False
    """Whether a chart lies on the sheet's head."""
    seed: int = 0


def linear_of(take: Take, reflectances: FloatArray) -> FloatArray:
    """Linear sRGB (n, 3) that a camera makes of reflectances (n, 31), a full white being 1.

    Its matrix is fitted by least squares on the first chart, as a maker's is; a right white
    balance then gives white as white.
    """
    from drills.colour.spaces import lab_to_xyz, xyz_to_linear

    sensors, light = cameras()[take.camera], lights()[take.light]
    white = light @ sensors
    raw = (reflectances * light) @ sensors / white
    train = measured()[:24]
    seen = (train * light) @ sensors / white
    wanted = xyz_to_linear(lab_to_xyz(reflectance_to_lab(train))) / xyz_to_linear(
        lab_to_xyz(np.array([100.0, 0.0, 0.0]))
    )
    matrix = np.linalg.lstsq(seen, wanted, rcond=None)[0]
    matrix = matrix / matrix.sum(axis=0)  # white stays white
    red, blue = take.balance
    out: FloatArray = (raw * [red, 1.0, blue]) @ matrix
    return out


def laid_out(
    page: Page,
    filled: Mapping[tuple[int, str], FloatArray],
    rng: np.random.Generator,
    chart: bool = False,
) -> tuple[NDArray[np.int64], FloatArray]:
    """The flat sheet as places (h, w) in a table of reflectances (n, 31).

    ``filled`` has the reflectance of boxes by slot and part; each shows the grain of pencil on
    tooth: a tenth of its tone, spot by spot of some 0.4 mm.
    """
    paper = drawing_paper().reflectance
    table = [paper, np.full(31, PRINTED_BLACK)]
    high, wide = round(page.size.height * DETAIL), round(page.size.width * DETAIL)
    sheet = np.zeros((high, wide), dtype=np.int64)

    def put(x: float, y: float, w: float, h: float, what: NDArray[np.int64] | int) -> None:
        sheet[
            round(y * DETAIL) : round((y + h) * DETAIL), round(x * DETAIL) : round((x + w) * DETAIL)
        ] = what

    for corner in range(4):
        at = page.corner(corner)
        dark = modules(page.code(corner))
        side = round(CODE * DETAIL)
        rows = np.arange(side) * MODULES // side
        put(at.x, at.y, CODE, CODE, dark[np.ix_(rows, rows)].astype(np.int64))
    for box in page.boxes(("white",) * page.slots):
        if box.part == "bare black":
            put(box.outer.x, box.outer.y, box.outer.width, box.outer.height, 1)
    for box in page.boxes(("white",) * page.slots):
        colour = filled.get((box.slot, box.part))
        if colour is None:
            continue
        first = len(table)
        for tone in (0.9, 1.0, 1.1):
            table.append(np.clip(colour * tone, 0.0, 1.0))
        inset = 0.7
        w, h = box.rect.width - 2 * inset, box.rect.height - 2 * inset
        grain = rng.integers(0, 3, (round(h * DETAIL) // 3 + 1, round(w * DETAIL) // 3 + 1))
        grain = np.kron(grain, np.ones((3, 3), dtype=np.int64))
        top, left = round((box.rect.y + inset) * DETAIL), round((box.rect.x + inset) * DETAIL)
        foot = round((box.rect.y + inset + h) * DETAIL)
        right = round((box.rect.x + inset + w) * DETAIL)
        sheet[top:foot, left:right] = first + grain[: foot - top, : right - left]
    if chart:
        first = len(table)
        table.extend(measured()[:24])
        left, top, wide_mm, high_mm = CHART
        for i in range(24):
            row, column = divmod(i, 6)
            put(
                left + column * wide_mm / 6, top + row * high_mm / 4, wide_mm / 6, high_mm / 4,
                first + i,
            )  # fmt: skip
    return sheet, np.array(table)


def view(page: Page, take: Take) -> tuple[tuple[int, int], FloatArray]:
    """The photo's size (wide, high), and its projection (3, 4) of mm in space to pixels."""
    high = int(np.sqrt(take.megapixels * 1e6 * 4 / 3))
    wide = int(take.megapixels * 1e6 / high)
    focal = 1.05 * high  # about a phone's main lens
    t, d, r = np.radians([take.tilt, take.toward, take.turn])
    axis = np.array([-np.sin(d), np.cos(d), 0.0])
    K = np.array([[0, -axis[2], axis[1]], [axis[2], 0, -axis[0]], [-axis[1], axis[0], 0]])
    R = np.eye(3) + np.sin(t) * K + (1 - np.cos(t)) * K @ K
    turn = np.array([[np.cos(r), -np.sin(r), 0], [np.sin(r), np.cos(r), 0], [0, 0, 1]])
    R = turn @ R
    w, h = page.size.width, page.size.height
    corners = np.array([(0, 0, 0), (w, 0, 0), (w, h, 0), (0, h, 0)], dtype=float)
    middle = np.array([w / 2, h / 2, 0.0])
    # As near as the whole sheet lets: bisected.
    near, far = 100.0, 3000.0
    for _ in range(40):
        distance = (near + far) / 2
        seen = (corners - middle) @ R.T + [0, 0, distance]
        inside = (seen[:, 2] > 20).all()
        pixels = focal * seen[:, :2] / seen[:, 2:] / [wide, high]
        if inside and (np.abs(pixels) < 0.485).all():
            far = distance
        else:
            near = distance
    shift = -R @ middle + [0, 0, far]
    camera = np.array([[focal, 0, wide / 2], [0, focal, high / 2], [0, 0, 1.0]])
    return (wide, high), camera @ np.column_stack([R, shift])


def projected(page: Page, take: Take, points: FloatArray) -> FloatArray:
    """Where points (n, 2) in mm of the sheet truly lie in the photo, bow and all."""
    _, P = view(page, take)
    z = -take.bow * np.sin(np.pi * points[..., 0] / page.size.width)
    space = np.concatenate([points, z[..., None], np.ones_like(z)[..., None]], axis=-1)
    seen = space @ P.T
    out: FloatArray = seen[..., :2] / seen[..., 2:]
    return out


def photograph(
    page: Page, filled: Mapping[tuple[int, str], FloatArray], take: Take
) -> NDArray[np.uint8]:
    """The photo (h, w, 3) in sRGB."""
    rng = np.random.default_rng(take.seed)
    sheet, table = laid_out(page, filled, rng, take.chart)
    colours = np.vstack([linear_of(take, table), np.full(3, 0.12)])
    (wide, high), P = view(page, take)
    off = len(table)
    x, y = np.meshgrid(np.arange(wide) + 0.5, np.arange(high) + 0.5)
    # Back from the photo to the sheet: by its plane, then a bow's height by a few turns.
    at = np.stack([x, y, np.ones_like(x)], axis=-1)
    z = np.zeros_like(x)
    mm = np.zeros((*x.shape, 2))
    for _ in range(1 if take.bow == 0 else 8):
        # P [X, Y, z, 1] = s [x, y, 1], solved for X and Y.
        a = P[0, :2] - at[..., :1] * P[2, :2]
        b = P[1, :2] - at[..., 1:2] * P[2, :2]
        c = -(P[0, 2] * z + P[0, 3] - at[..., 0] * (P[2, 2] * z + P[2, 3]))
        d = -(P[1, 2] * z + P[1, 3] - at[..., 1] * (P[2, 2] * z + P[2, 3]))
        det = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
        mm[..., 0] = (c * b[..., 1] - a[..., 1] * d) / det
        mm[..., 1] = (a[..., 0] * d - c * b[..., 0]) / det
        z = -take.bow * np.sin(np.pi * np.clip(mm[..., 0] / page.size.width, 0, 1))
    column = np.floor(mm[..., 0] * DETAIL).astype(int)
    row = np.floor(mm[..., 1] * DETAIL).astype(int)
    on = (column >= 0) & (column < sheet.shape[1]) & (row >= 0) & (row < sheet.shape[0])
    place = np.where(
        on, sheet[np.clip(row, 0, sheet.shape[0] - 1), np.clip(column, 0, sheet.shape[1] - 1)], off
    )
    light = 1.0 - take.falloff * (x / wide * 0.7 + y / high * 0.3)
    if take.shadow < 1.0:
        edge = mm[..., 0] / page.size.width + mm[..., 1] / page.size.height - 1.15
        light = light * np.where(edge > 0, take.shadow, 1.0)
    linear = colours[place] * (light * take.exposure)[..., None]
    linear = blurred(np.clip(linear, 0.0, 4.0), take.blur)
    linear = linear + rng.normal(0.0, 1.0, linear.shape) * take.noise * np.sqrt(
        np.clip(linear, 0.002, None)
    )
    tone = np.clip(linear, 0.0, 1.0)
    tone = np.where(tone <= 0.0031308, 12.92 * tone, 1.055 * tone ** (1 / 2.4) - 0.055)
    curve = tone * tone * (3 - 2 * tone)
    tone = (1 - 0.35 * take.tone) * tone + 0.35 * take.tone * curve
    picture = Image.fromarray(np.rint(np.clip(tone, 0, 1) * 255).astype(np.uint8))
    kept = io.BytesIO()
    picture.save(kept, "JPEG", quality=take.quality)
    return np.asarray(Image.open(io.BytesIO(kept.getvalue())))


def blurred(linear: FloatArray, sigma: float) -> FloatArray:
    """A Gaussian of ``sigma`` pixels, each axis by itself."""
    reach = max(1, int(3 * sigma))
    kernel = np.exp(-0.5 * (np.arange(-reach, reach + 1) / sigma) ** 2)
    kernel /= kernel.sum()
    for axis in (0, 1):
        linear = sum(
            weight * np.roll(linear, shift, axis=axis)
            for weight, shift in zip(kernel, range(-reach, reach + 1), strict=True)
        )
    return linear


def truth(reflectance: FloatArray) -> FloatArray:
    """Lab under D50 of reflectances."""
    return reflectance_to_lab(reflectance)


def mixtures(rng: np.random.Generator, count: int) -> FloatArray:
    """Reflectances (count, 31) between measured ones, as one film over another is: geometric."""
    of = measured()
    first, second = rng.integers(len(of), size=count), rng.integers(len(of), size=count)
    share = rng.uniform(0.0, 1.0, (count, 1))
    mixed: FloatArray = np.exp(share * np.log(of[first]) + (1 - share) * np.log(of[second]))
    return mixed


def filled_page(page: Page, rng: np.random.Generator) -> dict[tuple[int, str], FloatArray]:
    """Every box of a page of pencils filled: firm, lighter, and darker over black."""
    firm = mixtures(rng, page.slots)
    paper = drawing_paper().reflectance
    out: dict[tuple[int, str], FloatArray] = {}
    for slot, one in enumerate(firm):
        out[slot, "firm"] = one
        out[slot, "light"] = np.sqrt(one * paper)
        out[slot, "over black"] = 0.6 * one + 0.4 * PRINTED_BLACK
    return out


def jpeg(picture: NDArray[np.uint8]) -> bytes:
    """A photo as a file's bytes."""
    kept = io.BytesIO()
    Image.fromarray(picture).save(kept, "JPEG", quality=92)
    return kept.getvalue()
