"""Which rules of the craft moves break, in an artist's words: one plain reading of ``craft``.

The search keeps to the rules by arrays (``trail``); this says them move by move, so
that one checks the other.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from functools import lru_cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering import constants as c
from drills.layering.craft_faults import broken_rules as broken_on_paper
from drills.layering.films import FloatArray
from drills.layering.moves import Move, pressure_word
from drills.layering.palette import Palette
from drills.layering.predict import predict_steps
from drills.pencils.pencil import Lab
from drills.planning.aim import aim
from drills.planning.search.craft import (
    DARK_GROUND_BELOW,
    GAIN,
    LAYERS_BEFORE_BLEND,
    MOST_FIRM,
    Roles,
    roles,
)

_SLACK = 0.05
"""The search looks at every other band (ΔE00 0.05): what lies on a border may fall either side."""

NOT_NEAR = "begin nearer the target: there is a pencil closer to its hue family"
FIRM_FIRST = "light to firm: begin lightly, or the tooth is gone too soon"
LIGHTER_LATE = "light to firm: after a firm layer a lighter one hardly takes"
THREE_FIRM = "two firm layers are enough: more turn waxy"
IDLE = "a layer brings the swatch no nearer the target"
MUTED_TWICE = "cover a muting layer before muting again"
STRAY = "a pencil so far from the target is a light touch at most"
BLACK_HEAVY = "black deadens: a light touch at most"
MUTER_HEAVY = "a muting layer goes on lightly, or it kills the colour"
MUTER_BARE = "a muting layer is held inside: cover it with the main colour"
WHITE_AND_BLACK = "white and black in one plan make chalky mud: use a grey"
PALE_OVER_DARK = "a pale pencil is lost over so dark a ground"
THREE_RUNNING = "three layers running of one pencil: press a little harder instead"
BLEND_EARLY = "blend when two layers of colour are down, not before"
BLEND_TWICE = "one blending is enough"
BLEND_HARD = "blend lightly: pressing closes the tooth"
BLEND_THEN_MUTE = "finish a blending with the main colour, not with the one that mutes"
BLEND_MUTER = "cover a muting layer before blending, or it spreads"
BURNISH_EARLY = "burnish only when two layers of colour are down"
BURNISH_HAZE = "take the haze off with colour before burnishing"


def broken_rules(
    palette: Palette,
    moves: Sequence[Move],
    target: Lab,
    tray: Iterable[int] | None = None,
) -> tuple[str, ...]:
    """The rules these moves break on the way to ``target``, each once, in order.

    ``tray`` holds the places of the pencils at hand, where it isn't all of them: which
    may begin, and which are only a touch, depends on it. Raises ValueError for a move that
    can't be made.
    """
    steps = predict_steps(palette, moves)
    parts = _roles(palette, target, None if tray is None else frozenset(tray))
    said: list[str] = []
    lays = [move for move in moves if move.action == "lay"]
    if lays and not parts.start[lays[0].pencil]:
        said.append(NOT_NEAR)
    said += _pressures(lays)
    said += _muting(moves, parts)
    said += _grounds(palette, moves, steps, parts, target)
    said += _blending(moves, parts)
    said += broken_on_paper(palette, moves)
    return tuple(dict.fromkeys(said))


@lru_cache(maxsize=4)
def _roles(palette: Palette, target: Lab, tray: frozenset[int] | None) -> Roles:
    """The roles of all pencils, where only those of ``tray`` are at hand, or not used up."""
    every = roles(palette, target)
    if tray is None and len(palette.at_hand) == len(palette.colour_indices):
        return every
    places = palette.at_hand if tray is None else np.array(sorted(tray), dtype=np.int64)
    some = roles(palette, target, places)
    # What was laid before it was used up may have begun as well as ever.
    start = every.start.copy() if tray is None else np.zeros_like(every.start)
    touch = every.touch.copy()
    start[places], touch[places] = some.start, some.touch
    return replace(every, start=start, touch=touch)


def _pressures(lays: Sequence[Move]) -> list[str]:
    said = []
    words = [pressure_word(move.pressure) for move in lays]
    strength = {"light": 0, "middle": 1, "firm": 2, "heavy": 2}
    for at, word in enumerate(words):
        if at and strength[words[0]] == 2:
            said.append(FIRM_FIRST)
        if any(strength[one] == 2 for one in words[:at]) and strength[word] < 2:
            said.append(LIGHTER_LATE)
    if sum(strength[word] == 2 for word in words) > MOST_FIRM:
        said.append(THREE_FIRM)
    for one, two, three in zip(lays, lays[1:], lays[2:], strict=False):
        if one.pencil == two.pencil == three.pencil:
            said.append(THREE_RUNNING)
    return said


def _muting(moves: Sequence[Move], parts: Roles) -> list[str]:
    said = []
    main: int | None = None
    bare = False
    for move in moves:
        if move.action != "lay":
            continue
        if main is None:
            main = move.pencil
        elif parts.mutes[main, move.pencil]:
            if bare:
                said.append(MUTED_TWICE)
            bare = True
            if pressure_word(move.pressure) != "light":
                said.append(MUTER_HEAVY)
        elif parts.covers[main, move.pencil]:
            bare = False
    if bare:
        said.append(MUTER_BARE)
    return said


def _grounds(
    palette: Palette, moves: Sequence[Move], steps: FloatArray, parts: Roles, target: Lab
) -> list[str]:
    said = []
    pencils = {move.pencil for move in moves if move.pencil >= 0}
    if any(parts.white[i] for i in pencils) and any(parts.black[i] for i in pencils):
        said.append(WHITE_AND_BLACK)
    off = delta_e00(steps, aim(palette, np.asarray(target, dtype=np.float64)))
    for at, move in enumerate(moves):
        if move.action != "lay":
            continue
        if parts.touch[move.pencil] and pressure_word(move.pressure) != "light":
            said.append(BLACK_HEAVY if parts.black[move.pencil] else STRAY)
        if at == 0:
            continue
        if parts.pale[move.pencil] and steps[at - 1, 0] < DARK_GROUND_BELOW - _SLACK:
            said.append(PALE_OVER_DARK)
        idle = off[at] > off[at - 1] - GAIN + _SLACK
        if idle and not parts.mutes[moves[0].pencil, move.pencil]:
            said.append(IDLE)
    return said


def _blending(moves: Sequence[Move], parts: Roles) -> list[str]:
    said = []
    laid = blends = 0
    bare = False
    main = next((move.pencil for move in moves if move.action == "lay"), -1)
    for at, move in enumerate(moves):
        after_blend = at > 0 and moves[at - 1].action == "blend"
        if move.action == "lay":
            if laid:
                covered = bool(parts.covers[main, move.pencil])
                bare = bool(parts.mutes[main, move.pencil]) or (bare and not covered)
            laid += 1
            if after_blend and parts.mutes[main, move.pencil]:
                said.append(BLEND_THEN_MUTE)
            continue
        if laid < LAYERS_BEFORE_BLEND:
            said.append(BLEND_EARLY if move.action == "blend" else BURNISH_EARLY)
        if move.action == "burnish":
            if after_blend:
                said.append(BURNISH_HAZE)
            continue
        blends += 1
        if bare:
            said.append(BLEND_MUTER)
        if blends > 1:
            said.append(BLEND_TWICE)
        if move.pressure > 0.5 * (c.LIGHT + c.MIDDLE):
            said.append(BLEND_HARD)
    return said
