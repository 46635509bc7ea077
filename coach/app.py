"""The app: the room, the keys that work everywhere, and which screen comes next."""

from __future__ import annotations

import gc
import threading
import time
from collections.abc import Callable, Iterable
from contextlib import suppress
from dataclasses import replace
from functools import partial
from importlib import import_module
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import SystemCommand
from textual.binding import Binding, BindingType
from textual.screen import Screen
from textual.worker import Worker, WorkerState, get_current_worker

from coach.design.measures import SHEET
from coach.host import HostApp
from coach.room import ROOMS
from drills.basics.days import practice_day

if TYPE_CHECKING:
    from datetime import date

    from coach.app_state import AppState, Ready
    from decks.deck import Deck
    from drills.hand.patch import Patch
    from drills.layering.palette import Palette
    from drills.pencils.pencil import PencilSet
    from drills.questions.protocol import Lab
    from drills.screen.known import ScreenKnown
    from scores.learner.eye import Followed
    from scores.today.offers import Offers


LOOKING_RESTS_S, COPYING_RESTS_S = 0.02, 0.004
"""Between two steps of looking the record over, and of copying it: no key's answer waits."""
PLACES = {
    "plan": ("Plan a colour", "Which pencils to lay, in what order, how hard"),
    "look": ("Look at a photo", "Colours out of a picture, to keep and to plan"),
    "progress": ("Progress", "How your eye has changed"),
    "wheel": ("The wheel", "Where you stand in each hue family"),
    "pencils": ("Pencils", "Those in use, and how to change them"),
    "hand": ("Your hand", "What patches you painted say of it, and which to paint next"),
    "guide": ("Guide", "The words of the craft, with swatches that show them"),
    "settings": ("Settings", "What is asked, and how"),
    "display": ("This screen", "What it makes of colours: by eye, or from its profile"),
    "classroom": ("Class", "What students sent back"),
}
"""Screens that can be opened from anywhere: each module, its title and what it is for."""


