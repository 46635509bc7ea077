"""A day's worksheet and its answer sheet, written from the app over nothing that is there."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from drills.basics.errors import InputError

if TYPE_CHECKING:
    from coach.teaching.paper.sheet import Worksheet


def asked_of(sheet: Worksheet) -> Worksheet:
    """The sheet, where it asks anything. Raises InputError where it doesn't."""
    if sheet.questions or sheet.hand is not None:
        return sheet
    remedy = "Try another day, or leave out --grey." if sheet.grey else "Try another day or deck."
    raise InputError(f"day {sheet.day}", "nothing of it can be asked on paper", remedy)


def write_day(folder: Path, sheet: Worksheet, name: str) -> tuple[Path, Path]:
    """The two pages written in ``folder``, by the deck's ``name``: the worksheet, its answers.

    Raises InputError.
    """
    from coach.output import free_name, write
    from coach.reports.printed.drawing import size_here
    from coach.teaching.paper.page import answers_page, worksheet_page

    size = size_here(os.environ)
    pages = {"sheet": worksheet_page(sheet, size), "answers": answers_page(sheet, size)}
    made = []
    for which, page in pages.items():
        path = free_name(folder, f"{name}-{sheet.name}-{which}.html")
        made.append(write(str(path), [page], "worksheet"))
    return made[0], made[1]
