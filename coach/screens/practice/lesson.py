"""A lesson: a teacher's word and picture, before the questions that they are about."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.host import HostApp
from coach.screens.base import ReadingScreen
from coach.session.assigned.lessons import Lesson, keep_read
from coach.widgets.drawn.still_picture import StillPicture
from coach.widgets.hints import Hint, Hints

NO_COLOUR = "A picture belongs here. This terminal can't show its colours truly: try coach serve."


class LessonScreen(ReadingScreen[None]):
    """One lesson after another, as given; each counts as read when it is left by going on."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,space", "onward", "Go on"),
        Binding("escape", "back", "Leave"),
    ]

    def __init__(self, lessons: list[Lesson], going_on: str = "to the questions") -> None:
        super().__init__()
        self._lessons = lessons
        self._at = 0
        self._going_on = going_on

    def compose(self) -> ComposeResult:
        yield Static("", id="title", classes="title", markup=False)
        yield Static("", id="from", markup=False)
        with VerticalScroll(can_focus=False):
            yield VerticalScroll(id="picture", can_focus=False)
            yield Static("", id="word", markup=False)
            yield Static("", id="paper", markup=False)
        yield Hints()

    async def on_mount(self) -> None:
        await self._show()

    async def _show(self) -> None:
        lesson = self._lessons[self._at]
        step, deck = lesson.step, lesson.deck
        self.query_one("#title", Static).update(step.title)
        count = f", lesson {self._at + 1} of {len(self._lessons)}" * (len(self._lessons) > 1)
        self.query_one("#from", Static).update(f"“{deck.title}”, from {deck.author}{count}")
        self.query_one("#word", Static).update(step.word)
        self.query_one("#word").display = bool(step.word)
        paper = self.query_one("#paper", Static)
        paper.update(f"On paper: {step.on_paper}")
        paper.display = bool(step.on_paper)
        place = self.query_one("#picture", VerticalScroll)
        await place.remove_children()
        if step.picture:
            await place.mount(self._picture(step.picture))
        self.query_one(VerticalScroll).scroll_home(animate=False)
        more = self._at + 1 < len(self._lessons)
        self.query_one(Hints).hints = (
            Hint("Enter", "the next lesson" if more else self._going_on, "onward"),
            Hint("↑ ↓", "read on"),
            Hint("Esc", "leave it for later", "back"),
        )

    def _picture(self, text: str) -> StillPicture | Static:
        from decks.lessons.pictures import open_inside
        from drills.basics.errors import InputError

        if not self.app.app_state.depth.true_colour:
            return Static(NO_COLOUR, markup=False)
        try:
            return StillPicture(open_inside(text))
        except InputError as error:
            return Static(f"A picture belongs here, but {error.problem}.", markup=False)

    async def action_onward(self) -> None:
        """The next lesson, or what comes after them."""
        keep_read(self.app.app_state.record, self._lessons[self._at])
        self._at += 1
        if self._at < len(self._lessons):
            await self._show()
        else:
            self.dismiss()

    def action_back(self) -> None:
        """Leave them unread: they come again."""
        self.dismiss()
