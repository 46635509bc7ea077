"""``coach course``: write a course of decks, look it over, pack it; add one, list and drop them."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from coach.commands.course_paper import add_to as add_paper
from coach.home import record_open
from coach.output import force_option, rules, write
from coach.reports.deck_words import about_course, deck_lines, level_line
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.courses.course import Course

_STARTER = click.option("--starter", metavar="NAME", help="A starter course: coach course starters")
level_option = click.option("--level", metavar="NAME", help="One of the course's levels.")


@click.group("course", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """A month or more of practice: decks in an order, each opening once what it needs is passed.

    A course is one text file (TOML). A teacher writes one with new, check, show
    and pack; a student uses add, list and drop. A level, chosen with pack or add,
    makes it lighter or fuller for a group or one student.
    """
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


add_paper(command)


@command.command("new")
@click.argument("file")
@click.option("--starter", metavar="NAME", default="first-month", help="Which one to copy.")
@force_option
@rules
def new(file: str, starter: str, force: bool) -> None:
    """Write a copy of a starter course to FILE, to change by hand. - prints it."""
    from coach.commands.deck.given import starter_course_named
    from decks.starters import starter_text

    text = starter_text(starter_course_named(starter))
    if file == "-":
        click.echo(text, nl=False)
        return
    write(file, [text], force=force)
    click.echo(f"{plain(file, 200)} is written. Change it, then: coach course check FILE")


@command.command("check")
@click.argument("files", nargs=-1, required=True)
def check(files: tuple[str, ...]) -> None:
    """Check FILES: list every fault by line and key, with the remedy."""
    from decks.courses.course_file import load_course

    failed = False
    for file in files:
        try:
            found = load_course(file)
        except InputError as error:
            click.echo(f"coach: {error}", err=True)
            failed = True
            continue
        for problem in found.problems:
            click.echo(f"coach: {problem.text(found.source)}", err=True)
        if found.course is None:
            failed = True
        else:
            click.echo(f"{plain(file, 200)}: sound. {in_short(found.course)}")
    if failed:
        sys.exit(2)


@command.command("show")
@click.argument("file", required=False)
@_STARTER
@level_option
def show(file: str | None, starter: str | None, level: str | None) -> None:
    """What a course asks, deck by deck and step by step, and what to try on paper."""
    from coach.commands.deck.given import given_course

    course = given_course(file, starter, level)
    click.echo(about_course(course))
    click.echo(level_line(course))
    for one, line in zip(course.decks, deck_lines(course), strict=True):
        click.echo(f"\n{line.strip()}")
        for step in one.deck.steps:
            click.echo(f"    Day {step.day}: {step.title}")
            paper = " ".join(step.on_paper.split())
            if paper:
                click.echo(f"      On paper: {paper}")


@command.command("pack")
@click.argument("file")
@click.option("-o", "--out", help="The file to write: FILE with .course.toml, unless named.")
@click.option("--pencils", help="A pencils file (CSV) to put inside, for every student alike.")
@level_option
@force_option
@rules
def pack(file: str, out: str | None, pencils: str | None, level: str | None, force: bool) -> None:
    """Make the one file to send: checked, self-contained, with its fingerprint.

    With --level it is given at that level; make one file a group.
    """
    from coach.commands.deck.given import given_course

    packed(given_course(file, None, level), file, out, pencils, force)


def packed(course: Course, file: str, out: str | None, pencils: str | None, force: bool) -> None:
    """Write the course's one file. Raises InputError."""
    from coach.teaching.sharing import file_word
    from decks.courses.course_pack import course_with_pencils, pack_course
    from drills.pencils.file import load_pencils

    if pencils is not None:
        course = course_with_pencils(course, load_pencils(pencils))
    stem = file.removesuffix(".toml").removesuffix(".course")
    at = f"-{file_word(course.level)}" if course.level else ""
    path = out or f"{stem}{at}.course.toml"
    write(path, [pack_course(course)], force=force)
    click.echo(f"{plain(path, 200)} is ready to send. {in_short(course)}")
    click.echo("Students add it with: coach course add FILE, or a in the app")


@command.command("add")
@click.argument("file", required=False)
@_STARTER
@level_option
@click.option("--yes", is_flag=True, help="Add it without asking.")
@click.option("--anew", is_flag=True, help="Count nothing of an older version of it.")
def add(file: str | None, starter: str | None, level: str | None, yes: bool, anew: bool) -> None:
    """Add a course you were sent, after showing who it says it is from and what it changes.

    What you passed of it stays passed, also at another level; with --anew it doesn't.
    """
    from coach.commands.deck.given import given_course

    added(given_course(file, starter, level), yes, anew)


def added(course: Course, yes: bool, anew: bool) -> None:
    """Show what adding the course would change, ask, and add it. Raises InputError."""
    from coach.clock import local_now
    from coach.teaching.adding_course import add_course, course_looked_at

    with record_open(create=True) as record:
        adding = course_looked_at(record, course, local_now(), anew)
        if adding.there and not anew:
            click.echo(f"{course.title} is among your courses already; nothing was changed.")
            return
        for line in adding.words:
            click.echo(line)
        if not yes:
            click.confirm("Add it?", default=True, abort=True)
        add_course(record, adding, local_now())
    click.echo(f"{course.title} is added. Its first deck comes up in your next session: coach")


@command.command("list")
def list_courses() -> None:
    """The courses you have added, deck by deck, and how far each has come."""
    from coach.clock import local_now
    from coach.session.assigned.course_work import courses, place_words
    from coach.session.assigned.deck_progress import standing
    from coach.session.today_plan import kinds_stamp

    with record_open(create=False) as record:
        pencils = record.active_pencils()
        rows = standing(record, pencils.fingerprint if pencils else "", kinds_stamp(), local_now())
    found = courses(rows)
    if not found:
        click.echo("No course yet. Add one with: coach course add FILE, or --starter NAME")
    for course in found:
        level = f", level: {course.level}" if course.level else ""
        click.echo(f"{course.title} ({course.decks[0].deck.author}){level}")
        for one in course.decks:
            click.echo(f"  {place_words(one)}: {one.deck.title}: {one.words}")


@command.command("drop")
@click.argument("course")
def drop(course: str) -> None:
    """Take COURSE (its title, or the beginning) out. Your answers stay in your record."""
    from coach.teaching.adding_course import course_named, drop_course

    with record_open(create=False) as record:
        title, decks = course_named(record, course)
        drop_course(record, decks)
    click.echo(f"{plain(title)} is dropped. Your answers stay in your record.")


@command.command("starters")
def starters() -> None:
    """The starter courses that come with the coach."""
    from decks.starters import starter_courses, title_and_purpose

    for name in starter_courses():
        title, purpose = title_and_purpose(name)
        click.echo(f"{name:14} {title}: {purpose}.")


@command.command("schema")
def schema() -> None:
    """Print the JSON Schema of a course, for editors that check as you write."""
    from decks.courses.form import schema_text

    click.echo(schema_text(), nl=False)


def in_short(course: Course) -> str:
    """A course in one line."""
    level = f", level {course.level}" if course.level else ""
    titles = ", ".join(one.deck.title for one in course.decks)
    return f"“{course.title}”{level}: {len(course.decks)} decks: {titles}."
