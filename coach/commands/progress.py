"""``coach progress``: the figures of the progress screen, as words, JSON, a page or a picture."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.days import day_of
from drills.basics.errors import InputError, plain


@click.command("progress")
@click.option("--since", metavar="DATE", help="From this day on (2026-03-09).")
@click.option(
    "--range",
    "name",
    type=click.Choice(["2 weeks", "3 months", "year", "all"]),
    help="How far to look back; 3 months if left out.",
)
@click.option("--json", "as_json", is_flag=True, help="All figures as one JSON object.")
@click.option("--html", metavar="FILE", help="Write a page that prints.")
@click.option("--svg", metavar="FILE", help="Write the charts as one picture.")
@force_option
@rules
def command(
    since: str | None,
    name: str | None,
    as_json: bool,
    html: str | None,
    svg: str | None,
    force: bool,
) -> None:
    """See how your eye has changed, beyond what chance would give.

    A threshold is the smallest difference you see four times in five: smaller
    is better. Nothing in the record is changed.
    """
    if since is not None and name is not None:
        raise click.UsageError("give --since or --range, not both.")
    from coach.clock import local_now
    from coach.home import record_path
    from coach.reports.progress_figures import figures
    from drills.basics.days import practice_day
    from scores.record.failures import FAILURES, reason
    from scores.record.record import Record

    if html is not None:
        checked(html, "progress", force)
    if svg is not None:
        checked(svg, "progress charts", force)
    now = local_now()
    first = None if since is None else _day(since, practice_day(now))
    path = record_path()
    record = Record.open(path, create=False)
    try:
        made = figures(record, now, "since" if first else name or "3 months", first)  # type: ignore[arg-type]
    except FAILURES as error:
        raise InputError(plain(str(path), 200), reason(error), "Try: coach doctor") from error
    finally:
        close_and_say(record)
    if html is not None:
        from coach.reports.progress_page import page

        _say(write(html, [page(made)], "progress", force))
    if svg is not None:
        from coach.reports.progress_chart import picture

        _say(write(svg, [picture(made)], "progress charts", force))
    if as_json:
        from coach.reports.progress_json import figures_json

        click.echo(json.dumps(figures_json(made), ensure_ascii=False))
    elif html is None and svg is None:
        from coach.reports.progress_words import page as words

        for line in words(made):
            click.echo(line)


def _day(text: str, today: date) -> date:
    """The day asked for. Raises InputError."""
    try:
        day = day_of(text)
    except ValueError:
        where = f"--since {plain(text)}"
        raise InputError(where, "this is no day", "Write it as 2026-03-09.") from None
    if day > today:
        raise InputError(f"--since {text}", "this day is in the future", "Take an earlier one.")
    return day


def _say(path: Path) -> None:
    click.echo(f"{plain(str(path), 200)} is written.", err=True)
