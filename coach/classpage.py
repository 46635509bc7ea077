"""The class report: one HTML page, self-contained, that prints on A4 and reads without colour.

No script, nothing fetched; every text of a stranger is escaped. Heat is told by
a neutral grey, by hatching that thickens, and by the number itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from scores.choosing import AIM
from scores.classbook import ClassBook
from scores.classviews import (
    TELLING,
    ClassView,
    Mixup,
    Skill,
    StudentLine,
    confusion,
    mixups,
    overview,
    shade,
    targets,
)
from scores.xapi import FAMILIES

GREYS = ("#8c8c8c", "#b0b0b0", "#cfcfcf", "#e6e6e6", "#ffffff")
"""Fill by shade, darkest where the need is greatest."""
A_PICTURE = 36
"""Students in one heat picture: so many fit on a printed page."""
COLUMNS = 14
"""Regions in one heat picture."""
_CELL_W, _CELL_H, _NAME_W, _HEAD_H = 44, 20, 180, 92
_SLANT = 56
"""Room to the right of the last column, for its slanting name."""
MIXUPS_TOLD = 12


@dataclass(frozen=True)
class Report:
    """All that the page shows."""

    view: ClassView
    confused: list[list[int]]
    mixups: tuple[Mixup, ...]
    targets: tuple[tuple[str, int, int, float], ...]


def report_of(book: ClassBook, deck: str = "") -> Report:
    """Gather a report over one deck (by fingerprint) or over all."""
    return Report(
        overview(book, deck), confusion(book, deck), mixups(book, deck), targets(book, deck)
    )


def page(report: Report, made: datetime, titles: Mapping[str, str], app: str) -> str:
    """The page. ``titles`` are the drill kinds' titles by name."""
    view = report.view
    title = view.deck.title if view.deck else "The class, all decks"
    parts = [
        "<!DOCTYPE html>\n",
        '<html lang="en-GB"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta http-equiv="Content-Security-Policy"'
        " content=\"default-src 'none'; style-src 'unsafe-inline'\">",
        f"<title>{escape(title)}: class report</title><style>{_CSS}</style></head><body>",
        f"<h1>{escape(title)}</h1>",
        *_head(view, made, app),
        *_not_begun(view),
        *_pictures(view, titles),
        *_students(view, titles),
        *_skills(view, titles),
        *_targets(report.targets),
        *_mixed_up(report),
        *_words(),
        "</body></html>\n",
    ]
    return "".join(parts)


_CSS = """
@page { size: A4; margin: 12mm }
* { box-sizing: border-box }
body { font: 14px/1.4 system-ui, sans-serif; color: #1a1a1a; background: #fff;
  max-width: 190mm; margin: 1.5em auto; padding: 0 1em; overflow-wrap: anywhere }
h1 { font-size: 1.5em; margin: 0 0 .2em } h2 { font-size: 1.15em; margin: 1.6em 0 .4em }
table { border-collapse: collapse; width: 100%; font-size: .9em }
th, td { text-align: left; padding: .2em .5em; border-bottom: 1px solid #ccc; vertical-align: top }
td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
thead { display: table-header-group } tr { break-inside: avoid }
figure { margin: .6em 0; break-inside: avoid } figcaption { font-weight: 600; margin-bottom: .3em }
svg { max-width: 100%; height: auto; display: block;
  -webkit-print-color-adjust: exact; print-color-adjust: exact }
svg text { font: 11px system-ui, sans-serif; fill: #1a1a1a }
svg .v { text-anchor: middle }
svg .r { text-anchor: end }
.note { color: #444; font-size: .9em } ul { padding-left: 1.2em; columns: 14em }
ul.wide { columns: auto }
@media print { body { max-width: none; margin: 0; padding: 0; font-size: 10pt } }
"""

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


