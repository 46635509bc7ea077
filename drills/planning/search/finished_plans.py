"""Finished plans as the search finds them, and which of them are kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from drills.layering.constants import FIRM
from drills.layering.films import FloatArray
from drills.layering.moves import ACTIONS, Move
from drills.planning.search.craft import MOST_FIRM
from drills.planning.search.half_made import IntArray

KEPT = 48
"""Finished plans kept of each number of pencils at each step: the nearest, as many of the
nearest that each have a set of pencils of their own, and as many of those that come near
without a great last stride, which a hand can't take exactly."""

STRIDE_COST = 0.06
"""ΔE00 of expected miss for each unit of Lab in the last stride; our estimate."""


LIKELIEST, LIKELY, EACH_KIND = 50, 6, 4
"""Plans of any length of which more draws are made, the least expected miss first; and besides,
of each length, so many, and as many that each have a set of pencils of their own; and of each
kind, by first pencil and number of firm layers, so many: the few draws of the search flatter some
kinds, and without this would have left out the best of another."""


@dataclass(frozen=True, eq=False)
class FinishedPlan:
    """m finished plans of d moves each.

    ``pencil`` (places in the palette, −1 for none), ``pressure``, ``action``
    (m, d); ``delta_e00`` (m,) from the target; ``pencils`` (m,) how many
    different; ``kit`` (m,) a number for the set of pencils; ``expected`` (m,) the miss to be
    expected by a few draws, where it was looked for.
    """

    pencil: IntArray
    pressure: FloatArray
    action: IntArray
    delta_e00: FloatArray
    pencils: IntArray
    kit: IntArray
    expected: FloatArray | None = None

    def __len__(self) -> int:
        return len(self.pencil)

    def moves(self, i: int) -> tuple[Move, ...]:
        """Plan ``i`` as moves."""
        return tuple(
            Move(ACTIONS[action], pencil, pressure)
            for action, pencil, pressure in zip(
                self.action[i].tolist(), self.pencil[i].tolist(), self.pressure[i].tolist(),
                strict=True,
            )
        )  # fmt: skip


@dataclass(frozen=True)
class Candidate:
    """One finished plan. ``kit`` holds the places of its pencils."""

    moves: tuple[Move, ...]
    delta_e00: float

    @cached_property
    def kit(self) -> frozenset[int]:
        return frozenset(move.pencil for move in self.moves if move.pencil >= 0)


def best(score: FloatArray, most: int) -> IntArray:
    """Places of the ``most`` least scores, least first; ties by place."""
    if len(score) > most:
        near = np.sort(np.argpartition(score, most - 1)[:most])
        return near[np.argsort(score[near], kind="stable")]
    return np.argsort(score, kind="stable")


def distinct(places: IntArray) -> IntArray:
    """Each of ``places``, whole numbers from 0, once and in order.

    numpy's own ``unique`` does it too, but brings in all of ``numpy.ma``, which a first plan
    would wait for.
    """
    return np.flatnonzero(np.bincount(places))


def worth_keeping(
    off: FloatArray, stride: FloatArray, pencils: IntArray, kit: IntArray
) -> IntArray:
    """Places of the plans kept of many: see ``KEPT``."""
    steady = off + STRIDE_COST * stride
    kept = []
    for count in distinct(pencils):
        these = np.flatnonzero(pencils == count)
        kept.append(these[best(steady[these], KEPT)])
        these = these[best(off[these], 40 * KEPT)]
        kept.append(these[:KEPT])
        first = np.unique(kit[these], return_index=True)[1]
        kept.append(these[np.sort(first)[:KEPT]])
    return distinct(np.concatenate(kept)) if kept else np.empty(0, dtype=np.int64)


def likeliest(found: Sequence[FinishedPlan]) -> list[Candidate]:
    """Of plans whose ``expected`` is known, those that more draws should be made of: see
    ``LIKELIEST``. The one whose colour is nearest comes first."""
    expected = np.concatenate([some.expected for some in found if some.expected is not None])
    off = np.concatenate([some.delta_e00 for some in found])
    kit = np.concatenate([some.kit for some in found])
    moves = np.concatenate([np.full(len(some), some.pencil.shape[1]) for some in found])
    of = [(some, i) for some in found for i in range(len(some))]
    chosen = [np.array([np.argmin(off)]), best(expected, LIKELIEST)]
    for length in distinct(moves):
        these = np.flatnonzero(moves == length)
        these = these[best(expected[these], len(these))]
        first = np.sort(np.unique(kit[these], return_index=True)[1])
        chosen += [these[:LIKELY], these[first[:LIKELY]]]
    kind = np.concatenate(
        [
            kinds(some.pencil[:, 0], ((some.action == 0) & (some.pressure == FIRM)).sum(axis=1))
            for some in found
        ]
    )
    order = best(expected, len(expected))
    for one in distinct(kind):
        chosen.append(order[kind[order] == one][:EACH_KIND])
    every = dict.fromkeys(np.concatenate(chosen).tolist())
    return [Candidate(of[at][0].moves(of[at][1]), float(off[at])) for at in every]


def kinds(first: IntArray, firm: IntArray) -> IntArray:
    """A number (m,) for the pencil each plan begins with and how many of its layers are firm."""
    kind: IntArray = first * (MOST_FIRM + 1) + firm
    return kind


def candidates(found: Sequence[FinishedPlan], most: int | None = None) -> list[Candidate]:
    """All of them, or the ``most`` nearest, nearest first, each once.

    Of equals the shorter plan comes first.
    """
    order = sorted(
        (off, some.pencil.shape[1], which, i)
        for which, some in enumerate(found)
        for i, off in enumerate(some.delta_e00.tolist())
    )
    seen: dict[tuple[Move, ...], float] = {}
    for off, _, which, i in order:
        seen.setdefault(found[which].moves(i), off)
        if len(seen) == most:
            break
    return [Candidate(moves, off) for moves, off in seen.items()]
