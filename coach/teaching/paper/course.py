"""A whole course on paper: what it is and when each sheet's turn is, then every day's worksheet.

For one without a computer: sheets in the order of the course, each with what its lessons say and
what the hand should try; the answers apart, for who looks it over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.reports.printed.document import html
from coach.reports.printed.flow import MARGIN, Flow
from coach.teaching.paper.page import answers_flow, worksheet_flow
from coach.teaching.paper.sheet import PaperDeck, Worksheet
from decks.courses.levels import decks_at_level
from drills.basics.errors import plain

if TYPE_CHECKING:
    from coach.reports.printed.drawing import Drawing
    from decks.courses.course import Course
    from decks.deck import Deck
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind
    from drills.sheets.layout import Size

_TEXT, _SMALL, _TICK = 3.4, 2.8, 5.0
_HOW = (
    "No computer is needed. Take one sheet a day, in this order, and tick its box. Write letters"
    " on the lines, and lay what it says by hand. Begin a part once what it needs is done: go over"
    " the answers, or give the sheets to your teacher, who types them in."
)
UNGRADED = "Its sheets are done by hand alone: nothing of it is graded, so paper doesn't pass it."


@dataclass(frozen=True, eq=False)
class CourseSheets:
    """A course's sheets: of each deck, as it is at the level chosen, those of its days that
    anything can be asked of on paper."""

    course: Course
    decks: tuple[tuple[Deck, tuple[Worksheet, ...]], ...]

    @property
    def sheets(self) -> Iterator[Worksheet]:
        return (sheet for _, sheets in self.decks for sheet in sheets)


def course_sheets(
    course: Course,
    own: Palette,
    kinds: Mapping[str, Kind],
    grey: bool = False,
    told: Callable[[str], object] = lambda _: None,
) -> CourseSheets:
    """Draw every day's sheet, with these pencils or those inside a deck. Raises InputError.

    It takes many seconds; ``told`` is called with how far it has come, in words.
    """
    found, decks = [], decks_at_level(course)
    for number, deck in enumerate(decks, start=1):
        place = f"{plain(course.part.capitalize(), 30)} {number} of {len(decks)}"
        told(place)
        made, asked = PaperDeck(deck, own, kinds), []
        for day in range(1, deck.days + 1):
            told(f"{place}, day {day} of {deck.days}")
            sheet = made.sheet(day, grey)
            if sheet.questions or sheet.hand is not None:
                asked.append(sheet)
        found.append((deck, tuple(asked)))
    return CourseSheets(course, tuple(found))


def course_page(made: CourseSheets, size: Size) -> str:
    """The course on paper as one HTML file."""
    flows = [_cover(made, size), *(worksheet_flow(one, size) for one in made.sheets)]
    return html(plain(made.course.title, 100), size, _pages(flows))


def course_answers_page(made: CourseSheets, size: Size) -> str:
    """The answers to all its sheets as one HTML file."""
    flows = [answers_flow(one, size) for one in made.sheets if one.questions]
    return html(plain(f"Answers: {made.course.title}", 110), size, _pages(flows))


def _pages(flows: Iterable[Flow]) -> list[Drawing]:
    return [page for flow in flows for page in flow.pages]


def _cover(made: CourseSheets, size: Size) -> Flow:
    course, flow = made.course, Flow(size)
    flow.lines(MARGIN, flow.width, plain(course.title, 100), 6.0, bold=True)
    level = f", level {plain(course.level, 40)}" if course.level else ""
    flow.lines(MARGIN, flow.width, f"From {plain(course.author, 100)}{level}", _TEXT)
    for words in (course.purpose, course.note):
        if words:
            flow.lines(MARGIN, flow.width, plain(" ".join(words.split()), 2_000), _TEXT)
    flow.y += 2.0
    flow.lines(MARGIN, flow.width, _HOW, _TEXT)
    flow.y += 1.0
    flow.lines(MARGIN, flow.width, "Name: ________________________", _TEXT + 0.6)
    titles = {one.name: deck.title for one, (deck, _) in zip(course.decks, made.decks, strict=True)}
    numbered = enumerate(zip(course.decks, made.decks, strict=True), start=1)
    for number, (one, (deck, sheets)) in numbered:
        _deck(flow, f"{course.part.capitalize()} {number}", deck, sheets, [
            titles[name] for name in one.needs
        ])  # fmt: skip
    flow.feet(plain(course.title, 100))
    return flow


def _deck(
    flow: Flow, place: str, deck: Deck, sheets: tuple[Worksheet, ...], needs: list[str]
) -> None:
    """A deck on the cover: what it is for, what it needs, and a box to tick for each sheet."""
    flow.y += 4.0
    flow.room(26.0)
    flow.lines(MARGIN, flow.width, f"{place}: {plain(deck.title, 80)}", _TEXT + 0.4, bold=True)
    after = f"After {' and '.join(f'“{plain(one, 80)}”' for one in needs)}. " if needs else ""
    passed = f"It is passed with a mean grade of {deck.pass_level:.2f} of 1 or more."
    if sheets and not any(sheet.questions for sheet in sheets):
        passed = UNGRADED
    purpose = f"{plain(deck.purpose, 300).rstrip('.')}. " if deck.purpose else ""
    flow.lines(MARGIN, flow.width, f"{purpose}{after}{passed}", _TEXT)
    if not sheets:
        flow.lines(MARGIN, flow.width, "Its drills need a screen: there is no sheet.", _TEXT)
        return
    flow.y += 1.0
    wide = 24.0
    in_row = int(flow.width // wide)
    for start in range(0, len(sheets), in_row):
        flow.room(_TICK + 3.0)
        for at, sheet in enumerate(sheets[start : start + in_row]):
            x = MARGIN + at * wide
            flow.page.box(x, flow.y, _TICK, _TICK)
            name = sheet.name if sheet.questions else f"{sheet.day}, by hand"
            flow.page.text(x + _TICK + 1.5, flow.y + _TICK - 1.2, name, _SMALL)
        flow.y += _TICK + 2.0
    left = deck.days - len(sheets)
    if left:
        some = "1 day has" if left == 1 else f"{left} days have"
        flow.lines(MARGIN, flow.width, f"{some} no sheet: what they ask needs a screen.", _SMALL)
