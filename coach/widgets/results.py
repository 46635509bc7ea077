"""The rows of a reveal: what each choice would have made, beside what was wanted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from rich.style import Style
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.design.measures import MEASURE, WIDE, size_class
from coach.widgets.paint import beyond_screen, block, text, wrapped
from drills.questions.protocol import Lab, Result, Reveal, Swatch

HALF = {"-narrow": 8, "-wide": 14, "-vast": 24}
"""Cells of each of the swatches that touch, by the screen's width."""
GAP = 3
LEAST, FAIR, MOST = 2, 3, 10
"""Rows of a swatch: the least, what all of them must have to be shown, and the most."""
BOLD = Style(bold=True)
TAGS = {"": "", "yours": " (yours)", "best": " (best)", "yours, best": " (yours, the best)"}
MARKS = {"": "  ", "yours": "▸ ", "best": "● ", "yours, best": "● "}


@dataclass(frozen=True)
class Told:
    """The words around the rows: a heading and what stands beside it, and below why."""

    trouble: str = ""
    verdict: str = ""
    figures: str = ""
    because: str = ""
    limits: str = ""


class ResultRows(Widget):
    """Each result as a swatch touching the target, its name and an artist's words for it.

    ``told`` are the words above and below, drawn here too: one widget is painted sooner than
    six. Where not all rows fit, the learner's own and the best are shown large and the rest
    only on asking (``whole``).
    """

    DEFAULT_CSS = "ResultRows { height: auto; margin: 0 2; }"
    COMPONENT_CLASSES: ClassVar[set[str]] = {"faint"}

    told: reactive[Told] = reactive(Told(), layout=True)
    reveal: reactive[Reveal | None] = reactive(None, layout=True)
    true_colour: reactive[bool] = reactive(True)
    whole: reactive[bool] = reactive(False, layout=True)

    class Hiding(Message):
        """Whether rows are hidden has changed."""

    def __init__(self) -> None:
        super().__init__()
        self.hiding = False
        """Whether rows are hidden until they are asked for."""
        self.gap = 1
        """Empty lines between the words above and the rows."""
        self.least = LEAST
        """The least rows of a swatch."""
        self.most = MOST
        """The most rows of a swatch."""
        self.large = False
        """Whether large things are wanted: from a wide screen on, swatches of twice the size."""
        self.half_cells = 0
        """Cells of one swatch, where more than the screen's size gives."""
        self.elsewhere = 0
        """Lines of the room that words outside this widget take."""
        self._ink = self._faint = Style()
        self._height = 0
        self._laid: dict[tuple[int, int], Laid] = {}

    def watch_told(self) -> None:
        self._laid = {}

    def watch_reveal(self) -> None:
        self._laid = {}

    def watch_true_colour(self) -> None:
        self._laid = {}

    def watch_whole(self) -> None:
        self._laid = {}

    @property
    def half(self) -> int:
        """Cells of one swatch."""
        usual = HALF[size_class(self.screen.size.width)]
        return max(usual * self._times, self.half_cells)

    @property
    def _times(self) -> int:
        return 2 if self.large and self.screen.size.width >= WIDE else 1

    def _lay(self, width: int) -> Laid:
        """The reveal in ``width`` cells, laid out once for all its lines."""
        key = width, self._height
        if key not in self._laid:
            above, below = around(self.told, max(1, min(MEASURE, width)), self.gap)
            room = self._height - len(above) - len(below) - self.elsewhere
            shape = Shape(width, room, self.half, self.least, self.most * self._times)
            laid = lay(self.reveal, shape, self.true_colour, self.whole)
            self._laid[key] = replace(laid, lines=(*above, *laid.lines, *below))
        return self._laid[key]

    @property
    def lines(self) -> tuple[ResultLine, ...]:
        """What is shown, line by line."""
        return self._lay(self.size.width).lines

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        self._height = container.height
        laid = self._lay(width)
        if not self.whole and laid.hidden != self.hiding:
            self.hiding = laid.hidden
            self.post_message(self.Hiding())
        return max(1, len(laid.lines))

    def render_lines(self, crop: Region) -> list[Strip]:
        # Once for all lines: both are worked out anew at each asking.
        self._ink = self.rich_style
        self._faint = self._ink + Style(color=self.get_component_rich_style("faint").color)
        return super().render_lines(crop)

    def render_line(self, y: int) -> Strip:
        width, style = self.size.width, self._ink
        laid = self._lay(width)
        if y >= len(laid.lines):
            return Strip.blank(width, style)
        line = laid.lines[y]
        side = 0 if line.prose else laid.side
        segments = [block(lab, laid.half) for lab in line.labs]
        if side:
            segments.append(text(line.caption, style, side - laid.half * len(segments)))
        lettering = self._faint if line.faint else style + BOLD if line.bold else style
        segments.append(text(line.words, lettering, max(0, width - side)))
        return Strip(segments, width)


