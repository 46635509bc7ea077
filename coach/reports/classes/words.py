"""Where a class stands, in words: the same on every screen, page and terminal."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.cells import cell_len, set_cell_size

from drills.basics.counted import counted
from scores.classes.class_lines import OnPaperCount, Skill, StudentLine
from scores.classes.courses import CourseLine
from scores.classes.standing_lines import (
    AtKind,
    ClassStanding,
    Confusion,
    Place,
    SkillLevel,
    Standing,
    in_ten,
    in_words,
)
from scores.skill.skill_threshold import Z_90

HEADS: Mapping[Place, str] = {
    "weak": "In the weakest third",
    "stuck": "Stuck at a drill",
    "not known yet": "Not known yet",
    "on track": "On track",
}
MARKS: Mapping[Place, str] = {"weak": "▼", "stuck": "■", "not known yet": "?", "on track": "·"}
"""One character a place, which reads without colour."""
ALIKE = "The students stand too close together, or have answered too little, to name the weakest."
HOW_SURE = (
    "How sure is a model's word: it reads every answer with its difficulty, and was held to"
    " made-up classes, never yet to a real one."
)
HARDER_TOLD = 0.6
"""How likely a family must be harder than the others to be told so."""


def head_words(standing: ClassStanding) -> str:
    """How many stand where, in one sentence."""
    counts = [
        f"{len(standing.at(place))} {words[0].lower()}{words[1:]}"
        for place, words in HEADS.items()
        if standing.at(place)
    ]
    return ", ".join(counts) + "." if counts else "No answers yet."


def sure_words(sure: float) -> str:
    """ "very likely (9 in 10)"."""
    return f"{in_words(sure)} ({in_ten(sure)})"


def level_words(line: Standing) -> str:
    """A student's level with its doubt: "41 of 100 (33 to 50)"."""
    return _doubted(line.low, line.level, line.high)


def skill_level_words(known: SkillLevel) -> str:
    """A level at one skill with its doubt: "41 of 100 (33 to 50)"."""
    away = Z_90 * known.sd
    return _doubted(*(known.level + by for by in (-away, 0.0, away)))


def _doubted(low: float, mean: float, high: float) -> str:
    """A level with where it lies nine times in ten; past a drill's questions, that bound alone."""
    if mean >= 1.0:
        return f"{percent(low)} or more of 100"
    if mean <= 0.0:
        return f"{percent(high)} or less of 100"
    return f"{percent(mean)} of 100 ({percent(low)} to {percent(high)})"


def percent(level: float) -> int:
    """A level from 0 (a drill's easiest questions) to 100 (its hardest), kept within."""
    return round(100 * min(1.0, max(0.0, level)))


def place_words(line: Standing, titles: Mapping[str, str], named: bool = True) -> str:
    """What is known of a student, in one line: the place if ``named``, then on what."""
    parts = []
    if named and line.place in ("weak", "on track"):
        what = "in the weakest third" if line.place == "weak" else "on track"
        parts.append(f"{what}, {sure_words(line.sure)}")
    elif line.place in ("weak", "on track"):
        parts.append(sure_words(line.sure))
    elif named and line.place == "not known yet":
        parts.append("not known yet")
    if line.stuck:
        parts.append(", ".join(stuck_words(one, titles) for one in line.stuck))
    if line.behind:
        parts.append("behind at " + ", ".join(title(one.kind, titles) for one in line.behind[:2]))
    if line.place == "not known yet" and line.ask is not None:
        parts.append(f"ask next: {skill_in_words(line.ask, titles)}")
    return "; ".join(parts)


def paper_words(count: OnPaperCount) -> str:
    """ "12 answers on paper, 9 right, mean grade 0.81"."""
    some = counted(count.answers, "answer")
    return f"{some} on paper, {count.right:,} right, mean grade {count.grade:.2f}"


def paper_lines(students: Sequence[StudentLine]) -> list[tuple[str, str]]:
    """Each student with answers on paper, and those, in the order of names."""
    named = sorted(students, key=lambda line: (line.name.casefold(), line.id))
    return [(one.name, paper_words(one.on_paper)) for one in named if one.on_paper]


def stuck_words(one: AtKind, titles: Mapping[str, str]) -> str:
    """ "stuck at Make the match: 0 of 5 right, very likely (9 in 10)"."""
    return (
        f"stuck at {title(one.kind, titles)}: {one.right} of {one.tries} right,"
        f" {sure_words(one.stuck)}"
    )


def confusion_words(one: Confusion) -> str:
    """A pair confused more than chance gives."""
    usual = max(1, round(one.expected))
    return (
        f"{one.truth} taken for {one.said}: {one.tries} of {one.asked} times, where"
        f" {usual} would be usual; by {one.students} students; {chance_words(one)}"
    )


def chance_words(one: Confusion) -> str:
    """How rarely chance alone would tell of any pair so confused."""
    rare = "under 1" if one.chance < 0.01 else f"{round(100 * one.chance)}"
    return f"by chance in {rare} of 100 classes"


def confusion_lines(found: Sequence[Confusion]) -> list[str]:
    """The pairs confused more than chance gives, or that there are none."""
    if not found:
        return ["Nothing beyond what neighbouring families are always confused by."]
    return [confusion_words(one) for one in found]


def harder_lines(standing: ClassStanding) -> list[str]:
    """Families harder for the class than the others."""
    return [
        f"{one.region}: {one.right} of {one.tries} right, harder than the others,"
        f" {sure_words(one.sure)}"
        for one in standing.harder
        if one.sure >= HARDER_TOLD
    ]


def title(kind: str, titles: Mapping[str, str]) -> str:
    """A kind's title; its name in words where it is not installed."""
    return titles.get(kind) or kind.replace("-", " ").capitalize()


def skill_in_words(skill: Skill, titles: Mapping[str, str]) -> str:
    """ "Lighter or darker, green"."""
    return f"{title(skill[0], titles)}, {skill[1].replace('_', ' ')}"


def course_head(course: CourseLine) -> str:
    """ "Where each stands in “A first month”"."""
    return f"Where each stands in “{course.title}”"


def course_rows(course: CourseLine, names: Mapping[str, str]) -> list[tuple[str, str]]:
    """Each student and where they stand in a course, the least far first; ``names`` by id."""
    begun = {one.student for one in course.students}
    waiting = sorted(name for student, name in names.items() if student not in begun)
    rows = [(name, "nothing of it yet") for name in waiting]
    return rows + [(names[one.student], one.words) for one in course.students]


def course_lines(course: CourseLine, names: Mapping[str, str]) -> list[str]:
    """The same as lines."""
    rows = course_rows(course, names)
    wide = max((cell_len(name) for name, _ in rows), default=0)
    return [f"{set_cell_size(name, wide)}  {words}" for name, words in rows]


def places_words(courses: Sequence[CourseLine], student: str) -> list[str]:
    """Where one student stands in each course begun; with the course's title where several are."""
    several = len(courses) > 1
    return [
        f"{course.title}, {one.words[:1].lower()}{one.words[1:]}" if several else one.words
        for course in courses
        for one in course.students
        if one.student == student
    ]
