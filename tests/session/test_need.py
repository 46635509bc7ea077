"""What calls for practice: of two skills alike but for one thing, the one in need comes first."""

from __future__ import annotations

from datetime import timedelta
from math import log10
from typing import Any

import pytest

from scores.skill.memory import SkillState
from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import WHEEL
from scores.today.need import LOWEST_SHARE, Need, needs, standings
from scores.today.offers import KindFacts, Offers
from scores.today.why import usual_steps, why_words
from tests.answers import START

STEPS, CHANCE = (20.0, 1.0), 0.5


def offers(kinds: int = 2, **changes: Any) -> Offers:
    made = {
        f"kind-{n}": KindFacts(f"kind-{n}", 1, "Kind", 14.0, "ΔL*", STEPS, CHANCE, True)
        for n in range(kinds)
    }
    return Offers(made, tuple((kind, family) for kind in made for family in WHEEL))


def measured(step: float = 5.0, answers: int = 12, days_ago: int = 4) -> SkillThreshold:
    """A threshold at a step, known the better the more answers there were."""
    late = answers * 0.5 ** (days_ago / 60)
    return SkillThreshold(STEPS, CHANCE, log10(step), 0.3 / (1 + answers) ** 0.5, answers, late)


def met(
    skill: str,
    step: float = 5.0,
    answers: int = 12,
    days_ago: int = 4,
    stability: float = 10.0,
    due_in: int = 6,
) -> SkillState:
    tried = START - timedelta(days=days_ago)
    return SkillState(
        skill,
        stability=stability,
        difficulty=5.0,
        reviewed=tried.date(),
        due=START.date() + timedelta(days=due_in),
        tries=answers,
        right=answers,
        mean_score=0.9,
        step=step,
        usual_step=step,
        last_tried=tried,
        last_right=tried,
        threshold=measured(step, answers, days_ago),
    )


def calls(
    skills: dict[str, SkillState],
    made: Offers | None = None,
    cost: dict[str, float] | None = None,
    **settings: float,
) -> dict[str, Need]:
    made = made or offers()
    seconds = cost or dict.fromkeys(made.kinds, 20.0)
    return {need.skill: need for need in needs(skills, made, seconds, START, **settings)}


def everyone(**changes: Any) -> dict[str, SkillState]:
    return {skill: met(skill, **changes) for skill in offers().skills}


RED, BLUE = "kind-0:red", "kind-0:blue"


def test_the_faded_before_the_fresh() -> None:
    skills = everyone(stability=30.0)
    skills[RED] = met(RED, stability=3.0, due_in=-1)
    made = calls(skills)
    assert made[RED].value > made[BLUE].value
    assert (made[RED].reason, made[BLUE].reason) == ("due", "practice")


def test_the_weak_before_the_strong() -> None:
    skills = everyone()
    skills[RED] = met(RED, step=14.0)
    made = calls(skills)
    assert made[RED].value > made[BLUE].value
    assert made[RED].reason == "weak"


def test_no_skill_is_weak_that_has_reached_the_target() -> None:
    skills = everyone(step=1.0)
    assert {need.reason for need in calls(skills, target=0.5).values()} == {"practice"}


def test_a_lower_target_makes_less_of_weakness() -> None:
    skills = everyone()
    skills[RED] = met(RED, step=10.0)
    high, low = calls(skills), calls(skills, target=0.0)
    assert low[RED].value / low[BLUE].value < high[RED].value / high[BLUE].value


def test_the_little_practised_before_the_much_practised() -> None:
    skills = everyone(answers=40)
    skills[RED] = met(RED, answers=10)
    made = calls(skills)
    assert made[RED].value > made[BLUE].value


def test_practice_long_ago_counts_less_than_practice_of_late() -> None:
    made = calls({RED: met(RED, answers=30, days_ago=200, stability=1e6, due_in=900)})
    late = calls({RED: met(RED, answers=30, days_ago=2, stability=1e6, due_in=900)})
    assert made[RED].value > late[RED].value


def test_what_is_little_known_is_looked_into() -> None:
    """Two skills with the same mean: the one that may lie lower counts as lying lower."""
    skills = everyone(answers=20)
    known = skills[RED].threshold
    assert known is not None
    skills[RED] = met(RED, answers=20)
    loose = known._replace(sd=known.sd * 3)
    skills[BLUE] = SkillState(**{**vars(skills[BLUE]), "threshold": loose})
    made = calls(skills)
    assert made[BLUE].value > made[RED].value


def test_the_quick_kind_before_the_slow_one_but_not_in_full_measure() -> None:
    made = calls({}, cost={"kind-0": 10.0, "kind-1": 30.0})
    ratio = made[RED].value / made["kind-1:red"].value
    assert 1.0 < ratio < 3.0


def test_the_desired_retention_says_how_soon_a_skill_counts_as_faded() -> None:
    skills = {RED: met(RED, days_ago=20, stability=10.0), BLUE: met(BLUE, days_ago=1)}
    strict, easy = calls(skills, retention=0.97), calls(skills, retention=0.7)
    assert strict[RED].value / strict[BLUE].value > easy[RED].value / easy[BLUE].value


def test_a_skill_never_met_stands_where_its_kind_does() -> None:
    skills = {f"kind-0:{family}": met(f"kind-0:{family}", step=14.0) for family in WHEEL[:6]}
    stand = standings(skills, offers())
    assert stand["kind-0:violet"].level < stand["kind-1:violet"].level
    assert stand["kind-0:violet"].late == 0


def test_an_eighth_of_the_skills_count_as_the_weakest() -> None:
    skills = everyone()
    for place, skill in enumerate(skills):
        skills[skill] = met(skill, step=1.5 * 1.1**place, answers=40)
    weak = [need.skill for need in calls(skills).values() if need.reason == "weak"]
    assert len(weak) == round(LOWEST_SHARE * len(skills))
    assert set(weak) == set(list(skills)[-3:])


def words(skill: str, skills: dict[str, SkillState]) -> str:
    need = calls(skills)[skill]
    return why_words(need, skills.get(skill), offers().kinds["kind-0"], usual_steps(skills), START)


def test_every_reason_is_one_plain_sentence() -> None:
    skills = everyone()
    skills[RED] = met(RED, step=14.0)
    skills[BLUE] = met(BLUE, days_ago=9, stability=2.0, due_in=-1)
    skills["kind-0:green"] = met("kind-0:green", answers=1, days_ago=1)
    del skills["kind-0:violet"]
    assert words(RED, skills) == "reds weak: seen down to ΔL* 14, elsewhere to ΔL* 5"
    assert words(BLUE, skills) == "blues due: last right 9 days ago"
    assert words("kind-0:violet", skills) == "violets: new to you here"
    assert words("kind-0:yellow", skills) == "yellows once more: last met 4 days ago"
    green = words("kind-0:green", skills)
    assert green == "greens: little known yet (1 answer)"


@pytest.mark.parametrize("answers", [0, 3])
def test_a_skill_that_cannot_be_measured_is_weak_by_its_points(answers: int) -> None:
    state = SkillState(RED, tries=answers, mean_score=0.4, step=3.0, due=START.date())
    reason = calls({RED: state})[RED].reason
    assert reason == ("weak" if answers else "new")
