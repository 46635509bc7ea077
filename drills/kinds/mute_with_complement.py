"""The complement that mutes it: which pencil, laid lightly inside, brings a colour to a target.

A main colour is too bright for the target. Four of the learner's pencils are
offered; each is tried, lightly, between two layers of the main colour, and the
results are compared. Difficulty is how much better the best is than the next
(ΔE00): a small gap is hard.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, complement, wheel_position, wheel_steps
from drills.colour.reading import describe_difference, read_colour
from drills.colour.spaces import in_screen_gamut
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.kinds.common import (
    MODEL_LIMITS,
    BoolArray,
    FloatArray,
    IntArray,
    as_json,
    as_lab,
    as_shown,
    askable,
    change_in_numbers,
    family_of,
    mark_of,
    near_miss,
)
from drills.kinds.protocol import (
    VISIBLE_STEP_DELTA_E00,
    Answers,
    Ask,
    CannotAskError,
    Choice,
    Grade,
    Lab,
    Question,
    Result,
    Reveal,
    Swatch,
)
from drills.layering.moves import LIGHT, MIDDLE
from drills.layering.palette import Palette
from drills.layering.predict import extend, sheet_lab, start

BRIGHT_FROM = 5.0
"""Least strength (about Munsell chroma) of a main colour: a dull one needs no muting."""
TOO_BRIGHT = 2.0
"""Least ΔE00 between the main colour alone and the target."""
OVER = LIGHT
"""Pressure of the main colour's layer over the muting one, enough to hold it in."""
OPPOSITE = 4.5
"""Wheel steps from which a pencil counts as a complement that mutes."""
KEPT = 1.0
"""Wheel steps the target may turn off the main colour: muted, not another colour."""
PAIRS = 240
"""How many pairs of a main colour and its complement are looked at for a family."""
TRIES = 24
"""How many targets a question is chosen from: a pair and a hand each."""


@dataclass(frozen=True)
class Data:
    """``alone`` is the main colour unmuted; each of ``offered`` a pencil with its result."""

    main: int
    main_name: str
    main_family: int
    target: Lab
    alone: Lab
    offered: tuple[int, ...]
    names: tuple[str, ...]
    swatches: tuple[Lab, ...]
    results: tuple[Lab, ...]
    errors: tuple[float, ...]

    @property
    def best(self) -> int:
        """The place among the offered of the one that comes nearest."""
        return int(np.argmin(self.errors))


