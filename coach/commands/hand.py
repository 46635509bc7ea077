"""``coach hand``: what painted patches say of your hand, and which to paint next."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from coach.home import close_and_say
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from drills.hand.patch import Patch
    from drills.pencils.pencil import PencilSet
    from scores.record.record import Record

_PRESSURES = ("light", "middle", "firm")


@click.group("hand", invoke_without_command=True)
@click.option("--json", "as_json", is_flag=True, help="All of it as one JSON object.")
@click.pass_context
def command(context: click.Context, as_json: bool) -> None:
    """What patches that you painted say of your hand, paper and pencils.

    Paint the patch it asks for, about 2 cm square, on white drawing paper unless
    it says black, and add its colour with: coach hand add. Predictions stay as
    they were until yours predict patches held out better than they do.
    """
    if context.invoked_subcommand is not None:
        return
    from coach.learned import own_recipes
    from coach.reports.hand_report import hand_figures, hand_known, lines

    with _kept() as (record, pencil_set, patches):
        own = own_recipes(record, pencil_set)
        figures = hand_figures(hand_known(pencil_set, patches, own))
    if as_json:
        click.echo(json.dumps(figures, ensure_ascii=False))
        return
    for line in lines(figures):
        click.echo(line)


@command.command("add")
@click.argument("colour", nargs=-1, required=True)
@click.option("--pencil", required=True, metavar="NAME", help="The pencil laid, or laid first.")
@click.option("--pencil2", metavar="NAME", help="The pencil laid over it, after all its layers.")
@click.option("--layers", type=click.IntRange(1, 5), default=1, help="Layers of --pencil (1).")
@click.option(
    "--pressure", type=click.Choice(_PRESSURES), required=True, help="How hard all of it was laid."
)
@click.option(
    "--pressure2", type=click.Choice(_PRESSURES), help="How hard --pencil2, if otherwise."
)
@click.option("--blend", is_flag=True, help="Blended lightly at last, with the colourless pencil.")
@click.option(
    "--paper",
    type=click.Choice(["white", "black"]),
    default="white",
    help="The drawing paper (white).",
)
def add(
    colour: tuple[str, ...],
    pencil: str,
    pencil2: str | None,
    layers: int,
    pressure: str,
    pressure2: str | None,
    blend: bool,
    paper: str,
) -> None:
    """Keep a patch that came to COLOUR.

    COLOUR is as for coach plan: '#c06030', 'lab(50 20 -30)' and so on.
    """
    from drills.colour.parse import parse_colour
    from drills.hand.keeping import MOST_PATCHES
    from drills.hand.patch import Patch, Recipe
    from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move
    from drills.planning.plan_limits import find_pencils

    if pressure2 and not pencil2:
        raise click.UsageError("--pressure2 is for --pencil2.")
    hard = dict(zip(_PRESSURES, (LIGHT, MIDDLE, FIRM), strict=True))
    lab = parse_colour(" ".join(colour))
    with _kept() as (record, pencil_set, patches):
        if len(patches) >= MOST_PATCHES:
            raise InputError("patches", f"{MOST_PATCHES} are kept already", "Undo some first.")
        laid = [(pencil, hard[pressure])] * layers
        if pencil2:
            laid.append((pencil2, hard[pressure2 or pressure]))
        moves = []
        for name, press in laid:
            (place,) = find_pencils(pencil_set, [name])
            if pencil_set.pencils[place].is_blender:
                raise InputError(
                    f"pencil “{plain(name, 40)}”", "it has no colour to lay", "Say --blend instead."
                )
            moves.append(Move("lay", place, press))
        if blend:
            moves.append(Move("blend", -1, LIGHT))
        recipe = Recipe(tuple(moves), "black" if paper == "black" else "white")
        _keep(record, pencil_set, (*patches, Patch(recipe, lab)))
    click.echo(f"Kept: {_count(len(patches) + 1)} of {plain(pencil_set.name)}.")


@command.command("undo")
def undo() -> None:
    """Drop the patch added last."""
    with _kept() as (record, pencil_set, patches):
        if not patches:
            raise InputError("patches", "there are none to drop", "")
        _keep(record, pencil_set, patches[:-1])
    click.echo(f"Dropped the last: {_count(len(patches) - 1)} left.")


@command.command("anew")
@click.confirmation_option(prompt="Drop every patch of the pencils in use?")
def anew() -> None:
    """Drop every patch of the pencils in use: predictions are the default's again."""
    with _kept(readable=False) as (record, pencil_set, _):
        _keep(record, pencil_set, ())
    click.echo("No patches are kept of these pencils now.")


def _count(patches: int) -> str:
    return f"{patches} patch{'es' * (patches != 1)}"


@contextmanager
def _kept(readable: bool = True) -> Iterator[tuple[Record, PencilSet, tuple[Patch, ...]]]:
    """The record, the pencils in use and their patches, unless they need not be ``readable``."""
    from coach.home import needed_pencils, record_path
    from coach.learned import patches_of
    from scores.record.record import Record

    pencil_set = needed_pencils()
    record = Record.open(record_path())
    try:
        yield record, pencil_set, patches_of(record, pencil_set) if readable else ()
    finally:
        close_and_say(record)


def _keep(record: Record, pencil_set: PencilSet, patches: tuple[Patch, ...]) -> None:
    from coach.learned import keep_patches
    from scores.record.record import NotSavedError

    try:
        keep_patches(record, pencil_set, patches)
    except NotSavedError as error:
        raise InputError("patches", f"they were not kept: {error}", "Try again.") from error
