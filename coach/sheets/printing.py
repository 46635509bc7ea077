"""The pages of a sheet: the learner's pencils or blank lines, and the patches that tell most."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.sheets.printed import Printed, name_of

if TYPE_CHECKING:
    from coach.reports.printed.drawing import Drawing
    from drills.hand.patch import Recipe
    from drills.pencils.pencil import PencilSet
    from drills.sheets.layout import Size
    from scores.record.record import Record


def sheet_pages(
    id_: str, size: Size, known: PencilSet | None, blank: int, patches: int, record: Record | None
) -> tuple[Printed | None, list[Drawing]]:
    """What is printed, and its pages: for the pencils ``known``, or ``blank`` ones of lines.

    ``patches`` many of the hand follow, of those that would tell most. Raises InputError.
    """
    from coach.reports.printed.pencil_sheet import Slot, sheet_page
    from drills.sheets.layout import Page

    if known is None:
        pages = [Page(id_, "pencils", size, number) for number in range(1, blank + 1)]
        return None, [sheet_page(page, (), "Your pencils") for page in pages]
    recipes, words = _asked(known, patches, record) if patches else ((), ())
    printed = Printed(known, recipes)
    slots = [Slot(name_of(at, printed)) for at in range(len(printed.coloured))]
    title = known.name
    drawings = []
    per_page = Page(id_, "pencils", size, 1).slots
    for number, first in enumerate(range(0, len(slots), per_page), start=1):
        page = Page(id_, "pencils", size, number)
        drawings.append(sheet_page(page, slots[first : first + per_page], title))
    asked = [Slot(said, one.paper) for said, one in zip(words, recipes, strict=True)]
    per_page = Page(id_, "patches", size, 1).slots
    for number, first in enumerate(range(0, len(asked), per_page), start=1):
        page = Page(id_, "patches", size, number)
        drawings.append(sheet_page(page, asked[first : first + per_page], f"{title}: your hand"))
    return printed, drawings


def _asked(
    known: PencilSet, count: int, record: Record | None
) -> tuple[tuple[Recipe, ...], tuple[str, ...]]:
    from coach.learned import patches_of
    from coach.reports.hand_report import recipe_words
    from drills.hand.choose import choose
    from drills.hand.fit import fit
    from drills.layering.palette import prepare

    palette = prepare(known)
    painted = patches_of(record, known) if record is not None else ()
    chosen = choose(palette, fit(palette, painted), count, [one.recipe for one in painted])
    recipes = tuple(one.recipe for one in chosen)
    return recipes, tuple(recipe_words(palette, one) for one in recipes)
