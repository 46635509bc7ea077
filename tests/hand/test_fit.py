"""The fit of a hand, where a patch says little."""

from __future__ import annotations

import numpy as np

from drills.hand.fit import fit
from drills.hand.patch import Patch, Recipe
from drills.layering.moves import FIRM, Move
from drills.layering.palette import prepare
from drills.pencils.sets import pocket_set


def test_a_patch_of_no_hue_at_all_is_learned_from() -> None:
    palette = prepare(pocket_set())
    grey = Patch(Recipe((Move("lay", 1, FIRM),)), (50.0, 0.0, 0.0))
    assert np.isfinite(fit(palette, [grey]).held_out).all()
