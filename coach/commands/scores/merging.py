"""``coach scores merge``: two records of one learner made one."""

from __future__ import annotations

from pathlib import Path

import click

from drills.basics.errors import plain


@click.command("merge")
@click.argument("file")
def merge(file: str) -> None:
    """Add to your record what the record or journal in FILE holds and yours lacks.

    For one learner on two machines. FILE is only read, and may be merged again: no
    answer counts twice. Your settings stay as they are. To bring both level, merge each
    into the other.
    """
    from coach.home import close_and_say, record_path
    from scores.record.record import Record
    from scores.upkeep.merge import merge as add

    record = Record.open(record_path())
    try:
        made = add(record, Path(file))
    finally:
        close_and_say(record)
    more = f", and {made.others:,} settings, pencil sets and decks" if made.others else ""
    click.echo(
        f"{plain(file, 200)}: {made.added:,} answers added{more}; {made.here:,} were here already."
    )
