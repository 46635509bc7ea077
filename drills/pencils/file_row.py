"""Reading one row of a pencils file against its header."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

from drills.basics.errors import plain
from drills.pencils import file_cell as cell
from drills.pencils.file_cell import (
    ON_BLACK_COLUMNS,
    PAINTED_COLUMNS,
    REFLECTANCE_COLUMNS,
    CellError,
)
from drills.pencils.pencil import Lab, Pencil, PencilsError, Spectrum

T = TypeVar("T")

_KNOWN = {"name", "code", "hex", "lab", "opacity", "on_black", "lightfastness", "notes", "used_up"}
_KNOWN |= {*REFLECTANCE_COLUMNS, *ON_BLACK_COLUMNS, *PAINTED_COLUMNS}
_FORMS = "hex, lab, or r400 to r700"


@dataclass(frozen=True)
class Header:
    """Where each known column stands, how many there are, and which were passed over."""

    columns: dict[str, int]
    width: int
    ignored: tuple[str, ...]

    @classmethod
    def read(cls, record: tuple[int, list[str]], where: str) -> Header:
        """Read the header record. Raises PencilsError."""
        row, names = record
        keys = [name.strip().lower() for name in names]
        # A trailing run of empty header cells is a spreadsheet's leaving.
        columns: dict[str, int] = {}
        for index, key in enumerate(keys):
            if key in columns and key in _KNOWN:
                problem = f"the column {plain(key, 20)} is there twice"
                raise PencilsError(where, problem, "Take one out.", row)
            columns.setdefault(key, index)
        if "name" not in columns:
            remedy = "The first row must name the columns, such as: name,hex,opacity"
            if len(names) == 1 and any(mark in names[0] for mark in ";\t"):
                remedy = "Separate the columns with commas."
            raise PencilsError(where, "there is no column called name", remedy, row)
        for group in (REFLECTANCE_COLUMNS, ON_BLACK_COLUMNS):
            missing = [column for column in group if column not in columns]
            if 0 < len(missing) < len(group):
                remedy = f"A spectrum needs all 31 columns, {group[0]} to {group[-1]}."
                raise PencilsError(where, f"the column {missing[0]} is missing", remedy, row)
        if not {"hex", "lab", REFLECTANCE_COLUMNS[0]} & columns.keys():
            raise PencilsError(where, "there is no column for the colour", f"Add {_FORMS}.", row)
        known = {key: index for key, index in columns.items() if key in _KNOWN}
        ignored = tuple(plain(key, 30) for key in columns if key and key not in _KNOWN)
        return cls(known, len(names), ignored)


def read_pencil(header: Header, row: int, cells: list[str], where: str) -> Pencil:
    """Read one pencil. Raises PencilsError naming row, column, problem and remedy."""

    def wrong(problem: str, remedy: str, column: str = "") -> PencilsError:
        return PencilsError(where, problem, remedy, row, column)

    if len(cells) != header.width:
        raise wrong(
            f"the row has {len(cells)} cells and the header {header.width}",
            "Put quotation marks round a cell that holds a comma, and fill missing cells.",
        )

    def text_in(column: str) -> str:
        return cells[header.columns[column]] if column in header.columns else ""

    def read(column: str, reader: Callable[[str], T]) -> T:
        try:
            return reader(text_in(column))
        except CellError as error:
            raise wrong(error.problem, error.remedy, column) from None

    def read_if(column: str, reader: Callable[[str], T]) -> T | None:
        return read(column, reader) if text_in(column).strip() else None

    def spectrum(group: tuple[str, ...]) -> Spectrum | None:
        filled = [column for column in group if text_in(column).strip()]
        if not filled:
            return None
        for column in group:
            if column not in filled:
                raise wrong("the reflectance is missing", "Fill all 31 or none.", column)
        return tuple(read(column, cell.read_reflectance) for column in group)

    name = read("name", lambda text: cell.read_text(text, cell.NAME_CHARS, "name"))
    if not name:
        raise wrong("the pencil has no name", "Name it.", "name")
    opacity = read("opacity", cell.read_opacity)
    hex_text: str | None = read_if("hex", cell.read_hex)
    lab: Lab | None = read_if("lab", cell.read_lab)
    reflectance = spectrum(REFLECTANCE_COLUMNS)
    given = sum(form is not None for form in (hex_text, lab, reflectance))
    black_cell = read_if("on_black", cell.read_on_black)
    black_spectrum = spectrum(ON_BLACK_COLUMNS)
    if opacity == "colourless":
        if given or black_cell or black_spectrum:
            raise wrong(f"“{name}” is colourless and yet has a swatch", "Take one of the two out.")
    elif given == 0:
        raise wrong(f"“{name}” has no swatch", f"Fill {_FORMS}.")
    elif given > 1:
        raise wrong(f"“{name}” has its swatch in {given} forms", f"Keep one of {_FORMS}.")
    painted = read("painted", cell.read_painted)
    if painted and opacity == "colourless":
        raise wrong(f"“{name}” is colourless and has no swatch to paint", "Empty it.", "painted")
    if black_cell and black_spectrum:
        raise wrong(f"“{name}” has on_black in two forms", "Keep on_black or k400 to k700.")
    return Pencil(
        name=name,
        code=read("code", lambda text: cell.read_text(text, cell.CODE_CHARS, "code")),
        hex=hex_text,
        lab=lab,
        reflectance=reflectance,
        opacity=opacity,
        on_black=black_cell or black_spectrum,
        lightfastness=read("lightfastness", cell.read_lightfastness),
        notes=read("notes", _notes),
        used_up=read("used_up", cell.read_used_up),
        painted=painted,
        row=row,
    )


def _notes(text: str) -> str:
    # A note may be written over several lines of a spreadsheet cell.
    return cell.read_text(" ".join(text.split()), cell.NOTES_CHARS, "note")
