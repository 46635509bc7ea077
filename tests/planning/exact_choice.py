"""The exact choice of pencils for a picture, by scipy's mixed-integer solver (HiGHS)."""

from __future__ import annotations

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csr_matrix

from drills.planning.for_picture.recipe_lists import IntArray, RecipeLists


def exact_mean_miss(lists: RecipeLists, usable: IntArray, most: int) -> float:
    """The least mean miss that any ``most`` pencils leave.

    One 0/1 for each pencil, and for each recipe a share that its colour is made by: the shares
    of a colour sum to 1, and those of its recipes that need a pencil stay within the pencil's.
    """
    n, recipes, colours = lists.pencils, len(lists.miss), len(lists.weights)
    costs = np.concatenate([np.zeros(n), lists.weights[lists.of] * lists.miss])
    shape = (colours, n + recipes)
    whole = csr_matrix((np.ones(recipes), (lists.of, n + np.arange(recipes))), shape=shape)
    recipe, slot = np.nonzero(lists.needs >= 0)
    pencil = lists.needs[recipe, slot]
    pairs, row = np.unique(lists.of[recipe] * n + pencil, return_inverse=True)
    rows = np.concatenate([row, np.arange(len(pairs))])
    columns = np.concatenate([n + recipe, pairs % n])
    signs = np.concatenate([np.ones(len(row)), -np.ones(len(pairs))])
    within = csr_matrix((signs, (rows, columns)), shape=(len(pairs), n + recipes))
    count = csr_matrix((np.ones(n), (np.zeros(n, int), np.arange(n))), shape=(1, n + recipes))
    upper = np.ones(n + recipes)
    upper[:n] = np.isin(np.arange(n), usable)
    found = milp(
        costs,
        constraints=[
            LinearConstraint(whole, 1, 1),
            LinearConstraint(within, -np.inf, 0),
            LinearConstraint(count, 0, most),
        ],
        bounds=Bounds(0, upper),
        integrality=np.concatenate([np.ones(n), np.zeros(recipes)]),
    )
    assert found.status == 0, found.message
    return float(found.fun)
