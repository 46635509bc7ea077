"""Plans in an artist's words: what was off, what a move does about it, when to stop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.change import told_beside
from drills.colour.difference import delta_e00
from drills.colour.reading import describe_difference, read_colour
from drills.layering.films import FloatArray
from drills.layering.moves import Move, pressure_word
from drills.layering.palette import Palette
from drills.layering.predict import predict_many
from drills.pencils.pencil import Lab
from drills.planning.other_light import FALLS_APART, LAMP_WORDS
from drills.planning.search.craft import roles

CLOSE = 1.0
"""ΔE00 under which two swatches pass for one (see ``drills.questions.draw``)."""
TOUCHY = 4.0
"""Spread in ΔE00 from which a plan asks for a steady hand; our estimate."""


@dataclass(frozen=True)
class Told:
    """Why a move is made, and when to stop."""

    why: str
    stop: str


def tell(
    palette: Palette,
    moves: Sequence[Move],
    steps: FloatArray,
    paper: FloatArray,
    target: FloatArray,
) -> list[Told]:
    """Every move explained. ``steps`` (len(moves), 3) is what each leads to from ``paper`` (3,)."""
    mutes = roles(palette, as_lab(target)).mutes
    told = []
    before = paper
    for at, after in enumerate(steps):
        muting = at > 0 and moves[at].action == "lay" and mutes[moves[0].pencil, moves[at].pencil]
        if at == 0:
            why = _begin(palette, moves[0], target)
        else:
            why = _why(moves, at, before, after, target, bool(muting))
        told.append(Told(why, _stop(palette, moves, at, after, target)))
        before = after
    return told


_HOW = {"light": "lightly", "middle": "at middle pressure", "firm": "firmly", "heavy": "hard"}


def imperative(palette: Palette, move: Move) -> str:
    """The move as one short sentence without its stop: "Lay Flagloft Red (F12) lightly"."""
    if move.action == "blend":
        return f"Blend {_HOW[pressure_word(move.pressure)]} with the colourless blender"
    named = ""
    if move.pencil >= 0:
        pencil = palette.set.pencils[move.pencil]
        named = f"{pencil.name} ({pencil.code})" if pencil.code else pencil.name
    if move.action == "burnish":
        return f"Burnish with {named}" if named else "Burnish: press all of it flat"
    return f"Lay {named} {_HOW[pressure_word(move.pressure)]}"


def _begin(palette: Palette, move: Move, target: FloatArray) -> str:
    has, wanted = read_colour(palette.lab[move.pencil]), read_colour(target)
    if has.neutral:
        grey = "black" if has.value < 2.5 else f"{has.value_word} grey"
        return f"Begin with a {grey}, which sets the value, for the target is greyed."
    if wanted.neutral:
        return f"Begin with a {has.chroma_word} {has.family}: what follows takes its colour out."
    if has.family == wanted.family:
        return f"Begin in the target's own family, {wanted.family}."
    return f"Begin in {has.family}: what follows brings it to {wanted.family}."


def _why(
    moves: Sequence[Move],
    at: int,
    before: FloatArray,
    after: FloatArray,
    target: FloatArray,
    muting: bool,
) -> str:
    need, does = describe_difference(before, target), describe_difference(before, after)
    wanted = wanted_before(need)
    if moves[at].action == "blend":
        return (
            "Enough colour is down to blend: it evens the grain and carries colour into the "
            "valleys. The faint haze it leaves comes off with the next layer."
        )
    if moves[at].action == "burnish":
        return f"{wanted} Pressing all flat makes one film of it: {does}."
    if moves[at - 1].action == "blend":
        return f"{wanted} Finishing with colour takes the haze off: {does}."
    if muting:
        return (
            f"{wanted} From across the wheel this mutes it: {does}. "
            "Held inside, it won't show as a colour of its own."
        )
    return f"{wanted} The move makes it: {does}."


def wanted_before(need: str) -> str:
    """What was still off before a move, for one who may have laid it by now."""
    return f"Before this move it still wants: {need}."


def _stop(
    palette: Palette, moves: Sequence[Move], at: int, after: FloatArray, target: FloatArray
) -> str:
    if moves[at].action == "blend":
        return "Stop when the grain is even; don't press."
    if moves[at].action == "burnish":
        return "Stop when the sheen is even. Nothing takes after it."
    left = float(delta_e00(after, target))
    stands = told_beside(after, target, "the target")
    if at < len(moves) - 1:
        if left < CLOSE:
            return "Stop when it matches the target; what follows only settles it."
        return f"Stop when it looks {stands}."
    more = predict_many(palette, [[*moves, moves[at]]])[0]
    if left < CLOSE:
        stop = "Stop when it matches the target."
        if float(delta_e00(more, target)) >= CLOSE:
            stop += f" Once more would be too much: {describe_difference(target, more)}."
        return stop
    stop = f"Stop when it looks {stands}."
    if float(delta_e00(more, target)) > left:
        stop += " Another layer takes it further off."
    return stop


def lamp_note(under: Mapping[str, float]) -> str | None:
    """The lamp under which a match falls apart most, said plainly; None if it holds."""
    if not under:
        return None
    base = under["D50"]
    worst = max(under, key=lambda lamp: under[lamp])
    if under[worst] - base < FALLS_APART:
        return None
    return (
        f"This match falls apart under {LAMP_WORDS[worst]}: ΔE00 {under[worst]:.1f} there. "
        "Judge it in the light it will hang in."
    )


def hand_note(spread: float) -> str | None:
    """A plan that asks for a steadier hand than most."""
    if spread < TOUCHY:
        return None
    return (
        "A touchy plan: a little more or less pressure changes it much. Build it up in light "
        "passes and compare often."
    )


def as_lab(row: FloatArray) -> Lab:
    """One row as a plain Lab."""
    L, a, b = np.asarray(row, dtype=np.float64).tolist()
    return (L, a, b)
