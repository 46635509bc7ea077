"""``coach class``: merge what students sent, see who needs what, report and export it."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from coach.commands.class_.people import add_to as add_people
from coach.commands.class_.replies import add_to as add_replies
from coach.output import checked, force_option, rules, write
from coach.teaching.class_opened import class_book
from drills.basics.counted import counted
from drills.basics.errors import plain

if TYPE_CHECKING:
    from scores.classes.standing_lines import ClassStanding
    from scores.classes.store import ClassBook
    from scores.classes.views import ClassView

_DECK = click.option(
    "--deck",
    metavar="DECK",
    help="One deck only: its title, or how that or its fingerprint begins.",
)


@click.group("class", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """Results that students sent back: merge them, and see who is weak at what.

    Results are the students' word: each owns the machine they practise on. A
    file's digest finds damage, not cheating.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


add_people(command)
add_replies(command)


@command.command("add")
@click.argument("files", nargs=-1)
@click.option(
    "--deck", "decks", multiple=True, help="A deck's or course's file: only its results are taken."
)
def add(files: tuple[str, ...], decks: tuple[str, ...]) -> None:
    """Merge results FILES, or all in a folder; order and repetition change nothing.

    A file that can't be used is named with the reason, and the others are still
    merged; the exit status is then 2. With --deck the class is given a deck:
    from then on only results of the decks given are taken.
    """
    from coach.clock import local_now
    from coach.teaching.merging import in_sum, merge, results_in

    if not files and not decks:
        raise click.UsageError("give the files that students sent, or a --deck.")
    files = tuple(name for file in files for name in results_in(file))
    merged = []
    with class_book(create=True) as book:
        for file in decks:
            _give(book, file)
        for one in merge(book, files, local_now()):
            merged.append(one)
            click.echo(one.words if one.used else f"coach: {one.words}", err=not one.used)
    if files:
        click.echo(in_sum(merged))
    if not all(one.used for one in merged):
        sys.exit(2)


@command.command("show")
@_DECK
def show(deck: str | None) -> None:
    """The class in the terminal: who stands where and how sure that is, what it confuses.

    A level runs from 0, a drill's easiest questions, to 100, its hardest; in brackets is
    where it lies nine times in ten.
    """
    from coach.reports.classes import words
    from coach.reports.classes.kinds import kind_titles
    from coach.reports.classes.people_words import doubt_lines
    from scores.classes.courses import courses
    from scores.classes.people import of_one_name
    from scores.classes.standing_lines import PLACES

    with class_book() as book:
        view, standing = _read(book, _fingerprint(book, deck))
        doubts = doubt_lines(view.doubts, of_one_name(book))
        in_courses = courses(book)
    titles = kind_titles() if view.students else {}
    about = f"{view.deck.title}: " if view.deck else ""
    click.echo(f"{about}{counted(len(view.students), 'student')}, {counted(view.tries, 'answer')}")
    if view.not_begun:
        click.echo("Not begun: " + ", ".join(view.not_begun))
    for asked in doubts:
        click.echo(asked)
    click.echo(words.head_words(standing))
    if standing.students and not standing.at("weak"):
        click.echo(words.ALIKE)
    for place in PLACES:
        lines = standing.at(place)
        if lines:
            click.echo(f"\n{words.HEADS[place]} ({len(lines)})")
        for line in lines:
            told = words.place_words(line, titles, named=False)
            level = f"{words.level_words(line):22}"
            click.echo(f"{words.MARKS[place]} {line.name:24} {level} {told}")
    on_paper = words.paper_lines(view.students)
    if on_paper:
        click.echo(f"\nOn paper ({len(on_paper)})")
    for name, told in on_paper:
        click.echo(f"  {name:24} {told}")
    if not view.students:
        return
    for course in in_courses:
        click.echo(f"\n{words.course_head(course)}")
        for text in words.course_lines(course, {one.id: one.name for one in view.students}):
            click.echo(f"  {text}")
    click.echo("\nWhat the class confuses")
    for text in words.confusion_lines(standing.confusions):
        click.echo(f"  {text}")
    harder = words.harder_lines(standing)
    if harder:
        click.echo("\nHarder for the class")
        for text in harder[:3]:
            click.echo(f"  {text}")
    click.echo(f"\n{words.HOW_SURE}")


@command.command("brief")
@_DECK
@click.option("--html", "file", metavar="FILE", help="Write a page for the printer instead.")
@click.option("--size", type=click.Choice(["a4", "letter"]), help="The paper; else your country's.")
@force_option
@rules
def brief(deck: str | None, file: str | None, size: str | None, force: bool) -> None:
    """One page before class: three colours to show, whom to pair, whom to ask, how sure.

    With --html, FILE is a page that prints on one sheet of A4 or Letter.
    """
    import os
    import shutil

    from coach.clock import local_now
    from coach.reports.classes.brief import brief_of
    from coach.reports.classes.brief_page import brief_lines, brief_page, made_words
    from coach.reports.classes.kinds import kind_titles
    from coach.reports.printed.drawing import SIZES, size_here
    from coach.terminal import colour_depth
    from coach.version import app_version

    if file is not None:
        checked(file, "class brief", force)
    with class_book() as book:
        view, standing = _read(book, _fingerprint(book, deck))
    name = view.deck.title if view.deck else "all decks"
    made = brief_of(name, standing, view.not_begun, kind_titles(), view.students)
    if file is None:
        terminal = sys.stdout.isatty()
        columns = min(100, shutil.get_terminal_size().columns if terminal else 80)
        shown = terminal and colour_depth().true_colour
        for line in brief_lines(made, columns, shown):
            click.echo(line)
        return
    paper = SIZES[size] if size else size_here(os.environ)
    text = brief_page(made, paper, made_words(local_now(), app_version()))
    write(file, [text], "class brief", force)
    click.echo(f"{plain(file, 200)} is written. Open it in a browser, or print it.")


