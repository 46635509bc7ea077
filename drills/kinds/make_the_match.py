"""Make the match: build a plan move by move from a tray of your pencils, seeing each result.

The target is a colour that these pencils make. The learner lays, takes back,
and says done. What is graded is the miss to be expected on paper, as the planner reckons it,
beside that of the plan it would show with the same tray. Difficulty is how much that may add
to the miss that no hand avoids (ΔE00) to count as matched.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import cast

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_steps
from drills.colour.reading import describe_difference
from drills.colour.spaces import reflectance_to_lab
from drills.layering.moves import FIRM, LIGHT, MIDDLE, Move, pressure_word
from drills.layering.palette import Palette
from drills.layering.predict import extend, predict_steps, sheet_lab, start
from drills.planning.plan import LikelyMiss
from drills.planning.planner import quick_plan, taught_plan
from drills.planning.pressure_spread import likely_miss
from drills.planning.rules import broken_rules
from drills.questions.draw import VISIBLE_STEP, FloatArray, as_lab, as_shown, askable, shown_pool
from drills.questions.exercise import Exercise, Keys
from drills.questions.given_colour import region_of
from drills.questions.protocol import (
    Answers,
    Ask,
    CannotAskError,
    Grade,
    Lab,
    Question,
    Reveal,
    Swatch,
)
from drills.questions.results import (
    MODEL_LIMITS,
    added_miss,
    choices,
    doubt_words,
    grain_words,
    made_words,
    near_miss,
    result,
)

TRAY = 8
MOST_LAYERS = 6
PLANNED_LAYERS = 4
PRESSURES = (LIGHT, MIDDLE, FIRM)
DONE = "done"
COLOUR_SHARE, RULES_SHARE, THRIFT_SHARE = 0.75, 0.15, 0.10
"""How the score is shared out: the colour reached, the rules of the craft, few layers."""
MOST_NAMED, MOST_RULES = 6, 4
"""Moves, and rules broken, that a reveal names: of more it counts the rest."""
WORTH_MIXING = 4.0
"""Least ΔE00 from any one pencil laid once or twice, so that it takes mixing."""
CLEARLY = 2.0
"""How much farther off than what counts as matched any one pencil should be (ΔE00)."""
TRIES = 16
PLANNED, REACHED = 4, 2.5
"""Targets that are planned at most, and the ΔE00 within which the first plan will do."""
WITHIN_REACH = 8.0
"""ΔE00 within which the pencils must come to a given colour for it to be asked at all."""


@dataclass(frozen=True, eq=False)
class ColourToMatch:
    """The ``tray`` as places in the palette, and the planner's best with it."""

    palette: Palette
    tray: tuple[int, ...]
    target: Lab
    paper: Lab
    best: tuple[Move, ...]
    best_off: LikelyMiss
    near_enough: float


