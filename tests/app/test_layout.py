"""The layout holds: everything in view at 80×24, no size breaks it, any name is shown as text."""

from __future__ import annotations

from collections import Counter
from collections.abc import AsyncIterator, Iterator
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest
from textual.containers import VerticalScroll
from textual.pilot import Pilot

from coach.widgets.choices import Choices
from coach.widgets.hints import Hints
from drills.kinds import all_kinds, draw
from drills.pencils.file import make_set
from drills.pencils.pencil import PencilSet
from drills.pencils.sets import pocket_set
from drills.questions.adjusting import key_of
from drills.questions.protocol import Ask, CannotAskError, Question, Swatch
from tests.pilots import (
    KINDS,
    RGB,
    TableApp,
    answer,
    practice,
    rgb,
    runs,
    shown,
    table,
    until,
    widths,
)

SIZES = [(60, 15), (80, 24), (100, 30), (120, 40), (200, 60)]
LEAST_CELLS = 24
"""A swatch under three rows of eight cells is too small to judge (our estimate)."""
CHIP_CELLS = 8
"""The tray a match is made from needs only to be told apart."""


def all_in_view(app: TableApp, asked: Ask) -> None:
    screen = practice(app)
    text = shown(app)
    assert screen.query_one("#asking", VerticalScroll).max_scroll_y == 0
    assert " ".join(asked.prompt.split()) in text
    for choice in asked.choices:
        assert all(word in text for word in choice.text.split()), choice.text
    for hint in screen.query_one(Hints).hints:
        assert f"{hint.keys} {hint.words}" in text
    cells = Counter[RGB | None]()
    for run in runs(app):
        cells[run.behind] += len(run.text)
    for swatch in (*asked.scene, *([Swatch(asked.start)] if asked.start else [])):
        assert cells[rgb(swatch.lab)] >= LEAST_CELLS
    for choice in asked.choices:
        least = CHIP_CELLS if asked.form == "build" else LEAST_CELLS
        assert choice.swatch is None or cells[rgb(choice.swatch.lab)] >= least


def questions(app: TableApp, kind: str, every: int) -> Iterator[Question]:
    """One kind's questions at either end of difficulty, in one of ``every`` regions."""
    assert app.app_state.ready_for is not None
    palette, drill = app.app_state.ready_for.palette, all_kinds()[kind]
    for seed, region in enumerate(drill.regions(palette)[::every]):
        for step in drill.steps:
            with suppress(CannotAskError):
                yield draw(drill, palette, region, step, seed)


async def stages(pilot: Pilot[None], app: TableApp, question: Question) -> AsyncIterator[Ask]:
    """A question shown stage by stage, the first choice taken each time (four times at most)."""
    screen = practice(app)
    screen.question, screen.replies = question, ()
    session = screen.session
    assert session is not None
    assert session.item is not None
    session._current = (session.item, question)
    screen.look_ahead = lambda: None  # type: ignore[method-assign]  # replies are put in by hand here
    while len(screen.replies) < 4 and screen._ask():
        await pilot.pause()
        asked = screen.query_one(Choices).asked
        assert asked is not None
        yield asked
        keys = tuple(choice.key for choice in asked.choices)
        if asked.start is not None:
            keys = (key_of(asked.start),)
        screen.replies += (keys if asked.form == "arrange" else keys[:1],)


async def test_at_80_by_24_all_of_every_question_is_in_view(tmp_path: Path) -> None:
    app = table(tmp_path)
    seen = Counter[str]()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        for kind in KINDS:
            for question in questions(app, kind, every=4):
                async for asked in stages(pilot, app, question):
                    all_in_view(app, asked)
                    seen[kind] += 1
    assert min(seen[kind] for kind in KINDS) >= 2


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
async def test_no_size_breaks_a_screen(tmp_path: Path, size: tuple[int, int]) -> None:
    app = table(tmp_path)
    async with app.run_test(size=size) as pilot:
        for keys in (["w"], ["escape", "question_mark"], ["escape", "c"], ["escape", "enter"]):
            await pilot.press(*keys)
            await pilot.pause()
            assert widths(app) == {size[0]}
        await answer(pilot)
        assert widths(app) == {size[0]}
        await pilot.press("escape")
        await pilot.pause()
        assert "How it went" in shown(app)


async def test_a_window_pulled_about_keeps_the_question_and_the_mark(tmp_path: Path) -> None:
    app = table(tmp_path, "mute-with-complement")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter", "down", "down")
        await pilot.pause()
        asked = practice(app).query_one(Choices).asked
        for size in [(200, 60), (20, 6), (1, 1), (120, 12), (80, 24)]:
            await pilot.resize_terminal(*size)
            # Textual gathers changes of size that follow each other and takes the last.
            await until(pilot, lambda wide=size[0]: widths(app) == {wide})  # type: ignore[misc]
        assert practice(app).query_one(Choices).asked is asked
        assert practice(app).query_one(Choices).cursor == 1
        assert asked is not None
        all_in_view(app, asked)


# Names from strangers

HOSTILE = (
    *("[red]x[/red]", "\\[", "漢" * 60, "🎨🖍", "[/]", "[bold", "$text", "%s{0}", "a" * 60),
    *("日本 語の 赤", "é naïve", "[link=x]y[/link]"),
)


def hostile_set() -> PencilSet:
    pencils = pocket_set().pencils
    return make_set(
        "[b]box[/b] 漢",
        tuple(
            replace(pencil, name=name, code="")
            for pencil, name in zip(pencils, HOSTILE, strict=True)
        ),
    )


async def test_any_name_is_shown_as_it_is_written(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=hostile_set())
    async with app.run_test(size=(80, 60)) as pilot:
        assert "[b]box[/b] 漢" in shown(app)
        await pilot.press("w")
        await pilot.pause()
        for name in HOSTILE:
            assert name[:10] in shown(app)
            assert widths(app) == {80}
            await pilot.press("right")
            await pilot.pause()


async def test_no_name_breaks_a_question_or_its_reveal(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=hostile_set())
    asked_of = set()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        for kind in KINDS:
            for question in list(questions(app, kind, every=6))[:2]:
                async for _ in stages(pilot, app, question):
                    assert widths(app) == {80}
                asked_of.add(kind)
        # A pocket set is too small for some kinds.
        assert len(asked_of) > len(KINDS) / 2
        await pilot.press("escape", "enter", "enter")
        await pilot.pause()
        for _ in range(6):
            await answer(pilot)
            outcome = practice(app).outcome
            assert outcome is not None
            # Where a long name is broken over lines, only spaces are lost.
            tight = shown(app).replace(" ", "")
            assert outcome.grade.verdict.replace(" ", "") in tight
            assert widths(app) == {80}
            await pilot.press("enter")
            await pilot.pause()
