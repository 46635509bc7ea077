"""Answers that are not saved yet: the app's own, tried again at every turn."""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from scores.record.record import NotSavedError, Record

if TYPE_CHECKING:
    from scores.record.attempt import Attempt
    from scores.skill.memory import SkillState


class Unsaved:
    """Answers that wait to be saved, oldest first.

    Those the record refuses are written to a draft in the first of ``folders`` that takes
    it, so that the next start finds them.
    """

    def __init__(self, record: Record, folders: Sequence[Path] = ()) -> None:
        self.attempts: list[Attempt] = []
        self.trouble = ""
        """Why the last try failed; empty when it did not."""
        self.draft: Path | None = None
        """Where what waits is kept until it is saved; None where no folder took it."""
        self._record = record
        self._folders = tuple(folders)

    def __len__(self) -> int:
        return len(self.attempts)

    def take_drafts(self) -> int:
        """Take up the answers an earlier start could not save, and try them; how many they were."""
        if not any(self._any_draft(folder) for folder in self._folders):
            return 0
        from scores.record.journal.drafts import draft_path, drafts

        if not any(draft_path(self._record.path, folder).exists() for folder in self._folders):
            return 0
        found = drafts(self._record.path, self._folders)
        self.attempts += [attempt for attempt in found if not self._record.has(attempt.id)]
        self.draft = draft_path(self._record.path, self._folders[0])
        self.save()
        return len(found)

    def _any_draft(self, folder: Path) -> bool:
        """Whether drafts for a record of this name lie there, without loading what reads them."""
        begins = f"{self._record.path.stem}-unsaved-"
        try:
            return any(name.startswith(begins) for name in os.listdir(folder))
        except OSError:
            return False

    def add(self, attempt: Attempt) -> None:
        """Take an answer, to be saved by the next ``save``."""
        self.attempts.append(attempt)

    def save(self, done: Callable[[SkillState], None] = lambda _: None) -> str:
        """Save what waits; why it still can't be, or nothing when all is saved.

        ``done`` is called with the state of each skill that an answer was saved to. Raises
        ValueError or TypeError for an answer that no record takes; it then waits no longer.
        """
        while self.attempts:
            try:
                done(self._record.save(self.attempts[0]))
            except NotSavedError as error:
                self.trouble = str(error)
                self._keep()
                return self.trouble
            except (ValueError, TypeError):
                # A fault of ours, which trying again would only repeat.
                del self.attempts[0]
                raise
            del self.attempts[0]
        self.trouble = ""
        if self.draft is not None:
            self._keep()
        return ""

    def _keep(self) -> None:
        from scores.record.journal.drafts import keep_drafts

        self.draft = keep_drafts(self._record.path, self._folders, self.attempts)
