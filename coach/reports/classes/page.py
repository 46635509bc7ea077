"""The class report: one HTML page, self-contained, that prints on A4 and reads without colour.

No script, nothing fetched; every text of a stranger is escaped.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape

from coach.reports.classes.heat import heat, legend, mixup_picture, round_the_wheel
from coach.reports.classes.words import (
    ALIKE,
    HOW_SURE,
    confusion_lines,
    course_head,
    course_rows,
    harder_lines,
    head_words,
    level_words,
    paper_lines,
    percent,
    place_words,
    skill_in_words,
)
from drills.basics.counted import counted
from drills.basics.days import date_text
from scores.classes.class_lines import KindScale
from scores.classes.courses import CourseLine, courses
from scores.classes.standing_lines import WIDE, ClassStanding
from scores.classes.standings import class_standing
from scores.classes.store import ClassBook
from scores.classes.views import (
    ClassView,
    confusion,
    overview,
    targets,
)

A_PICTURE = 36
"""Students in one heat picture: so many fit on a printed page."""
COLUMNS = 14
"""Regions in one heat picture."""


@dataclass(frozen=True)
class Report:
    """All that the page shows."""

    view: ClassView
    confused: list[list[int]]
    targets: tuple[tuple[str, int, int, float], ...]
    standing: ClassStanding
    courses: tuple[CourseLine, ...] = ()


def report_of(book: ClassBook, scales: Mapping[str, KindScale], deck: str = "") -> Report:
    """Gather a report over one deck (by fingerprint) or over all; ``scales`` are the kinds'."""
    return Report(
        overview(book, deck),
        confusion(book, deck),
        targets(book, deck),
        class_standing(book, scales, deck),
        courses(book),
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
        *_students(report, titles),
        *_on_paper(view),
        *_in_courses(report),
        *_mixed_up(report),
        *_pictures(report, titles),
        *_skills(report, titles),
        *_targets(report.targets),
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
td.d { white-space: nowrap }
thead { display: table-header-group } tr { break-inside: avoid }
figure { margin: .6em 0; break-inside: avoid } figcaption { font-weight: 600; margin-bottom: .3em }
svg { max-width: 100%; height: auto; display: block;
  -webkit-print-color-adjust: exact; print-color-adjust: exact }
svg text { font: 11px system-ui, sans-serif; fill: #1a1a1a }
svg .v { text-anchor: middle }
svg .r { text-anchor: end }
.note { color: #444; font-size: .9em } ul { padding-left: 1.2em; columns: 14em }
ul.wide { columns: auto } td.s { min-width: 6.5em }
@media print { body { max-width: none; margin: 0; padding: 0; font-size: 10pt } }
"""


def _head(view: ClassView, made: datetime, app: str) -> Iterable[str]:
    deck = view.deck
    yield '<p class="note">'
    if deck:
        due = f", due {date_text(deck.due)}" if deck.due else ""
        yield f"From {escape(deck.author)}: {deck.items_a_day} a day for {deck.days} days{due}. "
    yield (
        f"{counted(len(view.students), 'student')}, {counted(view.tries, 'answer')}."
        f" Made {date_text(made)}, {made:%H:%M} by the coloured-pencil coach {escape(app)}.</p>"
    )
    yield (
        '<p class="note">Results are the students’ own word: each owns the machine they practise'
        " on. The files’ digests find damage, not cheating.</p>"
    )


def _on_paper(view: ClassView) -> Iterable[str]:
    lines = paper_lines(view.students)
    if lines:
        yield f"<h2>On paper ({len(lines)})</h2><ul>"
        yield from (f"<li>{escape(name)}: {told}</li>" for name, told in lines)
        yield (
            '</ul><p class="note">Typed in from worksheets. They count for days and for passing; no'
            " level is read from them, for printers change colours.</p>"
        )


def _not_begun(view: ClassView) -> Iterable[str]:
    if view.not_begun:
        yield f"<h2>Not begun ({len(view.not_begun)})</h2><ul>"
        yield from (f"<li>{escape(name)}</li>" for name in view.not_begun)
        yield "</ul>"
    if view.doubts:
        yield "<h2>Perhaps here under another name</h2><ul>"
        for name, students in view.doubts:
            yield f"<li>{escape(name)}: {escape(' or '.join(students))}?</li>"
        yield "</ul>"


def _pictures(report: Report, titles: Mapping[str, str]) -> Iterable[str]:
    yield "<h2>Students and skills</h2>"
    yield (
        '<p class="note">Each number is the level, 0 to 100, that the model gives a student in a'
        " skill, from their answers to it and to what is near it. Darker and denser is further to"
        f" go; numbers in brackets may be off by more than {100 * WIDE:.0f}.</p>"
    )
    yield legend()
    by_kind: dict[str, list[str]] = {}
    for one in report.view.skills:
        kind, region = one.skill
        by_kind.setdefault(kind, []).append(region)
    for kind, regions in by_kind.items():
        ordered = round_the_wheel(regions)
        for first in range(0, len(ordered), COLUMNS):
            some = ordered[first : first + COLUMNS]
            here = [
                line
                for line in report.standing.students
                if any((kind, region) in line.skills for region in some)
            ]
            for start in range(0, len(here), A_PICTURE):
                lines = here[start : start + A_PICTURE]
                span = f", {start + 1} to {start + len(lines)}" if len(here) > A_PICTURE else ""
                name = f"{titles.get(kind, kind)}{span}"
                yield f"<figure><figcaption>{escape(name)}</figcaption>"
                yield from heat(kind, some, lines, name)
                yield "</figure>"


def _students(report: Report, titles: Mapping[str, str]) -> Iterable[str]:
    view, standing = report.view, report.standing
    if not view.students:
        return
    lines = {line.id: line for line in view.students}
    yield f"<h2>Who stands where</h2><p>{escape(head_words(standing))}</p>"
    if not standing.at("weak"):
        yield f"<p>{escape(ALIKE)}</p>"
    yield (
        '<p class="note">A level runs from 0, a drill’s easiest questions, to 100, its hardest;'
        f" in brackets is where it lies nine times in ten. {escape(HOW_SURE)}</p>"
    )
    done = '<th class="n">Days done</th><th>Passed</th>' if view.deck else ""
    yield (
        '<table><thead><tr><th>Student</th><th class="n">Level</th><th class="n">Answers</th>'
        f'<th class="n">Days</th>{done}<th>Last</th><th>How they stand</th></tr></thead><tbody>'
    )
    for one in standing.students:
        line = lines[one.student]
        done = ""
        if view.deck:
            passed = "yes" if line.passed else "not yet"
            done = f'<td class="n">{line.days_done} of {view.deck.days}</td><td>{passed}</td>'
        last = date_text(line.last_day, short=True) if line.last_day else ""
        yield (
            f'<tr><td class="s">{escape(one.name)}</td><td class="n">{level_words(one)}</td>'
            f'<td class="n">{line.tries}</td><td class="n">{line.days}</td>{done}'
            f'<td class="d">{last}</td>'
            f"<td>{escape(place_words(one, titles))}</td></tr>"
        )
    yield "</tbody></table>"


def _in_courses(report: Report) -> Iterable[str]:
    names = {line.id: line.name for line in report.view.students}
    for course in report.courses:
        yield f"<h2>{escape(course_head(course))}</h2><table><thead><tr><th>Student</th>"
        yield "<th>Where they stand, whatever the level</th></tr></thead><tbody>"
        for name, words in course_rows(course, names):
            yield f'<tr><td class="s">{escape(name)}</td><td>{escape(words)}</td></tr>'
        yield "</tbody></table>"


def _skills(report: Report, titles: Mapping[str, str]) -> Iterable[str]:
    if not report.view.skills:
        return
    levels = {
        line.skill: [
            one.skills[line.skill].level
            for one in report.standing.students
            if line.skill in one.skills
        ]
        for line in report.view.skills
    }
    mean = {skill: sum(some) / len(some) for skill, some in levels.items()}
    yield (
        '<h2>Skills, the least level first</h2><table><thead><tr><th>Skill</th><th class="n">Level'
        '</th><th class="n">Students</th><th class="n">Answers</th></tr></thead><tbody>'
    )
    for line in sorted(report.view.skills, key=lambda line: (mean[line.skill], line.skill)):
        yield (
            f"<tr><td>{escape(skill_in_words(line.skill, titles))}</td>"
            f'<td class="n">{percent(mean[line.skill])}</td><td class="n">{line.students}</td>'
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
    yield "<h2>What the class confuses</h2>"
    yield '<ul class="wide">'
    for words in confusion_lines(report.standing.confusions):
        yield f"<li>{escape(words)}</li>"
    yield "</ul>"
    harder = harder_lines(report.standing)
    if harder:
        yield '<p>Harder for the class:</p><ul class="wide">'
        yield from (f"<li>{escape(words)}</li>" for words in harder)
        yield "</ul>"
    yield (
        "<figure><figcaption>Percent of each family (row) called each family (column)</figcaption>"
    )
    yield from mixup_picture(report.confused)
    yield "</figure>"


def _words() -> Iterable[str]:
    yield (
        '<h2>How to read it</h2><p class="note">Everyone is asked at their own level, so that about'
        " four answers in five are right whatever their skill: the mean grade says little. Levels"
        " are a model’s, of every answer with its difficulty, pooled over drills, families and"
        " students. A deck is passed when its days are done and the latest half of its answers"
        " earned the pass level, as the student’s own screen says. Practice, not an examination;"
        " and no test of colour vision.</p>"
    )


def _percent(share: float | None) -> str:
    return "–" if share is None else f"{100 * share:.0f}"
