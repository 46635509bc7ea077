"""Measured samples as the rows of a pencils file, so that one reader checks them all."""

from __future__ import annotations

from drills.basics.errors import plain
from drills.pencils.file_cell import (
    ON_BLACK_COLUMNS,
    REFLECTANCE_COLUMNS,
    lab_text,
    spectrum_cells,
)
from drills.pencils.measured.sample import Measured, MeasuredError, Sample

COLUMNS = ("name", "code", "lab", "on_black", *REFLECTANCE_COLUMNS, *ON_BLACK_COLUMNS)


def rows_of(measured: Measured) -> list[tuple[int, list[str]]]:
    """A row a pencil, with the number of its place; a sample "on black" joins the one of its name.

    Raises MeasuredError for one on black that has no other.
    """
    black = {one.bare_name.casefold(): one for one in measured.samples if one.on_black}
    rows = []
    for one in measured.samples:
        if not one.on_black:
            rows.append((one.place, _row(one, black.pop(one.name.strip().casefold(), None))))
    if black:
        left = next(iter(black.values()))
        raise MeasuredError(
            f"“{plain(left.name, 60)}” has no swatch on white",
            f"Measure “{plain(left.bare_name, 60)}” too.",
        )
    return rows


def _row(one: Sample, black: Sample | None) -> list[str]:
    empty = [""] * len(REFLECTANCE_COLUMNS)
    on_black = black.reflectance if black is not None else None
    return [
        one.name.strip(),
        one.code.strip(),
        lab_text(one.lab) if one.lab else "",
        lab_text(black.lab) if black is not None and black.lab else "",
        *(spectrum_cells(one.reflectance) if one.reflectance else empty),
        *(spectrum_cells(on_black) if on_black else empty),
    ]
