"""The learner's state as bytes: a header in JSON, then little-endian 32-bit floats.

``MAGIC``, the header's length (4 bytes), the header (version, layout, counts), then the
means (S, d) and the lower triangle of each covariance, row by row. Some 330 kB for 150
skills. 32-bit floats keep seven figures; a covariance read back is made symmetric, and
its diagonal is kept above a floor so that it stays a covariance.
"""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from scores.skill.model.layout import FloatArray, KindLayout, Layout
from scores.skill.model.learner import COUNT, Learner

VERSION = 2
"""Version of the state: raise it when a constant or the meaning of a number changes; a
state of another version is made again from the answers."""
MAGIC = b"LRNR"
LEAST_VARIANCE = 1e-7


def as_bytes(learner: Learner) -> bytes:
    """The state, to be kept."""
    layout = learner.layout
    header = {
        "version": VERSION,
        "kinds": [[kind.name, kind.steps, kind.chance] for kind in layout.kinds],
        "skills": layout.skills,
        "day": learner.day,
        "weight": learner.weight.tolist(),
        "slope": learner.slope.tolist(),
        "guess": learner.guess.tolist(),
        "lapse": learner.lapse.tolist(),
        "last": learner.last.tolist(),
        "rust": learner.rust.round(6).tolist(),
        "answers": learner.answers.tolist(),
        "days": learner.days.tolist(),
        "held": learner.held.tolist(),
        "late": learner.late.round(6).tolist(),
    }
    text = json.dumps(header, separators=(",", ":")).encode()
    lower = np.tril_indices(learner.mean.shape[1])
    numbers = np.concatenate([learner.mean.ravel(), learner.cov[:, lower[0], lower[1]].ravel()])
    return MAGIC + len(text).to_bytes(4, "little") + text + numbers.astype("<f4").tobytes()


def from_bytes(data: bytes) -> Learner | None:
    """What ``as_bytes`` kept; None for another version, or for anything else.

    Then the state is made again from the answers (``learner.answered_all``).
    """
    try:
        if data[:4] != MAGIC:
            return None
        size = int.from_bytes(data[4:8], "little")
        header: dict[str, Any] = json.loads(data[8 : 8 + size])
        if header["version"] != VERSION:
            return None
        kinds = tuple(
            KindLayout(str(name), (float(steps[0]), float(steps[1])), float(chance))
            for name, steps, chance in header["kinds"]
        )
        layout = Layout(kinds, tuple(map(str, header["skills"])))
        numbers = np.frombuffer(data[8 + size :], dtype="<f4").astype(np.float64)
        return _checked(layout, header, numbers)
    except (ValueError, TypeError, KeyError, IndexError, UnicodeDecodeError):
        return None


def _checked(layout: Layout, header: dict[str, Any], numbers: FloatArray) -> Learner | None:
    n, k = layout.size, len(layout.kinds)
    d = n + k + 3
    if numbers.size != COUNT * (d + d * (d + 1) // 2) or not np.isfinite(numbers).all():
        return None
    mean = numbers[: COUNT * d].reshape(COUNT, d).copy()
    cov = np.zeros((COUNT, d, d))
    rows, columns = np.tril_indices(d)
    cov[:, rows, columns] = numbers[COUNT * d :].reshape(COUNT, -1)
    cov[:, columns, rows] = cov[:, rows, columns]
    across = np.arange(d)
    if not n or (cov[:, across, across] < 0.0).any():
        return None
    cov[:, across, across] += LEAST_VARIANCE

    def floats(name: str, shape: tuple[int, ...]) -> FloatArray:
        made = np.array(header[name], dtype=np.float64)
        if made.shape != shape or not np.isfinite(made).all() or (made < 0.0).any():
            raise ValueError(name)
        return made

    counts = [
        np.array(header[name], dtype=np.int64) for name in ("last", "answers", "days", "held")
    ]
    if any(count.shape != (n,) or (count < 0).any() for count in counts):
        return None
    last, answers, days, held = counts
    return Learner(
        layout,
        int(header["day"]),
        mean,
        cov,
        floats("weight", (COUNT,)),
        floats("slope", (k, 3)),
        floats("guess", (k, 2)),
        floats("lapse", (3,)),
        last,
        floats("rust", (n,)),
        answers,
        days,
        held,
        floats("late", (n,)),
    )
