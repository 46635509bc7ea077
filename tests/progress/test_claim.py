"""A claim of change: true however often one looks, though days hang together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import cache

import numpy as np
import pytest

from scores.progress import claim as rules
from scores.progress.answers import Answers
from scores.progress.claim import Claim, claim, claim_of
from scores.progress.day_shifts import DayShifts, day_shifts, tied_precision
from scores.skill.model.layout import Layout, layout_of
from scores.skill.skill_words import WHEEL

DAY = 740_000
CHANCE = 0.25
KINDS = {"hue": ((0.5, 0.04), CHANCE), "mute": ((6.0, 1.0), CHANCE)}


def layout() -> Layout:
    return layout_of(KINDS, [f"{kind}:{region}" for kind in KINDS for region in WHEEL])


def shifts(
    rng: np.random.Generator, days: int, change: float, tied: float, mood: float = 0.08
) -> DayShifts:
    """Days' shifts as 26 answers a day would tell them, without the answers: 6 units of
    information each, the whole eye's own level unknown."""
    fresh = rng.normal(size=days) * mood
    series = np.empty(days)
    for day in range(days):
        before = series[day - 1] if day else 0.0
        series[day] = tied * before + (math.sqrt(1 - tied**2) if day else 1.0) * fresh[day]
    series += change * np.minimum(np.arange(days) / 56.0, 1.0)
    each = 26 * 6.0
    known = each * (np.eye(days) - 1.0 / days)
    noise = rng.normal(size=days) * math.sqrt(each)
    pull = known @ series + noise - noise.mean()
    return DayShifts(DAY + np.arange(days), np.full(days, 26), known, pull)


def looks(found: DayShifts, every: int = 21) -> Iterator[Claim]:
    """What is claimed at every look."""
    days = len(found.days)
    for day in range(every, days + 1, every):
        # A shorter history knows its own mean only.
        known = found.information[:day, :day].copy()
        known += 26 * 6.0 * (1.0 / days - 1.0 / day)
        part = found.pull[:day] - found.pull[:day].mean()
        yield claim_of(
            DayShifts(found.days[:day], found.answers[:day], known, part),
            DAY,
            DAY + day - 1,
            26 * day,
        )


def told(change: float, tied: float, learners: int, days: int, seed: int) -> list[str]:
    """The first direction ever told to each learner; "" for none."""
    rng = np.random.default_rng(seed)
    made = []
    for _ in range(learners):
        ways = [c.direction for c in looks(shifts(rng, days, change, tied)) if c.direction]
        made.append(ways[0] if ways else "")
    return made


def test_who_does_not_change_is_hardly_ever_told_so_though_days_hang_together() -> None:
    """30 learners, 4 looks; 5 in 100 are allowed."""
    assert sum(map(bool, told(0.0, 0.8, 30, 84, seed=5))) <= 1


