"""One more key at a question, where that is wanted: the learner is sure of the answer."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType

from coach.screens.practice.foreseeing import ForeseeingScreen
from coach.widgets.hints import Hint, Hints

if TYPE_CHECKING:
    from coach.session.session import Session

OFFERED, SAID = "I am sure", "you are sure"


class SurenessScreen(ForeseeingScreen):
    """Knows whether the learner said so of the present question."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("full_stop", "sure", "Sure")]

    session: Session | None
    sure = False

    def sure_hints(self) -> tuple[Hint, ...]:
        """The key and what stands now; nothing where it is not asked for."""
        if self.session is None or not self.session.asks_sure:
            return ()
        return (Hint(".", SAID if self.sure else OFFERED, "sure"),)

    def action_sure(self) -> None:
        """Say that one is sure, or take it back, while the question stands."""
        hints = self.query_one(Hints)
        if not any(hint.action == "sure" for hint in hints.hints):
            return
        before = self.sure_hints()
        self.sure = not self.sure
        hints.hints = tuple(
            self.sure_hints()[0] if hint in before else hint for hint in hints.hints
        )
