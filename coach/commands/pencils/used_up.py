"""``coach pencils used-up``: mark pencils of the set in use as used up, or as there again."""

from __future__ import annotations

import click

from drills.basics.errors import InputError, plain


@click.command("used-up")
@click.argument("names", nargs=-1, required=True, metavar="PENCIL...")
@click.option("--back", is_flag=True, help="They are there again.")
def used_up(names: tuple[str, ...], back: bool) -> None:
    """Mark pencils, by name or code, as used up: neither planned with nor asked about.

    They stay in the set with all that is known of them, and your file stays as it is.
    """
    from datetime import UTC, datetime

    from coach.home import needed_pencils, record_open, record_path
    from coach.learned import carry_patches
    from coach.sheets.joining import carry_swatches
    from drills.pencils.edit import marked_used_up
    from drills.pencils.file import to_csv
    from drills.planning.plan_limits import find_pencils
    from scores.record.record import NotSavedError

    pencil_set = needed_pencils()
    places = find_pencils(pencil_set, names)
    edited = marked_used_up(pencil_set, places, not back)
    now = edited.set
    with record_open(create=True) as record:
        try:
            carry_patches(record, pencil_set, edited)
            carry_swatches(record, pencil_set, edited)
            record.put_pencils(now.fingerprint, now.name, to_csv(now), datetime.now(UTC))
        except NotSavedError as error:
            raise InputError(
                plain(str(record_path()), 200), f"the mark was not kept: {error}", "Try again."
            ) from error
    words = "there again" if back else "used up"
    for place in sorted(places):
        click.echo(f"{plain(now.pencils[place].name)}: {words}.")
