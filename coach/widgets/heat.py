"""A class at a glance: students down, skills across, a character a cell that reads in greys."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import groupby
from typing import ClassVar

from rich.cells import cell_len
from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from coach.reports.classes.words import MARKS, percent, title
from coach.widgets.paint import text, wrapped
from scores.classes.standing_lines import Standing
from scores.classes.views import GLYPHS, Skill, StudentLine, shade
from scores.skill.skill_words import WHEEL

NAME, NUMBERS, CELL = 20, 15, 3
HEAD = 3
"""Rows above the students: each drill's title in two of them, then its columns."""
LEAST = 11
"""Cells that a drill has for its title, however few its columns."""
_SHORT = {name: "".join(part[0] for part in name.split("-")).upper() for name in WHEEL}


def short(region: str) -> str:
    """A column's label of two letters: a region's initials, as in Munsell's notation."""
    words = region.split()
    return _SHORT.get(region, "".join(word[0] for word in words).upper()[:2] or "?")


def told(name: str, width: int) -> str:
    """A name in so many cells; of one that is told apart in brackets, the end stays."""
    if cell_len(name) <= width or not name.endswith(")"):
        return name
    head = name[: max(1, min(name.rfind(" (") + 2, width // 3))]
    tail = name
    while cell_len(head) + 1 + cell_len(tail) > width:
        tail = tail[1:]
    return f"{head}…{tail}"


class Heat(ScrollView, can_focus=True):
    """The table; ``row`` and ``column`` are the marked student and skill."""

    DEFAULT_CSS = "Heat { height: 1fr; margin: 1 2 0 2; scrollbar-size: 1 1; }"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "go(-1, 0)", show=False),
        Binding("down", "go(1, 0)", show=False),
        Binding("left", "go(0, -1)", show=False),
        Binding("right", "go(0, 1)", show=False),
        Binding("pageup", "go(-10, 0)", show=False),
        Binding("pagedown", "go(10, 0)", show=False),
        Binding("home", "go(-100000, 0)", show=False),
        Binding("end", "go(100000, 0)", show=False),
    ]

    class Moved(Message):
        """Another cell is marked."""

    def __init__(self) -> None:
        super().__init__()
        self.students: Sequence[StudentLine] = ()
        self.skills: Sequence[Skill] = ()
        self.placed: Mapping[str, Standing] = {}
        self.titles: Mapping[str, str] = {}
        self.places: list[int] = []
        self.row = 0
        self.column = 0
        self.pitch = 1
        """Rows from one student to the next."""

    def show(
        self,
        students: Sequence[StudentLine],
        skills: Sequence[Skill],
        placed: Mapping[str, Standing],
        titles: Mapping[str, str],
    ) -> None:
        """Show these students and skills in this order; ``placed`` says by id how they stand."""
        self.students, self.skills = students, skills
        self.placed, self.titles = placed, titles
        self.row = self.column = 0
        self.places, width = _places(skills)
        # Large, an empty row stands between students, and of a level its mean alone.
        self.pitch = 2 if self.screen.has_class("-large") else 1
        self.virtual_size = Size(width, HEAD + self.pitch * len(students))
        self.scroll_to(0, 0, animate=False)
        self.refresh()

    @property
    def student(self) -> StudentLine | None:
        return self.students[self.row] if self.students else None

    @property
    def skill(self) -> Skill | None:
        return self.skills[self.column] if self.skills else None

    def action_go(self, down: int, across: int) -> None:
        self._mark(self.row + down, self.column + across)

    def _mark(self, row: int, column: int) -> None:
        if not self.students:
            return
        self.row = min(len(self.students) - 1, max(0, row))
        self.column = min(max(0, len(self.skills) - 1), max(0, column))
        x = self.places[self.column] if self.column else 0
        self.scroll_to_region(Region(x, self.pitch * self.row, CELL, 1 + HEAD), animate=False)
        self.refresh()
        self.post_message(self.Moved())

    def on_click(self, event: events.Click) -> None:
        point = event.get_content_offset(self)
        if point is None or point.y < HEAD:
            return
        x = point.x + self.scroll_offset.x
        column = sum(place <= x for place in self.places) - 1
        self._mark((point.y - HEAD + self.scroll_offset.y) // self.pitch, max(0, column))

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        style = self.rich_style
        if y < HEAD:
            line = self._head(y, style)
        else:
            at, between = divmod(y - HEAD + self.scroll_offset.y, self.pitch)
            if at >= len(self.students) or between:
                return Strip.blank(width, style)
            line = self._student(at, style)
        left = self.scroll_offset.x
        return Strip(line).crop(left, left + width).adjust_cell_length(width, style)

    def _head(self, y: int, style: Style) -> list[Segment]:
        if y < HEAD - 1:
            return [text("", style, NAME + NUMBERS), *self._kinds(y, style)]
        titles = [text("  student", style, NAME), text("level of 100", style, NUMBERS)]
        for i, (_, region) in enumerate(self.skills):
            here = style + Style(reverse=True) if i == self.column else style
            titles += [text(short(region), here, CELL - 1), self._gap(i, CELL - 1, style)]
        return titles

    def _gap(self, i: int, used: int, style: Style) -> Segment:
        """What lies between a column and the next."""
        end = self.places[i + 1] if i + 1 < len(self.places) else self.places[i] + CELL
        return Segment(" " * (end - self.places[i] - used), style)

    def _kinds(self, row: int, style: Style) -> list[Segment]:
        """Each drill's title over its columns, in two rows."""
        found = []
        for kind, some in groupby(self.skills, key=lambda skill: skill[0]):
            wide = max(LEAST, CELL * len(list(some)))
            words = [*wrapped(title(kind, self.titles), wide - 1), "", ""]
            found += [text(words[row], style, wide - 1), Segment(" ", style)]
        return found

    def _student(self, at: int, style: Style) -> list[Segment]:
        student = self.students[at]
        lettering = style + Style(reverse=True) if at == self.row else style
        one = self.placed.get(student.id)
        mark, level = " ", "…" if student.tries else "on paper"
        if one is not None:
            mark = MARKS[one.place]
            low, mean, high = (percent(value) for value in (one.low, one.level, one.high))
            level = f"{mean:3}" if self.pitch > 1 else f"{mean:3} ({low}–{high})"
        line = [
            Segment(f"{mark} ", style),
            text(told(student.name, NAME - 3), lettering, NAME - 3),
            Segment(" ", style),
            text(level, style, NUMBERS),
        ]
        for i, skill in enumerate(self.skills):
            known = None if one is None else one.skills.get(skill)
            mark = "?" if skill in student.cells else " "
            if known is not None and known.told:
                mark = GLYPHS[shade(known.level)]
            here = at == self.row and i == self.column
            line.append(Segment(mark, style + Style(reverse=True) if here else style))
            line.append(self._gap(i, 1, style))
        return line


def _places(skills: Sequence[Skill]) -> tuple[list[int], int]:
    """Where each column begins, and how wide all is: a drill of few columns has room for its
    title."""
    places, x = [], NAME + NUMBERS
    for _, some in groupby(skills, key=lambda skill: skill[0]):
        count = len(list(some))
        places += [x + CELL * i for i in range(count)]
        x += max(LEAST, CELL * count)
    return places, x
