"""Who is who in a class: who is expected, one student on two machines, names, forgetting one."""

from __future__ import annotations

import click

from coach.teaching.class_opened import class_book
from drills.basics.errors import InputError, plain
from scores.classes.people import SEE_THEM, only_one

MAX_NAMES_BYTES = 200_000


def add_to(group: click.Group) -> None:
    """Join these commands to ``coach class``."""
    for command in (expect, same, apart, name, drop):
        group.add_command(command)


@click.command("expect")
@click.argument("file")
def expect(file: str) -> None:
    """Read the names of the class from FILE, one a line, to see who has not begun.

    Case, accents and the order of words make no other name. Where a name may be a
    student's under a short form, that is told and left to you.
    """
    from coach.reports.classes.people_words import doubt_lines
    from drills.basics.ordinary_file import read_ordinary
    from scores.classes.views import overview
    from scores.exchange.results_written import sound_name

    where = plain(file, 200)
    try:
        text = read_ordinary(file, MAX_NAMES_BYTES, "a list of names").decode("utf-8-sig")
    except UnicodeDecodeError:
        raise InputError(where, "it is not UTF-8", "Save it again in UTF-8.") from None
    names = []
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip():
            try:
                names.append(sound_name(line))
            except ValueError as error:
                raise InputError(f"{where}, line {number}", str(error), "Mend it.") from None
    with class_book(create=True) as book:
        book.expect(names)
        doubts = overview(book).doubts
    click.echo(f"{len(names)} names are expected.")
    for line in doubt_lines(doubts, []):
        click.echo(line)


@click.command("same")
@click.argument("student")
@click.argument("other")
def same(student: str, other: str) -> None:
    """Take STUDENT and OTHER as one, who practises on two machines.

    Each is a name, a name as class show tells it apart, or two words that
    stand for an id. Where two have one name, give it twice. Undo it with: coach class apart
    """
    from scores.classes.people import find, join
    from scores.classes.person import id_words

    with class_book() as book:
        found = find(book, student)
        if student == other and len(found) == 2:
            one, two = found
        else:
            one, two = only_one(book, student), only_one(book, other)
        if one.id == two.id:
            raise InputError(
                f"“{plain(student, 40)}” and “{plain(other, 40)}”",
                "they are one student already",
                SEE_THEM,
            )
        join(book, one, two)
        (joined,) = [each for each in find(book, one.id) if two.id in each.ids]
    names = " and ".join(dict.fromkeys((one.name, two.name)))
    click.echo(f"{names}: one student from now on, {joined.name}. Undo: coach class apart NAME")
    click.echo("Machines: " + ", ".join(id_words(identity) for identity in joined.ids))


@click.command("apart")
@click.argument("student")
def apart(student: str) -> None:
    """Undo class same: each machine of STUDENT is a student again.

    With a machine's two words (coach class same tells them), it alone is taken out.
    """
    from scores.classes.people import ID_LEAST, part
    from scores.classes.person import id_words

    with class_book() as book:
        person = only_one(book, student)
        if len(person.ids) == 1:
            raise InputError(
                f"student “{plain(student, 40)}”", "was not joined to another", SEE_THEM
            )
        start = student.strip().casefold()
        ids = [
            one
            for one in person.ids
            if id_words(one) == start or (len(start) >= ID_LEAST and one.startswith(start))
        ]
        part(book, person, ids or person.ids)
    click.echo(f"{person.name}: apart again, {len(person.ids)} machines.")


@click.command("name")
@click.argument("student")
@click.argument("called", required=False)
def name(student: str, called: str | None) -> None:
    """Call STUDENT by a name of yours, CALLED; without it, as their files say again."""
    from scores.classes.people import call, find
    from scores.exchange.results_written import sound_name

    with class_book() as book:
        person = only_one(book, student)
        try:
            call(book, person, "" if called is None else sound_name(called))
        except ValueError as error:
            if isinstance(error, InputError):
                raise
            raise InputError("the name", str(error), "Choose another.") from None
        (now,) = [one for one in find(book, person.id) if one.id == person.id]
    click.echo(f"{person.name} is called {now.name} in this class.")


@click.command("drop")
@click.argument("student")
@click.option("--yes", is_flag=True, help="Without asking.")
def drop(student: str, yes: bool) -> None:
    """Delete all answers of STUDENT: a name, as class show tells it."""
    with class_book() as book:
        person = only_one(book, student)
        if not yes:
            click.confirm(f"Forget {person.name} and every answer of theirs?", abort=True)
        book.drop(person.id)
    click.echo(f"{person.name} is forgotten. The files that they sent are yours to delete.")
