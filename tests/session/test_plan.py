"""What today's plan promises, whatever the learner's record is like."""

from __future__ import annotations

import random
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from scores.skill.memory import SkillState, retrievability
from scores.skill.skill_words import ago_words, ahead_words, region_words, skill_words
from scores.today.day_plan import Item, minutes_of, plan_session
from scores.today.mix import WAITS, kinds_owed
from scores.today.need import new_quota
from scores.today.offers import KindFacts, Offers, offers_from_json
from tests.answers import START

FAMILIES = (
    "yellow",
    "orange",
    "red",
    "red-violet",
    "violet",
    "blue",
    "blue-green",
    "green",
    "yellow-green",
    "neutral",
)


def facts(name: str, seconds: float = 14.0, needs_colour: bool = True) -> KindFacts:
    return KindFacts(name, 1, name.title(), seconds, "ΔE00", (20.0, 1.0), 0.25, needs_colour)


def offers(kinds: int, regions: int, seconds: float = 14.0) -> Offers:
    made = {f"kind-{n}": facts(f"kind-{n}", seconds) for n in range(kinds)}
    return Offers(made, tuple((kind, region) for kind in made for region in FAMILIES[:regions]))


def met(
    skill: str, stability: float = 10.0, days_ago: int = 5, due_in: int = 5, mean: float = 0.9
) -> SkillState:
    tried = START - timedelta(days=days_ago)
    return SkillState(
        skill,
        stability=stability,
        difficulty=5.0,
        reviewed=tried.date(),
        due=START.date() + timedelta(days=due_in),
        tries=8,
        right=6,
        last_score=mean,
        mean_score=mean,
        step=6.0,
        usual_step=6.0,
        last_tried=tried,
        last_right=tried,
    )


@st.composite
def records(draw: st.DrawFn) -> tuple[Offers, dict[str, SkillState], dict[str, float]]:
    open_to_ask = offers(draw(st.integers(1, 5)), draw(st.integers(1, 10)), draw(st.floats(3, 90)))
    skills = {}
    for skill in open_to_ask.skills:
        if draw(st.booleans()):
            skills[skill] = met(
                skill,
                draw(st.floats(0.01, 1000)),
                draw(st.integers(0, 500)),
                draw(st.integers(-400, 300)),
                draw(st.floats(0, 1)),
            )
    skills["kind-gone:violet"] = met("kind-gone:violet", due_in=-9)
    times = {kind: draw(st.floats(0.5, 120)) for kind in open_to_ask.kinds if draw(st.booleans())}
    return open_to_ask, skills, times


@settings(max_examples=80, deadline=None)
@given(records(), st.floats(2, 60), st.integers(0, 2**32))
def test_laws_of_every_plan(
    made: tuple[Offers, dict[str, SkillState], dict[str, float]], minutes: float, seed: int
) -> None:
    open_to_ask, skills, times = made
    plan = plan_session(skills, open_to_ask, times, START, minutes, random.Random(seed))

    # The same record, time and seed give the same plan.
    assert plan == plan_session(skills, open_to_ask, times, START, minutes, random.Random(seed))
    # Only what can be asked is asked, and every item says why.
    assert {item.skill for item in plan} <= set(open_to_ask.skills)
    assert all(item.why and "\n" not in item.why for item in plan)
    # The time is filled, and overrun by no more than half the last question.
    total = sum(item.seconds for item in plan)
    assert total - plan[-1].seconds / 2 <= minutes * 60 or len(plan) == 1
    longest = max(item.seconds for item in plan)
    all_seconds = [times.get(kind, f.seconds) + 6 for kind, f in open_to_ask.kinds.items()]
    assert total >= minutes * 60 - max(*all_seconds, longest)
    # One kind is never asked three times running, unless it is the only one.
    if len(open_to_ask.kinds) > 1:
        for three in zip(plan, plan[1:], plan[2:], strict=False):
            assert len({item.kind for item in three}) > 1
    due = {
        s for s in open_to_ask.skills if s in skills and (skills[s].due or date.max) <= START.date()
    }
    # What is asked as due is due; as new, new; and no more new than there is room for.
    for item in plan:
        assert (item.reason == "new") <= (item.skill not in skills)
        assert (item.reason == "due") <= (item.skill in due)
    if all(sum(s.startswith(f"{kind}:") for s in skills) >= 2 for kind in open_to_ask.kinds):
        cost = {kind: items_seconds(plan, kind) for kind in open_to_ask.kinds}
        quota = new_quota(skills, open_to_ask, cost, START, minutes * 60)
        assert sum(item.reason == "new" for item in plan) <= quota
    # A skill comes again only after others, where there are others enough.
    if len(open_to_ask.kinds) > 2 and len(open_to_ask.skills) > 8:
        for place, item in enumerate(plan):
            assert item.skill not in {one.skill for one in plan[place + 1 : place + 3]}