class MakeTheMatch(Exercise[ColourToMatch]):
    name = "make-the-match"
    version = 3
    title = "Make the match"
    trains = "to bring a colour to the paper with the pencils at hand"
    at_the_table = "Lay a match on a scrap first, one move at a time, and look after each."
    look_for = (
        "Begin with a pencil near it in hue, not firmly. Then mend what is off most: value, hue, "
        "or too bright.",
    )
    seconds, unit, steps, chance = 60.0, "ΔE00", (10.0, 1.5), 0.02
    screen_only = True

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, FAMILIES)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = pool.of(region)
        mixed = mine[palette.pool.pencils[pool.places[mine], 1] >= 0]
        if not mixed.size or palette.at_hand.size < 3:
            raise CannotAskError(f"these pencils mix no {region}")
        some = rng.sample(mixed.tolist(), min(TRIES, len(mixed)))
        # One pencil, whichever, must not do: then the target need hardly be looked at.
        near = delta_e00(pool.lab[some][:, None, None], _alone(palette)).min(axis=1)
        used = [[int(i) for i in palette.pool.pencils[pool.places[at]] if i >= 0] for at in some]
        alone = np.array([row[pencils].min() for row, pencils in zip(near, used, strict=True)])
        if float(alone.max()) < WORTH_MIXING:
            raise CannotAskError(f"every {region} here is one pencil's own colour")
        least = max(WORTH_MIXING, step + CLEARLY)
        far = np.flatnonzero(alone >= least)
        found = []
        # A target that no quick plan comes near to would call a far miss as good as it gets.
        others = [at for at in np.argsort(-alone) if at not in far and alone[at] >= WORTH_MIXING]
        for turn in [*far.tolist(), *map(int, others)][:PLANNED]:
            target = as_lab(pool.lab[some[turn]])
            too_near = np.flatnonzero(near[turn] < min(least, float(alone[turn]))).tolist()
            tray = _tray(palette, used[turn], target, rng, too_near)
            off = quick_plan(palette, target, tray, PLANNED_LAYERS)[1]
            found.append((off, target, tray))
            if off <= REACHED:
                break
        _, target, tray = min(found, key=lambda one: one[0])
        plan = taught_plan(palette, target, tray, PLANNED_LAYERS)
        return self._question(palette, region, target, tray, plan, step)

    def make_for(self, palette: Palette, target: Lab, step: float, rng: random.Random) -> Question:
        """See ``drills.questions.given_colour``. Asked on any screen: the target, the pencils and
        what is laid go through it alike, and what is answered is pencils."""
        shown = as_shown(target)
        # Among all the pencils first: a tray without the right ones would be no fair trial.
        best, off = quick_plan(palette, shown, range(len(palette.names)), PLANNED_LAYERS)
        if off > WITHIN_REACH:
            raise CannotAskError(f"these pencils come no nearer to it than ΔE00 {off:.1f}")
        used = list(dict.fromkeys(m.pencil for m in best if m.pencil != palette.blender))
        if not used:
            raise CannotAskError("bare paper is as near to it as these pencils come")
        tray = _tray(palette, used, shown, rng)
        plan = taught_plan(palette, shown, tray, PLANNED_LAYERS)
        return self._question(palette, region_of(shown), shown, tray, plan, step)

    def _question(
        self,
        palette: Palette,
        region: str,
        target: Lab,
        tray: tuple[int, ...],
        plan: tuple[tuple[Move, ...], LikelyMiss],
        step: float,
    ) -> Question:
        best, best_off = plan
        paper = as_lab(reflectance_to_lab(palette.paper.reflectance))
        return self.question(
            ColourToMatch(palette, tray, target, paper, best, best_off, step),
            region,
            step,
            target,
            choices=[palette.names[i] for i in tray],
            key=made_words(palette, best),
            expected_miss=round(best_off.expected, 3),
            near_enough=round(step, 3),
        )

    def first_ask(self, data: ColourToMatch) -> Ask:
        return _ask(data, (), None)

    def next_ask(self, data: ColourToMatch, keys: Keys) -> Ask | None:
        moves, held = _played(data, keys)
        return None if keys[-1] == DONE and held is None else _ask(data, moves, held)

    def good_way(self, question: Question) -> Answers:
        """The planner's way, reply by reply."""
        data = cast(ColourToMatch, question.data)
        laid = [key for m in data.best for key in (str(m.pencil), pressure_word(m.pressure))]
        return tuple((key,) for key in (*laid, DONE))

    def graded(self, data: ColourToMatch, keys: Keys) -> Grade:
        moves, _ = _played(data, keys)
        off = _off(data, moves).expected
        excess = added_miss(off, data.best_off.expected)
        broken = broken_rules(data.palette, moves, data.target, data.tray) if moves else ()
        extra = max(0, len(moves) - len(data.best))
        score = (
            COLOUR_SHARE * near_miss(excess - VISIBLE_STEP, 6.0)
            + RULES_SHARE * (1.0 / (1.0 + len(broken)))
            + THRIFT_SHARE * (1.0 / (1.0 + extra))
        )
        right = bool(moves) and excess <= max(data.near_enough, VISIBLE_STEP)
        need = describe_difference(_end(data, moves), data.target)
        if excess < VISIBLE_STEP:
            verdict = "Yes: that is as near as one can count on with these pencils."
        elif right:
            verdict = f"Near enough. It would still have to become {need}."
        else:
            verdict = f"Not there yet: it has to become {need}. These pencils come nearer."
        figures = f"ΔE00 {off:.1f} off to be expected, the planner {data.best_off.expected:.1f}"
        return Grade(score, right, off, "ΔE00", verdict, figures)

    def revealed(self, data: ColourToMatch, keys: Keys) -> Reveal:
        palette = data.palette
        mine, _ = _played(data, keys)
        broken = broken_rules(palette, mine, data.target, data.tray) if mine else ()
        because = "No rule of the craft is broken."
        if broken:
            more = f"; and {len(broken) - MOST_RULES} more" if len(broken) > MOST_RULES else ""
            because = f"Rules of the craft broken: {'; '.join(broken[:MOST_RULES])}{more}."
        laid = made_words(palette, mine[:MOST_NAMED]) or "bare paper"
        if len(mine) > MOST_NAMED:
            laid += f", then {len(mine) - MOST_NAMED} more"
        planned = made_words(palette, data.best) or "bare paper"
        return Reveal(
            because=(because,),
            results=(
                result("your way", f"{laid}{_doubt(data, mine)}", _end(data, mine), mine=True),
                result(
                    "the planner's way",
                    f"{planned}{_doubt(data, data.best)}",
                    _end(data, data.best),
                    best=True,
                ),
            ),
            target=Swatch(data.target),
            limits=MODEL_LIMITS,
        )


