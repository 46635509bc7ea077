"""``coach wish``: the colours you can't get, which the day's match then takes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from coach.home import close_and_say
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from scores.record.record import Record
    from scores.today.wishes import Wish

NONE = "The list is empty. Add a colour you can't get: coach wish '#a26a78'"


@click.command("wish")
@click.argument("colour", nargs=-1)
@click.option("--drop", type=int, metavar="NUMBER", help="Take one off the list, by its number.")
def command(colour: tuple[str, ...], drop: int | None) -> None:
    """List the colours you can't get; with COLOUR, add one.

    COLOUR is written as for `coach plan`. The day's match takes these colours.
    """
    from coach.home import record_path
    from scores.record.record import Record
    from scores.today.wishes import wishes_in

    if colour and drop is not None:
        raise InputError("--drop", "it goes with no colour", "Do one after the other.")
    if not colour and drop is None and not record_path().exists():
        click.echo(NONE)
        return
    record = Record.open(record_path())
    try:
        wishes = wishes_in(record.settings())
        if colour:
            _add(record, " ".join(colour))
        elif drop is not None:
            _drop(record, wishes, drop)
        else:
            lines = [f"{n:3}  {wish.words} ({wish.region})" for n, wish in enumerate(wishes, 1)]
            click.echo("\n".join(lines) or NONE)
    finally:
        close_and_say(record)


def _add(record: Record, text: str) -> None:
    from drills.colour.parse import parse_colour
    from drills.questions.given_colour import region_of
    from scores.record.record import NotSavedError
    from scores.today.wishes import Wish, keep_one_more

    lab = parse_colour(text)
    wish = Wish(lab, plain(text, 40), region_of(lab))
    try:
        keep_one_more(record, wish)
    except (ValueError, NotSavedError) as error:
        raise InputError(f"colour '{wish.words}'", str(error), "See it with: coach wish") from None
    click.echo(f"Kept: {wish.words} ({wish.region}).")


def _drop(record: Record, wishes: Sequence[Wish], number: int) -> None:
    from scores.record.record import NotSavedError
    from scores.today.wishes import SETTING, as_setting

    if not 1 <= number <= len(wishes):
        raise InputError(f"--drop {number}", "the list has no such number", "See: coach wish")
    left = [wish for place, wish in enumerate(wishes, 1) if place != number]
    try:
        record.set_setting(SETTING, as_setting(left))
    except NotSavedError as error:
        raise InputError("the list", f"not kept: {error}", "Mend that, then do it again.") from None
    click.echo(f"Dropped: {wishes[number - 1].words}.")
