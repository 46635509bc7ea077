"""Ways to a target, each as moves to step through."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.design.measures import columns
from coach.widgets.strip import StripStep
from drills.questions.protocol import Lab

if TYPE_CHECKING:
    from drills.layering.moves import Move
    from drills.layering.palette import Palette
    from drills.planning.plan import Alternative, LikelyMiss, Plan

GRAIN = (
    "The grain is drawn by lot and far coarser than on paper: half close your eyes, and it is the "
    "even swatch. Which spot stays bare isn't known; what is told is of the mean."
)
OWN_WAY = "your own way"
LAMPS = {"D50": "daylight, warm (D50)", "D65": "daylight, cool (D65)", "A": "a filament lamp (A)"}
"""What each illuminant of CIE 015:2018 stands for; a white LED is whatever is left."""


@dataclass(frozen=True)
class Route:
    """One way to the target, whether the planner's or the learner's own after a swap.

    Of each move ``stops`` says when to stop and ``whys`` why it is made; ``tail`` is what to count
    on, ``figures`` how steady it is and how it holds in other light.
    """

    label: str
    moves: tuple[Move, ...]
    words: tuple[str, ...]
    steps: tuple[Lab, ...]
    off: tuple[float, ...]
    stops: tuple[str, ...]
    whys: tuple[str, ...]
    tail: str
    figures: str
    likely: LikelyMiss

    def told(self, at: int, details: bool) -> list[str]:
        """What to say where the first ``at`` moves are laid; with ``details`` all that is known."""
        told = []
        if at and self.stops[at - 1]:
            told.append(f"{self.stops[at - 1]} {self.whys[at - 1] if details else ''}".strip())
        return [*told, self.tail, *([self.figures] if details else ())]


def routes_of(plan: Plan, few: bool = False) -> tuple[Route, ...]:
    """The plan and its alternatives as routes to step through; with ``few`` their words have one
    figure a sentence."""
    from drills.colour.difference import delta_e00

    main = Route(
        "the plan",
        plan.recipe,
        tuple(move.words for move in plan.moves),
        tuple(move.predicted_lab for move in plan.moves),
        tuple(move.delta_e00 for move in plan.moves),
        tuple(move.stop for move in plan.moves),
        tuple(move.why for move in plan.moves),
        _tail(plan, few),
        tail_words(plan.spread_delta_e00, dict(plan.under), few),
        plan.likely,
    )
    others = tuple(
        Route(
            other.way,
            other.moves,
            other.words,
            other.steps,
            tuple(float(delta_e00(step, plan.target)) for step in other.steps),
            tuple("" for _ in other.moves),
            tuple("" for _ in other.moves),
            _tail(other, few),
            tail_words(other.spread_delta_e00, dict(other.under), few),
            other.likely,
        )
        for other in plan.alternatives
    )
    return (main, *others)


def _tail(plan: Plan | Alternative, few: bool) -> str:
    """What to count on, and what is set aside."""
    return " ".join([plan.likely.words(few), *(one.words() for one in plan.rules_set_aside)])


def tail_words(spread: float, under: dict[str, float], few: bool = False) -> str:
    """How steady the result is, and how it holds under other light; with ``few`` under the worst
    alone."""
    if few:
        worst = max(under, key=lambda lamp: under[lamp], default="")
        light = LAMPS.get(worst, "a white LED")
        told = f" Of other lights the worst is {light}: ΔE00 {under[worst]:.1f}." if worst else ""
        return (
            f"If pressure varies a little, nine results in ten stay within ΔE00 {spread:.1f}.{told}"
        )
    lamps = "; ".join(
        f"{LAMPS.get(lamp, 'a white LED')} {miss:.1f}" for lamp, miss in under.items()
    )
    steady = f"If pressure varies by 15 %, nine results in ten stay within ΔE00 {spread:.1f}."
    return f"{steady} ΔE00 in other light: {lamps}."


def own_route(
    palette: Palette,
    moves: tuple[Move, ...],
    target: Lab,
    target_sd: float = 0.0,
    few: bool = False,
) -> Route:
    """The learner's own moves, with the rules of the craft that they break; ``target_sd`` as in
    Plan, ``few`` as in ``routes_of``."""
    from drills.colour.difference import delta_e00
    from drills.layering.moves import move_words
    from drills.planning.planner import evaluate

    seen = evaluate(palette, moves, target, target_sd=target_sd)
    broken = tuple(f"Mind: {rule}." for rule in seen.broken)
    return Route(
        OWN_WAY,
        moves,
        tuple(move_words(palette, move) for move in moves),
        seen.steps,
        tuple(float(delta_e00(step, target)) for step in seen.steps),
        tuple("" for _ in moves),
        tuple("" for _ in moves),
        " ".join((seen.likely.words(few), *broken)),
        tail_words(seen.spread_delta_e00, dict(seen.under), few),
        seen.likely,
    )


def paper_lab(palette: Palette) -> Lab:
    """The bare paper's colour."""
    from drills.colour.spaces import reflectance_to_lab

    L, a, b = reflectance_to_lab(palette.paper.reflectance).tolist()
    return (L, a, b)


def strip_of(route: Route, palette: Palette, paper: Lab) -> tuple[StripStep, ...]:
    """The route as a strip: bare paper, then what stands after each move."""
    from drills.layering.moves import pressure_word

    steps = [StripStep(paper, code="paper")]
    for move, lab in zip(route.moves, route.steps, strict=True):
        own: Lab | None = None
        code: str = move.action
        if move.pencil >= 0 and not palette.set.pencils[move.pencil].is_blender:
            pencil = palette.set.pencils[move.pencil]
            L, a, b = palette.lab[move.pencil].tolist()
            own, code = (L, a, b), pencil.code or pencil.name
        steps.append(StripStep(lab, own, pressure_word(move.pressure), code))
    return tuple(steps)


def move_lines(route: Route, at: int, few: bool = False) -> list[str]:
    """A line a move with how far off it leaves, the one at ``at`` (from 1; 0 for paper) marked;
    with ``few`` the move alone."""
    rows = [("", "", "", "ΔE00")]
    for i, (words, off) in enumerate(zip(route.words, route.off, strict=True), start=1):
        rows.append(("▸" if i == at else " ", str(i), words, f"{off:.1f}"))
    return columns([row[:3] for row in rows[1:]] if few else rows, "<><>"[: 3 + (not few)], gap=1)


def way_lines(routes: Sequence[Route], at: int, few: bool = False) -> list[str]:
    """A line a way to the target, the one at ``at`` marked; nothing where there is but one.
    With ``few`` how far off each is, and not in how many moves."""
    if len(routes) < 2:
        return []
    rows = [("", "Ways (a: the next)", "moves", "ΔE00")]
    for i, one in enumerate(routes):
        mark = "▸" if i == at else " "
        rows.append((mark, one.label, str(len(one.moves)), f"{one.off[-1]:.1f}" if one.off else ""))
    if few:
        return columns([(mark, label, off) for mark, label, _, off in rows], "<<>", gap=1)
    return columns(rows, "<<>>", gap=1)
