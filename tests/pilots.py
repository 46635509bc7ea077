"""The app on a table of the tests' own: its clock, its dice and its pencils are ours."""

from __future__ import annotations

import itertools
import re
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime
from functools import cache
from pathlib import Path
from typing import Any

import textual._wait
import textual.css.stylesheet
from rich.cells import cell_len
from rich.style import Style
from textual.app import App
from textual.css.model import RuleSet
from textual.css.tokenizer import Token
from textual.pilot import Pilot

from coach.app import CoachApp
from coach.app_state import AppState, Ready, ready
from coach.screens.practice.question import PracticeScreen
from coach.terminal import ColourDepth
from coach.widgets.choices import Choices, keys_for
from decks.deck import Deck
from drills.basics.days import practice_day
from drills.colour.spaces import screen_rgb
from drills.hand.patch import Patch
from drills.kinds import all_kinds
from drills.pencils.pencil import PencilSet
from drills.pencils.sets import demo_set
from drills.questions.protocol import Ask, Lab, Reveal, Swatch
from drills.screen.known import ScreenKnown
from scores.record.record import Record
from scores.today.examples import SHOWN
from scores.today.offers import Offers

MORNING = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
TRUE_COLOUR = ColourDepth(True, "24-bit colour, so swatches are shown as they are")
FEW_COLOURS = ColourDepth(False, "256 colours only", "Set COLORTERM=truecolor.")
KINDS = tuple(all_kinds())
RGB = tuple[int, int, int]

# Textual's pilot looks every 20 ms whether the app has come to rest, several times a
# key. Looking more often changes nothing that is seen and halves the tests' time.
textual._wait.SLEEP_GRANULARITY = 0.004

# Each app reads the same style sheets: what they say with the same variables is read once.
_parse = textual.css.stylesheet.parse
_sheets: dict[object, list[RuleSet]] = {}


def _parsed_once(
    scope: str,
    css: str,
    read_from: tuple[str, str],
    variable_tokens: dict[str, list[Token]],
    **how: Any,
) -> list[RuleSet]:
    values = tuple((k, tuple(t.value for t in tokens)) for k, tokens in variable_tokens.items())
    key = (scope, css, read_from, values, *sorted(how.items()))
    if key not in _sheets:
        _sheets[key] = list(_parse(scope, css, read_from, variable_tokens=variable_tokens, **how))
    return _sheets[key]


textual.css.stylesheet.parse = _parsed_once  # type: ignore[assignment]


class Hands:
    """A timer that moves ``pace`` seconds whenever it is looked at."""

    def __init__(self, pace: float = 1.0) -> None:
        self.pace = pace
        self.now = 100.0

    def __call__(self) -> float:
        self.now += self.pace
        return self.now


@cache
def ready_once(
    pencils: PencilSet,
    decks: tuple[Deck, ...] = (),
    offers: Offers | None = None,
    patches: tuple[Patch, ...] = (),
    screen_known: ScreenKnown = True,
) -> Ready:
    """A set made ready, once for all tests."""
    return ready(pencils, decks, offers, patches, screen_known)


class TableApp(CoachApp):
    """The app, but a set that is ready is not made ready again."""

    def make_ready(self) -> None:
        if self.app_state.ready_for is None:
            super().make_ready()


def new_desk(
    folder: Path,
    depth: ColourDepth = TRUE_COLOUR,
    timer: Callable[[], float] | None = None,
    seed: int = 1,
    notice: str = "",
) -> AppState:
    """The app's state of someone who has never been here."""
    record = Record.open(folder / "record.db")
    seeds = itertools.count(seed).__next__
    return AppState(record, depth, lambda: MORNING, timer or Hands(), seeds, notice)


def without_examples(record: Record, day: datetime = MORNING) -> None:
    """Have the examples of all drills shown already on a day."""
    record.set_setting(SHOWN, dict.fromkeys(KINDS, practice_day(day).isoformat()))


def table(
    folder: Path,
    *kinds: str,
    pencils: PencilSet | None = None,
    depth: ColourDepth = TRUE_COLOUR,
    timer: Callable[[], float] | None = None,
    seed: int = 1,
    minutes: float = 10,
    notice: str = "",
    examples: bool = False,
) -> TableApp:
    """The app of someone whose pencils are chosen and ready; only ``kinds`` (else all) are on.

    Unless with ``examples``, those of all drills were shown earlier that day.
    """
    app_state = new_desk(folder, depth, timer, seed, notice)
    chosen = pencils or demo_set()
    app_state.use(chosen)
    app_state.keep(ready_once(chosen))
    app_state.record.set_setting("minutes", minutes)
    if not examples:
        without_examples(app_state.record)
    app_state.record.set_setting(
        "kinds_off", [kind for kind in KINDS if kinds and kind not in kinds]
    )
    return TableApp(app_state)


# What stands on the screen


@dataclass(frozen=True)
class Run:
    """Some characters of one line in one style, and where they begin."""

    x: int
    y: int
    text: str
    style: Style

    @property
    def behind(self) -> RGB | None:
        """What is painted behind the characters, reversal counted."""
        colour = self.style.color if self.style.reverse else self.style.bgcolor
        return None if colour is None or colour.triplet is None else tuple(colour.triplet)

    @property
    def lettering(self) -> RGB | None:
        colour = self.style.bgcolor if self.style.reverse else self.style.color
        return None if colour is None or colour.triplet is None else tuple(colour.triplet)

    @property
    def blank(self) -> bool:
        return not self.text.strip(" ")


def runs(app: App[Any]) -> list[Run]:
    """All that stands on the screen on top."""
    found = []
    for y, strip in enumerate(app.screen._compositor.render_strips()):
        x = 0
        for text, style, _ in strip:
            found.append(Run(x, y, text, style or Style()))
            x += cell_len(text)
    return found


