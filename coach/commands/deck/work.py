"""What is done alike with a deck and a course, in both groups: ``check``, ``pack``, ``add``."""

from __future__ import annotations

import sys
from typing import TYPE_CHECKING

import click

from coach.commands.deck.given import (
    given_work,
    level_option,
    starter_option,
    unmeasured_lines,
    work_in,
)
from coach.home import record_open
from coach.output import force_option, rules, write
from coach.reports.deck_words import course_in_short, in_short, needs
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from decks.courses.course import Course
    from decks.deck import Deck


def add_to(group: click.Group) -> None:
    """Join these commands to ``coach deck`` or ``coach course``."""
    for command in (check, pack, add):
        group.add_command(command)


@click.command("check")
@click.argument("files", nargs=-1, required=True)
def check(files: tuple[str, ...]) -> None:
    """Check FILES, decks or courses: list every fault by line and key, with the remedy.

    A deck's named colour that no pencils known here can make is told of, and what comes nearest:
    with the deck's own pencils, else with yours and those that students sent. So is how many of
    them wait until a student has measured their screen.
    """
    from coach.commands.deck.photo import out_of_reach_lines
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
                _mind_author(found.course)
        elif found.deck is not None:
            click.echo(f"{plain(file, 200)}: sound. {in_short(found.deck)}")
            _mind_author(found.deck)
            lines = (
                *needs(found.deck),
                *out_of_reach_lines(found.deck),
                *unmeasured_lines(found.deck),
            )
            for line in lines:
                click.echo(line)
    if failed:
        sys.exit(2)


@click.command("pack")
@click.argument("file")
@click.option("-o", "--out", help="The file to write; else FILE's name, ending in .deck.toml or"
              " .course.toml.")  # fmt: skip
@click.option("--pencils", help="A pencils file (CSV) to put inside, for every student alike.")
@click.option(
    "--picture",
    "pictures",
    metavar="STEP=FILE",
    multiple=True,
    help="A picture for a deck's lesson, made small: 1=jug.jpg is the first step's.",
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
    """Make the one file to send, of a deck or a course: checked, with its fingerprint.

    With --level a course is given at that level; make one file a group.
    """
    from decks.courses.course import Course
    from drills.pencils.file import load_pencils

    work = work_in(file, level)
    if isinstance(work, Course) and pictures:
        raise click.UsageError("--picture is for a deck of its own, not for a course.")
    inside = None if pencils is None else load_pencils(pencils)
    stem = file.removesuffix(".toml").removesuffix(".deck").removesuffix(".course")
    if isinstance(work, Course):
        from coach.teaching.sharing import file_word
        from decks.courses.course_pack import course_with_pencils, pack_course

        course = work if inside is None else course_with_pencils(work, inside)
        at = f"-{file_word(course.level)}" if course.level else ""
        path, text = f"{stem}{at}.course.toml", pack_course(course)
        said = course_in_short(course)
    else:
        from decks.lessons.pictures import with_pictures
        from decks.pack import pack as packed
        from decks.pack import with_pencils

        deck = with_pictures(with_pencils(work, inside), pictures)
        path, text = f"{stem}.deck.toml", packed(deck)
        said = f"{in_short(deck)}\nFingerprint {deck.fingerprint[:12]}."
    write(out or path, [text], force=force)
    click.echo(f"{plain(out or path, 200)} is ready to send. {said}")
    _mind_author(work)
    group = "course" if isinstance(work, Course) else "deck"
    click.echo(f"Students add it with: coach {group} add FILE, or a in the app")


def _mind_author(work: Deck | Course) -> None:
    """Tell of an author that is still the example's: students would see it."""
    from decks.template import AUTHOR

    if work.author == AUTHOR:
        click.echo(f"Mind: students see that it is from “{AUTHOR}”. Write yours after: author =")


@click.command("add")
@click.argument("file", required=False)
@starter_option
@level_option
@click.option("--yes", is_flag=True, help="Add it without asking.")
@click.option("--anew", is_flag=True, help="Count nothing that you answered to an older version.")
def add(file: str | None, starter: str | None, level: str | None, yes: bool, anew: bool) -> None:
    """Add a deck or course you were sent, after showing who it is from and what it changes.

    Where only words, days or dates of a deck you have were changed, what you
    answered counts on, and what you passed of a course stays passed, also at
    another level; with --anew it doesn't.
    """
    from coach.clock import local_now
    from coach.teaching.coming import add_work, work_looked_at
    from decks.courses.course import Course

    work: Deck | Course = given_work(file, starter, level)
    is_course = isinstance(work, Course)
    with record_open(create=True) as record:
        adding = work_looked_at(record, work, local_now(), anew)
        if adding.there and not (is_course and anew):
            among = "courses" if is_course else "decks"
            click.echo(f"{adding.title} is among your {among} already; nothing was changed.")
            return
        for line in adding.words:
            click.echo(line)
        if not yes:
            click.confirm("Add it?", default=True, abort=True)
        add_work(record, adding, local_now())
    next_up = "Its first deck" if is_course else "It"
    click.echo(f"{adding.title} is added. {next_up} comes up in your next session: coach")
