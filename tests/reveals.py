"""Reveals of every kind, shown on the practice screen and looked at whole."""

from __future__ import annotations

import random
import re
from collections.abc import AsyncIterator, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path

from textual.containers import VerticalScroll

from coach.session.feed import Outcome
from coach.widgets.results import ResultRows
from drills.kinds import all_kinds, draw
from drills.laws.replies import any_answer, key_answer
from drills.layering.palette import Palette
from drills.pencils.pencil import PencilSet
from drills.questions.protocol import CannotAskError, Grade, Reveal
from tests.pilots import KINDS, answer, practice, ready_once, table

SYMBOLS = re.compile(r"Δ|[CL]\*|wheel step|\d")
"""What stands in figures, and not in a verdict."""


@dataclass(frozen=True)
class Answered:
    """What is told of one answer to a question of a kind."""

    kind: str
    grade: Grade
    reveal: Reveal


@dataclass(frozen=True)
class Shown:
    """How a reveal stands on the screen: whole, and the rows that are marked in view."""

    answered: Answered
    whole: bool
    marked_in_view: bool
    lines_over: int


def all_answered(
    palette: Palette, seeds: Sequence[int], kinds: Sequence[str] = KINDS
) -> Iterator[Answered]:
    """A question of every kind for each seed, in turn over its regions and steps.

    The key answers every other one, any answer the rest.
    """
    for name in kinds:
        kind = all_kinds()[name]
        regions = kind.regions(palette)
        for seed in seeds:
            step = kind.steps[0] * (kind.steps[1] / kind.steps[0]) ** ((seed % 3) / 2)
            with suppress(CannotAskError):
                question = draw(kind, palette, regions[seed % len(regions)], step, seed)
                answers = key_answer(kind, question) if seed % 2 else None
                answers = answers or any_answer(kind, question, random.Random(seed).choice)
                yield Answered(name, kind.grade(question, answers), kind.reveal(question, answers))


async def all_shown(
    folder: Path,
    pencils: PencilSet,
    seeds: Sequence[int],
    size: tuple[int, int] = (80, 24),
    kinds: Sequence[str] = KINDS,
) -> AsyncIterator[Shown]:
    """Every reveal as it stands on a screen of ``size`` columns and lines."""
    app = table(folder, "hue-and-lean", pencils=pencils)
    async with app.run_test(size=size) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        screen = practice(app)
        assert screen.outcome is not None
        like: Outcome = screen.outcome
        telling = screen.query_one("#telling", VerticalScroll)
        for answered in all_answered(ready_once(pencils).palette, seeds, kinds):
            screen.tell(replace(like, grade=answered.grade, reveal=answered.reveal))
            await pilot.pause()
            rows = screen.query_one(ResultRows)
            marks = [y for y, line in enumerate(rows.lines) if line.marked]
            bottom = rows.virtual_region.y + max(marks, default=-1) + 1
            yield Shown(
                answered,
                telling.max_scroll_y == 0,
                bottom <= telling.size.height,
                int(telling.max_scroll_y),
            )
