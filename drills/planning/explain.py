"""A chosen plan written out: steps, spread, other light, reasons, alternatives."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from drills.colour.difference import delta_e00
from drills.layering.films import FloatArray
from drills.layering.moves import Move, move_words
from drills.layering.predict import predict, predict_steps
from drills.planning import plan as p
from drills.planning.choose import Weighed
from drills.planning.missing import what_is_missing
from drills.planning.other_light import misses
from drills.planning.plan_words import as_lab, hand_note, imperative, lamp_note, tell
from drills.planning.pressure_spread import (
    as_it_may_be,
    likely_miss,
    miss_of,
    spread,
    wandering,
)
from drills.planning.request import QUICK, Job, ranked
from drills.planning.search.finished_spectra import finished
from drills.planning.ways import WayChoice, way_of


def bare_paper(job: Job, notes: Sequence[str]) -> p.Plan:
    """The plan of no moves."""
    missing = _missing(job, job.paper)
    return p.Plan(
        target=as_lab(job.target),
        moves=(),
        predicted_lab=as_lab(job.paper),
        delta_e00=job.bare_miss,
        likely=stays_likely(job),
        spread_delta_e00=0.0,
        under=under(job, [()], [job.paper])[0],
        alternatives=(),
        reachable=missing is None,
        missing=missing,
        notes=tuple(notes),
        target_sd=job.target_sd,
    )


def stays_likely(job: Job) -> p.LikelyMiss:
    """The miss of the bare paper: in doubt as the target is."""
    if not job.target_sd:
        return p.LikelyMiss(job.bare_miss, job.bare_miss, job.bare_miss)
    return miss_of(delta_e00(job.paper, as_it_may_be(job.target, job.target_sd, job.seed)))


def written(
    job: Job,
    chosen: Weighed,
    others: Sequence[WayChoice],
    plans: Sequence[Weighed],
    nearest: tuple[Move, ...],
    notes: Sequence[str],
) -> p.Plan:
    """The whole answer. All colours are worked anew in double precision.

    ``plans`` are all that were settled, ``nearest`` the moves that come nearest were hand and
    model exact.
    """
    printed = [chosen, *(other.plan for other in others)]
    recipes = [one.candidate.moves for one in printed]
    steps = [predict_steps(job.palette, moves) for moves in recipes]
    ends = [one[-1] for one in steps]
    hands = wandering(job.palette, recipes, job.seed)
    spreads = [spread(end, hand) for end, hand in zip(ends, hands, strict=True)]
    lamps = under(job, recipes, ends)
    moves = recipes[0]
    told = tell(job.palette, moves, steps[0], job.paper, job.target)
    missing = _missing(job, np.asarray(predict(job.palette, nearest)))
    likely = [one.likely for one in printed if one.likely is not None]
    own = [note for note in (lamp_note(lamps[0]), hand_note(spreads[0])) if note]
    return p.Plan(
        target=as_lab(job.target),
        moves=tuple(
            p.PlannedMove(
                move=move,
                words=imperative(job.palette, move),
                predicted_lab=as_lab(step),
                delta_e00=float(delta_e00(step, job.target)),
                why=one.why,
                stop=one.stop,
            )
            for move, step, one in zip(moves, steps[0], told, strict=True)
        ),
        predicted_lab=as_lab(ends[0]),
        delta_e00=float(delta_e00(ends[0], job.target)),
        likely=likely[0],
        spread_delta_e00=spreads[0],
        under=lamps[0],
        alternatives=tuple(
            p.Alternative(
                way=other.way,
                moves=recipes[i],
                words=tuple(move_words(job.palette, move) for move in recipes[i]),
                steps=tuple(as_lab(step) for step in steps[i]),
                predicted_lab=as_lab(ends[i]),
                delta_e00=float(delta_e00(ends[i], job.target)),
                likely=likely[i],
                spread_delta_e00=spreads[i],
                under=lamps[i],
                rules_set_aside=_set_aside(other.plan, plans),
            )
            for i, other in enumerate(others, start=1)
        ),
        reachable=missing is None,
        missing=missing,
        notes=(*own, *notes),
        way=way_of(job.palette, chosen),
        target_sd=job.target_sd,
        rules_set_aside=_set_aside(chosen, plans),
    )


def _set_aside(one: Weighed, plans: Sequence[Weighed]) -> tuple[p.SetAside, ...]:
    """What each rule set aside would have cost to keep."""
    found = []
    for rule in one.aside:
        keeping = [other.expected for other in plans if rule not in other.aside]
        cost = max(0.0, min(keeping) - one.expected) if keeping else None
        found.append(p.SetAside(rule, cost))
    return tuple(found)


def evaluated(job: Job, moves: tuple[Move, ...], broken: tuple[str, ...]) -> p.Evaluation:
    """What becomes of given moves."""
    steps = predict_steps(job.palette, moves)
    end = steps[-1] if len(steps) else job.paper
    hands = wandering(job.palette, [moves], job.seed)[0] if moves else np.empty((0, 3))
    return p.Evaluation(
        steps=tuple(as_lab(step) for step in steps),
        predicted_lab=as_lab(end),
        delta_e00=float(delta_e00(end, job.target)),
        likely=likely_miss(job.palette, moves, job.target, job.seed, job.target_sd),
        spread_delta_e00=spread(end, hands) if moves else 0.0,
        under=under(job, [moves], [end])[0],
        broken=broken,
    )


def under(
    job: Job, recipes: Sequence[tuple[Move, ...]], ends: Sequence[FloatArray]
) -> list[dict[str, float]]:
    """The miss of each recipe by lamp; by D50 alone where the target has no spectrum."""
    if job.spectrum is None:
        return [{"D50": float(delta_e00(end, job.target))} for end in ends]
    by_lamp = misses(finished(job.palette, recipes), job.spectrum)
    return [{lamp: float(off[i]) for lamp, off in by_lamp.items()} for i in range(len(recipes))]


def _missing(job: Job, reached: FloatArray) -> p.Missing | None:
    """What is lacking, unless the target is reached."""
    if float(delta_e00(reached, job.target)) <= p.REACHED_WITHIN:
        return None
    return what_is_missing(job, reached, lambda wider: ranked(wider, QUICK))
