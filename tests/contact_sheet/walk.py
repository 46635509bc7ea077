"""A walk through every screen and state of a learner of some weeks, and of a newcomer."""

from __future__ import annotations

import itertools
import os
import random
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager, contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from functools import partial
from pathlib import Path
from shutil import copy2, copytree

from textual.pilot import Pilot
from textual.widgets import Input, OptionList, Static

from coach.app import CoachApp
from coach.app_state import AppState
from coach.screens.look import LookScreen
from coach.screens.practice.question import PracticeScreen
from coach.session.on_paper import Given, Laid, paper_attempt
from coach.sheets.said import BoxSaid, SheetSaid, SlotSaid, keep_said
from coach.terminal import ColourDepth
from drills.kinds import all_kinds
from drills.laws.replies import any_answer
from drills.layering.moves import FIRM, LIGHT, Move
from drills.pencils.sets import demo_set
from drills.planning.plan import LikelyMiss
from drills.questions.protocol import Kind
from scores.record.record import Record
from tests.answers import answer as answered
from tests.bench.records import A_DAY, FIRST_DAY, make_long_record
from tests.classes import STUDENTS, attempts, class_of, results_file
from tests.contact_sheet.class_made import by_family
from tests.contact_sheet.course import WHEN, course_walk, furnish_course
from tests.contact_sheet.desk import desk
from tests.contact_sheet.examples import example_of, first_example, kinds_shown
from tests.contact_sheet.large_lists import large_lists
from tests.contact_sheet.pressing import Seen, pressed, settled
from tests.first_question import first_question
from tests.photos.made import filed, quarters
from tests.pilots import TRUE_COLOUR, TableApp, answer, ready_once, shown, until, without_examples

WEEKS = 5
NOW = FIRST_DAY + timedelta(weeks=WEEKS)
AWAY = 30
"""Days after ``NOW`` that make a first day back."""
Size = tuple[int, int]
SIZES: tuple[Size, ...] = ((80, 24), (120, 40), (200, 60))
TARGET = "#a05040"
LAID = (40.0, 20.0, 10.0)
MOVES = (Move("lay", 0, LIGHT), Move("lay", 2, FIRM))