def around(told: Told, width: int, gap: int) -> tuple[list[ResultLine], list[ResultLine]]:
    """The words above and below the rows, in lines of ``width`` cells."""

    def lines(words: str, bold: bool = False, faint: bool = False) -> list[ResultLine]:
        broken = (line for part in words.split("\n") for line in wrapped(part, width))
        return [ResultLine(line, bold=bold, faint=faint, prose=True) for line in broken if words]

    if told == Told():
        return [], []
    above = [*lines(told.trouble, bold=True), ResultLine(), *lines(told.verdict, bold=True)]
    above += [*lines(told.figures, faint=True), *[ResultLine()] * gap]
    return above, [ResultLine(), *lines(told.because), *lines(told.limits, faint=True)]


@dataclass(frozen=True)
class ResultLine:
    """One line of a reveal: at its left what is painted, or a caption; then words.

    ``marked`` on all lines of the learner's own and of the best, ``bold`` on their names.
    ``prose`` begins at the left, where others have swatches.
    """

    words: str = ""
    labs: tuple[Lab, ...] = ()
    caption: str = ""
    bold: bool = False
    marked: bool = False
    faint: bool = False
    prose: bool = False


@dataclass(frozen=True)
class Laid:
    """A reveal laid out; ``side`` cells at the left are for swatches of ``half`` each;
    ``hidden`` where not all rows are among the lines."""

    side: int
    lines: tuple[ResultLine, ...]
    half: int
    hidden: bool = False


@dataclass(frozen=True)
class Shape:
    """The room for a reveal: cells across, lines, cells of a swatch, its least and most rows."""

    width: int
    height: int
    half: int = HALF["-narrow"]
    least: int = LEAST
    most: int = MOST


def lay(reveal: Reveal | None, shape: Shape, true_colour: bool, whole: bool = False) -> Laid:
    """Lay a reveal out: each row as large as the room allows, an empty line between rows.

    Where not all rows fit with swatches of ``FAIR`` rows, only those marked are laid out,
    unless ``whole``. Where even they don't fit, nothing stands between them.
    """
    if reveal is None:
        return Laid(0, (), shape.half)
    painted = true_colour and any(row.swatch for row in reveal.results)
    blocks = 1 + bool(reveal.target) + any(row.beside for row in reveal.results)
    half = shape.half
    side = half * blocks + GAP if painted else 0
    head = [ResultLine(caption=caption(reveal, half))] if painted and reveal.target else []
    room = min(MEASURE, max(20, shape.width - side - 1))
    target = reveal.target if painted else None

    def laid(results: Sequence[Result], least: int) -> list[list[ResultLine]]:
        return [row_lines(row, target, painted, room, least) for row in results]

    def height(rows: Sequence[Sequence[ResultLine]], gap: int = 1) -> int:
        return len(head) + sum(map(len, rows)) + gap * (len(rows) - 1)

    results = reveal.results
    marked = [row for row in results if row.mark]
    fair = max(FAIR, shape.least) if painted else 1
    if marked and not whole and height(laid(results, fair)) > shape.height:
        results = tuple(marked)
    rows = laid(results, shape.least)
    for least in range(shape.least + 1, shape.most + 1) if painted else ():
        taller = laid(results, least)
        if height(taller) > shape.height:
            break
        rows = taller
    between = [ResultLine()]
    if not whole and height(rows) > shape.height and shape.least == LEAST:
        between = []
    lines = [*head, *rows[0]] if rows else head
    for row in rows[1:]:
        lines += [*between, *row]
    return Laid(side, tuple(lines), half, len(results) < len(reveal.results))


def row_lines(
    row: Result, target: Swatch | None, painted: bool, room: int, least: int = LEAST
) -> list[ResultLine]:
    """One row's lines, its words in ``room`` cells, beside ``least`` rows of swatch or more."""
    swatches = (target, row.swatch, row.beside) if painted and row.swatch else ()
    labs = tuple(swatch.lab for swatch in swatches if swatch)
    words = words_of(row, room)
    words += [""] * ((least if labs else 1) - len(words))
    mark = bool(row.mark)
    return [ResultLine(line, labs, "", mark and not at, mark) for at, line in enumerate(words)]


def caption(reveal: Reveal, half: int) -> str:
    """What the parts of every swatch are."""
    row = next(row for row in reveal.results if row.swatch)
    parts: list[tuple[Swatch | None, str]] = [(reveal.target, "target"), (row.swatch, "result")]
    names = [swatch.label or name for swatch, name in [*parts, (row.beside, "")] if swatch]
    return "".join(text(name, Style(), half - 1).text + " " for name in names)


def words_of(row: Result, room: int) -> list[str]:
    """A row's name and words, broken into lines of ``room`` cells."""
    name = wrapped(f"{row.label}{TAGS[row.mark]}", room - 2)
    rest = wrapped(row.words, room - 2)
    return [f"{MARKS[row.mark]}{name[0]}", *(f"  {line}" for line in [*name[1:], *rest])]


def screen_caution(reveal: Reveal) -> str:
    """A line saying that some swatch lies beyond what a screen shows, or nothing."""
    swatches = [reveal.target, *(s for row in reveal.results for s in (row.swatch, row.beside))]
    if any(swatch is not None and beyond_screen(swatch.lab) for swatch in swatches):
        return "A colour here is brighter than a screen can show; you see the nearest."
    return ""
