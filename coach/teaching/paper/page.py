"""A worksheet and its answers, laid out for A4 or Letter; letters tell choices apart."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from coach.reports.printed.document import html
from coach.reports.printed.flow import LEADING, MARGIN, Flow, height_of
from coach.reports.printed.lettering import width_mm
from coach.teaching.paper.by_hand import SCALE, ByHand, MutingGrid, PlanToLay, ValueScale
from coach.teaching.paper.sheet import LETTERS, PaperQuestion, Worksheet
from drills.basics.errors import plain
from drills.questions.answered import answered_rightly

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Ask, Lab, Swatch
    from drills.sheets.layout import Size

_TEXT, _SMALL = 3.4, 2.8
_BOX = 14.0
_MARK = "#ffffff"
"""What marks where a swatch begins and ends: it may be the very grey it lies on."""
_ROOM_GREY = "#777777"
"""The grey that swatches are judged on, about Munsell 5 as in the app."""
_MIND = (
    "Printers change colours: judge by what is on the sheet, in even light. Write one letter on"
    " each line, or the letters in your order."
)
BY_HAND_ALONE = "By hand alone: it asks nothing that is typed in."
_MIND_COLOUR = "A print in greys can't answer what asks for a hue."


def worksheet_page(sheet: Worksheet, size: Size) -> str:
    """The sheet as one HTML file."""
    return html(_title(sheet), size, worksheet_flow(sheet, size).pages)


def _title(sheet: Worksheet) -> str:
    return plain(f"{sheet.deck.title}, day {sheet.day}", 100)


def worksheet_flow(sheet: Worksheet, size: Size) -> Flow:
    """The sheet's pages."""
    title, flow = _title(sheet), Flow(size)
    flow.lines(MARGIN, flow.width, title, 5.5, bold=True)
    if sheet.questions:
        what = "for a print in greys" if sheet.grey else "for a print in colour"
        flow.lines(MARGIN, flow.width, f"Sheet {sheet.name}, {what}", _TEXT)
        mind = _MIND if sheet.grey else f"{_MIND} {_MIND_COLOUR}"
        flow.lines(MARGIN, flow.width, mind, _SMALL)
    else:
        flow.lines(MARGIN, flow.width, BY_HAND_ALONE, _TEXT)
    flow.y += 2.0
    blanks = "Name: ________________________   Date: ______________"
    flow.lines(MARGIN, flow.width, blanks, _TEXT + 0.6)
    for step in sheet.lessons:
        flow.y += 2.5
        flow.lines(MARGIN, flow.width, plain(step.title, 100), _TEXT, bold=True)
        for words in (step.word, step.on_paper and f"By hand: {step.on_paper}"):
            if words:
                flow.lines(MARGIN, flow.width, plain(" ".join(words.split()), 2_100), _TEXT)
    for one in sheet.questions:
        _question(flow, one, sheet.grey)
    if sheet.hand is not None:
        _hand(flow, sheet.palette, sheet.hand)
    flow.feet(f"{title}, sheet {sheet.name}" if sheet.questions else title)
    return flow


def answers_page(sheet: Worksheet, size: Size) -> str:
    """The answers to the sheet, with what each choice would have been."""
    return html(f"Answers: {_title(sheet)}", size, answers_flow(sheet, size).pages)


def answers_flow(sheet: Worksheet, size: Size) -> Flow:
    """The pages of answers."""
    title, flow = plain(f"Answers: {_title(sheet)}", 110), Flow(size)
    flow.lines(MARGIN, flow.width, title, 5.5, bold=True)
    flow.lines(MARGIN, flow.width, f"Sheet {sheet.name}", _TEXT)
    for one in sheet.questions:
        flow.y += 1.0
        flow.lines(MARGIN, flow.width, f"{one.number}. {one.key}", _TEXT, bold=True)
        answers = answered_rightly(one.kind, one.question)[1]
        for words in one.kind.reveal(one.question, answers or ()).because:
            flow.lines(MARGIN + 8.0, flow.width - 8.0, plain(words, 300), _SMALL)
    if isinstance(sheet.hand, MutingGrid):
        _expected(flow, sheet.hand)
    flow.feet(f"{title}, sheet {sheet.name}")
    return flow


