"""The wall clock, where it is not handed in."""

from __future__ import annotations

from datetime import datetime

from drills.basics.errors import InputError

YEARS = range(1970, 9000)
"""What a clock may say."""


def local_now() -> datetime:
    """The wall clock, with the zone it stands in.

    Raises InputError for one that is so far out that no due day could be counted from it.
    """
    now = datetime.now()
    if now.year not in YEARS:
        raise InputError(
            "this machine's clock", f"it says the year {now.year}", "Set the date and the time."
        )
    return now.astimezone()
