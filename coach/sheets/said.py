"""What a filled sheet said, box by box: as read, and as the record keeps it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.sheets.printed import Printed, name_of
from drills.basics.json_values import JSON, as_json, from_json

if TYPE_CHECKING:
    from datetime import datetime

    from drills.sheets.results import Sheet, Slots
    from scores.record.record import Record

_FILLED = "filled:"


@dataclass(frozen=True)
class BoxSaid:
    """A box by its part ("firm"), its colour as Lab under D50, or None and why it was dropped."""

    part: str
    lab: tuple[float, float, float] | None
    trouble: str = ""


@dataclass(frozen=True)
class SlotSaid:
    """A pencil's boxes, or a patch."""

    name: str
    boxes: tuple[BoxSaid, ...]

    @property
    def dropped(self) -> tuple[BoxSaid, ...]:
        return tuple(box for box in self.boxes if box.lab is None)


@dataclass(frozen=True)
class SheetSaid:
    """A sheet by the name in its codes, what its pages hold and whose pencils; the slots that
    were filled, and how many were left empty. ``at`` is when it was kept (UTC), or empty."""

    sheet: str
    kind: str
    of: str
    slots: tuple[SlotSaid, ...]
    empty: int = 0
    at: str = ""

    @property
    def boxes(self) -> int:
        return sum(len(slot.boxes) for slot in self.slots)

    @property
    def dropped(self) -> int:
        return sum(len(slot.dropped) for slot in self.slots)


def said_by(sheet: Sheet, slots: Slots, per_page: int, printed: Printed | None) -> SheetSaid:
    """What was read of one sheet."""
    from drills.sheets.results import used

    name, kind = sheet
    told, empty = [], 0
    for (number, slot), parts in sorted(slots.items()):
        at = (number - 1) * per_page + slot
        if not used(parts):
            empty += 1
            continue
        called = _patch_name(at, printed) if kind == "patches" else name_of(at, printed)
        boxes = tuple(
            BoxSaid(part, one.lab, one.trouble)
            for part, one in parts.items()
            if part != "bare black"
        )
        told.append(SlotSaid(called, boxes))
    of = printed.pencils.name if printed is not None else ""
    return SheetSaid(name, kind, of, tuple(told), empty)


def keep_said(record: Record, said: SheetSaid, at: datetime) -> None:
    """Keep a sheet's readings beside those kept before. Raises NotSavedError."""
    from dataclasses import replace

    from drills.basics.days import utc_text

    when = utc_text(at)
    kept: JSON = as_json(replace(said, at=when))
    record.set_setting(f"{_FILLED}{when}:{said.kind}:{said.sheet}", kept)


def sheets_kept(settings: Mapping[str, JSON]) -> tuple[SheetSaid, ...]:
    """Every sheet's readings, those kept last first; one that can't be read is left out."""
    found = []
    for key, value in settings.items():
        if key.startswith(_FILLED) and value is not None:
            try:
                found.append(from_json(SheetSaid, value))
            except ValueError:
                continue
    return tuple(sorted(found, key=lambda one: (one.at, one.sheet, one.kind), reverse=True))


def _patch_name(at: int, printed: Printed | None) -> str:
    from coach.reports.hand_report import recipe_words
    from drills.basics.errors import plain
    from drills.layering.palette import prepare

    if printed is None or at >= len(printed.recipes):
        return f"Patch {at + 1}, not asked for by this coach"
    return plain(recipe_words(prepare(printed.pencils), printed.recipes[at]), 160)
