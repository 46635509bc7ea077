"""The figures of need worked out again by hand: each constant holds something that shows."""

from __future__ import annotations

import math
from datetime import timedelta

import pytest

from scores.skill.memory import SkillState
from scores.skill.skill_threshold import SkillThreshold
from scores.today.need import Need, needs, new_quota, standings
from scores.today.offers import KindFacts, Offers
from tests.answers import START

DAY = START.date()
STEPS = (10.0, 1.0)
"""One level is one in log10, so that figures stay plain."""


def offers(*pairs: str) -> Offers:
    split = [pair.split(":") for pair in pairs]
    facts = {k: KindFacts(k, 1, k, 14.0, "ΔL*", STEPS, 0.5, True) for k, _ in split}
    return Offers(facts, tuple((kind, region) for kind, region in split))


def measured(level: float, sd: float = 0.0, late: float = 12.0) -> SkillThreshold:
    return SkillThreshold(STEPS, 0.5, 1.0 - level, sd, 40, late)


def met(
    skill: str,
    level: float | None = 0.5,
    sd: float = 0.0,
    late: float = 12.0,
    *,
    stability: float = 1e9,
    days_ago: int = 0,
    due_in: int = 9,
    tries: int = 40,
    score: float = 0.9,
) -> SkillState:
    return SkillState(
        skill,
        stability=stability,
        difficulty=5.0,
        reviewed=DAY - timedelta(days=days_ago),
        due=DAY + timedelta(days=due_in),
        tries=tries,
        mean_score=score,
        last_tried=START - timedelta(days=days_ago),
        threshold=None if level is None else measured(level, sd, late),
    )


def calls(*states: SkillState, cost: float = 1.0, **aims: float) -> dict[str, Need]:
    made = offers(*(state.skill for state in states))
    found = needs(
        {s.skill: s for s in states}, made, dict.fromkeys(made.kinds, cost), START, **aims
    )
    return {need.skill: need for need in found}


def value(state: SkillState, cost: float = 1.0, **aims: float) -> float:
    return calls(state, cost=cost, **aims)[state.skill].value


NOTHING_LEFT_TO_SEE = {"level": 1.0}
"""At the target: weakness is 1, and what is left is the gain."""


def test_twelve_answers_of_late_build_all_but_a_share_1_over_e() -> None:
    assert value(met("k:red", 1.0, late=12)) == pytest.approx(1 / math.e)
    assert value(met("k:red", 1.0, late=24)) == pytest.approx(1 / math.e**2)
    assert value(met("k:red", 1.0, late=0)) == 1.0


def test_on_the_day_it_is_due_nine_tenths_of_what_was_built_are_held() -> None:
    """Its stability is the days in which retrievability falls to 0.9, the desired retention."""
    built = 1 - 1 / math.e
    due = met("k:red", 1.0, stability=10, days_ago=10, due_in=0)
    assert value(due) == pytest.approx(1 - 0.9 * built, abs=1e-3)
    # One who wants to hold less has it counted as less faded on the same day.
    assert value(due, retention=0.8) == pytest.approx(
        1 - 0.9 ** (math.log(0.9) / math.log(0.8)) * built, abs=1e-3
    )


def test_a_level_under_the_target_counts_one_part_in_twenty() -> None:
    none = value(met("k:red", 1.0))
    assert value(met("k:red", 0.0)) == pytest.approx(1.05 * none)
    assert value(met("k:red", 0.6)) == pytest.approx(1.02 * none)
    assert value(met("k:red", 1.4)) == pytest.approx(none)
    assert value(met("k:red", 0.6), target=0.6) == pytest.approx(none)


def test_half_a_standard_deviation_of_doubt_is_taken_from_the_level() -> None:
    assert value(met("k:red", 0.6, sd=0.4)) == pytest.approx(value(met("k:red", 0.4)))


def test_time_counts_by_its_power_of_seven_tenths() -> None:
    assert value(met("k:red"), cost=10.0) == pytest.approx(value(met("k:red")) / 5.0119, rel=1e-4)


def test_a_skill_never_met_stands_between_its_kind_s_and_a_newcomer_s_level() -> None:
    made = offers("a:red", "a:blue", "b:red")
    stand = standings({"a:red": met("a:red", 0.8, sd=0.1, late=5)}, made)
    assert stand["a:red"] == (pytest.approx(0.8), pytest.approx(0.1), 5.0)
    # One skill met counts twice as much as the newcomer's 0.35.
    assert stand["a:blue"] == (pytest.approx((0.8 + 0.5 * 0.35) / 1.5), 0.2, 0.0)
    assert stand["b:red"] == (pytest.approx(0.35), 0.2, 0.0)


