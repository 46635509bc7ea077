"""Errors along one axis are noted once, and only far beyond what chance gives.

Eyes are simulated by Machado, Oliveira & Fernandes 2009 (``drills.colour.vision``): each
names the family that looks nearest, with noise in ΔE00, and slips now and then.
"""

from __future__ import annotations

import random
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from coach.session.seeing import KINDS, LEAST, SETTING, HueError, axis_of, hue_errors, note
from drills.colour.difference import delta_e00
from drills.colour.hue import FAMILIES, wheel_position
from drills.colour.turn import turned_on_screen
from drills.colour.vision import Vision, as_seen
from drills.kinds import all_kinds, draw
from drills.layering.palette import prepare
from drills.pencils.sets import demo_set
from drills.questions.protocol import CannotAskError, Question
from scores.record.record import Record
from scores.record.trials import PAPER
from tests.answers import answer


@cache
def questions() -> tuple[Question, ...]:
    kind, palette = all_kinds()["hue-and-lean"], prepare(demo_set())
    found = []
    for region in kind.regions(palette):
        for seed in range(36):
            try:
                found.append(draw(kind, palette, region, kind.steps[0], seed))
            except CannotAskError:
                continue
    return tuple(found)


def named(
    question: Question, vision: Vision, noise: float, lapse: float, rng: random.Random
) -> str:
    """The family that such an eye says."""
    choices = [str(name) for name in question.facts["choices"]]  # type: ignore[union-attr]
    if rng.random() < lapse:
        return rng.choice(choices)
    shown = np.array(question.target)
    own = FAMILIES.index(str(question.facts["family"]))
    place = float(wheel_position(shown))
    others = [place + (FAMILIES.index(name) - own + 6) % 12 - 6 for name in choices]
    apart = delta_e00(as_seen(turned_on_screen(shown, others), vision), as_seen(shown, vision))
    return choices[int(np.argmin(apart + [rng.gauss(0.0, noise) for _ in choices]))]


def record_of(folder: Path, vision: Vision, noise: float, seed: int, lapse: float = 0.08) -> Record:
    rng, record = random.Random(seed), Record.open(folder / f"{vision}-{noise}-{seed}.db")
    for number, question in enumerate(questions()):
        said = named(question, vision, noise, lapse, rng)
        assert question.target is not None
        record.save(
            answer(
                number,
                kind="hue-and-lean",
                target=list(question.target),
                facts=dict(question.facts),
                answers=((said,),),
                right=said == question.facts["family"],
            )
        )
    return record


def axis(record: Record) -> Vision | None:
    return axis_of(hue_errors(record.attempts(kind=KINDS[0])))


@pytest.mark.parametrize("noise", [2.0, 6.0, 12.0])
def test_usual_vision_is_left_alone_however_careless(tmp_path: Path, noise: float) -> None:
    assert axis(record_of(tmp_path, "usual", noise, 0)) is None


@pytest.mark.parametrize("vision", ["red-weak", "green-weak", "blue-weak"])
def test_an_eye_that_lacks_a_cone_is_pointed_to_the_setting_once(
    tmp_path: Path, vision: Vision
) -> None:
    """Red- and green-weak eyes err along nearly one axis: they are not told apart."""
    record = record_of(tmp_path, vision, 5.0, 1)
    found = axis(record)
    assert found is not None
    assert (found == "blue-weak") == (vision == "blue-weak")
    words = note(record)
    assert ("blues and greens" if vision == "blue-weak" else "reds and greens") in words
    assert "no test" in words
    assert "eye specialist" in words
    assert note(record) == ""
    record.set_setting(SETTING, False)
    record.set_setting("vision", vision)
    assert note(record) == ""


def test_answers_with_help_or_on_paper_tell_nothing_of_an_eye(tmp_path: Path) -> None:
    record = record_of(tmp_path, "red-weak", 5.0, 1)
    for at, marks in enumerate(({"chance": 1.0}, {"deck": PAPER})):
        other = Record.open(tmp_path / f"{at}-other.db")
        for attempt in record.attempts():
            other.save(replace(attempt, outcome="", **marks))
        assert axis(other) is not None
        assert note(other) == ""


def test_few_errors_say_nothing() -> None:
    error = HueError((50.0, 45.0, 25.0), 4, (-1, 1, 2, 4))
    assert axis_of([error] * (LEAST - 1)) is None