class CoachApp(HostApp):
    """Practise seeing colour and laying it down."""

    TITLE = "coach"
    COMMAND_PALETTE_DISPLAY = "Ctrl+P"
    DEFAULT_MODE = "coach"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("question_mark,f1", "help", "Help"),
        Binding("ctrl+q", "quit", "Leave", priority=True),
    ]

    def __init__(self, app_state: AppState, drill: str = "") -> None:
        super().__init__()
        self.app_state = app_state
        self._drill = drill
        self._tried_again = False
        self._leaving = threading.Event()
        self._untended = threading.Event()
        self._untended.set()
        # Textual loads the style of a mode's first screen, but not of a default screen.
        self.add_mode(self.DEFAULT_MODE, self.first_screen)

    def first_screen(self) -> Screen[None]:
        if self.app_state.newcomer:
            from coach.screens.first_start.welcome import WelcomeScreen

            return WelcomeScreen()
        from coach.screens.practice.today import TodayScreen

        return TodayScreen()

    def on_ready(self) -> None:
        # Once the first screen is painted: the thread would take its time from that.
        self.call_after_refresh(self.make_ready)
        if self._drill and not self.app_state.newcomer:
            self.call_after_refresh(self.begin, drill=self._drill)

    def make_ready(self) -> None:
        """Start making the pencils in use ready (or, before any are, load what that takes)."""
        # Left off while the first screen was made (``coach.start``).
        gc.enable()
        from drills.basics.errors import InputError

        try:
            pencils = None if self.app_state.newcomer else self.app_state.prepared()
            self._make_ready(
                pencils,
                self.app_state.decks(),
                self.app_state.offers_kept(),
                self._patches(pencils),
                self.app_state.screen_known,
            )
        except InputError as error:
            self.tell_all(self.PencilsFailed, str(error))

    def _patches(self, pencils: PencilSet | Palette | None) -> tuple[Patch, ...]:
        if pencils is None:
            return ()
        from coach.learned import patches_or_none, set_of

        patches, trouble = patches_or_none(self.app_state.record, set_of(pencils))
        self.app_state.say(trouble)
        return patches

    @work(thread=True, exclusive=True, exit_on_error=False)
    def _make_ready(
        self,
        pencils: PencilSet | Palette | None,
        decks: tuple[Deck, ...],
        offers: Offers | None,
        patches: tuple[Patch, ...],
        screen_known: ScreenKnown,
    ) -> Ready | None:
        from coach.app_state import ready
        from coach.learned import warmed
        from drills.pencils.sets import demo_set

        self.stylesheet.read_ahead(SHEET)
        if pencils is None:
            # A newcomer may choose any set: only what every set takes is loaded.
            warmed(demo_set())
            return None
        made = ready(pencils, decks, offers, patches, screen_known)
        made = replace(made, eye=self.app_state.eye.followed(made.offers))
        # All this stays until the end. Going through it again and again for garbage would
        # hold up a reveal by 50 ms now and then.
        gc.collect()
        gc.freeze()
        return made

    @work(thread=True, exclusive=True, group="record", exit_on_error=False)
    def _tend_record(self, today: date) -> None:
        """Make the day's backup, look the record over and mend it; in steps nobody feels."""
        self._untended.clear()
        try:
            if not self._leaving.is_set():
                self._tend(today)
        finally:
            self._untended.set()

    def let_go(self, wait_s: float) -> bool:
        """Have the thread that tends the record leave its file; whether it did within the wait.

        A file that another connection still reads keeps its log when it is closed.
        """
        self._leaving.set()
        return self._untended.wait(wait_s)

    def _tend(self, today: date) -> None:
        from scores.record.mending.compare import look_over
        from scores.record.record import NotSavedError
        from scores.upkeep.backups import back_up

        worker, record = get_current_worker(), self.app_state.record

        def go_on(rest: float = COPYING_RESTS_S) -> bool:
            time.sleep(rest)
            return not (worker.is_cancelled or self._leaving.is_set())

        # The copy first: it is soon made, and of a damaged record none is. Where none can be
        # made, coach doctor says why.
        back_up(record.path, today, go_on)
        try:
            for _ in look_over(record):
                if not go_on(LOOKING_RESTS_S):
                    return
        except NotSavedError as error:
            self.app_state.say(f"The record could not be checked to the end: {error}.")
        with suppress(NotSavedError):
            from coach.session.seeing import note

            self.app_state.say(note(record))
        if go_on(0.0):
            self.call_from_thread(self._hear)
        self._go_over_answers(go_on)

    def _go_over_answers(self, go_on: Callable[[], bool]) -> None:
        """Where only the latest answers were gone over for the learner's model: all of them."""
        from scores.learner.eye import all_over

        eye = self.app_state.eye.model
        if eye is None or eye.followed is None or eye.followed.whole:
            return
        layout = eye.followed.learner.layout
        made = all_over(self.app_state.record, layout, go_on)
        if made is not None:
            self.call_from_thread(self._take_eye, made)

    def _take_eye(self, followed: Followed) -> None:
        eye = self.app_state.eye.model
        if eye is not None and eye.followed is not None and not eye.followed.whole:
            eye.take(followed)
            self.app_state.keep_eye()

    def _hear(self) -> None:
        """Show what was mended, where the first screen stands."""
        fill = getattr(self.screen, "fill", None)
        if (self.app_state.hear() or self.app_state.notice) and fill is not None:
            fill()

    async def action_quit(self) -> None:
        """Leave; where answers are not saved yet, ask first."""
        self.leave()

    def leave(self) -> None:
        """Save what waits and leave; with answers that can't be saved, ask first."""
        if not self.app_state.unsaved.save():
            self.app_state.keep_eye()
            self.exit()
            return
        from coach.screens.practice.leaving import LeavingScreen

        if not isinstance(self.screen, LeavingScreen):
            self.push_screen(LeavingScreen())

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        if event.worker.group == "record":
            return
        if event.state is WorkerState.ERROR and self._half_imported(event.worker.error):
            self.make_ready()
            return
        if event.state in (WorkerState.SUCCESS, WorkerState.ERROR):
            # Not before: it would take its time from making the pencils ready.
            self._tend_record(practice_day(self.app_state.clock()))
        if event.state is WorkerState.SUCCESS and event.worker.result is not None:
            self.app_state.keep(event.worker.result)
            self.tell_all(self.PencilsReady)
        elif event.state is WorkerState.ERROR:
            self.tell_all(self.PencilsFailed, str(event.worker.error))

    def _half_imported(self, error: BaseException | None) -> bool:
        """Whether two threads imported the same at once, and one saw a module half made: once."""
        again = isinstance(error, ImportError | AttributeError) and not self._tried_again
        self._tried_again = self._tried_again or again
        return again

    def rescue(self) -> None:
        """After a fault: save what waits, and note the session so that it is offered again."""
        from coach.screens.practice.question import PracticeScreen
        from coach.session.unfinished import note

        for screen in self._screen_stack:
            if isinstance(screen, PracticeScreen) and screen.session is not None:
                with suppress(Exception):
                    note(screen.session, self.app_state.clock())

    def begin(self, retest: bool = False, drill: str = "") -> None:
        """Start a session, the re-test that is due, or one drill; once over, back to today."""
        from coach.screens.practice.question import PracticeScreen

        self.go(PracticeScreen(retest, drill))

    def go(self, screen: Screen[None]) -> None:
        """Show a screen over the first one, in place of any other."""
        if len(self.screen_stack) > 1:
            self.switch_screen(screen)
        else:
            self.push_screen(screen)

    def show_today(self) -> None:
        from coach.screens.practice.today import TodayScreen

        if isinstance(self.screen_stack[0], TodayScreen):
            self.pop_screen()
        else:
            self.go(TodayScreen())

    def action_open(self, name: str) -> None:
        """Show one of ``PLACES`` over the present screen, unless it is that one."""
        module = import_module(f"coach.screens.{name}")
        screen = getattr(module, f"{name.capitalize()}Screen")
        needs_pencils = name != "classroom"
        if not isinstance(self.screen, screen) and not (needs_pencils and self.app_state.newcomer):
            self.push_screen(screen())

    def action_on_paper(self) -> None:
        """Show one colour to lay with real pencils."""
        from coach.screens.planning.paper import PaperScreen

        if not self.app_state.newcomer and not isinstance(self.screen, PaperScreen):
            self.push_screen(PaperScreen())

    def action_one(self) -> None:
        """Choose one drill, one family or one colour wished for, to practise nothing else."""
        from coach.screens.one_drill import OneDrillScreen
        from scores.today.wishes import wishes_in

        today = None if self.app_state.newcomer else self.app_state.today()
        if today is not None and not isinstance(self.screen, OneDrillScreen):
            wishes = wishes_in(self.app_state.record.settings())
            self.push_screen(OneDrillScreen(today.offers, wishes), self.begin_one)

    def begin_one(self, drill: str | None) -> None:
        if drill and self.app_state.ready_for is not None:
            self.begin(drill=drill)

    def plan_for(self, target: Lab, target_sd: float = 0.0) -> None:
        from coach.screens.plan import PlanScreen

        self.push_screen(PlanScreen(target, target_sd))

    def write_deck(self, deck: Deck) -> None:
        from coach.screens.teaching.write_deck import WriteDeckScreen

        self.push_screen(WriteDeckScreen(deck))

    def show_deck(self, deck: Deck) -> None:
        self.push_screen(import_module("coach.screens.teaching.showing.deck").ShowDeckScreen(deck))

    def action_command_palette(self) -> None:
        from coach.screens.palette import CommandsScreen

        if self.use_command_palette and not isinstance(self.screen, CommandsScreen):
            self.push_screen(CommandsScreen(id="--command-palette"))

    def action_help(self) -> None:
        from coach.screens.help import HelpScreen

        if not isinstance(self.screen, HelpScreen):
            self.push_screen(HelpScreen())

    def get_system_commands(self, screen: Screen[object]) -> Iterable[SystemCommand]:
        for room in ROOMS:
            yield SystemCommand(
                f"Room: {room.name}",
                "Change the surround",
                lambda name=room.name: setattr(self, "theme", name),
            )
        for name, (title, about) in PLACES.items():
            yield SystemCommand(title, about, partial(self.action_open, name))
        about = "One colour to lay with real pencils, and what came"
        yield SystemCommand("On paper", about, self.action_on_paper)
        yield SystemCommand("Help", "Keys and cautions", self.action_help)
        yield SystemCommand("Leave", "Close the coach", self.action_quit)
