"""A class's counts laid out from rows that name what they are of."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from scores.classes.class_lines import KindScale, Skill
from scores.classes.standing.cells import Cells, laid_out

Row = tuple[int, Skill, float, int, int]
"""A student's place, a skill, the mean level, answers, and how many of them were right."""


def cells_of(students: int, rows: Sequence[Row], scales: Mapping[str, KindScale]) -> Cells:
    """Lay out the counts. ``scales`` has each kind's chance and range."""
    skills = tuple(sorted({row[1] for row in rows}))
    place = {skill: at for at, skill in enumerate(skills)}
    return laid_out(
        students,
        skills,
        np.array([row[0] for row in rows], dtype=np.int64),
        np.array([place[row[1]] for row in rows], dtype=np.int64),
        np.array([row[2] for row in rows], dtype=float),
        np.array([row[3] for row in rows], dtype=float),
        np.array([row[4] for row in rows], dtype=float),
        scales,
    )
