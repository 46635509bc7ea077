"""What is shown before a question: a teacher's lessons, and a solved one where it is new."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType

from coach.screens.practice.sureness import SurenessScreen
from coach.session.assigned.lessons import lessons_over, unread

if TYPE_CHECKING:
    from collections.abc import Callable

    from coach.host import HostApp
    from coach.session.assigned.lessons import Lesson


class BeforehandScreen(SurenessScreen):
    """Knows what comes before its question, and shows it over itself."""

    app: HostApp
    BINDINGS: ClassVar[list[BindingType]] = [Binding("n", "lesson", "Lesson")]

    _away = False
    """Whether the clock stands because another screen lies over this one."""
    _counted = False
    """Whether what lies over this one is part of the session, so that the clock runs on."""

    def on_screen_suspend(self) -> None:
        """The clock stands while another screen lies over this one, but for an example."""
        if self._counted:
            return
        self._away = self.session is not None and not self.session.paused
        if self.session is not None:
            self.session.pause()

    def show_beforehand(self, then: Callable[[], None]) -> bool:
        """Show the lessons and the example that come before the present question; False where
        there are none."""
        assert self.session is not None
        before = unread(self.app.app_state.record, lessons_over(self.session))
        if before:
            self.show_lessons(before, partial(self._after_lessons, then))
        return bool(before) or self._show_example(then)

    def _after_lessons(self, then: Callable[[], None], _: None) -> None:
        if not self._show_example(then):
            then()

    def _show_example(self, then: Callable[[], None]) -> bool:
        session = self.session
        assert session is not None
        if session.solved is None or self.question is None:
            return False
        from coach.screens.practice.example import ExampleScreen

        def over(_: None) -> None:
            self._counted = False
            session.example_over()
            then()

        self._counted = True
        title = session.kinds[self.question.kind].title
        self.app.push_screen(ExampleScreen(title, session.solved, session), over)
        return True

    def action_lesson(self) -> None:
        """Show the lessons of the present question again."""
        if self.session is not None and self.question is not None and not self.session.paused:
            again = lessons_over(self.session)
            if again:
                self.show_lessons(again, lambda _: None)

    def show_lessons(self, found: list[Lesson], then: Callable[[None], None]) -> None:
        """Show lessons over this screen, the clock standing."""
        from coach.screens.practice.lesson import LessonScreen

        self.app.push_screen(LessonScreen(found), then)
