"""``coach pencils``: look over a file of pencils, choose the set in use, list it."""

from __future__ import annotations

import shutil
import sys
from typing import TYPE_CHECKING

import click

from coach.commands.pencils.sheets import photo, sheet
from coach.commands.pencils.used_up import used_up
from coach.home import close_and_say
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from drills.colour.reading import Reading
    from drills.layering.palette import Palette
    from drills.pencils.pencil import PencilSet

_SWATCH_COLUMNS = 6
_DEMO = click.option("--demo", "which", flag_value="demo", help="The 36 invented pencils.")
_POCKET = click.option("--pocket", "which", flag_value="pocket", help="The 12 invented ones.")
_FILE = click.argument("file", required=False)


@click.group("pencils", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """The pencils you own: check a file of them, use it, list them; or photograph them.

    A pencils file is CSV in UTF-8. Its first row names the columns: name and
    hex, or lab, or r400 to r700; and, if you like, code, opacity, on_black,
    lightfastness, notes, used_up (yes or empty). A swatch is firm pressure on white drawing paper.
    Measured ones may come as an instrument writes them: CGATS.17 (ISO 28178),
    CxF3 (ISO 17972), or a table with a column a wavelength.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


command.add_command(sheet)
command.add_command(photo)
command.add_command(used_up)


@command.command("check")
@_FILE
@_DEMO
@_POCKET
def check(file: str | None, which: str | None) -> None:
    """Check FILE: what is in it, what is missing, what to watch for. Nothing is kept."""
    pencil_set, palette = _prepared(file, which)
    from drills.pencils.survey import survey

    found = survey(palette)
    click.echo(f"{plain(pencil_set.name)}: {found.counts}.")
    for line in found.families:
        click.echo(f"  {line}")
    for line in (*pencil_set.notes, *found.notes):
        click.echo(f"Mind: {line}")


@command.command("use")
@_FILE
@_DEMO
@_POCKET
def use(file: str | None, which: str | None) -> None:
    """Practise with the pencils of FILE from now on."""
    from datetime import UTC, datetime

    from coach.home import record_path
    from drills.pencils.file import to_csv
    from scores.record.record import NotSavedError, Record

    pencil_set, _ = _prepared(file, which)
    record = Record.open(record_path())
    try:
        record.put_pencils(
            pencil_set.fingerprint, pencil_set.name, to_csv(pencil_set), datetime.now(UTC)
        )
    except NotSavedError as error:
        raise InputError(
            plain(str(record_path()), 200), f"the pencils were not kept: {error}", "Try again."
        ) from error
    finally:
        close_and_say(record)
    click.echo(f"You now practise with {plain(pencil_set.name)}: {len(pencil_set)} pencils.")


@command.command("list")
@_FILE
@_DEMO
@_POCKET
def list_pencils(file: str | None, which: str | None) -> None:
    """List the pencils in use, or those of FILE, with a reading of each colour."""
    if file is None and which is None:
        from coach.home import needed_pencils

        pencil_set = needed_pencils()
    else:
        pencil_set = _given(file, which)
    from drills.layering.palette import prepare

    for line in _rows(prepare(pencil_set)):
        click.echo(line)


def _given(file: str | None, which: str | None) -> PencilSet:
    from drills.pencils.file import load_pencils
    from drills.pencils.sets import demo_set, pocket_set

    if (file is None) == (which is None):
        raise click.UsageError("give a FILE, or --demo, or --pocket, and only one of them.")
    if file is not None:
        return load_pencils(file)
    return demo_set() if which == "demo" else pocket_set()


def _prepared(file: str | None, which: str | None) -> tuple[PencilSet, Palette]:
    """The set with its films worked out, which finds colours that nothing can reflect."""
    pencil_set = _given(file, which)
    from drills.layering.palette import prepare

    return pencil_set, prepare(pencil_set)


def _words(reading: Reading) -> str:
    if reading.neutral:
        shade = f"{reading.value_word} grey"
        if reading.value >= 9.0 or reading.value < 1.5:
            shade = "white" if reading.value > 5.0 else "black"
        return f"{shade}, leans {reading.lean}" if reading.lean else shade
    everyday = f"{reading.everyday}, " if reading.everyday else ""
    return f"{everyday}{reading.family}, {reading.chroma_word}"


def _rows(palette: Palette) -> list[str]:
    from coach.terminal import colour_depth
    from drills.colour.spaces import in_screen_gamut, screen_rgb

    swatches = sys.stdout.isatty() and colour_depth().true_colour
    width = shutil.get_terminal_size().columns if sys.stdout.isatty() else 0
    pencils = palette.set.pencils
    rgb, shown = screen_rgb(palette.lab), in_screen_gamut(palette.lab)
    names = max(len(pencil.name) for pencil in pencils)
    codes = max(len(pencil.code) for pencil in pencils)
    lines = []
    for i, pencil in enumerate(pencils):
        parts = [pencil.name.ljust(names), pencil.code.ljust(codes)]
        reading = palette.readings[i]
        if reading is None:
            parts += ["colourless blender"]
        else:
            parts += [_words(reading).ljust(34), f"value {reading.value:4.1f}", pencil.opacity]
        if pencil.used_up:
            parts += ["used up"]
        line = "  ".join(part for part in parts if part.strip()).rstrip()
        if swatches:
            block = " " * _SWATCH_COLUMNS
            if shown[i] and reading is not None:
                r, g, b = rgb[i].tolist()
                block = f"\x1b[48;2;{r};{g};{b}m{block}\x1b[0m"
            room = width - _SWATCH_COLUMNS - 2
            line = f"{block}  {line[:room]}"
        lines.append(line)
    return lines
