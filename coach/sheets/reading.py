"""Photos of filled sheets, and what they come to: pencils, and patches of the hand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from drills.basics.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from coach.sheets.printed import Printed
    from drills.hand.patch import Patch
    from drills.pencils.pencil import Lab, Pencil, PencilSet
    from drills.pictures.picture import Picture
    from drills.sheets.finding import Unread
    from drills.sheets.layout import Ground, Page
    from drills.sheets.results import Slots
    from drills.sheets.sampling import BoxRead

_STRIP_ROWS = 256
_EVERY, _GREY_LEVELS = 5, 2
"""One pixel in so many either way is looked at, and levels by which a grey's channels differ."""
_AGAIN = "Photograph the whole sheet, sharp and in even light."


def read_photo(
    picture: Picture,
    printed_as: Callable[[str], Printed | None],
    corners: Sequence[tuple[float, float]] = (),
) -> tuple[list[tuple[Page, list[BoxRead]]], list[str]]:
    """The pages in a photo, and a sentence on each that can't be read. Raises InputError for a
    photo without any. ``printed_as`` says what a sheet of a name was printed as."""
    import numpy as np

    from drills.sheets.finding import find_pages
    from drills.sheets.sampling import ByChart, read_boxes

    image = picture.levels()
    grey = _grey(image)
    sighted, unread = find_pages(grey)
    if not sighted and not unread:
        raise InputError(picture.name, "no code of a sheet's corner is read in it", _AGAIN)
    if sighted and _without_colour(image):
        raise InputError(picture.name, "it is a grey picture", "Photograph or scan it in colour.")
    chart = None
    if corners:
        from drills.pictures.chart import read_chart

        a, b, c, d = corners
        middle = np.mean(corners, axis=0).tolist()
        found = read_chart(picture, (a, b, c, d))
        chart = ByChart(found, (middle[0], middle[1]))
    pages, faults = [], [_told(one) for one in unread]
    for one in sighted:
        printed = printed_as(one.page.id)
        false = _not_printed(one.page, printed)
        if false:
            faults.append(f"{_called(one.page)}: {false}")
            continue
        first = (one.page.number - 1) * one.page.slots
        grounds: tuple[Ground, ...] = ()
        if printed is not None:
            grounds = tuple(recipe.paper for recipe in printed.recipes[first:])
        pages.append((one.page, read_boxes(image, one, one.page.boxes(grounds), chart)))
    return pages, faults


def _told(one: Unread) -> str:
    said = f"{one.problem}. {one.remedy}"
    return said if one.page is None else f"{_called(one.page)}: {said}"


def _called(page: Page) -> str:
    return f"sheet {page.id}, page {page.number}"


