"""Lighter or darker: value judged apart from brightness.

Two swatches of one hue family but of different chroma: the bright one looks
lighter than it is. It is the lighter and the darker one equally often, so that
brightness tells nothing. Difficulty is the step of lightness between them, |ΔL*|.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

import numpy as np

from drills.colour.munsell import munsell_value
from drills.colour.spaces import in_screen_gamut
from drills.colour.turn import fitted_to_screen
from drills.colour.words import strength
from drills.layering.palette import Palette
from drills.questions.draw import (
    as_json,
    as_lab,
    families_with,
    made_words,
    mark_of,
    near_miss,
    shown_pool,
)
from drills.questions.protocol import (
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

CHROMA_APART = 2.0
"""Least difference in strength (about Munsell chroma), so that brightness misleads."""
LEAST_STEP = 0.4
"""Least |ΔL*| asked: one level of an 8-bit screen is about as much."""
NEAREST = 20
"""How many of the pairs nearest to the wanted step one is drawn from."""


@dataclass(frozen=True)
class Data:
    """The swatch to match, the one laid down, and how each was made."""

    target: Lab
    laid: Lab
    made_with: tuple[str, str]


@dataclass(frozen=True)
class LighterOrDarker:
    """See the module."""

    name: str = "lighter-or-darker"
    version: int = 1
    title: str = "Lighter or darker"
    trains: str = "to judge value apart from how bright a colour is"
    needs_colour: bool = True
    seconds: float = 7.0
    unit: str = "ΔL*"
    steps: tuple[float, float] = (20.0, 0.8)
    chance: float = 0.5

    def regions(self, palette: Palette) -> tuple[str, ...]:
        return families_with(palette)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = pool.of(region)
        if mine.size > 160:
            mine = np.array(sorted(rng.sample(mine.tolist(), 160)))
        lightness, chroma = pool.lab[mine, 0], pool.strength[mine]
        apart = lightness[:, None] - lightness
        # Each row the brighter of the pair, each column the duller.
        fit = (chroma[:, None] - chroma >= CHROMA_APART) & (np.abs(apart) >= LEAST_STEP)
        if not fit.any():
            raise CannotAskError(f"these pencils make no two {region}s that differ in brightness")
        # In some families the bright colours are nearly all the lighter or the darker ones.
        near = fit & (np.abs(np.abs(apart) - step) <= max(LEAST_STEP, step / 4))
        ways = [way for way in (near & (apart > 0), near & (apart < 0)) if way.any()] or [fit]
        first, second = np.nonzero(rng.choice(ways))
        order = np.argsort(np.abs(np.abs(apart[first, second]) - step), kind="stable")
        pick = int(order[rng.randrange(min(NEAREST, len(order)))])
        pair = [int(mine[first[pick]]), int(mine[second[pick]])]
        rng.shuffle(pair)
        target, laid = (as_lab(pool.lab[i]) for i in pair)
        made = [made_words(palette, palette.pool.moves(int(pool.places[i]))) for i in pair]
        return Question(
            kind=self.name,
            version=self.version,
            region=region,
            seed=0,
            step=abs(laid[0] - target[0]),
            target=target,
            facts={
                "laid": as_json(laid),
                "key": "lighter" if laid[0] > target[0] else "darker",
                "delta_l": round(laid[0] - target[0], 3),
                "choices": ["lighter", "darker"],
                "made_with": [*made],
            },
            data=Data(target, laid, (made[0], made[1])),
        )

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        if answers:
            return None
        data = _data(question)
        return Ask(
            "Look at value only. Is what you laid down lighter or darker than the target?",
            (Choice("lighter", "lighter than the target"), Choice("darker", "darker than it")),
            (Swatch(data.target, "the target"), Swatch(data.laid, "laid down")),
        )

    def grade(self, question: Question, answers: Answers) -> Grade:
        data = _data(question)
        ((said,),) = answers
        truth = _truth(data)
        apart = abs(data.laid[0] - data.target[0])
        right = said == truth
        # A wrong word over a step that few can see is a near miss.
        score = 1.0 if right else 0.5 * near_miss(apart, 5.0)
        # As greys: Munsell value is taken under another light, which shifts bright colours.
        greys = [(lab[0], 0.0, 0.0) for lab in (data.target, data.laid)]
        steps = abs(float(np.diff(munsell_value(greys))[0]))
        verdict = (
            f"{'Yes' if right else 'No'}: it is {truth}, by ΔL* {apart:.1f} "
            f"({steps:.1f} of a value step)."
        )
        return Grade(score, right, 0.0 if right else apart, "ΔL*", verdict)

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        data = _data(question)
        ((said,),) = answers
        truth = _truth(data)
        brighter = "laid-down" if strength(data.laid) > strength(data.target) else "target"
        rows = [
            Result(
                "the target as a grey",
                f"the same lightness, L* {data.target[0]:.1f}, with the colour taken out",
                Swatch((data.target[0], 0.0, 0.0)),
            ),
            Result(
                "what was laid down as a grey",
                f"L* {data.laid[0]:.1f}: now only value is left to compare",
                Swatch((data.laid[0], 0.0, 0.0)),
            ),
        ]
        for word in ("lighter", "darker"):
            best = word == truth
            told = ("as it was laid down", Swatch(data.laid)) if best else _mirrored(word, data)
            rows.append(Result(word, *told, mark_of(word == said, best)))
        return Reveal(
            because=(
                f"The {brighter} swatch is the brighter of the two, and brightness passes for "
                "light: half close your eyes, or look past them, and chroma fades first.",
                f"Target: {data.made_with[0]}. Laid down: {data.made_with[1]}.",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
        )


def _data(question: Question) -> Data:
    assert isinstance(question.data, Data)
    return question.data


def _truth(data: Data) -> str:
    return "lighter" if data.laid[0] > data.target[0] else "darker"


def _mirrored(word: str, data: Data) -> tuple[str, Swatch | None]:
    """The laid-down colour as far from the target on the other side, where there is such a one."""
    lightness = 2 * data.target[0] - data.laid[0]
    (lab,) = fitted_to_screen((lightness, *data.laid[1:]))
    if not in_screen_gamut(lab):
        return f"nothing is {word} by as much", None
    return f"had it been {word} by as much", Swatch(as_lab(lab))


KIND = LighterOrDarker()
