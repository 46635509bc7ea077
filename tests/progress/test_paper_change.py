"""A change on paper: never told of a learner who stays as they are, but by a rare chance."""

from __future__ import annotations

import json
import math
import random
from dataclasses import replace
from datetime import date, timedelta
from itertools import permutations
from pathlib import Path
from statistics import fmean, median

import pytest

from coach.reports.progress_figures import figures
from coach.reports.progress_json import figures_json
from coach.reports.progress_page import page as html
from coach.reports.progress_words import page
from coach.reports.seen.paper import seen, words
from drills.colour.difference import delta_e00
from scores.progress.claim import ERROR
from scores.progress.on_paper import PERIOD, OnPaper
from scores.progress.paper_change import PaperChange, paper_change, stakes
from scores.record.record import Record
from tests.progress.test_on_paper import DAY, put

START = date(2025, 3, 3)
TARGET = (40.0, 20.0, 10.0)
ONE = OnPaper("", START, TARGET, TARGET, TARGET, 5.0, 3.0, 1.5, "by eye", 0, (), "")


def weekly(misses: list[float]) -> list[OnPaper]:
    """A swatch a week, each so far off."""
    return [
        replace(ONE, swatch=str(week), day=START + timedelta(weeks=week), miss=miss)
        for week, miss in enumerate(misses)
    ]


def spread(rng: random.Random, count: int, about: float) -> list[float]:
    return [about * math.exp(rng.gauss(0.0, 0.4)) for _ in range(count)]


def told(misses: list[float]) -> PaperChange | None:
    of = weekly(misses)
    return paper_change(of, of[-1].day)


@pytest.mark.parametrize("misses", [(1.0, 2.0, 3.0, 4.0, 5.0, 6.0), (1.0, 1.0, 2.0, 2.0, 2.0, 7.0)])
def test_over_all_orders_of_the_same_misses_the_stakes_come_to_one(
    misses: tuple[float, ...],
) -> None:
    """The law behind Ville's bound: the stakes are even, ties counted too."""
    both = [stakes(order) for order in permutations(misses)]
    assert fmean(one for one, _ in both) == pytest.approx(1.0, abs=1e-12)
    assert fmean(other for _, other in both) == pytest.approx(1.0, abs=1e-12)


def test_of_a_learner_who_never_changes_nothing_is_told_however_often_one_looks() -> None:
    wrong = 0
    for seed in range(150):
        misses = spread(random.Random(seed), 52, 5.0)
        wrong += any(sum(stakes(misses[:at])) / 2 >= 1 / ERROR for at in range(2, 53))
    assert wrong / 150 <= ERROR


@pytest.mark.parametrize(("first", "then"), [(8.0, 3.0), (3.0, 8.0)])
def test_a_change_is_told_in_its_direction_with_swatches_of_both_times(
    first: float, then: float
) -> None:
    rng = random.Random(1)
    change = told([*spread(rng, 26, first), *spread(rng, 26, then)])
    assert change is not None
    assert change.nearer == (then < first)
    assert change.then.last < change.now.last == START + timedelta(weeks=51)
    for period, one in ((change.then, change.then_swatch), (change.now, change.now_swatch)):
        assert 0 <= (period.last - one.day).days < PERIOD
        assert abs(one.miss - period.miss) < 3.0
    assert ("nearer" in words(change)) == change.nearer
    assert f"{change.now.miss:.1f}" in words(change)


def test_few_swatches_tell_nothing() -> None:
    assert told([9.0, 8.0, 7.0, 2.0, 1.0, 0.5]) is None
    assert paper_change([], START) is None


def test_progress_shows_a_known_change_and_no_other(tmp_path: Path) -> None:
    record = Record.open(tmp_path / "record.db")
    rng = random.Random(3)
    for week, off in enumerate([*spread(rng, 26, 14.0), *spread(rng, 14, 3.0)]):
        if week == 12:
            early = figures(record, DAY + timedelta(weeks=12))
        put(record, off, 7 * week)
    made = figures(record, DAY + timedelta(weeks=40))
    change = made.paper_change
    assert change is not None
    sentence = words(change)
    assert sentence in " ".join(" ".join(page(made)).split())
    assert sentence in html(made)
    held = json.loads(json.dumps(figures_json(made)))["on_paper_change"]
    assert held["now"]["miss_delta_e00"] == pytest.approx(change.now.miss, abs=1e-3)
    pairs = seen(change)
    assert pairs.now.apart is not None
    off = float(delta_e00(pairs.now.apart.first, pairs.now.apart.second))
    assert off == pytest.approx(change.now_swatch.miss, abs=0.05)
    assert early.paper_change is None
    assert figures_json(early)["on_paper_change"] is None
    assert "nearer than they did" not in " ".join(page(early))
    recent = [one.miss for one in made.paper if (made.today - one.day).days < PERIOD]
    assert change.now.miss == median(recent)
