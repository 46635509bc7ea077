"""Choosing one thing, putting several in order, or building step by step; by key or by mouse."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import ClassVar, Literal

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.design.measures import LARGE_ROWS
from coach.widgets.paint import block, shortened, swatch_row, text, wrapped
from drills.questions.protocol import Ask, Choice, Reply

KEYS = "123456789abcefghijkmorstuvwxyz"
"""A key for each choice; letters with another use on the practice screen are left out."""

Form = Literal["choose", "arrange", "build", "set"]
ORDINALS = ("1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th")
NONE = -1
"""No choice is marked yet, so that an Enter meant for the screen before takes nothing."""
DOUBLE_S = 0.3
"""Seconds within which the same key again is one press of an unsure finger (our estimate)."""
LEAST_ROWS, MOST_ROWS = 7, 15
"""Rows of a choice with a swatch; three of them are its words and the gap below."""
WORD_ROWS = 3
LEAST_LARGE, MOST_LARGE = LARGE_ROWS + WORD_ROWS, 4
"""The least rows of a choice where large things are wanted, and of how many choices at most."""
CHIP = 8
"""Cells of a pencil's swatch in the tray."""
ROW_ROWS = 2
"""Rows in which swatches placed in order are shown, edge to edge."""
NARROWEST, WIDE_ENOUGH = 15, 24
"""Cells of a choice with a swatch: the least with all in one row, and in a grid."""


@dataclass(frozen=True)
class ChoiceCell:
    """Where a choice stands: its column, its first row, its size in cells."""

    x: int
    y: int
    width: int
    height: int


