"""The rows of a reveal: what each choice would have made, beside what was wanted."""

from __future__ import annotations

from dataclasses import dataclass

from rich.style import Style
from textual.geometry import Size
from textual.reactive import reactive
from textual.strip import Strip
from textual.widget import Widget

from coach.widgets.paint import beyond_screen, block, text, wrapped
from drills.questions.protocol import Lab, Result, Reveal, Swatch

HALF = 7
GAP = 3
BOLD = Style(bold=True)
TAGS = {"": "", "yours": " (yours)", "best": " (best)", "yours, best": " (yours, the best)"}
MARKS = {"": "  ", "yours": "▸ ", "best": "● ", "yours, best": "● "}


class ResultRows(Widget):
    """Each result as a swatch touching the target, its name and an artist's words for it.

    ``around`` are the paragraphs that stand above and below the rows in the same scrolled
    part of the screen; the rows draw together where all would not fit otherwise.
    """

    DEFAULT_CSS = "ResultRows { height: auto; margin: 0 2; }"

    reveal: reactive[Reveal | None] = reactive(None, layout=True)
    true_colour: reactive[bool] = reactive(True)

    def __init__(self) -> None:
        super().__init__()
        self.around: tuple[str, ...] = ()
        self._height = 0
        self._laid: dict[tuple[int, int], Laid] = {}

    def watch_reveal(self) -> None:
        self._laid = {}

    def watch_true_colour(self) -> None:
        self._laid = {}

    def _lay(self, width: int) -> Laid:
        """The reveal in ``width`` cells, laid out once for all its lines."""
        key = width, self._height
        if key not in self._laid:
            around = sum(len(wrapped(words, max(1, width))) for words in self.around)
            room = self._height - around
            self._laid[key] = lay(self.reveal, width, room, self.true_colour)
        return self._laid[key]

    @property
    def lines(self) -> tuple[ResultLine, ...]:
        """What is shown, line by line."""
        return self._lay(self.size.width).lines

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        self._height = container.height
        return max(1, len(self._lay(width).lines))

    def render_line(self, y: int) -> Strip:
        width = self.size.width
        style = self.rich_style
        laid = self._lay(width)
        if y >= len(laid.lines):
            return Strip.blank(width, style)
        line = laid.lines[y]
        segments = [block(lab, HALF) for lab in line.labs]
        segments.append(text(line.caption, style, laid.side - HALF * len(segments)))
        lettering = style + BOLD if line.bold else style
        segments.append(text(line.words, lettering, max(0, width - laid.side)))
        return Strip(segments).adjust_cell_length(width, style)


@dataclass(frozen=True)
class ResultLine:
    """One line of a reveal: at its left what is painted, or a caption; then words.

    ``marked`` on all lines of the learner's own and of the best, ``bold`` on their names.
    """

    words: str = ""
    labs: tuple[Lab, ...] = ()
    caption: str = ""
    bold: bool = False
    marked: bool = False


@dataclass(frozen=True)
class Laid:
    """A reveal laid out; ``side`` cells at the left are for swatches."""

    side: int
    lines: tuple[ResultLine, ...]


def lay(reveal: Reveal | None, width: int, height: int, true_colour: bool) -> Laid:
    """Lay a reveal out in ``width`` cells, and if it can be in ``height`` lines.

    Each row has at least two lines of swatch. An empty line parts the rows where there is
    room; where there is none even without, the learner's own and the best come first.
    """
    if reveal is None:
        return Laid(0, ())
    painted = true_colour and any(row.swatch for row in reveal.results)
    blocks = 1 + bool(reveal.target) + any(row.beside for row in reveal.results)
    side = HALF * blocks + GAP if painted else 0
    head = [ResultLine(caption=caption(reveal))] if painted and reveal.target else []
    rows = [
        row_lines(row, reveal.target if painted else None, painted, max(20, width - side - 1))
        for row in reveal.results
    ]
    tight = [*head, *(line for lines in rows for line in lines)]
    if len(tight) + len(rows) - 1 <= height:
        parted = [line for lines in rows for line in (*lines, ResultLine())]
        return Laid(side, (*head, *parted[:-1]))
    if len(tight) > height:
        rows.sort(key=lambda lines: not lines[0].marked)
        tight = [*head, *(line for lines in rows for line in lines)]
    return Laid(side, tuple(tight))


def row_lines(row: Result, target: Swatch | None, painted: bool, room: int) -> list[ResultLine]:
    """One row's lines, its words in ``room`` cells."""
    swatches = (target, row.swatch, row.beside) if painted and row.swatch else ()
    labs = tuple(swatch.lab for swatch in swatches if swatch)
    words = words_of(row, room)
    words += [""] * ((2 if labs else 1) - len(words))
    mark = bool(row.mark)
    return [ResultLine(line, labs, "", mark and not at, mark) for at, line in enumerate(words)]


def caption(reveal: Reveal) -> str:
    """What the parts of every swatch are."""
    row = next(row for row in reveal.results if row.swatch)
    parts: list[tuple[Swatch | None, str]] = [(reveal.target, "target"), (row.swatch, "result")]
    names = [swatch.label or name for swatch, name in [*parts, (row.beside, "")] if swatch]
    return "".join(text(name, Style(), HALF - 1).text + " " for name in names)


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
