"""The wheel of a class: how far its students have come in each family."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from coach.reports.classes.words import percent, title
from coach.screens.wheel.base import WheelPage
from coach.widgets.drawn.wheel import Wedge
from scores.classes.standing_lines import ClassStanding, SkillLevel
from scores.skill.skill_words import WHEEL, region_words

LEGEND = (
    "Length: mean level of the students known, from a drill's easiest to its hardest.\n"
    "█ most students who tried are known   ░ some are   empty: none yet"
)


class ClassWheelScreen(WheelPage):
    """The class in each of the twelve families, from the model of its students."""

    def __init__(self, name: str, standing: ClassStanding, titles: Mapping[str, str]) -> None:
        told = {family: "\n".join(family_lines(standing, family, titles)) for family in WHEEL}
        wedges = [wedge_of(standing, family) for family in WHEEL]
        super().__init__(f"The class round the wheel · {name}", wedges, told, LEGEND)


def _levels(standing: ClassStanding, family: str) -> dict[str, list[tuple[str, SkillLevel]]]:
    """By kind, every student's name and level in a family."""
    found: dict[str, list[tuple[str, SkillLevel]]] = {}
    for student in standing.students:
        for (kind, region), level in student.skills.items():
            if region == family:
                found.setdefault(kind, []).append((student.name, level))
    return found


def wedge_of(standing: ClassStanding, family: str) -> Wedge:
    """A family over all drills and students: the mean of the levels known well enough."""
    every = [level for some in _levels(standing, family).values() for _, level in some]
    known = [min(1.0, max(0.0, level.level)) for level in every if level.told]
    length = sum(known) / len(known) if known else None
    return Wedge(family, length, "█" if 2 * len(known) > len(every) else "░")


def family_lines(standing: ClassStanding, family: str, titles: Mapping[str, str]) -> Iterator[str]:
    """Drill by drill, the mean level of those known, and how many are not known yet."""
    levels = _levels(standing, family)
    yield f"{region_words(family).capitalize()}"
    yield ""
    if not levels:
        yield "No student has tried them yet."
    for kind, some in sorted(levels.items(), key=lambda one: title(one[0], titles)):
        known = [level.level for _, level in some if level.told]
        yield title(kind, titles)
        if known:
            mean = sum(known) / len(known)
            yield f"  mean level {percent(mean)} of 100, {len(known)} of {len(some)} students known"
        else:
            yield f"  not known yet; {len(some)} tried"
