"""The learner's model as practice goes: begun from the record, moved by each answer, kept.

``follow`` takes the kept state and the answers that came after it; where they don't fit
together, all answers are gone over. Numpy is loaded here.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from scores.learner.state_file import Kept, Mark, read, write
from scores.progress.answers import Answers, read_history
from scores.record.queries import first_id
from scores.record.trials import PER_CHANCE, PER_LOG10
from scores.skill.difficulty import START, step_at
from scores.skill.model import blob
from scores.skill.model import settings as s
from scores.skill.model.estimates import figures_on
from scores.skill.model.figures import AIM, LearnerFigures, Pooled
from scores.skill.model.layout import Layout, layout_of
from scores.skill.model.learner import (
    MOST_CHANCE,
    Learner,
    ModelAnswer,
    answered,
    answered_all,
    begin,
)
from scores.skill.model.offered import for_layout

if TYPE_CHECKING:
    from scores.record.attempt import Attempt
    from scores.record.record import Record
    from scores.today.offers import KindFacts, Offers

MARK_DAYS = 7
"""The eye's place is marked at most this often."""
SURE_START = 0.1
"""Where a skill that can't be measured is asked to be sure: a share of the way to the hardest."""
MANY = 3000
"""Answers above which going over them all is left to the background."""


@dataclass(frozen=True)
class Followed:
    """A state, and the marks of where the eye stood before; ``whole`` unless only the
    latest answers were gone over."""

    learner: Learner
    marks: tuple[Mark, ...] = ()
    whole: bool = True


def layout_for(offers: Offers, met: Iterable[str] = ()) -> Layout:
    """The skills of the eye that are offered or were met; maybe none."""
    eye = {name: facts for name, facts in offers.kinds.items() if facts.of_the_eye}
    skills = [skill for skill in (*offers.skills, *met) if skill.partition(":")[0] in eye]
    return layout_of({name: (f.steps, f.chance) for name, f in eye.items()}, skills)


def follow(
    record: Record, offers: Offers, kept: Kept | None = None, all_at_once: bool = True
) -> Followed | None:
    """The state after every answer of the record; None where no skill can be measured.

    It goes on from ``kept`` where that fits. Else all answers are gone over; with
    ``all_at_once`` False no more than the latest ``MANY`` of them.
    """
    layout = layout_for(offers, record.skills())
    if not layout.size:
        return None
    answers = _measured(record)
    if kept is not None and kept.first_id == first_id(record):
        learner = blob.from_bytes(kept.state)
        gone_on = None if learner is None else _gone_on(Followed(learner, kept.marks), answers)
        if gone_on is not None:
            return replace(gone_on, learner=for_layout(gone_on.learner, layout))
    if not all_at_once and len(answers) > MANY:
        latest = _model_answers(answers.pick(slice(-MANY, None)), layout)
        return Followed(answered_all(begin(layout), latest), whole=False)
    return gone_over(answers, layout)


def all_over(
    record: Record, layout: Layout, rest: Callable[[], bool] = lambda: True
) -> Followed | None:
    """The state made from all answers, those that came meanwhile too.

    ``rest`` is called after each day; None where it said False.
    """
    made = gone_over(_measured(record), layout, rest)
    return _gone_on(made, _measured(record)) if rest() else None


def _measured(record: Record) -> Answers:
    """Practice that a threshold can be measured from, by day."""
    answers = read_history(record).practice
    fit = np.flatnonzero(answers.chance <= MOST_CHANCE * PER_CHANCE)
    return answers.pick(fit[np.argsort(answers.day[fit], kind="stable")])


def _gone_on(followed: Followed, answers: Answers) -> Followed | None:
    """After the answers that a state has not seen; None where the two don't fit together."""
    learner = followed.learner
    counts = np.bincount(answers.skill, minlength=len(answers.skills))
    new = np.zeros(len(answers), dtype=bool)
    for number, skill in enumerate(answers.skills):
        place = learner.layout.place.get(skill)
        seen = 0 if place is None else int(learner.answers[place])
        if place is None or seen == counts[number]:
            continue
        if seen > counts[number]:
            return None
        new[np.flatnonzero(answers.skill == number)[seen:]] = True
    tail = answers.pick(np.flatnonzero(new))
    if len(tail) and int(tail.day.min()) < learner.day - s.ZONE_SLACK_DAYS:
        return None
    given = _model_answers(tail, learner.layout)
    return replace(followed, learner=answered_all(learner, given))


def gone_over(
    answers: Answers, layout: Layout, rest: Callable[[], bool] = lambda: True
) -> Followed:
    """All answers (in the order of their days) from the beginning, marked week by week.

    ``rest`` is called after each day; where it says False, the going over ends there.
    """
    made = Followed(begin(layout))
    ends = np.flatnonzero(np.diff(answers.day)) + 1
    for first, last in zip([0, *ends.tolist()], [*ends.tolist(), len(answers)], strict=True):
        day = _model_answers(answers.pick(slice(first, last)), layout)
        made = marked(replace(made, learner=answered_all(made.learner, day)))
        if not rest():
            break
    return made


