"""CGATS.17 (ISO 28178:2009): a text of keywords, then one table of samples.

Keywords from memory of the standard: BEGIN_DATA_FORMAT … END_DATA_FORMAT name the fields,
BEGIN_DATA … END_DATA hold the samples, NUMBER_OF_SETS says how many; SPECTRAL_NM, _PCT and
_DEC before a wavelength, LAB_L, LAB_A, LAB_B, XYZ_X, XYZ_Y, XYZ_Z. Makers write them in many
ways, so a field is known by the number in it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from drills.basics.errors import plain
from drills.pencils.measured.colour import Viewing, lab_of_xyz
from drills.pencils.measured.sample import (
    Measured,
    MeasuredError,
    Sample,
    of_one,
    resampled,
    step_of,
)

_WORDS = re.compile(r'"([^"]*)"|#.*|([^\s#]+)')
"""What is quoted, a comment to the line's end, or a word."""
WAVELENGTH = re.compile(
    r"(?:SPECTRAL_?)?(?:NM_?|PCT_?|DEC_?|R_?|SPEC_?)*([3-9]\d\d)(?:\.0+)?[_ ]?(?:NM)?", re.I
)
_NAMES = ("SAMPLE_NAME", "NAME", "SAMPLE_ID", "SAMPLE_LOC")
_CUT = "The file may be cut: export it again."


def read_cgats(text: str) -> Measured:
    """The samples of the first table. Raises MeasuredError."""
    fields: list[str] = []
    rows: list[tuple[int, list[str]]] = []
    header: list[str] = []
    sets = None
    part = "header"
    more = 0
    for number, line in enumerate(text.splitlines(), start=1):
        words = list(_split(line))
        if not words:
            continue
        key = words[0].upper()
        if part == "after":
            more += key == "BEGIN_DATA"
            continue
        if key == "BEGIN_DATA_FORMAT":
            part, words = "fields", words[1:]
        elif key == "END_DATA_FORMAT":
            part = "header"
        elif key == "BEGIN_DATA":
            part = "data"
        elif key == "END_DATA":
            part = "after"
        elif part == "data":
            rows.append((number, words))
        elif part == "header":
            header.append(line)
            if key == "NUMBER_OF_SETS" and len(words) > 1 and words[1].isdecimal():
                sets = int(words[1])
        if part == "fields":
            fields += [word.upper() for word in words if word.upper() != "BEGIN_DATA_FORMAT"]
    if part != "after":
        raise MeasuredError("its table has no END_DATA", _CUT)
    rows = _one_a_row(rows, len(fields), sets)
    if sets is not None and sets != len(rows):
        raise MeasuredError(f"it says {sets} samples and holds {len(rows)}", _CUT)
    found = _samples(fields, rows, Viewing.of("\n".join(_about_light(header))))
    if not more:
        return found
    return replace(found, notes=(*found.notes, f"It holds {more + 1} tables: the first is read."))


def _one_a_row(
    rows: list[tuple[int, list[str]]], fields: int, sets: int | None
) -> list[tuple[int, list[str]]]:
    """The samples a row each, where a line ends within them and they come out even."""
    if fields == 0 or all(len(words) == fields for _, words in rows):
        return rows
    every = [(number, word) for number, words in rows for word in words]
    if any(len(words) > fields for _, words in rows) or len(every) != (sets or 0) * fields:
        return rows
    starts = range(0, len(every), fields)
    return [(every[at][0], [word for _, word in every[at : at + fields]]) for at in starts]


def _split(line: str) -> Iterator[str]:
    for found in _WORDS.finditer(line):
        quoted, bare = found.groups()
        if quoted is not None or bare is not None:
            yield bare if quoted is None else quoted


def _about_light(header: list[str]) -> list[str]:
    wanted = ("ILLUMIN", "OBSERVER", "WEIGHTING")
    return [line for line in header if any(word in line.upper() for word in wanted)]


def _samples(fields: list[str], rows: list[tuple[int, list[str]]], viewing: Viewing) -> Measured:
    at = {field: place for place, field in reversed(list(enumerate(fields)))}
    waves = {
        int(found[1]): place
        for place, field in enumerate(fields)
        if (found := WAVELENGTH.fullmatch(field))
    }
    kind = "spectra" if len(waves) >= 6 else "lab" if "LAB_L" in at else "xyz"
    if kind == "xyz" and "XYZ_X" not in at:
        raise MeasuredError("it has neither spectra nor Lab nor XYZ", "Export one of them.")
    for number, words in rows:
        if len(words) != len(fields):
            problem = f"line {number} has {len(words)} values for {len(fields)} fields"
            raise MeasuredError(problem, _CUT)
    name = next((field for field in _NAMES if field in at), "")
    if not name:
        raise MeasuredError("no field names the samples", "Export SAMPLE_NAME with it.")
    code = "SAMPLE_ID" if name in ("SAMPLE_NAME", "NAME") and "SAMPLE_ID" in at else ""
    wanted = {
        "spectra": [waves[nm] for nm in sorted(waves)],
        "lab": [at.get(f"LAB_{axis}", -1) for axis in "LAB"],
        "xyz": [at.get(f"XYZ_{axis}", -1) for axis in "XYZ"],
    }[kind]
    if -1 in wanted:
        raise MeasuredError("one of its three colour fields is missing", "Export all three.")
    values = [[number_in(words[place], line) for place in wanted] for line, words in rows]
    notes: tuple[str, ...] = ()
    scale = 1.0
    if kind == "spectra":
        scale, note = of_one(values)
        notes = (note,) if note else ()
    else:
        notes = viewing.notes()
    samples = []
    for (line, words), row in zip(rows, values, strict=True):
        sample = Sample(words[at[name]], words[at[code]] if code else "", line)
        samples.append(_with_colour(sample, kind, row, scale, sorted(waves), viewing))
    return Measured(tuple(samples), notes)


def _with_colour(
    bare: Sample, kind: str, row: list[float], scale: float, waves: list[int], viewing: Viewing
) -> Sample:
    if kind == "spectra":
        spectrum = resampled(waves[0], step_of(waves), [value / scale for value in row])
        return Sample(bare.name, bare.code, bare.place, reflectance=spectrum)
    three = (row[0], row[1], row[2])
    lab = lab_of_xyz(three, viewing.illuminant) if kind == "xyz" else three
    return Sample(bare.name, bare.code, bare.place, lab=viewing.to_d50(lab))


def number_in(text: str, line: int) -> float:
    """A number, with a point or a comma. Raises MeasuredError."""
    plain_text = text.strip()
    if plain_text.count(",") == 1 and "." not in plain_text:
        plain_text = plain_text.replace(",", ".")
    if re.fullmatch(r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d{1,3})?", plain_text, re.ASCII):
        value = float(plain_text)
        if abs(value) < 1e6:
            return value
    raise MeasuredError(f"“{plain(text, 20)}” in line {line} is no measurement", _CUT)
