"""``coach changes``: what each version brought."""

from __future__ import annotations

from importlib.resources import files

import click


@click.command("changes")
def command() -> None:
    """Print what each version changed, the newest first."""
    click.echo(files("coach").joinpath("changes.md").read_text(encoding="utf-8"), nl=False)
