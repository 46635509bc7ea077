"""What the sittings of a run were made of: the craft's share, its steps, drills left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import NamedTuple

from scores.today.shares import CRAFT
from tests.bench.schedule.subject import offers

EACH = (
    *("hue-and-lean", "lighter-or-darker", "mute-with-complement"),
    *("order-of-layers", "make-the-match"),
)
"""What each ten minutes should hold: hue family, lighter or darker, mute, order, match."""
BLOCK_S = 600.0
SETTLED = 3
"""First sittings left out: a first session is four drills on purpose."""
WITHIN = 0.10
"""Share of its minutes by which a sitting may miss them."""


@dataclass
class Sat:
    """One sitting: its day, the minutes it was to take, and each question's kind with the seconds
    it took, reveal read."""

    day: int
    minutes: float = 10.0
    asked: list[tuple[str, float]] = field(default_factory=list)


class SessionFigures(NamedTuple):
    """``craft`` is the share of time on the craft's own steps; ``whole`` the share of ten
    minutes that held each of EACH, ``lacking`` how often each was missing; ``unseen`` the most
    practised days that a drill was left out; ``on_time`` the share of sittings within 10 %."""

    craft: float
    whole: float
    lacking: dict[str, float]
    unseen: int
    on_time: float


def session_figures(sat: Sequence[Sat]) -> SessionFigures:
    """The figures of a run's sittings, the first few left out."""
    later = sat[SETTLED:]
    asked = list(chain.from_iterable(one.asked for one in later))
    total = sum(took for _, took in asked)
    blocks = _blocks(later)
    lacking = {
        kind: sum(kind not in block for block in blocks) / max(1, len(blocks)) for kind in EACH
    }
    spans = [sum(took for _, took in one.asked) / (60.0 * one.minutes) for one in later]
    return SessionFigures(
        craft=sum(took for kind, took in asked if kind in CRAFT) / total,
        whole=sum(set(EACH) <= block for block in blocks) / max(1, len(blocks)),
        lacking=lacking,
        unseen=max(_longest_left_out(sat, kind) for kind in {k for k, _ in offers().pairs}),
        on_time=sum(abs(span - 1.0) <= WITHIN for span in spans) / len(spans),
    )


def _blocks(sat: Sequence[Sat]) -> list[set[str]]:
    """The drills of each ten minutes: sittings joined until they come to as much."""
    blocks: list[set[str]] = []
    kinds: set[str] = set()
    held = 0.0
    for one in sat:
        kinds |= {kind for kind, _ in one.asked}
        held += sum(took for _, took in one.asked)
        # A sitting of ten minutes may end a little early.
        if held >= (1.0 - WITHIN) * BLOCK_S:
            blocks.append(kinds)
            kinds, held = set(), 0.0
    return blocks


def _longest_left_out(sat: Sequence[Sat], kind: str) -> int:
    """The most practised days in a row without a drill, from its first day on."""
    longest = since = 0
    for number, one in enumerate(sat):
        since = 0 if any(kind == name for name, _ in one.asked) else since + 1
        if number >= SETTLED:
            longest = max(longest, since)
    return longest
