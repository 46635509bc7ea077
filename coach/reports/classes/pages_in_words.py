"""One student, one skill, the mix-ups: pages of a class in words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from coach.reports.classes.words import (
    level_words,
    paper_words,
    percent,
    place_words,
    skill_in_words,
    skill_level_words,
    title,
)
from drills.basics.counted import counted
from scores.classes.class_lines import TELLING

if TYPE_CHECKING:
    from scores.classes.standing_lines import ClassStanding, Standing
    from scores.classes.views import Mixup, SkillPage, StudentPage


def student_words(page: StudentPage, standing: Standing | None, titles: Mapping[str, str]) -> str:
    """One student: how they stand, drill by drill and day by day, targets, mix-ups."""
    line = page.line
    parts = ["No answers on a screen yet."]
    if line.tries:
        parts = [f"{counted(line.tries, 'answer')}, {counted(line.days, 'day')}."]
    if standing is not None:
        parts[0] += f" Level {level_words(standing)}: {place_words(standing, titles)}."
        if standing.ask is not None and standing.place != "not known yet":
            parts.append(f"What would tell most: {skill_in_words(standing.ask, titles)}.")
        # Of a few answers no level is told: 0 of 1 right is not a level of 0.
        each = [(kind.tries >= TELLING, kind) for kind in standing.kinds]
        drills = [
            f"  {percent(kind.level) if known else '?':>3}  {title(kind.kind, titles)}"
            f" ({kind.right} of {kind.tries} right)"
            for known, kind in sorted(each, key=lambda one: (not one[0], one[1].level))
        ]
        few = f"; ? is under {TELLING} answers" if not all(known for known, _ in each) else ""
        parts.append("\n".join([f"Drills, the least level of 100 first{few}", *drills]))
    if line.on_paper:
        told = paper_words(line.on_paper)
        parts.append(f"{told[:1].upper()}{told[1:]}. They count for days and passing alone.")
    if page.targets:
        named = [f"  {grade:.2f}  {name} ({tries})" for name, tries, grade in page.targets]
        parts.append("\n".join(["Named colours (mean grade, answers)", *named]))
    if page.mixups:
        parts.append("Mixed up\n" + mixup_words(page.mixups))
    days = [
        f"  {day.day:2} {day:%b}  {tries:4} answers, grade {grade:.2f}"
        for day, tries, grade in page.days
    ]
    parts.append("\n".join(["Day by day", *days]))
    return "\n\n".join(parts)


def skill_page_words(page: SkillPage, standing: ClassStanding | None) -> str:
    """One skill: every student who tried it, the least level first."""
    head = f"{counted(page.line.students, 'student')}, {counted(page.line.tries, 'answer')}."
    placed = {} if standing is None else standing.by_student()
    known = {
        line.id: placed[line.id].skills[page.line.skill]
        for line, _ in page.students
        if line.id in placed
    }
    rows = sorted(page.students, key=lambda row: known[row[0].id].level if known else 0.0)
    lines = [
        f"  {line.name}: "
        + (f"level {skill_level_words(known[line.id])}, " if line.id in known else "")
        + f"{cell.right} of {cell.tries} right"
        for line, cell in rows
    ]
    return "\n".join([head, "", "Level of 100, the least first", *lines])


def mixup_words(mixed: tuple[Mixup, ...]) -> str:
    """Families taken for others, the commonest first."""
    return (
        "\n".join(
            f"  {one.truth} taken for {one.said}: {one.tries} of {one.asked} times" for one in mixed
        )
        or "  Nothing is mixed up."
    )
