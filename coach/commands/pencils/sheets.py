"""``coach pencils sheet`` and ``photo``: a sheet to fill by hand, and photos of it read back."""

from __future__ import annotations

import os
from functools import partial
from typing import TYPE_CHECKING

import click

from coach.commands.look import Given, opened, places, read_places
from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.sheets.photos import Read
    from scores.record.record import Record

_MOST_PHOTOS = 40


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
    from coach.sheets.photos import DOUBT, DOUBT_BY_CHART, read_sheets, told
    from coach.sheets.printed import printed_in
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
        settings = {} if record is None else record.settings()
        found, unread = read_sheets(
            map(opened, files), partial(printed_in, settings), partial(places, given=chart)
        )
        for said in told(found):
            for line in lines(said):
                click.echo(line)
        if not found and len(unread) == 1:
            raise InputError("not read", unread[0].rstrip("."))
        for words in unread:
            click.echo(f"Not read: {words}")
        if not found:
            raise InputError("photos", "no sheet could be read", "What to do stands at each.")
        click.echo(DOUBT_BY_CHART if chart else DOUBT)
        if csv is not None:
            _write_csv(csv, found, force)
        if keep:
            assert record is not None
            _keep(record, found)
    finally:
        if record is not None:
            close_and_say(record)


def _write_csv(csv: str, found: Read, force: bool) -> None:
    from coach.sheets.photos import drafts
    from drills.pencils.file import to_csv

    made = drafts(found)
    if len(made) != 1:
        what = "no pencil was read" if not made else "two sets of pencils were read"
        raise InputError("pencils", what, "Give the photos of one sheet's pencils.")
    path = write(csv, [to_csv(made[0][1])], None, force)
    click.echo(f"The pencils read are in {plain(str(path), 200)}.")


def _keep(record: Record, found: Read) -> None:
    from datetime import UTC, datetime

    from coach.sheets import photos
    from scores.record.record import NotSavedError

    try:
        done, _ = photos.keep(record, found, datetime.now(UTC))
    except NotSavedError as error:
        raise InputError("sheet", f"it was not kept: {error}", "Try again.") from error
    for line in done:
        click.echo(line)
