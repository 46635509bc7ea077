"""``coach learners``: who practises on this account."""

from __future__ import annotations

import click


@click.command("learners")
def command() -> None:
    """List who practises on this account, each with a record of their own.

    coach --learner NAME practises as NAME, or begins with a new one; so does
    every command after it: coach --learner NAME progress. Where there are
    several, the coach asks who it is.
    """
    from coach.home import data_dir
    from coach.learners import known_learners

    found = known_learners(data_dir())
    for name in found:
        click.echo(name or "(the one without a name)")
    if not found:
        click.echo("Nobody yet. The first start asks for no name: coach")