def marked(followed: Followed) -> Followed:
    """The same with a mark of its last day, where the last mark is a week old."""
    learner, marks = followed.learner, followed.marks
    if not learner.answers.sum() or (marks and learner.day - marks[-1].day < MARK_DAYS):
        return followed
    figures = figures_on(learner, learner.day)
    kinds = {name: kind.pooled for name, kind in figures.kinds.items()}
    mark = Mark(learner.day, figures.person, {k: _rounded(p) for k, p in kinds.items()})
    return replace(followed, marks=(*marks, mark))


def _rounded(pooled: Pooled) -> Pooled:
    return Pooled(round(pooled.mean, 4), round(pooled.sd, 4), pooled.answers)


def _model_answers(answers: Answers, layout: Layout) -> Iterable[ModelAnswer]:
    scales = {kind.name: kind.scale for kind in layout.kinds}
    for number, day, chance, place, right in zip(
        answers.skill.tolist(),
        answers.day.tolist(),
        answers.chance.tolist(),
        answers.place.tolist(),
        answers.right.tolist(),
        strict=True,
    ):
        skill = answers.skills[number]
        scale = scales.get(skill.partition(":")[0])
        if scale is not None:
            step = scale.step(place / PER_LOG10)
            yield ModelAnswer(skill, step, bool(right), day, chance / PER_CHANCE)


class EyeModel:
    """The one model that a session and the screens share, moved on by each answer.

    Without a state (where nothing can be measured) it knows nothing.
    """

    def __init__(self, followed: Followed | None = None) -> None:
        self.followed = followed
        self._figures: LearnerFigures | None = None
        self._of: tuple[str, LearnerFigures] | None = None
        """What is told of one skill."""
        self._ahead: dict[ModelAnswer, tuple[Followed, LearnerFigures]] = {}

    @classmethod
    def of(cls, record: Record, offers: Offers, day: int) -> EyeModel:
        """The model after all answers of a record, kept for the next time where it was not."""
        kept = read(record.path)
        made = cls(follow(record, offers, kept))
        if kept is None:
            made.keep(record, day)
        return made

    def take(self, followed: Followed | None) -> None:
        """Go on from another state."""
        self.followed, self._figures, self._of, self._ahead = followed, None, None, {}

    def answered(self, attempt: Attempt) -> None:
        """Move on by an answer of practice."""
        if self.followed is None:
            return
        day, skill = attempt.day.toordinal(), attempt.skill
        given = ModelAnswer(skill, attempt.step, attempt.right, day, attempt.chance)
        foreseen = self._ahead.get(given)
        if foreseen is None:
            # What is told of it is worked out where somebody asks.
            self.take(replace(self.followed, learner=answered(self.followed.learner, given)))
            return
        self.take(foreseen[0])
        self._of = skill, foreseen[1]

    def look_ahead(self, skill: str, step: float, day: int, chance: float) -> bool:
        """Work out what one answer to a question would make known; False where all is."""
        for right in (True, False):
            given = ModelAnswer(skill, step, right, day, chance)
            if self.followed is not None and given not in self._ahead:
                self._ahead[given] = self._after(self.followed, given)
                return True
        return False

    def tell_ahead(self, day: int) -> bool:
        """Work out everything told on a day; False where it is."""
        done = self.followed is None or (self._figures is not None and self._figures.day == day)
        return not done and self.figures(day) is not None

    @staticmethod
    def _after(followed: Followed, given: ModelAnswer) -> tuple[Followed, LearnerFigures]:
        """The state after an answer, and what is told of its skill then."""
        learner = answered(followed.learner, given)
        return replace(followed, learner=learner), figures_on(learner, given.day, (given.skill,))

    def figures(self, day: int, only: str = "") -> LearnerFigures | None:
        """Everything told on a practice day (an ordinal).

        With ``only`` what is told of that skill at least, which is sooner had.
        """
        if self.followed is None:
            return None
        if self._figures is not None and self._figures.day == day:
            return self._figures
        if only:
            if self._of is None or (self._of[0], self._of[1].day) != (only, day):
                self._of = only, figures_on(self.followed.learner, day, (only,))
            return self._of[1]
        self._figures = figures_on(self.followed.learner, day)
        return self._figures

    def step(self, facts: KindFacts, skill: str, day: int, aim: float = AIM) -> float:
        """The step to ask a skill at, to be right ``aim`` of the time.

        One that is not measured is asked where a newcomer begins.
        """
        figures = self.figures(day)
        if figures is None or skill not in figures.skills:
            return step_at(facts.steps, START if aim <= AIM else SURE_START)
        return figures.step_to_ask(skill, aim=aim)

    def keep(self, record: Record, day: int) -> None:
        """Write the state beside the record, with its figures of a practice day."""
        if self.followed is None or not self.followed.whole or not record.path.exists():
            return
        self.followed = marked(self.followed)
        figures = self.figures(day)
        if figures is not None and figures.person.answers:
            state = blob.as_bytes(self.followed.learner)
            write(record.path, Kept(first_id(record), figures, self.followed.marks, state))