def _head(view: ClassView, made: datetime, app: str) -> Iterable[str]:
    deck = view.deck
    yield '<p class="note">'
    if deck:
        due = f", due {deck.due:%-d %B %Y}" if deck.due else ""
        yield f"From {escape(deck.author)}: {deck.items_a_day} a day for {deck.days} days{due}. "
    yield (
        f"{len(view.students)} students, {view.tries:,} answers. Made {made:%-d %B %Y, %H:%M} by"
        f" the coloured-pencil coach {escape(app)}.</p>"
    )
    yield (
        '<p class="note">Results are the students’ own word: each owns the machine they practise'
        " on. The files’ digests find damage, not cheating.</p>"
    )


def _not_begun(view: ClassView) -> Iterable[str]:
    if view.not_begun:
        yield f"<h2>Not begun ({len(view.not_begun)})</h2><ul>"
        yield from (f"<li>{escape(name)}</li>" for name in view.not_begun)
        yield "</ul>"


def _pictures(view: ClassView, titles: Mapping[str, str]) -> Iterable[str]:
    yield "<h2>Students and skills</h2>"
    yield (
        '<p class="note">The greatest need stands first. Each number is reach, 0 to 100: how far'
        " from a drill’s easiest questions to its hardest the latest answers came, less where they"
        f" earned under {AIM:.0%} of the points. Darker and denser is further to go; numbers in"
        f" brackets rest on fewer than {TELLING} answers.</p>"
    )
    yield _legend()
    by_kind: dict[str, list[str]] = {}
    for line in view.skills:
        kind, region = line.skill
        by_kind.setdefault(kind, []).append(region)
    for kind, regions in by_kind.items():
        ordered = _round_the_wheel(regions)
        for first in range(0, len(ordered), COLUMNS):
            some = ordered[first : first + COLUMNS]
            here = [
                line
                for line in view.students
                if any((kind, region) in line.cells for region in some)
            ]
            for start in range(0, len(here), A_PICTURE):
                lines = here[start : start + A_PICTURE]
                span = f", {start + 1} to {start + len(lines)}" if len(here) > A_PICTURE else ""
                name = f"{titles.get(kind, kind)}{span}"
                yield f"<figure><figcaption>{escape(name)}</figcaption>"
                yield from _heat(kind, some, lines, name)
                yield "</figure>"


def _round_the_wheel(regions: Iterable[str]) -> list[str]:
    order = {name: place for place, name in enumerate(FAMILIES)}
    return sorted(regions, key=lambda region: (order.get(region, len(order)), region))


def _legend() -> str:
    spans = ("0–19", "20–39", "40–59", "60–79", "80–100")
    cells = _Cells()
    words = []
    for i, span in enumerate(spans):
        cells.add(124 * i, 1, i, "")
        words.append(f'<text x="{124 * i + 50}" y="14">{span}</text>')
    inside = "".join([*cells.svg(), *words])
    return f'<svg viewBox="0 0 640 21" width="640" role="img" aria-label="Shades">{inside}</svg>'


def _heat(
    kind: str, regions: Sequence[str], lines: Sequence[StudentLine], name: str
) -> Iterable[str]:
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
            cell = line.cells.get((kind, region))
            if cell is not None:
                number = f"{100 * cell.reach:.0f}"
                of = shade(cell.reach) if cell.telling else None
                told = number if cell.telling else f"({number})"
                cells.add(_NAME_W + _CELL_W * column, y, of, told)
    yield from cells.svg()
    yield "</svg>"


def _students(view: ClassView, titles: Mapping[str, str]) -> Iterable[str]:
    if not view.students:
        return
    done = '<th class="n">Days done</th><th>Passed</th>' if view.deck else ""
    yield (
        '<h2>Students, by need</h2><table><thead><tr><th>Student</th><th class="n">Reach</th>'
        f'<th class="n">Grade</th><th class="n">Answers</th><th class="n">Days</th>{done}'
        "<th>Last</th><th>Weakest</th></tr></thead><tbody>"
    )
    for line in view.students:
        weakest = "; ".join(
            f"{_skill(skill, titles)} {100 * line.cells[skill].reach:.0f}"
            for skill in line.weakest[:3]
        )
        done = ""
        if view.deck:
            passed = "yes" if line.passed else "not yet"
            done = f'<td class="n">{line.days_done} of {view.deck.days}</td><td>{passed}</td>'
        last = f"{line.last_day:%-d %b %Y}" if line.last_day else ""
        yield (
            f'<tr><td>{escape(line.name)}</td><td class="n">{_percent(line.need, True)}</td>'
            f'<td class="n">{_percent(line.grade)}</td><td class="n">{line.tries}</td>'
            f'<td class="n">{line.days}</td>{done}<td>{last}</td><td>{escape(weakest)}</td></tr>'
        )
    yield "</tbody></table>"


