"""Each law over the screens catches the fault it is there for, planted in a small screen."""

from __future__ import annotations

from collections.abc import Iterable

import pytest
from textual.app import ComposeResult
from textual.widgets import Static

from coach.design.measures import MEASURE
from coach.running.base_app import BaseApp
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.results import ResultRows, Told
from tests.contact_sheet import laws

WORDS = "Lay the lighter one first."
LONG = "The lighter pencil goes first so that the darker one is laid into it and never under it."
"""A line of prose that is longer than the measure."""


class Planted(CoachScreen[None]):
    """A sound screen, and one rule more for it."""

    def __init__(self, rule: str = "", words: str = WORDS) -> None:
        super().__init__()
        self.rule, self.words = rule, words

    def compose(self) -> ComposeResult:
        yield Static("Today: two colours", id="title", classes="title", markup=False)
        yield Static(self.words, id="said", classes="words", markup=False)
        yield Static("A second thing", id="second", classes="words faint", markup=False)
        yield ResultRows()
        yield Hints(Hint("Enter", "begin"), Hint("Esc", "back"))


class Small(BaseApp):
    """An app of one planted screen."""

    def __init__(self, screen: Planted) -> None:
        super().__init__()
        self.planted = screen
        if screen.rule:
            self.stylesheet.add_source(screen.rule, read_from=("planted", ""))

    def on_mount(self) -> None:
        self.push_screen(self.planted)


FAULTS = {
    "words cut below": ("Planted #said { height: 1; width: 20; }", WORDS, laws.nothing_is_cut),
    "a word cut at the side": ("Planted #said { width: 9; }", "Underpainting", laws.nothing_is_cut),
    "pushed off the screen": ("Planted #said { offset: 70 0; }", WORDS, laws.nothing_is_cut),
    "one over another": ("Planted #second { offset: 0 -1; }", WORDS, laws.nothing_overlaps),
    "a long line": ("Planted #said { max-width: 100%; }", LONG, laws.prose_keeps_its_measure),
    "pale on grey": ("Planted #said { color: #a0a0a0; }", WORDS, laws.lettering_reads),
    "words on a colour": ("Planted #said { background: #a05040; }", WORDS, laws.lettering_reads),
    "words in a colour": ("Planted #said { color: #500000; }", WORDS, laws.lettering_reads),
    "a colour beside": (
        "Planted #said { border-left: wide #a05040; }",
        WORDS,
        laws.colour_only_where_it_is_judged,
    ),
    "no keys": ("Planted Hints { display: none; }", WORDS, laws.hints_are_in_view),
    "keys cut": ("Planted Hints { width: 9; height: 1; }", WORDS, laws.hints_are_in_view),
    "a title not bold": (
        "Planted #title { text-style: not bold; }",
        WORDS,
        laws.the_first_line_says_it,
    ),
    "a title at the edge": ("Planted #title { padding: 0; }", WORDS, laws.the_first_line_says_it),
    "no title": ("Planted #title { visibility: hidden; }", WORDS, laws.the_first_line_says_it),
}


def test_each_law_has_its_faults() -> None:
    assert {law for _, _, law in FAULTS.values()} == set(laws.LAWS)


async def broken(screen: Planted) -> set[str]:
    """The laws that a screen breaks."""
    app = Small(screen)
    async with app.run_test(size=(120, 30)) as pilot:
        await pilot.pause()
        assert app.screen is screen
        return names(law for law in laws.LAWS if list(law(app)))


def names(found: Iterable[object]) -> set[str]:
    return {getattr(one, "__name__", "") for one in found}


async def test_a_sound_screen_breaks_none() -> None:
    assert await broken(Planted()) == set()


@pytest.mark.parametrize("fault", FAULTS)
async def test_a_planted_fault_is_caught(fault: str) -> None:
    rule, words, law = FAULTS[fault]
    assert law.__name__ in await broken(Planted(rule, words))


async def test_a_long_line_of_a_reveal_is_caught() -> None:
    class Unbroken(ResultRows):
        """As it were if a reveal's prose were not broken into lines."""

        @property
        def lines(self) -> tuple[object, ...]:  # type: ignore[override]
            return tuple(type(line)(LONG) for line in super().lines)

    class Revealed(Planted):
        def compose(self) -> ComposeResult:
            yield Static("A reveal", classes="title", markup=False)
            yield Unbroken() if self.words == LONG else ResultRows()
            yield Hints(Hint("Esc", "back"))

        def on_mount(self) -> None:
            self.query_one(ResultRows).told = Told(verdict=WORDS, because=LONG)

    assert len(LONG) > MEASURE
    assert await broken(Revealed(words=WORDS)) == set()
    assert await broken(Revealed(words=LONG)) == {"prose_keeps_its_measure"}
