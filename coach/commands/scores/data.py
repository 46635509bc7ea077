"""``coach scores export, backup, restore, rescue, forget``: the record is its owner's."""

from __future__ import annotations

import csv
import io
import sys
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from coach.home import close_and_say
from coach.output import checked, force_option, rules, write
from drills.basics.counted import counted
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from scores.record.record import Record


def add_to(group: click.Group) -> None:
    """Add these commands to ``coach scores``."""
    from coach.commands.scores.merging import merge

    for command in (export, backup, restore, rescue, merge, forget):
        group.add_command(command)


@click.command("export")
@click.option("--csv", "as_csv", metavar="FILE", help="Every answer, one row each.")
@click.option("--json", "as_json", metavar="FILE", help="All of the record as one object.")
@click.option("--xapi", metavar="FILE", help="Every answer as an xAPI statement (1.0.3).")
@force_option
@rules
def export(as_csv: str | None, as_json: str | None, xapi: str | None, force: bool) -> None:
    """Write all of your record in an open form; - as FILE is standard output.

    Unlike share, this leaves nothing out. Give one or more of the options.
    """
    given = [name for name in (as_csv, as_json, xapi) if name is not None]
    if not given:
        raise click.UsageError("say what to write: --csv FILE, --json FILE or --xapi FILE.")
    if given.count("-") > 1:
        raise click.UsageError("only one of them can go to standard output.")
    from coach.clock import local_now
    from coach.version import app_version
    from scores.exchange.exports import csv_header, csv_rows, json_parts, xapi_parts

    with _record() as record:
        if as_csv is not None:
            rows = csv_rows(record)
            _write(as_csv, _csv_parts(csv_header(), rows), force)
        if as_json is not None:
            _write(as_json, json_parts(record, local_now(), app_version()), force)
        if xapi is not None:
            _write(xapi, xapi_parts(record, *_named(record)), force)


@click.command("backup")
@click.argument("file")
def backup(file: str) -> None:
    """Write a whole copy of your record to FILE, even while the coach is open.

    FILE must not be there yet. Keep it on another disk.
    """
    from scores.upkeep.copies import backup as copy

    with _record() as record:
        answers = copy(record, checked(file, force=None))
    click.echo(f"{plain(file, 200)} is written: {answers:,} answers.")


@click.command("restore")
@click.argument("file", required=False)
@click.option("--exactly", is_flag=True, help="Keep only the answers that the copy holds.")
@click.option("--yes", is_flag=True, help="Do it without asking.")
def restore(file: str | None, exactly: bool, yes: bool) -> None:
    """List your backups, or put one, or the copy in FILE, in your record's place.

    The coach makes a backup at the first start of each day you practise, and
    keeps those of the last 7 days and 4 weeks. FILE is the date of one, or any
    copy made by backup. It is checked first, and stays as it is. The record that
    is there now is set aside, not overwritten. The coach must be closed.
    """
    from coach.clock import local_now
    from coach.home import record_path
    from scores.upkeep.copies import restore as put_back

    path = record_path()
    if file is None:
        _list_backups(path.parent)
        return
    if path.exists() and not yes:
        click.confirm("Set your present record aside and restore this one?", abort=True)
    done = put_back(_backup_named(file, path.parent), path, local_now(), exactly)
    more = f", and {counted(done.added, 'answer')} given since" if done.added else ""
    click.echo(f"Restored: {counted(done.answers, 'answer')}{more}.")
    if done.aside is not None:
        click.echo(f"The record that was there is kept at {plain(str(done.aside), 200)}")


def _list_backups(home: Path) -> None:
    from coach.clock import local_now
    from drills.basics.days import practice_day
    from scores.upkeep.ages import age_words
    from scores.upkeep.backups import backups

    found = backups(home)
    if not found:
        click.echo("There are no backups yet. One is made at the first start of each day.")
        return
    today = practice_day(local_now())
    for one in found:
        told = "can't be read" if one.answers is None else counted(one.answers, "answer")
        click.echo(f"{one.day}  {age_words(one.day, today):14}  {told}")
    click.echo(f"Put one back with: coach scores restore {found[0].day}")


def _backup_named(file: str, home: Path) -> Path:
    """The backup of a date, or the file of this name."""
    from scores.upkeep.backups import backups

    named = {str(one.day): one.path for one in backups(home)}
    return named.get(file) or Path(file)


@click.command("rescue")
@click.argument("file")
@click.option("-o", "--out", required=True, metavar="NEW", help="The new record to write.")
def rescue(file: str, out: str) -> None:
    """Save what can be read of the damaged record FILE as a new one.

    FILE is only read. Take the new record into use with: coach scores restore NEW
    """
    from scores.upkeep.rescue import rescue as save

    saved = save(Path(file), checked(out, force=None))
    click.echo(f"{plain(out, 200)} is written: {saved.answers:,} answers saved.")
    if saved.bare:
        click.echo(
            f"{saved.bare:,} of them without what was shown and chosen; their results count."
        )
    if saved.missing:
        click.echo(f"{saved.missing:,} answers between the first and the last were not found.")
    click.echo(
        f"Also {counted(saved.settings, 'setting')}, {counted(saved.pencils, 'set')} of pencils,"
        f" {counted(saved.decks, 'deck')}."
    )


