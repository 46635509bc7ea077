"""The pencils file: CSV after RFC 4180, in UTF-8, with a header row; or what an instrument wrote
(``drills.pencils.measured``).

Columns: ``name`` and one of ``hex``, ``lab`` or r400 … r700 (reflectance 0–1 at
31 wavelengths); optional ``code``, ``opacity``, ``on_black`` (hex or Lab) or
k400 … k700, ``lightfastness`` (ASTM D6901 class), ``notes``, ``painted`` (of how many swatches
of one's own the colour is the mean), ``used_up`` (yes or empty). Other columns are passed over.
Rows are counted as a spreadsheet counts them, the header being 1.
"""

from __future__ import annotations

import csv
import hashlib
import io
import os
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import TYPE_CHECKING

from drills.basics.errors import plain
from drills.basics.ordinary_file import read_ordinary
from drills.pencils.file_cell import (
    ON_BLACK_COLUMNS,
    PAINTED_COLUMNS,
    REFLECTANCE_COLUMNS,
    lab_text,
    spectrum_cells,
)
from drills.pencils.file_row import Header, read_pencil
from drills.pencils.pencil import Pencil, PencilsError, PencilSet, name_key

if TYPE_CHECKING:
    from drills.pencils.measured.sample import Measured

MAX_BYTES = 2_000_000
MAX_PENCILS = 500

_PLAIN_COLUMNS = ("name", "code", "hex", "lab", "opacity", "on_black", "lightfastness", "notes")


def load_pencils(path: str | os.PathLike[str]) -> PencilSet:
    """Read a pencils file. Raises InputError; a file over 2 MB is refused unread."""
    limit = f"A pencils file may hold {MAX_BYTES // 1_000_000} MB and {MAX_PENCILS} pencils."
    data = read_ordinary(path, MAX_BYTES, "a CSV file", limit)
    return parse_pencils(data, os.fspath(path))


def parse_pencils(data: bytes, source: str) -> PencilSet:
    """Read pencils from the bytes of a file; ``source`` names it in errors.

    Raises PencilsError naming source, row, column and remedy, in one line.
    """
    where = plain(source, 200)
    if len(data) > MAX_BYTES:
        raise PencilsError(where, "the file is too big", f"The limit is {MAX_BYTES:,} bytes.")
    text = _text(data, where)
    measured = _measured(text, where)
    if measured is not None:
        return _of_measured(measured, source)
    rows = _records(text, where)
    return set_of(Header.read(next(rows, (1, [])), where), rows, source)


def _measured(text: str, where: str) -> Measured | None:
    """What an instrument measured, where the text is that. Raises PencilsError."""
    from drills.pencils.measured.sample import MeasuredError, is_cgats, is_xml
    from drills.pencils.measured.table import read_table, wavelengths_in

    try:
        if is_xml(text):
            from drills.pencils.measured.cxf import read_cxf

            return read_cxf(text)
        if is_cgats(text):
            from drills.pencils.measured.cgats import read_cgats

            return read_cgats(text)
        rows = _records(text, where)
        _, header = next(rows, (1, []))
        waves = wavelengths_in(header)
        return read_table(header, list(rows), waves) if waves else None
    except MeasuredError as error:
        raise PencilsError(where, error.problem, error.remedy) from None


def _of_measured(measured: Measured, source: str) -> PencilSet:
    from drills.pencils.measured.as_rows import COLUMNS, rows_of
    from drills.pencils.measured.sample import MeasuredError

    where = plain(source, 200)
    try:
        rows = rows_of(measured)
    except MeasuredError as error:
        raise PencilsError(where, error.problem, error.remedy) from None
    made = set_of(Header.read((1, list(COLUMNS)), where), rows, source, "sample")
    return replace(made, name=made.name.rsplit(".", 1)[0] or made.name, notes=measured.notes)