def layout(
    count: int,
    width: int,
    height: int,
    with_swatches: bool,
    least: int = LEAST_ROWS,
    most: int = MOST_ROWS,
) -> tuple[ChoiceCell, ...]:
    """Lay out ``count`` choices: rows of words, or swatches in a row or a grid, words below.

    A swatch and its words take ``least`` rows or more and ``most`` at most, as ``height`` allows.
    """
    if count == 0:
        return ()
    if not with_swatches:
        columns = 1 if count <= height else 2 if count <= 2 * height else 3
        rows, wide = -(-count // columns), width // columns
        return tuple(ChoiceCell((i // rows) * wide, i % rows, wide, 1) for i in range(count))
    columns = min(count, max(1, width // WIDE_ENOUGH))
    if width // count >= NARROWEST:
        columns = count
    while columns < count and -(-count // columns) * least > max(height, least):
        columns += 1
    rows, wide = -(-count // columns), width // columns
    tall = min(most, max(least, height // rows))
    return tuple(
        ChoiceCell((i % columns) * wide, (i // columns) * tall, wide, tall) for i in range(count)
    )


def tray(count: int, width: int) -> tuple[ChoiceCell, ...]:
    """Lay out pencils at hand in two columns: a chip of each and its name, a gap below."""
    rows, wide = -(-count // 2), width // 2
    return tuple(ChoiceCell((i // rows) * wide, (i % rows) * 2, wide, 2) for i in range(count))


def keys_for(choices: tuple[Choice, ...]) -> tuple[str, ...]:
    """The key of each choice: its own letter where all are called by one, else those of KEYS."""
    names = tuple(choice.text.lower() for choice in choices)
    own = all(len(name) == 1 and name.isalpha() for name in names)
    return names if own and len(set(names)) == len(names) else tuple(KEYS[: len(choices)])


class Choices(Widget, can_focus=True):
    """The choices of one ``Ask``; posts ``Replied`` when the learner has answered it."""

    DEFAULT_CSS = """
    Choices { height: auto; margin: 1 2 0 2; }
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,left", "move(-1)", "Up", show=False),
        Binding("down,right", "move(1)", "Down", show=False),
        Binding("enter", "take", "Choose", show=False),
        Binding("backspace", "back", "Take back", show=False),
    ]

    asked: reactive[Ask | None] = reactive(None, layout=True)
    cursor: reactive[int] = reactive(NONE)
    placed: reactive[tuple[str, ...]] = reactive(())

    class Replied(Message):
        """The learner has answered ``asked``, which may have changed meanwhile."""

        def __init__(self, asked: Ask | None, reply: Reply) -> None:
            super().__init__()
            self.asked = asked
            self.reply = reply

    class Placed(Message):
        """The order laid out has changed."""

    def __init__(self) -> None:
        super().__init__()
        self.timer: Callable[[], float] = time.monotonic
        self.large = False
        """Whether large things are wanted."""
        self.most_rows = MOST_ROWS
        self._pressed = ("", 0.0)
        self._least = LEAST_ROWS

    @property
    def choices(self) -> tuple[Choice, ...]:
        return self.asked.choices if self.asked else ()

    @property
    def form(self) -> Form:
        return self.asked.form if self.asked else "choose"

    @property
    def likely(self) -> tuple[Reply, ...]:
        """The replies that may come next, as far as they can be foreseen."""
        if self.form == "arrange":
            return (self.placed,) if len(self.placed) == len(self.choices) else ()
        one = tuple((choice.key,) for choice in self.choices)
        ends = self.asked is not None and self.form == "build" and self.asked.may_end
        return (("done",), *one) if ends else one

    def watch_placed(self) -> None:
        self.post_message(self.Placed())

    def watch_asked(self) -> None:
        self.cursor = NONE
        self.placed = ()

    def reply(self, reply: Reply) -> None:
        """Answer what is asked now."""
        self.post_message(self.Replied(self.asked, reply))

    @property
    def _alone(self) -> bool:
        return self.asked is not None and not self.asked.scene

    def _cells(self, width: int, height: int) -> tuple[ChoiceCell, ...]:
        swatches = any(choice.swatch for choice in self.choices)
        if self.form == "build" and swatches:
            return tray(len(self.choices), width)
        return layout(len(self.choices), width, height, swatches, self._least, self.most_rows)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        if self.form == "set":
            return 0
        tail = self._tail
        # What a prompt of two lines leaves, and the least of a scene.
        room = max(3, container.height - (6 + tail if self._alone else 10))
        large = self.large and len(self.choices) <= MOST_LARGE and room - tail >= LEAST_LARGE
        self._least = LEAST_LARGE if large else LEAST_ROWS
        if not self._alone and any(choice.swatch for choice in self.choices):
            # The half of it goes to the scene, where that leaves enough for these rows.
            rows = len({cell.y for cell in self._cells(width, room)})
            room = max(rows * self._least, (room - tail) // 2)
        cells = self._cells(width, room)
        return max((cell.y + cell.height for cell in cells), default=1) + tail

    # What the learner does

    def action_move(self, by: int) -> None:
        if self.choices:
            start = len(self.choices) if self.cursor == NONE and by < 0 else self.cursor
            self.cursor = (start + by) % len(self.choices)

    def action_take(self) -> None:
        if not self.answer() and self.cursor != NONE:
            self.pick(self.cursor)

    def answer(self) -> bool:
        """Answer with the order laid out; False while it is not whole."""
        whole = self.form == "arrange" and len(self.placed) == len(self.choices)
        if whole:
            self.reply(self.placed)
        return whole

    def action_back(self) -> None:
        if self.form == "build":
            self.reply(("undo",))
        elif self.placed:
            self.placed = self.placed[:-1]

    def pick(self, index: int) -> None:
        """Choose, or place next in order, the choice at ``index``."""
        key = self.choices[index].key
        if self.form != "arrange":
            # The mark stays: what is asked next, or the reveal, takes its place at once.
            self.reply((key,))
            return
        self.cursor = index
        if key not in self.placed:
            self.placed = (*self.placed, key)

    def on_key(self, event: events.Key) -> None:
        pressed = (event.character or "").lower()
        for keys in (keys_for(self.choices), tuple(KEYS[: len(self.choices)])):
            if pressed and pressed in keys:
                event.stop()
                if not self._again(event.key):
                    self.pick(keys.index(pressed))
                return

    def _again(self, key: str) -> bool:
        """True where this key has just answered something else."""
        (before, at), now = self._pressed, self.timer()
        self._pressed = (key, now)
        return self.form == "choose" and key == before and now - at < DOUBLE_S

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is None or (self.form == "choose" and event.chain > 1):
            return
        for index, cell in enumerate(self._cells(self.size.width, self._depth)):
            inside_x = cell.x <= point.x < cell.x + cell.width
            if inside_x and cell.y <= point.y < cell.y + cell.height:
                self.pick(index)
                return
        self.answer()

    # How it looks

    @property
    def _depth(self) -> int:
        return self.size.height - self._tail

    @property
    def _tail(self) -> int:
        """Rows below the choices: the row as placed so far, and how far along it is."""
        if self.form != "arrange":
            return 0
        return 1 + (ROW_ROWS + 1) * any(choice.swatch for choice in self.choices)

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        style = self.rich_style
        cells = self._cells(width, self._depth)
        if self.form == "arrange" and y == self.size.height - 1:
            return Strip([text(self._order_words(), style, width)])
        if y >= self._depth:
            return self._row_so_far(style, width, y - self._depth)
        line: list[Segment] = []
        used = 0
        for index, cell in sorted(enumerate(cells), key=lambda item: item[1].x):
            if cell.y <= y < cell.y + cell.height:
                line.append(Segment(" " * (cell.x - used), style))
                part = self._cell_line(index, cell, y - cell.y, style)
                line.extend(part)
                used = cell.x + sum(segment.cell_length for segment in part)
        return Strip(line).adjust_cell_length(width, style)

    def _cell_line(self, index: int, cell: ChoiceCell, row: int, style: Style) -> list[Segment]:
        choice = self.choices[index]
        at = self.has_focus and index == self.cursor
        lettering = style + Style(reverse=True) if at else style
        keys = keys_for(self.choices)
        lettered = keys[index : index + 1] == (choice.text.lower(),)
        mark = "" if lettered else f"{keys[index]}  " if index < len(keys) else "   "
        place = ""
        if choice.key in self.placed:
            place = f"  {ORDINALS[self.placed.index(choice.key)]}"
        if self.form == "build" and cell.height == 2:
            return self._chip_line(choice, mark, cell.width, row, lettering, style)
        if choice.swatch is None:
            words = shortened(choice.text, cell.width - len(mark) - len(place) - 3)
            return [text(f" {mark}{words}{place}", lettering, cell.width - 2)]
        wide = cell.width - 3
        depth = cell.height - WORD_ROWS
        if row < depth:
            return swatch_row(choice.swatch, wide, row, depth)
        lines = two_lines(f"{choice.text}{place}", max(1, wide - len(mark)))
        line = row - depth
        if line < len(lines) and row < cell.height - 1:
            lead = " " * len(mark) if line else mark
            return [text(f"{lead}{lines[line]}", lettering, wide)]
        return [Segment(" " * wide, style)]

    def _chip_line(
        self, choice: Choice, mark: str, width: int, row: int, lettering: Style, style: Style
    ) -> list[Segment]:
        if row:
            return [Segment(" " * width, style)]
        chip = block(choice.swatch.lab, CHIP) if choice.swatch else Segment(" " * CHIP, style)
        words = shortened(choice.text, width - CHIP - len(mark) - 5)
        return [
            Segment(f" {mark}", style),
            chip,
            Segment("  ", style),
            text(words, lettering, width - CHIP - len(mark) - 4),
        ]

    def _row_so_far(self, style: Style, width: int, row: int) -> Strip:
        """The swatches in the order placed, edge to edge, with room for those to come."""
        if row >= ROW_ROWS:
            return Strip.blank(width, style)
        swatches = {choice.key: choice.swatch for choice in self.choices}
        wide = max(2, min(8, width // max(1, len(swatches))))
        laid = [swatches[key] for key in self.placed]
        line = [block(swatch.lab, wide) for swatch in laid if swatch]
        return Strip(line).adjust_cell_length(width, style)

    def _order_words(self) -> str:
        total = len(self.choices)
        if len(self.placed) == total:
            return "All placed. Enter to answer, Backspace to take the last one back."
        return f"{len(self.placed)} of {total} placed. Press the key of the next one."


def two_lines(words: str, width: int) -> list[str]:
    """Words broken into at most two lines of ``width`` cells, shortened where that is too few."""
    lines = wrapped(words, width)
    first = lines[0]
    return lines if len(lines) <= 2 else [first, shortened(words[len(first) :].lstrip(), width)]
