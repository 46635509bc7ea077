"""Keeping what was read of a sheet: pencils as the set in use, patches as the hand's."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from coach.learned import keep_patches, patches_of
from drills.basics.errors import plain

if TYPE_CHECKING:
    from coach.sheets.joining import Known
    from drills.hand.patch import Patch
    from drills.pencils.pencil import PencilSet
    from drills.sheets.results import Slots
    from scores.record.record import Record


def keep_pencils_read(
    record: Record,
    sheet: str,
    read: PencilSet,
    slots: Slots,
    per_page: int,
    known: Known | None,
) -> tuple[str, PencilSet]:
    """Use the pencils from now on, with the light boxes as patches; what was done, in words.

    ``known`` are the sheet's pencils as they are known by now: what was painted of them before
    is joined with what was read, and the patches kept of them stay. Raises NotSavedError and
    InputError.
    """
    from coach.sheets.joining import joined, keep_swatches
    from coach.sheets.reading import light_patches, places_read
    from drills.layering import constants as c
    from drills.layering.palette import prepare
    from drills.pencils.file import to_csv

    printed = None if known is None else known.printed
    places = places_read(slots, per_page, printed)
    pencils, swatches = joined(known, read, places, sheet)
    prepare(pencils)  # which finds colours that nothing can reflect
    before = () if known is None else patches_of(record, known.stands)
    light = light_patches(slots, per_page, printed, pencils, sheet)
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), datetime.now(UTC))
    left = _keep(record, pencils, before, light, sheet, "pencils")
    keep_swatches(record, known, pencils, swatches)
    again = sum(one.painted > 1 for one in pencils.pencils)
    told = f" {again} were painted before: their colours are the mean." if again else ""
    every = {place for place, one in enumerate(pencils.pencils) if one.lays_colour}
    as_before = len(every - places)
    if as_before:
        told += f" {as_before} without a swatch here stay as they were."
    told += left
    return (
        f"You now practise with {plain(pencils.name)}: {len(pencils)} pencils,"
        f" {len(light)} light boxes kept as patches of your hand.{told}"
        f" How hard a swatch painted once was pressed is known to some {c.HAND_SD:.0%}: a page of"
        " patches (coach pencils sheet --patches 30) tells more of your pencils' strength."
    ), pencils


def keep_patches_read(
    record: Record, sheet: str, slots: Slots, per_page: int, known: Known | None
) -> str:
    """Add the patches to those of their pencils. Raises NotSavedError and InputError."""
    from coach.sheets.reading import asked_patches

    if known is None:
        return "The patches are not kept: this coach didn't print their sheet."
    of = known.stands
    new = asked_patches(slots, per_page, known.printed, sheet)
    left = _keep(record, of, patches_of(record, of), new, sheet, "patches")
    return f"Kept: {len(new)} patches of {plain(of.name)}.{left}"


def _keep(
    record: Record,
    pencils: PencilSet,
    before: tuple[Patch, ...],
    new: list[Patch],
    sheet: str,
    kind: str,
) -> str:
    """What is said of those that made room, the oldest; nothing where none had to."""
    from coach.sheets.joining import added
    from coach.sheets.said import sheets_kept
    from drills.hand.keeping import MOST_PATCHES

    again = any((one.sheet, one.kind) == (sheet, kind) for one in sheets_kept(record.settings()))
    every = added(before, new, again)
    keep_patches(record, pencils, every[-MOST_PATCHES:])
    gone = len(every) - MOST_PATCHES
    if gone <= 0:
        return ""
    some = "1 patch, the oldest, is" if gone == 1 else f"The {gone} oldest patches are"
    return f" {some} no longer kept: {MOST_PATCHES} of a set are."
