"""The wheel as the learner stands in it, and practice of the family marked."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, ClassVar

from textual.binding import Binding, BindingType

from coach.screens.wheel.base import WheelPage
from coach.widgets.drawn.wheel import Wedge, WheelPicture
from coach.widgets.hints import Hint
from drills.basics.counted import counted
from drills.basics.errors import plain
from scores.progress.wheel import STANDING_WORDS, Standing, Wheel, wheel
from scores.skill.skill_words import WHEEL, region_words
from scores.today.offers import Offers

if TYPE_CHECKING:
    from coach.host import HostApp

PATTERNS: dict[Standing, str] = {"strong": "█", "due": "▒", "shaky": "░", "unmet": " "}
LEGEND = (
    "Length: how fine you see, from a drill's easiest questions to its hardest.\n"
    "█ strong   ▒ due   ░ shaky   empty: not met yet"
)
LEAST = 0.08
"""Length of a family that was met but is still at the easiest."""


class WheelScreen(WheelPage):
    """Where the learner stands in each of the twelve families."""

    app: HostApp

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("enter,o", "practise", "Practise this"),
    ]

    def __init__(self) -> None:
        super().__init__("The wheel", (), {}, LEGEND)
        self.offers = Offers({}, ())

    def hints(self) -> Iterable[Hint]:
        yield Hint("Enter", "practise this", "practise")

    def on_mount(self) -> None:
        state = self.app.app_state
        self.offers = state.offers_kept() or self.offers
        found = wheel(state.eye.skills(state.day), self.offers, state.clock())
        self.wedges = tuple(wedge_of(found, family) for family in WHEEL)
        self.told = {family: "\n".join(family_lines(found, family)) for family in WHEEL}
        super().on_mount()

    def action_practise(self) -> None:
        """Practise the family marked, and nothing else."""
        marked = self.query_one(WheelPicture).marked
        if marked is not None and any(region == marked.region for _, region in self.offers.pairs):
            self.app.begin_one(f"family:{marked.region}")


def wedge_of(found: Wheel, family: str) -> Wedge:
    """A family over all drills: the worst standing of any, the mean level of those measured."""
    standing = found.together(family, found.kinds) or "unmet"
    levels = [
        min(1.0, max(LEAST, part.level))
        for kind in found.kinds
        if (part := found.cell(family, kind)) and part.level is not None and part.tries
    ]
    length = sum(levels) / len(levels) if levels else None
    if length is None and standing != "unmet":
        length = LEAST
    return Wedge(family, length, PATTERNS[standing])


def family_lines(found: Wheel, family: str) -> Iterator[str]:
    """What the wheel says of a family, drill by drill."""
    parts = [part for kind in found.kinds if (part := found.cell(family, kind))]
    if not parts:
        yield f"{region_words(family).capitalize()}: no drill asks for them with your pencils."
        return
    standing = found.together(family, found.kinds) or "unmet"
    yield f"{region_words(family).capitalize()}: {STANDING_WORDS[standing]}"
    yield ""
    for part in sorted(parts, key=lambda part: part.tries == 0):
        yield plain(found.titles[part.kind])
        level = "" if part.level is None or not part.tries else f", {_of_100(part.level)}"
        count = counted(part.tries, "answer")
        tries = f", {count}" if part.tries else ""
        yield f"  {STANDING_WORDS[part.standing]}{level}{tries}"


def _of_100(level: float) -> str:
    return f"{round(100 * min(1.0, max(0.0, level)))} of 100"
