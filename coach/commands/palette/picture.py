"""``coach palette``: which pencils to take out for a picture, and what they make of it."""

from __future__ import annotations

import json
import os
import sys
from typing import TYPE_CHECKING

import click

from coach.commands.look import Given, opened, places, read_places
from coach.output import checked, force_option, rules, write
from drills.basics.errors import plain

if TYPE_CHECKING:
    from drills.colour.data.tables import FloatArray
    from drills.layering.palette import Palette
    from drills.planning.for_picture.pencils_for import PencilsFor

_COPY_SIDE = 320
"""Pixels of the longer side of what is shown and printed."""


@click.command("palette")
@click.argument("photo")
@click.option(
    "--pencils-at-most", "most", type=int, default=8, metavar="K", help="Take out K at most (8)."
)
@click.option("--main", type=int, default=8, metavar="N", help="Judge by N main colours (8).")
@click.option("--pencils", metavar="FILE", help="Choose from the pencils of this file.")
@click.option(
    "--greys", type=click.Choice(["3", "5", "7"]), default="5", help="Greys of the value study (5)."
)
@click.option(
    "--white", callback=read_places, multiple=True, metavar="X,Y", help="Bare white paper is here."
)
@click.option("--card", is_flag=True, help="The white points lie on a grey card of 18 %.")
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--html", metavar="FILE", help="Write a page to print.")
@force_option
@rules
def command(
    photo: str,
    most: int,
    main: int,
    pencils: str | None,
    greys: str,
    white: tuple[Given, ...],
    card: bool,
    as_json: bool,
    html: str | None,
    force: bool,
) -> None:
    """Say which K of your pencils to take out for PHOTO.

    PHOTO and --white are as for coach look. Each main colour is given with what
    to lay for it and how near it comes; then what one more pencil would bring.
    In a terminal with 24-bit colour the picture is shown beside what these pencils
    make of it and a study of its values. It stays on this machine.
    """
    from coach.commands.plan import pencils_to_use
    from coach.learned import hand_in_use
    from drills.layering.palette import prepare
    from drills.pictures.light import light_of
    from drills.pictures.main_colours import corrected_copy, main_colours
    from drills.planning.for_picture.pencils_for import pencils_for

    if html is not None:
        checked(html, "picture", force)
    picture = opened(photo)
    light, told = light_of(picture, places(picture, white), card)
    pencil_set, notice = pencils_to_use(pencils)
    palette = prepare(pencil_set, hand=hand_in_use(pencil_set))
    found = pencils_for(palette, main_colours(picture, main, light), most)
    page = None
    if html is not None:
        from coach.reports.printed import document
        from coach.reports.printed.drawing import size_here
        from coach.reports.printed.picture_page import picture_pages

        sheet = size_here(os.environ)
        copy = corrected_copy(picture, light, 2 * _COPY_SIDE)
        pages = picture_pages(palette, found, copy, int(greys), sheet)
        page = write(html, [document.html("Pencils for a picture", sheet, pages)], "picture", force)
    for note in (notice, *picture.notes, told):
        if note:
            click.echo(f"coach: {note}", err=True)
    if as_json:
        click.echo(json.dumps(_values(palette, found), ensure_ascii=False))
        return
    if _shows_pictures():
        _show(corrected_copy(picture, light, _COPY_SIDE), found, int(greys))
    _tell(palette, found)
    if page is not None:
        click.echo(f"\nThe page to print is {plain(str(page), 200)}.")


def _shows_pictures() -> bool:
    from coach.terminal import colour_depth

    return sys.stdout.isatty() and colour_depth().true_colour


def _show(copy: FloatArray, found: PencilsFor, greys: int) -> None:
    """The picture, what the pencils make of it and its values, side by side or one by one."""
    from coach.reports.half_blocks import beside
    from drills.pictures.greys import value_study
    from drills.planning.for_picture.outcome import as_drawn

    columns = min(os.get_terminal_size(sys.stdout.fileno()).columns, 180)
    titles = ("the picture", "with these pencils", f"in {greys} greys")
    copies = (copy, as_drawn(copy, found.layers), value_study(copy, greys))
    for line in beside(copies, titles, columns):
        click.echo(line)
    click.echo()


def _tell(palette: Palette, found: PencilsFor) -> None:
    from coach.commands.plan import PlanWords
    from coach.reports.picture_words import layer_words, one_more_words, summary
    from drills.colour.reading import read_colour
    from drills.colour.spaces import hex_of

    words = PlanWords(False)
    for line in words.wrapped(summary(palette, found)):
        click.echo(line)
    for place in found.pencils:
        click.echo(f"  {plain(palette.names[place])}")
    click.echo()
    for one in found.reached:
        head = f"{hex_of(one.colour.lab)}, {one.colour.share:.1%} of the picture"
        texts = [head, read_colour(one.colour.lab).sentence(), layer_words(palette, one)]
        for line in words.with_swatch(one.colour.lab, texts):
            click.echo(line)
        click.echo()
    for line in words.wrapped(one_more_words(palette, found)):
        click.echo(line)


def _values(palette: Palette, found: PencilsFor) -> dict[str, object]:
    from drills.colour.spaces import hex_of
    from drills.layering.moves import move_words

    more = found.one_more
    return {
        "pencils": [palette.names[place] for place in found.pencils],
        "mean_delta_e00": round(found.mean_miss, 3),
        "colours": [
            {
                "hex": hex_of(one.colour.lab),
                "lab": [round(x, 4) for x in one.colour.lab],
                "share": round(one.colour.share, 5),
                "moves": [move_words(palette, move) for move in one.moves],
                "predicted_lab": [round(x, 4) for x in one.lab],
                "delta_e00": round(one.miss, 3),
                "expected_miss": round(one.likely.expected, 3),
                "range90": [round(one.likely.low, 3), round(one.likely.high, 3)],
            }
            for one in found.reached
        ],
        "one_more": None
        if more is None
        else {
            "pencil": palette.names[more.pencil],
            "mean_delta_e00": round(more.mean_miss, 3),
            "without_delta_e00": round(found.mean_miss, 3),
            "helps": hex_of(more.helps.lab),
            "before_delta_e00": round(more.before, 3),
            "after_delta_e00": round(more.after, 3),
        },
    }
