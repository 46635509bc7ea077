"""What mutes it: which pencil, laid lightly inside, brings a colour to a target.

It is asked either way that the planner mutes (``drills.planning.ways``): by a pencil from across
the wheel, or by a grey or an earth. A grey has no hue, or hardly any, to turn a colour by: it
takes chroma, and draws the value toward its own.
A main colour is too bright for the target. Four of the learner's pencils are
offered; each is tried, lightly, between two layers of the main colour, and the
results are compared. Difficulty is how much better the best is than the next
(ΔE00): a small gap is hard.
"""

from __future__ import annotations

import math
import random
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, complement, family_at, wheel_position, wheel_steps
from drills.colour.reading import Reading, describe_difference, read_colour
from drills.colour.spaces import in_screen_gamut
from drills.colour.words import NEUTRAL_BELOW, strength
from drills.layering.moves import LIGHT
from drills.layering.palette import Palette
from drills.questions import muting
from drills.questions.decoys import ranks_wanted
from drills.questions.draw import FloatArray, as_json, as_lab, as_shown, askable
from drills.questions.exercise import Exercise, Keys
from drills.questions.protocol import Ask, CannotAskError, Grade, Lab, Question, Reveal, Swatch
from drills.questions.results import MODEL_LIMITS, choices, gap, near_miss, result

TRIES = 28
"""How many targets a question is chosen from: a pair and a hand each."""
MAINS = 3
"""How many main colours they are of: each takes a trial of every pencil."""
OFFERED = 4
CLOSE = 0.5
"""How ill a question may fit what is wanted of it, to end the search (``decoys.decoys``)."""


WHICH = {
    muting.COMPLEMENT: "Which pencil",
    muting.GREYS: "Which of these greys and earths",
}


@dataclass(frozen=True)
class MutersOffered:
    """``by`` is the way of muting; ``alone`` is the main colour unmuted; each of ``offered`` a
    pencil with its result."""

    by: muting.By
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


class MuteWithComplement(Exercise[MutersOffered]):
    name = "mute-with-complement"
    version = 3
    title = "What mutes it"
    trains = "to choose the pencil that quiets a colour without killing it"
    at_the_table = (
        "Quiet a colour with a light layer of its complement between two layers of the colour."
    )
    look_for = (
        "Look across the wheel: what lies opposite a colour quiets it, what lies beside it only "
        "turns it.",
    )
    seconds, unit, steps, chance = 20.0, "ΔE00", (6.0, 1.0), 1 / OFFERED

    def regions(self, palette: Palette) -> tuple[str, ...]:
        known = [name for name in FAMILIES if _ways(palette, name)]
        return askable(self, palette, known)

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        ways = _ways(palette, region)
        rng.shuffle(ways)
        data = None
        for by in ways:
            data = data or _drawn(palette, region, step, rng, by)
        if data is None:
            raise CannotAskError(f"no muting of {region} here differs by a visible step")
        return self.question(
            data,
            region,
            gap(data.errors),
            data.target,
            way=data.by,
            main=data.main_name,
            alone=as_json(data.alone),
            choices=list(data.names),
            results=[as_json(lab) for lab in data.results],
            delta_e00=[round(error, 3) for error in data.errors],
            key=str(data.best),
        )

    def first_ask(self, data: MutersOffered) -> Ask:
        return Ask(
            f"{data.main_name} alone is too bright. {WHICH[data.by]}, laid lightly between two "
            "layers of it, brings it to the target?",
            choices({str(i): name for i, name in enumerate(data.names)}, data.swatches),
            (Swatch(data.target, "the target"), Swatch(data.alone, "laid down")),
        )

    def graded(self, data: MutersOffered, keys: Keys) -> Grade:
        chosen = int(keys[0])
        error, best = data.errors[chosen], data.errors[data.best]
        score = near_miss(error - best, 6.0)
        if chosen == data.best:
            verdict = f"Yes: a touch of {_touch(data, chosen)} inside quiets it."
        else:
            verdict = f"No: {data.names[data.best]} brings it nearer than {data.names[chosen]}."
        return Grade(score, chosen == data.best, error, "ΔE00", verdict, f"ΔE00 {error:.1f} off")

    def revealed(self, data: MutersOffered, keys: Keys) -> Reveal:
        chosen = int(keys[0])
        rows = []
        for i in sorted(range(len(data.names)), key=lambda place: data.errors[place]):
            off = describe_difference(data.results[i], data.target)
            words = "a match to the eye" if off == "the same to the eye" else f"still wants: {off}"
            shown = data.results[i]
            rows.append(result(data.names[i], words, shown, i == chosen, i == data.best))
        wanted = describe_difference(data.alone, data.target)
        return Reveal(
            because=(
                f"{data.main_name} alone wants: {wanted}.",
                _why(data),
                "Held inside it quiets the colour; on top or laid hard it takes over.",
            ),
            results=tuple(rows),
            target=Swatch(data.target),
            limits=MODEL_LIMITS,
        )


