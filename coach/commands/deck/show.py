"""``coach deck show``: a deck's questions before a class, over the whole screen."""

from __future__ import annotations

import click

from coach.commands.deck.given import given, own_pencils, pocket_option, starter_option
from drills.basics.errors import InputError


def add_to(group: click.Group) -> None:
    """Join this command to ``coach deck``."""
    group.add_command(show)


@click.command("show")
@click.argument("file", required=False)
@starter_option
@pocket_option
def show(file: str | None, starter: str | None, pocket: bool) -> None:
    """Show a deck's questions to a class, on a projector: each over the whole screen.

    Enter shows the answer, with what each choice would have been, and then the next. Hands
    shown for each choice can be counted; nothing is kept. In a browser: coach serve, then k
    (the class), w (make a deck), o (open it), c (show it to a class).
    """
    from coach.deck_preview import open_show
    from coach.terminal import colour_depth, has_terminal

    deck = given(file, starter)
    if not has_terminal():
        remedy = "Run it there, or print the questions: coach deck preview --text"
        raise InputError("coach deck show", "this needs a terminal to draw in", remedy)
    open_show(deck, own_pencils(pocket), colour_depth())