def test_a_skill_that_cannot_be_measured_stands_by_its_points_and_at_most_24_answers() -> None:
    made = offers("a:red", "a:blue", "a:green")
    skills = {
        "a:red": met("a:red", None, tries=30, score=0.6),
        "a:blue": met("a:blue", None, tries=7, score=0.4),
        "a:green": met("a:green", None, tries=0),
    }
    stand = standings(skills, made)
    assert stand["a:red"] == (0.6, 0.0, 24.0)
    assert stand["a:blue"] == (0.4, 0.0, 7.0)
    assert stand["a:green"].level == pytest.approx((1.0 + 0.175) / 2.5)


def test_nothing_is_held_of_a_memory_dated_ahead_by_a_wrong_clock() -> None:
    assert value(met("k:red", 1.0, days_ago=-300)) == 1.0
    # A changed zone is no wrong clock.
    assert value(met("k:red", 1.0, days_ago=-1)) == pytest.approx(1 / math.e)
    assert value(met("k:red", 1.0, days_ago=-1, due_in=0)) == 1.0
    assert value(met("k:red", 1.0, days_ago=0, due_in=0)) == pytest.approx(1 / math.e)


def ladder(*levels: float) -> list[SkillState]:
    return [met(f"k:{place}", level) for place, level in enumerate(levels)]


def weakest(*levels: float, target: float = 1.0) -> set[int]:
    """Places of the skills that count three parts in ten more than their level alone."""
    found = calls(*ladder(*levels), target=target)
    alone = [value(state, target=target) for state in ladder(*levels)]
    times = [found[f"k:{place}"].value / alone[place] for place in range(len(levels))]
    assert all(each == pytest.approx(1.0) or each == pytest.approx(1.3) for each in times)
    return {place for place, each in enumerate(times) if each > 1.1}


def test_the_lowest_eighth_counts_three_parts_in_ten_more() -> None:
    rising = [0.3 + 0.03 * place for place in range(16)]
    assert weakest(*rising) == {0, 1}
    assert weakest(*rising[::-1]) == {14, 15}
    assert weakest(*rising[:8]) == {0}
    assert weakest(*rising[:3]) == set()


def test_no_skill_is_the_weakest_that_is_at_the_target_or_beside_the_middle_one() -> None:
    assert weakest(0.5, *[0.9] * 7, target=0.51) == {0}
    assert weakest(0.5, *[0.9] * 7, target=0.5) == set()
    assert weakest(0.87, *[0.9] * 7) == {0}
    assert weakest(0.885, *[0.9] * 7) == set()
    # The middle one is the fifth of eight.
    assert weakest(0.5, 0.51, 0.51, 0.51, *[0.9] * 4) == {0}
    assert weakest(0.5, 0.51, 0.51, 0.51, 0.51, *[0.9] * 3) == set()


def test_doubt_chooses_the_weakest_but_a_doubtful_one_is_not_called_weak() -> None:
    others = [met(f"k:{place}", 0.6) for place in range(7)]
    doubtful = calls(met("k:x", 0.5, sd=0.3), *others)["k:x"]
    sure = calls(met("k:x", 0.5, sd=0.1), *others)["k:x"]
    assert (doubtful.reason, sure.reason) == ("practice", "weak")
    for made in (doubtful, sure):
        assert made.value > 1.25 * calls(*others)["k:0"].value


def reason(state: SkillState) -> str:
    return calls(state)[state.skill].reason


def test_why_a_skill_is_asked_to_the_answer() -> None:
    assert reason(met("k:red", tries=0)) == "new"
    assert reason(met("k:red", None, tries=3, score=0.69)) == "weak"
    assert reason(met("k:red", None, tries=3, score=0.7)) == "practice"
    assert reason(met("k:red", None, tries=2, score=0.1)) == "practice"
    assert reason(met("k:red", None, tries=3, score=0.1, due_in=0)) == "weak"
    assert reason(met("k:red", 0.5, score=0.1)) == "practice"
    assert reason(met("k:red", due_in=0)) == "due"
    assert reason(met("k:red", due_in=1)) == "practice"
    assert reason(met("k:red", late=3.9)) == "unsure"
    assert reason(met("k:red", late=4.0)) == "practice"
    assert reason(met("k:red", None, tries=1)) == "practice"


def quota(known: int, budget: float = 600.0, due: int = 0, each: float = 15.0) -> int:
    pairs = [f"k:{place}" for place in range(50)]
    skills = {pair: met(pair, due_in=0 if n < due else 9) for n, pair in enumerate(pairs[:known])}
    return new_quota(skills, offers(*pairs), {"k": each}, START, budget)


def test_how_many_new_skills_a_session_may_begin() -> None:
    assert quota(39) == 50
    assert quota(40) == 12
    assert quota(40, budget=1200) == 24
    # Ten due take a quarter of ten minutes; however much is due, a third is left.
    assert quota(40, due=10) == 9
    assert quota(40, due=20) == 6
    assert quota(40, due=40) == quota(40, due=40, each=60) == 4
    assert quota(40, budget=20) == quota(40, budget=0) == 1
