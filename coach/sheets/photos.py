"""Photos of filled sheets, from pictures to what is kept of them: for the command and the app."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import TYPE_CHECKING

from coach.sheets.printed import Printed
from drills.basics.errors import InputError

if TYPE_CHECKING:
    from datetime import datetime

    from coach.sheets.said import SheetSaid
    from drills.pencils.pencil import PencilSet
    from drills.pictures.picture import Picture
    from drills.sheets.results import Sheet, Slots
    from scores.record.record import Record

Read = dict["Sheet", "tuple[Slots, int, Printed | None]"]
"""By sheet: its slots, how many a page has, and as what it was printed."""

DOUBT = (
    "By paper white alone, half the boxes of simulated photos came within 1.7 ΔE00 and most within"
    " 5. What your phone does to tones by itself is not known and comes on top: to check it, fill"
    " a box with something of known colour."
)
DOUBT_BY_CHART = (
    "By a chart, half the boxes of simulated photos came within 1.2 ΔE00, most within 3."
)


def read_sheets(
    pictures: Iterable[Picture],
    printed_as: Callable[[str], Printed | None],
    corners: Callable[[Picture], Sequence[tuple[float, float]]] = lambda _: (),
) -> tuple[Read, list[str]]:
    """What the pictures show, and a sentence on each page that can't be read.

    ``printed_as`` says what a sheet of a name was printed as, ``corners`` where a picture's chart
    lies. Raises InputError for a picture that shows no sheet.
    """
    from coach.sheets.reading import read_photo
    from drills.sheets.results import combined

    known: dict[str, Printed | None] = {}

    def printed(sheet_id: str) -> Printed | None:
        if sheet_id not in known:
            known[sheet_id] = printed_as(sheet_id)
        return known[sheet_id]

    pages, unread = [], []
    for picture in pictures:
        of, faults = read_photo(picture, printed, corners(picture))
        pages += of
        unread += [f"{picture.name}: {words}" for words in faults]
    per_page = {(page.id, page.kind): page.slots for page, _ in pages}
    return {
        sheet: (slots, per_page[sheet], known.get(sheet[0]))
        for sheet, slots in combined(pages).items()
    }, unread


def told(found: Read) -> tuple[SheetSaid, ...]:
    """What each sheet said."""
    from coach.sheets.said import said_by

    return tuple(said_by(sheet, *one) for sheet, one in found.items())


def drafts(found: Read) -> list[tuple[Sheet, PencilSet]]:
    """The pencils that each sheet's swatches make."""
    from coach.sheets.reading import draft

    made = []
    for sheet, (slots, per_page, printed) in found.items():
        if sheet[1] == "pencils":
            name = printed.pencils.name if printed is not None else f"Sheet {sheet[0]}"
            one = draft(slots, per_page, printed, name)
            if one is not None:
                made.append((sheet, one))
    return made


def keep(record: Record, found: Read, at: datetime) -> tuple[list[str], PencilSet | None]:
    """Keep what was read, and the readings; what was done, and the pencils now in use, if any.

    Raises NotSavedError and InputError.
    """
    from coach.sheets.joining import newest
    from coach.sheets.keeping import keep_patches_read, keep_pencils_read
    from coach.sheets.said import keep_said

    if len(drafts(found)) > 1:
        raise InputError("pencils", "two sets of pencils were read", "Keep one sheet at a time.")
    out, now = [], None
    # The pencils first: the patches of the same sheet are then kept for what they have become.
    for sheet, (slots, per_page, printed) in sorted(found.items(), key=_pencils_first):
        known = None if printed is None else newest(record, printed)
        if sheet[1] != "pencils":
            out.append(keep_patches_read(record, sheet[0], slots, per_page, known))
            continue
        as_printed = None if known is None else known.printed
        for _, read in drafts({sheet: (slots, per_page, as_printed)}):
            words, now = keep_pencils_read(record, sheet[0], read, slots, per_page, known)
            out.append(words)
    for said in told(found):
        keep_said(record, said, at)
    return out, now


def _pencils_first(one: tuple[Sheet, object]) -> bool:
    return one[0][1] != "pencils"
