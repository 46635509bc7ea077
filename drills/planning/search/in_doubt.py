"""Half-made plans as films and hands may have them: which to go on with, and what ends well.

A search for the colour alone finds lucky recipes. Here each half-made plan is laid by eight
draws of tooth and hand (``drills.layering.doubt.quick_layers.eight``) as well: a plan is worth the
miss that those make on average, and half of one how near its mean may come in one layer more
and how far it is spread by then. Distances on the way are in ΔE00's own metric at the target
(``prospects.local_metric``).
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.spaces import xyz_to_lab
from drills.layering import constants as c
from drills.layering.doubt.quick_layers import QuickFilms, QuickSheets, SingleArray, eight
from drills.layering.films import FloatArray
from drills.layering.palette import Palette
from drills.planning.search.finished_plans import best, distinct
from drills.planning.search.half_made import IntArray, Trails

CARRIED = 0.7
"""What of a spread, and of what it shifts the mean by, shows through the next layer; a fair
guess, for what is so chosen is then laid."""


@dataclass(frozen=True, eq=False)
class InDoubt:
    """B half-made plans as ``films`` have them.

    ``shift`` (B, 3) is their mean XYZ less what is foretold; ``spread`` (B,) the mean square of
    what they differ from that mean by, in the ``metric`` (3, 3).
    """

    films: QuickFilms
    metric: SingleArray
    sheets: QuickSheets
    shift: SingleArray
    spread: SingleArray

    @classmethod
    def begin(cls, palette: Palette, places: IntArray, metric: FloatArray) -> InDoubt:
        """One plan of no moves, for the pencils at ``places``."""
        films = eight(palette, places)
        none = np.zeros((1, 3), dtype=np.float32)
        return cls(films, metric.astype(np.float32), films.blank(1), none, none[:, 0])

    def take(self, rows: IntArray) -> InDoubt:
        """The plans of these rows."""
        return replace(
            self,
            sheets=self.sheets.take(rows),
            shift=self.shift[rows],
            spread=self.spread[rows],
        )

    @staticmethod
    def join(first: InDoubt, second: InDoubt) -> InDoubt:
        """Both as one."""
        return replace(
            first,
            sheets=QuickSheets.join(first.sheets, second.sheets),
            shift=np.concatenate([first.shift, second.shift]),
            spread=np.concatenate([first.spread, second.spread]),
        )

    def guessed(self, rows: IntArray, xyz: SingleArray) -> tuple[SingleArray, SingleArray]:
        """The mean XYZ (k, 3) and the spread (k,) of plans ``rows`` (k,) after a layer that is
        foretold to give ``xyz``, without laying it."""
        mean: SingleArray = xyz + np.float32(CARRIED) * self.shift[rows]
        spread: SingleArray = np.float32(CARRIED**2) * self.spread[rows]
        return mean, spread

    def laid(
        self, rows: IntArray, pencil: IntArray, pressure: FloatArray, step: int, xyz: SingleArray
    ) -> InDoubt:
        """The plans ``rows`` after one more layer each, foretold to give ``xyz`` (k, 3)."""
        return self._now(self.films.lay(self.sheets, rows, pencil, pressure, step), xyz)

    def blended(self, rows: IntArray, trails: Trails, xyz: FloatArray) -> InDoubt:
        """The plans ``rows`` of ``trails``, none blended yet, after a light blending."""
        sheets = self.films.blend(
            self.sheets.take(rows), trails.pencil[rows], trails.pressure[rows], c.LIGHT
        )
        return self._now(sheets, xyz.astype(np.float32))

    def _now(self, sheets: QuickSheets, xyz: SingleArray) -> InDoubt:
        mean, spread = mean_and_spread(self.films.xyz(sheets), self.metric)
        return replace(self, sheets=sheets, shift=mean - xyz, spread=spread)

    def expected(self, target: FloatArray) -> FloatArray:
        """The mean miss (B,) of the plans as they stand, ΔE00 from ``target`` (3,)."""
        miss: FloatArray = delta_e00(xyz_to_lab(self.films.xyz(self.sheets)), target).mean(axis=1)
        return miss


def mean_and_spread(
    seen: SingleArray, metric: SingleArray | FloatArray
) -> tuple[SingleArray, SingleArray]:
    """The mean (B, 3) of draws of XYZ (B, V, 3), and the mean square (B,) of what they differ from
    it by, in a ``metric`` (3, 3)."""
    mean: SingleArray = seen.mean(axis=1)
    apart = (seen - mean[:, None]) @ metric.T
    return mean, (apart**2).sum(axis=2).mean(axis=1)


def varied(score: FloatArray, pencils: IntArray, kit: IntArray, most: int, each: int, kits: int
) -> IntArray:  # fmt: skip
    """Places of the ``most`` least scores, of the ``each`` least of each number of ``pencils``,
    and of the ``kits`` least that have a ``kit`` of their own."""
    chosen = [best(score, most)]
    for count in distinct(pencils):
        these = np.flatnonzero(pencils == count)
        chosen.append(these[best(score[these], each)])
    near = best(score, 40 * kits)
    chosen.append(near[np.sort(np.unique(kit[near], return_index=True)[1])[:kits]])
    return distinct(np.concatenate(chosen))