def widths(app: App[Any]) -> set[int]:
    """The cells of the screen's lines: one number where nothing has run over."""
    return {strip.cell_length for strip in app.screen._compositor.render_strips()}


def lines(app: App[Any]) -> list[str]:
    """The screen as text."""
    return [strip.text for strip in app.screen._compositor.render_strips()]


def shown(app: App[Any]) -> str:
    """The screen as one text, its line breaks and runs of spaces made one space."""
    return " ".join(" ".join(lines(app)).split())


def place_of(app: App[Any], words: str) -> tuple[int, int]:
    """The cell (column, row) where these words begin; they must stand on one line."""
    for y, line in enumerate(lines(app)):
        at = line.find(words)
        if at >= 0:
            return cell_len(line[:at]), y
    raise AssertionError(f"{words!r} is not on the screen:\n" + "\n".join(lines(app)))


def rgb(lab: Lab) -> RGB:
    """The 8-bit colour that stands for a Lab on screen."""
    red, green, blue = (int(level) for level in screen_rgb(lab))
    return red, green, blue


def coloured(colour: RGB | None) -> bool:
    return colour is not None and len(set(colour)) > 1


def painted(app: App[Any]) -> set[RGB]:
    """The colours, greys left out, that lie behind any cell."""
    return {run.behind for run in runs(app) if run.behind and coloured(run.behind)}


def hues_in(swatches: Iterable[Swatch | None]) -> set[RGB]:
    """The colours, greys left out, that these swatches are painted in."""
    labs = [part for s in swatches if s is not None for part in (s.lab, s.surround) if part]
    return {colour for colour in map(rgb, labs) if coloured(colour)}


def asked_hues(asked: Ask) -> set[RGB]:
    set_from = Swatch(asked.start) if asked.start is not None else None
    return hues_in([*asked.scene, set_from, *(choice.swatch for choice in asked.choices)])


def told_hues(reveal: Reveal) -> set[RGB]:
    return hues_in(
        [reveal.target, *(s for row in reveal.results for s in (row.swatch, row.beside))]
    )


def svg_colours(svg: str) -> set[RGB]:
    """The colours in a screenshot's own cells; the drawn window round it is not the app's."""
    body = svg[svg.index('clip-path="url(#') :]
    found = set(re.findall(r'<rect fill="#([0-9a-f]{6})"', body))
    styles = dict(re.findall(r"-(r\d+) \{ fill: #([0-9a-f]{6})", svg))
    written = re.findall(r'<text class="[^"]*-(r\d+)"[^>]*>[^\n]', body)
    found |= {styles[name] for name in written}
    return {(int(c[:2], 16), int(c[2:4], 16), int(c[4:], 16)) for c in found}


# What a person does


async def until(pilot: Pilot[None], seen: Callable[[], bool]) -> None:
    """Let the app work until something is seen: a thread's work, a change of size."""
    for _ in range(2000):
        if seen():
            return
        await pilot.pause()
    raise AssertionError("waited in vain")


def practice(app: CoachApp) -> PracticeScreen:
    assert isinstance(app.screen, PracticeScreen), app.screen
    return app.screen


def asked_now(app: CoachApp) -> Ask:
    asked = practice(app).query_one(Choices).asked
    assert asked is not None
    return asked


async def choose(pilot: Pilot[None], index: int, mouse: bool = False) -> None:
    """Take the choice at ``index`` of what is asked now."""
    app = pilot.app
    assert isinstance(app, CoachApp)
    choices = practice(app).query_one(Choices)
    if not mouse:
        await pilot.press(keys_for(choices.choices)[index])
        return
    cell = choices._cells(choices.size.width, choices._depth)[index]
    await pilot.click(Choices, offset=(cell.x + 1, cell.y))


async def answer(pilot: Pilot[None], pick: int = 0, mouse: bool = False) -> None:
    """Answer the present question in full, taking the choice at ``pick`` where one is taken."""
    app = pilot.app
    assert isinstance(app, CoachApp)
    for turn in range(20):
        screen = practice(app)
        if screen.outcome is not None:
            return
        asked = asked_now(app)
        count = len(asked.choices)
        if asked.form == "arrange":
            for at in range(count):
                await choose(pilot, (at + pick) % count, mouse)
            await _take(pilot, "Enter answer", "enter", mouse)
        elif asked.form == "build" and turn >= 2:
            await _take(pilot, "d done", "d", mouse)
        elif asked.form == "set":
            await _take(pilot, "Enter that is it", "enter", mouse)
        else:
            # Never the place just taken: a second click there counts as a double one.
            await choose(pilot, (pick + turn) % count, mouse)
        await pilot.pause()
    raise AssertionError("twenty replies have not answered the question")


async def _take(pilot: Pilot[None], hint: str, key: str, mouse: bool) -> None:
    app = pilot.app
    assert isinstance(app, CoachApp)
    if mouse:
        await pilot.click(offset=place_of(app, hint))
    else:
        await pilot.press(key)


def kept(folder: Path) -> list[tuple[str, int]]:
    """The (kind, seed) of each answer in the file, read through a connection of its own."""
    with closing(sqlite3.connect(f"file:{folder / 'record.db'}?mode=ro", uri=True)) as db:
        return list(db.execute("SELECT kind, seed FROM attempts ORDER BY seq"))


def damaged_record(path: Path) -> bytes:
    """Put something at ``path`` that only begins like a record; its bytes."""
    path.write_bytes(b"SQLite format 3\0" + b"not at all " * 400)
    return path.read_bytes()
