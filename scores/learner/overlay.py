"""The learner's skills as they are told: memory from the record, the eye from the model.

Skills that are cards to remember (handling, rules) keep the record's memory. A skill of the
eye forgets a threshold, so when it is due follows from the model (``model.forgetting``).
No numpy: the first screen reads this.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, timedelta

from scores.skill.memory import DESIRED_RETENTION, SkillState, reschedule
from scores.skill.model.figures import LearnerFigures
from scores.skill.skill_threshold import SkillThreshold


def skills_told(
    skills: Mapping[str, SkillState],
    figures: LearnerFigures | None,
    day: date,
    retention: float = DESIRED_RETENTION,
) -> dict[str, SkillState]:
    """Every skill met; those of the eye with their ``threshold``, and due by the model.

    Where a skill of the eye has a due day, its ``stability`` is the rest that leads there.
    ``retention`` is the setting, 0.7–0.97: a greater one brings every skill back sooner.
    """
    if figures is None:
        return dict(skills)
    return {
        name: _told(state, figures, day, retention)
        if name in figures.skills and figures.skills[name].answers
        else state
        for name, state in skills.items()
    }


def _told(state: SkillState, figures: LearnerFigures, day: date, retention: float) -> SkillState:
    figure = figures.later(state.skill, day.toordinal())
    kind = figures.kinds[state.kind]
    last, rest = date.fromordinal(figure.last), figures.due_rest(state.skill)
    due = replace(
        state,
        threshold=SkillThreshold(
            kind.steps, kind.chance, figure.mean, figure.sd, figure.answers, figure.late
        ),
        stability=float(rest),
        reviewed=last,
        due=last + timedelta(days=rest),
    )
    return due if retention == DESIRED_RETENTION else reschedule(due, retention)
