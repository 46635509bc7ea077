"""What is wrong with a deck: the line, the key, the fault and the remedy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from drills.basics.errors import InputError, plain


@dataclass(frozen=True, order=True)
class Problem:
    """One fault. ``line`` counts from 1, 0 where no line can be named. All text is plain."""

    line: int
    key: str
    problem: str
    remedy: str = ""

    def where(self, source: str) -> str:
        """The file and place, as one phrase."""
        parts = [plain(source, 200)]
        if self.line:
            parts.append(f"line {self.line}")
        if self.key:
            parts.append(f"key {self.key}")
        return ", ".join(parts)

    def error(self, source: str) -> InputError:
        """The fault as the error a command ends with."""
        return InputError(self.where(source), self.problem, self.remedy)

    def text(self, source: str) -> str:
        """One line: file, line, key, fault, remedy."""
        return str(self.error(source))


def first_of(problems: Sequence[Problem], source: str, teller: str) -> InputError:
    """The first problem as an error; where there are more, it says that ``teller`` tells all."""
    first = problems[0].error(source)
    if len(problems) == 1:
        return first
    remedy = f"{first.remedy} (And {len(problems) - 1} more: {teller} tells all.)".strip()
    return InputError(first.where, first.problem, remedy)