def furnish(home: Path, weeks: int = WEEKS) -> Path:
    """A home with a learner's weeks, a class and a photo; its record's path."""
    record = make_long_record(home / "record.db", attempts=A_DAY * 7 * weeks // 2, seed=3)
    # Not a first day back, which has a state of its own.
    lately = NOW - timedelta(days=2)
    record.save(answered(1, session="lately", kind="lighter-or-darker", at_utc=lately))
    without_examples(record, NOW)
    light, firm = BoxSaid("light", (70.0, 20.0, 10.0)), BoxSaid("firm", (50.0, 40.0, 20.0))
    spoilt = SlotSaid("M02 Oilskin Row", (light, BoxSaid("firm", None, "glare on it")))
    read = SheetSaid("ABC234", "pencils", "Pocket", (SlotSaid("M01", (light, firm)), spoilt))
    keep_said(record, read, FIRST_DAY)
    for weeks_ago, off in enumerate((4.0, 7.0, 5.0, 11.0), 1):
        laid = Laid(LAID, MOVES, LAID, LikelyMiss(4.0, 2.0, 7.0), f"laid{weeks_ago}")
        got = Given((LAID[0] + off, *LAID[1:]), 1.5, "by eye")
        then = NOW - timedelta(weeks=weeks_ago)
        record.save(paper_attempt(ready_once(demo_set()).palette, laid, got, then))
    record.close()
    days = {"Wren": range(1, 30), "Rail": range(1, 12), "Teal": range(3, 20)}
    files = [
        results_file(name, [*attempts(STUDENTS[name], days[name]), *by_family(name)])
        for name in STUDENTS
    ]
    class_of(home / "class.db", *files).close()
    (home / "photo.png").write_bytes(filed(quarters().repeat(10, 0).repeat(10, 1)))
    furnish_course(home / "course")
    return home / "record.db"


def app_of(
    path: Path, depth: ColourDepth = TRUE_COLOUR, now: datetime = NOW, later: int = 0
) -> TableApp:
    """The app on the record at ``path``, its clock and its dice standing still; some days
    ``later``."""
    seeds = itertools.count(1).__next__
    now = now + timedelta(days=later)
    state = AppState(Record.open(path), depth, lambda: now, lambda: 0.0, seeds)
    state.use(demo_set())
    state.keep(ready_once(demo_set()))
    return TableApp(state)


class NewcomersApp(TableApp):
    """One whose pencils, once chosen, are ready at once."""

    def make_ready(self) -> None:
        if not self.app_state.newcomer:
            self.app_state.keep(ready_once(demo_set()))


@asynccontextmanager
async def running(app: CoachApp, size: Size) -> AsyncIterator[Pilot[None]]:
    async with app.run_test(size=size) as pilot:
        yield pilot
    app.app_state.record.close()


@contextmanager
def at_home(folder: Path) -> Iterator[None]:
    """Have the coach take ``folder`` for its own."""
    before = os.environ.get("COACH_HOME")
    os.environ["COACH_HOME"] = str(folder)
    try:
        yield
    finally:
        if before is None:
            del os.environ["COACH_HOME"]
        else:
            os.environ["COACH_HOME"] = before


def own_copy(home: Path, size: Size, begins: str = "") -> Path:
    """A folder of its own with what ``furnish`` made in ``home``."""
    own = home / f"{begins}{size[0]}x{size[1]}"
    own.mkdir(exist_ok=True)
    for name in ("record.db", "record.journal", "class.db"):
        if (home / name).exists():
            copy2(home / name, own / name)
    return own


async def walk(home: Path, size: Size, every_kind: bool = True) -> AsyncIterator[Seen]:
    """Every state, one after another; ``home`` holds what ``furnish`` made (it is copied)."""
    own = own_copy(home, size)
    with at_home(own):
        async with running(app_of(own / "record.db"), size) as pilot:
            async for seen in learner_walk(pilot, home, every_kind):
                yield seen
        (own / "new").mkdir(exist_ok=True)
        state = AppState(
            Record.open(own / "new" / "record.db"), TRUE_COLOUR, lambda: NOW, lambda: 0.0, lambda: 1
        )
        async with running(NewcomersApp(state), size) as pilot:
            async for seen in _newcomer(pilot):
                yield seen
        few = ColourDepth(False, "16 colours only", "Set COLORTERM=truecolor.")
        async with running(app_of(own / "record.db", few), size) as pilot:
            yield Seen("today-few-colours", pilot)
        async with running(app_of(own / "record.db", later=AWAY), size) as pilot:
            await settled(pilot, "You were away")
            yield Seen("today-first-day-back", pilot)
    course = own / "course"
    copytree(home / "course", course)
    with at_home(course):
        async with running(app_of(course / "record.db", now=WHEN), size) as pilot:
            async for seen in course_walk(pilot, course):
                yield seen


async def learner_walk(pilot: Pilot[None], home: Path, every_kind: bool) -> AsyncIterator[Seen]:
    """Every state of a learner of some weeks, one after another."""
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    await settled(pilot, "skills met")
    yield see("today")
    await press("d")
    yield see("today-each-question")
    await press("d", "question_mark")
    await settled(pilot, "On the first screen")
    yield see("help")
    await press("escape", "o")
    yield see("one-thing")
    await press("escape", "h")
    yield see("guide")
    await press("down", "down", "down", "down")
    yield see("guide-later")
    await press("escape", "w")
    yield see("pencils")
    for key, name in (("e", "pencil-details"), ("s", "sets"), ("n", "colour-given")):
        await press(key)
        yield see(name)
        await press("escape")
    await press("h")
    await settled(pilot, "Paint next", gone="Working it out")
    yield see("hand")
    await press("o")
    yield see("patch-of-own")
    await press("escape", "escape", "b")
    yield see("filled-sheets")
    await press("enter")
    yield see("filled-sheet")
    await press("escape", "escape", "escape", "s")
    yield see("settings")
    await press("m")
    yield see("this-screen")
    await press("m")
    yield see("screen-by-eye")
    await press("escape", "escape", "escape", "g")
    await settled(pilot, "Progress from")
    yield see("progress")
    for _ in range(9):
        if "On paper, ΔE00" in shown(see("").app):
            break
        await press("right")
    await settled(pilot, "On paper, ΔE00")
    yield see("progress-paper")
    await press("2")
    yield see("progress-skills")
    await press("escape", "k")
    await settled(pilot, "students", gone="Reading the answers")
    yield see("class")
    for key, name in (
        ("enter", "class-student"),
        ("s", "class-skill"),
        ("m", "class-mixed-up"),
        ("b", "class-brief"),
        ("n", "class-not-begun"),
    ):
        await press(key)
        yield see(name)
        await press("escape")
    await press("f")
    yield see("class-wheel-not-met")
    await press("right")
    yield see("class-wheel")
    await press("escape")
    async for seen in desk(pilot, home):
        yield seen
    await press("escape")
    async for seen in _planning(pilot, home):
        yield seen
    async for seen in _practice(pilot, every_kind):
        yield seen


async def _planning(pilot: Pilot[None], home: Path) -> AsyncIterator[Seen]:
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    app = see("").app
    await press("m")
    await settled(pilot, "ΔE00", gone="Planning…")
    yield see("paper")
    await press("escape", "c")
    yield see("plan-asked")
    app.screen.query_one(Input).value = TARGET
    await press("enter")
    await settled(pilot, "ΔE00", gone="Planning…")
    yield see("plan")
    await press("left")
    yield see("plan-a-step-back")
    await press("right", "a")
    yield see("plan-other-way")
    await press("s")
    yield see("plan-swap")
    await press("escape", "m")
    yield see("plan-came-out")
    await press("1", "enter")
    await settled(pilot, "Esc")
    yield see("colour-by-eye")
    await press("escape")
    app.screen.query_one(OptionList).highlighted = 1
    await press("enter", *"#945548", "enter")
    await settled(pilot, "Beside the target")
    yield see("mending")
    await press("escape", "escape")
    await app.push_screen(LookScreen(str(home / "photo.png")))
    await until(pilot, lambda: getattr(app.screen, "spot", None) is not None)
    await pilot.pause()
    yield see("photo")
    await press("k")
    yield see("colours-kept")
    await press("escape", "escape")


async def _practice(pilot: Pilot[None], every_kind: bool) -> AsyncIterator[Seen]:
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    await press("enter")
    await pilot.pause()
    yield see("question")
    await press("p")
    yield see("paused")
    await press("p")
    await answer(pilot)
    await pilot.pause()
    yield see("reveal")
    for kind in all_kinds().values() if every_kind else ():
        async for seen in of_kind(pilot, kind):
            yield seen
    palette = ready_once(demo_set()).palette
    for kind in kinds_shown(every_kind):
        async for seen in example_of(pilot, kind, first_question(kind, palette)):
            yield seen
    for _ in range(5 if every_kind else 1):
        await press("enter")
        await answer(pilot)
    await press("escape")
    await settled(pilot, "How it went")
    yield see("closing")
    await press("d")
    yield see("closing-each-skill")
    app = see("").app
    app.app_state.record.set_setting("large", True)
    await press("enter")
    async for seen in large_lists(pilot):
        yield seen
    await press("enter")
    yield see("large-question")
    await answer(pilot)
    await pilot.pause()
    yield see("large-reveal")
    for kind in kinds_shown(every_kind):
        async for seen in example_of(pilot, kind, first_question(kind, palette)):
            yield replace(seen, name=f"large-{seen.name}")
    for kind in all_kinds().values() if every_kind else ():
        async for seen in of_kind(pilot, kind):
            yield replace(seen, name=f"large-{seen.name}")


async def of_kind(pilot: Pilot[None], kind: Kind) -> AsyncIterator[Seen]:
    """A question of a kind, at the easy end of its steps, and what comes of any answer."""
    see = partial(Seen, pilot=pilot)
    app = see("").app
    screen = app.screen
    assert isinstance(screen, PracticeScreen)
    assert screen.outcome is not None
    assert app.app_state.ready_for is not None
    like = screen.outcome
    palette = app.app_state.ready_for.palette
    asked = first_question(kind, palette)
    screen.question, screen.replies = asked, ()
    screen.query_one("#title", Static).update(kind.title)
    screen._show_asking(True)
    screen._ask()
    await pilot.pause()
    yield see(f"question-{kind.name}")
    answers = any_answer(kind, asked, random.Random(1).choice)
    screen.tell(replace(like, grade=kind.grade(asked, answers), reveal=kind.reveal(asked, answers)))
    await pilot.pause()
    yield see(f"reveal-{kind.name}")


async def _newcomer(pilot: Pilot[None]) -> AsyncIterator[Seen]:
    press, see = partial(pressed, pilot), partial(Seen, pilot=pilot)
    yield see("welcome")
    await press("3")
    yield see("pencil-file")
    await press("escape", "1")
    yield see("screen-check")
    app: Callable[[], CoachApp] = lambda: see("").app  # noqa: E731
    await until(pilot, lambda: app().app_state.ready_for is not None)
    await press("enter")
    async for seen in first_example(pilot):
        yield seen
