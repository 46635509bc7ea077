"""What was read of a sheet, in lines to look over before it is kept."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from coach.sheets.said import BoxSaid, SheetSaid
    from drills.pencils.pencil import Lab


def lines(said: SheetSaid) -> list[str]:
    """A heading, a line a slot that was filled, and how many were left empty."""
    of = said.of or "names still to be written"
    out = [f"Sheet {said.sheet} ({said.kind}; {of}):"]
    for slot in said.slots:
        told = "; ".join(box_words(box, alone=said.kind == "patches") for box in slot.boxes)
        out.append(f"  {slot.name}: {told}")
    if said.empty:
        out.append(f"  {said.empty} left empty.")
    return out


def box_words(box: BoxSaid, alone: bool = False) -> str:
    """ "firm #a05040", or "#a05040" for one that is ``alone``."""
    said = _colour(box.lab) if box.lab is not None else f"dropped ({box.trouble})"
    return said if alone else f"{box.part} {said}"


def _colour(lab: Lab) -> str:
    from drills.colour.spaces import hex_of, in_screen_gamut

    L, a, b = lab
    return hex_of(lab) if bool(in_screen_gamut(lab)) else f"lab({L:.1f} {a:.1f} {b:.1f})"
