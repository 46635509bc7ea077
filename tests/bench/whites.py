"""Swatches in rendered photos with white paper pointed at: by camera, and by how its matrix came.

A camera's own colours are its sensitivities seen through a matrix. "smooth" fits that on made-up
smooth surfaces, many of them far stronger than any pencil, by plain least squares; "chart" on a
measured chart of 24 patches with white kept white, as makers do by ISO 17321-1 (from memory).
Which of the two a phone is nearer to isn't known here. Cameras are those whose measured
sensitivities colour-science has, the ACES reference camera and made-up ones; none had a part in
choosing anything in ``drills.pictures.white``.
"""

from __future__ import annotations

import warnings
from functools import cache
from typing import Final, Literal

import numpy as np

from drills.colour.data.tables import FloatArray
from drills.colour.difference import delta_e00
from drills.colour.spaces import (
    lab_to_xyz,
    reflectance_to_lab,
    reflectance_to_xyz,
    xyz_to_lab,
    xyz_to_linear,
)
from drills.layering.palette import prepare
from drills.layering.paper import drawing_paper
from drills.pencils.sets import demo_set
from drills.pictures.light import light_of
from drills.pictures.opening import picture_of
from drills.pictures.spot import Spot, read_spot
from drills.pictures.white import paper_lab
from tests.photos.made import Levels, filed
from tests.sheets.camera import measured

Matrix = Literal["smooth", "chart"]
NM: Final = np.arange(400, 701, 10)
MADE_UP: Final = 6
OVEREXPOSED: Final = 0.965
"""A paper's level, 0 to 1, from which noise takes it to the scale's end."""
SMOOTH_CAMERA: Final = "Nikon 5100 (NPL)"
"""The one that the bars were first held to, with the matrix "smooth"."""
STACKED: Final = "Sigma SDMerill (NPL)"
"""Its three layers lie one over another, as no phone's do: its matrix makes much of any error."""


@cache
def cameras() -> dict[str, FloatArray]:
    """Sensitivities (31, 3) by camera."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
        from colour.characterisation import MSDS_ACES_RICD
    out = {}
    for name, one in {**colour.MSDS_CAMERA_SENSITIVITIES, "ACES reference": MSDS_ACES_RICD}.items():
        out[name] = np.stack([np.interp(NM, one.wavelengths, v) for v in one.values.T], axis=1)
    rng = np.random.default_rng(99)
    for number in range(MADE_UP):
        out[f"made up {number + 1}"] = _made_up(rng)
    return out


def _made_up(rng: np.random.Generator) -> FloatArray:
    """Three dyes that leak into one another, under a filter that ends in the deep red."""
    peak = [rng.uniform(590, 615), rng.uniform(525, 545), rng.uniform(448, 468)]
    wide = [rng.uniform(24, 38), rng.uniform(30, 44), rng.uniform(22, 34)]
    dyes = np.exp(-0.5 * ((NM[:, None] - peak) / wide) ** 2)
    leak = rng.uniform(0.0, 0.08, (3, 3))
    np.fill_diagonal(leak, 1.0)
    seen: FloatArray = dyes @ leak.T
    seen /= 1 + np.exp((NM[:, None] - rng.uniform(650, 690)) / rng.uniform(5, 12))
    seen[:, 0] += rng.uniform(0, 0.06) * np.exp(-0.5 * ((NM - rng.uniform(430, 460)) / 20) ** 2)
    return seen


@cache
def lamp_of(name: str) -> FloatArray:
    """An illuminant (31,)."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    one = colour.SDS_ILLUMINANTS[name]
    light: FloatArray = np.interp(NM, one.wavelengths, one.values)
    return light


def matrix_of(weights: FloatArray, how: Matrix, rng: np.random.Generator) -> FloatArray:
    """The camera's matrix (3, 3), from what it sees of paper as 1 to linear sRGB."""
    paper = drawing_paper().reflectance
    if how == "chart":
        train = measured()[:24]
        raw = train @ weights / weights.sum(axis=0)
        full = xyz_to_linear(lab_to_xyz(np.array([100.0, 0.0, 0.0])))
        wanted = xyz_to_linear(reflectance_to_xyz(train)) / full
        matrix = np.linalg.lstsq(raw, wanted, rcond=None)[0]
        kept: FloatArray = matrix / matrix.sum(axis=0)
        return kept
    waves = np.array([np.cos(k * np.pi * (NM - 400) / 300) for k in (1, 2, 3)])
    bends = rng.normal(0, 1, (200, 1)) + rng.normal(0, 1.5, (200, 3)) @ waves
    smooth = 1 / (1 + np.exp(-bends))
    raw = smooth @ weights / (paper @ weights)
    fitted: FloatArray = np.linalg.lstsq(
        raw, xyz_to_linear(reflectance_to_xyz(smooth)), rcond=None
    )[0]
    return fitted


