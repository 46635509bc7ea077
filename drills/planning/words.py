"""Plans in an artist's words: what was off, what a move does about it, when to stop."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.reading import describe_difference, read_colour
from drills.layering.films import FloatArray
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import predict_many
from drills.planning.craft import Roles
from drills.planning.lamps import FALLS_APART, LAMP_WORDS

CLOSE = 1.0
"""ΔE00 under which two swatches pass for one."""


def reasons(
    palette: Palette, moves: Sequence[Move], steps: FloatArray, paper: FloatArray,
    target: FloatArray, roles: Roles,
) -> list[tuple[str, str]]:  # fmt: skip
    """Why each move is made, and when to stop. ``steps`` (len(moves), 3) is what it leads to."""
    out = []
    before = paper
    for at, (move, after) in enumerate(zip(moves, steps, strict=True)):
        out.append(
            (
                _why(palette, moves, at, before, after, target, roles),
                _stop(palette, moves, at, after, target),
            )
        )
        before = after
    return out


def _why(
    palette: Palette, moves: Sequence[Move], at: int, before: FloatArray, after: FloatArray,
    target: FloatArray, roles: Roles,
) -> str:  # fmt: skip
    move = moves[at]
    if move.action == "blend":
        return (
            "Enough colour is down: a light blending evens the grain and carries colour into "
            "the valleys. It leaves a pale haze, which the next layer takes off."
        )
    does = describe_difference(before, after)
    if move.action == "burnish":
        return f"Pressing flat closes the last white flecks: {does}. Nothing takes after it."
    if at == 0:
        family = read_colour(palette.lab[move.pencil])
        wanted = read_colour(target)
        if family.neutral:
            return "A grey to begin with, for the target is greyed: it sets the value."
        if family.family == wanted.family and not wanted.neutral:
            return f"Begin in the target's own family, {wanted.family}."
        if wanted.neutral:
            return f"Begin with a dull {family.family}; what follows takes its colour out."
        return f"Begin beside the target, in {family.family}: what follows brings it to {wanted.family}."
    need = f"Still wanted: {describe_difference(before, target)}."
    main = moves[0].pencil
    if moves[at - 1].action == "blend":
        return f"{need} Finishing with colour takes the haze off: {does}."
    if roles.mutes[main, move.pencil]:
        return (
            f"{need} From across the wheel, this mutes it: {does}. "
            "It is held inside, so that it won't show as a colour of its own."
        )
    return f"{need} What this does: {does}."


def _stop(
    palette: Palette, moves: Sequence[Move], at: int, after: FloatArray, target: FloatArray
) -> str:
    left = float(delta_e00(after, target))
    move = moves[at]
    if move.action == "blend":
        return "Stop when the grain is even; don't press."
    if move.action == "burnish":
        return "Stop when the sheen is even: this ends the work."
    if at < len(moves) - 1:
        return (
            f"Stop while it is still {describe_difference(target, after)} than the target."
            if (left >= CLOSE)
            else "Stop here: the colour is right, what follows only settles it."
        )
    once_more = predict_many(palette, [[*moves, move]])[0]
    beyond = float(delta_e00(once_more, target))
    if left < CLOSE:
        return "Stop: it is the same to the eye." + (
            f" Another layer would make it {describe_difference(target, once_more)}."
            if beyond >= CLOSE
            else ""
        )
    rest = f"Stop here, still {describe_difference(target, after)} than the target"
    return rest + (": another layer takes it further off." if beyond > left else ".")


def lamp_note(under: Mapping[str, float]) -> str | None:
    """The lamp under which a match falls apart most, said plainly; None if it holds."""
    base = under.get("D50", 0.0)
    worst = max(under, key=lambda lamp: under[lamp], default="D50")
    if not under or under[worst] - base < FALLS_APART:
        return None
    return (
        f"This match holds in daylight and falls apart under {LAMP_WORDS[worst]}: "
        f"ΔE00 {base:.1f} becomes {under[worst]:.1f}. Judge it in the light it will hang in."
    )


def hand_note(spread: float) -> str | None:
    """A plan that asks for a steadier hand than most."""
    if spread < 4.0:
        return None
    return (
        f"A touchy plan: a hand that wanders by 15 % lands up to ΔE00 {spread:.1f} away. "
        "Build it up in light passes and compare often."
    )


def plain_list(parts: Sequence[str]) -> str:
    """ "a, b and c"."""
    if len(parts) < 2:
        return "".join(parts)
    return f"{', '.join(parts[:-1])} and {parts[-1]}"


def as_lab(row: FloatArray) -> tuple[float, float, float]:
    """One row as a plain Lab."""
    L, a, b = np.asarray(row, dtype=np.float64).tolist()
    return (L, a, b)
