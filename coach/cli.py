"""The ``coach`` command: with no words it opens the app, else one of its commands.

A command's module is imported only when that command runs, so that opening the
app never pays for the others.
"""

from __future__ import annotations

import pkgutil
import sys
from importlib import import_module

import click

import coach.commands
from drills.basics.errors import InputError


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


@click.group(
    cls=Commands,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"]},
)
@click.pass_context
def cli(ctx: click.Context) -> None:
    """Practise seeing colour and laying it down with the pencils you own.

    With no command, opens the coach in the terminal.
    """
    if ctx.invoked_subcommand is None:
        from coach.start import open_app

        open_app()


def main() -> None:
    """Run the command; what the user gave wrong is one line and exit status 2."""
    try:
        cli.main(standalone_mode=False)
    except InputError as error:
        click.echo(f"coach: {error}", err=True)
        sys.exit(2)
    except click.ClickException as error:
        click.echo(f"coach: {error.format_message()}", err=True)
        sys.exit(2)
    except (click.Abort, KeyboardInterrupt):
        sys.exit(130)
    except BrokenPipeError:
        # The reader of a pipe (head, less) went away: nothing is wrong.
        sys.stderr.close()
        sys.exit(0)
    except Exception as error:
        sys.exit(tell_fault(error))


def tell_fault(error: Exception) -> int:
    """Say in one sentence that a fault of ours ended the command; the exit status."""
    from coach.app_state import local_now
    from coach.faults import STATUS, told
    from coach.home import data_dir

    try:
        click.echo(told(error, data_dir(), local_now()), err=True)
    except InputError as refusal:
        click.echo(f"coach: {refusal}", err=True)
    return STATUS
