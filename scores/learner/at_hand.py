"""The learner's model as the app has it: what is kept until the model itself is ready.

No numpy until then: the first screen reads what is kept.
"""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from scores.learner.overlay import skills_told
from scores.learner.state_file import read
from scores.record.queries import first_id
from scores.today.day_plan import aims_of

if TYPE_CHECKING:
    from scores.learner.eye import EyeModel, Followed
    from scores.record.record import Record
    from scores.skill.memory import SkillState
    from scores.skill.model.figures import LearnerFigures
    from scores.today.offers import Offers


class EyeAtHand:
    """``model`` is None until ``take`` was called."""

    def __init__(self, record: Record) -> None:
        self.model: EyeModel | None = None
        self._record = record
        self._kept = read(record.path)

    def figures(self, day: date) -> LearnerFigures | None:
        """What the model tells on a practice day: as kept, until the model itself is ready."""
        if self.model is not None:
            return self.model.figures(day.toordinal())
        kept = self._kept
        return kept.figures if kept and kept.first_id == first_id(self._record) else None

    def skills(self, day: date) -> dict[str, SkillState]:
        """Every skill met, with what the model knows of it."""
        aims = aims_of(self._record.settings())
        return skills_told(self._record.skills(), self.figures(day), day, aims.retention)

    def followed(self, offers: Offers) -> Followed | None:
        """The model after all answers, or after the latest of very many. May run in a thread."""
        from scores.learner.eye import follow

        return follow(self._record, offers, read(self._record.path), all_at_once=False)

    def take(self, followed: Followed | None) -> EyeModel:
        """Go on with the model itself."""
        from scores.learner.eye import EyeModel

        self.model = EyeModel(followed)
        return self.model

    def keep(self, day: date) -> None:
        """Keep the model beside the record."""
        if self.model is not None:
            self.model.keep(self._record, day.toordinal())
