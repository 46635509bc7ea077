"""``coach deck``: write a deck, look it over, pack it; add one that came, list and drop them."""

from __future__ import annotations

import click

from coach.commands.deck.given import (
    given,
    own_pencils,
    pocket_option,
    screen_lines,
    starter_named,
    starter_option,
    starters_lines,
    write_new,
)
from coach.commands.deck.paper import add_to as add_paper
from coach.commands.deck.photo import add_to as add_photo
from coach.commands.deck.show import add_to as add_show
from coach.commands.deck.work import add_to as add_work
from coach.home import record_open
from coach.output import force_option, rules
from coach.reports.deck_words import about, needs
from drills.basics.errors import InputError, plain

PREVIEW_LINES = 12


@click.group("deck", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """Practice that a teacher assigns: make a deck and send it, or add one you were sent.

    A deck is a text file (TOML). A teacher writes one with new, check, preview
    and pack; a student uses add, list and drop. DECK is a deck's title, the
    beginning of it, or the first letters of its fingerprint.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


add_work(command)
add_paper(command)
add_photo(command)
add_show(command)


@command.command("new")
@click.argument("file")
@starter_option
@force_option
@rules
def new(file: str, starter: str | None, force: bool) -> None:
    """Write a commented example to FILE, to change by hand. - prints it.

    With --starter, a copy of a starter deck is written instead.
    """
    from decks.pack import written
    from decks.template import TEMPLATE

    text = TEMPLATE if starter is None else written(starter_named(starter))
    write_new(file, text, force, "deck")


@command.command("preview")
@click.argument("file", required=False)
@starter_option
@pocket_option
@click.option("--all", "every", is_flag=True, help="Every task, not the first dozen.")
@click.option("--text", "as_text", is_flag=True, help="Print it, rather than open the app.")
def preview(
    file: str | None, starter: str | None, pocket: bool, every: bool, as_text: bool
) -> None:
    """What a student would be asked: one question for each thing the deck practises.

    Opens the app on the deck alone, and keeps nothing; without a terminal, or
    with --text, prints the questions.
    """
    from coach.terminal import colour_depth, has_terminal

    if has_terminal() and not as_text and not every:
        from coach.deck_preview import open_preview

        open_preview(given(file, starter), own_pencils(pocket), colour_depth())
        return
    from coach.session.assigned.deck_questions import preview as questions
    from coach.session.assigned.deck_questions import ready_deck
    from drills.kinds import all_kinds
    from drills.layering.palette import prepare

    deck = given(file, starter)
    kinds = all_kinds()
    own = prepare(own_pencils(pocket))
    ready = ready_deck(deck, own, kinds)
    for line in (about(deck), *needs(deck)):
        click.echo(line)
    if not ready.tasks:
        raise InputError(
            plain(file or str(starter), 200),
            f"{plain(ready.palette.set.name)} can't be asked for any of it",
            "Name other families or kinds, or put a set inside: coach deck pack --pencils",
        )
    click.echo(f"With {plain(ready.palette.set.name)}, {len(ready.tasks)} things to practise:")
    for number, question in enumerate(questions(ready, kinds, seed=1)):
        if number == PREVIEW_LINES and not every:
            click.echo(f"  … and {len(ready.tasks) - number} more: --all shows them.")
            break
        named = question.facts.get("named")
        what = f"{question.region}: {named}" if named else question.region
        asked = kinds[question.kind].ask(question, ())
        click.echo(f"  {kinds[question.kind].title} ({plain(what)})")
        if asked is not None:
            choices = " / ".join(plain(choice.text) for choice in asked.choices)
            click.echo(f"    {plain(asked.prompt, 200)} {choices}")
    missed = [t.name for t in deck.targets if t.name not in {task.target for task in ready.tasks}]
    if missed:
        click.echo(f"Mind: these pencils can't be asked for {', '.join(missed)}.")
    for line in screen_lines(deck, own, kinds):
        click.echo(line)


@command.command("list")
def list_decks() -> None:
    """The decks you have added, and how far each has come."""
    from coach.clock import local_now
    from coach.session.assigned.deck_progress import standing
    from coach.session.today_plan import kinds_stamp

    with record_open(create=False) as record:
        pencils = record.active_pencils()
        rows = standing(record, pencils.fingerprint if pencils else "", kinds_stamp(), local_now())
    if not rows:
        click.echo("No deck yet. Add one with: coach deck add FILE")
    for row in rows:
        places = (one.place for one in row.courses)
        at = "".join(f", {one.title}, {one.words.lower()}" for one in places)
        who = f"{row.deck.author}{at}"
        click.echo(f"{row.deck.title} ({who}): {row.words}  {row.fingerprint[:8]}")


@command.command("drop")
@click.argument("deck")
def drop(deck: str) -> None:
    """Take DECK out of your decks. What you answered stays in your record."""
    from scores.record.decks_added import drop_deck, find_deck
    from scores.record.record import NotSavedError

    with record_open(create=False) as record:
        kept = find_deck(record, deck)
        try:
            drop_deck(record, kept.fingerprint)
        except NotSavedError as error:
            raise InputError("the record", f"it was not dropped: {error}", "Try again.") from error
    click.echo(f"{plain(kept.title)} is dropped. Your answers stay in your record.")


@command.command("kinds")
def kinds() -> None:
    """The drill kinds and regions that a deck may name."""
    from decks.vocabulary import region_names
    from drills.kinds import all_kinds

    for name, kind in all_kinds().items():
        click.echo(f"{name:24} {kind.title}: {kind.trains}")
    click.echo("\nFamilies: " + ", ".join(region_names()))


@command.command("starters")
def starters() -> None:
    """The starter decks that come with the coach."""
    from decks.starters import starter_names

    for line in starters_lines(starter_names()):
        click.echo(line)


@command.command("schema")
def schema() -> None:
    """Print the JSON Schema of a deck, for editors that check as you write."""
    from decks.form import schema_text

    click.echo(schema_text(), nl=False)