@click.command("forget")
@click.option("--deck", metavar="DECK", help="Only the answers to one deck.")
@click.option("--yes", is_flag=True, help="Do it without asking.")
def forget(deck: str | None, yes: bool) -> None:
    """Delete your record: answers, settings, pencils, decks, backups, and all set aside.

    With --deck only that deck's answers go, and skills are worked out again from
    the rest; the backups, which hold them too, are deleted. Copies that you made
    with backup, and results files that you sent, are where you put them.
    Teachers: coach class drop forgets a student.
    """
    import tempfile

    from coach.home import record_path
    from scores.upkeep.forget import forget_everywhere, places

    home, drafts = record_path().parent, Path(tempfile.gettempdir())
    if deck is not None:
        _forget_deck(deck, yes)
        return
    files = places(home, drafts)
    if not files:
        raise InputError(plain(str(record_path()), 200), "there is no record yet", "")
    click.echo("To be deleted for good:")
    for file in files:
        linked = " (a link: what it leads to stays)" if file.is_symlink() else ""
        click.echo(f"  {plain(str(file), 200)}{linked}")
    if not yes:
        click.confirm("Forget all of it?", abort=True)
    click.echo(f"Forgotten: {counted(len(forget_everywhere(home, drafts)), 'file')} deleted.")


def _forget_deck(deck: str, yes: bool) -> None:
    from scores.record.forgetting import forget_deck
    from scores.record.queries import deck_answers
    from scores.record.record import NotSavedError
    from scores.upkeep.forget import forget_backups, set_aside_files

    with _record() as record:
        names, title = _deck(record, deck)
        count = sum(deck_answers(record, name) for name in names)
        if not count:
            raise InputError(plain(title), "there are no answers to it", "")
        if not yes:
            click.confirm(
                f"Forget {counted(count, 'answer')} to {plain(title)}, and delete all backups,"
                " which hold them too?",
                abort=True,
            )
        try:
            gone = sum(forget_deck(record, name) for name in names)
        except NotSavedError as error:
            raise InputError(plain(str(record.path), 200), f"nothing deleted: {error}") from error
        backups = forget_backups(record.path.parent)
        aside = set_aside_files(record.path.parent)
    more = f", and {counted(len(backups), 'file')} of backups deleted" if backups else ""
    click.echo(f"Forgotten: {counted(gone, 'answer')}{more}.")
    if aside:
        click.echo("These may hold some of them too; delete by hand what you don't need:")
        for file in aside:
            click.echo(f"  {plain(str(file), 200)}")


def _deck(record: Record, named: str) -> tuple[tuple[str, ...], str]:
    """A deck's fingerprints, those before its words were changed among them, and its title.

    A deck dropped since may be named by its fingerprint.
    """
    from decks.record_form import before_of
    from scores.record.decks_added import find_deck
    from scores.record.queries import decks_answered

    used = decks_answered(record)
    mine = [deck for deck in used if len(named) >= 6 and deck.startswith(named)]
    try:
        kept = find_deck(record, named)
    except InputError:
        if len(mine) != 1:
            raise
        return (mine[0],), mine[0][:12]
    return (kept.fingerprint, *before_of(kept.content)), kept.title


def _named(record: Record) -> tuple[str, str]:
    """Under whose name statements stand: as in results shared, else nobody's."""
    settings = record.settings()
    student, name = settings.get("student"), settings.get("pseudonym")
    return (
        student if isinstance(student, str) else "00000000-0000-4000-8000-000000000000",
        name if isinstance(name, str) else "me",
    )


def _csv_parts(header: list[str], rows: Iterable[list[object]]) -> Iterator[str]:
    buffer = io.StringIO(newline="")
    writer = csv.writer(buffer)
    for row in [header], rows:
        for cells in row:
            writer.writerow(cells)
            if buffer.tell() > 1 << 16:
                yield buffer.getvalue()
                buffer.seek(0)
                buffer.truncate()
    yield buffer.getvalue()


def _write(file: str, parts: Iterable[str], force: bool) -> None:
    """Write an export; ``-`` is standard output. Raises InputError."""
    if file == "-":
        for part in parts:
            sys.stdout.write(part)
        return
    write(file, parts, force=force)
    click.echo(f"{plain(file, 200)} is written.", err=True)


@contextmanager
def _record() -> Iterator[Record]:
    """The record, closed again; damage met on the way is one line. Raises InputError."""
    from coach.home import record_path
    from scores.record.failures import FAILURES, reason
    from scores.record.record import Record

    path = record_path()
    record = Record.open(path, create=False)
    try:
        yield record
    except FAILURES as error:
        raise InputError(plain(str(path), 200), reason(error), "Try: coach doctor") from error
    except (InputError, UnicodeEncodeError):
        raise
    except (ValueError, TypeError, KeyError, IndexError, OverflowError) as error:
        raise InputError(
            plain(str(path), 200), "its tables hold nonsense", "Try: coach scores rescue"
        ) from error
    finally:
        close_and_say(record)