@dataclass(frozen=True)
class MuteWithComplement:
    """See the module."""

    name: str = "mute-with-complement"
    version: int = 1
    title: str = "The complement that mutes it"
    trains: str = "to choose the pencil that quiets a colour without killing it"
    needs_colour: bool = True
    seconds: float = 20.0
    unit: str = "ΔE00"
    steps: tuple[float, float] = (6.0, 1.0)
    chance: float = 0.25

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return askable(self, palette, [name for name in FAMILIES if _pairs(palette, name)])

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pairs = _pairs(palette, region)
        if not pairs:
            raise CannotAskError(f"these pencils have no bright {region} with its complement")
        drawn = [pairs[i % len(pairs)] for i in rng.sample(range(max(TRIES, len(pairs))), TRIES)]
        main, muter = np.array(drawn, dtype=np.int64).T
        # The target is the same idea done by another hand: a little harder or softer.
        hand = np.array([LIGHT * rng.uniform(0.9, 1.4) for _ in drawn])
        found: list[Data] = []
        for first, row in zip(main.tolist(), _sandwiches(palette, main, muter, hand), strict=True):
            data = _try(palette, first, row, step, rng)
            if data is not None:
                found.append(data)
                if abs(_gap(data) - step) < 0.25 * step:
                    break
        if not found:
            raise CannotAskError(f"no muting of {region} here differs by a visible step")
        data = min(found, key=lambda one: abs(_gap(one) - step))
        return Question(
            kind=self.name,
            version=self.version,
            region=region,
            seed=0,
            step=_gap(data),
            target=data.target,
            facts={
                "main": data.main_name,
                "alone": as_json(data.alone),
                "choices": list(data.names),
                "results": [as_json(lab) for lab in data.results],
                "delta_e00": [round(error, 3) for error in data.errors],
                "key": str(data.best),
            },
            data=data,
        )

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        if answers:
            return None
        data = _data(question)
        return Ask(
            f"{data.main_name} alone is too bright. Which pencil, laid lightly between two "
            "layers of it, brings it to the target?",
            tuple(
                Choice(str(i), name, Swatch(lab))
                for i, (name, lab) in enumerate(zip(data.names, data.swatches, strict=True))
            ),
            (Swatch(data.target, "the target"), Swatch(data.alone, "laid down")),
        )

    def grade(self, question: Question, answers: Answers) -> Grade:
        data = _data(question)
        chosen = int(answers[0][0])
        error, best = data.errors[chosen], data.errors[data.best]
        score = near_miss(error - best, 6.0)
        if chosen == data.best:
            verdict = f"Yes: {data.names[chosen]} brings it to ΔE00 {error:.1f}."
        else:
            verdict = (
                f"{data.names[chosen]} leaves it ΔE00 {error:.1f} off; "
                f"{data.names[data.best]} comes to {best:.1f}."
            )
        return Grade(score, chosen == data.best, error, "ΔE00", verdict)

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        data = _data(question)
        chosen = int(answers[0][0])
        rows = []
        for i in sorted(range(len(data.names)), key=lambda place: data.errors[place]):
            off = describe_difference(data.results[i], data.target)
            need = "a match to the eye" if off == "the same to the eye" else f"still wants: {off}"
            label = f"{data.names[i]}, ΔE00 {data.errors[i]:.1f}"
            words = (
                f"{need[:1].upper()}{need[1:]}. {change_in_numbers(data.alone, data.results[i])}."
            )
            mark = mark_of(i == chosen, i == data.best)
            rows.append(Result(label, words, Swatch(data.results[i]), mark))
        family = FAMILIES[data.main_family]
        wanted = describe_difference(data.alone, data.target)
        muter = read_colour(data.swatches[data.best])
        return Reveal(
            because=(
                f"Against {data.main_name} alone the target is {wanted}.",
                f"The wheel complement of {family} is {complement(family)}; "
                f"{data.names[data.best]} is {muter.chroma_word} {muter.family}, "
                f"{muter.value_word} in value. A light layer of it held inside quiets the "
                "colour; on top, or laid hard, it would take over.",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
            limits=MODEL_LIMITS,
        )


def _data(question: Question) -> Data:
    assert isinstance(question.data, Data)
    return question.data


def _gap(data: Data) -> float:
    first, second, *_ = sorted(data.errors)
    return second - first


@lru_cache(maxsize=64)
def _pairs(palette: Palette, family: str) -> list[tuple[int, int]]:
    """Each bright main colour of a family with each pencil that mutes it, its hue kept.

    Of very many, a sample that depends on nothing but the pencils.
    """
    colours = palette.colour_indices
    about = strength(palette.lab[colours])
    bright = [int(i) for i in colours[about >= BRIGHT_FROM] if family_of(palette, i) == family]
    across = [_opposite(palette, main, colours) for main in bright]
    pairs = [(m, int(c)) for m, yes in zip(bright, across, strict=True) for c in colours[yes]]
    if len(pairs) > PAIRS:
        pairs = random.Random(f"mute:{family}:{palette.set.fingerprint}").sample(pairs, PAIRS)
    if not pairs:
        return []
    main, muter = np.array(pairs, dtype=np.int64).T
    muted = _sandwiches(palette, main, muter)
    alone = _alone(palette, main)
    kept = wheel_steps(wheel_position(muted), palette.wheel[main]) <= KEPT
    quieter = (delta_e00(alone, muted) >= TOO_BRIGHT) & (strength(muted) < strength(alone))
    seen = in_screen_gamut(muted) & in_screen_gamut(alone)
    return [pair for pair, sound in zip(pairs, kept & quieter & seen, strict=True) if sound]


def _opposite(palette: Palette, main: int, others: IntArray) -> BoolArray:
    """Which pencils stand across the wheel and have colour enough to mute by it."""
    apart = wheel_steps(palette.wheel[main], palette.wheel[others])
    return (apart >= OPPOSITE) & (strength(palette.lab[others]) >= NEUTRAL_BELOW)


def _sandwiches(
    palette: Palette, main: IntArray, muter: IntArray, light: FloatArray | float = LIGHT
) -> FloatArray:
    """Lab (n, 3) of each muter (n,) laid lightly between two layers of its main (n,)."""
    mains, rows = np.unique(main, return_inverse=True)
    under = extend(palette, start(palette, len(mains)), mains, np.full(len(mains), MIDDLE))
    held = extend(palette, under.take(rows), muter, np.broadcast_to(light, main.shape))
    return sheet_lab(extend(palette, held, main, np.full(len(main), OVER)))


def _alone(palette: Palette, main: IntArray) -> FloatArray:
    """Lab (n, 3) of each main colour (n,) with no muting layer: itself held in itself."""
    mains, rows = np.unique(main, return_inverse=True)
    return np.asarray(_sandwiches(palette, mains, mains)[rows])


@lru_cache(maxsize=256)
def _with_each(palette: Palette, main: int) -> tuple[IntArray, FloatArray]:
    """Every other coloured pencil (n,), and Lab (n, 3) of a main colour muted with it."""
    others = palette.colour_indices[palette.colour_indices != main]
    return others, _sandwiches(palette, np.full_like(others, main), others)


def _try(
    palette: Palette, main: int, target_row: FloatArray, step: float, rng: random.Random
) -> Data | None:
    """One question about this main colour and target, or None where it would not be sound."""
    others, results = _with_each(palette, main)
    (alone_row,) = _alone(palette, np.array([main]))
    if not in_screen_gamut(np.stack([target_row, alone_row])).all():
        return None
    target, alone = as_shown(target_row), as_shown(alone_row)
    if float(delta_e00(alone, target)) < TOO_BRIGHT:
        return None
    # Quieted, not killed: the target has a hue still, and it is the main colour's.
    if not NEUTRAL_BELOW <= strength(target) < strength(alone):
        return None
    if float(wheel_steps(wheel_position(target), palette.wheel[main])) > KEPT:
        return None
    errors = delta_e00(results, np.asarray(target))
    best = int(np.argmin(errors))
    if not _opposite(palette, main, others[best : best + 1]).all():
        return None
    offered = _tempting(palette, main, others, errors, best, step, rng)
    if len(offered) < 4:
        return None
    rng.shuffle(offered)
    places = [int(others[i]) for i in offered]
    return Data(
        main=main,
        main_name=palette.names[main],
        main_family=int(palette.family[main]),
        target=target,
        alone=alone,
        offered=tuple(places),
        names=tuple(palette.names[i] for i in places),
        swatches=tuple(as_shown(palette.lab[i]) for i in places),
        results=tuple(as_lab(results[i]) for i in offered),
        errors=tuple(float(errors[i]) for i in offered),
    )


def _tempting(
    palette: Palette,
    main: int,
    others: IntArray,
    errors: FloatArray,
    best: int,
    step: float,
    rng: random.Random,
) -> list[int]:
    """The best and three that tempt: one at the wanted gap, then right-looking wrong ones.

    Wrong ones are the wheel opposite of a neighbour hue, a grey, and the main
    colour's own family; none comes nearer to the best than the first does.
    """
    gap = errors - errors[best]
    rivals = [int(i) for i in np.argsort(gap, kind="stable") if gap[i] >= VISIBLE_STEP_DELTA_E00]
    if len(rivals) < 3:
        return []
    # Two more must lie beyond the rival, or the gap asked would not be the gap there is.
    rival = min(rivals[:-2], key=lambda i: abs(gap[i] - step))
    farther = [i for i in rivals if gap[i] >= gap[rival] and i != rival]
    about = strength(palette.lab[others])
    away = wheel_steps(palette.wheel[others], palette.wheel[main])
    grey = [i for i in farther if about[i] < NEUTRAL_BELOW]
    kin = [i for i in farther if about[i] >= NEUTRAL_BELOW and away[i] <= 1.5]
    opposite = [i for i in farther if about[i] >= NEUTRAL_BELOW and away[i] >= 3.0]
    chosen = [best, rival]
    for group in rng.sample([grey, kin, opposite], 3):
        open_ones = [i for i in group if i not in chosen]
        if open_ones and len(chosen) < 4:
            chosen.append(rng.choice(open_ones))
    left = [i for i in farther if i not in chosen]
    rng.shuffle(left)
    return (chosen + left)[:4]


KIND = MuteWithComplement()