def items_seconds(plan: tuple[Item, ...], kind: str) -> float:
    return next((item.seconds for item in plan if item.kind == kind), 1e9)


def reasons(plan: tuple[Item, ...]) -> list[str]:
    return [item.reason for item in plan]


def test_the_likeliest_forgotten_comes_first() -> None:
    open_to_ask = offers(2, 10)
    rng = random.Random(3)
    skills = {s: met(s, rng.uniform(1, 60), 30, -1) for s in open_to_ask.skills}
    plan = plan_session(skills, open_to_ask, {}, START, 10, random.Random(1))
    held = [retrievability(skills[item.skill], START) for item in plan]
    everyone = sorted(retrievability(s, START) for s in skills.values())
    assert held[0] in everyone[:6]
    assert sum(held[:8]) < sum(held[-8:])


def test_a_first_session_is_all_new_and_spread_over_kinds_and_families() -> None:
    open_to_ask = offers(4, 10)
    plan = plan_session({}, open_to_ask, {}, START, 10, random.Random(7))
    assert set(reasons(plan)) == {"new"}
    assert len(plan) == len({item.skill for item in plan}) == 30
    for count in (8, 12, len(plan)):
        kinds = [sum(i.kind == k for i in plan[:count]) for k in open_to_ask.kinds]
        assert max(kinds) - min(kinds) <= 2
    assert {item.region for item in plan} == set(FAMILIES)


@pytest.mark.parametrize(("due", "most"), [(0, 12), (10, 8), (20, 4), (36, 4)])
def test_a_backlog_leaves_less_room_for_new_skills(due: int, most: int) -> None:
    open_to_ask = offers(6, 10)
    skills = {s: met(s, due_in=-1 if n < due else 9) for n, s in enumerate(open_to_ask.skills[:40])}
    plan = plan_session(skills, open_to_ask, {}, START, 10, random.Random(1))
    assert reasons(plan).count("new") == most


def test_a_skill_dated_ahead_by_a_wrong_clock_is_not_forgotten_about() -> None:
    open_to_ask = offers(2, 10)
    skills = {s: met(s) for s in open_to_ask.skills}
    skills["kind-1:blue"] = met("kind-1:blue", days_ago=-20000, due_in=20010)
    plan = plan_session(skills, open_to_ask, {}, START, 10, random.Random(1))
    assert (plan[0].skill, plan[0].reason) == ("kind-1:blue", "due")


def test_with_time_left_the_least_asked_come_again() -> None:
    open_to_ask = offers(2, 2)
    plan = plan_session({}, open_to_ask, {}, START, 10, random.Random(2))
    counts = [sum(item.skill == s for item in plan) for s in open_to_ask.skills]
    assert max(counts) - min(counts) <= 1
    assert reasons(plan)[:4] == ["new"] * 4
    assert set(reasons(plan)[4:]) == {"practice"}


def test_the_same_region_does_not_come_twice_running_where_another_serves() -> None:
    plan = plan_session({}, offers(4, 10), {}, START, 20, random.Random(5))
    assert all(one.region != two.region for one, two in pairwise(plan))


def test_one_kind_alone_still_fills_the_time() -> None:
    plan = plan_session({}, offers(1, 3), {}, START, 10, random.Random(5))
    assert len(plan) == 30


def test_nothing_to_ask_is_an_empty_plan() -> None:
    assert plan_session({}, Offers({}, ()), {}, START, 10, random.Random(5)) == ()


def test_the_learners_own_pace_decides_how_many_fit() -> None:
    open_to_ask = offers(2, 10)
    slow = dict.fromkeys(open_to_ask.kinds, 54.0)
    assert len(plan_session({}, open_to_ask, {}, START, 10, random.Random(5))) == 30
    assert len(plan_session({}, open_to_ask, slow, START, 10, random.Random(5))) == 10


