"""``coach class``: merge what students sent, see who needs what, report and export it."""

from __future__ import annotations

import csv
import json
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING

import click

from coach.home import class_path
from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.classes.store import ClassBook

_DECK = click.option("--deck", metavar="DECK", help="One deck only: its title or fingerprint.")
MAX_NAMES_BYTES = 200_000


@click.group("class", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """Results that students sent back: merge them, and see who is weak at what.

    Results are the students' word: each owns the machine they practise on. A
    file's digest finds damage, not cheating.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


@command.command("add")
@click.argument("files", nargs=-1)
@click.option("--deck", "decks", multiple=True, help="A deck's file: only its results are taken.")
def add(files: tuple[str, ...], decks: tuple[str, ...]) -> None:
    """Merge results FILES; the order and repetition of them change nothing.

    A file that can't be used is named with the reason, and the others are still
    merged; the exit status is then 2. With --deck the class is given a deck:
    from then on only results of the decks given are taken.
    """
    from coach.clock import local_now
    from scores.exchange.results_read import load_results

    if not files and not decks:
        raise click.UsageError("give the files that students sent, or a --deck.")
    failed = 0
    new = 0
    with _book(create=True) as book:
        for file in decks:
            _give(book, file)
        for file in files:
            try:
                added = book.add(load_results(file, local_now()), file)
            except InputError as error:
                click.echo(f"coach: {error}", err=True)
                failed += 1
                continue
            new += added.new
            late = ""
            if added.not_counted:
                late = f"; {added.not_counted} not counted, dated in the future or long past"
            click.echo(
                f"{plain(file, 200)}: {added.student}, {added.deck}:"
                f" {added.new} new of {added.given} answers{late}"
            )
    if files:
        click.echo(f"{new:,} answers added from {len(files) - failed} of {len(files)} files.")
    if failed:
        sys.exit(2)


@command.command("show")
@_DECK
def show(deck: str | None) -> None:
    """The class in the terminal: who has not begun, students and skills by need, mix-ups."""
    from scores.classes.views import GLYPHS, mixups, overview, shade

    with _book() as book:
        view = overview(book, _fingerprint(book, deck))
        mixed = mixups(book, _fingerprint(book, deck))
    click.echo(f"{len(view.students)} students, {view.tries:,} answers")
    if view.not_begun:
        click.echo("Not begun: " + ", ".join(view.not_begun))
    for line in view.students:
        reach = "  –" if line.need is None else f"{100 * (1 - line.need):3.0f}"
        glyph = " " if line.need is None else GLYPHS[shade(1 - line.need)]
        weak = "; ".join(f"{kind} {region}" for kind, region in line.weakest[:2])
        click.echo(f"{glyph} {reach}  {line.name:24} {line.tries:6} answers  {weak}")
    for one in mixed[:5]:
        click.echo(f"{one.truth} taken for {one.said}: {one.tries} of {one.asked} times")


@command.command("expect")
@click.argument("file")
def expect(file: str) -> None:
    """Read the names of the class from FILE, one a line, to see who has not begun."""
    from drills.basics.ordinary_file import read_ordinary
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
    with _book(create=True) as book:
        book.expect(names)
    click.echo(f"{len(names)} names are expected.")


@command.command("drop")
@click.argument("student")
@click.option("--yes", is_flag=True, help="Without asking.")
def drop(student: str, yes: bool) -> None:
    """Delete all answers of STUDENT: a name, or the first letters of an id."""
    with _book() as book:
        found = book.find_students(student)
        where = f"student “{plain(student, 40)}”"
        if not found:
            raise InputError(where, "there is no such student", "See them with: coach class show")
        if len(found) > 1:
            ids = ", ".join(identity[:8] for identity, _ in found)
            raise InputError(where, "more than one student has this name", f"Say which: {ids}.")
        ((identity, name),) = found
        if not yes:
            click.confirm(f"Forget {name} and every answer of theirs?", abort=True)
        book.drop(identity)
    click.echo(f"{name} is forgotten. The files that they sent are yours to delete.")


@command.command("report")
@click.argument("file")
@_DECK
@force_option
@rules
def report(file: str, deck: str | None, force: bool) -> None:
    """Write the class report to FILE: one HTML page for the browser or the printer."""
    from coach.clock import local_now
    from coach.reports.class_page import page, report_of
    from coach.version import app_version
    from drills.kinds import all_kinds

    checked(file, "class report", force)
    titles = {name: kind.title for name, kind in all_kinds().items()}
    with _book() as book:
        text = page(report_of(book, _fingerprint(book, deck)), local_now(), titles, app_version())
    write(file, [text], "class report", force)
    click.echo(f"{plain(file, 200)} is written. Open it in a browser, or print it.")


@command.command("export")
@click.option("--csv", "form", flag_value="csv", help="A table, one answer a row.")
@click.option("--xapi", "form", flag_value="xapi", help="A JSON list of xAPI statements.")
@click.option("-o", "--out", default="-", help="The file to write; standard output if left out.")
@_DECK
@force_option
@rules
def export(form: str | None, out: str, deck: str | None, force: bool) -> None:
    """Write every answer as --csv or --xapi."""
    if form is None:
        raise click.UsageError("say --csv or --xapi.")
    with _book() as book:
        wanted = _fingerprint(book, deck)
        rows = _csv(book, wanted) if form == "csv" else _xapi(book, wanted)
        if out == "-":
            for text in rows:
                sys.stdout.write(text)
        else:
            write(out, rows, force=force)


@contextmanager
def _book(create: bool = False) -> Iterator[ClassBook]:
    from scores.classes.store import ClassBook
    from scores.record.failures import FAILURES

    book = ClassBook.open(class_path(), create=create)
    try:
        yield book
    except (InputError, OSError, UnicodeEncodeError):
        raise
    except (*FAILURES, ValueError, TypeError, KeyError, IndexError, OverflowError) as error:
        # Bytes changed by a failing disk may read as anything.
        raise InputError(
            plain(str(class_path()), 200),
            "the class is damaged",
            "Move it away, and add the files that students sent again.",
        ) from error
    finally:
        book.close()


def _give(book: ClassBook, file: str) -> None:
    from decks.deck_file import load_deck
    from decks.record_form import deck_named

    deck = load_deck(file).sound()
    book.give_deck(deck_named(deck))
    click.echo(f"The class takes results of “{deck.title}” ({deck.fingerprint[:8]}).")


def _fingerprint(book: ClassBook, deck: str | None) -> str:
    """The fingerprint of a deck named by title or fingerprint; empty when none is named."""
    from scores.classes.views import decks

    if deck is None:
        return ""
    wanted = deck.strip().casefold()
    found = [
        line.fingerprint
        for line in decks(book)
        if line.title.casefold() == wanted
        or (len(wanted) >= 4 and line.fingerprint.startswith(wanted))
    ]
    if len(found) == 1:
        return found[0]
    where = f"deck “{plain(deck, 60)}”"
    if found:
        ids = ", ".join(name[:8] for name in found)
        raise InputError(where, "more than one deck has this name", f"Say which: {ids}.")
    names = ", ".join(line.title for line in decks(book)) or "none yet"
    raise InputError(where, "the class has no such deck", f"There are: {names}.")


_COLUMNS = (
    *("student", "student_id", "deck", "kind", "region", "target", "at_utc", "score", "right"),
    *("seconds", "level", "truth", "said", "id"),
)


def _csv(book: ClassBook, deck: str) -> Iterator[str]:
    import io

    from scores.exchange.xapi import FAMILIES

    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(_COLUMNS)
    for one, name in book.answers([deck] if deck else ()):
        writer.writerow(
            [
                _cell(name),
                one.student,
                one.deck,
                one.kind,
                one.region,
                _cell(one.target),
                one.at.isoformat(timespec="milliseconds"),
                one.score,
                int(one.right),
                one.seconds,
                round(one.level, 4),
                FAMILIES[one.truth] if one.truth >= 0 else "",
                FAMILIES[one.said] if one.said >= 0 else "",
                one.id,
            ]
        )
        if out.tell() > 65_536:
            yield out.getvalue()
            out.seek(0)
            out.truncate()
    yield out.getvalue()


def _cell(text: str) -> str:
    """A text that no spreadsheet takes for a formula."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@") else text


def _xapi(book: ClassBook, deck: str) -> Iterator[str]:
    from scores.exchange.xapi import statement_of

    yield "["
    between = "\n"
    for one, name in book.answers([deck] if deck else ()):
        yield between + json.dumps(statement_of(one, name), ensure_ascii=False)
        between = ",\n"
    yield "\n]\n"
