"""The surround lies: a colour on two grounds; the same, lighter or darker?

A ground pushes what lies on it away from itself: on a dark one a colour looks
lighter, on a light one darker (simultaneous contrast; Chevreul 1839). The key is
the physical colour as the screen's 8 bits show it. Which ground lies under which
colour is drawn apart from the answer, so that the lie helps as often as it
harms, and no rule stands in for looking.

Difficulty is the spacing of the three answers, |ΔL*|: the second colour is that
much lighter, that much darker, or the very same. A "same" therefore counts at
the spacing the other two answers would have had beside it: it is found by
telling both of them apart from it.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Literal

import numpy as np

from drills.colour.change import degree
from drills.colour.difference import delta_e00
from drills.colour.hue import wheel_position
from drills.colour.spaces import in_screen_gamut, lab_to_lch, shown_lab
from drills.colour.turn import turned_on_screen
from drills.layering.palette import Palette
from drills.questions.draw import (
    LEAST_OF_A_FAMILY,
    FloatArray,
    IntArray,
    ShownPool,
    as_json,
    as_lab,
    as_shown,
    askable,
    families_with,
    one_near,
    shown_pool,
)
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import choices, made_of, near_miss, result

Said = Literal["darker", "same", "lighter"]
SAID: tuple[Said, ...] = ("darker", "same", "lighter")
WORDS = {"darker": "darker than the left", "same": "the same", "lighter": "lighter than the left"}

GREY = "grey"
REACH = 32.0
"""ΔL* from the colours to each ground, where the scale has room for it."""
LEAST_REACH = 12.0
DARKEST, LIGHTEST = 8.0, 96.0
"""L* of the farthest grounds."""
TINTS_TO = 88.0
"""L* above which little of a tint is left on a screen."""
TINT = 24.0
"""C*ab of a tinted ground."""
TRIED = 40
SHRINK = (1.0, 0.7, 0.5, 0.35)
"""Shares of the wanted step tried in turn where very light or dark colours leave no room."""


@dataclass(frozen=True)
class TwoGrounds:
    """``versions`` is the right colour as darker, same and lighter; ``key`` the one shown.

    ``steps`` are the ΔL* of each from the left colour, ``grounds`` those under
    left and right; ``tinted`` says they hold the colour's opposite and its own hue.
    """

    left: Lab
    versions: tuple[Lab, Lab, Lab]
    key: Said
    steps: tuple[float, float, float]
    grounds: tuple[Lab, Lab]
    tinted: bool
    made_with: str

    @property
    def right(self) -> Lab:
        return self.versions[SAID.index(self.key)]


class SurroundLies(Exercise[TwoGrounds]):
    name = "surround-lies"
    version = 2
    title = "The surround lies"
    trains = "to judge value whatever ground a colour lies on"
    at_the_table = "Look at a colour through a hole in grey paper: what lies round it changes it."
    look_for = (
        "Leave the grounds aside and look from middle to middle. A dark ground makes a colour look "
        "lighter, a light one darker.",
    )
    seconds, unit, steps, chance = 8.0, "ΔL*", (12.0, 1.0), 1 / 3

    def regions(self, palette: Palette) -> tuple[str, ...]:
        greys = (GREY,) if _of(shown_pool(palette), GREY).size >= LEAST_OF_A_FAMILY else ()
        return askable(self, palette, (*families_with(palette), *greys))

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        pool = shown_pool(palette)
        mine = _of(pool, region)
        if not mine.size:
            raise CannotAskError(f"these pencils make no {region}")
        mine = np.array(sorted(rng.sample(mine.tolist(), min(TRIED, mine.size))))
        labs = pool.lab[mine]
        for share in SHRINK:
            # (n, 3 answers, 3): each colour darker, the same, lighter by the wanted step.
            wanted = labs[:, None] + np.outer([-1.0, 0.0, 1.0], [share * step, 0.0, 0.0])
            versions = shown_lab(wanted)
            steps = versions[:, :, 0] - labs[:, None, 0]
            low, high = versions[:, 0, 0] - LEAST_REACH, versions[:, 2, 0] + LEAST_REACH
            fit = in_screen_gamut(wanted).all(axis=1) & (low >= DARKEST) & (high <= LIGHTEST)
            fit &= (steps[:, 0] < -0.2) & (steps[:, 2] > 0.2)
            if fit.any():
                break
        else:
            raise CannotAskError(f"these pencils' {region} leaves no room for lighter and darker")
        rows = np.flatnonzero(fit)
        # Where 8 bits don't give the same step up and down, the colour is a poor one to ask.
        uneven = np.abs(np.abs(steps[rows][:, [0, 2]]) - share * step).max(axis=1)
        at = int(rows[one_near(uneven, 0.0, rng)])
        key = rng.choice(SAID)
        tinted = region != GREY and rng.random() < 0.5
        grounds = _grounds(as_lab(labs[at]), versions[at], tinted)
        if rng.random() < 0.5:
            grounds = grounds[::-1]
        down, up = abs(float(steps[at, 0])), abs(float(steps[at, 2]))
        data = TwoGrounds(
            left=as_lab(labs[at]),
            versions=(as_lab(versions[at, 0]), as_lab(labs[at]), as_lab(versions[at, 2])),
            key=key,
            steps=(-down, 0.0, up),
            grounds=grounds,
            tinted=tinted,
            made_with=made_of(palette, mine[at]),
        )
        return self.question(
            data,
            region,
            {"darker": down, "same": 0.5 * (down + up), "lighter": up}[key],
            data.left,
            right=as_json(data.right),
            key=key,
            delta_l=round(data.right[0] - data.left[0], 3),
            grounds=[as_json(ground) for ground in grounds],
            tinted=tinted,
            choices=[*SAID],
            made_with=data.made_with,
        )

    def first_ask(self, data: TwoGrounds) -> Ask:
        left, right = data.grounds
        return Ask(
            "Ignore the grounds and look at value only. Is the colour in the middle at the right "
            "lighter than that at the left, the same, or darker?",
            choices({said: WORDS[said] for said in reversed(SAID)}),
            (Swatch(data.left, "left", left), Swatch(data.right, "right", right)),
        )

    def graded(self, data: TwoGrounds, keys: Keys) -> Grade:
        (said,) = keys
        at, truth = SAID.index(_said(said)), SAID.index(data.key)
        error = abs(data.steps[at] - data.steps[truth])
        right = at == truth
        # Taking a hair lighter for the same is a near miss; taking it for darker less so.
        score = 1.0 if right else 0.7 * near_miss(error, 6.0)
        is_so, figures = "the two are the same colour", ""
        if data.key != "same":
            seen = degree(float(delta_e00(data.left, data.right)))
            is_so = f"the right one is {seen}{data.key}"
            figures = f"ΔL* {abs(data.steps[truth]):.1f}"
        fooled = "; the grounds misled you" if not right and _pushed(data) == said else ""
        verdict = f"{'Yes' if right else 'No'}: {is_so}{fooled}."
        return Grade(score, right, error, "ΔL*", verdict, figures)

    def revealed(self, data: TwoGrounds, keys: Keys) -> Reveal:
        (said,) = keys
        rows = []
        for word, lab in zip(SAID, data.versions, strict=True):
            best = word == data.key
            if best:
                words = "what was shown, without the grounds"
            elif word == "same":
                words = "two the same show no edge"
            else:
                words = f"the same step {word} would look like this"
            rows.append(result(word, words, Swatch(lab, "right"), word == said, best))
        return Reveal(
            because=(
                _how_it_lied(data),
                "Half close your eyes, or lay a grey card with two holes over both: then only the "
                "colours are left to compare.",
                f"Your pencils for the left colour: {data.made_with}.",
            ),
            results=tuple(reversed(rows)),
            target=Swatch(data.left, "left"),
        )


def _said(text: str) -> Said:
    return next(said for said in SAID if said == text)


def _of(pool: ShownPool, region: str) -> IntArray:
    """Where a region's colours stand in the pool; the greys have no family."""
    return np.flatnonzero(pool.family < 0) if region == GREY else pool.of(region)


