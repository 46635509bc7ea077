"""``coach scores``: your own record, and the part of it that you choose to share.

Other commands on the record join this group.
"""

from __future__ import annotations

import click

from coach.commands.scores.data import add_to
from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.counted import counted
from drills.basics.errors import plain


@click.group("scores", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """Your record is yours: export it, copy it, put a copy back, share a part, forget it."""
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


add_to(command)


@command.command("share")
@click.argument("deck")
@click.option("-o", "--out", help="The file to write; named after you and the deck if left out.")
@click.option("--name", help="The name your teacher will know you by; any you like.")
@click.option(
    "--json", "--show", "show", is_flag=True, help="Print the whole file, and write nothing."
)
@click.option("--pencils", is_flag=True, help="Put the colours of your pencils in as well.")
@click.option("--yes", is_flag=True, help="Write it without asking.")
@force_option
@rules
def share_deck(
    deck: str,
    out: str | None,
    name: str | None,
    show: bool,
    pencils: bool,
    yes: bool,
    force: bool,
) -> None:
    """Write one file with your answers to DECK, and nothing else of your record.

    DECK is its title, the beginning of it, or the first letters of its
    fingerprint (coach deck list). You are told what is in the file before it is
    written; --json prints it in full. With --pencils your teacher can choose
    colours that your pencils reach. Nothing is sent: mail the file, or put it
    where your teacher looks.
    """
    from coach.clock import local_now
    from coach.home import record_path
    from coach.teaching.sharing import file_name, keep_name, known_name, made_of, shown
    from scores.record.decks_added import find_deck
    from scores.record.record import Record

    record = Record.open(record_path(), create=False)
    try:
        kept = find_deck(record, deck)
        given = known_name(record) if name is None else name
        if name is None and not given:
            given = click.prompt("A name for your teacher (not your own, if you like)")
        made = made_of(record, kept, keep_name(record, given), local_now(), pencils)
        if show:
            click.echo(made.text, nl=False)
            return
        path = out or file_name(keep_name(record, given), kept.title)
        checked(path, force=force)
        for line in shown(made):
            click.echo(line)
        if not yes:
            click.confirm(f"Write {plain(path, 200)}?", default=True, abort=True)
        write(path, [made.text], force=force)
    finally:
        close_and_say(record)
    answers = counted(made.answers + made.on_paper, "answer")
    click.echo(f"{plain(path, 200)} is written: {answers}. Send it to your teacher.")
