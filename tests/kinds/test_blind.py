"""Answers given without looking, and wrong choices picked so that none of them pays."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable
from functools import partial

import numpy as np
import pytest

from drills.kinds import all_kinds, draw
from drills.laws.blind import STRATEGIES, blindly, no_answer_without_looking_wins
from drills.questions.decoys import decoys, ranks_wanted
from drills.questions.protocol import Ask
from tests.kinds.leaf import Leaf
from tests.palettes import palette_of


class First(Leaf):
    """A faulty kind: the lighter always stands first."""

    def first_ask(self, data) -> Ask:
        ask = super().first_ask(data)
        return Ask(ask.prompt, tuple(sorted(ask.choices, key=lambda c: -c.swatch.lab[0])))


class NoTask(Leaf):
    """The lightest is always right, and isn't said to be what is asked."""

    task = ()


@pytest.mark.parametrize(("faulty", "way"), [(First, "place 1"), (NoTask, "lightest")])
def test_a_kind_that_can_be_answered_without_looking_is_caught(
    faulty: Callable[[], Leaf], way: str
) -> None:
    with pytest.raises(AssertionError, match=way):
        no_answer_without_looking_wins(faulty(), palette_of("demo"))
    no_answer_without_looking_wins(Leaf(), palette_of("demo"))


def test_each_strategy_picks_what_its_name_says() -> None:
    question = draw(all_kinds()["nearest-start"], palette_of("demo"), "red", 1.0, 3)
    kind = all_kinds()["nearest-start"]

    def picks(name: str) -> int:
        answers = blindly(partial(kind.ask, question), STRATEGIES[name])
        assert answers is not None
        return "ABCD".index(answers[0][0])

    by_likeness = np.argsort(question.facts["delta_e00"])
    by_hue = np.argsort(question.facts["wheel_steps"])
    assert [picks(f"{which}most alike") for which in ("", "second ", "third ")] == [
        *by_likeness[:3]
    ]
    assert picks("least alike") == by_likeness[3]
    assert (picks("nearest hue"), picks("farthest hue")) == (by_hue[0], by_hue[3])
    assert picks("place 3") == 2
    longest = STRATEGIES["longest text"]
    assert blindly(partial(kind.ask, question), longest) is None, "A to D are alike"


def test_what_is_worse_by_the_step_is_offered_and_nothing_between() -> None:
    rng = random.Random(1)
    gap = np.array([0.0, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0])
    for step in (0.5, 1.0, 2.0, 3.0):
        _, offered = decoys(gap, range(1, 8), np.zeros((8, 1)), 0, step, [0], rng)
        assert offered[0] == 0
        assert sorted(gap[offered])[1] == step
        assert len(set(offered)) == 4


def test_no_mark_tells_the_best_though_it_has_most_of_it_among_all() -> None:
    """Of forty the best has nearly the most of a mark; of the four offered, any rank alike."""
    rng = random.Random(2)
    ranks: Counter[int] = Counter()
    for _ in range(200):
        gap = np.array([0.0, *(rng.uniform(1.0, 8.0) for _ in range(39))])
        mark = np.array([0.85, *(rng.random() for _ in range(39))])
        _, offered = decoys(gap, range(1, 40), mark[:, None], 0, 1.5, ranks_wanted(1, rng), rng)
        ranks[int((mark[offered[1:]] > 0.85).sum())] += 1
    assert set(ranks) == {0, 1, 2, 3}
    assert max(ranks.values()) < 80


def test_under_three_others_nothing_is_offered() -> None:
    assert decoys(np.arange(3.0), [1, 2], np.zeros((3, 1)), 0, 1.0, [0], random.Random(1))[1] == []