def _grounds(lab: Lab, versions: FloatArray, tinted: bool) -> tuple[Lab, Lab]:
    """A dark and a light ground for a colour in all its ``versions`` (3, 3).

    Tinted ones lie together with the push of value: the dark one holds the
    colour's opposite, against which it looks brighter, the light one its own hue,
    against which it looks duller.
    """
    darkest, lightest = float(versions[:, 0].min()), float(versions[:, 0].max())
    dark = max(DARKEST, darkest - REACH)
    most = max(TINTS_TO, lightest + LEAST_REACH) if tinted else LIGHTEST
    light = min(most, lightest + REACH)
    if not tinted:
        return as_shown((dark, 0.0, 0.0)), as_shown((light, 0.0, 0.0))
    place = float(wheel_position(lab))
    chroma = min(TINT, float(lab_to_lch(lab)[1]))
    opposite = turned_on_screen((dark, chroma, 0.0), [place + 6.0])[0]
    own = turned_on_screen((light, chroma, 0.0), [place])[0]
    return as_shown(opposite), as_shown(own)


def _pushed(data: TwoGrounds) -> Said:
    """Which way the grounds push the right colour against the left."""
    left, right = data.grounds
    return "lighter" if right[0] < left[0] else "darker"


def _how_it_lied(data: TwoGrounds) -> str:
    """What the grounds did to this pair."""
    darker = "left" if data.grounds[0][0] < data.grounds[1][0] else "right"
    look = "lighter, and brighter beside its opposite hue" if data.tinted else "lighter"
    effect = {
        "same": "So two equal colours looked different.",
        _pushed(data): "Here the grounds made the step look larger than it is.",
    }.get(data.key, "Here the grounds hid the step.")
    return f"The dark ground at the {darker} makes its colour look {look}. {effect}"


KIND = SurroundLies()
