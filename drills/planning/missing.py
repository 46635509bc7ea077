"""Out of reach: how far, in which direction, and which kind of pencil would close it best."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from drills.basics.errors import plain
from drills.colour.difference import delta_e00
from drills.colour.reading import Reading, describe_difference, read_colour
from drills.colour.spaces import lab_to_lch, lch_to_lab, xyz_to_lab
from drills.layering.films import FloatArray
from drills.layering.moves import MIDDLE
from drills.layering.palette import Palette
from drills.layering.predict import predict
from drills.layering.sheet import Sheet, blank, lay
from drills.planning.pencil_kinds import kinds, with_kind
from drills.planning.plan import Direction, Missing
from drills.planning.plan_limits import LIGHTFAST
from drills.planning.plan_words import as_lab
from drills.planning.search.finished_plans import Candidate, best, distinct
from drills.planning.search.half_made import PRESSURES, IntArray
from drills.planning.search.next_layer import Looker

if TYPE_CHECKING:
    from drills.planning.request import Job

SHORTLIST = 3
"""Kinds that are planned with in earnest, of all that are tried in two layers."""
BASES = 48
"""Own pencils and pressures tried under a missing one."""
AS_GOOD = 1.0
"""ΔE00 within which two missing pencils do equally well: a visible step."""
WORTH = 1.0
"""ΔE00 by which a missing pencil must help to be named."""


def what_is_missing(
    job: Job, reached: FloatArray, planner: Callable[[Job], list[Candidate]]
) -> Missing:
    """What the target is that ``reached``, the nearest swatch, is not, and what would help.

    Every kind of pencil is tried over and under each of one's own in two layers;
    the few that do best are planned with in earnest, by ``planner``.
    """
    far = float(delta_e00(reached, job.target))
    off = describe_difference(reached, job.target)
    way = direction(reached, job.target)
    said = (
        f"{_DIRECTION_WORDS[way]} The nearest swatch stays ΔE00 {far:.1f} off; the target is {off}."
    )
    empty = _used_up(job, planner)
    tried: list[tuple[float, int]] = []
    for one in _shortlist(job).tolist():
        wider = with_kind(job.palette, one)
        found = planner(job.with_pencil(wider))
        if found:
            tried.append((float(delta_e00(predict(wider, found[0].moves), job.target)), one))
    least = min(tried, default=(far, -1))[0]
    if empty is not None and empty[0] <= min(far - WORTH, least + AS_GOOD):
        return _again(job, empty, Missing(far, way, off, said))
    if least > far - WORTH:
        return Missing(far, way, off, f"{said} No one pencil would bring it much nearer.")
    # Of those that do as well, the plainest advice: the pencil most like the target.
    likeness = delta_e00(kinds().lab, job.target)
    as_good = [pair for pair in tried if pair[0] <= least + AS_GOOD]
    closest, kind = min(as_good, key=lambda pair: float(likeness[pair[1]]))
    lab = kinds().lab[kind]
    name = kind_words(read_colour(lab))
    return Missing(
        far,
        way,
        off,
        f"{said} What would help most is {name}: with one, ΔE00 {closest:.1f}.",
        name,
        as_lab(lab),
        closest,
    )


def _used_up(job: Job, planner: Callable[[Job], list[Candidate]]) -> tuple[float, int] | None:
    """The least ΔE00 with a new one of a pencil that is used up, and its place; or None."""
    palette, limits = job.palette, job.limits
    gone = [
        i
        for i in palette.colour_indices.tolist()
        if palette.set.pencils[i].used_up
        and i not in limits.without
        and (not limits.lightfast_only or palette.set.pencils[i].lightfastness in LIGHTFAST)
    ]
    if not gone:
        return None
    over = _misses(job, Looker.of(palette, np.array(gone), PRESSURES), _nearest_layers(job))
    tried = []
    for at in best(over.min(axis=(0, 1)), SHORTLIST).tolist():
        tray = None if limits.tray is None else limits.tray | {gone[at]}
        wider = replace(
            job,
            palette=_there_again(palette, gone[at]),
            places=np.sort(np.append(job.places, gone[at])),
            limits=replace(limits, tray=tray),
        )
        found = planner(wider)
        if found:
            tried.append((float(delta_e00(predict(palette, found[0].moves), job.target)), gone[at]))
    return min(tried, default=None)


def _there_again(palette: Palette, place: int) -> Palette:
    pencils = list(palette.set.pencils)
    pencils[place] = replace(pencils[place], used_up=False)
    return replace(palette, set=replace(palette.set, pencils=tuple(pencils)))


def _again(job: Job, found: tuple[float, int], lacking: Missing) -> Missing:
    """Advice to get again what is used up."""
    off, place = found
    name = plain(job.palette.names[place])
    return replace(
        lacking,
        words=f"{lacking.words} What would help most you have, used up: with a new {name},"
        f" ΔE00 {off:.1f}.",
        kind=f"a new {name}",
        kind_lab=as_lab(job.palette.lab[place]),
        kind_delta_e00=off,
    )


_DIRECTION_WORDS: dict[Direction, str] = {
    "too bright": "The target is too bright for these pencils.",
    "too dull": "The target is too dull for these pencils.",
    "too dark": "The target is too dark for these pencils.",
    "too light": "The target is too light for these pencils.",
    "another hue": "The target is of a hue these pencils don't reach.",
}


def direction(reached: FloatArray, target: FloatArray) -> Direction:
    """In what the target differs most from the nearest swatch, each part taken by itself."""
    (L1, C1, h1), (L2, C2, h2) = lab_to_lch(np.stack([reached, target])).tolist()
    middle = float(np.sqrt(C1 * C2))
    starts = lch_to_lab([[L1, C1, h1], [L1, C1, h1], [L1, middle, h1]])
    ends = lch_to_lab([[L2, C1, h1], [L1, C2, h1], [L1, middle, h2]])
    most = int(np.argmax(delta_e00(starts, ends)))
    if most == 0:
        return "too light" if L2 > L1 else "too dark"
    if most == 1:
        return "too bright" if C2 > C1 else "too dull"
    return "another hue"


def kind_words(reading: Reading) -> str:
    """ "a light, very bright green", "a dark grey", "a black" …"""
    if reading.neutral:
        if reading.value >= 9.0:
            return "a purer white"
        return "a deeper black" if reading.value < 2.0 else f"a {reading.value_word} grey"
    chroma = "" if reading.chroma_word == "moderate" else f", {reading.chroma_word}"
    return f"a {reading.value_word}{chroma} {reading.family}"


def _shortlist(job: Job) -> IntArray:
    """The kinds that come nearest in one or two layers with one's own pencils, and the one
    that is most like the target."""
    extra = kinds()
    n = len(extra)
    own = _nearest_layers(job)
    over = _misses(job, Looker.of(extra, np.arange(n), PRESSURES), own).min(axis=(0, 1))
    under = lay(blank(job.palette.paper, n), extra, np.arange(n), MIDDLE)
    looker = Looker.of(job.palette, job.places, PRESSURES)
    near = best(np.minimum(over, _misses(job, looker, under).min(axis=(1, 2))), SHORTLIST)
    return distinct(np.append(near, np.argmin(delta_e00(extra.lab, job.target))))


def _nearest_layers(job: Job) -> Sheet:
    """The blank sheet and, of all first layers, those nearest the target."""
    clean = blank(job.palette.paper, 1)
    off = _misses(job, Looker.of(job.palette, job.places, PRESSURES), clean)[0]
    near = best(off.reshape(-1), BASES)
    press, pencil = np.divmod(near, len(job.places))
    several = blank(job.palette.paper, len(near))
    first = lay(several, job.palette, job.places[pencil], PRESSURES[press])
    return Sheet.join([clean, first])


def _misses(job: Job, looker: Looker, sheet: Sheet) -> FloatArray:
    """ΔE00 (B, P, n) of every next layer on B sheets."""
    return delta_e00(xyz_to_lab(looker.xyz(sheet, np.zeros(len(sheet), np.int64))), job.target)
