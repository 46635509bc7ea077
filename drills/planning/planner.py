"""The door to the planner: ``plan``, ``quick_plan`` for drills, ``evaluate`` for one's own moves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import ArrayLike

from drills.colour.difference import delta_e00
from drills.colour.spaces import reflectance_to_lab
from drills.errors import InputError
from drills.layering.films import FloatArray
from drills.layering.moves import Move, move_words
from drills.layering.palette import Palette
from drills.layering.predict import predict_steps
from drills.pencils.pencil import Lab
from drills.planning import plan as p
from drills.planning.beam import Task, Width, search
from drills.planning.choose import Choice, alternatives, finished, main_plan
from drills.planning.craft import Roles, roles
from drills.planning.found import Candidate, candidates
from drills.planning.hand import spread, wandering
from drills.planning.lamps import misses, spectrum_of
from drills.planning.limits import Limits, usable
from drills.planning.rules import broken_rules
from drills.planning.words import CLOSE, as_lab, hand_note, lamp_note, reasons

SHORT, LONG, QUICK = Width(1500, 60, 30), Width(400, 40, 24), Width(60, 8, 6)
"""Beams for plans of up to three moves (all but exhaustive), of more, and for drills."""


def plan(
    palette: Palette,
    target_lab: Lab,
    limits: Limits = Limits(),
    seed: int = 0,
    reflectance: Sequence[float] | FloatArray | None = None,
) -> p.Plan:
    """The best plan these pencils allow, with reasons and alternatives.

    ``reflectance`` (31,) is the target's spectrum where it is known; its colour then
    counts in place of ``target_lab``. ``seed`` draws the wandering hands and nothing
    else: the same call gives the same plan. Raises InputError for limits that no plan
    can keep, and for a target that is not a colour.
    """
    target, spectrum = _target(target_lab, reflectance)
    places = np.array(usable(palette.set, limits), dtype=np.int64)
    notes = [p.LIMITS_OF_MODEL]
    if reflectance is None:
        notes.append(p.RECOVERED if spectrum is not None else p.NO_SPECTRUM)
    paper = reflectance_to_lab(palette.paper.reflectance)
    bare = float(delta_e00(paper, target))
    if bare < CLOSE:
        return _bare(palette, paper, target, spectrum, [p.PAPER_WILL_DO, *notes])
    parts = roles(palette, as_lab(target))
    width = SHORT if limits.max_layers <= 3 else LONG
    ranked = _ranked(palette, target, places, parts, limits, width)
    if not ranked:
        raise InputError(
            "plan",
            "no plan keeps the craft within these limits",
            "Allow more layers, or insist on fewer pencils.",
        )
    if bare <= ranked[0].delta_e00 and not limits.insist:
        from drills.planning.missing import what_is_missing

        found = _bare(palette, paper, target, spectrum, [p.PAPER_IS_NEAREST, *notes])
        lacking = what_is_missing(palette, places, limits, (), paper, target)
        return replace(found, reachable=bare <= p.REACHED_WITHIN, missing=lacking)
    chosen = main_plan(palette, target, ranked, seed)
    others = alternatives(palette, target, spectrum, ranked, chosen, seed)
    return _written(
        palette, places, limits, target, spectrum, paper, parts, chosen, others, notes, seed
    )


def quick_plan(
    palette: Palette, target_lab: Lab, tray: Iterable[int] | None = None, max_layers: int = 4
) -> tuple[tuple[Move, ...], float]:
    """Only the moves and their ΔE00, for drills: a narrow beam, no alternatives or reasons.

    ``tray`` holds the places of the pencils at hand. No moves means bare paper.
    """
    limits = Limits(
        max_layers=max_layers,
        tray=None if tray is None else frozenset(tray),
        burnish=False,
    )
    target, _ = _target(target_lab, None, spectral=False)
    places = np.array(usable(palette.set, limits), dtype=np.int64)
    bare = float(delta_e00(reflectance_to_lab(palette.paper.reflectance), target))
    ranked = _ranked(palette, target, places, roles(palette, as_lab(target)), limits, QUICK)
    if not ranked or bare <= ranked[0].delta_e00:
        return (), bare
    return ranked[0].moves, ranked[0].delta_e00


def evaluate(
    palette: Palette,
    moves: Sequence[Move],
    target_lab: Lab,
    seed: int = 0,
    reflectance: Sequence[float] | FloatArray | None = None,
) -> p.Evaluation:
    """What becomes of these moves, and which rules of the craft they break.

    Raises ValueError for a move that can't be made, InputError as ``plan`` does.
    """
    target, spectrum = _target(target_lab, reflectance)
    paper = reflectance_to_lab(palette.paper.reflectance)
    steps = predict_steps(palette, moves)
    end = steps[-1] if len(steps) else paper
    return p.Evaluation(
        tuple(as_lab(step) for step in steps),
        as_lab(end),
        float(delta_e00(end, target)),
        spread(end, wandering(palette, [tuple(moves)], seed)[0]) if moves else 0.0,
        _under(palette, [tuple(moves)], spectrum, target, [end])[0],
        broken_rules(palette, moves, as_lab(target)),
    )


def _target(
    target_lab: Lab, reflectance: ArrayLike | None, spectral: bool = True
) -> tuple[FloatArray, FloatArray | None]:
    if reflectance is not None:
        spectrum = np.asarray(reflectance, dtype=np.float64)
        if spectrum.shape != (31,) or not ((spectrum >= 0.0) & (spectrum <= 1.0)).all():
            raise InputError(
                "target",
                "its spectrum is not 31 numbers from 0 to 1",
                "Give reflectance at 400, 410 … 700 nm.",
            )
        return reflectance_to_lab(spectrum), spectrum
    target = np.asarray(target_lab, dtype=np.float64)
    if target.shape != (3,) or not np.isfinite(target).all():
        raise InputError("target", "not a colour", "Give L*, a* and b*.")
    return target, spectrum_of(target) if spectral else None


def _ranked(
    palette: Palette,
    target: FloatArray,
    places: np.ndarray,
    parts: Roles,
    limits: Limits,
    width: Width,
) -> list[Candidate]:
    insist = np.isin(places, sorted(limits.insist))
    task = Task(
        palette,
        places,
        target,
        parts.of(places),
        insist,
        limits.max_layers,
        limits.max_pencils,
        limits.blender and palette.blender is not None,
        limits.burnish,
        width,
    )
    return candidates(search(task))


def _under(
    palette: Palette,
    recipes: Sequence[tuple[Move, ...]],
    spectrum: FloatArray | None,
    target: FloatArray,
    ends: Sequence[FloatArray],
) -> list[dict[str, float]]:
    if spectrum is None:
        return [{"D50": float(delta_e00(end, target))} for end in ends]
    by_lamp = misses(finished(palette, recipes), spectrum)
    return [{lamp: float(off[i]) for lamp, off in by_lamp.items()} for i in range(len(recipes))]


def _bare(
    palette: Palette,
    paper: FloatArray,
    target: FloatArray,
    spectrum: FloatArray | None,
    notes: list[str],
) -> p.Plan:
    return p.Plan(
        as_lab(target),
        (),
        as_lab(paper),
        float(delta_e00(paper, target)),
        0.0,
        _under(palette, [()], spectrum, target, [paper])[0],
        (),
        True,
        None,
        tuple(notes),
    )


def _written(
    palette: Palette,
    places: np.ndarray,
    limits: Limits,
    target: FloatArray,
    spectrum: FloatArray | None,
    paper: FloatArray,
    parts: Roles,
    chosen: Candidate,
    others: list[Choice],
    notes: list[str],
    seed: int,
) -> p.Plan:
    recipes = [chosen.moves, *(other.candidate.moves for other in others)]
    steps = [predict_steps(palette, moves) for moves in recipes]
    ends = [one[-1] for one in steps]
    spreads = [
        spread(end, hands)
        for end, hands in zip(ends, wandering(palette, recipes, seed), strict=True)
    ]
    under = _under(palette, recipes, spectrum, target, ends)
    off = float(delta_e00(ends[0], target))
    told = reasons(palette, chosen.moves, steps[0], paper, target, parts)
    missing = None
    if off > p.REACHED_WITHIN:
        from drills.planning.missing import what_is_missing

        missing = what_is_missing(palette, places, limits, chosen.moves, ends[0], target)
    extra = [note for note in (lamp_note(under[0]), hand_note(spreads[0])) if note]
    return p.Plan(
        as_lab(target),
        tuple(
            p.PlannedMove(
                move, move_words(palette, move), as_lab(step),
                float(delta_e00(step, target)), why, stop,
            )
            for move, step, (why, stop) in zip(chosen.moves, steps[0], told, strict=True)
        ),
        as_lab(ends[0]),
        off,
        spreads[0],
        under[0],
        tuple(
            p.Alternative(
                other.label,
                other.candidate.moves,
                tuple(move_words(palette, move) for move in other.candidate.moves),
                tuple(as_lab(step) for step in steps[i]),
                as_lab(ends[i]),
                float(delta_e00(ends[i], target)),
                spreads[i],
                under[i],
            )
            for i, other in enumerate(others, start=1)
        ),
        off <= p.REACHED_WITHIN,
        missing,
        tuple(extra + notes),
    )  # fmt: skip
