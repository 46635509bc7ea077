"""``coach teacher``: ask a teacher about a colour, take in what comes back, read it."""

from __future__ import annotations

import click

from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.errors import InputError, plain


@click.group("teacher", invoke_without_command=True)
@click.pass_context
def command(context: click.Context) -> None:
    """Between you and your teacher: ask about a colour, take in a reply, read it."""
    if context.invoked_subcommand is None:
        click.echo(context.get_help())


@command.command("ask")
@click.argument("colour", nargs=-1, required=True)
@click.option("--got", metavar="COLOUR", help="The colour that came instead, or how it is off.")
@click.option("--note", default="", help="What you want to ask, in your words.")
@click.option("--photo", metavar="FILE", help="A picture of it: a small copy goes along.")
@click.option("--hand", is_flag=True, help="Put in your hand's patches: the plan counts with them.")
@click.option("--name", help="The name your teacher will know you by.")
@click.option("-o", "--out", help="The file to write; named after you if left out.")
@force_option
@rules
def ask(
    colour: tuple[str, ...],
    got: str | None,
    note: str,
    photo: str | None,
    hand: bool,
    name: str | None,
    out: str | None,
    force: bool,
) -> None:
    """Write one file that asks how COLOUR is made: "I can't get this".

    COLOUR and --got are written as for coach plan and coach mend. In the file are
    these colours, your note, your pencils, the photo and the patches of your hand
    if any, and the name and random number of coach scores share. Nothing is sent:
    you hand it on.
    """
    from coach.home import record_path
    from coach.teaching.asking import asked_by, question_file
    from coach.teaching.question import question_text, small_photo
    from coach.teaching.sharing import keep_name, known_name
    from drills.colour.parse import parse_colour
    from drills.colour.said import written_or_said
    from scores.record.record import Record

    wanted = parse_colour(" ".join(colour))
    came = None if got is None else written_or_said(got, wanted).lab
    record = Record.open(record_path(), create=False)
    try:
        given = known_name(record) if name is None else name
        if name is None and not given:
            given = click.prompt("A name for your teacher (not your own, if you like)")
        name = keep_name(record, given)
        path = out or question_file(name)
        checked(path, force=force)
        small = "" if photo is None else small_photo(photo)
        text = question_text(asked_by(record, wanted, came, note, small, hand))
        write(path, [text], force=force)
    finally:
        close_and_say(record)
    click.echo(f"{plain(path, 200)} is written. Send it to your teacher.")


@command.command("add")
@click.argument("file")
@click.option("--yes", is_flag=True, help="Without asking.")
def add(file: str, yes: bool) -> None:
    """Take in a reply you were sent: its note, its plan, and the work in it, if any."""
    from coach.clock import local_now
    from coach.home import record_path
    from coach.teaching.replies_kept import look_at, reply_words, take_in
    from coach.teaching.reply import load_reply
    from scores.record.record import Record

    reply = load_reply(file)
    record = Record.open(record_path(), create=not record_path().exists())
    try:
        adding = look_at(record, reply)
        for line in reply_words(reply):
            click.echo(line)
        if adding is not None:
            click.echo("")
            for line in ["There is work in it:", *adding.words]:
                click.echo(line)
        if not yes:
            click.confirm("Take it in?", default=True, abort=True)
        take_in(record, reply, local_now())
    finally:
        close_and_say(record)
    click.echo("It is kept. Read it again with y on the first screen, or: coach teacher show")


@command.command("show")
def show() -> None:
    """The replies you took in, the latest first."""
    from coach.home import record_path
    from coach.teaching.replies_kept import replies_in, reply_words
    from drills.basics.days import date_text
    from scores.record.record import Record

    record = Record.open(record_path(), create=False)
    try:
        kept = replies_in(record)
    finally:
        close_and_say(record)
    for at, one in enumerate(kept):
        lines = reply_words(one.reply)
        click.echo(("\n" if at else "") + date_text(one.at.date()))
        for line in lines:
            click.echo(line)
    if not kept:
        raise InputError("replies", "there is none yet", "Take one in with: coach teacher add FILE")
