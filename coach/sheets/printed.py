"""What the record keeps of a sheet that it printed, by the name its codes say."""

from __future__ import annotations

import base64
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from drills.basics.errors import plain

if TYPE_CHECKING:
    from drills.basics.json_values import JSON
    from drills.hand.patch import Recipe
    from drills.pencils.pencil import Pencil, PencilSet
    from scores.record.record import Record

_SHEET = "sheet:"


@dataclass(frozen=True)
class Printed:
    """A sheet as it was printed: whose pencils, and the patches it asks for."""

    pencils: PencilSet
    recipes: tuple[Recipe, ...] = ()

    @property
    def coloured(self) -> tuple[Pencil, ...]:
        """The pencils with a place on the sheet, in its order: all that can be laid there."""
        return tuple(pencil for pencil in self.pencils.pencils if pencil.lays_colour)


def new_id(noise: bytes) -> str:
    """A sheet's name of six letters and digits, from four random bytes at least."""
    return base64.b32encode(noise)[:6].decode()


def keep_printed(record: Record, id_: str, printed: Printed) -> None:
    """Have the record know a sheet by its codes. Raises NotSavedError."""
    from drills.hand.keeping import to_json
    from drills.hand.patch import Patch
    from drills.pencils.file import to_csv

    patches = [Patch(recipe, (50.0, 0.0, 0.0)) for recipe in printed.recipes]
    record.set_setting(
        f"{_SHEET}{id_}",
        {
            "name": printed.pencils.name,
            "csv": to_csv(printed.pencils),
            "patches": to_json(patches),
        },
    )


def printed_in(settings: Mapping[str, JSON], id_: str) -> Printed | None:
    """A sheet that the record with these settings printed; None for a blank or another's.

    Raises InputError.
    """
    from drills.hand.keeping import from_json
    from drills.pencils.file import parse_pencils

    kept = settings.get(f"{_SHEET}{id_}")
    if not isinstance(kept, dict):
        return None
    csv, name = kept.get("csv"), kept.get("name")
    if not isinstance(csv, str) or not isinstance(name, str):
        return None
    pencils = replace(parse_pencils(csv.encode(), "the pencils of the sheet"), name=name)
    patches = from_json(kept.get("patches"), pencils)
    return Printed(pencils, tuple(patch.recipe for patch in patches))


def name_of(at: int, printed: Printed | None) -> str:
    """What stands beside a pencil's boxes."""
    if printed is not None and at < len(printed.coloured):
        one = printed.coloured[at]
        return plain(f"{one.code} {one.name}" if one.code else one.name)
    return f"Pencil {at + 1}"