def _ways(palette: Palette, family: str) -> list[muting.By]:
    """The ways in which these pencils mute colours of a family."""
    return [by for by in muting.WAYS if muting.muting_pairs(palette, family, by)]


def _drawn(
    palette: Palette, region: str, step: float, rng: random.Random, by: muting.By
) -> MutersOffered | None:
    """A question of this way of muting, where there is one."""
    known = muting.muting_pairs(palette, region, by)
    mains = sorted({main for main, _ in known})
    few = rng.sample(mains, min(MAINS, len(mains)))
    pairs = [pair for pair in known if pair[0] in few]
    places = rng.sample(range(max(TRIES, len(pairs))), TRIES)
    drawn = [pairs[i % len(pairs)] for i in places]
    main, muter = np.array(drawn, dtype=np.int64).T
    # The target is the same idea done by another hand: a little harder or softer.
    hand = np.array([LIGHT * rng.uniform(0.9, 1.4) for _ in drawn])
    rows = muting.sandwiches(palette, main, muter, hand)
    rows = muting.sandwiches(palette, main, muter, hand)
    wanted = ranks_wanted(muting.MARKS, rng)
    found: list[tuple[float, int, MutersOffered]] = []
    for turn, (first, row) in enumerate(zip(main.tolist(), rows, strict=True)):
        ill, data = _try(palette, first, row, step, wanted, rng, by)
        if data is not None:
            found.append((ill, turn, data))
            if ill < CLOSE:
                break
    return min(found)[2] if found else None


def _touch(data: MutersOffered, chosen: int) -> str:
    """What the right muter is called."""
    swatch = data.swatches[chosen]
    if data.by == muting.GREYS:
        return named(read_colour(swatch))
    return FAMILIES[int(family_at(wheel_position(swatch)))]


def _why(data: MutersOffered) -> str:
    """What the best muter is, and why it mutes."""
    muter = read_colour(data.swatches[data.best])
    own = f"{data.names[data.best]} is {named(muter)}, {muter.value_word} in value."
    if data.by == muting.GREYS:
        if muter.family is None:
            return f"{own} A grey turns no hue: it takes chroma, and draws value toward its own."
        return f"{own} An earth takes chroma, and draws value and hue a little toward its own."
    family = FAMILIES[data.main_family]
    return f"The wheel complement of {family} is {complement(family)}; {own}"


NONE: tuple[float, None] = (math.inf, None)


def named(muter: Reading) -> str:
    """ "dull green", or of a grey only what it leans to."""
    if muter.family is not None:
        return f"{muter.chroma_word} {muter.family}"
    return f"a grey leaning to {muter.lean}" if muter.lean else "a grey that leans nowhere"


def _try(
    palette: Palette,
    main: int,
    target_row: FloatArray,
    step: float,
    wanted: Sequence[int],
    rng: random.Random,
    by: muting.By,
) -> tuple[float, MutersOffered | None]:
    """One question about this main colour and target, and how ill it fits; or NONE."""
    tried = muting.with_each(palette, main, by)
    alone = tried.alone
    if not in_screen_gamut(target_row):
        return NONE
    target = as_shown(target_row)
    if float(delta_e00(alone, target)) < muting.TOO_BRIGHT:
        return NONE
    # Quieted, not killed: the target has a hue still, and it is the main colour's.
    if not NEUTRAL_BELOW <= strength(target) < strength(alone):
        return NONE
    if float(wheel_steps(wheel_position(target), palette.wheel[main])) > muting.KEPT:
        return NONE
    errors = delta_e00(tried.results, np.asarray(target))
    if not tried.mutes[int(np.argmin(errors))]:
        return NONE
    ill, offered = muting.tempting(tried, errors, step, wanted, rng)
    if not offered:
        return NONE
    rng.shuffle(offered)
    places = [int(tried.others[i]) for i in offered]
    return ill, MutersOffered(
        by=by,
        main=main,
        main_name=palette.names[main],
        main_family=int(palette.family[main]),
        target=target,
        alone=alone,
        offered=tuple(places),
        names=tuple(palette.names[i] for i in places),
        swatches=tuple(as_shown(palette.lab[i]) for i in places),
        results=tuple(as_lab(tried.results[i]) for i in offered),
        errors=tuple(float(errors[i]) for i in offered),
    )


KIND = MuteWithComplement()
