"""It came out wrong: what can still be done from the colour that is on the paper.

The sheet is laid in the model as it was laid in truth, by many draws of films and hands
(``drills.layering.doubt``), and each is then made to look like the colour got: so what is
still in doubt is only what comes next. What an eraser takes: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import product
from typing import Literal

import numpy as np

from drills.basics.errors import InputError
from drills.colour.change import told_beside
from drills.colour.difference import delta_e00
from drills.colour.reading import describe_difference
from drills.colour.recover import recover_reflectance
from drills.layering import constants as c
from drills.layering.doubt.draws import Draws, laid_in_doubt
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import apply, extend, sheet_lab, start
from drills.layering.sheet import Sheet, reflectance, tooth_filled
from drills.pencils.pencil import Lab
from drills.planning.choose import PAID
from drills.planning.plan import LikelyMiss, PlannedMove
from drills.planning.plan_words import CLOSE, as_lab, imperative, wanted_before
from drills.planning.planner import quick_plan
from drills.planning.pressure_spread import as_it_may_be, miss_of
from drills.planning.search.craft import DARK_GROUND_BELOW, roles
from drills.planning.search.half_made import PRESSURES

MOST = 3
"""Moves that a mending takes at most."""
KEPT = 24
"""Mendings of each length that are gone on with, and weighed."""
DRAWS = 48
WORTH = 1.0
"""ΔE00 that a mending must be expected to gain: what is read off a paper is no surer than that."""
START_ANEW = 5.0
"""ΔE00 that stays expected, from which a new swatch is worth its paper; our estimate."""
TOOTH_SD = 0.35
"""Spread (of the logarithm) of how much lies there, where the layers aren't known."""

Verdict = Literal["go on", "leave it", "start anew"]


@dataclass(frozen=True)
class Mending:
    """What to do about ``got`` on the way to ``target``.

    ``off`` is what it is beside the target, in an artist's words, and ``delta_e00`` how far;
    ``filled`` (0–1) the share of the tooth that is taken; ``moves`` what to do next, none where
    the verdict isn't to go on; ``likely`` the miss to count on then; ``words`` the verdict in
    sentences; ``guessed`` is true where what lies there wasn't known.
    """

    target: Lab
    got: Lab
    off: str
    delta_e00: float
    filled: float
    verdict: Verdict
    words: str
    moves: tuple[PlannedMove, ...]
    likely: LikelyMiss
    guessed: bool


def mend(
    palette: Palette, target: Lab, got: Lab, laid: Sequence[Move] | None = None, seed: int = 0,
    target_sd: float = 0.0, got_sd: float = 0.0,
) -> Mending:  # fmt: skip
    """The next moves from ``got``; ``laid`` is what lies there, or None where nobody knows.

    Then what would make such a colour is taken to lie there, more or less of it.
    ``target_sd`` and ``got_sd`` are the doubts in colours that were read, each the root mean
    square of a ΔE00: they are in what is told, and in no choice.
    Raises InputError for a colour that is none, ValueError for a move that can't be made.
    """
    for colour in (target, got):
        if not np.isfinite(colour).all():
            raise InputError("mend", "not a colour", "Give L*, a* and b*.")
    goal, now = np.asarray(target, dtype=np.float64), np.asarray(got, dtype=np.float64)
    under = tuple(quick_plan(palette, got, max_layers=3)[0] if laid is None else laid)
    sheet = start(palette)
    for move in under:
        sheet = apply(palette, sheet, move)
    filled, sealed = float(tooth_filled(sheet)[0]), bool(sheet.sealed[0])
    sheet = looking(sheet, got)
    miss = float(delta_e00(now, goal))
    goals = as_it_may_be(goal, target_sd, seed, DRAWS)
    gots = as_it_may_be(now, got_sd, seed, DRAWS, which=1)
    stays = LikelyMiss(miss, miss, miss)
    if target_sd or got_sd:
        stays = miss_of(delta_e00(gots, goals))
    recipes: list[tuple[Move, ...]] = []
    if miss >= CLOSE and not sealed and filled < c.FULL:
        recipes = _found(palette, sheet, goal)
    moves: tuple[Move, ...] = ()
    likely, left = stays, miss
    if recipes:
        labs = _in_doubt(palette, under, laid is not None, got, recipes, seed)
        off = delta_e00(labs, goal)
        expected = off.mean(axis=1)
        least = min(miss, float(expected.min()))
        if least < miss - WORTH:
            near = np.flatnonzero(expected <= least + 0.5 * PAID).tolist()
            best = min(near, key=lambda at: (len(recipes[at]), expected[at]))
            moves = recipes[best]
            left = float(expected[best])
            # A misread ground shows through what is laid over it by most of its error.
            likely = miss_of(delta_e00(labs[best] + gots - now, goals))
    verdict, words = _verdict(goal, now, miss, likely, left, bool(moves), filled, sealed)
    if verdict == "go on" and (target_sd or got_sd):
        words += f" With the doubt in how it was read, it is {stays.about()} off now."
    if verdict == "start anew":
        moves, likely = (), stays
    return Mending(
        target=as_lab(goal),
        got=as_lab(now),
        off=describe_difference(goal, now),
        delta_e00=miss,
        filled=filled,
        verdict=verdict,
        words=words,
        moves=_written(palette, sheet, moves, now, goal),
        likely=likely,
        guessed=laid is None,
    )


