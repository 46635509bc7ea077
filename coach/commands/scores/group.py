"""``coach scores``: your own record, and the part of it that you choose to share.

Other commands on the record join this group.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import click

from coach.commands.scores.data import add_to
from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from coach.version import app_version
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.exchange.results_written import DeckNamed, Share
    from scores.record.record import Record


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
@click.option("--show", is_flag=True, help="Print all that would be written, and write nothing.")
@click.option("--yes", is_flag=True, help="Write it without asking.")
@force_option
@rules
def share_deck(
    deck: str, out: str | None, name: str | None, show: bool, yes: bool, force: bool
) -> None:
    """Write one file with your answers to DECK, and nothing else of your record.

    DECK is its title, the beginning of it, or the first letters of its
    fingerprint (coach deck list). You are shown what is in the file before
    it is written. Nothing is sent: mail the file, or put it where your
    teacher looks.
    """
    from decks.record_form import before_of, deck_named, from_kept
    from scores.record.decks_added import find_deck

    record = _open()
    try:
        kept = find_deck(record, deck)
        known = from_kept(kept.content)
        if known is None:
            raise InputError(plain(kept.title), "the deck kept can't be read", "Add it again.")
        pseudonym = _name(record, name)
        made = _made(record, deck_named(known), before_of(kept.content), pseudonym)
        if show:
            click.echo(made.text, nl=False)
            return
        path = out or f"{_file_word(pseudonym)}-{_file_word(known.title)}.results.json"
        checked(path, force=force)
        for line in shown(made):
            click.echo(line)
        if not yes:
            click.confirm(f"Write {plain(path, 200)}?", default=True, abort=True)
        write(path, [made.text], force=force)
    finally:
        close_and_say(record)
    click.echo(f"{plain(path, 200)} is written: {made.answers} answers. Send it to your teacher.")


def shown(made: Share) -> list[str]:
    """What is in a results file, for the student to see before it is written."""
    said = made.results
    deck, student, summary = said["deck"], said["student"], said["summary"]
    statements = said["statements"]
    assert isinstance(deck, dict)
    assert isinstance(student, dict)
    assert isinstance(summary, dict)
    assert isinstance(statements, list)
    days, skills = summary["days"], summary["skills"]
    assert isinstance(days, dict)
    assert isinstance(skills, list)
    lines = [
        "This is all that will be shared:",
        f"  your name:  {student['name']}, and a random number that stays yours: {student['id']}",
        f"  the deck:   {deck['title']}, from {deck['author']}, {str(deck['fingerprint'])[:12]}",
        f"  the coach:  version {said['app']}, and when this file was made: {said['made']}",
        f"  in sum:     {summary['answers']} answers, {summary['right']} right, on {len(days)}"
        f" days, {float(str(summary['seconds'])) / 60:.0f} minutes",
    ]
    for skill in skills:
        assert isinstance(skill, dict)
        lines.append(
            f"    {skill['kind']}, {skill['region']}: {skill['answers']} answers,"
            f" mean grade {skill['mean_score']}"
        )
    if made.left_out:
        lines.append(f"  (the {made.left_out} oldest answers are left out: a file has a limit)")
    if statements:
        lines.append(f"  and each answer, {len(statements)} in all. The first, as it will stand:")
        lines += [
            f"    {plain(line, 200)}"
            for line in json.dumps(statements[0], ensure_ascii=False, indent=1).splitlines()
        ]
    lines.append("  Nothing else of your record is in it. All of it in full: --show")
    return lines


def _made(record: Record, deck: DeckNamed, before: tuple[str, ...], pseudonym: str) -> Share:
    """The results file, with what was answered before words of the deck were changed."""
    from dataclasses import replace

    from coach.clock import local_now
    from scores.exchange.results_written import share
    from scores.record.queries import deck_attempts

    student = _student(record)
    attempts = [
        replace(one, deck=deck.fingerprint)
        for name in (deck.fingerprint, *before)
        for one in deck_attempts(record, name)
    ]
    attempts.sort(key=lambda one: one.at_utc)
    pencils = record.active_pencils()
    name = pencils.name if pencils else ""
    return share(attempts, deck, student, pseudonym, app_version(), local_now(), name)


def _name(record: Record, given: str | None) -> str:
    """The pseudonym: as given, else as last time, else asked for; kept for the next time."""
    from scores.exchange.results_written import sound_name
    from scores.record.record import NotSavedError

    last = record.setting("pseudonym")
    if given is None:
        given = last if isinstance(last, str) else None
    if given is None:
        given = click.prompt("A name for your teacher to know you by (not your own, if you like)")
    try:
        name = sound_name(given)
    except ValueError as error:
        raise InputError("the name", str(error), "Choose another: --name") from None
    if name != last:
        try:
            record.set_setting("pseudonym", name)
        except NotSavedError as error:
            raise InputError("the record", f"the name was not kept: {error}", "") from error
    return name


def _student(record: Record) -> str:
    """The random number by which later files are known to be the same student's."""
    from uuid import UUID, uuid4

    from scores.record.record import NotSavedError

    kept = record.setting("student")
    try:
        return str(UUID(str(kept)))
    except ValueError:
        fresh = str(uuid4())
    try:
        record.set_setting("student", fresh)
    except NotSavedError as error:
        raise InputError("the record", f"nothing can be kept: {error}", "") from error
    return fresh


def _file_word(text: str) -> str:
    """A text as part of a file's name: letters, digits and hyphens."""
    word = "".join(char if char.isalnum() else "-" for char in text.lower())
    return "-".join(filter(None, word.split("-")))[:40] or "mine"


def _open() -> Record:
    from coach.home import record_path
    from scores.record.record import Record

    return Record.open(record_path(), create=False)