def _ask(data: ColourToMatch, moves: tuple[Move, ...], held: int | None) -> Ask:
    palette = data.palette
    after = predict_steps(palette, moves)
    now = as_shown(after[-1]) if len(after) else data.paper
    label = f"{len(moves)} laid" if moves else "bare paper"
    scene = (Swatch(data.target, "the target"), Swatch(now, label))
    if held is not None:
        prompt = f"{palette.names[held]}: how hard?"
        hands = choices({pressure_word(p): pressure_word(p) for p in PRESSURES})
        return Ask(prompt, hands, scene, form="build", may_end=False)
    if len(moves) >= MOST_LAYERS:
        full = choices({DONE: "done: the paper takes no more here"})
        return Ask("Six layers are laid. Take one back, or say done.", full, scene, "build")
    labs = [None if i == palette.blender else as_shown(palette.lab[i]) for i in data.tray]
    tray = choices({str(i): palette.names[i] for i in data.tray}, labs)
    return Ask("Which pencil next? Say done when the colours match.", tray, scene, "build")


def _played(data: ColourToMatch, keys: Keys) -> tuple[tuple[Move, ...], int | None]:
    """The moves laid so far, and the pencil in hand whose pressure is still to be chosen."""
    words = {pressure_word(p): p for p in PRESSURES}
    moves: list[Move] = []
    held: int | None = None
    for key in keys:
        if held is not None:
            if key in words:
                moves.append(_as_move(data.palette, held, words[key]))
                held = None
        elif key != DONE and len(moves) < MOST_LAYERS and int(key) in data.tray:
            held = int(key)
    return tuple(moves), held


def _as_move(palette: Palette, pencil: int, pressure: float) -> Move:
    return Move("blend" if pencil == palette.blender else "lay", pencil, pressure)


def _end(data: ColourToMatch, moves: tuple[Move, ...]) -> Lab:
    return as_lab(predict_steps(data.palette, moves)[-1]) if moves else data.paper


def _off(data: ColourToMatch, moves: tuple[Move, ...]) -> LikelyMiss:
    return likely_miss(data.palette, moves, np.asarray(data.target), 0)


def _doubt(data: ColourToMatch, moves: tuple[Move, ...]) -> str:
    """Grain and doubt of a swatch, in words; bare paper has neither."""
    if not moves:
        return ""
    return f"; {grain_words(data.palette, moves)}, {doubt_words(_off(data, moves))}"


@lru_cache(maxsize=8)
def _alone(palette: Palette) -> FloatArray:
    """Lab (6, n, 3) of every pencil laid once and twice, at each pressure."""
    pencils = np.arange(len(palette.names))
    laid = []
    for pressure in PRESSURES:
        sheet = start(palette, len(pencils))
        for _ in range(2):
            sheet = extend(palette, sheet, pencils, np.full(len(pencils), pressure))
            laid.append(sheet_lab(sheet))
    return np.stack(laid)


def _tray(
    palette: Palette,
    used: list[int],
    target: Lab,
    rng: random.Random,
    without: Sequence[int] = (),
) -> tuple[int, ...]:
    """The pencils that made the target, kindred ones, one from across the wheel, a blender."""
    colours = [int(i) for i in palette.at_hand if i not in (*used, *without)]
    away = delta_e00(palette.lab[colours], np.asarray(target))
    kin = [colours[i] for i in np.argsort(away, kind="stable")[:8]]
    across = [
        i
        for i in colours
        if i not in kin and float(wheel_steps(palette.wheel[i], palette.wheel[used[0]])) >= 4.5
    ]
    tray = list(dict.fromkeys(used))
    tray += rng.sample(kin, min(len(kin), 3))
    tray += rng.sample(across, min(len(across), 1))
    rest = [i for i in colours if i not in tray]
    blender = palette.blender
    room = TRAY - len(tray) - (blender is not None)
    tray += rng.sample(rest, max(0, min(len(rest), room)))
    rng.shuffle(tray)
    return (*tray, blender) if blender is not None else tuple(tray)


KIND = MakeTheMatch()
