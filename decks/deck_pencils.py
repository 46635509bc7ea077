"""A set of pencils inside a deck: the columns of a pencils file, as tables."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from decks.deck import SPECTRUM_KEYS, TEXT_KEYS
from decks.toml_text.lines import Path
from drills.basics.errors import plain
from drills.pencils.file import parse_pencils, set_of, to_csv
from drills.pencils.file_cell import ON_BLACK_COLUMNS, REFLECTANCE_COLUMNS
from drills.pencils.file_row import Header
from drills.pencils.pencil import PencilsError, PencilSet

SPECTRA = dict(zip(SPECTRUM_KEYS, (REFLECTANCE_COLUMNS, ON_BLACK_COLUMNS), strict=True))
_COLUMNS = (*TEXT_KEYS, *REFLECTANCE_COLUMNS, *ON_BLACK_COLUMNS)
_HEADER = Header({name: place for place, name in enumerate(_COLUMNS)}, len(_COLUMNS), ())


def pencils_of(tables: Sequence[Mapping[str, Any]], fault: Callable[[Path, str, str], None]) -> str:
    """The canonical CSV of a deck's pencils; a fault is told, and then it is of no use."""
    from drills.layering.palette import prepare

    try:
        numbered = enumerate(map(_cells, tables), start=1)
        rows = ((row, cells) for row, cells in numbered if any(map(str.strip, cells)))
        pencil_set = set_of(_HEADER, rows, "pencils", counted="pencil")
        # Working the films out finds colours that nothing can reflect.
        prepare(pencil_set)
        return to_csv(pencil_set)
    except PencilsError as error:
        key = next((key for key, names in SPECTRA.items() if error.column in names), error.column)
        pencil: Path = (error.row - 1,) if error.row else ()
        fault(("pencils", *pencil, *filter(None, [key])), error.problem, error.remedy)
        return ""


def set_inside(csv_text: str, title: str) -> PencilSet:
    """The set that a deck's canonical CSV stands for. Raises InputError."""
    return replace(parse_pencils(csv_text.encode(), "the deck's pencils"), name=plain(title, 60))


def tables_of(csv_text: str) -> list[dict[str, object]]:
    """The tables that stand for a set's canonical CSV in a deck's file."""
    tables = []
    for row in csv.DictReader(io.StringIO(csv_text, newline="")):
        table: dict[str, object] = {key: row[key] for key in TEXT_KEYS if row[key]}
        for key, columns in SPECTRA.items():
            if row.get(columns[0]):
                table[key] = [float(row[column]) for column in columns]
        tables.append(table)
    return tables


def _cells(table: Mapping[str, Any]) -> list[str]:
    row = {key: table.get(key, "") for key in TEXT_KEYS}
    for key, columns in SPECTRA.items():
        row |= zip(columns, map(repr, table.get(key, ())), strict=False)
    return [row.get(column, "") for column in _COLUMNS]