@command.command("report")
@click.argument("file")
@_DECK
@force_option
@rules
def report(file: str, deck: str | None, force: bool) -> None:
    """Write the class report to FILE: one HTML page for the browser or the printer."""
    from coach.clock import local_now
    from coach.reports.classes.kinds import kind_scales, kind_titles
    from coach.reports.classes.page import page, report_of
    from coach.version import app_version

    checked(file, "class report", force)
    with class_book() as book:
        made = report_of(book, kind_scales(), _fingerprint(book, deck))
        text = page(made, local_now(), kind_titles(), app_version())
    write(file, [text], "class report", force)
    click.echo(f"{plain(file, 200)} is written. Open it in a browser, or print it.")


@command.command("export")
@click.option("--csv", "form", flag_value="csv", help="A table, one answer a row.")
@click.option("--xapi", "form", flag_value="xapi", help="A JSON list of xAPI statements.")
@click.option(
    "--parquet", "form", flag_value="parquet", help="The same table as --csv, as Apache Parquet."
)
@click.option(
    "--students", "form", flag_value="students", help="A table, one student a row: how each stands."
)
@click.option("--json", "form", flag_value="json", help="How the class stands, as JSON.")
@click.option("-o", "--out", default="-", help="The file to write; standard output if left out.")
@_DECK
@force_option
@rules
def export(form: str | None, out: str, deck: str | None, force: bool) -> None:
    """Write every answer as --csv or --parquet, those given on a screen as --xapi, or how the
    class stands as --students or --json.

    In --csv and --parquet a column says which answers were given on paper. They come last,
    as of noon, without seconds and level. --students and --json count them for each student.
    """
    from coach.reports.classes import export as class_export

    if form is None:
        raise click.UsageError("say --csv, --xapi, --parquet, --students or --json.")
    if form == "parquet":
        _export_parquet(out, deck, force)
        return
    with class_book() as book:
        wanted = _fingerprint(book, deck)
        if form in ("csv", "xapi"):
            rows = (class_export.answers_csv if form == "csv" else class_export.statements)(
                book, wanted
            )
        else:
            from coach.reports.classes.kinds import kind_titles

            view, standing = _read(book, wanted)
            if form == "json":
                rows = iter([class_export.class_json(view, standing, kind_titles())])
            else:
                rows = class_export.students_csv(view, standing, kind_titles())
        if out == "-":
            for text in rows:
                sys.stdout.write(text)
        else:
            write(out, rows, force=force)


def _export_parquet(out: str, deck: str | None, force: bool) -> None:
    from coach.reports.classes.parquet import answers_parquet, check_extra

    if out == "-":
        raise click.UsageError("a Parquet file is no text: name it with -o FILE.")
    check_extra()
    checked(out, force=force)
    with class_book() as book:
        write(out, answers_parquet(book, _fingerprint(book, deck)), force=force)


def _give(book: ClassBook, file: str) -> None:
    from decks.courses.course_file import CheckedCourse, load_work
    from decks.courses.levels import decks_at_level
    from decks.record_form import deck_named

    work = load_work(file)
    if isinstance(work, CheckedCourse):
        course = work.sound()
        for number, deck in enumerate(decks_at_level(course), start=1):
            book.give_deck(deck_named(deck, course.place(number)))
        click.echo(f"The class takes results of “{course.title}”, at any level.")
        return
    deck = work.sound()
    book.give_deck(deck_named(deck))
    click.echo(f"The class takes results of “{deck.title}” ({deck.fingerprint[:8]}).")


def _read(book: ClassBook, deck: str) -> tuple[ClassView, ClassStanding]:
    from coach.reports.classes.kinds import kind_scales
    from scores.classes.standings import class_standing
    from scores.classes.views import overview

    return overview(book, deck), class_standing(book, kind_scales(), deck)


def _fingerprint(book: ClassBook, deck: str | None) -> str:
    """The fingerprint of a deck named by title or fingerprint; empty when none is named."""
    from scores.classes.views import decks
    from scores.exchange.deck_meant import deck_meant

    if deck is None:
        return ""
    found = [(line.fingerprint, line.title) for line in decks(book)]
    names = ", ".join(title for _, title in found) or "none yet"
    return found[deck_meant(deck, found, "the class has no such deck", f"There are: {names}.")][0]
