"""``coach course``: write a course of decks, look it over, pack it; add one, list and drop them."""

from __future__ import annotations

import click

from coach.commands.deck.course_paper import add_to as add_paper
from coach.commands.deck.given import (
    course_option,
    given_course,
    level_option,
    starter_course_named,
    starters_lines,
    write_new,
)
from coach.commands.deck.work import add_to as add_work
from coach.home import record_open
from coach.output import force_option, rules
from coach.reports.deck_words import about_course, deck_lines, level_line
from drills.basics.errors import plain


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


add_work(command)
add_paper(command)


@command.command("new")
@click.argument("file")
@click.option("--starter", metavar="NAME", default="first-month", help="Which one to copy.")
@force_option
@rules
def new(file: str, starter: str, force: bool) -> None:
    """Write a copy of a starter course to FILE, to change by hand. - prints it."""
    from decks.starters import starter_text

    starter_course_named(starter)
    write_new(file, starter_text(starter), force, "course")


@command.command("show")
@click.argument("file", required=False)
@course_option
@level_option
def show(file: str | None, starter: str | None, level: str | None) -> None:
    """What a course asks, deck by deck and step by step, and what to try on paper."""
    course = given_course(file, starter, level)
    click.echo(about_course(course))
    if course.levels:
        click.echo(level_line(course))
    for one, line in zip(course.decks, deck_lines(course), strict=True):
        click.echo(f"\n{line}")
        for step in one.deck.steps:
            click.echo(f"    Day {step.day}: {step.title}")
            paper = " ".join(step.on_paper.split())
            if paper:
                click.echo(f"      On paper: {paper}")


@command.command("list")
def list_courses() -> None:
    """The courses you have added, deck by deck, and how far each has come."""
    from coach.clock import local_now
    from coach.session.assigned.course_work import course_head, course_lines, courses
    from coach.session.assigned.deck_progress import standing
    from coach.session.today_plan import kinds_stamp

    with record_open(create=False) as record:
        pencils = record.active_pencils()
        rows = standing(record, pencils.fingerprint if pencils else "", kinds_stamp(), local_now())
    found = courses(rows)
    if not found:
        click.echo("No course yet. Add one with: coach course add FILE, or --starter NAME")
    for course in found:
        click.echo(course_head(course))
        for line in course_lines(course):
            click.echo(f"  {line}")


@command.command("drop")
@click.argument("course")
def drop(course: str) -> None:
    """Take COURSE (its title, or the beginning) out. Your answers stay in your record."""
    from coach.teaching.adding_course import course_named, drop_course

    with record_open(create=False) as record:
        found, decks = course_named(record, course)
        drop_course(record, found, decks)
    click.echo(f"{plain(found.title)} is dropped. Your answers stay in your record.")


@command.command("starters")
def starters() -> None:
    """The starter courses that come with the coach."""
    from decks.starters import starter_courses

    for line in starters_lines(starter_courses()):
        click.echo(line)


@command.command("schema")
def schema() -> None:
    """Print the JSON Schema of a course, for editors that check as you write."""
    from decks.courses.form import schema_text

    click.echo(schema_text(), nl=False)