def set_of(
    header: Header, rows: Iterable[tuple[int, list[str]]], source: str, counted: str = "row"
) -> PencilSet:
    """The set that numbered rows of cells make; ``counted`` is what is numbered.

    Raises PencilsError.
    """
    where = plain(source, 200)
    pencils: list[Pencil] = []
    seen: dict[str, int] = {}
    for row, cells in rows:
        if len(pencils) == MAX_PENCILS:
            problem = f"there are more than {MAX_PENCILS} pencils"
            raise PencilsError(where, problem, "Keep only those you draw with.", row)
        pencil = read_pencil(header, row, cells, where)
        key = name_key(pencil.name)
        if key in seen:
            problem = f"“{pencil.name}” is already the name of {counted} {seen[key]}"
            raise PencilsError(where, problem, "Give each pencil its own name.", row, "name")
        seen[key] = row
        pencils.append(pencil)
    if all(pencil.is_blender for pencil in pencils):
        problem = "there is no coloured pencil in it"
        raise PencilsError(where, problem, "Add one row for each pencil.")
    if not any(pencil.lays_colour for pencil in pencils):
        problem = "every coloured pencil in it is used up"
        raise PencilsError(where, problem, "Leave one that can be laid.")
    base = source.replace("\\", "/").rsplit("/", 1)[-1]
    name = plain(base[:-4] if base.lower().endswith(".csv") else base, 60)
    return replace(make_set(name, tuple(pencils)), source=where, ignored=header.ignored)


def make_set(name: str, pencils: tuple[Pencil, ...]) -> PencilSet:
    """A set with its fingerprint."""
    return PencilSet(name, pencils, hashlib.sha256(_canonical(pencils).encode()).hexdigest())


def to_csv(pencil_set: PencilSet) -> str:
    """The set as canonical CSV: reading it again gives an equal set."""
    return _canonical(pencil_set.pencils)


def _canonical(pencils: tuple[Pencil, ...]) -> str:
    spectra = any(pencil.reflectance is not None for pencil in pencils)
    black_spectra = any(_black_spectrum(pencil) for pencil in pencils)
    # Only where there is one, so that a set without is told from no other by this column.
    used_up = any(pencil.used_up for pencil in pencils)
    painted = any(pencil.painted for pencil in pencils)
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(
        _PLAIN_COLUMNS
        + (("used_up",) if used_up else ())
        + (PAINTED_COLUMNS if painted else ())
        + (REFLECTANCE_COLUMNS if spectra else ())
        + (ON_BLACK_COLUMNS if black_spectra else ())
    )
    for pencil in pencils:
        black = pencil.on_black
        black_cells = _black_spectrum(pencil)
        row = [
            pencil.name,
            pencil.code,
            pencil.hex or "",
            lab_text(pencil.lab) if pencil.lab else "",
            pencil.opacity,
            black if isinstance(black, str) else "",
            pencil.lightfastness,
            pencil.notes,
        ]
        if black is not None and not isinstance(black, str) and not black_cells:
            row[5] = lab_text((black[0], black[1], black[2]))
        if used_up:
            row.append("yes" if pencil.used_up else "")
        if painted:
            row.append(str(pencil.painted) if pencil.painted else "")
        if spectra:
            row += spectrum_cells(pencil.reflectance) if pencil.reflectance else [""] * 31
        if black_spectra:
            row += black_cells or [""] * 31
        writer.writerow(row)
    return out.getvalue()


def _black_spectrum(pencil: Pencil) -> list[str]:
    black = pencil.on_black
    if black is None or isinstance(black, str) or len(black) == 3:
        return []
    return spectrum_cells(black)


def _text(data: bytes, where: str) -> str:
    remedy = "Save it again as CSV in UTF-8."
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise PencilsError(where, "the file is in UTF-16", remedy)
    at = data.find(b"\0")
    if at >= 0:
        row = data.count(b"\n", 0, at) + 1
        raise PencilsError(where, f"byte {at + 1} is a NUL", remedy, row)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        # "utf-8-sig" counts from after the byte-order mark.
        start = error.start + (3 if data.startswith(b"\xef\xbb\xbf") else 0)
        row = data.count(b"\n", 0, start) + 1
        problem = f"byte {start + 1} (0x{data[start]:02x}) is not UTF-8"
        raise PencilsError(where, problem, remedy, row) from None


def _records(text: str, where: str) -> Iterator[tuple[int, list[str]]]:
    """Numbered records; those with nothing in any cell are passed over."""
    reader = csv.reader(io.StringIO(text, newline=""), strict=True)
    row = 0
    while True:
        row += 1
        try:
            cells = next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            if "unexpected end" in str(error):
                problem, remedy = "a quotation mark is opened and never closed", "Close it."
            elif "field larger" in str(error):
                problem, remedy = "a cell is too long", "Look for a missing quotation mark."
            else:
                problem = "there is text after a closing quotation mark"
                remedy = "Write a quotation mark inside a cell twice."
            raise PencilsError(where, problem, remedy, row) from None
        if any(cell.strip() for cell in cells):
            yield row, cells
