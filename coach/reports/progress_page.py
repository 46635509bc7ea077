"""Progress as one self-contained HTML page: inline SVG, no script, greys only; it prints."""

from __future__ import annotations

from collections.abc import Iterator
from html import escape

from coach.reports.figure_words import AXIS, day_words, number
from coach.reports.progress_chart import calendar_svg, figures_svg
from coach.reports.progress_figures import Figures
from coach.reports.progress_words import RULE, change_words, luck_words
from coach.reports.seen import paper, then_now
from scores.progress.lines import ProgressLine
from scores.progress.on_paper import finished
from scores.progress.on_paper import words as paper_words
from scores.progress.sureness import sure_words
from scores.progress.wheel import LETTERS, STANDING_WORDS

PAPER_ROWS = 20
"""Swatches on paper shown one by one: the latest."""
_CSS = """
@page { size: A4; margin: 12mm }
* { box-sizing: border-box }
body { font: 14px/1.4 system-ui, sans-serif; color: #1a1a1a; background: #fff;
  max-width: 190mm; margin: 1.5em auto; padding: 0 1em; overflow-wrap: anywhere }
h1 { font-size: 1.5em; margin: 0 0 .2em } h2 { font-size: 1.15em; margin: 1.6em 0 .4em }
table { border-collapse: collapse; width: 100%; font-size: .9em }
th, td { text-align: left; padding: .2em .4em; border-bottom: 1px solid #ccc; vertical-align: top }
td.n, th.n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap }
table.wheel { width: auto } td.c, th.c { width: 2.4em; text-align: center; padding: .15em }
thead { display: table-header-group }
tr, svg { break-inside: avoid }
svg { max-width: 100%; height: auto; display: block; margin: .4em 0;
  -webkit-print-color-adjust: exact; print-color-adjust: exact }
svg text { font: 12px system-ui, sans-serif; fill: #1a1a1a } svg .soft { fill: #555 }
svg .end { text-anchor: end } svg .mid { text-anchor: middle } svg .name { font-weight: 600 }
.note { color: #444; font-size: .9em }
@media print { body { max-width: none; margin: 0; padding: 0; font-size: 10pt } }
"""


def page(figures: Figures) -> str:
    """The whole page."""
    span = figures.course.span
    title = f"Progress from {day_words(span.first)} to {day_words(span.last)}"
    parts = [
        '<!DOCTYPE html>\n<html lang="en-GB"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        '<meta http-equiv="Content-Security-Policy"'
        " content=\"default-src 'none'; style-src 'unsafe-inline'\">",
        f"<title>{escape(title)}</title><style>{_CSS}</style></head><body>",
        f"<h1>{escape(title)}</h1>",
        f'<p class="note">{figures.answers:,} answers in {figures.minutes:.0f} minutes of'
        f" answering. Every threshold is the smallest difference seen four times in five:"
        f" {AXIS}. The grey band holds it 9 times in 10.</p>",
        *_summary(figures),
        *_then_now(figures),
        *_paper(figures),
        *_sureness(figures),
        *figures_svg(figures),
        *_retests(figures),
        *_wheel(figures),
        *_coming(figures),
        *_calendar(figures),
        *_skills(figures),
        "</body></html>\n",
    ]
    return "".join(parts)


def _summary(figures: Figures) -> Iterator[str]:
    lines = [line for line in (figures.course.eye, *figures.course.kinds) if line]
    yield f"<h2>What is known of a change</h2><p>{escape(change_words(figures.course.change))}</p>"
    if not lines:
        return
    yield f'<p class="note">{escape(RULE)}</p>'
    yield (
        '<table><thead><tr><th>What</th><th class="n">Then</th><th class="n">Now</th>'
        "<th>Unit</th></tr></thead><tbody>"
    )
    for line in lines:
        then, now = (_point(line, place) for place in (0, -1))
        yield (
            f'<tr><td>{escape(line.words)}</td><td class="n">{then}</td><td class="n">{now}</td>'
            f"<td>{escape(line.unit)}</td></tr>"
        )
    yield "</tbody></table>"


def _then_now(figures: Figures) -> Iterator[str]:
    of = figures.course.then_now
    if drawn := then_now.svg(of):
        yield f"<h2>Then and now</h2><p>{escape(then_now.heading(of))}</p>{drawn}"
        yield (
            f'<p class="note">{escape(then_now.WHOLE)} Look at it on a screen: a printer lays its'
            " own colours, and the steps may come out wider or not at all.</p>"
        )


