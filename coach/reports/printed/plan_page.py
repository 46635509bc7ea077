"""Plans to print and draw beside.

Neutral throughout: the only colours are swatches, each with its value in figures and, if it is a
pencil's, with its code, so that a page in greys says the same. Beside every step stands an empty
box for one's own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from coach.reports.printed.drawing import Drawing
from coach.reports.printed.flow import LEADING, MARGIN, Flow, height_of
from coach.reports.printed.lettering import wrapped
from drills.basics.errors import plain
from drills.colour.munsell import munsell_value
from drills.colour.reading import read_colour
from drills.colour.spaces import hex_of, in_screen_gamut
from drills.layering.palette import Palette
from drills.pencils.pencil import Lab
from drills.planning.plan import LIMITS_OF_MODEL, NO_SPECTRUM, RECOVERED, Plan, PlannedMove
from drills.planning.plan_words import imperative
from drills.sheets.layout import Size

PRINTS_AS_IT_MAY = "Printed colours differ. Judge by your own swatches, in the light you draw by."
OUTSIDE = "Crossed out, for no screen or printer shows this colour truly."
_PENCIL, _STEP, _TALL = 15.0, 22.0, 11.0
_GAP = 2.0
_NUMBER = 6.0
_WORDS_AT = MARGIN + _NUMBER + _PENCIL + 2 * _STEP + 3 * _GAP + 1.0
_BIG, _BIG_TALL = 30.0, 17.0
_CAPTION = 2.4
_TEXT = 2.9
_ALIKE = (LIMITS_OF_MODEL, RECOVERED, NO_SPECTRUM)
"""Notes that every plan has: said once a page."""


@dataclass(frozen=True)
class _Line:
    """Words at a size, before they are wrapped."""

    words: str
    size: float = _TEXT
    bold: bool = False
    faint: bool = False


def title(plans: Sequence[tuple[str, Plan]]) -> str:
    """What the page is called."""
    return f"A plan for {plans[0][0]}" if len(plans) == 1 else f"{len(plans)} plans"


def plan_pages(
    plans: Sequence[tuple[str, Plan]], palette: Palette, size: Size, why: bool
) -> list[Drawing]:
    """The pages. ``plans`` stand by what was asked for; ``why`` adds reasons and every note."""
    flow = Flow(size)
    flow.lines(MARGIN, flow.width, plain(title(plans), 100), 5.5, bold=True)
    flow.lines(MARGIN, flow.width, f"with {plain(palette.set.name, 200)}", 3.2, faint=True)
    flow.y += 2.0
    _take_out(flow, palette, [plan for _, plan in plans])
    for asked, plan in plans:
        _plan(flow, palette, asked, plan, why, len(plans) == 1)
    notes = [note for _, plan in plans for note in plan.notes if note in _ALIKE]
    for note in dict.fromkeys(notes if why else [LIMITS_OF_MODEL]):
        flow.lines(MARGIN, flow.width, note, 2.6, faint=True)
    flow.feet(PRINTS_AS_IT_MAY)
    return flow.pages


def _take_out(flow: Flow, palette: Palette, plans: Sequence[Plan]) -> None:
    """The pencils that the plans lay, in the order in which they are first asked for."""
    used = dict.fromkeys(move.pencil for plan in plans for move in plan.recipe if move.pencil >= 0)
    if not used:
        return
    flow.lines(MARGIN, flow.width, "Pencils", 3.4, bold=True)
    flow.y += 1.0
    columns = 3
    wide = flow.width / columns
    rows = [list(used)[at : at + columns] for at in range(0, len(used), columns)]
    for row in rows:
        said = [wrapped(_name(palette, i), wide - _PENCIL - 4.0, _TEXT) for i in row]
        tall = max(7.0, max(len(lines) for lines in said) * LEADING * _TEXT + 1.5)
        flow.room(tall)
        for column, (i, lines) in enumerate(zip(row, said, strict=True)):
            x = MARGIN + column * wide
            _swatch(flow.page, x, flow.y, _PENCIL, 5.5, palette.lab[i])
            for at, line in enumerate(lines):
                y = flow.y + _TEXT + at * LEADING * _TEXT
                flow.page.text(x + _PENCIL + _GAP, y, line, _TEXT)
        flow.y += tall
    flow.y += 2.0


def _plan(flow: Flow, palette: Palette, asked: str, plan: Plan, why: bool, alone: bool) -> None:
    """One plan, ``alone`` in full; among others without the other ways, unless ``why``."""
    rows = [_row(one, why) for one in plan.moves]
    wide = flow.size.width - MARGIN - _WORDS_AT
    talls = [_row_height(row, wide) for row in rows]
    foot = list(_foot(palette, plan, alone or why))
    head = _BIG_TALL + 14.0
    # Whole on one page where a page can hold it; else its rows stay whole.
    whole = head + sum(talls) + sum(height_of(note, flow.width, _TEXT) + 0.6 for note in foot)
    flow.room(min(whole, flow.bottom - MARGIN))
    _head(flow, asked, plan)
    for at, (one, row, tall) in enumerate(zip(plan.moves, rows, talls, strict=True), start=1):
        flow.room(tall)
        _step(flow, palette, at, one, row)
        flow.y += tall
    if not plan.moves:
        flow.lines(MARGIN, flow.width, "Leave the paper bare.", 4.0, bold=True)
    for note in foot:
        flow.lines(MARGIN, flow.width, note, _TEXT)
        flow.y += 0.6
    flow.y += 5.0


def _head(flow: Flow, asked: str, plan: Plan) -> None:
    top = flow.y + 1.0
    page = flow.page
    page.fill(MARGIN, flow.y, flow.width, 0.3, "#222222")
    top += 2.0
    for at, (lab, said) in enumerate(
        ((plan.target, "the target"), (plan.predicted_lab, "should come to"), (None, "yours"))
    ):
        x = MARGIN + at * (_BIG + _GAP)
        caption = said if lab is None else f"{said}, {_value(lab)}"
        if lab is None:
            page.box(x, top, _BIG, _BIG_TALL)
        else:
            _swatch(page, x, top, _BIG, _BIG_TALL, lab)
        page.fitted(x, top + _BIG_TALL + 3.2, _BIG, caption, _CAPTION)
    x = MARGIN + 3 * (_BIG + _GAP) + 1.0
    wide = flow.size.width - MARGIN - x
    y = top
    told = [_Line(plain(asked, 60), 3.6, bold=True), _Line(read_colour(plan.target).sentence())]
    if plan.moves:
        told.append(_Line(plan.likely.words()))
    if not bool(in_screen_gamut(np.asarray(plan.target))):
        told.append(_Line(OUTSIDE))
    for words in told:
        y = _written(page, x, y, wide, words) + 0.6
    flow.y = max(y, top + _BIG_TALL + 5.0) + 2.0


def _row(one: PlannedMove, why: bool) -> list[_Line]:
    lines = [_Line(f"{one.words}.", 3.2, bold=True), _Line(one.stop)]
    return [*lines, _Line(one.why, 2.6, faint=True)] if why else lines


def _row_height(row: Sequence[_Line], wide: float) -> float:
    words = sum(height_of(one.words, wide, one.size, one.bold) for one in row)
    return max(words, _TALL + 3.6) + 1.6


def _step(flow: Flow, palette: Palette, at: int, one: PlannedMove, row: Sequence[_Line]) -> None:
    page, y = flow.page, flow.y
    x = MARGIN
    page.text(x, y + 4.5, str(at), 4.0, bold=True)
    x += _NUMBER
    below = y + _TALL + 2.7
    pencil = one.move.pencil
    if pencil >= 0:
        _swatch(page, x, y, _PENCIL, _TALL, palette.lab[pencil])
        page.fitted(x, below, _PENCIL, _code(palette, pencil), _CAPTION)
    x += _PENCIL + _GAP
    _swatch(page, x, y, _STEP, _TALL, one.predicted_lab)
    page.fitted(x, below, _STEP, f"then {_value(one.predicted_lab)}", _CAPTION)
    x += _STEP + _GAP
    page.box(x, y, _STEP, _TALL)
    page.fitted(x, below, _STEP, "yours", _CAPTION)
    wide = flow.size.width - MARGIN - _WORDS_AT
    for words in row:
        y = _written(page, _WORDS_AT, y, wide, words)


def _foot(palette: Palette, plan: Plan, ways: bool) -> Iterator[str]:
    if plan.missing is not None:
        yield plan.missing.words
    for aside in plan.rules_set_aside:
        yield aside.words()
    for other in plan.alternatives if ways else ():
        steps = "; ".join(imperative(palette, move) for move in other.moves)
        yield f"Or, {other.way}: {steps}. {other.likely.words()}"
    yield from (note for note in plan.notes if note not in _ALIKE)


def _written(page: Drawing, x: float, y: float, width: float, words: _Line) -> float:
    """The y under wrapped words."""
    for line in wrapped(words.words, width, words.size, words.bold):
        page.text(x, y + words.size, line, words.size, bold=words.bold, faint=words.faint)
        y += LEADING * words.size
    return y


def _swatch(
    page: Drawing, x: float, y: float, width: float, height: float, lab: Sequence[float]
) -> None:
    """Crossed out where no screen or printer shows the colour."""
    if bool(in_screen_gamut(np.asarray(lab))):
        page.box(x, y, width, height, hex_of(lab))
    else:
        page.box(x, y, width, height)
        page.line(x, y, x + width, y + height)
        page.line(x, y + height, x + width, y)


def _value(lab: Lab) -> str:
    return f"value {float(munsell_value(np.asarray(lab)[None])[0]):.1f}"


def _code(palette: Palette, i: int) -> str:
    pencil = palette.set.pencils[i]
    return pencil.code or pencil.name


def _name(palette: Palette, i: int) -> str:
    pencil = palette.set.pencils[i]
    return f"{pencil.code} {pencil.name}" if pencil.code else pencil.name
