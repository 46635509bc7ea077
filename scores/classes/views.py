"""What a class shows: students by skills, one student or skill, who has not begun, mix-ups.

Read from the tables that follow from the answers, so that the cost does not
grow with them. Every figure is of the latest answers (at most
``LATEST_ANSWERS`` a skill) unless it says otherwise; see ``scores.classes.class_lines``
for what they mean.
"""

from __future__ import annotations

import json
from collections import Counter, defaultdict
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from drills.basics.json_values import from_json
from scores.classes.class_lines import (
    GLYPHS,
    SHADES,
    TELLING,
    ClassCell,
    ClassSkill,
    ClassView,
    DeckLine,
    Mixup,
    OnPaperCount,
    Skill,
    SkillPage,
    StudentLine,
    StudentPage,
    shade,
)
from scores.classes.paper.kept import counts as paper_counts
from scores.classes.passing import Growth, passes
from scores.classes.people import told_apart
from scores.classes.person import people_of
from scores.classes.roll import read_roll
from scores.classes.store import ClassBook
from scores.classes.works import parted, places_of_works
from scores.exchange.xapi import FAMILIES

__all__ = [
    "GLYPHS",
    "SHADES",
    "TELLING",
    "ClassCell",
    "ClassSkill",
    "ClassView",
    "DeckLine",
    "Mixup",
    "Skill",
    "SkillPage",
    "StudentLine",
    "StudentPage",
    "confusion",
    "decks",
    "mixups",
    "overview",
    "shade",
    "skill_page",
    "student_page",
    "targets",
]


def decks(book: ClassBook) -> tuple[DeckLine, ...]:
    """Every deck, the one with the latest due date first; those alike but for words are one."""
    rows = book.db.execute(
        "SELECT whole.fingerprint, whole.title, whole.author, whole.items_a_day, whole.days,"
        " whole.due, whole.pass_level, whole.questions, whole.growth, whole.key,"
        " count(DISTINCT marks.student), coalesce(sum(marks.tries), 0)"
        " FROM decks AS whole JOIN decks AS one ON one.work = whole.key"
        " LEFT JOIN marks ON marks.deck = one.key GROUP BY whole.key"
        " ORDER BY whole.due DESC, whole.title, whole.fingerprint"
    )
    places = places_of_works(book.db)
    found = []
    for name, title, author, items, days, due, level, asks, growth, key, *counts in rows:
        until = date.fromisoformat(due) if due else None
        grows = from_json(Growth, json.loads(growth))
        first, also = parted(places.get(key, ()))
        named = (name, title, author, items, days, until, level, asks, grows, first, also)
        found.append(DeckLine(*named, *counts))
    return tuple(found)


def overview(book: ClassBook, deck: str = "") -> ClassView:
    """The class, over one deck (by fingerprint) or over all."""
    told = {line.fingerprint: line for line in decks(book)}
    lines = _lines(book, deck, told)
    expected = [row[0] for row in book.db.execute("SELECT name FROM expected ORDER BY name")]
    people = {person.id: person for person in people_of(book.db)}
    here = tuple(sorted((line for line in lines if line.begun), key=_by_need))
    # Who sent another deck is held against the names too, and told once.
    known = {line.name: {people[line.id].name, *people[line.id].sent} for line in lines}
    roll = read_roll(expected, known)
    others = [line.name for line in lines if not line.begun]
    return ClassView(
        told.get(deck),
        here,
        _skills(here),
        tuple(sorted((*roll.missing, *others))),
        sum(line.tries for line in here),
        roll.doubts,
    )


def student_page(book: ClassBook, student: str, deck: str = "") -> StudentPage | None:
    """One student by id; None when there is none."""
    told = {line.fingerprint: line for line in decks(book)}
    line = next((one for one in _lines(book, deck, told, student) if one.id == student), None)
    if line is None:
        return None
    clause, values = only(deck)
    days = book.db.execute(
        "SELECT day, sum(tries), sum(total) FROM days JOIN students ON students.key = student"
        f" WHERE id = ? {clause} GROUP BY day ORDER BY day",
        (student, *values),
    )
    targets = book.db.execute(
        "SELECT targets.name, sum(tries), sum(total) FROM target_marks AS days"
        " JOIN students ON students.key = student JOIN targets ON targets.key = days.target"
        f" WHERE id = ? {clause.replace('deck', 'days.deck', 1)} GROUP BY 1 ORDER BY"
        " sum(total) / sum(tries), 1",
        (student, *values),
    )
    return StudentPage(
        line,
        tuple((date.fromordinal(day), tries, total / tries) for day, tries, total in days),
        tuple((name, tries, total / tries) for name, tries, total in targets),
        mixups(book, deck, student),
    )


def skill_page(view: ClassView, skill: Skill) -> SkillPage | None:
    """One skill of a class already read; None when nobody tried it."""
    line = next((one for one in view.skills if one.skill == skill), None)
    if line is None:
        return None
    pairs = [(one, one.cells[skill]) for one in view.students if skill in one.cells]
    pairs.sort(key=lambda pair: (not pair[1].telling, pair[1].reach, pair[0].name))
    return SkillPage(line, tuple(pairs))


def targets(book: ClassBook, deck: str = "") -> tuple[tuple[str, int, int, float], ...]:
    """Each named target: its name, students, answers and mean grade, the lowest first."""
    clause, values = only(deck)
    rows = book.db.execute(
        "SELECT targets.name, count(DISTINCT student), sum(tries), sum(total) / sum(tries)"
        " FROM target_marks AS days JOIN targets ON targets.key = days.target"
        f" WHERE 1 {clause.replace('deck', 'days.deck', 1)} GROUP BY targets.name ORDER BY 4, 1",
        values,
    )
    return tuple(rows.fetchall())


