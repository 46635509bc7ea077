"""The colour to lay on paper next: chosen once, and kept until it is laid."""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Mapping, Sequence

from drills.basics.json_values import JSON, from_json

SETTING = "paper_task"
Lab = tuple[float, float, float]


def task_in(settings: Mapping[str, JSON]) -> Lab | None:
    """The colour kept as the task (D50 Lab); None where none is, or it can't be read."""
    try:
        lab: Lab = from_json(tuple[float, float, float], settings.get(SETTING))
    except (TypeError, ValueError):
        return None
    return lab if all(map(math.isfinite, lab)) and 0.0 <= lab[0] <= 100.0 else None


def is_laid(target: Lab, laid: Sequence[Lab]) -> bool:
    """Whether a swatch was laid to its end for a target, ``laid`` being the targets of all."""
    return any(math.dist(target, other) < 0.01 for other in laid)


def families_in_turn(
    regions: Sequence[str], laid: Sequence[str], rng: random.Random
) -> tuple[str, ...]:
    """The families that can be asked, those laid least first, of alike ones by chance."""
    times = Counter(laid)
    mixed = list(regions)
    rng.shuffle(mixed)
    return tuple(sorted(mixed, key=lambda region: times[region]))