def _question(flow: Flow, one: PaperQuestion, grey: bool) -> None:
    words = f"{one.number}. {plain(one.first.prompt, 300)}"
    more = _seconds(one)
    pictured = bool(one.first.scene) + any(choice.swatch for choice in one.first.choices)
    tall = height_of(words, flow.width, _TEXT + 0.4) + pictured * (_BOX + 14.0) + 18.0
    tall += sum(height_of(after, flow.width, _SMALL) for after in more)
    flow.y += 4.0
    flow.room(tall)
    flow.lines(MARGIN, flow.width, words, _TEXT + 0.4, bold=True)
    if one.first.scene:
        _swatches(flow, one.first.scene, [plain(s.label, 30) for s in one.first.scene], True, grey)
    _choices(flow, one.first, grey)
    for after in more:
        flow.lines(MARGIN, flow.width, after, _SMALL)
    blanks = len(one.first.choices) if one.first.form == "arrange" else 1 + bool(one.then)
    order = ", in your order" if one.first.form == "arrange" else ""
    flow.lines(MARGIN, flow.width, f"Answer{order}: {'____  ' * blanks}", _TEXT)


def _seconds(one: PaperQuestion) -> list[str]:
    """The second thing asked and its choices, once where it is the same after every choice."""
    asks = list(one.then.items())
    if not asks:
        return []
    if all(asked == asks[0][1] for _, asked in asks):
        return [f"Then: {_in_a_line(asks[0][1])}"]
    keys = [choice.key for choice in one.first.choices]
    return [f"Then, after {LETTERS[keys.index(key)]}: {_in_a_line(asked)}" for key, asked in asks]


def _in_a_line(asked: Ask) -> str:
    choices = "   ".join(
        f"{LETTERS[at]}) {plain(choice.text, 100)}" for at, choice in enumerate(asked.choices)
    )
    return f"{plain(asked.prompt, 300)}   {choices}"


