"""What a teacher is asked about who is who: said, never settled for them."""

from __future__ import annotations

import shlex
from collections.abc import Iterable, Sequence


def doubt_lines(
    doubts: Iterable[tuple[str, tuple[str, ...]]], of_one_name: Sequence[tuple[str, list[str]]]
) -> list[str]:
    """Names of the list that may be a student's, and names that several have; how to say so."""
    lines = []
    for name, students in doubts:
        remedy = f"coach class name {shlex.quote(students[0])} {shlex.quote(name)}"
        lines.append(f"Is {name} here as {' or '.join(students)}? If so: {remedy}")
    for name, told in of_one_name:
        same = " ".join(shlex.quote(one) for one in ((name, name) if len(told) == 2 else told[:2]))
        lines.append(
            f"{len(told)} are called {name}: {'; '.join(told)}."
            f" If two are one student: coach class same {same}"
        )
    return lines
