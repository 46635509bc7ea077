"""A plan as JSON values, for ``coach plan --json``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from typing import Any

from drills.colour.reading import read_colour
from drills.layering.moves import Move, pressure_word
from drills.layering.palette import Palette
from drills.pencils.pencil import Lab
from drills.planning.mending.mend import Mending
from drills.planning.plan import LikelyMiss, Plan, PlannedMove, SetAside


def as_json(palette: Palette, found: Plan) -> dict[str, Any]:
    """The plan as JSON values. Lab, ΔE00 and Munsell value are rounded to three places."""
    reading = read_colour(found.target)
    missing = None
    if found.missing is not None:
        missing = {
            **asdict(found.missing),
            "delta_e00": round(found.missing.delta_e00, 3),
            "kind": found.missing.kind or None,
            "kind_lab": _lab(found.missing.kind_lab),
            "kind_delta_e00": _rounded(found.missing.kind_delta_e00),
        }
    return {
        "target": {
            "lab": _lab(found.target),
            "doubt": _rounded(found.target_sd),
            "reading": {
                "sentence": reading.sentence(),
                "munsell": reading.munsell,
                "family": reading.family,
                "lean": reading.lean,
                "value": round(reading.value, 3),
                "chroma_word": reading.chroma_word,
                "temperature": reading.temperature,
                "complement": reading.complement,
                "neutral": reading.neutral,
            },
        },
        "moves": [_planned(palette, one) for one in found.moves],
        "predicted_lab": _lab(found.predicted_lab),
        "delta_e00": _rounded(found.delta_e00),
        "way": found.way or None,
        **_likely(found.likely, found.rules_set_aside),
        "spread_delta_e00": _rounded(found.spread_delta_e00),
        "under": {lamp: _rounded(off) for lamp, off in found.under.items()},
        "alternatives": [
            {
                "way": other.way,
                "moves": [
                    {**_move(palette, move), "predicted_lab": _lab(step)}
                    for move, step in zip(other.moves, other.steps, strict=True)
                ],
                "predicted_lab": _lab(other.predicted_lab),
                "delta_e00": _rounded(other.delta_e00),
                **_likely(other.likely, other.rules_set_aside),
                "spread_delta_e00": _rounded(other.spread_delta_e00),
                "under": {lamp: _rounded(off) for lamp, off in other.under.items()},
            }
            for other in found.alternatives
        ],
        "reachable": found.reachable,
        "missing": missing,
        "notes": list(found.notes),
    }


def mending_json(palette: Palette, found: Mending) -> dict[str, Any]:
    """A mending as JSON values, rounded as a plan is."""
    return {
        "target": _lab(found.target),
        "got": _lab(found.got),
        "off": found.off,
        "delta_e00": _rounded(found.delta_e00),
        "tooth_filled": _rounded(found.filled),
        "guessed": found.guessed,
        "verdict": found.verdict,
        "words": found.words,
        "moves": [_planned(palette, one) for one in found.moves],
        "expected_miss": _rounded(found.likely.expected),
        "range90": [_rounded(found.likely.low), _rounded(found.likely.high)],
    }


def _planned(palette: Palette, one: PlannedMove) -> dict[str, Any]:
    return {
        **_move(palette, one.move),
        "predicted_lab": _lab(one.predicted_lab),
        "why": one.why,
        "stop": one.stop,
    }


def _likely(likely: LikelyMiss, aside: Sequence[SetAside]) -> dict[str, Any]:
    return {
        "expected_miss": _rounded(likely.expected),
        "range90": [_rounded(likely.low), _rounded(likely.high)],
        "rules_set_aside": [{"rule": one.rule, "cost": _rounded(one.cost)} for one in aside],
    }


def _move(palette: Palette, move: Move) -> dict[str, Any]:
    place = palette.blender if move.action == "blend" and move.pencil < 0 else move.pencil
    name = palette.names[place] if place is not None and place >= 0 else None
    return {"action": move.action, "pencil": name, "pressure": pressure_word(move.pressure)}


def _lab(lab: Lab | None) -> list[float] | None:
    return None if lab is None else [round(number, 3) for number in lab]


def _rounded(number: float | None) -> float | None:
    return None if number is None else round(number, 3)