def test_a_session_that_runs_on_knows_what_was_just_asked() -> None:
    open_to_ask = offers(2, 3)
    for seed in range(20):
        plan = plan_session(
            {}, open_to_ask, {}, START, 5, random.Random(seed), recent=("kind-0", "kind-0")
        )
        assert plan[0].kind == "kind-1"


def test_why_says_it_plainly() -> None:
    open_to_ask = offers(1, 5)
    skills = {
        "kind-0:violet": met("kind-0:violet", days_ago=9, due_in=-1),
        "kind-0:red": met("kind-0:red", mean=0.42),
        "kind-0:yellow": met("kind-0:yellow", days_ago=1),
    }
    why = {
        i.skill: i.why
        for i in reversed(plan_session(skills, open_to_ask, {}, START, 4, random.Random(1)))
    }
    assert why["kind-0:violet"] == "violets due: last right 9 days ago"
    assert why["kind-0:red"] == "reds weak: 4 points in 10 of late"
    assert why["kind-0:orange"] == "oranges: new to you here"
    assert why["kind-0:yellow"] == "yellows once more: last met yesterday"


@pytest.mark.parametrize(
    ("value", "minutes"),
    [(None, 10), (5, 5), (7.5, 7.5), (1, 2), (999, 60), ("x", 10), (True, 10), (float("nan"), 10)],
)
def test_the_length_is_two_to_sixty_minutes_whatever_the_setting_says(
    value: object, minutes: float
) -> None:
    assert minutes_of({"minutes": value}) == minutes  # type: ignore[dict-item]


def test_offers_pass_through_the_settings_unharmed() -> None:
    made = offers(3, 4)
    assert offers_from_json(made.as_json()) == made
    assert offers_from_json({"kinds": [{}], "pairs": []}) is None
    assert offers_from_json("nonsense") is None


def test_offers_are_narrowed() -> None:
    made = Offers(
        {"a": facts("a"), "b": facts("b", needs_colour=False)},
        (("a", "red"), ("a", "blue"), ("b", "papers")),
    )
    assert made.only(colour=False).pairs == (("b", "papers"),)
    assert made.only(without_kinds=["b"], without_regions=["red"]).pairs == (("a", "blue"),)
    assert made.only(without_skills=["a:red"]).pairs == (("a", "blue"), ("b", "papers"))


def test_words_for_skills_regions_and_days() -> None:
    titles = {"hue-and-lean": "Hue family and lean"}
    assert skill_words("hue-and-lean:violet", titles) == "Hue family and lean: violet"
    assert skill_words("hue-and-lean:violet") == "Hue and lean: violet"
    assert [region_words(r) for r in ("blue-green", "neutral", "dark greys")] == [
        "blue-greens",
        "greys",
        "dark greys",
    ]
    today = date(2026, 3, 2)
    days = [0, 1, 2, 9, 35, 120, 900]
    assert [ago_words(today - timedelta(d), today) for d in days] == [
        "today",
        "yesterday",
        "2 days ago",
        "9 days ago",
        "5 weeks ago",
        "4 months ago",
        "2 years ago",
    ]
    assert ago_words(today + timedelta(3), today) == "today"
    assert [ahead_words(today + timedelta(d), today) for d in (-1, 0, 1, 3, 35)] == [
        "today",
        "today",
        "tomorrow",
        "in 3 days",
        "in 5 weeks",
    ]


def test_no_kind_is_left_out_for_long_however_slow_it_is() -> None:
    """A drill of the hand earns less a minute than one of the eye; both are asked all the same."""
    quick, slow = offers(5, 7), offers(6, 60)
    open_to_ask = Offers({**slow.kinds, **quick.kinds}, slow.pairs)
    lately = {s: met(s, days_ago=1) for s in open_to_ask.skills if not s.startswith("kind-5")}
    waited = {s: met(s, days_ago=WAITS) for s in open_to_ask.skills if s.startswith("kind-5")}
    plan = plan_session({**lately, **waited}, open_to_ask, {}, START, 10, random.Random(4))
    assert plan[0].kind == "kind-5"
    met_since = {s: met(s, days_ago=1) for s in open_to_ask.skills}
    assert kinds_owed(met_since, open_to_ask, START) == frozenset()
    assert kinds_owed({}, open_to_ask, START) == frozenset(open_to_ask.kinds)
