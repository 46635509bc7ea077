"""A wheel beside what it says of the family marked."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Static

from coach.screens.base import CoachScreen
from coach.widgets.drawn.wheel import Wedge, WheelPicture
from coach.widgets.hints import Hint, Hints


class WheelPage(CoachScreen[None]):
    """``wedges`` drawn, and for the one marked the words that ``told`` has by its region."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q", "back", "Back")]

    def __init__(
        self, title: str, wedges: Sequence[Wedge], told: Mapping[str, str], legend: str
    ) -> None:
        super().__init__()
        self.heading = title
        self.wedges, self.told, self.legend = tuple(wedges), told, legend

    def compose(self) -> ComposeResult:
        yield Static(self.heading, classes="title", markup=False)
        with Horizontal(id="both"):
            yield WheelPicture()
            with VerticalScroll(can_focus=False):
                yield Static("", id="told", markup=False)
        yield Static(self.legend, id="legend", markup=False)
        yield Hints(Hint("← →", "round the wheel"), *self.hints(), Hint("Esc", "back", "back"))

    def hints(self) -> Iterable[Hint]:
        return ()

    def on_mount(self) -> None:
        picture = self.query_one(WheelPicture)
        picture.show(self.wedges)
        picture.focus()

    def on_resize(self) -> None:
        # As large as its height lets it be round; the words keep 30 columns at least.
        picture = self.query_one(WheelPicture)
        high = self.size.height - 6
        picture.styles.width = max(24, min(2 * high + 10, self.size.width - 36))

    def on_wheel_picture_turned(self) -> None:
        marked = self.query_one(WheelPicture).marked
        words = "" if marked is None else self.told.get(marked.region, "")
        self.query_one("#told", Static).update(words)

    def action_back(self) -> None:
        self.dismiss()
