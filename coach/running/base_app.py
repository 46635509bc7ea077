"""What every screen relies on and textual leaves to us: input in its place, faults, hang-ups."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any, ClassVar
from weakref import WeakKeyDictionary

from textual import events
from textual.app import App
from textual.dom import DOMNode, NoScreen
from textual.screen import Screen

from coach.design.kept_sheet import KeptSheet
from coach.design.measures import BREAKPOINTS, FIRST_SHEET
from coach.room import MIDDLE, ROOMS
from coach.running.faults import STATUS

if TYPE_CHECKING:
    from rich.console import RenderableType
    from textual.actions import ActionParseResult
    from textual.driver import Driver
    from textual.types import CSSPathType


class BaseApp(App[None]):
    """An app in which input counts only on the screen it was meant for.

    A key is first handed to the widget that has the focus and comes back here by
    way of its screen; meanwhile the key before it may have closed that screen, or the
    app. So a key, click or paste counts only while the screen that was on top when it
    was read still is. ``CoachScreen`` does the same for what its widgets tell it.
    """

    CSS_PATH: ClassVar[CSSPathType | None] = FIRST_SHEET
    HORIZONTAL_BREAKPOINTS = BREAKPOINTS

    def __init__(self) -> None:
        self.ending = False
        """True once the app has been told to end: nothing counts any more."""
        self.fault: Exception | None = None
        """What ended the app, where that was a fault of our own."""
        self._meant_for: WeakKeyDictionary[events.Event, Screen[Any]] = WeakKeyDictionary()
        super().__init__()
        for room in ROOMS:
            self.register_theme(room.theme())
        # The colours are known before the first rule is read, so that none is read twice.
        self.set_reactive(App.theme, MIDDLE.name)
        self.update_classes(
            {"-light-mode": not MIDDLE.dark, "-dark-mode": MIDDLE.dark}, update=False
        )
        self.stylesheet: KeptSheet = KeptSheet(variables=self.get_css_variables())

    @property
    def large(self) -> bool:
        """Whether large things are wanted, and fewer."""
        return False

    def exit(
        self,
        result: None = None,
        return_code: int = 0,
        message: RenderableType | None = None,
    ) -> None:
        self.ending = True
        super().exit(result, return_code, message)

    def _handle_exception(self, error: Exception) -> None:
        """Keep the first fault for ``coach.start`` to tell of, and end; no screenful of source."""
        if self.is_headless:
            # A test's pilot raises it again.
            super()._handle_exception(error)
            return
        if self.fault is None:
            self.fault = error
            self.rescue()
        self.exit(None, STATUS)
        self._close_messages_no_wait()

    def rescue(self) -> None:
        """What must still be done after a fault; must not raise."""

    def get_driver_class(self) -> type[Driver]:
        chosen = super().get_driver_class()
        if chosen.__name__ == "LinuxDriver":
            from coach.running.driver import SteadyDriver

            return SteadyDriver
        if chosen.__name__ == "WebDriver":
            from coach.running.web_driver import SteadyWebDriver

            return SteadyWebDriver
        return chosen

    def stands(self, screen: Screen[Any]) -> bool:
        """Whether a screen is on top or waits under another; False once it is leaving."""
        return not self.ending and screen in self.screen_stack

    async def on_event(self, event: events.Event) -> None:
        if isinstance(event, events.InputEvent | events.Paste):
            if self.ending or not self.screen_stack:
                return
            if not event.is_forwarded:
                self._meant_for[event] = self.screen
            if self._meant_for.get(event, self.screen) is not self.screen:
                return
        await super().on_event(event)

    async def run_action(
        self,
        action: str | ActionParseResult,
        default_namespace: DOMNode | None = None,
        namespaces: Mapping[str, DOMNode] | None = None,
    ) -> bool:
        if self.ending or self._behind(default_namespace):
            return True
        return await super().run_action(action, default_namespace, namespaces)

    def _behind(self, node: DOMNode | None) -> bool:
        """Whether a node belongs to another screen than the one on top, or to none any more."""
        if node is None or node is self:
            return False
        try:
            return node.screen is not self.screen
        except NoScreen:
            return True
