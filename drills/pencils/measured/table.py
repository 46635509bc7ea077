"""A CSV table of spectra at wavelengths other than a pencils file's own 31."""

from __future__ import annotations

from collections.abc import Sequence

from drills.pencils.file_cell import REFLECTANCE_COLUMNS
from drills.pencils.measured.cgats import WAVELENGTH, number_in
from drills.pencils.measured.sample import (
    Measured,
    MeasuredError,
    Sample,
    of_one,
    resampled,
    step_of,
)

_LEAST = 6


def wavelengths_in(header: Sequence[str]) -> dict[int, int]:
    """The columns of a header that are wavelengths (nm → place); none where it is a pencils
    file's own."""
    names = [name.strip() for name in header]
    own = {name.lower() for name in names} & set(REFLECTANCE_COLUMNS)
    found = {
        int(match[1]): place
        for place, name in enumerate(names)
        if (match := WAVELENGTH.fullmatch(name))
    }
    if len(found) < _LEAST or len(found) == len(own):
        return {}
    return found


def read_table(
    header: Sequence[str], rows: Sequence[tuple[int, list[str]]], waves: dict[int, int]
) -> Measured:
    """One sample a row. Raises MeasuredError."""
    places = {name.strip().lower(): place for place, name in enumerate(header)}
    name = next((places[key] for key in ("name", "sample", "sample_name") if key in places), None)
    if name is None:
        raise MeasuredError("no column is called name", "Name the pencils in a column: name.")
    at = [waves[nm] for nm in sorted(waves)]
    nms = sorted(waves)
    values = []
    for number, cells in rows:
        if len(cells) != len(header):
            problem = f"row {number} has {len(cells)} cells and the header {len(header)}"
            raise MeasuredError(problem, "Fill the missing cells.")
        values.append([number_in(cells[place], number) for place in at])
    scale, note = of_one(values)
    step = step_of(nms)
    samples = [
        Sample(
            cells[name],
            cells[places["code"]] if "code" in places else "",
            number,
            reflectance=resampled(nms[0], step, [value / scale for value in row]),
        )
        for (number, cells), row in zip(rows, values, strict=True)
    ]
    return Measured(tuple(samples), (note,) if note else ())
