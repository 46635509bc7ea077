"""Keeping what was read of a sheet: pencils as the set in use, patches as the hand's."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from coach.learned import keep_patches, patches_of
from drills.basics.errors import plain

if TYPE_CHECKING:
    from coach.sheets.printed import Printed
    from drills.pencils.pencil import PencilSet
    from drills.sheets.results import Slots
    from scores.record.record import Record


def keep_pencils_read(
    record: Record, pencils: PencilSet, slots: Slots, per_page: int, printed: Printed | None
) -> str:
    """Use the pencils from now on, with the light boxes as patches; what was done, in words.

    The patches kept of the pencils before stay theirs: a pencil read anew keeps its place.
    Raises NotSavedError and InputError.
    """
    from coach.sheets.reading import light_patches
    from drills.hand.keeping import MOST_PATCHES
    from drills.layering import constants as c
    from drills.layering.palette import prepare
    from drills.pencils.file import to_csv

    prepare(pencils)  # which finds colours that nothing can reflect
    before = patches_of(record, printed.pencils) if printed is not None else ()
    light = light_patches(slots, per_page, printed, pencils)
    recipes = {one.recipe for one in light}
    patches = (*(one for one in before if one.recipe not in recipes), *light)[-MOST_PATCHES:]
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), datetime.now(UTC))
    keep_patches(record, pencils, patches)
    return (
        f"You now practise with {plain(pencils.name)}: {len(pencils)} pencils,"
        f" {len(light)} light boxes kept as patches of your hand."
        f" How hard a swatch painted once was pressed is known to some {c.HAND_SD:.0%}: a page of"
        " patches (coach pencils sheet --patches 30) tells more of your pencils' strength."
    )


def keep_patches_read(record: Record, slots: Slots, per_page: int, printed: Printed | None) -> str:
    """Add the patches to those of their pencils. Raises NotSavedError and InputError."""
    from coach.sheets.reading import asked_patches
    from drills.hand.keeping import MOST_PATCHES

    if printed is None:
        return "The patches are not kept: this coach didn't print their sheet."
    new = asked_patches(slots, per_page, printed)
    recipes = {one.recipe for one in new}
    before = [one for one in patches_of(record, printed.pencils) if one.recipe not in recipes]
    keep_patches(record, printed.pencils, (*before, *new)[-MOST_PATCHES:])
    return f"Kept: {len(new)} patches of {plain(printed.pencils.name)}."
