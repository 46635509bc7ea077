"""The door to the planner: ``plan``, ``quick_plan`` for drills, ``evaluate`` for own moves."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from numpy.typing import ArrayLike

from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.layering.moves import Move
from drills.layering.palette import Palette
from drills.layering.predict import predict
from drills.pencils.pencil import Lab
from drills.planning import plan as p
from drills.planning.choose import settled, to_show, weighed
from drills.planning.explain import bare_paper, evaluated, written
from drills.planning.plan_limits import Limits
from drills.planning.plan_words import CLOSE, as_lab
from drills.planning.pressure_spread import likely_miss
from drills.planning.request import QUICK, likely, make_job, ranked
from drills.planning.rules import broken_rules
from drills.planning.ways import Way, WayChoice, to_print, way_of, ways

NO_LIMITS = Limits()
LIGHTER = 1.0
"""L* by which a plan that is to be mended arrives too light; our estimate. With 3, more mendings
ended farther off than the plan alone, on simulated hands."""


TAUGHT = 48
"""Plans of a drill that are weighed, the nearest in colour first."""


def plan(
    palette: Palette,
    target_lab: Lab,
    limits: Limits = NO_LIMITS,
    seed: int = 0,
    reflectance: ArrayLike | None = None,
    way: Way | None = None,
    to_be_mended: bool = False,
    target_sd: float = 0.0,
) -> p.Plan:
    """The plan a good teacher would show with these pencils, with reasons and other ways.

    It goes one ``way`` where that is asked for. What is ``to_be_mended`` arrives a little
    lighter than the target on purpose (``LIGHTER``), for dark can't be lifted.
    ``target_sd`` is the doubt in a target that was read, as from a photo: the root mean square
    of a ΔE00, told of and counted into what is likely.
    ``reflectance`` (31,) is the target's spectrum where it is known; its colour then
    counts in place of ``target_lab``. ``seed`` draws the wandering hands and nothing
    else: the same call gives the same plan. Raises InputError for limits that no plan
    can keep, and for a target that is not a colour.
    """
    job = replace(make_job(palette, target_lab, limits, seed, reflectance), target_sd=target_sd)
    if to_be_mended:
        job = replace(job, lighter=LIGHTER)
    notes = [p.LIMITS_OF_MODEL]
    if reflectance is None:
        notes.append(p.NO_SPECTRUM if job.spectrum is None else p.RECOVERED)
    if target_sd > 0.0:
        notes.insert(0, p.read_note(target_sd))
    if job.bare_miss < CLOSE:
        return bare_paper(job, [p.PAPER_WILL_DO, *notes])
    found = likely(job)
    if not found:
        raise InputError(
            "plan",
            "no plan keeps the craft within these limits",
            "Allow more layers, or insist on fewer pencils.",
        )
    nearest = found[0]
    if nearest.delta_e00 > p.REACHED_WITHIN:
        nearest = min([nearest, *ranked(job, most=1)], key=lambda one: one.delta_e00)
    if job.within is not job.target:
        notes.insert(0, p.KEEPS_HUE)
    elif job.bare_miss <= nearest.delta_e00 and not limits.insist:
        return bare_paper(job, [p.PAPER_IS_NEAREST, *notes])
    if to_be_mended:
        notes.insert(0, p.LIGHT_ON_PURPOSE)
    plans = settled(job, to_print(palette, weighed(job, found)))
    shown = to_show(plans)
    others = ways(palette, plans, shown)
    if way is not None:
        asked = [one for one in others if one.way == way]
        if way == "nearest" and not asked:
            # It is shown already, or goes another way as well.
            asked = [WayChoice(way, min(plans, key=lambda one: one.expected))]
            others = [one for one in others if one.plan is not asked[0].plan]
        if asked:
            others = [one for one in others if one.way != way]
            shown = asked[0].plan
        elif way_of(palette, shown) != way:
            raise InputError("plan", f"no good plan goes {way}", "Choose another way, or none.")
    return written(job, shown, others, plans, nearest.moves, notes)


def quick_plan(
    palette: Palette, target_lab: Lab, tray: Iterable[int] | None = None, max_layers: int = 4
) -> tuple[tuple[Move, ...], float]:
    """Only the moves and their ΔE00, for drills: a narrow beam, no alternatives or reasons.

    ``tray`` holds the places of the pencils at hand. No moves means bare paper.
    Raises InputError as ``plan`` does.
    """
    limits = Limits(
        max_layers=max_layers,
        tray=None if tray is None else frozenset(tray),
        burnish=False,
    )
    job = make_job(palette, target_lab, limits, 0, None, spectral=False)
    found = ranked(job, QUICK, most=1)
    if not found or (job.aim is job.target and job.bare_miss <= found[0].delta_e00):
        return (), job.bare_miss
    return found[0].moves, float(delta_e00(predict(palette, found[0].moves), job.target))


def taught_plan(
    palette: Palette, target_lab: Lab, tray: Iterable[int], max_layers: int = 4
) -> tuple[tuple[Move, ...], p.LikelyMiss]:
    """What a teacher would lay with the pencils of ``tray``, for drills: moves, and their miss.

    As ``quick_plan``, but judged as ``plan`` judges. Raises InputError as ``plan`` does.
    """
    limits = Limits(max_layers=max_layers, tray=frozenset(tray), burnish=False)
    job = make_job(palette, target_lab, limits, 0, None, spectral=False)
    found = ranked(job, QUICK, most=TAUGHT)
    if found:
        shown = to_show(weighed(job, found))
        likely_off = likely_miss(palette, shown.candidate.moves, job.target, 0)
        if likely_off.expected < job.bare_miss:
            return shown.candidate.moves, likely_off
    return (), p.LikelyMiss(job.bare_miss, job.bare_miss, job.bare_miss)


def evaluate(
    palette: Palette,
    moves: Sequence[Move],
    target_lab: Lab,
    seed: int = 0,
    reflectance: ArrayLike | None = None,
    tray: Iterable[int] | None = None,
    target_sd: float = 0.0,
) -> p.Evaluation:
    """What becomes of these moves, and which rules of the craft they break.

    ``tray`` holds the places of the pencils at hand, where it isn't all of them; ``target_sd``
    as for ``plan``.
    Raises ValueError for a move that can't be made, InputError for a target that
    is no colour.
    """
    job = make_job(palette, target_lab, NO_LIMITS, seed, reflectance)
    job = replace(job, target_sd=target_sd)
    return evaluated(job, tuple(moves), broken_rules(palette, moves, as_lab(job.target), tray))
