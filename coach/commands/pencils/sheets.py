"""``coach pencils sheet`` and ``photo``: a sheet to fill by hand, and photos of it read back."""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

import click

from coach.commands.look import Given, opened, places, read_places
from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.sheets.printed import Printed
    from drills.pencils.pencil import PencilSet
    from drills.sheets.layout import Ground
    from drills.sheets.results import Sheet, Slots
    from scores.record.record import Record

_MOST_PHOTOS = 40
_DOUBT = (
    "By paper white alone count on about 2.5 ΔE00 a box, some on 6; what phones do to tones by "
    "themselves is not known here. To check yours, fill a box with something of known colour."
)


@click.command("sheet")
@click.argument("file")
@click.option("--blank", is_flag=True, help="Lines to write on, not the pencils in use.")
@click.option("--pages", type=click.IntRange(1, 20), default=1, help="Blank pages (1).")
@click.option(
    "--patches", type=click.IntRange(0, 66), default=0, metavar="N",
    help="Add the N patches that tell most of your hand (0).",
)  # fmt: skip
@click.option("--size", type=click.Choice(["a4", "letter"]), help="The sheet (your country's).")
@force_option
@rules
def sheet(file: str, blank: bool, pages: int, patches: int, size: str | None, force: bool) -> None:
    """Write a sheet to print, fill by hand and photograph: FILE, an HTML page.

    It has boxes for each pencil in use, laid lightly, firmly and firmly over
    black. The codes in its corners say which sheet it is: photos of it are read
    with coach pencils photo.
    """
    from coach.home import pencils_in_use, record_path
    from coach.reports.printed import document
    from coach.reports.printed.drawing import SIZES, size_here
    from coach.sheets.printed import keep_printed, new_id
    from coach.sheets.printing import sheet_pages
    from scores.record.record import NotSavedError, Record

    checked(file, "pencil sheet", force)
    known = None if blank else pencils_in_use()
    if patches and known is None:
        raise InputError("patches", "no pencils are in use", "Choose them with: coach pencils use")
    paper = SIZES[size] if size else size_here(os.environ)
    id_ = new_id(os.urandom(5))
    record = Record.open(record_path()) if known is not None else None
    try:
        printed, drawings = sheet_pages(id_, paper, known, pages, patches, record)
        page = document.html("Pencil sheet", paper, drawings)
        path = write(file, [page], "pencil sheet", force)
        if record is not None and printed is not None:
            keep_printed(record, id_, printed)
    except NotSavedError as error:
        raise InputError("sheet", f"it was not kept: {error}", "Try again.") from error
    finally:
        if record is not None:
            close_and_say(record)
    count = len(drawings)
    click.echo(f"The sheet, {count} page{'s' * (count != 1)}, is {plain(str(path), 200)}.")
    click.echo("Print it at full size on your drawing paper, fill it, photograph it. Then:")
    click.echo("coach pencils photo FILE")


@click.command("photo")
@click.argument("files", nargs=-1, required=True)
@click.option("--csv", metavar="FILE", help="Write the pencils read as a pencils file.")
@click.option("--keep", is_flag=True, help="Practise with what was read; keep the hand's patches.")
@click.option(
    "--chart", callback=read_places, nargs=4, metavar="X,Y X,Y X,Y X,Y",
    help="The corners of a chart of 24 patches beside the sheet (one photo).",
)  # fmt: skip
@force_option
@rules
def photo(
    files: tuple[str, ...], csv: str | None, keep: bool, chart: tuple[Given, ...], force: bool
) -> None:
    """Read photos or scans of filled sheets: what each box shows, and which were dropped.

    Several sheets may lie in one photo, and several photos show one sheet. The
    photos stay on this machine, and nothing of them is kept but the colours.
    Nothing is kept at all without --keep or --csv: look it over first.
    """
    from coach.home import record_path
    from coach.sheets.review import lines
    from scores.record.record import Record

    if csv is not None:
        checked(csv, None, force)
    if len(files) > _MOST_PHOTOS:
        raise InputError("photos", f"{len(files)} are given", f"Give {_MOST_PHOTOS} at most.")
    if chart and len(files) > 1:
        raise click.UsageError("--chart is for one photo.")
    path = record_path()
    record = Record.open(path) if keep or path.exists() else None
    try:
        found, unread = _read(files, chart, record)
        for sheet_name, one in found.items():
            for line in lines(sheet_name, *one):
                click.echo(line)
        for words in unread:
            click.echo(f"Not read: {words}")
        if not found:
            raise InputError("photos", "no sheet could be read", unread[0] if unread else "")
        click.echo(_DOUBT if not chart else "")
        if csv is not None:
            _write_csv(csv, found, force)
        if keep:
            assert record is not None
            _keep(record, found)
    finally:
        if record is not None:
            close_and_say(record)


Read = dict["Sheet", "tuple[Slots, int, Printed | None]"]
"""By sheet: its slots, how many a page has, and as what it was printed."""


def _read(
    files: tuple[str, ...], chart: tuple[Given, ...], record: Record | None
) -> tuple[Read, list[str]]:
    """What the files show, and a sentence on each page that can't be read."""
    from coach.sheets.printed import printed_as
    from coach.sheets.reading import read_photo
    from drills.sheets.results import combined

    known: dict[str, Printed | None] = {}

    def grounds(sheet_id: str) -> tuple[Ground, ...]:
        if sheet_id not in known:
            known[sheet_id] = printed_as(record, sheet_id) if record is not None else None
        printed = known[sheet_id]
        return tuple(one.paper for one in printed.recipes) if printed is not None else ()

    pages, unread = [], []
    for file in files:
        picture = opened(file)
        of, faults = read_photo(picture, grounds, places(picture, chart))
        pages += of
        unread += [f"{picture.name}: {words}" for words in faults]
    per_page = {(page.id, page.kind): page.slots for page, _ in pages}
    return {
        sheet: (slots, per_page[sheet], known.get(sheet[0]))
        for sheet, slots in combined(pages).items()
    }, unread


def _drafts(found: Read) -> list[tuple[Sheet, PencilSet]]:
    from coach.sheets.reading import draft

    made = []
    for sheet, (slots, per_page, printed) in found.items():
        if sheet[1] == "pencils":
            name = printed.pencils.name if printed is not None else f"Sheet {sheet[0]}"
            one = draft(slots, per_page, printed, name)
            if one is not None:
                made.append((sheet, one))
    return made


def _write_csv(csv: str, found: Read, force: bool) -> None:
    from drills.pencils.file import to_csv

    made = _drafts(found)
    if len(made) != 1:
        what = "no pencil was read" if not made else "two sets of pencils were read"
        raise InputError("pencils", what, "Give the photos of one sheet's pencils.")
    path = write(csv, [to_csv(made[0][1])], None, force)
    click.echo(f"The pencils read are in {plain(str(path), 200)}.")


def _keep(record: Record, found: Read) -> None:
    from coach.sheets.keeping import keep_patches_read, keep_pencils_read
    from scores.record.record import NotSavedError

    made = _drafts(found)
    if len(made) > 1:
        raise InputError("pencils", "two sets of pencils were read", "Keep one sheet at a time.")
    try:
        for sheet, pencils in made:
            click.echo(keep_pencils_read(record, pencils, *found[sheet]))
        for sheet, one in found.items():
            if sheet[1] == "patches":
                click.echo(keep_patches_read(record, *one))
    except NotSavedError as error:
        raise InputError("sheet", f"it was not kept: {error}", "Try again.") from error
