"""Opening the app: is there a terminal, is the record sound, then the first screen."""

from __future__ import annotations

import sys

import click

from coach.terminal import colour_depth, has_terminal


def open_app() -> None:
    """Run the app; without a terminal say so in one line and exit with status 2."""
    if not has_terminal():
        click.echo(
            "coach: this needs a terminal to draw in; run it there, or try: coach read '#c33935'",
            err=True,
        )
        sys.exit(2)
    depth = colour_depth()
    from coach.app import CoachApp
    from coach.desk import Desk, local_now
    from coach.home import record_path
    from scores.record import Record

    record, notice = Record.open_or_set_aside(record_path(), local_now())
    try:
        CoachApp(Desk(record, depth, notice=str(notice) if notice else "")).run()
    finally:
        record.close()
