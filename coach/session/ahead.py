"""What an answer will need to be told, worked out while the learner still looks.

Nothing here decides anything: grades, reveals and the learner's model are the same for an
answer that was foreseen and for one that wasn't, only sooner at hand.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from scores.skill.skill_words import skill_name

if TYPE_CHECKING:
    from drills.questions.protocol import Answers, Grade, Kind, Question, Reveal
    from scores.learner.eye import EyeModel


class Ahead:
    """Grade and reveal of what may be answered to one question, and what the eye's model says.

    ``tells`` is False where answers teach that model nothing.
    """

    def __init__(self, question: Question, kind: Kind, tells: bool) -> None:
        self.question = question
        self._kind = kind
        self._tells = tells
        self._found: dict[Answers, tuple[Grade, Reveal]] = {}
        self._open: set[Answers] = set()

    def told(self, answers: Answers) -> tuple[Grade, Reveal]:
        """What these answers come to: at hand where they were foreseen."""
        if answers not in self._found:
            grade = self._kind.grade(self.question, answers)
            self._found[answers] = grade, self._kind.reveal(self.question, answers)
        return self._found[answers]

    def step(self, likely: Iterable[Answers], eye: EyeModel, day: int) -> bool:
        """Work out one thing; False where nothing is left.

        ``likely`` are all replies of an answer that may come next; ``day`` is an ordinal.
        """
        if self._foresee(likely):
            return True
        kind, question = self._kind, self.question
        skill = skill_name(question.kind, question.region)
        return self._tells and eye.look_ahead(skill, question.step, day, kind.chance)

    def _foresee(self, likely: Iterable[Answers]) -> bool:
        """Grade one of those that would end the question; False where none is left."""
        for answers in likely:
            if answers in self._found or answers in self._open:
                continue
            if self._kind.ask(self.question, answers) is None:
                self.told(answers)
            else:
                self._open.add(answers)
            return True
        return False
