"""The solved questions of a walk: a newcomer's first, and one of each form or of every kind."""

from __future__ import annotations

from collections.abc import AsyncIterator

from textual.pilot import Pilot

from coach.screens.practice.example import ExampleScreen
from coach.screens.practice.question import PracticeScreen
from coach.widgets.choices import DOUBLE_S
from drills.kinds import all_kinds
from drills.questions.protocol import Kind, Question
from drills.questions.worked import worked
from tests.contact_sheet.pressing import Seen, pressed
from tests.pilots import until

ONE_OF_EACH_FORM = ("hue-and-lean", "order-of-layers", "set-the-colour", "make-the-match")


async def first_example(pilot: Pilot[None]) -> AsyncIterator[Seen]:
    """The example that stands before a newcomer's first question, step by step; then that."""
    await until(pilot, lambda: isinstance(pilot.app.screen, ExampleScreen))
    async for seen in _steps(pilot, "example"):
        yield seen
    await _on(pilot)
    assert isinstance(pilot.app.screen, PracticeScreen)
    yield Seen("first-question", pilot)


async def example_of(pilot: Pilot[None], kind: Kind, question: Question) -> AsyncIterator[Seen]:
    """A question of a kind solved, over the practice screen."""
    screen = pilot.app.screen
    assert isinstance(screen, PracticeScreen)
    assert screen.session is not None
    solved = worked(kind, question)
    assert solved is not None
    # As the screen does itself: the clock runs on.
    screen._counted = True
    await pilot.app.push_screen(ExampleScreen(kind.title, solved, screen.session))
    await pilot.pause()
    async for seen in _steps(pilot, f"example-{kind.name}"):
        yield seen
    await _on(pilot)
    screen._counted = False


async def _steps(pilot: Pilot[None], name: str) -> AsyncIterator[Seen]:
    screen = pilot.app.screen
    assert isinstance(screen, ExampleScreen)
    for at in range(screen.steps - 1):
        yield Seen(f"{name}-{at + 1}", pilot)
        await _on(pilot)
    yield Seen(f"{name}-answer", pilot)


async def _on(pilot: Pilot[None]) -> None:
    """The next step; the walk's clock stands still, so the key would be one pressed twice."""
    screen = pilot.app.screen
    assert isinstance(screen, ExampleScreen)
    screen._shown_at -= DOUBLE_S
    await pressed(pilot, "enter")


def kinds_shown(every: bool) -> list[Kind]:
    """Every kind, or one of each form of asking."""
    return [kind for name, kind in all_kinds().items() if every or name in ONE_OF_EACH_FORM]
