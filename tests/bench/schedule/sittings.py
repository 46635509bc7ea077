"""What the sittings of a run were made of: the craft's share, its steps, drills left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import chain, pairwise
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
UNSEEN = 7
"""Practised days that a drill may be left out."""
WITHIN = 0.10
"""Share of its minutes by which a sitting may miss them."""


@dataclass
class Sat:
    """One sitting: its day, the minutes it was to take, each question's kind with the seconds it
    took, reveal read, and each example's with those it was looked at. ``right`` counts answers,
    ``away`` the days since the last sitting where this is a first day back; ``laid`` says whether
    the day's match was laid."""

    day: int
    minutes: float = 10.0
    asked: list[tuple[str, float]] = field(default_factory=list)
    examples: list[tuple[str, float]] = field(default_factory=list)
    right: int = 0
    away: int = 0
    laid: bool = False

    @property
    def seconds(self) -> float:
        """How long it was, examples and reveals counted."""
        return sum(took for _, took in (*self.asked, *self.examples))

    @property
    def span(self) -> float:
        """How long it was, for what it was to be."""
        return self.seconds / (60.0 * self.minutes)

    @property
    def on_time(self) -> bool:
        return abs(self.span - 1.0) <= WITHIN


class Return(NamedTuple):
    """A first day back: its seconds, as a share of what they were to be and of the usual; the
    share answered right; its examples; whether its match was laid; and the next day, as a share
    of what it was to be."""

    span: float
    of_usual: float
    right: float
    examples: int
    laid: bool
    next_span: float


class SessionFigures(NamedTuple):
    """``craft`` is the share of time on questions of the craft's own steps; ``whole`` the share
    of ten minutes that held each of EACH, ``lacking`` how often each was missing; ``unseen`` the
    most practised days that a drill was left out, ``late`` the drills left out too long;
    ``on_time`` the share of sittings within 10 %, ``spans`` of each of the first few with its
    share, ``with_example`` the same share of the later ones that held an example, and how many;
    ``examples`` how many there were in all; ``back`` each first day back."""

    craft: float
    whole: float
    lacking: dict[str, float]
    unseen: int
    late: tuple[str, ...]
    on_time: float
    spans: tuple[float, ...]
    with_example: tuple[float, int]
    examples: int
    back: tuple[Return, ...]


def session_figures(sat: Sequence[Sat]) -> SessionFigures:
    """The figures of a run's sittings, the first few left out of most."""
    later = sat[SETTLED:]
    asked = list(chain.from_iterable(one.asked for one in later))
    total = sum(one.seconds for one in later)
    blocks = _blocks(later)
    left_out = {kind: _longest_left_out(sat, kind) for kind in {k for k, _ in offers().pairs}}
    held = [one.on_time for one in later if one.examples]
    lacking = {
        kind: sum(kind not in block for block in blocks) / max(1, len(blocks)) for kind in EACH
    }
    return SessionFigures(
        craft=sum(took for kind, took in asked if kind in CRAFT) / total,
        whole=sum(set(EACH) <= block for block in blocks) / max(1, len(blocks)),
        lacking=lacking,
        unseen=max(left_out.values()),
        late=tuple(f"{kind} {days}" for kind, days in left_out.items() if days > UNSEEN),
        on_time=sum(one.on_time for one in later) / len(later),
        spans=tuple(one.span for one in sat[:SETTLED]),
        with_example=(sum(held) / max(1, len(held)), len(held)),
        examples=sum(len(one.examples) for one in sat),
        back=tuple(
            Return(
                *(one.span, one.seconds / (60.0 * after.minutes), one.right / len(one.asked)),
                *(len(one.examples), one.laid, after.span),
            )
            for one, after in pairwise(sat)
            if one.away
        ),
    )


def _blocks(sat: Sequence[Sat]) -> list[set[str]]:
    """The drills of each ten minutes: sittings joined until they come to as much."""
    blocks: list[set[str]] = []
    kinds: set[str] = set()
    held = 0.0
    for one in sat:
        kinds |= {kind for kind, _ in one.asked}
        held += one.seconds
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
