"""A set of pencils inside a deck: the columns of a pencils file, as tables."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable

from decks import deck_limits as limits
from decks.fields import FaultError, as_list, as_share, as_table, as_text
from decks.toml_lines import Path
from decks.vocabulary import meant
from drills.basics.errors import InputError, plain
from drills.pencils.file import parse_pencils, to_csv
from drills.pencils.file_cell import ON_BLACK_COLUMNS, REFLECTANCE_COLUMNS
from drills.pencils.pencil import PencilSet

TEXT_KEYS = ("name", "code", "hex", "lab", "opacity", "on_black", "lightfastness", "notes")
SPECTRUM_KEYS = {"reflectance": REFLECTANCE_COLUMNS, "on_black_reflectance": ON_BLACK_COLUMNS}
_COLUMNS = (*TEXT_KEYS, *REFLECTANCE_COLUMNS, *ON_BLACK_COLUMNS)
_PLACE = re.compile(r"row (\d+)(?:, column (\w+))?$")

Fault = Callable[[Path, str, str], None]


def pencils_of(value: object, fault: Fault) -> str:
    """The canonical CSV of a deck's ``pencils``; faults are told, and then it is of no use."""
    from drills.layering.palette import prepare

    told = 0

    def tell(path: Path, error: FaultError) -> None:
        nonlocal told
        told += 1
        fault(path, error.problem, error.remedy)

    try:
        tables = as_list(value, limits.MAX_PENCILS, "pencils", least=1)
    except FaultError as error:
        tell(("pencils",), error)
        return ""
    rows: list[dict[str, str]] = []
    for place, table in enumerate(tables):
        try:
            rows.append(_row(as_table(table), ("pencils", place), fault))
        except FaultError as error:
            tell(("pencils", place), error)
    if told:
        return ""
    try:
        pencil_set = parse_pencils(_csv(rows).encode("utf-8", "replace"), "pencils")
        # Working the films out finds colours that nothing can reflect.
        prepare(pencil_set)
        return to_csv(pencil_set)
    except InputError as error:
        at = _PLACE.search(error.where)
        path: Path = ("pencils",)
        if at:
            path = ("pencils", max(0, int(at[1]) - 2))
            if at[2]:
                path = (*path, _key_of(at[2]))
        fault(
            path,
            re.sub(r"row (\d+)", lambda m: f"pencil {int(m[1]) - 1}", error.problem),
            error.remedy,
        )
        return ""


def set_inside(csv_text: str, title: str) -> PencilSet:
    """The set that a deck's canonical CSV stands for. Raises InputError."""
    from dataclasses import replace

    return replace(parse_pencils(csv_text.encode(), "the deck's pencils"), name=plain(title, 60))


def tables_of(pencil_set: PencilSet) -> list[dict[str, object]]:
    """The tables that stand for a set in a deck's file."""
    tables = []
    for row in csv.DictReader(io.StringIO(to_csv(pencil_set), newline="")):
        table: dict[str, object] = {key: row[key] for key in TEXT_KEYS if row[key]}
        for key, columns in SPECTRUM_KEYS.items():
            if row.get(columns[0]):
                table[key] = [float(row[column]) for column in columns]
        tables.append(table)
    return tables


def _row(table: dict[str, object], path: Path, fault: Fault) -> dict[str, str]:
    row: dict[str, str] = {}
    for key, value in table.items():
        try:
            if key in TEXT_KEYS:
                row[key] = as_text(value, 300, empty=True)
            elif key in SPECTRUM_KEYS:
                numbers = as_list(value, 31, "numbers")
                if len(numbers) != 31:
                    remedy = "Give 31 numbers, for 400 to 700 nm in steps of 10."
                    raise FaultError(f"there are {len(numbers)} numbers", remedy)
                shares = [as_share(number, (0.0, 1.0)) for number in numbers]
                row.update(zip(SPECTRUM_KEYS[key], map(repr, shares), strict=True))
            else:
                known = (*TEXT_KEYS, *SPECTRUM_KEYS)
                raise FaultError(f"there is no key “{plain(key, 30)}” here", meant(key, known))
        except FaultError as error:
            fault((*path, key), error.problem, error.remedy)
    return row


def _csv(rows: list[dict[str, str]]) -> str:
    out = io.StringIO()
    used = {key for row in rows for key in row} | {"name", "hex"}
    writer = csv.DictWriter(out, [column for column in _COLUMNS if column in used], restval="")
    writer.writeheader()
    writer.writerows(rows)
    return out.getvalue()


def _key_of(column: str) -> str:
    for key, columns in SPECTRUM_KEYS.items():
        if column in columns:
            return key
    return column