def _skills(view: ClassView, titles: Mapping[str, str]) -> Iterable[str]:
    if not view.skills:
        return
    yield (
        '<h2>Skills, by need</h2><table><thead><tr><th>Skill</th><th class="n">Reach</th>'
        '<th class="n">Students</th><th class="n">Answers</th></tr></thead><tbody>'
    )
    for line in view.skills:
        yield (
            f"<tr><td>{escape(_skill(line.skill, titles))}</td>"
            f'<td class="n">{_percent(line.reach)}</td><td class="n">{line.students}</td>'
            f'<td class="n">{line.tries}</td></tr>'
        )
    yield "</tbody></table>"


def _targets(rows: Sequence[tuple[str, int, int, float]]) -> Iterable[str]:
    if not rows:
        return
    yield (
        '<h2>Named colours, by grade</h2><table><thead><tr><th>Colour</th><th class="n">Grade</th>'
        '<th class="n">Students</th><th class="n">Answers</th></tr></thead><tbody>'
    )
    for name, students, tries, grade in rows:
        yield (
            f'<tr><td>{escape(name)}</td><td class="n">{_percent(grade)}</td>'
            f'<td class="n">{students}</td><td class="n">{tries}</td></tr>'
        )
    yield "</tbody></table>"


def _mixed_up(report: Report) -> Iterable[str]:
    if not any(map(any, report.confused)):
        return
    yield "<h2>What the class mixes up</h2>"
    if report.mixups:
        yield '<ul class="wide">'
        for one in report.mixups[:MIXUPS_TOLD]:
            yield (
                f"<li>{one.truth} taken for {one.said}: {one.tries} of {one.asked} times"
                f" ({one.share:.0%}), by {one.students} student{'s' * (one.students != 1)}</li>"
            )
        yield "</ul>"
    yield (
        "<figure><figcaption>Percent of each family (row) called each family (column)</figcaption>"
    )
    left, top = 110, 90
    width, height = left + _CELL_W * 12 + _SLANT, top + _CELL_H * 12 + 4
    yield f'<svg viewBox="0 0 {width} {height}" width="{width}" role="img" aria-label="Mix-ups">'
    cells = _Cells()
    for place, name in enumerate(FAMILIES):
        x = left + _CELL_W * place + _CELL_W // 2 + 4
        yield f'<text transform="translate({x},{top - 6}) rotate(-60)">{name}</text>'
        yield f'<text class="r" x="{left - 6}" y="{top + _CELL_H * place + 14}">{name}</text>'
    for truth, row in enumerate(report.confused):
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
    yield "</svg></figure>"


def _words() -> Iterable[str]:
    yield (
        '<h2>How to read it</h2><p class="note">Everyone is asked at their own level, so that about'
        " four answers in five are right whatever their skill: the mean grade says little, and"
        " reach says where they stand. It is worked out from the latest answers in each skill."
        " Practice, not an examination; and no test of colour vision.</p>"
    )


def _skill(skill: Skill, titles: Mapping[str, str]) -> str:
    return f"{titles.get(skill[0], skill[0])}: {skill[1]}"


def _percent(share: float | None, of_need: bool = False) -> str:
    if share is None:
        return "–"
    return f"{100 * (1.0 - share if of_need else share):.0f}"


def _cut(text: str, limit: int) -> str:
    return text if len(text) <= limit else text[: limit - 1] + "…"
