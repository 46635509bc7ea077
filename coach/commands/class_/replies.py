"""A student's question read, and one file back: a plan or a mending, a note, next work."""

from __future__ import annotations

import click

from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain


def add_to(group: click.Group) -> None:
    """Join these commands to ``coach class``."""
    group.add_command(question)
    group.add_command(reply)


@click.command("question")
@click.argument("file")
@click.option("--photo", metavar="OUT", help="Write the photo in it to this file (JPEG).")
@force_option
@rules
def question(file: str, photo: str | None, force: bool) -> None:
    """Read a question that a student sent: the colour, what came, their note and pencils."""
    from coach.commands.plan import PlanWords
    from coach.teaching.question import load_question, photo_again, question_lines

    if photo is not None:
        checked(photo, force=force)
    asked = load_question(file)
    words = PlanWords(False)
    for lab, texts in question_lines(asked):
        for line in texts if lab is None else words.with_swatch(lab, texts):
            click.echo(line)
    picture = photo_again(asked)
    if photo is not None and picture is None:
        raise InputError(plain(file, 200), "there is no photo in it", "")
    if photo is not None and picture is not None:
        write(photo, [picture], force=force)
        click.echo(f"The photo is {plain(photo, 200)}.")
    elif picture is not None:
        click.echo("There is a photo in it: --photo OUT.jpg writes it.")
    click.echo("Reply with a plan: coach class reply FILE --note TEXT -o OUT")


@click.command("reply")
@click.argument("to")
@click.option("--note", default="", help="What you say to it, in your words.")
@click.option("--deck", metavar="FILE", help="Next work: a deck's file.")
@click.option("--from", "author", default="Your teacher", help="Your name, as the student sees it.")
@click.option("-o", "--out", help="The file to write; named after the student if left out.")
@force_option
@rules
def reply(to: str, note: str, deck: str | None, author: str, out: str | None, force: bool) -> None:
    """Write one file back to a student: a plan or a mending, a note, next work.

    TO is the file of a question, which is answered by a plan with the student's own
    pencils (by a mending where they said what came); or a student of the class, by
    name, to whom a note, a deck or both go.
    """
    from coach.teaching.reply import reply_text
    from coach.teaching.replying import reply_for
    from coach.teaching.sharing import file_name

    made = reply_for(to, author, note, deck)
    text = reply_text(made)
    path = out or file_name(made.name, "reply", "reply.json")
    write(path, [text], force=force)
    for number, step in enumerate(made.steps, 1):
        click.echo(f"  {number}. {step.words}")
    for line in filter(None, (made.outlook, made.made_with)):
        click.echo(line)
    click.echo(f"{plain(path, 200)} is written for {made.name}. Send it to them.")
