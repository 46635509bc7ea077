"""The answers of a class, counted by student, skill and difficulty: what the model reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from scores.classes.class_lines import KindScale, Skill

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

UNKNOWN = KindScale(0.25, 1.0)
"""Taken for a kind of a package that is not installed here (our estimate)."""
Row = tuple[int, Skill, float, int, int]
"""A student's place, a skill, the mean level, answers, and how many of them were right."""


@dataclass(frozen=True)
class Cells:
    """Counts, N cells of S students and G skills over K kinds and R regions.

    ``asked`` (N,) is how far below a kind's easiest step a question was, in log10
    (level × range); ``tries`` and ``right`` (N,) are counts. ``chance`` (K,) and
    ``span`` (K,), the range in log10, are the kinds' own.
    """

    students: int
    skills: tuple[Skill, ...]
    kinds: tuple[str, ...]
    regions: tuple[str, ...]
    student: IntArray
    skill: IntArray
    asked: FloatArray
    tries: FloatArray
    right: FloatArray
    kind_of: IntArray
    region_of: IntArray
    chance: FloatArray
    span: FloatArray

    @cached_property
    def at(self) -> IntArray:
        """(N,): where a cell's student and skill stand in an (S, G) array laid flat."""
        return self.student * len(self.skills) + self.skill

    @cached_property
    def chance_of(self) -> FloatArray:
        """(N,): the chance of each cell's kind."""
        return self.chance[self.kind_of[self.skill]]

    @property
    def share(self) -> FloatArray:
        """(G,): the part of the class's answers that each skill has."""
        counted = np.bincount(self.skill, self.tries, len(self.skills))
        return counted / max(1.0, float(counted.sum()))

    def counts(self) -> tuple[FloatArray, FloatArray]:
        """Answers, and how many were right, by student and skill: two of (S, G)."""
        size = self.students * len(self.skills)
        shape = (self.students, len(self.skills))
        return (
            np.bincount(self.at, self.tries, size).reshape(shape).astype(np.float64),
            np.bincount(self.at, self.right, size).reshape(shape).astype(np.float64),
        )


def cells_of(students: int, rows: Sequence[Row], scales: Mapping[str, KindScale]) -> Cells:
    """Lay out the counts. ``scales`` has each kind's chance and range; others are ``UNKNOWN``."""
    skills = tuple(sorted({row[1] for row in rows}))
    kinds = tuple(sorted({kind for kind, _ in skills}))
    regions = tuple(sorted({region for _, region in skills}))
    place = {skill: at for at, skill in enumerate(skills)}
    of_kind = {kind: at for at, kind in enumerate(kinds)}
    of_region = {region: at for at, region in enumerate(regions)}
    known = [scales.get(kind, UNKNOWN) for kind in kinds]
    span = np.array([one.span for one in known], dtype=float)
    kind_of = np.array([of_kind[kind] for kind, _ in skills], dtype=np.int64)
    skill = np.array([place[row[1]] for row in rows], dtype=np.int64)
    level = np.array([row[2] for row in rows], dtype=float)
    return Cells(
        students,
        skills,
        kinds,
        regions,
        np.array([row[0] for row in rows], dtype=np.int64),
        skill,
        level * span[kind_of[skill]] if len(rows) else level,
        np.array([row[3] for row in rows], dtype=float),
        np.array([row[4] for row in rows], dtype=float),
        kind_of,
        np.array([of_region[region] for _, region in skills], dtype=np.int64),
        np.array([one.chance for one in known], dtype=float),
        span,
    )
