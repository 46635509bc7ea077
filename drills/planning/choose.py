"""Of all finished plans, the one to follow, and others that are really different."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import as_arrays, extend, start
from drills.layering.sheet import reflectance
from drills.planning.found import Candidate
from drills.planning.hand import expected_miss, wandering
from drills.planning.lamps import misses

BAND = 0.15
"""ΔE00 that the nearest plan may be missed by for the sake of a steadier, simpler one."""
BAND_SHARE = 0.1
"""The same as a share of a large miss, where a little more isn't seen."""
PASSES = 0.8
"""ΔE00 under which every plan passes for exact: the steadiest and simplest is taken."""
SHORT_MOVES = 3
"""Whatever is taken is not ``BAND`` worse than the nearest plan of so few moves."""
FINALISTS = 48
FEW_HANDS = 8
MOVE_COST, PENCIL_COST, BURNISH_COST = 0.2, 0.15, 0.2
"""What a move, a pencil more or a burnishing must earn, in ΔE00; our estimate."""

MOST_ALTERNATIVES = 3
AS_GOOD = 2.0
"""ΔE00 that an alternative with fewer pencils may be worse by; our estimate."""
WARM_GAIN = 0.3
"""ΔE00 under the warm lamp that an alternative for it must gain."""
STEADY_TRIED = 16
STEADIER = 0.7
"""Share of the main plan's expected miss that a steadier one must come down to."""


@dataclass(frozen=True)
class Choice:
    """One alternative and what it is for."""

    label: str
    candidate: Candidate


def main_plan(
    palette: Palette, target: FloatArray, ranked: Sequence[Candidate], seed: int
) -> Candidate:
    """Of the plans that come as near as can be seen, the one that holds best for its effort.

    Long searches find lucky recipes, right to a hundredth in a perfect hand. So
    plans are weighed by the miss that wandering hands must expect, and by effort.
    """
    near = finalists(ranked)
    hands = wandering(palette, [one.moves for one in near], seed, FEW_HANDS)
    cost = [
        expected_miss(target, hand)
        + MOVE_COST * len(one.moves)
        + PENCIL_COST * len(one.kit)
        + BURNISH_COST * one.burnishes
        for one, hand in zip(near, hands, strict=True)
    ]
    return near[int(np.argmin(cost))]


def finalists(ranked: Sequence[Candidate]) -> list[Candidate]:
    """The plans near enough to be the main one: the shorter first, a few of each length."""
    least = ranked[0].delta_e00
    limit = max(least + max(BAND, BAND_SHARE * least), PASSES)
    short = [one.delta_e00 for one in ranked if len(one.moves) <= SHORT_MOVES]
    if short:
        limit = min(limit, short[0] + BAND)
    near = [one for one in ranked if one.delta_e00 <= limit]
    by_length: dict[int, list[Candidate]] = {}
    for one in near:
        by_length.setdefault(len(one.moves), []).append(one)
    share = max(1, FINALISTS // len(by_length))
    chosen = []
    for length in sorted(by_length):
        these = by_length[length]
        # Evenly over the whole band, for the nearest may all be touchy.
        chosen += these[:: max(1, len(these) // share)][:share]
    return chosen


def alternatives(
    palette: Palette,
    target: FloatArray,
    spectrum: FloatArray | None,
    ranked: Sequence[Candidate],
    main: Candidate,
    seed: int,
) -> list[Choice]:
    """Two or three other plans, where there are any. None is a shuffle of another."""
    chosen: list[Choice] = []

    taken = {(main.kit, main.blends)}

    def add(label: str, pick: Callable[[Sequence[Candidate]], Candidate | None]) -> None:
        if len(chosen) == MOST_ALTERNATIVES:
            return
        one = pick([one for one in ranked if (one.kit, one.blends) not in taken])
        if one is not None:
            chosen.append(Choice(label, one))
            taken.add((one.kit, one.blends))

    add("fewer pencils", lambda rest: _fewer(rest, main))
    if main.blends:
        add("no blender", lambda rest: next((one for one in rest if not one.blends), None))
    if spectrum is not None:
        add("best under warm light", lambda rest: _warm(palette, rest, spectrum, main))
    add("steadier in the hand", lambda rest: _steadier(palette, target, rest, main, seed))
    add("with other pencils", lambda rest: _other(rest, main))
    return chosen


def _fewer(rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    """The fewest pencils that still do nearly as well; else the best with one pencil less."""
    fewer = [one for one in rest if len(one.kit) < len(main.kit)]
    good = [one for one in fewer if one.delta_e00 <= main.delta_e00 + AS_GOOD]
    return (
        min(good, key=lambda one: (len(one.kit), one.delta_e00))
        if good
        else next(iter(fewer), None)
    )


def _warm(
    palette: Palette, rest: Sequence[Candidate], spectrum: FloatArray, main: Candidate
) -> Candidate | None:
    """The nearest under the warm lamp, of plans that hold in daylight too."""
    close = [one for one in rest if one.delta_e00 <= main.delta_e00 + AS_GOOD][:60]
    if not close:
        return None
    off = misses(finished(palette, [one.moves for one in (main, *close)]), spectrum, ("A",))["A"]
    least = int(np.argmin(off[1:]))
    return close[least] if off[1 + least] <= off[0] - WARM_GAIN else None


def _steadier(
    palette: Palette, target: FloatArray, rest: Sequence[Candidate], main: Candidate, seed: int
) -> Candidate | None:
    close = [one for one in rest if one.delta_e00 <= main.delta_e00 + AS_GOOD][:STEADY_TRIED]
    hands = wandering(palette, [one.moves for one in (main, *close)], seed, FEW_HANDS)
    off = [expected_miss(target, hand) for hand in hands]
    if not close or min(off[1:]) > STEADIER * off[0]:
        return None
    return close[int(np.argmin(off[1:]))]


def _other(rest: Sequence[Candidate], main: Candidate) -> Candidate | None:
    """The nearest plan that does without the main plan's first pencil, or else any other."""
    first = main.moves[0].pencil
    without = [one for one in rest if first not in one.kit and one.kit]
    return next(iter(without), next(iter(rest), None))


def finished(palette: Palette, recipes: Sequence[Sequence[Move]]) -> FloatArray:
    """Reflectance (len(recipes), 31) of the finished swatches."""
    out = np.empty((len(recipes), len(palette.paper.reflectance)))
    for length in {len(moves) for moves in recipes}:
        places = [i for i, moves in enumerate(recipes) if len(moves) == length]
        pencil, pressure, action = as_arrays([recipes[i] for i in places])
        sheet = start(palette, len(places))
        for at in range(length):
            sheet = extend(palette, sheet, pencil[:, at], pressure[:, at], action[:, at])
        out[places] = reflectance(sheet)
    return out


def paper_miss(palette: Palette, paper: FloatArray, target: FloatArray) -> float:
    """ΔE00 of the bare paper from the target."""
    return float(delta_e00(paper, target))