def _not_printed(page: Page, printed: Printed | None) -> str:
    """What is false where codes name a page that wasn't printed of a sheet known here."""
    if printed is None:
        return ""
    filled = len(printed.coloured if page.kind == "pencils" else printed.recipes)
    pages = -(-filled // page.slots)
    if page.number <= pages:
        return ""
    return (
        f"its codes say page {page.number} of {page.kind}, and this coach printed {pages}."
        " Photograph the sheet as it was printed."
    )


def _grey(image: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """The greys (h, w) of a picture (h, w, 3), a strip at a time: at once they fill the memory."""
    import numpy as np

    grey = np.empty(image.shape[:2], dtype=np.uint8)
    for top in range(0, len(grey), _STRIP_ROWS):
        strip = image[top : top + _STRIP_ROWS].astype(np.uint16)
        grey[top : top + _STRIP_ROWS] = strip @ np.array([77, 150, 29], dtype=np.uint16) >> 8
    return grey


def _without_colour(image: NDArray[np.uint8]) -> bool:
    """Whether a picture (h, w, 3) is all grey, as one filed so is: a camera's greys never are."""
    import numpy as np

    some = image[::_EVERY, ::_EVERY].astype(np.int16)
    return bool(np.ptp(some, axis=-1).max() <= _GREY_LEVELS)


def draft(slots: Slots, per_page: int, printed: Printed | None, name: str) -> PencilSet | None:
    """The pencils that a sheet's firm swatches make; None where there is none.

    A pencil already known keeps all but its colours, and is left as it was where its box was.
    """
    from drills.pencils.file import make_set
    from drills.pencils.pencil import Pencil
    from drills.sheets.results import on_black_paper

    found: dict[int, tuple[Lab, Lab | None]] = {}
    for (number, slot), parts in sorted(slots.items()):
        firm, over, bare = (parts.get(part) for part in ("firm", "over black", "bare black"))
        if firm is None or firm.lab is None:
            continue
        black = None
        if over is not None and over.lab and bare is not None and bare.lab:
            black = on_black_paper(firm.lab, over.lab, bare.lab)
        found[(number - 1) * per_page + slot] = (firm.lab, black)
    if not found:
        return None
    out: list[Pencil] = []
    at = 0
    for pencil in printed.pencils.pencils if printed is not None else ():
        swatch = found.pop(at, None) if pencil.lays_colour else None
        at += pencil.lays_colour
        out.append(pencil if swatch is None else _with(pencil, *swatch))
    out += [_with(Pencil(f"Pencil {at + 1}", hex="#808080"), *found[at]) for at in sorted(found)]
    return replace(make_set(name, tuple(out)), name=name)


def places_read(slots: Slots, per_page: int, printed: Printed | None) -> frozenset[int]:
    """Which pencils of ``draft``'s set, by their places, a sheet has a firm swatch of."""
    read = {
        (number - 1) * per_page + slot
        for (number, slot), parts in slots.items()
        if (firm := parts.get("firm")) is not None and firm.lab is not None
    }
    known = printed.pencils.pencils if printed is not None else ()
    on_sheet = [place for place, one in enumerate(known) if one.lays_colour]
    more = sum(at >= len(on_sheet) for at in read)
    shown = {on_sheet[at] for at in read if at < len(on_sheet)}
    return frozenset(shown | set(range(len(known), len(known) + more)))


def _with(pencil: Pencil, lab: Lab, black: Lab | None) -> Pencil:
    on_black = None if black is None else _rounded(black)
    return replace(
        pencil, hex=None, lab=_rounded(lab), reflectance=None, on_black=on_black, painted=1, row=0
    )


def _rounded(lab: tuple[float, float, float]) -> tuple[float, float, float]:
    L, a, b = lab
    return (round(min(max(L, 0.0), 100.0), 2), round(a, 2), round(b, 2))


def light_patches(
    slots: Slots, per_page: int, printed: Printed | None, new: PencilSet, sheet: str = ""
) -> list[Patch]:
    """The light boxes of a sheet's pencils as patches of the hand, for the set they are now in."""
    from drills.hand.patch import Patch, Recipe
    from drills.layering.constants import READ_SD
    from drills.layering.moves import LIGHT, Move

    places = {pencil.name: i for i, pencil in enumerate(new.pencils)}
    coloured = printed.coloured if printed is not None else ()
    out = []
    for (number, slot), parts in sorted(slots.items()):
        at = (number - 1) * per_page + slot
        light, firm = parts.get("light"), parts.get("firm")
        name = coloured[at].name if at < len(coloured) else f"Pencil {at + 1}"
        if light is None or light.lab is None or firm is None or firm.lab is None:
            continue
        if name in places:
            recipe = Recipe((Move("lay", places[name], LIGHT),))
            out.append(Patch(recipe, light.lab, READ_SD, sheet))
    return out


def asked_patches(slots: Slots, per_page: int, printed: Printed, sheet: str = "") -> list[Patch]:
    """The patches that a sheet asked for, as they came."""
    from drills.hand.patch import Patch
    from drills.layering.constants import READ_SD

    out = []
    for (number, slot), parts in sorted(slots.items()):
        at = (number - 1) * per_page + slot
        one = parts.get("patch")
        if at < len(printed.recipes) and one is not None and one.lab is not None:
            out.append(Patch(printed.recipes[at], one.lab, READ_SD, sheet))
    return out
