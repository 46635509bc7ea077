"""Make the shipped tables from colour-science: ``python -m drills.colour.data.make_tables``.

colour-science is needed only here and in the tests.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from drills.colour.data import tables


def make_weights() -> tables.FloatArray:
    """E2022 weights at 10 nm folded to 400–700 nm, shape (illuminants, 31, 3)."""
    from colour import MSDS_CMFS, SDS_ILLUMINANTS, SpectralShape
    from colour.colorimetry.spectrum import reshape_msds, reshape_sd
    from colour.colorimetry.tristimulus_values import (
        SPECTRAL_SHAPE_ASTME308,
        adjust_tristimulus_weighting_factors_ASTME308,
        tristimulus_weighting_factors_ASTME2022,
    )

    observer = reshape_msds(
        MSDS_CMFS["CIE 1931 2 Degree Standard Observer"], SPECTRAL_SHAPE_ASTME308, "Trim"
    )
    whole, ours = SpectralShape(360, 780, 10), SpectralShape(400, 700, 10)
    made = []
    for name in tables.ILLUMINANTS:
        light = reshape_sd(SDS_ILLUMINANTS[name], SPECTRAL_SHAPE_ASTME308)
        factors = tristimulus_weighting_factors_ASTME2022(observer, light, whole)
        made.append(adjust_tristimulus_weighting_factors_ASTME308(factors, whole, ours))
    # The factors are given to be summed to Y = 100; take off what rounding leaves.
    table: tables.FloatArray = np.array(made, dtype=np.float64)
    table *= (100.0 / table[..., 1].sum(axis=1))[:, None, None]
    return table


def make_munsell() -> NDArray[np.int16]:
    """Renotation x, y × 10⁴ on the full grid; ``tables.NO_CHIP`` where there is none."""
    from colour.notation import MUNSELL_COLOURS

    shape = (len(tables.MUNSELL_HUES), tables.MUNSELL_VALUES.size, tables.MUNSELL_CHROMAS.size, 2)
    grid = np.full(shape, tables.NO_CHIP, dtype=np.int16)
    values = [round(value, 1) for value in tables.MUNSELL_VALUES.tolist()]
    for (hue, value, chroma), xyY in MUNSELL_COLOURS["Munsell Colours All"]:
        place = (
            tables.MUNSELL_HUES.index(hue),
            values.index(round(value, 1)),
            round(chroma / 2) - 1,
        )
        grid[place] = np.round(np.asarray(xyY[:2]) * 1e4).astype(np.int16)
    return grid


def main() -> None:
    """Write both tables into ``drills/colour/data``."""
    tables.DATA.mkdir(exist_ok=True)
    np.save(tables.DATA / "weights.npy", make_weights(), allow_pickle=False)
    np.save(tables.DATA / "munsell.npy", make_munsell(), allow_pickle=False)


if __name__ == "__main__":
    main()