def _choices(flow: Flow, asked: Ask, grey: bool) -> None:
    swatches = [choice.swatch for choice in asked.choices]
    shown = [one for one in swatches if one is not None]
    if len(shown) == len(swatches):
        labels = [f"{LETTERS[at]})  {plain(c.text, 24)}" for at, c in enumerate(asked.choices)]
        _swatches(flow, shown, labels, False, grey)
        return
    # Each in its own place, as many in a row as the longest lets.
    texts = [f"{LETTERS[at]})  {plain(one.text, 100)}" for at, one in enumerate(asked.choices)]
    widest = max(width_mm(one, _TEXT) for one in texts) + 6.0
    in_row = max(1, min(len(texts), int(flow.width // widest)))
    for start in range(0, len(texts), in_row):
        flow.room(LEADING * _TEXT)
        for at, text in enumerate(texts[start : start + in_row]):
            x = MARGIN + at * flow.width / in_row if in_row < len(texts) else MARGIN + at * widest
            flow.page.fitted(x, flow.y + _TEXT, flow.width / in_row, text, _TEXT, faint=False)
        flow.y += LEADING * _TEXT + 0.8


def _swatches(
    flow: Flow, shown: Sequence[Swatch], labels: Sequence[str], touching: bool, grey: bool
) -> None:
    """A row on the room's grey, a word under each; what is compared in a scene touches.

    ``grey`` draws each as the grey of its own L*, so that no printer has to turn it to grey.
    """
    from drills.colour.spaces import hex_of

    def drawn(lab: Lab) -> str:
        return hex_of((lab[0], 0.0, 0.0) if grey else lab)

    gap = 0.0 if touching else 5.0
    wide = min(34.0, (flow.width - 8.0) / len(shown) - gap)
    flow.y += 1.0
    across = (wide + gap) * len(shown) - gap
    flow.page.fill(MARGIN, flow.y, across + 8.0, _BOX + 8.0, _ROOM_GREY)
    x = MARGIN + 4.0
    for swatch, label in zip(shown, labels, strict=True):
        if swatch.surround is not None:
            flow.page.fill(x, flow.y + 1.0, wide, _BOX + 6.0, drawn(swatch.surround))
            flow.page.fill(x + wide / 4, flow.y + 5.0, wide / 2, _BOX - 2.0, drawn(swatch.lab))
        else:
            flow.page.fill(x, flow.y + 4.0, wide, _BOX, drawn(swatch.lab))
            _ends(flow, x)
            _ends(flow, x + wide)
        if label.strip():
            flow.page.fitted(x, flow.y + _BOX + 11.5, wide, label, _TEXT, faint=False)
        x += wide + gap
    flow.y += _BOX + 13.5 if any(one.strip() for one in labels) else _BOX + 10.0


def _ends(flow: Flow, x: float) -> None:
    """A short line above and one below where a swatch ends, apart from it."""
    for y in (flow.y + 1.0, flow.y + _BOX + 5.0):
        flow.page.fill(x - 0.15, y, 0.3, 2.0, _MARK)


def _hand(flow: Flow, palette: Palette, hand: ByHand) -> None:
    flow.y += 5.0
    if isinstance(hand, ValueScale):
        _scale(flow, hand)
    elif isinstance(hand, MutingGrid):
        _grid(flow, hand)
    else:
        _plan(flow, palette, hand)


def _scale(flow: Flow, hand: ValueScale) -> None:
    wide = flow.width / len(SCALE)
    flow.room(60.0)
    words = (
        f"By hand: fill the lower boxes with {plain(hand.pencil, 60)}, each to the grey above it."
        f" Half close your eyes to compare. Laid firmly it comes to about value {hand.darkest:.0f};"
        " leave the boxes it can't reach."
    )
    flow.lines(MARGIN, flow.width, words, _TEXT, bold=True)
    flow.y += 1.5
    for at, value in enumerate(SCALE):
        x = MARGIN + at * wide
        flow.page.box(x, flow.y, wide, 14.0, _grey(value))
        flow.page.box(x, flow.y + 14.0, wide, 18.0)
        flow.page.text(x + 1.0, flow.y + 36.0, str(value), _TEXT)
    flow.y += 39.0


def _grey(value: int) -> str:
    from drills.colour.munsell import munsell_to_lab
    from drills.colour.spaces import hex_of

    return hex_of(munsell_to_lab(f"N{value}"))


def _grid(flow: Flow, hand: MutingGrid) -> None:
    side, first = 30.0, 46.0
    flow.room(20.0 + side * len(hand.rows))
    words = (
        "By hand: lay the row's pencil, the column's lightly over it, then the row's again."
        " Which keeps the most of its hue, and which comes nearest to grey?"
    )
    flow.lines(MARGIN, flow.width, words, _TEXT, bold=True)
    flow.y += 5.5
    for at, name in enumerate(hand.columns):
        flow.page.fitted(MARGIN + first + at * side, flow.y, side - 2.0, plain(name, 60), _SMALL)
    flow.y += 2.0
    for name in hand.rows:
        flow.page.fitted(MARGIN, flow.y + side / 2, first - 3.0, plain(name, 60), _TEXT)
        for at in range(len(hand.columns)):
            flow.page.box(MARGIN + first + at * side, flow.y, side - 2.0, side - 2.0)
        flow.y += side


def _expected(flow: Flow, hand: MutingGrid) -> None:
    from drills.colour.reading import read_colour

    flow.y += 4.0
    flow.lines(MARGIN, flow.width, "The muting grid, as the model expects it", _TEXT, bold=True)
    for name, row in zip(hand.rows, hand.made, strict=True):
        for column, lab in zip(hand.columns, row, strict=True):
            read = read_colour(lab)
            words = f"{plain(name, 60)} with {plain(column, 60)}: {read.value_word}"
            words += f" in value, {read.chroma_word} {read.family or 'grey'}"
            flow.lines(MARGIN, flow.width, words, _SMALL)


def _plan(flow: Flow, palette: Palette, hand: PlanToLay) -> None:
    from drills.layering.moves import move_words

    flow.room(50.0)
    flow.lines(MARGIN, flow.width, f"By hand: make {plain(hand.name, 60)}.", _TEXT, bold=True)
    if not hand.plan.moves:
        bare = "No pencil of these comes nearer to it than bare paper: leave this box bare."
        flow.page.box(MARGIN, flow.y + 1.0, _BOX + 8.0, _BOX)
        top = flow.y
        flow.lines(MARGIN + 28.0, flow.width - 28.0, bare, _TEXT)
        flow.y = max(flow.y, top + _BOX) + 3.0
    for number, one in enumerate(hand.plan.moves, start=1):
        words = plain(move_words(palette, one.move), 200)
        flow.room(_BOX + 3.0)
        flow.page.box(MARGIN, flow.y + 1.0, _BOX + 8.0, _BOX)
        top = flow.y
        flow.lines(MARGIN + 28.0, flow.width - 28.0, f"{number}. {words}", _TEXT)
        flow.y = max(flow.y, top + _BOX) + 3.0
