"""The class report: one HTML page, self-contained, that prints on A4 and reads without colour.

No script, nothing fetched; every text of a stranger is escaped. Heat is told by
a neutral grey, by a pattern that thickens, and by the number itself.
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
    Cell,
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
_CELL_W, _CELL_H, _NAME_W, _HEAD_H = 44, 20, 180, 96
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
        _PATTERNS,
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
svg .v { text-anchor: middle; stroke: #fff; stroke-width: 3px; paint-order: stroke }
svg .r { text-anchor: end }
.note { color: #444; font-size: .9em } ul { padding-left: 1.2em; columns: 14em }
ul.wide { columns: auto }
@media print { body { max-width: none; margin: 0; padding: 0; font-size: 10pt } }
"""

# One pattern a shade: lines that cross, lines close, lines apart, dots, nothing.
_PATTERNS = (
    '<svg width="0" height="0" style="position:absolute" aria-hidden="true"><defs>'
    '<pattern id="s0" width="5" height="5" patternUnits="userSpaceOnUse">'
    f'<rect width="5" height="5" fill="{GREYS[0]}"/>'
    '<path d="M0 5L5 0M0 0L5 5" stroke="#444" stroke-width=".8"/></pattern>'
    '<pattern id="s1" width="4" height="4" patternUnits="userSpaceOnUse">'
    f'<rect width="4" height="4" fill="{GREYS[1]}"/>'
    '<path d="M-1 1L1-1M0 4L4 0M3 5L5 3" stroke="#555" stroke-width=".8"/></pattern>'
    '<pattern id="s2" width="8" height="8" patternUnits="userSpaceOnUse">'
    f'<rect width="8" height="8" fill="{GREYS[2]}"/>'
    '<path d="M-2 2L2-2M0 8L8 0M6 10L10 6" stroke="#666" stroke-width=".8"/></pattern>'
    '<pattern id="s3" width="8" height="8" patternUnits="userSpaceOnUse">'
    f'<rect width="8" height="8" fill="{GREYS[3]}"/>'
    '<circle cx="4" cy="4" r=".9" fill="#777"/></pattern>'
    '<pattern id="s4" width="8" height="8" patternUnits="userSpaceOnUse">'
    f'<rect width="8" height="8" fill="{GREYS[4]}"/></pattern></defs></svg>'
)


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
    boxes = "".join(
        f'<rect x="{110 * i}" y="1" width="26" height="16" fill="url(#s{i})" stroke="#999"/>'
        f'<text x="{110 * i + 32}" y="14">{span}</text>'
        for i, span in enumerate(spans)
    )
    return f'<svg viewBox="0 0 540 18" width="540" role="img" aria-label="Shades">{boxes}</svg>'


def _heat(
    kind: str, regions: Sequence[str], lines: Sequence[StudentLine], name: str
) -> Iterable[str]:
    width = _NAME_W + _CELL_W * len(regions) + 4
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
    for row, line in enumerate(lines):
        y = _HEAD_H + _CELL_H * row
        yield f'<text class="r" x="{_NAME_W - 6}" y="{y + 14}">{escape(_cut(line.name, 28))}</text>'
        for column, region in enumerate(regions):
            cell = line.cells.get((kind, region))
            if cell is not None:
                yield from _box(cell, _NAME_W + _CELL_W * column, y)
    yield "</svg>"


def _box(cell: Cell, x: int, y: int) -> Iterable[str]:
    number = f"{100 * cell.reach:.0f}"
    fill = f"url(#s{shade(cell.reach)})" if cell.telling else "none"
    yield (
        f'<rect x="{x}" y="{y}" width="{_CELL_W - 2}" height="{_CELL_H - 2}" fill="{fill}"'
        ' stroke="#999"/>'
        f'<text class="v" x="{x + _CELL_W // 2 - 1}" y="{y + 14}">'
        f"{number if cell.telling else f'({number})'}</text>"
    )


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
    size, left, top = 40, 110, 90
    width, height = left + size * 12 + 4, top + 20 * 12 + 4
    yield f'<svg viewBox="0 0 {width} {height}" width="{width}" role="img" aria-label="Mix-ups">'
    for place, name in enumerate(FAMILIES):
        x = left + size * place + size // 2 + 4
        yield f'<text transform="translate({x},{top - 6}) rotate(-60)">{name}</text>'
        yield f'<text class="r" x="{left - 6}" y="{top + 20 * place + 14}">{name}</text>'
    for truth, row in enumerate(report.confused):
        asked = sum(row)
        for said, tries in enumerate(row):
            if not asked:
                continue
            share = tries / asked
            # On the diagonal much is well; off it, much is amiss.
            dark = share if truth == said else min(1.0, 1.0 - 2.5 * share)
            yield (
                f'<rect x="{left + size * said}" y="{top + 20 * truth}" width="{size - 2}"'
                f' height="18" fill="url(#s{shade(max(0.0, dark))})"'
                f' stroke="{"#222" if truth == said else "#aaa"}"/>'
            )
            if tries:
                yield (
                    f'<text class="v" x="{left + size * said + size // 2 - 1}"'
                    f' y="{top + 20 * truth + 14}">{100 * share:.0f}</text>'
                )
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
