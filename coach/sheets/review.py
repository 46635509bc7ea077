"""What was read of a sheet, in lines to look over before it is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.sheets.printed import Printed, name_of

if TYPE_CHECKING:
    from drills.pencils.pencil import Lab
    from drills.sheets.results import Sheet, Slots, Swatch


def lines(sheet: Sheet, slots: Slots, per_page: int, printed: Printed | None) -> list[str]:
    """A heading, a line a slot that was filled, and how many were left empty."""
    from drills.sheets.results import used

    name, kind = sheet
    of = printed.pencils.name if printed is not None else "names still to be written"
    out = [f"Sheet {name} ({kind}; {of}):"]
    empty = 0
    for (number, slot), parts in sorted(slots.items()):
        at = (number - 1) * per_page + slot
        if not used(parts):
            empty += 1
            continue
        if kind == "patches":
            called = _patch_name(at, printed)
            said = _swatch(parts["patch"])
        else:
            called = name_of(at, printed)
            said = "; ".join(
                f"{part} {_swatch(one)}" for part, one in parts.items() if part != "bare black"
            )
        out.append(f"  {called}: {said}")
    if empty:
        out.append(f"  {empty} left empty.")
    return out


def _patch_name(at: int, printed: Printed | None) -> str:
    from coach.reports.hand_report import recipe_words
    from drills.basics.errors import plain
    from drills.layering.palette import prepare

    if printed is None or at >= len(printed.recipes):
        return f"Patch {at + 1}, not asked for by this coach"
    return plain(recipe_words(prepare(printed.pencils), printed.recipes[at]), 160)


def _swatch(one: Swatch) -> str:
    return _colour(one.lab) if one.lab is not None else f"dropped ({one.trouble})"


def _colour(lab: Lab) -> str:
    from drills.colour.spaces import hex_of, in_screen_gamut

    L, a, b = lab
    return hex_of(lab) if bool(in_screen_gamut(lab)) else f"lab({L:.1f} {a:.1f} {b:.1f})"
