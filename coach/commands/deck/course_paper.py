"""``coach course paper``: a whole course as worksheets, in order, for those with no computer."""

from __future__ import annotations

import click

from coach.commands.deck.given import (
    checked_apart,
    course_option,
    given_course,
    level_option,
    own_pencils,
    pocket_option,
)
from coach.output import force_option, rules, write
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain


def add_to(group: click.Group) -> None:
    """Join this command to ``coach course``."""
    group.add_command(paper)


@click.command("paper")
@click.argument("file", required=False)
@course_option
@level_option
@click.option("--grey", is_flag=True, help="Only what a print in greys can ask.")
@click.option("--html", "out", required=True, metavar="FILE", help="The page to write.")
@click.option("--answers", metavar="FILE", help="Write the answers to all sheets too.")
@click.option("--size", type=click.Choice(["a4", "letter"]), help="The paper; else your country's.")
@pocket_option
@force_option
@rules
def paper(
    file: str | None, starter: str | None, level: str | None, grey: bool, out: str,
    answers: str | None, size: str | None, pocket: bool, force: bool,
) -> None:  # fmt: skip
    """A whole course for the printer: every day of every deck as a worksheet, in order.

    Its first page says what each part needs, with a box to tick for each sheet. Type in what
    comes back with coach deck typed, or mark it by the answers.
    """
    import os

    from coach.reports.printed.drawing import SIZES, size_here
    from coach.running.faults import said
    from coach.running.status_line import StatusLine
    from coach.teaching.paper.course import course_answers_page, course_page, course_sheets
    from drills.kinds import all_kinds
    from drills.layering.palette import prepare

    checked_apart(out, answers, force)
    course = given_course(file, starter, level)
    page = SIZES[size] if size else size_here(os.environ)
    # All is drawn before anything is written: a stop till then leaves no file behind.
    try:
        with StatusLine() as line:
            palette = prepare(own_pencils(pocket))
            made = course_sheets(course, palette, all_kinds(), grey, line.say)
            line.say("Laying out the pages")
            pages = [(out, course_page(made, page))]
            if answers is not None:
                pages.append((answers, course_answers_page(made, page)))
    except KeyboardInterrupt:
        said("stopped; nothing was written")
        raise
    count = sum(1 for _ in made.sheets)
    if not count:
        remedy = "Leave out --grey." if grey else "Take another course."
        raise InputError(plain(course.title), "nothing of it can be asked on paper", remedy)
    for name, text in pages:
        write(name, [text], "worksheet", force)
    by_hand = sum(not sheet.questions for sheet in made.sheets)
    some = f", {by_hand} of them done by hand alone, with nothing to grade" if by_hand else ""
    sheets = counted(count, "sheet")
    click.echo(f"{plain(out, 200)} is “{plain(course.title)}” on paper, {sheets}{some}.")
    click.echo("Open it in a browser and print it. Type in what comes back: coach deck typed")
