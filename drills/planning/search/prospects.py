"""Which half-made plans promise most: where could each be after one more layer?

To try every next layer of every candidate would be a step of search in itself.
But what a layer does to XYZ is very nearly one affine map for all grounds of a
kind (a thin film is one exactly, band by band), and the step just looked at
holds hundreds of examples of each. So each (pencil, pressure) gets the map that
fits its examples best, and a candidate's promise is its least distance from the
target over all maps. Distance is ΔE00's own local metric at the target
(its quadratic form, by finite differences), which is linear in XYZ.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import lab_to_xyz, xyz_to_lab
from drills.layering.films import FloatArray
from drills.planning.search.craft import BoolArray
from drills.planning.search.half_made import FIRM_AT, IntArray
from drills.planning.search.next_layer import SingleArray

_FEWEST = 12
"""Examples needed to fit a map of four numbers with some trust."""
_RIDGE = 1e-4
_SAMPLE = 400
_MAPS = 120
"""Maps kept of a big set: those that serve a sample of candidates best."""
_PAIRED = 36
"""Pencils whose firm layers are thought of in pairs: those that lead nearest on the whole."""
_NUMBERS = 40_000


def local_metric(target: FloatArray) -> FloatArray:
    """A (3, 3) with |A (xyz − xyz of target)| ≈ ΔE00 near ``target``."""
    h = 0.05
    steps = np.eye(3) * h
    square = np.array([[float(delta_e00(target, target + s)) ** 2 for s in steps]])[0]
    form = np.diag(square)
    for i in range(3):
        for j in range(i):
            with_both = float(delta_e00(target, target + steps[i] + steps[j])) ** 2
            against = float(delta_e00(target, target + steps[i] - steps[j])) ** 2
            form[i, j] = form[j, i] = (with_both - against) / 4.0
    xyz = lab_to_xyz(target)
    k = 0.01
    to_lab = np.stack(
        [(xyz_to_lab(xyz + d) - xyz_to_lab(xyz - d)) / (2.0 * k) for d in np.eye(3) * k], axis=1
    )
    values, vectors = np.linalg.eigh(form / h**2)
    root: FloatArray = (vectors * np.sqrt(np.maximum(values, 1e-4))).T @ to_lab
    return root


class Promise:
    """Distances one layer on, for one target. Fitted anew at every step."""

    def __init__(self, target: FloatArray) -> None:
        self.metric = local_metric(target)
        self._goal = lab_to_xyz(target)
        self._any: SingleArray | None = None
        self._firm: SingleArray | None = None
        self._firm_fit: tuple[FloatArray, FloatArray] | None = None
        self._two_firm: SingleArray | None = None

    def fit(self, before: FloatArray, after: SingleArray) -> None:
        """Learn from XYZ ``before`` (B, 3) and ``after`` (B, P, n, 3), NaN where not looked at."""
        maps = []
        for press in range(after.shape[1]):
            ok = np.isfinite(after[:, press, 0, 0])
            if int(ok.sum()) < _FEWEST:
                continue
            X = _affine(before[ok])
            Y = (after[ok, press] - self._goal) @ self.metric.T
            normal = X.T @ X + _RIDGE * np.eye(4)
            # einsum stays on one thread, where a great matrix product would not.
            moments = np.einsum("bi,bm->im", X, Y.reshape(len(X), -1))
            fit = np.linalg.solve(normal, moments).reshape(4, -1, 3)
            maps.append(fit.astype(np.float32))
            if press == FIRM_AT:
                self._firm = _planes(maps[-1])
                self._firm_fit, self._two_firm = (X, fit), None
        if maps:
            self._any = _planes(np.concatenate(maps, axis=1))

    def _of_two(self, X: FloatArray, fit: FloatArray) -> SingleArray:
        """Maps (4, p·p, 3) of two firm layers running, of the maps ``fit`` (4, n, 3) of one: of
        the p that lead nearest from the examples ``X`` (B, 4)."""
        off = np.einsum("bi,inj->bnj", X[:: max(1, len(X) // _SAMPLE)], fit)
        least = np.argsort((off**2).sum(axis=2).mean(axis=0), kind="stable")[:_PAIRED]
        fit = fit[:, np.sort(least)]
        to_xyz = np.linalg.inv(self.metric.T) / 100.0
        first = np.einsum("inj,jk->ink", fit, to_xyz)
        first[3] += self._goal / 100.0
        whole = np.einsum("ink,kmj->inmj", first, fit[:3])
        whole[3] += fit[3]
        composed: SingleArray = whole.reshape(4, -1, 3).astype(np.float32)
        return composed

    def two_firm(self, xyz: SingleArray) -> SingleArray:
        """About the ΔE00 (k,) that two firm layers running would leave candidates with."""
        if self._firm_fit is None:
            return self.distance(xyz, np.ones(len(xyz), dtype=np.bool_))
        if self._two_firm is None:
            self._two_firm = _planes(self._of_two(*self._firm_fit))
        X = _affine(xyz).astype(np.float32)
        return _least(X, _telling(X, self._two_firm))

    @property
    def ready(self) -> bool:
        """Whether anything has been learnt yet."""
        return self._any is not None

    def squares(self, xyz: SingleArray) -> FloatArray:
        """About the square of the ΔE00 (k,) of candidates ``xyz`` (k, 3) as they are."""
        off = (xyz - self._goal) @ self.metric.T
        near: FloatArray = (off * off).sum(axis=1)
        return near

    def distance(self, xyz: SingleArray, firm: BoolArray) -> SingleArray:
        """About the ΔE00 (k,) that one more layer would leave candidates ``xyz`` (k, 3) with.

        After a firm layer (``firm``, (k,)) only firm ones are thought of. Before anything is
        learnt, it is as they are.
        """
        if self._any is None:
            return np.sqrt(self.squares(xyz)).astype(np.float32)
        out = np.empty(len(xyz), dtype=np.float32)
        X = _affine(xyz).astype(np.float32)
        last = self._any if self._firm is None else self._firm
        for rows, planes in ((np.flatnonzero(~firm), self._any), (np.flatnonzero(firm), last)):
            if rows.size:
                out[rows] = _least(X[rows], _telling(X[rows], planes))
        return out


def _affine(xyz: FloatArray | SingleArray) -> FloatArray:
    return np.column_stack([np.asarray(xyz, dtype=np.float64) / 100.0, np.ones(len(xyz))])


def _planes(maps: SingleArray) -> SingleArray:
    """(4, m, 3) as (3, 4, m): a sum of three squares is faster by planes than by triples."""
    return np.ascontiguousarray(np.moveaxis(maps, 2, 0))


def _telling(X: SingleArray, planes: SingleArray) -> SingleArray:
    """The maps that come nearest for a sample of candidates, where there are many maps.

    This keeps the cost of a candidate from growing with the number of pencils.
    """
    if planes.shape[2] <= _MAPS:
        return planes
    sample = X[:: max(1, len(X) // _SAMPLE)]
    nearest = [_squares(rows, planes).argmin(axis=1) for rows in _blocks(sample, planes)]
    votes = np.bincount(np.concatenate(nearest), minlength=planes.shape[2])
    kept: IntArray = np.sort(np.argsort(-votes, kind="stable")[:_MAPS])
    telling: SingleArray = np.ascontiguousarray(planes[:, :, kept])
    return telling


def _squares(X: SingleArray, planes: SingleArray) -> SingleArray:
    total: SingleArray = X @ planes[0]
    total *= total
    for plane in planes[1:]:
        part = X @ plane
        part *= part
        total += part
    return total


def _least(X: SingleArray, planes: SingleArray) -> SingleArray:
    least = [_squares(rows, planes).min(axis=1) for rows in _blocks(X, planes)]
    distances: SingleArray = np.sqrt(np.concatenate(least))
    return distances


def _blocks(X: SingleArray, planes: SingleArray) -> Iterator[SingleArray]:
    """Rows of X, so few at once that the products stay in the cache and on one thread."""
    rows = max(1, _NUMBERS // planes.shape[2])
    return (X[at : at + rows] for at in range(0, len(X), rows))
