"""``coach drill``: one drill alone, straight away."""

from __future__ import annotations

import click

from drills.basics.errors import InputError, plain


@click.command("drill")
@click.argument("name", required=False)
def command(name: str | None) -> None:
    """Practise one drill and nothing else, for the minutes set.

    NAME is one of the names that this prints without one.
    """
    from drills.kinds import all_kinds

    kinds = all_kinds()
    if name is None:
        for kind in kinds.values():
            click.echo(f"{kind.name:22} {kind.title}: {kind.trains}.")
        return
    if name not in kinds:
        raise InputError(
            f"drill “{plain(name, 40)}”", "there is none of this name", "See them with: coach drill"
        )
    from coach.start import open_app

    open_app(drill=name)
