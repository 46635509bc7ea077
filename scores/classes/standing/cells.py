"""The answers of a class, counted by student, skill and difficulty: what the model reads."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from scores.classes.class_lines import KindScale, Skill

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

UNKNOWN = KindScale(0.25, 1.0)
"""Taken for a kind of a package that is not installed here (our estimate)."""
CountedRow = tuple[int, int, int, int, int, float]
"""Keys of a student and a skill, a bin of levels, answers, how many were right, levels' sum."""


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

    @cached_property
    def groups(self) -> tuple[IntArray, ...]:
        """The skills of each kind, then those of each region."""
        kinds = [np.flatnonzero(self.kind_of == at) for at in range(len(self.kinds))]
        return (*kinds, *(np.flatnonzero(self.region_of == at) for at in range(len(self.regions))))

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


def cells_counted(
    rows: Sequence[CountedRow],
    ids: Mapping[int, str],
    skills: Mapping[int, Skill],
    scales: Mapping[str, KindScale],
) -> tuple[list[str], Cells]:
    """The ids of all who answered, in order, and their counts laid out by id, skill and level.

    ``ids`` and ``skills`` say what the keys in ``rows`` stand for. Several rows of one bin, of
    several decks, are one cell. No key's order changes anything.
    """
    columns = zip(*rows, strict=True)
    student, skill, place = (np.array(next(columns), dtype=np.int64) for _ in range(3))
    tries, right, total = (np.array(next(columns), dtype=float) for _ in range(3))
    students, student = _in_order(student, ids)
    named, skill = _in_order(skill, skills)
    order = np.lexsort((total, place, skill, student))
    student, skill, place = student[order], skill[order], place[order]
    begins = (np.diff(student) != 0) | (np.diff(skill) != 0) | (np.diff(place) != 0)
    first = np.concatenate([[0], np.flatnonzero(begins) + 1])
    tries, right, total = (np.add.reduceat(one[order], first) for one in (tries, right, total))
    cells = laid_out(
        *(len(students), tuple(named), student[first], skill[first]),
        *(total / tries, tries, right, scales),
    )
    return students, cells


_T = TypeVar("_T", str, Skill)


def _in_order(keys: IntArray, names: Mapping[int, _T]) -> tuple[list[_T], IntArray]:
    """What the keys stand for, in order, and for each the place of its own in there."""
    found, at = np.unique(keys, return_inverse=True)
    by_name = sorted(found.tolist(), key=lambda key: names[key])
    place = {key: at for at, key in enumerate(by_name)}
    places = np.array([place[key] for key in found.tolist()], dtype=np.int64)
    return [names[key] for key in by_name], places[at]


def laid_out(
    students: int,
    skills: tuple[Skill, ...],
    student: IntArray,
    skill: IntArray,
    level: FloatArray,
    tries: FloatArray,
    right: FloatArray,
    scales: Mapping[str, KindScale],
) -> Cells:
    """The counts (N,) as ``Cells``. ``student`` and ``skill`` are places, ``level`` is the mean.

    ``scales`` has each kind's chance and range; others are ``UNKNOWN``.
    """
    kinds = tuple(sorted({kind for kind, _ in skills}))
    regions = tuple(sorted({region for _, region in skills}))
    of_kind = {kind: at for at, kind in enumerate(kinds)}
    of_region = {region: at for at, region in enumerate(regions)}
    known = [scales.get(kind, UNKNOWN) for kind in kinds]
    span = np.array([one.span for one in known], dtype=float)
    kind_of = np.array([of_kind[kind] for kind, _ in skills], dtype=np.int64)
    return Cells(
        students,
        skills,
        kinds,
        regions,
        student,
        skill,
        level * span[kind_of[skill]] if len(level) else level,
        tries,
        right,
        kind_of,
        np.array([of_region[region] for _, region in skills], dtype=np.int64),
        np.array([one.chance for one in known], dtype=float),
        span,
    )