def looking(sheet: Sheet, lab: Lab) -> Sheet:
    """The sheets, all made to look like ``lab``, as if their pigments were a little other."""
    wanted = recover_reflectance(lab)
    seen = reflectance(sheet)
    surface = (sheet.surface @ sheet.paper.areas)[:, None]
    by = np.maximum(wanted - surface, 1e-3) / np.maximum(seen - surface, 1e-3)
    R = np.clip(sheet.R * by[:, None, :], 0.0, 0.999)
    return replace(sheet, R=R)


def _found(palette: Palette, sheet: Sheet, goal: FloatArray) -> list[tuple[Move, ...]]:
    """Mendings of one to ``MOST`` moves, were all known; firm layers only upon firm ones."""
    parts = roles(palette, as_lab(goal))
    single = [
        (at, press)
        for at, press in product(palette.at_hand.tolist(), PRESSURES.tolist())
        if press == c.LIGHT or not parts.touch[at]
    ]
    pencil = np.array([at for at, _ in single])
    pressure = np.array([press for _, press in single])
    heads: list[tuple[Move, ...]] = [()]
    found: list[tuple[Move, ...]] = []
    for _ in range(MOST):
        grounds = sheet_lab(sheet)[:, 0]
        full = tooth_filled(sheet) >= c.FULL
        firmest = np.array([max((move.pressure for move in one), default=0.0) for one in heads])
        may = ~full[:, None] & ((firmest < c.FIRM)[:, None] | (pressure >= c.FIRM))
        may &= ~((grounds < DARK_GROUND_BELOW)[:, None] & parts.pale[pencil])
        row, which = np.nonzero(may)
        if not row.size:
            break
        longer = extend(palette, sheet.take(row), pencil[which], pressure[which])
        off = delta_e00(sheet_lab(longer), goal)
        nearest = np.argsort(off, kind="stable")[:KEPT]
        heads = [
            (*heads[row[at]], Move("lay", int(pencil[which[at]]), float(pressure[which[at]])))
            for at in nearest.tolist()
        ]
        sheet = longer.take(nearest)
        found += heads
    return found


def _in_doubt(
    palette: Palette,
    under: tuple[Move, ...],
    known: bool,
    got: Lab,
    recipes: Sequence[tuple[Move, ...]],
    seed: int,
) -> FloatArray:
    """Lab (n, DRAWS, 3) of what the recipes may come to, from sheets that all look like ``got``."""
    rng = np.random.default_rng(seed)
    drawn = Draws.of(palette, [(*under, *one) for one in recipes], DRAWS, rng)
    sheet = drawn.laid(drawn.blank(), [under])
    if not known:
        more = np.exp(TOOTH_SD * rng.standard_normal(DRAWS))
        sheet = replace(sheet, thickness=sheet.thickness * more[:, None])
    return laid_in_doubt(drawn, looking(sheet, got), recipes, len(under))


def _written(
    palette: Palette, sheet: Sheet, moves: Sequence[Move], now: FloatArray, goal: FloatArray
) -> tuple[PlannedMove, ...]:
    out = []
    before = now
    for move in moves:
        sheet = apply(palette, sheet, move)
        after = sheet_lab(sheet)[0]
        left = float(delta_e00(after, goal))
        stop = "Stop when it matches the target."
        if left >= CLOSE:
            stop = f"Stop when it looks {told_beside(after, goal, 'the target')}."
        need, does = describe_difference(before, goal), describe_difference(before, after)
        why = f"{wanted_before(need)} The move makes it: {does}."
        out.append(PlannedMove(move, imperative(palette, move), as_lab(after), left, why, stop))
        before = after
    return tuple(out)


def _verdict(
    goal: FloatArray,
    now: FloatArray,
    miss: float,
    likely: LikelyMiss,
    left: float,
    helps: bool,
    filled: float,
    sealed: bool,
) -> tuple[Verdict, str]:
    if miss < CLOSE:
        return "leave it", "Leave it: it matches the target."
    why = "Nothing brings it nearer than the eye can tell."
    if sealed:
        why = "It is burnished, and nothing takes on it any more."
    elif filled >= c.FULL:
        why = "The tooth is full, and nothing more takes."
    if left < START_ANEW:
        if helps:
            return "go on", f"It can be mended. {likely.words()}"
        return "leave it", f"Leave it. {why}"
    if helps:
        why = f"From here it stays about {left:.0f} off."
    lift = ""
    if now[0] < goal[0]:
        lift = " It is too dark, and colour doesn't make it lighter; a kneaded eraser lifts a"
        lift += " light layer, hardly a firm one (common practice)."
    return "start anew", f"Start anew on fresh paper. {why}{lift}"
