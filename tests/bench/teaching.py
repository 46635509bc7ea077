"""Plans as a teacher would lay them, over everyday colours; and whether anything contradicts them.

A contradiction: one pencil insisted on (``Limits.insist``), and the plan found misses by
less, in expectation, than the nearest that is printed without.
"""

from __future__ import annotations

import numpy as np

from drills.basics.errors import InputError
from drills.colour.parse import parse_colour
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.pencils.pencil import Lab
from drills.planning.plan import Plan
from drills.planning.plan_limits import Limits
from drills.planning.planner import plan
from drills.planning.teaching import BEGIN_NEAR, LIGHT_FIRST

EVERYDAY = (
    "#c8402e", "#e8c23a", "#6b7346", "#7fa6c9", "#b7410e", "#80858a", "#5b3a29", "#d9a58c",
    "#3f5d3a", "#8c5a6e", "#2f4a6d", "#c9b48a", "#a05050", "#6d8f8a", "#e0a0a8", "#4a4038",
    "#94702e", "#b8b2a6", "#6a5a8c", "#d8803a",
)  # fmt: skip
"""A tomato, a lemon, an olive, a sky, rust, slate, bark, skin and the like; ours."""
LOWER_BY = 0.3
MOVES_ALLOWED = 3.5


def lay_out(palette: Palette) -> float:
    """Print how plans for everyday colours are laid; the mean number of their moves."""
    plans = [plan(palette, parse_colour(text)) for text in EVERYDAY]
    asides = [{one.rule for one in answer.rules_set_aside} for answer in plans]
    moves = float(np.mean([len(answer.moves) for answer in plans]))
    near, light = (
        np.mean([rule not in aside for aside in asides]) for rule in (BEGIN_NEAR, LIGHT_FIRST)
    )
    print(f"{len(plans)} everyday colours: {moves:.2f} moves ({MOVES_ALLOWED} allowed),", end=" ")
    print(f"begin in the family or beside it {near:.0%}, first layer light {light:.0%}")
    return moves


def forced(palette: Palette, goals: FloatArray) -> FloatArray:
    """(n, 2): by how much any one pencil insisted on lowers the expected miss of the plan shown,
    and of the nearest printed."""
    lower = []
    for target in goals.tolist():
        free = plan(palette, target)
        best = min(_least(palette, target, at) for at in palette.colour_indices.tolist())
        lower.append((free.likely.expected - best, _printed(free) - best))
    return np.array(lower)


def _least(palette: Palette, target: Lab, pencil: int) -> float:
    try:
        return _printed(plan(palette, target, Limits(insist=frozenset({pencil}))))
    except InputError:
        return np.inf


def _printed(answer: Plan) -> float:
    return min(one.likely.expected for one in (answer, *answer.alternatives))
