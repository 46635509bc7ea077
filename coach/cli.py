"""The ``coach`` command: with no words it opens the app, else one of its commands.

A command's module is imported only when that command runs, so that opening the
app never pays for the others.
"""

from __future__ import annotations

import pkgutil
import sys
from importlib import import_module

import click
from click.utils import PacifyFlushWrapper

import coach.commands
from coach.running.faults import said
from drills.basics.errors import plain

KEEPS_OFF = ("read", "doctor")
"""Commands that touch nothing in the learner's folder, not even its rights."""


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


def run_command() -> int:
    """Run the command of ``sys.argv``; its exit status. What click refuses is one line.

    Raises BrokenPipeError where the reader of our output went away.
    """
    try:
        cli.main(standalone_mode=False)
    except SystemExit as end:
        if type(sys.stdout) is PacifyFlushWrapper:
            raise BrokenPipeError from end
        return end.code if isinstance(end.code, int) else 1
    except click.ClickException as error:
        return said(plain(error.format_message(), 400))
    except click.Abort as end:
        # Stopped by Ctrl-C; else a question was answered with no, or not at all.
        return 130 if type(end.__context__) is KeyboardInterrupt else 1
    return 0
