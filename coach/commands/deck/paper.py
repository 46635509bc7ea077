"""``coach deck paper`` and ``coach deck typed``: a deck's days on paper, and what came back."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from coach.commands.deck.given import (
    checked_apart,
    given,
    own_pencils,
    pocket_option,
    starter_option,
)
from coach.output import force_option, rules, write
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from coach.teaching.paper.sheet import PaperDeck


def add_to(group: click.Group) -> None:
    """Join these commands to ``coach deck``."""
    group.add_command(paper)
    group.add_command(typed)


@click.command("paper")
@click.argument("file", required=False)
@starter_option
@click.option("--day", type=int, default=1, show_default=True, help="The day of the deck.")
@click.option("--grey", is_flag=True, help="Only what a print in greys can ask.")
@click.option("--html", "out", required=True, metavar="FILE", help="The page to write.")
@click.option("--answers", metavar="FILE", help="Write the answer sheet too.")
@click.option("--size", type=click.Choice(["a4", "letter"]), help="The paper; else your country's.")
@pocket_option
@force_option
@rules
def paper(
    file: str | None, starter: str | None, day: int, grey: bool, out: str, answers: str | None,
    size: str | None, pocket: bool, force: bool,
) -> None:  # fmt: skip
    """A day of a deck as a worksheet for the printer, for those without a computer.

    Questions of one letter or an order, and work for the hand: a value scale to fill, a muting
    grid, or a plan with boxes. What needs a screen, such as setting a colour, is left out.
    """
    import os

    from coach.reports.printed.drawing import SIZES, size_here
    from coach.teaching.paper.page import answers_page, worksheet_page
    from coach.teaching.paper.writing import asked_of

    checked_apart(out, answers, force)
    sheet = asked_of(_deck(file, starter, pocket).sheet(day, grey))
    page = SIZES[size] if size else size_here(os.environ)
    write(out, [worksheet_page(sheet, page)], "worksheet", force)
    if answers is not None:
        write(answers, [answers_page(sheet, page)], "worksheet", force)
    if not sheet.questions:
        click.echo(f"{plain(out, 200)} is done by hand alone: it asks nothing that is typed in.")
        click.echo("Open it in a browser and print it.")
        return
    asked = counted(len(sheet.questions), "question")
    click.echo(f"{plain(out, 200)} is sheet {sheet.name}, {asked}.")
    click.echo("Open it in a browser and print it. Type in what comes back: coach deck typed")


@click.command("typed")
@click.argument("sheet")
@click.argument("answers")
@click.argument("file", required=False)
@starter_option
@pocket_option
@click.option("--student", metavar="NAME", help="Keep them in the class, as this student's.")
@click.option("--written", metavar="DAY", help="Day they were written (2026-03-02); else today.")
@click.option("--grade-only", is_flag=True, help="Keep nothing.")
def typed(
    sheet: str, answers: str, file: str | None, starter: str | None, pocket: bool,
    student: str | None, written: str | None, grade_only: bool,
) -> None:  # fmt: skip
    """Grade ANSWERS written on SHEET (its name, such as 3-7k2m) of the deck FILE, and keep them.

    ANSWERS are numbers and letters, such as "1b 2ac 3bdeac"; - is one left out. They are graded
    by the keys that the sheet was computed with. Where the deck is among yours, they are kept in
    your record, on paper: they count for its days and for passing, and tell nothing of what you
    see on a screen. With --student they are kept in the class. Typed again they add nothing;
    typed otherwise, the later ones count.
    """
    from coach.clock import local_now
    from coach.teaching.paper.keeping import day_written, keep_for_student, keep_own, kept_deck
    from coach.teaching.paper.typed import read_typed, told
    from scores.record.record import NotSavedError

    if grade_only and (student is not None or written is not None):
        raise click.UsageError("--grade-only keeps nothing: leave out --student and --written.")
    now = local_now()
    day = day_written(written, now)
    paper_deck = _deck(file, starter, pocket)
    found = paper_deck.named(sheet)
    read = read_typed(found, answers)
    for line in told(read):
        click.echo(line)
    if grade_only:
        return
    if student is not None:
        from coach.teaching.class_opened import class_book

        with class_book(create=True) as book:
            name, counts = keep_for_student(book, paper_deck.deck, student, found, read, day, now)
        click.echo(f"On paper, in the class, for {plain(name)}: {counts.words}.")
        return
    from coach.home import record_open

    with record_open(create=False) as record:
        kept = kept_deck(record, paper_deck.deck)
        if kept is None:
            click.echo("Not kept: the deck is not among yours (coach deck add). For a student of")
            click.echo("your class: --student NAME")
            return
        try:
            counts = keep_own(record, kept, found, read, day, now)
        except NotSavedError as error:
            raise InputError("the record", f"not all were kept: {error}", "Try again.") from error
    click.echo(f"On paper, for “{plain(kept.title)}”: {counts.words}.")


def _deck(file: str | None, starter: str | None, pocket: bool) -> PaperDeck:
    from coach.teaching.paper.sheet import PaperDeck
    from drills.kinds import all_kinds
    from drills.layering.palette import prepare

    return PaperDeck(given(file, starter), prepare(own_pencils(pocket)), all_kinds())
