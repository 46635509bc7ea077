"""The class report's pictures as inline SVG: heat told by grey, by hatching, and by the number."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from html import escape

from coach.reports.classes.words import percent
from scores.classes.standing_lines import Standing
from scores.classes.views import shade
from scores.exchange.xapi import FAMILIES

GREYS = ("#8c8c8c", "#b0b0b0", "#cfcfcf", "#e6e6e6", "#ffffff")
"""Fill by shade, darkest where the need is greatest."""
_CELL_W, _CELL_H, _NAME_W, _HEAD_H = 44, 20, 180, 92
_SLANT = 56
"""Room to the right of the last column, for its slanting name."""

# Hatching by shade, as strokes inside a cell: lines that cross, lines close, lines
# apart, ticks, nothing. Plain strokes, for a browser prints thousands of pattern
# fills by the minute.
_HATCHING = (
    "".join(f"m{x} 0l8 -{_CELL_H - 2}m-8 0l8 {_CELL_H - 2}m-{x + 8} 0" for x in range(0, 34, 7)),
    "".join(f"m{x} 0l8 -{_CELL_H - 2}m-{x + 8} {_CELL_H - 2}" for x in range(0, 34, 4)),
    "".join(f"m{x} 0l8 -{_CELL_H - 2}m-{x + 8} {_CELL_H - 2}" for x in range(1, 34, 9)),
    "".join(f"m{x} -{_CELL_H // 2 - 1}h2m-{x + 2} {_CELL_H // 2 - 1}" for x in range(3, 40, 5)),
    "",
)
_INKS = ("#333", "#555", "#666", "#666", "none")


class _Cells:
    """Cells of a picture, gathered so that each shade is one path."""

    def __init__(self) -> None:
        self.boxes: list[list[str]] = [[] for _ in GREYS]
        self.hatching: list[list[str]] = [[] for _ in GREYS]
        self.bare: list[str] = []
        self.marked: list[str] = []
        self.plates: list[str] = []
        self.numbers: list[str] = []

    def add(self, x: int, y: int, of: int | None, number: str, marked: bool = False) -> None:
        """One cell: its shade (None: not told) and its number."""
        width, height = _CELL_W - 2, _CELL_H - 2
        box = f"M{x} {y}h{width}v{height}h-{width}z"
        if of is None:
            self.bare.append(box)
        else:
            self.boxes[of].append(box)
            if _HATCHING[of]:
                self.hatching[of].append(f"M{x} {y + height}{_HATCHING[of]}")
        if marked:
            self.marked.append(box)
        if number:
            plate = 7 * len(number) + 4
            self.plates.append(f"M{x + (width - plate) // 2} {y + 3}h{plate}v12h-{plate}z")
            self.numbers.append(
                f'<text class="v" x="{x + width // 2}" y="{y + 13}">{number}</text>'
            )

    def svg(self) -> Iterable[str]:
        for fill, boxes in zip(GREYS, self.boxes, strict=True):
            if boxes:
                yield f'<path fill="{fill}" d="{"".join(boxes)}"/>'
        for ink, lines in zip(_INKS, self.hatching, strict=True):
            if lines:
                yield f'<path fill="none" stroke="{ink}" stroke-width=".8" d="{"".join(lines)}"/>'
        every = "".join(box for boxes in (*self.boxes, self.bare) for box in boxes)
        yield f'<path fill="none" stroke="#999" d="{every}"/>'
        if self.marked:
            yield f'<path fill="none" stroke="#111" stroke-width="1.5" d="{"".join(self.marked)}"/>'
        yield f'<path fill="#fff" d="{"".join(self.plates)}"/>'
        yield from self.numbers


def round_the_wheel(regions: Iterable[str]) -> list[str]:
    order = {name: place for place, name in enumerate(FAMILIES)}
    return sorted(regions, key=lambda region: (order.get(region, len(order)), region))


def legend() -> str:
    spans = ("0–19", "20–39", "40–59", "60–79", "80–100")
    cells = _Cells()
    words = []
    for i, span in enumerate(spans):
        cells.add(124 * i, 1, i, "")
        words.append(f'<text x="{124 * i + 50}" y="14">{span}</text>')
    inside = "".join([*cells.svg(), *words])
    return f'<svg viewBox="0 0 640 21" width="640" role="img" aria-label="Shades">{inside}</svg>'


def heat(kind: str, regions: Sequence[str], lines: Sequence[Standing], name: str) -> Iterable[str]:
    width = _NAME_W + _CELL_W * len(regions) + _SLANT
    height = _HEAD_H + _CELL_H * len(lines) + 4
    yield (
        f'<svg viewBox="0 0 {width} {height}" width="{width}" role="img"'
        f' aria-label="{escape(name)}">'
    )
    for column, region in enumerate(regions):
        x = _NAME_W + _CELL_W * column + _CELL_W // 2 + 4
        yield (
            f'<text transform="translate({x},{_HEAD_H - 6}) rotate(-60)">{escape(region)}</text>'
        )
    cells = _Cells()
    for row, line in enumerate(lines):
        y = _HEAD_H + _CELL_H * row
        yield f'<text class="r" x="{_NAME_W - 6}" y="{y + 14}">{escape(_cut(line.name, 28))}</text>'
        for column, region in enumerate(regions):
            known = line.skills.get((kind, region))
            if known is not None:
                number = f"{percent(known.level)}"
                of = shade(known.level) if known.told else None
                told = number if known.told else f"({number})"
                cells.add(_NAME_W + _CELL_W * column, y, of, told)
    yield from cells.svg()
    yield "</svg>"


def mixup_picture(confused: Sequence[Sequence[int]]) -> Iterable[str]:
    """Twelve families by twelve: percent of each row's answers that named each column."""
    left, top = 110, 90
    width, height = left + _CELL_W * 12 + _SLANT, top + _CELL_H * 12 + 4
    yield f'<svg viewBox="0 0 {width} {height}" width="{width}" role="img" aria-label="Mix-ups">'
    cells = _Cells()
    for place, name in enumerate(FAMILIES):
        x = left + _CELL_W * place + _CELL_W // 2 + 4
        yield f'<text transform="translate({x},{top - 6}) rotate(-60)">{name}</text>'
        yield f'<text class="r" x="{left - 6}" y="{top + _CELL_H * place + 14}">{name}</text>'
    for truth, row in enumerate(confused):
        asked = sum(row)
        for said, tries in enumerate(row):
            if not asked:
                continue
            share = tries / asked
            # On the diagonal much is well; off it, much is amiss.
            good = share if truth == said else 1.0 - 2.5 * share
            number = f"{100 * share:.0f}" if tries else ""
            x, y = left + _CELL_W * said, top + _CELL_H * truth
            cells.add(x, y, shade(max(0.0, good)), number, truth == said)
    yield from cells.svg()
    yield "</svg>"


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1] + "…"
