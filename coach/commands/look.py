"""``coach look``: the colours of a picture, at spots or its main ones."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from typing import TYPE_CHECKING

import click

from drills.basics.errors import InputError, plain
from drills.basics.json_values import JSON

if TYPE_CHECKING:
    from drills.colour.spaces import Lab
    from drills.pictures.light import Place
    from drills.pictures.picture import Picture
    from drills.pictures.spot import Doubt

_USUAL_MAIN = 6
_CAMERA = (
    "A camera is no colorimeter: phones change tones from place to place by themselves, and how "
    "is not known here. To check one, photograph something of known colour beside the rest."
)


Given = tuple[tuple[float, bool], tuple[float, bool]]
"""x and y as given: each a number, and whether it is a share of the picture in per cent."""


def _place(text: str) -> Given:
    """A place as given. Raises click.BadParameter."""
    parts = text.split(",")
    if len(parts) == 2:
        with suppress(ValueError):
            x, y = (_number(part.strip()) for part in parts)
            return x, y
    what = f"'{plain(text, 40)}' is no place. Write X,Y in pixels, or as 50%,25%."
    raise click.BadParameter(what)


def _number(part: str) -> tuple[float, bool]:
    number = float(part.rstrip("%"))
    if not abs(number) < 1e9:
        raise ValueError(part)
    return number, part.endswith("%")


def read_places(_: click.Context, __: click.Parameter, texts: tuple[str, ...]) -> tuple[Given, ...]:
    return tuple(_place(text) for text in texts or ())


@click.command("look")
@click.argument("photo")
@click.option("--at", callback=read_places, multiple=True, metavar="X,Y", help="Read this spot.")
@click.option("--radius", type=float, metavar="R", help="Pixels to sample about a place.")
@click.option("--main", type=int, metavar="N", help="The N main colours (1 to 24).")
@click.option(
    "--white", callback=read_places, multiple=True, metavar="X,Y", help="Bare white paper is here."
)
@click.option("--card", is_flag=True, help="The white points lie on a grey card of 18 %.")
@click.option(
    "--chart",
    callback=read_places,
    nargs=4,
    metavar="X,Y X,Y X,Y X,Y",
    help="The corners of a chart of 24 patches, one after another around it.",
)
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line for each colour.")
def command(
    photo: str,
    at: tuple[Given, ...],
    radius: float | None,
    main: int | None,
    white: tuple[Given, ...],
    card: bool,
    chart: tuple[Given, ...],
    as_json: bool,
) -> None:
    """Read colours from PHOTO: a JPEG, PNG, TIFF, WebP or HEIC file, or - for standard input.

    --at reads spots, --main the picture's main colours (6 if you give neither).
    A place is X,Y in pixels from the upper left of the upright picture, or a
    share of it: 50%,25%. --white takes the light's cast off: point at bare paper,
    in uneven light at several places. The photo stays on this machine, and
    nothing of it is kept.
    """
    from drills.pictures.light import light_of, usual_radius
    from drills.pictures.main_colours import main_colours
    from drills.pictures.spot import read_spot

    picture = opened(photo)
    wide = usual_radius(picture) if radius is None else radius
    corners = None
    if chart:
        first, second, third, fourth = places(picture, chart)
        corners = (first, second, third, fourth)
    light, told = light_of(picture, places(picture, white), card, corners, wide)
    seen = []
    for x, y in places(picture, at):
        spot = read_spot(picture, x, y, wide, light)
        facts: dict[str, JSON] = {"at": [round(x, 2), round(y, 2)], "radius": wide}
        facts["pixels"] = spot.count
        seen.append(_Seen(f"at {x:g},{y:g} within {wide:g} pixels", spot.lab, facts, spot.warnings))
    if main is not None or not at:
        for one in main_colours(picture, _USUAL_MAIN if main is None else main, light):
            head = f"{one.share:.1%} of the picture"
            seen.append(_Seen(head, one.lab, {"share": round(one.share, 5)}, ()))
    # Nothing is said before all of it is known to be right.
    for note in (*picture.notes, told):
        if note:
            click.echo(f"coach: {note}", err=True)
    if as_json:
        for one_seen in seen:
            click.echo(_json_line(one_seen))
    else:
        _tell(picture, seen)


@dataclass(frozen=True)
class _Seen:
    """A colour of the picture: where it is, its Lab, that as JSON, and warnings."""

    where: str
    lab: Lab
    facts: dict[str, JSON]
    warnings: tuple[Doubt, ...]


def opened(photo: str) -> Picture:
    """The picture of a file, or of standard input for ``-``. Raises InputError."""
    from coach.home import expanded
    from drills.pictures.opening import MOST_BYTES, open_picture, picture_of

    if photo != "-":
        return open_picture(expanded(photo))
    if sys.stdin is None:
        raise InputError("standard input", "it is closed", "Give a file.")
    return picture_of(sys.stdin.buffer.read(MOST_BYTES + 1), "standard input")


def places(picture: Picture, given: tuple[Given, ...]) -> list[Place]:
    """Places in pixels; shares are of the picture's width and height."""
    size = (picture.width, picture.height)
    found = []
    for one in given:
        x, y = (
            min(number / 100 * side, side - 1) if share else number
            for (number, share), side in zip(one, size, strict=True)
        )
        found.append((x, y))
    return found


def _json_line(seen: _Seen) -> str:
    from coach.commands.read import in_words
    from drills.colour.reading import read_colours
    from drills.colour.spaces import hex_of

    (reading,) = read_colours([seen.lab], with_munsell=True)
    values = {
        **seen.facts,
        "hex": hex_of(seen.lab),
        "lab": [round(x, 4) for x in seen.lab],
        "reading": {"sentence": reading.sentence(), **in_words(reading)},
        "warnings": list(seen.warnings),
    }
    return json.dumps(values, ensure_ascii=False)


def _tell(picture: Picture, seen: Sequence[_Seen]) -> None:
    """Print colours for people, beside a swatch where the terminal can show one."""
    from coach.commands.read import ReadingWords
    from drills.colour.reading import read_colour
    from drills.colour.spaces import hex_of
    from drills.pictures.spot import DOUBT_WORDS

    words = ReadingWords()
    click.echo(f"{picture.name}: {picture.width} by {picture.height} pixels\n")
    for one in seen:
        click.echo(words(f"{hex_of(one.lab)}, {one.where}", read_colour(one.lab)), nl=False)
        for doubt in one.warnings:
            for line in words.wrapped(f"Mind: {DOUBT_WORDS[doubt]}."):
                click.echo(f"  {line}")
        click.echo()
    for line in words.wrapped(_CAMERA):
        click.echo(line)
