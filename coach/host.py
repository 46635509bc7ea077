"""What screens may ask of the app they are shown by. The app itself knows the screens."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from textual.message import Message
from textual.screen import Screen

from coach.app_state import AppState
from coach.running.base_app import BaseApp
from drills.questions.protocol import Lab

if TYPE_CHECKING:
    from decks.deck import Deck


class HostApp(BaseApp):
    """An app with the learner's things at hand, and ways from one screen to the next."""

    app_state: AppState

    @property
    def large(self) -> bool:
        return self.app_state.record.setting("large") is True

    class PencilsReady(Message):
        """The pencils in use can be drilled with."""

    class PencilsFailed(Message):
        """The pencils in use can't be made ready; ``why`` is one line."""

        def __init__(self, why: str) -> None:
            super().__init__()
            self.why = why

    def tell_all(self, made: Callable[..., Message], *what: str) -> None:
        """Tell every screen: the one that waits for it may lie under another."""
        for screen in self.screen_stack:
            screen.post_message(made(*what))

    def make_ready(self) -> None:
        """Start making the pencils in use ready (or, before any are, load what that takes)."""
        raise NotImplementedError

    def begin(self, retest: bool = False, drill: str = "") -> None:
        """Start a session, the re-test that is due, or one drill; once over, back to today."""
        raise NotImplementedError

    def begin_one(self, drill: str | None) -> None:
        """Start a session of one drill or family alone (see ``coach.session.own_skills.only``);
        nothing for None, or while the pencils are not ready."""
        raise NotImplementedError

    def go(self, screen: Screen[None]) -> None:
        """Show a screen over the first one, in place of any other."""
        raise NotImplementedError

    def show_today(self) -> None:
        """Go back to today."""
        raise NotImplementedError

    def plan_for(self, target: Lab, target_sd: float = 0.0) -> None:
        """Show a plan for a target over the present screen; ``target_sd`` is the doubt in one that
        was read (ΔE00)."""
        raise NotImplementedError

    def write_deck(self, deck: Deck) -> None:
        """Show the room where a deck is made, begun with ``deck``."""
        raise NotImplementedError

    def show_deck(self, deck: Deck) -> None:
        """Show a deck's questions to a class, over the whole screen."""
        raise NotImplementedError

    def leave(self) -> None:
        """Save what waits and leave; with answers that can't be saved, ask first."""
        raise NotImplementedError
