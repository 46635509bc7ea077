"""``coach deck``: write a deck, look it over, pack it; add one that came, list and drop them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from coach.commands.deck.given import given, own_pencils, starter_named
from coach.commands.deck.paper import add_to as add_paper
from coach.commands.deck.photo import add_to as add_photo
from coach.commands.deck.photo import out_of_reach_lines
from coach.home import close_and_say
from coach.output import force_option, rules, write
from coach.reports.deck_words import about, in_short, needs
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.deck_file import CheckedDeck
    from scores.record.record import Record

_STARTER = click.option("--starter", metavar="NAME", help="A starter deck: coach deck starters")
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


add_paper(command)
add_photo(command)


@command.command("new")
@click.argument("file")
@_STARTER
@force_option
@rules
def new(file: str, starter: str | None, force: bool) -> None:
    """Write a commented example to FILE, to change by hand. - prints it.

    With --starter, a copy of a starter deck is written instead.
    """
    from decks.starters import FOLDER
    from decks.template import TEMPLATE

    text = TEMPLATE
    if starter is not None:
        starter_named(starter)
        text = (FOLDER / f"{starter}.toml").read_text(encoding="utf-8")
    if file == "-":
        click.echo(text, nl=False)
        return
    write(file, [text], force=force)
    click.echo(f"{plain(file, 200)} is written. Change it, then: coach deck check {_quoted(file)}")


@command.command("check")
@click.argument("files", nargs=-1, required=True)
def check(files: tuple[str, ...]) -> None:
    """Check FILES: list every fault by line and key, with the remedy.

    A named colour that no pencils known here can make is told of, and what comes nearest: with
    the deck's own pencils, else with yours and those that students sent.
    """
    failed = False
    for file in files:
        try:
            found = _load(file)
        except InputError as error:
            click.echo(f"coach: {error}", err=True)
            failed = True
            continue
        for problem in found.problems:
            click.echo(f"coach: {problem.text(found.source)}", err=True)
        if found.deck is None:
            failed = True
        else:
            click.echo(f"{plain(file, 200)}: sound. {in_short(found.deck)}")
            for line in (*needs(found.deck), *out_of_reach_lines(found.deck)):
                click.echo(line)
    if failed:
        sys.exit(2)


@command.command("preview")
@click.argument("file", required=False)
@_STARTER
@click.option("--pocket", is_flag=True, help="With the 12 invented pencils, not those in use.")
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
    ready = ready_deck(deck, prepare(own_pencils(pocket)), kinds)
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


@command.command("pack")
@click.argument("file")
@click.option("-o", "--out", help="The file to write: FILE with .deck.toml, unless named.")
@click.option("--pencils", help="A pencils file (CSV) to put inside, for every student alike.")
@click.option(
    "--picture",
    "pictures",
    metavar="STEP=FILE",
    multiple=True,
    help="A picture for a lesson, made small: 1=jug.jpg is the first step's.",
)
@force_option
@rules
def pack(
    file: str, out: str | None, pencils: str | None, pictures: tuple[str, ...], force: bool
) -> None:
    """Make the one file to send: checked, self-contained, with its fingerprint."""
    from decks.lessons.pictures import with_pictures
    from decks.pack import pack as packed
    from decks.pack import with_pencils
    from drills.pencils.file import load_pencils

    deck = _load(file).sound()
    deck = with_pencils(deck, None if pencils is None else load_pencils(pencils))
    deck = with_pictures(deck, pictures)
    path = out or str(Path(file).with_suffix("")).removesuffix(".deck") + ".deck.toml"
    write(path, [packed(deck)], force=force)
    click.echo(f"{plain(path, 200)} is ready to send. {in_short(deck)}")
    click.echo(f"Fingerprint {deck.fingerprint[:12]}. Students add it with: coach deck add FILE")


@command.command("add")
@click.argument("file", required=False)
@_STARTER
@click.option("--yes", is_flag=True, help="Add it without asking.")
@click.option("--anew", is_flag=True, help="Count nothing that you answered to an older version.")
def add(file: str | None, starter: str | None, yes: bool, anew: bool) -> None:
    """Add a deck you were sent, after showing who it says it is from and what it changes.

    Where only words, days or dates of a deck you have were changed, what you
    answered counts on; with --anew it doesn't.
    """
    from datetime import UTC, datetime

    from coach.teaching.adding import add as take_in
    from coach.teaching.adding import looked_at

    deck = given(file, starter)
    record = _open(create=True)
    try:
        adding = looked_at(record, deck, anew)
        if adding.there:
            click.echo(f"{deck.title} is among your decks already; nothing was changed.")
            return
        for line in adding.words:
            click.echo(line)
        if not yes:
            click.confirm("Add it?", default=True, abort=True)
        take_in(record, adding, datetime.now(UTC))
    finally:
        close_and_say(record)
    click.echo(f"{deck.title} is added. It comes up in your next session: coach")


@command.command("list")
def list_decks() -> None:
    """The decks you have added, and how far each has come."""
    from coach.clock import local_now
    from coach.session.assigned.deck_progress import standing
    from coach.session.today_plan import kinds_stamp

    record = _open(create=False)
    try:
        pencils = record.active_pencils()
        rows = standing(record, pencils.fingerprint if pencils else "", kinds_stamp(), local_now())
    finally:
        close_and_say(record)
    if not rows:
        click.echo("No deck yet. Add one with: coach deck add FILE")
    for row in rows:
        click.echo(f"{row.deck.title} ({row.deck.author}): {row.words}  {row.fingerprint[:8]}")


@command.command("drop")
@click.argument("deck")
def drop(deck: str) -> None:
    """Take DECK out of your decks. What you answered stays in your record."""
    from scores.record.decks_added import drop_deck, find_deck
    from scores.record.record import NotSavedError

    record = _open(create=False)
    try:
        kept = find_deck(record, deck)
        drop_deck(record, kept.fingerprint)
    except NotSavedError as error:
        raise InputError("the record", f"it was not dropped: {error}", "Try again.") from error
    finally:
        close_and_say(record)
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
    from decks.starters import starter_names, title_and_purpose

    for name in starter_names():
        title, purpose = title_and_purpose(name)
        click.echo(f"{name:18} {title}: {purpose}.")


@command.command("schema")
def schema() -> None:
    """Print the JSON Schema of a deck, for editors that check as you write."""
    from decks.form import schema_text

    click.echo(schema_text(), nl=False)


def _load(file: str) -> CheckedDeck:
    from decks.deck_file import load_deck

    return load_deck(file)


def _open(create: bool) -> Record:
    from coach.home import record_path
    from scores.record.record import Record

    return Record.open(record_path(), create=create or not record_path().exists())


def _quoted(file: str) -> str:
    import shlex

    return shlex.quote(plain(file, 200))
