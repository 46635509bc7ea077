"""The ``coach`` command: with no words it opens the app, else one of its commands.

A command's module is imported only when that command runs, so that opening the
app never pays for the others.
"""

from __future__ import annotations

import errno
import io
import os
import pkgutil
import sys
from contextlib import suppress
from importlib import import_module
from io import TextIOWrapper

import click
from click.utils import PacifyFlushWrapper

import coach.commands
from drills.basics.errors import InputError, plain

KEEPS_OFF = ("read", "doctor")
"""Commands that touch nothing in the learner's folder, not even its rights."""


NO_ROOM = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EIO)
"""What a disk says that takes no more."""


class Commands(click.Group):
    """A group whose commands are the modules of ``coach.commands``.

    A module may end its name with an underscore where the command's own name is
    a word of the language.
    """

    def _modules(self) -> dict[str, str]:
        found = (module.name for module in pkgutil.iter_modules(coach.commands.__path__))
        return {name.rstrip("_"): name for name in sorted(found)}

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(self._modules())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        module = self._modules().get(cmd_name)
        if module is None:
            return None
        command = import_module(f"coach.commands.{module}").command
        assert isinstance(command, click.Command)
        return command


def _version(ctx: click.Context, _: click.Parameter, wanted: bool) -> None:
    if wanted:
        from coach.version import app_version

        click.echo(f"coach {app_version()}")
        ctx.exit()


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.option(
    "--version",
    is_flag=True,
    expose_value=False,
    is_eager=True,
    callback=_version,
    help="Say the version.",
)
@click.option(
    "--learner", metavar="NAME", help="Practise as NAME, with a record of one's own (or a new one)."
)
@click.pass_context
def cli(ctx: click.Context, learner: str | None) -> None:
    """Practise seeing colour and laying it down with the pencils you own.

    With no command, opens the coach in the terminal. Several people on one
    account are several learners: see coach learners.
    """
    if learner is not None:
        from coach.learners import choose

        choose(learner)
    if ctx.invoked_subcommand not in KEEPS_OFF:
        from coach.home import keep_home_private

        keep_home_private()
    if ctx.invoked_subcommand is None:
        from coach.start import open_app

        open_app()


def main() -> None:
    """Run the command; what the user gave wrong is one line and exit status 2.

    A reader of our output that goes away (head, a pager) is nothing wrong.
    """
    # Files and folders made from here on are their owner's alone.
    os.umask(0o077)
    for stream in (sys.stdin, sys.stdout, sys.stderr):
        # A byte that is no text is shown as a mark, and read as one, in any locale.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    status = 0
    if sys.stdout is None:
        # Closed by whoever started us.
        sys.stdout = io.StringIO()
    try:
        try:
            cli.main(standalone_mode=False)
        except SystemExit as end:
            if type(sys.stdout) is PacifyFlushWrapper:
                raise BrokenPipeError from end
            status = end.code if isinstance(end.code, int) else 1
        sys.stdout.flush()
    except InputError as error:
        status = _said(str(error))
    except click.ClickException as error:
        status = _said(plain(error.format_message(), 400))
    except (click.Abort, KeyboardInterrupt) as end:
        # Stopped by Ctrl-C; else a question was answered with no, or not at all.
        status = 130 if KeyboardInterrupt in (type(end), type(end.__context__)) else 1
    except BrokenPipeError:
        _no_more_output()
        status = 0
    except Exception as error:
        status = _unforeseen(error)
    sys.exit(status)


def _unforeseen(error: Exception) -> int:
    """Say in one line what no command foresaw; the exit status for it."""
    if isinstance(error, OSError) and error.errno in NO_ROOM:
        _no_more_output()
        reason = plain(error.strerror or "the system refused").lower()
        return _said(f"the output can't be written: {reason}. Check where it goes.")
    # Met beyond what opening the record or the class looks at.
    sqlite = sys.modules.get("sqlite3")
    if sqlite is not None and isinstance(error, sqlite.Error):
        return _said("the record or the class can't be read further. Try: coach doctor")
    from coach.running.faults import tell_fault

    return tell_fault(error)


def _said(line: str) -> int:
    """Say what was wrong; the exit status for it."""
    with suppress(OSError):
        click.echo(f"coach: {line}", err=True)
    return 2


def _no_more_output() -> None:
    """Let what is still to be written go nowhere: Python would fail on it at its end."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.__stdout__.fileno())  # type: ignore[union-attr]
