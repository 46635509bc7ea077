"""What is known, carried over to another layout: new skills, other ranges, other pencils.

A new skill is placed by the skills already known, as the prior ties them (the Gaussian's
conditional; Rasmussen & Williams 2006, eq. 2.19, with what is known of the old in the
place of exact values). A skill no longer offered is dropped, and placed again by the
others should it come back. A kind whose range has changed keeps its thresholds, which
are in its unit.
"""

from __future__ import annotations

import numpy as np

from scores.skill.model.layout import FloatArray, Layout
from scores.skill.model.learner import Learner, begin


def for_layout(learner: Learner, layout: Layout) -> Learner:
    """The state on another layout; the same one where nothing has changed."""
    if layout == learner.layout:
        return learner
    fresh = begin(layout)
    old = learner.layout
    signs = {kind.name: kind.scale.sign for kind in old.kinds}
    fit = {kind.name for kind in layout.kinds if signs.get(kind.name) == kind.scale.sign}
    known = [s for s in layout.skills if s in old.place and s.partition(":")[0] in fit]
    if not known:
        return fresh
    was = np.array([old.place[skill] for skill in known])
    now = np.array([layout.place[skill] for skill in known])
    n, k = layout.size, len(layout.kinds)
    places = {kind.name: place for place, kind in enumerate(old.kinds)}
    pairs = [(i, places[kind.name]) for i, kind in enumerate(layout.kinds) if kind.name in fit]
    here, there = np.array([a for a, _ in pairs]), np.array([b for _, b in pairs])
    # The old numbers that go on: skills, the person's trend, kinds' trends, forgetting, mood.
    m = old.size
    kept_old = np.concatenate(
        [was, [m], m + 1 + there, [m + 1 + len(old.kinds), m + 2 + len(old.kinds)]]
    )
    kept_new = np.concatenate([now, [n], n + 1 + here, [n + 1 + k, n + 2 + k]])
    mean, cov = _placed(learner, fresh, kept_old, kept_new, len(known))
    slope, guess = fresh.slope.copy(), fresh.guess.copy()
    slope[here], guess[here] = learner.slope[there], learner.guess[there]
    moved = {}
    for name in ("last", "rust", "answers", "days", "held", "late"):
        column = getattr(fresh, name).copy()
        column[now] = getattr(learner, name)[was]
        moved[name] = column
    return Learner(
        layout, learner.day, mean, cov, learner.weight, slope, guess, learner.lapse, **moved
    )


def _placed(
    learner: Learner, fresh: Learner, kept_old: FloatArray, kept_new: FloatArray, skills: int
) -> tuple[FloatArray, FloatArray]:
    """Mean and covariance on the new layout.

    ``skills`` of the kept numbers are thresholds; the prior ties new numbers to those only.
    """
    mean, cov = fresh.mean.copy(), fresh.cov.copy()
    new = np.setdiff1d(np.arange(mean.shape[1]), kept_new)
    inner = np.ix_(kept_new[:skills], kept_new[:skills])
    for setting in range(len(mean)):
        prior_mean, prior = fresh.mean[setting], fresh.cov[setting]
        at = learner.mean[setting][kept_old]
        spread = learner.cov[setting][np.ix_(kept_old, kept_old)]
        mean[setting][kept_new] = at
        cov[setting][np.ix_(kept_new, kept_new)] = spread
        if not new.size:
            continue
        cross = prior[np.ix_(new, kept_new[:skills])]
        by = np.linalg.solve(prior[inner], cross.T).T
        mean[setting][new] = prior_mean[new] + by @ (at[:skills] - prior_mean[kept_new[:skills]])
        cov[setting][np.ix_(new, new)] = (
            prior[np.ix_(new, new)] - by @ cross.T + by @ spread[:skills, :skills] @ by.T
        )
        tied = by @ spread[:skills]
        cov[setting][np.ix_(new, kept_new)] = tied
        cov[setting][np.ix_(kept_new, new)] = tied.T
    return mean, cov
