"""The day's arc: warm-up, one focus of like beside like, what is due, and one whole match."""

from __future__ import annotations

import random
from collections import Counter
from dataclasses import replace
from datetime import timedelta
from itertools import pairwise
from math import log10

import pytest

from scores.skill.memory import SkillState
from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import WHEEL
from scores.today.back import days_away, minutes_back, seconds_back
from scores.today.day_plan import Item, plan_day
from scores.today.mix import WAITS
from scores.today.offers import KindFacts, Offers
from scores.today.shares import (
    AWAY_DAYS,
    CRAFT,
    FIRST_DAY,
    MOST_FOCUS,
    NEW_KINDS,
    STEPS,
    SURE,
    USUAL,
)
from tests.answers import START

KINDS = {
    "hue-and-lean": (14.0, "wheel steps"),
    "nearest-start": (12.0, "wheel steps"),
    "lighter-or-darker": (7.0, "ΔL*"),
    "brighter-or-duller": (7.0, "ΔC*"),
    "mute-with-complement": (20.0, "ΔE00"),
    "order-of-layers": (25.0, "ΔE00"),
    "make-the-match": (60.0, "ΔE00"),
    "what-is-off": (15.0, "ΔE00"),
    "surround-lies": (8.0, "ΔL*"),
    "hold-in-mind": (13.0, "ΔE00"),
    "handling": (18.0, ""),
}
CARDS = ("handling", "order-of-layers")


def facts(name: str) -> KindFacts:
    seconds, unit = KINDS[name]
    title = name.replace("-", " ").capitalize()
    eye = name not in CARDS
    return KindFacts(name, 1, title, seconds, unit, (20.0, 1.0), 0.25, True, eye)


OFFERS = Offers({n: facts(n) for n in KINDS}, tuple((n, region) for n in KINDS for region in WHEEL))


def met(days_ago: int = 1, low: str = "") -> dict[str, SkillState]:
    """Everything met; the kind ``low`` seen coarsely."""
    states = {}
    for kind, region in OFFERS.pairs:
        step = 15.0 if kind == low else 4.0
        at = START - timedelta(days=days_ago)
        states[f"{kind}:{region}"] = SkillState(
            f"{kind}:{region}",
            stability=20.0,
            reviewed=at.date(),
            due=(at + timedelta(days=20)).date(),
            tries=20,
            mean_score=0.8,
            last_tried=at,
            threshold=SkillThreshold((20.0, 1.0), 0.25, log10(step), 0.1, 20, 12.0),
        )
    return states


def plan(
    skills: dict[str, SkillState] | None = None, minutes: float = 10.0, seed: int = 1
) -> tuple[Item, ...]:
    skills = met() if skills is None else skills
    return plan_day(skills, OFFERS, {}, START, minutes, random.Random(seed))


def parts(items: tuple[Item, ...]) -> list[str]:
    return list(dict.fromkeys(item.part for item in items))


def test_ten_minutes_are_warm_up_focus_what_is_due_and_a_match() -> None:
    for seed in range(20):
        day = plan(seed=seed)
        assert parts(day) == ["warm-up", "focus", "mixed", "match"]
        total = sum(item.seconds for item in day)
        assert 0.85 * 600 <= total <= 1.05 * 600
        assert {item.aim for item in day if item.part == "warm-up"} == {SURE}
        assert {item.aim for item in day if item.part != "warm-up"} == {USUAL}


def test_half_of_the_time_is_the_craft_s_own_steps() -> None:
    shares = []
    for seed in range(40):
        day = plan(seed=seed)
        craft = sum(item.seconds for item in day if item.kind in CRAFT)
        shares.append(craft / sum(item.seconds for item in day))
    assert 0.40 <= sum(shares) / len(shares) <= 0.60
    assert min(shares) > 0.35


def test_the_match_takes_one_family_through_every_step_in_order() -> None:
    match = [item for item in plan() if item.part == "match"]
    assert [item.kind for item in match] == list(STEPS)
    assert len({item.region for item in match}) == 1


