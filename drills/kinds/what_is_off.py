"""What is off? A target beside a half-made swatch: which correction comes next?

The half-made swatch is a planner's own, stopped before its last moves. The key
is the correction that the planner's next move really makes, asked only where it
is also the one that brings the swatch nearest. Difficulty is how much nearer it
comes than the next best correction (ΔE00).
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, family_at, wheel_position
from drills.colour.reading import describe_difference
from drills.colour.spaces import in_screen_gamut, lab_to_lch, lch_to_lab
from drills.layering.moves import move_words
from drills.layering.palette import Palette
from drills.layering.predict import predict_steps
from drills.planning.planner import quick_plan
from drills.questions.draw import VISIBLE_STEP, as_json, as_lab, as_shown, askable, shown_pool
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import MODEL_LIMITS, choices, gap, made_words, near_miss, result

HALF_MADE = 3.0
"""Least ΔE00 between the half-made swatch and the target."""
TRIES = 6
DARKER_SHARE = 0.25
"""How often a stage that only wants to be darker will do at once; else another is looked for."""
TRAY = 6
PLANNED_LAYERS = 3
"""Enough for two half-made stages; a fourth takes half as long again to plan."""


@dataclass(frozen=True)
class HalfMade:
    """Each correction with the swatch it would give and how far that still misses (ΔE00)."""

    target: Lab
    half: Lab
    after: Lab
    laid: str
    next_move: str
    names: tuple[str, ...]
    swatches: tuple[Lab, ...]
    errors: tuple[float, ...]

    @property
    def best(self) -> int:
        return int(np.argmin(self.errors))


class WhatIsOff(Exercise[HalfMade]):
    name = "what-is-off"
    version = 2
    title = "What is off?"
    trains = "to see what a half-made colour still wants"
    seconds, unit, steps, chance = 15.0, "ΔE00", (8.0, 1.0), 1 / 6

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, FAMILIES)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = pool.of(region)
        mixed = mine[palette.pool.pencils[pool.places[mine], 1] >= 0]
        if not mixed.size:
            raise CannotAskError(f"these pencils mix no {region}")
        found: list[HalfMade] = []
        # On white paper most half-made swatches want to be darker: said blindly, it would be right.
        any_will_do = rng.random() < DARKER_SHARE
        for turn in range(TRIES):
            at = int(mixed[rng.randrange(len(mixed))])
            used = [int(i) for i in palette.pool.pencils[pool.places[at]] if i >= 0]
            found.extend(_stages(palette, as_lab(pool.lab[at]), used, rng))
            good = [data for data in found if any_will_do or data.names[data.best] != "darker"]
            if good and (turn or min(abs(gap(data.errors) - step) for data in good) < 0.5 * step):
                break
        found = good or found
        if not found:
            raise CannotAskError(f"no half-made {region} here has one thing wrong with it")
        data = min(found, key=lambda one: abs(gap(one.errors) - step))
        return self.question(
            data,
            region,
            gap(data.errors),
            data.target,
            half=as_json(data.half),
            laid=data.laid,
            next=data.next_move,
            choices=list(data.names),
            delta_e00=[round(error, 3) for error in data.errors],
            key=data.names[data.best],
        )

    def first_ask(self, data: HalfMade) -> Ask:
        return Ask(
            "The right swatch is half made. Which one correction brings it nearest the target?",
            choices({name: f"make it {name}" for name in data.names}),
            (Swatch(data.target, "the target"), Swatch(data.half, "so far")),
        )

    def graded(self, data: HalfMade, keys: Keys) -> Grade:
        (said,) = keys
        chosen = data.names.index(said)
        error, best = data.errors[chosen], data.errors[data.best]
        right = chosen == data.best
        verdict = (
            f"Yes: it wants to be {said}."
            if right
            else (
                f"{said.capitalize()} would leave it ΔE00 {error:.1f} off; "
                f"{data.names[data.best]} brings it to {best:.1f}."
            )
        )
        return Grade(near_miss(error - best, 6.0), right, error, "ΔE00", verdict)

    def revealed(self, data: HalfMade, keys: Keys) -> Reveal:
        (said,) = keys
        rows = []
        for i in sorted(range(len(data.names)), key=lambda place: data.errors[place]):
            name = data.names[i]
            words = f"that alone would leave it ΔE00 {data.errors[i]:.1f} off"
            rows.append(result(name, words, data.swatches[i], name == said, i == data.best))
        return Reveal(
            because=(
                f"So far: {data.laid}. Against the target it must become "
                f"{describe_difference(data.half, data.target)}.",
                f"The planner's next move: {data.next_move}, which makes it "
                f"{describe_difference(data.half, data.after)}.",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
            limits=MODEL_LIMITS,
        )


def _stages(palette: Palette, target: Lab, used: list[int], rng: random.Random) -> list[HalfMade]:
    """Every sound question in a plan for this target, one for each move after the first."""
    others = [int(i) for i in palette.colour_indices if i not in used]
    tray = [*used, *rng.sample(others, min(len(others), TRAY - len(set(used))))]
    moves, _ = quick_plan(palette, target, tray, PLANNED_LAYERS)
    steps = predict_steps(palette, moves)
    found = []
    for i in range(1, len(moves)):
        half, after = as_shown(steps[i - 1]), as_lab(steps[i])
        if not in_screen_gamut(steps[i - 1]):
            continue
        if float(delta_e00(half, target)) < HALF_MADE:
            continue
        names, swatches = corrections(half, target)
        errors = delta_e00(np.array(swatches), np.asarray(target))
        to_next = delta_e00(np.array(swatches), np.asarray(after))
        first, second, *_ = np.sort(errors)
        if int(np.argmin(errors)) != int(np.argmin(to_next)):
            continue
        if second - first < VISIBLE_STEP:
            continue
        found.append(
            HalfMade(
                target=target,
                half=half,
                after=after,
                laid=made_words(palette, moves[:i]),
                next_move=move_words(palette, moves[i]),
                names=names,
                swatches=swatches,
                errors=tuple(float(error) for error in errors),
            )
        )
    return found


def corrections(half: Lab, target: Lab) -> tuple[tuple[str, ...], tuple[Lab, ...]]:
    """Six corrections of a swatch, each of one kind and of the size the target asks for.

    Lighter, darker, brighter, duller, and toward the families on either side of
    the swatch's own; the wrong way of each goes as far as the right way would.
    """
    (L0, C0, h0), (L1, C1, h1) = lab_to_lch(np.array([half, target])).tolist()
    by_L, by_C = abs(L1 - L0), abs(C1 - C0)
    turn = (h1 - h0 + 180.0) % 360.0 - 180.0
    index = int(family_at(wheel_position(half)))
    # The hue angle falls as the wheel goes on from yellow to red.
    onward, back = FAMILIES[(index + 1) % 12], FAMILIES[index - 1]
    tried = [
        ("lighter", (min(100.0, L0 + by_L), C0, h0)),
        ("darker", (max(0.0, L0 - by_L), C0, h0)),
        ("brighter", (L0, C0 + by_C, h0)),
        ("duller", (L0, max(0.0, C0 - by_C), h0)),
        (f"more {onward}", (L0, C0, h0 - abs(turn))),
        (f"more {back}", (L0, C0, h0 + abs(turn))),
    ]
    labs = lch_to_lab(np.array([lch for _, lch in tried]))
    return tuple(name for name, _ in tried), tuple(as_lab(lab) for lab in labs)


KIND = WhatIsOff()
