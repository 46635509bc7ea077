"""The class report: one HTML page, self-contained, that prints on A4 and reads without colour.

No script, nothing fetched; every text of a stranger is escaped.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from coach.reports.class_heat import heat, legend, mixup_picture, round_the_wheel
from drills.basics.days import date_text
from scores.classes.store import ClassBook
from scores.classes.views import (
    TELLING,
    ClassView,
    Mixup,
    Skill,
    confusion,
    mixups,
    overview,
    targets,
)
from scores.skill.model.figures import AIM

A_PICTURE = 36
"""Students in one heat picture: so many fit on a printed page."""
COLUMNS = 14
"""Regions in one heat picture."""
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


def _head(view: ClassView, made: datetime, app: str) -> Iterable[str]:
    deck = view.deck
    yield '<p class="note">'
    if deck:
        due = f", due {date_text(deck.due)}" if deck.due else ""
        yield f"From {escape(deck.author)}: {deck.items_a_day} a day for {deck.days} days{due}. "
    yield (
        f"{len(view.students)} students, {view.tries:,} answers."
        f" Made {date_text(made)}, {made:%H:%M} by the coloured-pencil coach {escape(app)}.</p>"
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
    yield legend()
    by_kind: dict[str, list[str]] = {}
    for line in view.skills:
        kind, region = line.skill
        by_kind.setdefault(kind, []).append(region)
    for kind, regions in by_kind.items():
        ordered = round_the_wheel(regions)
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
                yield from heat(kind, some, lines, name)
                yield "</figure>"


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
        last = date_text(line.last_day, short=True) if line.last_day else ""
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
    yield from mixup_picture(report.confused)
    yield "</figure>"


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
