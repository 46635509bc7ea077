"""What all screens have in common: one that is leaving takes nothing more."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import TYPE_CHECKING, ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.message import Message
from textual.screen import Screen, ScreenResultType

from coach.design.measures import SHEET

if TYPE_CHECKING:
    from textual.types import CSSPathType

    from coach.running.base_app import BaseApp


class CoachScreen(Screen[ScreenResultType]):
    """A screen of the coach.

    Keys, clicks and what widgets make of them (messages that bubble) may still wait
    here when the screen is dismissed or the app ends; then they are dropped, and so
    are its timers.
    """

    CSS_PATH: ClassVar[CSSPathType | None] = SHEET
    app: BaseApp

    def on_compose(self) -> None:
        self.size_things()

    def on_screen_resume(self) -> None:
        self.size_things()

    def size_things(self) -> None:
        """Have the class ``-large`` where large things are wanted, before anything is laid."""
        self.set_class(self.app.large, "-large")

    async def _on_message(self, message: Message) -> None:
        # Not ``on_event``: what widgets tell a screen doesn't come by there.
        if (message.bubble or isinstance(message, events.Timer)) and not self.app.stands(self):
            message.stop()
            return
        await super()._on_message(message)

    @asynccontextmanager
    async def one_frame(self) -> AsyncIterator[None]:
        """What changes within is painted at once, laid out anew; nothing of it before."""
        with self.app.batch_update():
            yield
            # Widgets ask on their own next turn to be laid out anew.
            await asyncio.sleep(0)


class ReadingScreen(CoachScreen[ScreenResultType]):
    """A screen with a part that is read on by keys, whatever has the focus."""

    READ: ClassVar[str] = "VerticalScroll"
    """Which part that is."""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "read('up')", "Read back"),
        Binding("down", "read('down')", "Read on"),
        Binding("pageup", "read('page_up')", "A page back"),
        Binding("pagedown", "read('page_down')", "A page on"),
        Binding("home", "read('home')", "To the top"),
        Binding("end", "read('end')", "To the end"),
    ]

    def action_read(self, way: str) -> None:
        """Scroll what is read."""
        getattr(self.query_one(self.READ, VerticalScroll), f"scroll_{way}")(animate=False)