def _paper(figures: Figures) -> Iterator[str]:
    told = paper_words(figures.paper, figures.today)
    if not told:
        return
    yield f"<h2>On paper</h2><p>{escape(told)}</p>"
    if figures.paper_change is not None:
        said = paper.words(figures.paper_change)
        drawn = then_now.svg_of([paper.seen(figures.paper_change)], said)
        yield f"<p>{escape(said)}</p>{drawn}"
    yield (
        '<table><thead><tr><th>Day</th><th class="n">Off (ΔE00)</th>'
        '<th class="n">To be expected</th><th>How its colour was given</th></tr></thead><tbody>'
    )
    for one in reversed(finished(figures.paper)[-PAPER_ROWS:]):
        mended = f", mended {one.mended} ×" if one.mended else ""
        yield (
            f'<tr><td>{day_words(one.day)}</td><td class="n">{one.miss:.1f}</td>'
            f'<td class="n">{one.expected:.0f}</td><td>{escape(one.how)}{mended}</td></tr>'
        )
    yield "</tbody></table>"


def _sureness(figures: Figures) -> Iterator[str]:
    if told := sure_words(figures.sureness):
        yield f"<h2>When you are sure</h2><p>{escape(told)}</p>"


def _point(line: ProgressLine, place: int) -> str:
    if not line.points:
        return "–"
    point = line.points[place]
    low, value, high = (number(v, line.unit) for v in (point.low, point.value, point.high))
    return f"{value} ({low}–{high})"


def _retests(figures: Figures) -> Iterator[str]:
    runs = figures.course.retests
    if not runs:
        return
    yield "<h2>Re-tests, on questions that practice never asks</h2><table><tbody>"
    for run in runs:
        yield f"<tr><td>{day_words(run.day)}</td><td>{run.right} of {run.items} right</td></tr>"
    yield f"</tbody></table><p>{escape(luck_words(runs))}</p>"


def _wheel(figures: Figures) -> Iterator[str]:
    wheel = figures.wheel
    if not wheel.cells:
        return
    told = ", ".join(f"{LETTERS[standing]} {words}" for standing, words in STANDING_WORDS.items())
    yield f'<h2>Families and skills</h2><p class="note">{told}.</p>'
    yield '<table class="wheel"><thead><tr><th></th>'
    for place, _ in enumerate(wheel.kinds, 1):
        yield f'<th class="c">{place}</th>'
    yield "</tr></thead><tbody>"
    for region in wheel.regions:
        yield f"<tr><td>{escape(region)}</td>"
        for kind in wheel.kinds:
            cell = wheel.cell(region, kind)
            yield f'<td class="c">{LETTERS[cell.standing] if cell else ""}</td>'
        yield "</tr>"
    columns = "; ".join(
        f"{place} {escape(wheel.titles[kind])}" for place, kind in enumerate(wheel.kinds, 1)
    )
    yield f'</tbody></table><p class="note">{columns}.</p>'


def _coming(figures: Figures) -> Iterator[str]:
    yield "<h2>Coming due in the coming week, a forecast</h2>"
    if figures.due:
        yield f"<p>{figures.due} skills call for practice today.</p>"
    if not figures.coming:
        yield "<p>Nothing more in the coming week.</p>"
        return
    yield "<table><tbody>"
    for skill in figures.coming:
        yield f"<tr><td>{escape(skill.words)}</td><td>{skill.day_words}</td></tr>"
    yield "</tbody></table>"


def _calendar(figures: Figures) -> Iterator[str]:
    if any(day.answers for day in figures.calendar):
        yield "<h2>Minutes of answering by day</h2>"
        yield calendar_svg(figures.calendar)


def _skills(figures: Figures) -> Iterator[str]:
    if not figures.skills:
        return
    yield f"<h2>Each skill now ({AXIS})</h2><table><tbody>"
    for one in figures.skills:
        assert one.threshold is not None
        low, high = (number(step) for step in one.threshold.ends)
        yield (
            f"<tr><td>{escape(one.title)}: {escape(one.region)}</td>"
            f'<td class="n">{number(one.threshold.step)} ({low}–{high})</td>'
            f"<td>{escape(one.unit)}</td></tr>"
        )
    yield "</tbody></table>"
