"""Help: the keys, the words of the craft, and the cautions."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.widgets import Static

from coach.design.measures import MEASURE
from coach.screens.base import CoachScreen
from coach.widgets.hints import Hint, Hints
from coach.widgets.paint import wrapped

HELP = """\
Keys
  1 2 3 … A B   choose; in an ordering, place next
  ↑ ↓ Enter     move the mark, then choose
  Backspace     take back
  .             you are sure of the answer to come; where the settings ask for it
  p             pause: the swatches are covered and the clock stops
  Esc           stop; every answer so far is kept
  Ctrl+P        every command, and a lighter or darker room
  Ctrl+Q        leave at once

On the first screen
  Enter         begin
  − +           shorter or longer sessions
  d             each question of today
  o             one drill, one family or one colour alone
  c             a plan for a colour of your own
  m             one colour to lay with real pencils, and what came of it
  p             a photo: read its colours, keep them, plan them; pencils to take out for it
  w             your pencils
  g             your progress; there f, the wheel of hue families
  s             settings
  h             the guide: the words of the craft, with swatches that show them
  a             add work that a teacher sent
  u             your course: its decks in order, and when each opens
  l             the lessons of your decks so far
  t             share: a file of your answers to a deck, for its teacher
  k             the class, where you are the teacher

Words
  hue family    one of twelve round the wheel, from yellow through red, violet, blue and green
  lean          the neighbour on the wheel that a colour leans to
  value         how light, from 0 (black) to 10 (white), whatever the hue
  chroma        how bright or dull: how far from the grey of the same value
  complement    the family opposite on the wheel; a little of it dulls a colour
  tooth         the paper's roughness: light pressure colours only its peaks
  blender       a colourless pencil that mixes what lies there and leaves a faint haze
  burnish       to press the surface flat and shiny; no more colour sticks after it
  ΔE00          the size of a colour difference (CIEDE2000): about 1 is just visible side by side

How answers count
  Every answer key is computed, from your pencils' colours. A near miss earns more than a wild one.
  What you miss comes back sooner. How quick you are is compared with your own usual time only.
  Results of layers come from a model: it can't know your hand or your paper.

Cautions
  Rest your eyes when they tire. This is practice, not a medical test of colour vision.
  Solvents and fixatives: follow the label and local rules, air the room, keep away from flames.
  Pigment dust: wipe it up damp rather than blow it; keep it off food and from children.
"""


TERM = 16
"""The column at which what a key or word means begins."""


def hung(text: str, width: int) -> str:
    """The page in ``width`` cells, each meaning wrapped under its own beginning."""
    lines = []
    for line in text.splitlines():
        term = line[:TERM]
        beside = term.startswith("  ") and term.endswith("  ")
        head, words = (
            (term, line[TERM:]) if beside else (line[: len(line) - len(line.lstrip())], line)
        )
        first, *rest = wrapped(words, max(10, min(MEASURE, width - len(head))))
        lines += [head + first, *(" " * len(head) + more for more in rest)]
    return "\n".join(lines)


class HelpScreen(CoachScreen[None]):
    """One page, scrolled."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,q,question_mark", "back", "Back")]

    def compose(self) -> ComposeResult:
        yield Static("Help", classes="title", markup=False)
        with VerticalScroll():
            yield Static("", id="page", markup=False)
        yield Hints(Hint("↑ ↓", "read on"), Hint("Esc", "back", "back"))

    def on_mount(self) -> None:
        self.query_one(VerticalScroll).focus()

    def on_resize(self) -> None:
        self.query_one("#page", Static).update(hung(HELP, self.size.width - 6))

    def action_back(self) -> None:
        self.dismiss()