def confusion(book: ClassBook, deck: str = "", student: str = "") -> list[list[int]]:
    """How often each family (row) was called each family (column), round the wheel."""
    table = [[0] * len(FAMILIES) for _ in FAMILIES]
    for truth, said, tries, _ in mixup_rows(book, deck, student):
        table[truth][said] += tries
    return table


def mixups(book: ClassBook, deck: str = "", student: str = "") -> tuple[Mixup, ...]:
    """Families taken for others, the commonest first."""
    rows = mixup_rows(book, deck, student)
    asked: Counter[int] = Counter()
    for truth, _, tries, _ in rows:
        asked[truth] += tries
    found = [
        Mixup(FAMILIES[truth], FAMILIES[said], tries, asked[truth], students)
        for truth, said, tries, students in rows
        if truth != said
    ]
    return tuple(sorted(found, key=lambda one: (-one.tries, -one.share, one.truth, one.said)))


def mixup_rows(book: ClassBook, deck: str, student: str) -> list[Any]:
    clause, values = only(deck)
    who = "AND student = (SELECT key FROM students WHERE id = ?)" if student else ""
    return book.db.execute(
        "SELECT truth, said, sum(tries), count(DISTINCT student) FROM mixups"
        f" WHERE truth BETWEEN 0 AND 11 AND said BETWEEN 0 AND 11 {clause} {who}"
        " GROUP BY truth, said",
        (*values, *([student] if student else [])),
    ).fetchall()


def only(deck: str) -> tuple[str, tuple[str, ...]]:
    """SQL that keeps to one deck, whatever its words were, and its values."""
    if not deck:
        return "", ()
    return f"AND deck IN ({_OF_WORK})", (deck,)


_OF_WORK = "SELECT key FROM decks WHERE work = (SELECT work FROM decks WHERE fingerprint = ?)"


def _lines(
    book: ClassBook, deck: str, told: Mapping[str, DeckLine], student: str = ""
) -> list[StudentLine]:
    """Every student, or the one of this id."""
    clause, values = only(deck)
    one = "AND student = (SELECT key FROM students WHERE id = ?)" if student else ""
    values = (*values, *([student] if student else []))
    skills = {
        key: (kind, region)
        for key, kind, region in book.db.execute("SELECT key, kind, region FROM skills")
    }
    cells: dict[int, dict[Skill, ClassCell]] = defaultdict(dict)
    rows = book.db.execute(
        "SELECT student, skill, sum(tries), sum(right), sum(total) / sum(tries),"
        " sum(latest_score) / sum(latest), sum(latest_level) / sum(latest), max(last_day)"
        f" FROM marks WHERE 1 {clause} {one} GROUP BY student, skill",
        values,
    )
    for key, skill, *cell in rows:
        cells[key][skills[skill]] = ClassCell._make(cell)
    deck_line = told.get(deck)
    days = _days(book, deck, deck_line)
    names = told_apart(book)
    on_paper = paper_counts(book.db, deck)
    lines = []
    for key, identity in book.db.execute("SELECT key, id FROM students WHERE key = person"):
        if not student or identity == student:
            mine = (cells.get(key, {}), *days.get(key, (0, 0, None)))
            lines.append(_line(identity, names[identity], *mine, on_paper.get(key), deck_line))
    return lines


def _days(
    book: ClassBook, deck: str, line: DeckLine | None
) -> dict[int, tuple[int, int, float | None]]:
    """By student: how many days they practised, how many of the deck's are done, and the mean
    grade of the latest answers to it, which passing goes by."""
    if line is None and not deck:
        rows = book.db.execute("SELECT student, days, days, NULL FROM totals")
    else:
        rows = book.db.execute(
            "SELECT student, days, done, CASE WHEN latest > 0 THEN latest_score / latest END"
            " FROM deck_marks WHERE deck = (SELECT work FROM decks WHERE fingerprint = ?)",
            (deck,),
        )
    return {student: (days, done, lately) for student, days, done, lately in rows}


def _line(
    identity: str,
    name: str,
    cells: Mapping[Skill, ClassCell],
    days: int,
    done: int,
    lately: float | None,
    on_paper: OnPaperCount | None,
    deck: DeckLine | None,
) -> StudentLine:
    tries, graded, last = 0, 0.0, on_paper.last_day if on_paper else 0
    told = []
    for cell in cells.values():
        tries += cell.tries
        graded += cell.grade * cell.tries
        last = max(last, cell.last)
        if cell.tries >= TELLING:
            told.append(cell.reach)
    passed = deck is not None and passes(done, deck.days, lately, deck.pass_level)
    return StudentLine(
        identity,
        name,
        cells,
        tries,
        graded / tries if tries else None,
        days,
        done,
        date.fromordinal(last) if last else None,
        1.0 - sum(told) / len(told) if told else None,
        passed,
        on_paper,
    )


def _by_need(line: StudentLine) -> tuple[bool, float, int, str, str]:
    return (line.need is None, -(line.need or 0.0), line.tries, line.name.casefold(), line.id)


def _skills(lines: Sequence[StudentLine]) -> tuple[ClassSkill, ...]:
    by_skill: dict[Skill, list[ClassCell]] = defaultdict(list)
    for line in lines:
        for skill, cell in line.cells.items():
            by_skill[skill].append(cell)
    found = []
    for skill, cells in by_skill.items():
        told = [cell.reach for cell in cells if cell.telling]
        reach = sum(told) / len(told) if told else None
        tries = sum(cell.tries for cell in cells)
        found.append(ClassSkill(skill, len(cells), len(told), tries, reach))
    return tuple(sorted(found, key=lambda one: (one.reach is None, one.reach or 0.0, one.skill)))