def test_days_held_to_be_independent_would_tell_a_quarter_falsely(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Why correlation is in the model at all."""
    monkeypatch.setattr(rules, "TIED", ((0.0, 1.0),))
    assert sum(map(bool, told(0.0, 0.8, 30, 84, seed=5))) >= 8


def test_who_does_not_change_and_has_independent_days_is_not_told_either() -> None:
    assert sum(map(bool, told(0.0, 0.0, 20, 84, seed=6))) <= 1


@pytest.mark.parametrize(("change", "way"), [(-0.237, "finer"), (0.237, "coarser")])
def test_a_true_change_is_told_in_its_own_direction(change: float, way: str) -> None:
    found = told(change, 0.0, 15, 84, seed=7)
    assert found.count(way) >= 13
    assert set(found) <= {way, ""}


@cache
def changed() -> tuple[Claim, ...]:
    rng = np.random.default_rng(8)
    return tuple(c for _ in range(12) for c in looks(shifts(rng, 84, -0.237, 0.0)))


def test_the_interval_leaves_out_nothing_just_when_a_change_is_told() -> None:
    assert {c.direction for c in changed()} >= {None, "finer"}
    for c in changed():
        if c.direction:
            assert c.low <= c.change <= c.high < 0
            assert c.evidence >= math.log(20)
        elif math.isfinite(c.low):
            assert c.low <= 0 <= c.high


def test_the_interval_holds_the_truth_at_every_look_and_narrows() -> None:
    """At 84 days the change is whole: all but few of twelve intervals hold it."""
    last = changed()[3::4]
    assert sum(c.low <= -0.237 <= c.high for c in last) >= 11
    assert all(late.least < early.least for early, late in zip(changed()[1::4], last, strict=True))


def test_until_something_is_known_it_says_what_has_been_gathered() -> None:
    answers = made(np.random.default_rng(1), days=4)
    said = claim(answers, layout(), DAY + 3)
    assert (said.days, said.answers, said.direction) == (4, len(answers), None)
    assert said.least == math.inf
    nothing = claim(answers.pick(np.zeros(len(answers), dtype=bool)), layout(), DAY)
    assert (nothing.days, nothing.answers, nothing.direction) == (0, 0, None)


def made(
    rng: np.random.Generator, days: int, change: float = 0.0, begins: int = 0, a_day: int = 25
) -> Answers:
    """Answers of a logistic observer, ``change`` log10 coming at once on day ``begins``."""
    skills = layout()
    true = skills.mean + rng.normal(0, 0.15, skills.size)
    rows = []
    for day in range(days):
        for _ in range(a_day):
            place = int(rng.integers(skills.size))
            at = true[place] + rng.normal(0, 0.12)
            off = at - true[place] - change * (day >= begins)
            right = CHANCE + (1 - CHANCE) / (1 + math.exp(-9 * off - math.log(0.733 / 0.267)))
            rows.append((place, DAY + day, 50, round(100 * at), int(rng.random() < 0.97 * right)))
    return Answers(skills.skills, *np.array(rows, dtype=np.int64).T)


def test_the_days_shift_is_found_from_the_answers_with_every_skill_summed_out() -> None:
    found = day_shifts(made(np.random.default_rng(2), 40, change=0.2, begins=20), layout())
    assert found is not None
    tied, _ = tied_precision(found.days, 0.1, 0.5)
    mean = np.linalg.solve(found.information + tied, found.pull)
    assert mean[20:].mean() - mean[:20].mean() == pytest.approx(0.2, abs=0.06)
    # Moving every day alike is moving every skill: the answers hardly know it.
    together = np.ones(40) @ found.information @ np.ones(40)
    apart = np.repeat([1.0, -1.0], 20)
    assert together < 0.05 * (apart @ found.information @ apart)


def test_the_inverse_covariance_of_days_is_that_of_a_series_with_gaps() -> None:
    days = np.array([0, 1, 2, 9, 10, 40])
    for tied in (0.0, 0.3, 0.95):
        cov = 0.08**2 * tied ** np.abs(days[:, None] - days[None, :]).astype(float)
        precision, log_det = tied_precision(days, 0.08, tied)
        assert np.allclose(precision @ cov, np.eye(6), atol=1e-9)
        assert log_det == pytest.approx(np.linalg.slogdet(precision)[1])


def test_answers_of_skills_no_longer_offered_and_pure_guesses_are_left_out() -> None:
    answers = made(np.random.default_rng(3), 12)
    other = Answers(("gone:red",), *(np.zeros(0, dtype=np.int64) for _ in range(5)))
    assert day_shifts(other, layout()) is None
    renamed = Answers(
        tuple(f"x{s}" for s in answers.skills),
        *(answers.skill, answers.day, answers.chance, answers.place, answers.right),
    )
    assert day_shifts(renamed, layout()) is None


def test_a_long_record_is_looked_at_a_year_at_most() -> None:
    answers = made(np.random.default_rng(4), days=30, a_day=2)
    long = Answers(
        answers.skills,
        answers.skill,
        DAY + 25 * (answers.day - DAY),
        answers.chance,
        answers.place,
        answers.right,
    )
    said = claim(long, layout(), DAY + 725)
    assert DAY + 725 - said.since <= rules.WINDOW
    assert said.since > DAY
