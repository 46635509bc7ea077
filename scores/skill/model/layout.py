"""Which skills there are, and how alike they are thought to be beforehand.

A log10 threshold θ of skill s of kind k in family f is, before any answer,

    θ = μ_k + r_k · a + b + kind_k + family_f + skill_s,

μ_k the newcomer's threshold, r_k the log10 width of the kind's range, a the person's
level and b the person's shift, all normal and independent with the spreads of
``settings`` (a normal model of crossed levels; Gelman et al., Bayesian Data Analysis,
ch. 15). Greater is coarser, whatever the unit: θ is a log intensity
(``scores.skill.psychometric``).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from scores.skill.model import settings as s
from scores.skill.psychometric import Scale, scale_of

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


class KindLayout(NamedTuple):
    """A kind's name, its (easiest, hardest) step and its chance."""

    name: str
    steps: tuple[float, float]
    chance: float

    @property
    def scale(self) -> Scale:
        """Raises ValueError where no threshold can be measured."""
        made = scale_of(self.steps, self.chance)
        if made is None:
            raise ValueError(f"{self.name}: no threshold can be measured on this range")
        return made


@dataclass(frozen=True)
class Layout:
    """The kinds, by name, and the skills (``kind:region``), in the order of the state."""

    kinds: tuple[KindLayout, ...]
    skills: tuple[str, ...]

    @property
    def size(self) -> int:
        """n, the skills."""
        return len(self.skills)

    @cached_property
    def place(self) -> dict[str, int]:
        return {skill: place for place, skill in enumerate(self.skills)}

    @cached_property
    def families(self) -> tuple[str, ...]:
        return tuple(sorted({skill.partition(":")[2] for skill in self.skills}))

    @cached_property
    def kind(self) -> IntArray:
        """(n,): each skill's kind."""
        index = {kind.name: place for place, kind in enumerate(self.kinds)}
        return np.array([index[name.partition(":")[0]] for name in self.skills], dtype=np.int64)

    @cached_property
    def family(self) -> IntArray:
        """(n,): each skill's family."""
        index = {name: place for place, name in enumerate(self.families)}
        return np.array([index[name.partition(":")[2]] for name in self.skills], dtype=np.int64)

    @cached_property
    def of_kind(self) -> tuple[IntArray, ...]:
        """The skills of each kind."""
        return tuple(np.flatnonzero(self.kind == place) for place in range(len(self.kinds)))

    @cached_property
    def width(self) -> FloatArray:
        """(n,): log10 width of each skill's range."""
        return np.array([kind.scale.range_log for kind in self.kinds])[self.kind]

    @cached_property
    def mean(self) -> FloatArray:
        """(n,): a newcomer's log thresholds."""
        return np.array([kind.scale.at_level(s.PRIOR_LEVEL) for kind in self.kinds])[self.kind]

    @cached_property
    def covariance(self) -> FloatArray:
        """(n, n): of the log thresholds before any answer."""
        level = s.PERSON_LEVEL_SD**2 * np.outer(self.width, self.width)
        return level + self._alike(s.PERSON_SD, s.KIND_SD, s.FAMILY_SD, s.SKILL_SD)

    @cached_property
    def walk(self) -> FloatArray:
        """(n, n): what one day adds to it."""
        return self._alike(s.PERSON_WALK, s.KIND_WALK, s.FAMILY_WALK, s.SKILL_WALK)

    def _alike(self, person: float, kind: float, family: float, skill: float) -> FloatArray:
        made: FloatArray = (
            person**2
            + kind**2 * (self.kind[:, None] == self.kind)
            + family**2 * (self.family[:, None] == self.family)
            + skill**2 * np.eye(self.size)
        )
        return made


def layout_of(
    kinds: Mapping[str, tuple[tuple[float, float], float]], skills: Iterable[str]
) -> Layout:
    """The layout of the skills that can be measured; ``kinds`` are (steps, chance) by name."""
    fit = {
        name: KindLayout(name, (float(steps[0]), float(steps[1])), float(chance))
        for name, (steps, chance) in kinds.items()
        if scale_of(steps, chance) is not None
    }
    kept = tuple(sorted({skill for skill in skills if skill.partition(":")[0] in fit}))
    used = {skill.partition(":")[0] for skill in kept}
    return Layout(tuple(fit[name] for name in sorted(used)), kept)