def met(
    lamp: str, seed: int, camera: str = SMOOTH_CAMERA, how: Matrix = "smooth"
) -> tuple[FloatArray, list[Spot], FloatArray]:
    """ΔE00 of 35 pencils' swatches read from a rendered photo with white paper in it.

    With the spots, and the ΔE00 were the light taken off without a fault before the
    camera's matrix, which is the best that any adaptation could do.
    """
    rng = np.random.default_rng(seed)
    palette = prepare(demo_set())
    swatches = palette.reflectance[palette.colour_indices]
    paper = drawing_paper().reflectance
    weights = cameras()[camera] * lamp_of(lamp)[:, None]
    matrix = matrix_of(weights, how, rng)
    balance = rng.normal(1.0, 0.06, 3)
    exposure = rng.uniform(0.45, 0.7)

    def pixels(reflectance: FloatArray) -> FloatArray:
        linear = (reflectance @ weights / (paper @ weights) * balance) @ matrix * exposure
        curve: FloatArray = np.where(
            linear <= 0.0031308, 12.92 * linear, 1.055 * np.maximum(linear, 0) ** (1 / 2.4) - 0.055
        )
        return curve

    while pixels(paper).max() > OVEREXPOSED:
        exposure *= 0.9  # the coach refuses such a white: the photo is taken again
    side = 40
    levels = np.empty((7 * side, 6 * side, 3))
    levels[:] = pixels(paper)
    places = []
    for i, one in enumerate(swatches):
        y, x = divmod(i, 5)
        levels[y * side : (y + 1) * side, x * side : (x + 1) * side] = pixels(one)
        places.append((x * side + side / 2, y * side + side / 2))
    levels = levels + rng.normal(0, 0.015, levels.shape)
    eight: Levels = np.rint(np.clip(levels, 0, 1) * 255).astype(np.uint8)
    picture = picture_of(filed(eight, "JPEG", quality=88), "rendered")
    white = (5.5 * side, 3.5 * side)
    correction, _ = light_of(picture, [white], radius=12)
    spots = [read_spot(picture, x, y, 12, correction) for x, y in places]
    true = reflectance_to_lab(swatches)
    off = delta_e00(np.array([spot.lab for spot in spots]), true)
    return off, spots, delta_e00(_at_best(swatches, weights, matrix), true)


def _at_best(swatches: FloatArray, weights: FloatArray, matrix: FloatArray) -> FloatArray:
    """Lab (n, 3) with the camera's own channels balanced without a fault, and paper as it is."""
    paper = drawing_paper().reflectance
    to_linear = np.stack([xyz_to_linear(one) for one in np.eye(3)])
    seen = (swatches @ weights / (paper @ weights)) @ matrix @ np.linalg.inv(to_linear)
    white = np.ones(3) @ matrix @ np.linalg.inv(to_linear)
    from drills.colour.hue import CAT16

    gains = (lab_to_xyz(paper_lab()) @ CAT16.T) / (white @ CAT16.T)
    return xyz_to_lab(np.maximum((seen @ CAT16.T) * gains @ np.linalg.inv(CAT16).T, 1e-6))


def told(
    name: str, runs: list[tuple[FloatArray, list[Spot], FloatArray]], bars: tuple[float, float]
) -> bool:
    """Print what photos came to, beside bars for the middle and 95 of 100; whether it is more."""
    off = np.concatenate([run[0] for run in runs])
    best = np.concatenate([run[2] for run in runs])
    spots = [spot for run in runs for spot in run[1]]
    warned = np.array([bool({"clipped", "dark"} & set(spot.warnings)) for spot in spots])
    warm = np.array(["strong_warm" in spot.warnings for spot in spots]) & ~warned
    middle, far = np.percentile(off[~warned], [50, 95]).tolist()
    missed = middle > bars[0] or far > bars[1]
    least, least_far = np.percentile(best[~warned], [50, 95]).tolist()
    print(
        f"swatches in a rendered photo, white paper pointed at, {name}: ΔE00 {middle:.1f} in the"
        f" middle, {far:.1f} for 95 of 100 (allowed {bars[0]}, {bars[1]:g}"
        f"{'; MISSED' if missed else ''}); {warned.mean():.0%} warned of as clipped or dark and"
        f" left out, {np.percentile(off, 95):.1f} with them. Strong reds and oranges"
        f" ({warm.mean():.0%}): {_two(off[warm])}; all others: {_two(off[~warm & ~warned])}."
        f" Were the light taken off without a fault: {least:.1f}, {least_far:.1f}"
    )
    return missed


def _two(off: FloatArray) -> str:
    if not off.size:
        return "none"
    return f"{np.percentile(off, 50):.1f}, {np.percentile(off, 95):.1f}"
