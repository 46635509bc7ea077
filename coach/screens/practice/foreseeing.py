"""A question that, while the learner looks, works out what an answer to it will need."""

from __future__ import annotations

from typing import TYPE_CHECKING

from coach.screens.practice.colour_setting import ColourSettingScreen
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.choices import Choices
from drills.questions.adjusting import key_of

if TYPE_CHECKING:
    from textual.timer import Timer

    from coach.session.session import Session
    from drills.questions.protocol import Answers, Question, Reply

REST_S = 0.03
"""Between two things worked out, so that no key waits for more than one of them."""


class ForeseeingScreen(ColourSettingScreen):
    """Has a session, and the replies given so far."""

    session: Session | None
    question: Question | None
    replies: Answers
    _foreseen: Question | None = None
    _step: Timer | None = None

    @property
    def looking_ahead(self) -> bool:
        """Whether something may still be worked out."""
        return self._step is not None

    def look_ahead(self) -> None:
        """Begin to work out what comes next, a little at a time."""
        if self._step is not None:
            self._step.stop()
        self._foreseen = self.question
        self._step = self.set_timer(REST_S, self._look_on)

    def _look_on(self) -> None:
        self._step = None
        # The next question may have been drawn while the choices are still those of this one.
        if self.session is None or self.session.paused or self.question is not self._foreseen:
            return
        if self.session.look_ahead([(*self.replies, reply) for reply in self._likely()]):
            self.look_ahead()

    def _likely(self) -> tuple[Reply, ...]:
        """What the learner may reply next; of an order or a colour, what is laid out now."""
        setting = self.setting.setting
        if self.query_one(Choices).form != "set" or setting is None:
            return self.query_one(Choices).likely
        from drills.questions.draw import as_shown

        return ((key_of(as_shown(setting.lab)),),)

    def on_adjusting_swatch_moved(self, _: AdjustingSwatch.Moved) -> None:
        self.look_ahead()

    def on_choices_placed(self, _: Choices.Placed) -> None:
        self.look_ahead()
