"""``coach deck``: write a deck, look it over, pack it; add one that came, list and drop them."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from coach.commands.course import level_option
from coach.commands.deck.given import given, own_pencils, starter_named
from coach.commands.deck.paper import add_to as add_paper
from coach.commands.deck.photo import add_to as add_photo
from coach.commands.deck.photo import out_of_reach_lines
from coach.commands.deck.show import add_to as add_show
from coach.home import record_open
from coach.output import force_option, rules, write
from coach.reports.deck_words import about, in_short, needs
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.courses.course import Course
    from decks.deck import Deck
    from decks.deck_file import CheckedDeck

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
add_show(command)


@command.command("new")
@click.argument("file")
@_STARTER
@force_option
@rules
def new(file: str, starter: str | None, force: bool) -> None:
    """Write a commented example to FILE, to change by hand. - prints it.

    With --starter, a copy of a starter deck is written instead.
    """
    from decks.pack import written
    from decks.template import TEMPLATE

    text = TEMPLATE if starter is None else written(starter_named(starter))
    if file == "-":
        click.echo(text, nl=False)
        return
    write(file, [text], force=force)
    click.echo(f"{plain(file, 200)} is written. Change it, then: coach deck check {_quoted(file)}")


@command.command("check")
@click.argument("files", nargs=-1, required=True)
def check(files: tuple[str, ...]) -> None:
    """Check FILES, decks or courses: list every fault by line and key, with the remedy.

    A named colour that no pencils known here can make is told of, and what comes nearest: with
    the deck's own pencils, else with yours and those that students sent.
    """
    from coach.commands.course import in_short as course_in_short
    from decks.courses.course_file import CheckedCourse, load_work

    failed = False
    for file in files:
        try:
            found = load_work(file)
        except InputError as error:
            click.echo(f"coach: {error}", err=True)
            failed = True
            continue
        for problem in found.problems:
            click.echo(f"coach: {problem.text(found.source)}", err=True)
        failed = failed or bool(found.problems)
        if isinstance(found, CheckedCourse):
            if found.course is not None:
                click.echo(f"{plain(file, 200)}: sound. {course_in_short(found.course)}")
        elif found.deck is not None:
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
@level_option
@force_option
@rules
def pack(
    file: str,
    out: str | None,
    pencils: str | None,
    pictures: tuple[str, ...],
    level: str | None,
    force: bool,
) -> None:
    """Make the one file to send, of a deck or a course: checked, with its fingerprint."""
    from coach.commands.course import packed as packed_course
    from decks.courses.course import Course
    from decks.lessons.pictures import with_pictures
    from decks.pack import pack as packed
    from decks.pack import with_pencils
    from drills.pencils.file import load_pencils

    work = _work(file, level)
    if isinstance(work, Course):
        if pictures:
            raise click.UsageError("--picture is for a deck of its own, not for a course.")
        packed_course(work, file, out, pencils, force)
        return
    deck = with_pencils(work, None if pencils is None else load_pencils(pencils))
    deck = with_pictures(deck, pictures)
    path = out or str(Path(file).with_suffix("")).removesuffix(".deck") + ".deck.toml"
    write(path, [packed(deck)], force=force)
    click.echo(f"{plain(path, 200)} is ready to send. {in_short(deck)}")
    click.echo(f"Fingerprint {deck.fingerprint[:12]}. Students add it with: coach deck add FILE")


@command.command("add")
@click.argument("file", required=False)
@_STARTER
@level_option
@click.option("--yes", is_flag=True, help="Add it without asking.")
@click.option("--anew", is_flag=True, help="Count nothing that you answered to an older version.")
def add(file: str | None, starter: str | None, level: str | None, yes: bool, anew: bool) -> None:
    """Add a deck or course you were sent, after showing who it is from and what it changes.

    Where only words, days or dates of a deck you have were changed, what you
    answered counts on; with --anew it doesn't.
    """
    from datetime import UTC, datetime

    from coach.commands.course import added
    from coach.teaching.adding import add as take_in
    from coach.teaching.adding import looked_at
    from decks.courses.course import Course

    deck = given(file, starter) if starter or file is None else _work(file, level)
    if isinstance(deck, Course):
        added(deck, yes, anew)
        return
    with record_open(create=True) as record:
        adding = looked_at(record, deck, anew)
        if adding.there:
            click.echo(f"{deck.title} is among your decks already; nothing was changed.")
            return
        for line in adding.words:
            click.echo(line)
        if not yes:
            click.confirm("Add it?", default=True, abort=True)
        take_in(record, adding, datetime.now(UTC))
    click.echo(f"{deck.title} is added. It comes up in your next session: coach")


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
        at = f", {row.course.place.title}, {row.course.place.words.lower()}" if row.course else ""
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


def _work(file: str, level: str | None) -> Deck | Course:
    """The deck or course in a file, a course at its level. Raises InputError."""
    from decks.courses.course_file import CheckedCourse, load_work
    from decks.courses.levels import at_level

    found = load_work(file)
    if isinstance(found, CheckedCourse):
        return found.sound() if level is None else at_level(found.sound(), level)
    if level is not None:
        raise click.UsageError("--level is for a course; this is a deck.")
    return found.sound()


def _quoted(file: str) -> str:
    import shlex

    return shlex.quote(plain(file, 200))
