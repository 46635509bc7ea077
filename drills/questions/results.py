"""What several kinds of drill share of results: scores, marks and words for them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from drills.layering.moves import Move, move_words
from drills.layering.palette import Palette
from drills.layering.predict import apply, start
from drills.layering.sheet import fleck
from drills.planning.choose import PAID
from drills.planning.plan import LikelyMiss
from drills.questions.draw import shown_pool
from drills.questions.protocol import Choice, Grade, Lab, Mark, Result, Swatch

GRAIN = ((3.5, "even"), (8.0, "a little grainy"), (math.inf, "flecked with white"))
"""Standard deviations of L* over a swatch, and what they look like; our estimate."""
MODEL_LIMITS = "Worked out by a model of layers: try it on a scrap of your own paper first."


def near_miss(excess: float, scale: float) -> float:
    """A score that falls from 1 as an answer's excess error grows: 0.37 at one ``scale``."""
    return math.exp(-max(0.0, excess) / scale)


def wrong_way_round(values: Sequence[float]) -> tuple[float, float]:
    """How far out of order values are that should rise: (share 0–1, widest).

    Kendall's count of pairs that stand the wrong way round (1938), each pair
    weighted by how far apart it is, so that two near ones swapped cost little;
    as a share of what the whole row reversed would cost. With even gaps that is
    (1 − ρ)/2 of Spearman (1904). ``widest`` is the difference of the widest such
    pair, 0 where all is in order.
    """
    pairs = [later - value for i, value in enumerate(values) for later in values[i + 1 :]]
    wrong = [-pair for pair in pairs if pair < 0.0]
    return sum(wrong) / (sum(map(abs, pairs)) or 1.0), max(wrong, default=0.0)


def graded_row(values: Sequence[float], unit: Literal["ΔL*", "wheel steps"], yes: str) -> Grade:
    """The grade of swatches put in an order in which ``values`` should rise."""
    share, widest = wrong_way_round(values)
    apart = f"ΔL* {widest:.1f}" if unit == "ΔL*" else f"{widest:.1f} {unit}"
    verdict, figures = "No: much of the row is the wrong way round.", ""
    if widest == 0.0:
        verdict = yes
    else:
        figures = f"The widest pair the wrong way round is {apart} apart"
        if share <= 0.4:
            verdict = "Nearly: some of the row is the wrong way round."
    # Squared, so that an order by chance earns about a quarter and not a half.
    return Grade((1.0 - share) ** 2, widest == 0.0, widest, unit, verdict, figures)


def listed(words: Sequence[str]) -> str:
    """Words joined as in speech: "a, b and c"."""
    return " and ".join(filter(None, [", ".join(words[:-1]), *words[-1:]]))


LETTERS = ("A", "B", "C", "D", "E")
"""What swatches are called where a name would give the answer away."""

ORDINALS = ("1st", "2nd", "3rd", "4th", "5th")


def choices(texts: Mapping[str, str], labs: Sequence[Lab | None] = ()) -> tuple[Choice, ...]:
    """Choices by key, in words and, where there are ``labs``, each with its swatch."""
    swatches = [lab and Swatch(lab) for lab in labs or [None] * len(texts)]
    return tuple(
        Choice(*text, swatch) for text, swatch in zip(texts.items(), swatches, strict=True)
    )


def lettered(labs: Sequence[Lab]) -> tuple[Choice, ...]:
    """Swatches to choose from or to put in order, called A, B, C …"""
    return choices({letter: letter for letter in LETTERS[: len(labs)]}, labs)


def order_given(keys: Sequence[str]) -> tuple[int, ...]:
    """The places of lettered swatches in the order a learner put them."""
    return tuple(LETTERS.index(key) for key in keys)


def grain_words(palette: Palette, moves: Sequence[Move]) -> str:
    """How flecked a swatch of these moves looks, such as "a little grainy"."""
    sheet = start(palette)
    for move in moves:
        sheet = apply(palette, sheet, move)
    spread = float(fleck(sheet)[0])
    return next(words for most, words in GRAIN if spread <= most)


def doubt_words(likely: LikelyMiss) -> str:
    """What a plan may come to on paper: "lands about 3 off, between 1 and 6"."""
    low, high = round(likely.low), round(likely.high)
    where = f", between {low} and {high}" if low < high else ""
    return f"lands about {likely.expected:.0f} off{where}"


def added_miss(mine: float, least: float) -> float:
    """What an expected miss adds to the ``least`` that can be had, both ΔE00: 0 where the planner
    would not pay for the difference. Misses that have nothing to do with each other add as
    squares do."""
    return math.sqrt(mine**2 - least**2) if mine > least + PAID else 0.0


def gap(errors: ArrayLike) -> float:
    """How much nearer the best comes than the next."""
    first, second = np.sort(np.asarray(errors))[:2]
    return float(second - first)


def mark_of(mine: bool, best: bool) -> Mark:
    """How a result is marked in a reveal."""
    if mine:
        return "yours, best" if best else "yours"
    return "best" if best else ""


def result(
    label: str,
    words: str,
    shown: Lab | Swatch,
    mine: bool = False,
    best: bool = False,
    beside: Lab | Swatch | None = None,
) -> Result:
    """A row of a reveal, marked."""
    swatch, second = (Swatch(one) if isinstance(one, tuple) else one for one in (shown, beside))
    return Result(label, words, swatch, mark_of(mine, best), second)


def made_words(palette: Palette, moves: Sequence[Move]) -> str:
    """Moves in the order they are made, as one phrase."""
    return ", then ".join(move_words(palette, move) for move in moves)


def made_of(palette: Palette, at: int) -> str:
    """How these pencils make the colour at a place in their shown pool."""
    return made_words(palette, palette.pool.moves(int(shown_pool(palette).places[at])))