@pytest.mark.parametrize("minutes", [10, 20, 30, 60])
def test_each_ten_minutes_hold_every_step_once(minutes: int) -> None:
    counts = Counter(item.kind for item in plan(minutes=minutes))
    assert all(counts[kind] >= minutes // 10 for kind in STEPS)


def practised(minutes: float, days: int) -> list[tuple[Item, ...]]:
    """The plans of so many days, each asked to its end."""
    skills, made = met(), []
    for day in range(days):
        now = START + timedelta(days=day)
        made.append(plan_day(skills, OFFERS, {}, now, minutes, random.Random(day)))
        for item in made[-1]:
            skills[item.skill] = replace(skills[item.skill], last_tried=now)
    return made


@pytest.mark.parametrize("minutes", [2, 3, 5, 7])
def test_on_short_days_each_step_comes_in_ten_minutes_of_practice(minutes: int) -> None:
    plans = practised(minutes, 24)
    together = -(-10 // minutes)
    for first in range(3, len(plans) - together + 1):
        some = plans[first : first + together]
        if sum(item.seconds for plan in some for item in plan) >= 540:
            assert set(STEPS) <= {item.kind for plan in some for item in plan}


@pytest.mark.parametrize("minutes", [3, 5, 7])
def test_on_short_days_what_the_day_is_for_comes_first_and_in_order(minutes: int) -> None:
    for plan in practised(minutes, 12):
        match = [item for item in plan if item.part == "match"]
        assert list(plan[: len(match)]) == match
        places = [STEPS.index(item.kind) for item in match]
        assert places == sorted(set(places))
        assert sum(item.seconds for item in plan) <= 66 / 2 + minutes * 60


@pytest.mark.parametrize("minutes", [3, 10])
def test_no_drill_is_left_out_for_more_than_a_week(minutes: int) -> None:
    plans = practised(minutes, 40)
    for kind in KINDS:
        days = [day for day, plan in enumerate(plans) if any(i.kind == kind for i in plan)]
        assert max(b - a for a, b in pairwise([0, *days, len(plans)])) <= 8, kind


def test_another_family_laid_before_is_laid_again() -> None:
    day = plan()
    layings = [item for item in day if item.kind == STEPS[-1]]
    assert [item.part for item in layings] == ["mixed", "match"]
    assert layings[0].region != layings[1].region


def test_no_focus_is_on_a_step_of_the_craft_that_has_its_share_already() -> None:
    for seed in range(30):
        day = plan(seed=seed)
        craft = sum(item.seconds for item in day if item.kind in CRAFT)
        if next(item.kind for item in day if item.part == "focus") in CRAFT:
            assert craft <= 0.62 * 600


def test_the_focus_sets_like_beside_like() -> None:
    """In its runs each question's family is beside the one before it."""
    for seed in range(20):
        focus = [item for item in plan(seed=seed) if item.part == "focus"]
        assert len({item.kind for item in focus}) == 1
        assert 3 <= len(focus) <= MOST_FOCUS
        for first in range(0, len(focus) - 1, 4):
            run = [WHEEL.index(item.region) for item in focus[first : first + 4]]
            apart = [abs(a - b) for a, b in pairwise(run)]
            assert set(apart) <= {1, len(WHEEL) - 1}


def test_the_focus_is_on_what_is_seen_coarsely_and_serves_the_match() -> None:
    chosen = Counter(
        next(item.kind for item in plan(met(low="lighter-or-darker"), seed=seed)
             if item.part == "focus")
        for seed in range(20)
    )  # fmt: skip
    assert chosen["lighter-or-darker"] >= 14


def test_no_card_to_remember_is_a_focus() -> None:
    for seed in range(10):
        assert not [i for i in plan(seed=seed) if i.part == "focus" and i.kind in CARDS]


def test_a_first_session_is_four_drills_and_ends_with_a_match() -> None:
    for seed in range(10):
        day = plan({}, seed=seed)
        assert {item.kind for item in day} == set(FIRST_DAY)
        assert day[-1].kind == "make-the-match"
        assert day[-1].aim == SURE
        assert sum(item.seconds for item in day) <= 1.1 * 600


def test_a_first_session_has_its_first_match_within_two_minutes() -> None:
    for seed in range(10):
        day = plan({}, seed=seed)
        at = [item.kind for item in day].index("make-the-match")
        assert sum(item.seconds for item in day[: at + 1]) <= 120
        assert {item.aim for item in day[: at + 1]} == {SURE}


def test_after_weeks_away_the_first_day_is_short_and_sure() -> None:
    long, short = plan(met(days_ago=AWAY_DAYS - 1)), plan(met(days_ago=AWAY_DAYS))
    assert sum(item.seconds for item in short) <= 0.7 * sum(item.seconds for item in long)
    assert {item.aim for item in short} == {SURE}


@pytest.mark.parametrize("days", [AWAY_DAYS, 40, 183, 800])
def test_a_first_day_back_begins_sure_ends_with_a_match_and_owes_nothing(days: int) -> None:
    """However long the break: no pile of what is due or was left out."""
    for seed in range(10):
        back = plan(met(days_ago=days), seed=seed)
        assert back[0].part == "warm-up"
        assert back[-1].kind == STEPS[-1]
        assert back[-1].part == "match"
        assert {item.aim for item in back} == {SURE}
        assert 0.8 * 360 <= sum(item.seconds for item in back) <= 1.1 * 360
        beside = {item.kind for item in back if item.part == "mixed"} - set(STEPS)
        assert len(beside) <= 3


def test_who_was_away_is_told_only_after_weeks() -> None:
    assert days_away({}, START) == 0
    assert days_away(met(days_ago=AWAY_DAYS - 1), START) == 0
    assert days_away(met(days_ago=183), START) == 183
    assert [minutes_back(minutes) for minutes in (2.0, 3.0, 10.0, 60.0)] == [2.0, 2.0, 6.0, 36.0]
    # The plan's are not rounded: of a little less there is a little less.
    assert [seconds_back(seconds) for seconds in (600.0, 570.0, 90.0)] == [360.0, 342.0, 120.0]


def test_a_drill_not_asked_for_days_is_asked() -> None:
    skills = met()
    for region in WHEEL:
        name = f"hold-in-mind:{region}"
        skills[name] = SkillState(name, **{
            **{f: getattr(skills[name], f) for f in ("stability", "reviewed", "due", "tries")},
            "last_tried": START - timedelta(days=6),
            "threshold": skills[name].threshold,
        })  # fmt: skip
    assert "hold-in-mind" in {item.kind for item in plan(skills)}


def left_out(kinds: tuple[str, ...], days: int) -> dict[str, SkillState]:
    """Everything met day by day, but these kinds not for so many days."""
    skills = met()
    for place, name in enumerate(skills):
        ago = days if skills[name].kind in kinds else 1 + place % (days - 1)
        skills[name] = replace(skills[name], last_tried=START - timedelta(days=ago))
    return skills


def test_on_a_short_day_the_match_gives_way_to_drills_that_can_wait_no_longer() -> None:
    kinds = ("what-is-off", "hold-in-mind", "surround-lies", "handling")
    for seed in range(10):
        whole = plan(left_out((*kinds, *STEPS), WAITS), minutes=3, seed=seed)
        given_way = plan(left_out((*kinds, *STEPS), WAITS + 1), minutes=3, seed=seed)
        assert set(kinds) <= {item.kind for item in given_way}
        match, late = (
            [sum(i.seconds for i in day if i.part == "match") for day in (whole, given_way)],
            sum(item.seconds for item in given_way if item.kind in kinds),
        )
        assert match[1] < match[0]
        assert match[1] > 0
        assert match[1] + late <= 180


def test_where_nothing_or_little_can_be_asked_it_does_what_it_can() -> None:
    nothing = Offers(OFFERS.kinds, ())
    assert plan_day({}, nothing, {}, START, 10, random.Random(1)) == ()
    one = Offers(OFFERS.kinds, (("handling", "cautions"),))
    for skills in ({}, met()):
        made = plan_day(skills, one, {}, START, 10, random.Random(1))
        assert {item.skill for item in made} == {"handling:cautions"}


def test_the_same_seed_plans_the_same_day() -> None:
    assert plan(seed=3) == plan(seed=3) != plan(seed=4)


def test_drills_never_met_come_a_few_a_day_beside_the_steps_of_a_match() -> None:
    """A first week must not be all beginnings."""
    skills = {name: state for name, state in met().items() if name.partition(":")[0] in FIRST_DAY}
    for seed in range(10):
        begun = {item.kind for item in plan(skills, seed=seed)} - set(FIRST_DAY) - set(STEPS)
        assert 1 <= len(begun) <= NEW_KINDS


def test_no_quick_drill_fills_what_is_mixed_in() -> None:
    for seed in range(20):
        counts = Counter(item.kind for item in plan(seed=seed) if item.part == "mixed")
        assert max(counts.values()) <= 0.5 * max(4, counts.total())
