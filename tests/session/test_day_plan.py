"""How much a day holds, what it aims at, and the words that say why."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import timedelta
from math import log10

import pytest

from drills.basics.json_values import JSON
from scores.skill.memory import SkillState
from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import ago_words, ahead_words
from scores.today.day_plan import aims_of, minutes_of, plan_session
from scores.today.need import Need
from scores.today.offers import KindFacts, Offers, offers_from_json
from scores.today.why import measure_words, usual_steps, why_words
from tests.answers import START

FACTS = KindFacts("k", 1, "Kind", 14.0, "ΔL*", (20.0, 1.0), 0.5, True)
REGIONS = ("red", "orange", "yellow", "green", "blue", "violet", "grey", "neutral")


def offers(seconds: float = 14.0, kinds: int = 3) -> Offers:
    facts = {f"k{n}": replace(FACTS, name=f"k{n}", seconds=seconds) for n in range(kinds)}
    return Offers(facts, tuple((kind, region) for kind in facts for region in REGIONS))


def seconds_planned(seconds: float, minutes: float, **own: float) -> list[float]:
    plan = plan_session({}, offers(seconds), own, START, minutes, random.Random(1))
    return [item.seconds for item in plan]


def test_a_question_takes_the_learner_s_own_time_and_six_seconds_of_reading() -> None:
    assert set(seconds_planned(14, 4)) == {20.0}
    assert set(seconds_planned(14, 4, k0=3.5, k1=3.5, k2=3.5)) == {9.5}
    # A time too short to be true counts as a second.
    assert set(seconds_planned(14, 4, k0=0.1, k1=0.1, k2=0.1)) == {7.0}


def test_the_last_question_comes_where_at_least_half_of_it_fits() -> None:
    assert len(seconds_planned(14, 4)) == 12
    assert len(seconds_planned(34, 4)) == 6
    assert len(seconds_planned(34, 4.6)) == 7  # 276 s: 36 s are left for 40
    assert len(seconds_planned(34, 4.3)) == 6  # 258 s: 18 s are left for 40
    assert len(seconds_planned(34, 4 + 1 / 3)) == 7  # 260 s: half fits
    assert len(seconds_planned(200, 2)) == 1


@pytest.mark.parametrize(
    ("value", "retention", "target"),
    [(None, 0.9, 1.0), (0.8, 0.8, 0.8), (0.1, 0.7, 0.3), (7, 0.97, 1.0), (True, 0.9, 1.0)],
)
def test_aims_keep_within_their_bounds(value: JSON, retention: float, target: float) -> None:
    assert aims_of({"desired_retention": value, "target_level": value}) == (retention, target)
    assert minutes_of({"minutes": value}) == (10.0 if value in (None, True) else max(2, value))  # type: ignore[call-overload]


def met(region: str = "red", step: float | None = 3.0, **changes: object) -> SkillState:
    known = None if step is None else SkillThreshold((20.0, 1.0), 0.5, log10(step), 0.1, 9, 9.0)
    state = SkillState(f"k:{region}", tries=9, mean_score=0.44, threshold=known)
    return replace(state, **changes)  # type: ignore[arg-type]


def why(reason: str, state: SkillState | None, unit: str = "ΔL*", **usual: float) -> str:
    call = Need(1.0, reason, "k:red", "k", "red")  # type: ignore[arg-type]
    steps = (1.0, 20.0) if unit == "rising" else (20.0, 1.0)
    facts = replace(FACTS, unit="ΔL*" if unit == "rising" else unit, steps=steps)
    return why_words(call, state, facts, usual, START)


def test_each_reason_in_words() -> None:
    long_ago = START - timedelta(days=9)
    assert why("new", None) == why("new", met()) == why("due", None) == "reds: new to you here"
    assert why("due", met()) == "reds due: not yet right"
    assert why("due", met(last_right=long_ago)) == "reds due: last right 9 days ago"
    assert why("unsure", met(tries=1)).endswith("little known yet (1 answer)")
    assert why("unsure", met(tries=2)).endswith("little known yet (2 answers)")
    assert why("practice", met()) == "reds once more: not met of late"
    assert why("practice", met(last_tried=long_ago)) == "reds once more: last met 9 days ago"


def test_how_weak_is_said_by_the_step_seen_where_one_is_known() -> None:
    assert why("weak", met(step=None)) == "reds weak: 4 points in 10 of late"
    assert why("weak", met(), k=2.0) == "reds weak: seen down to ΔL* 3, elsewhere to ΔL* 2"
    for known in ({}, {"k": 3.0}, {"k": 4.0}):
        assert why("weak", met(), **known) == "reds weak: seen down to ΔL* 3 so far"
    # Where a greater step is the finer one, the other way round.
    assert why("weak", met(), "rising", k=4.0).endswith("elsewhere to ΔL* 4")
    assert why("weak", met(), "rising", k=2.0).endswith("so far")


@pytest.mark.parametrize(
    ("step", "unit", "words"),
    [
        (0.254, "wheel steps", "0.25 wheel steps"),
        (4.25, "ΔL*", "ΔL* 4.2"),
        (9.94, "C*ab", "C*ab 9.9"),
        (10.0, "ΔE00", "ΔE00 10"),
        (123.4, "ΔE00", "ΔE00 123"),
        (2.0, "", "2"),
    ],
)
def test_a_step_is_said_to_two_figures_with_its_unit(step: float, unit: str, words: str) -> None:
    assert measure_words(step, unit) == words


def test_the_usual_step_is_the_median_of_four_measured_skills_or_more() -> None:
    steps = dict(zip(REGIONS, (1.0, 8.0, 2.0, 5.0, 3.0), strict=False))
    skills = {region: met(region, step) for region, step in steps.items()}
    assert usual_steps(skills) == {"k": pytest.approx(3.0)}
    del skills["red"]
    assert usual_steps(skills) == {"k": pytest.approx(5.0)}
    skills["grey"] = met("grey", 9.0, threshold=None)
    del skills["orange"]
    assert usual_steps(skills) == {}


def test_days_in_words_change_where_the_next_is_shorter() -> None:
    days = [1, 2, 20, 21, 69, 70, 699, 700, 1100]
    words = ["2 days", "20 days", "3 weeks", "10 weeks", "2 months", "23 months"]
    words += ["2 years", "3 years"]
    today = START.date()
    ago = [ago_words(today - timedelta(d), today) for d in days]
    ahead = [ahead_words(today + timedelta(d), today) for d in days]
    assert ago == ["yesterday", *(f"{w} ago" for w in words)]
    assert ahead == ["tomorrow", *(f"in {w}" for w in words)]


def test_offers_come_back_from_json_in_full_or_not_at_all() -> None:
    made = Offers({"k": replace(FACTS, needs_colour=False, chance=0.25)}, (("k", "red"),))
    kept = made.as_json()
    assert offers_from_json(kept) == made
    assert made.as_json()["kinds"] == [
        {
            "name": "k",
            "version": 1,
            "title": "Kind",
            "seconds": 14.0,
            "unit": "ΔL*",
            "steps": [20.0, 1.0],
            "chance": 0.25,
            "needs_colour": False,
            "of_the_eye": True,
        }
    ]
    for broken in ({"steps": [1.0]}, {"version": "x"}, {"steps": None}):
        facts = {**kept["kinds"][0], **broken}  # type: ignore[index,dict-item,call-overload]
        assert offers_from_json({**kept, "kinds": [facts]}) is None
