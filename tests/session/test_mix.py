"""How questions are mixed: by how much less need one question gives way to another."""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from datetime import timedelta

import pytest

from scores.skill.memory import SkillState
from scores.today.mix import Mix, kinds_owed
from scores.today.need import Need, Reason
from scores.today.offers import KindFacts, Offers
from tests.answers import START


class Even(random.Random):
    """Chance that tips nothing."""

    def lognormvariate(self, mu: float, sigma: float) -> float:
        return 1.0


def need(skill: str, value: float = 1.0, reason: Reason = "practice") -> Need:
    kind, _, region = skill.partition(":")
    return Need(value, reason, skill, kind, region)


def mix(
    needs: Sequence[Need],
    taken: Sequence[Need] = (),
    *,
    recent: Sequence[str] = (),
    asked: Mapping[str, int] | None = None,
    owed: Sequence[str] = (),
    rng: random.Random | None = None,
) -> Mix:
    """A mix of kinds of value, but "hue", whose unit is steps of the wheel."""
    kinds = sorted({each.kind for each in (*needs, *taken)})
    facts = {
        k: KindFacts(
            k, 1, k, 14.0, "wheel steps" if k.startswith("hue") else "ΔL*", (9, 1), 0.5, True
        )
        for k in kinds
    }
    made = Mix(needs, Offers(facts, ()), rng or Even(), recent, asked or {}, owed)
    for each in taken:
        made.take(each)
    return made


def first(made: Mix, new: bool = True) -> str:
    best = made.best(new)
    return best.skill if best else ""


def gives_way_at(share: float, held_back: str, other: str, **given: object) -> None:
    """A skill of need 1 comes before another of less than this share of it, after all of more."""
    reason: Reason = given.pop("reason", "practice")  # type: ignore[assignment]
    for off, comes in ((0.985, held_back), (1.015, other)):
        needs = [need(held_back, reason=reason), need(other, share * off, reason)]
        assert first(mix(needs, **given)) == comes, (share, off)  # type: ignore[arg-type]


def test_the_greatest_need_comes_first_and_nothing_is_none() -> None:
    assert first(mix([need("a:red", 1), need("b:blue", 3), need("c:green", 2)])) == "b:blue"
    assert mix([]).best(True) is None


def test_each_time_a_skill_was_asked_today_leaves_six_tenths_of_its_need() -> None:
    gives_way_at(0.6, "a:red", "b:grey", asked={"a:red": 1})
    gives_way_at(0.36, "a:red", "b:grey", asked={"a:red": 2})
    others = [need(f"x{n}:x") for n in range(4)]
    gives_way_at(0.6, "a:red", "b:grey", taken=[need("a:red"), *others])


def test_its_own_kind_just_asked_leaves_85_in_a_hundred() -> None:
    gives_way_at(0.85, "a:red", "b:grey", recent=["b", "a"])
    gives_way_at(1.0, "a:red", "b:grey")
    assert first(mix([need("a:red"), need("b:grey", 0.9)], recent=["a", "c"])) == "a:red"


def test_its_own_region_just_asked_leaves_half() -> None:
    gives_way_at(0.5, "a:red", "b:grey", taken=[need("c:red")])


def test_neighbours_on_the_wheel_are_kept_apart_but_where_hue_is_judged() -> None:
    gives_way_at(0.85, "a:red-orange", "b:blue", taken=[need("c:red")])
    gives_way_at(1.1, "hue:red-orange", "b:blue", taken=[need("hue-2:red")])
    # Hue must be judged both times.
    gives_way_at(0.85, "hue:red-orange", "b:blue", taken=[need("c:red")])
    gives_way_at(0.85, "a:red-orange", "b:blue", taken=[need("hue:red")])
    # The wheel closes: its last family is the first one's neighbour, and two on is none.
    gives_way_at(0.85, "a:yellow", "b:blue", taken=[need("c:yellow-green")])
    gives_way_at(1.0, "a:orange", "b:blue", taken=[need("c:red")])


def test_new_skills_are_spread_over_kinds_and_regions() -> None:
    begun = [need("a:blue", reason="new"), need("x:x")]
    others = {"reason": "new", "taken": begun}
    gives_way_at(0.9, "a:red", "b:green", **others)
    gives_way_at(0.95, "c:blue", "b:green", **others)
    # Only skills that are new count, and only for those.
    gives_way_at(1.0, "a:red", "b:green", taken=begun)
    gives_way_at(1.0, "a:red", "b:green", reason="new", taken=[need("a:blue"), need("x:x")])
    # What counts is how far a kind is ahead of the one least begun.
    each = [need("a:x", reason="new"), need("b:y", reason="new"), need("x:x")]
    gives_way_at(1.0, "a:red", "b:green", reason="new", taken=each)
    twice = [need("a:x", reason="new"), need("a:y", reason="new"), need("x:x")]
    gives_way_at(0.81, "a:red", "b:green", reason="new", taken=twice)


def test_a_kind_owed_comes_before_eight_times_its_need_and_then_is_owed_no_more() -> None:
    for other, comes in ((7.9, "a:red"), (8.1, "b:blue")):
        assert first(mix([need("a:red"), need("b:blue", other)], owed=["a"])) == comes
    made = mix([need("a:red"), need("b:blue", 2.0)], owed=["a"])
    made.take(need("a:green"))
    assert first(made) == "b:blue"


def test_a_skill_waits_three_questions_where_others_can_be_asked() -> None:
    rest = [need(f"{kind}:{region}", 1e-6) for kind in "bc" for region in ("red", "blue", "green")]
    often = need("a:grey", 1e6)
    made = mix([often, *rest])
    asked = []
    for _ in range(9):
        best = made.best(True)
        assert best is not None
        asked.append(best.skill)
        made.take(best)
    assert [place for place, skill in enumerate(asked) if skill == "a:grey"] == [0, 4, 8]
    alone = mix([often], [often])
    assert first(alone) == "a:grey"


def test_no_kind_three_times_running_but_where_there_is_no_other() -> None:
    needs = [need("a:red", 100), need("b:blue", 0.01)]
    assert first(mix(needs, recent=["a", "a"])) == "b:blue"
    assert first(mix(needs, recent=["a", "a", "b"])) == "a:red"
    assert first(mix(needs, recent=["a"])) == "a:red"
    assert first(mix(needs[:1], recent=["a", "a"])) == "a:red"


def test_no_more_new_skills_than_there_is_room_for_but_where_there_are_no_others() -> None:
    new, known = need("a:red", 9, "new"), need("b:blue", 1)
    assert first(mix([new, known])) == "a:red"
    assert first(mix([new, known]), new=False) == "b:blue"
    assert first(mix([new]), new=False) == "a:red"
    assert first(mix([new], recent=["a", "a"]), new=False) == "a:red"
    # What was begun today is new no more.
    assert first(mix([new, known], asked={"a:red": 1}), new=False) == "a:red"
    # Rather a skill again at once than a new one too many; rather that than a third of a kind.
    assert first(mix([new, known], [known]), new=False) == "b:blue"
    assert first(mix([new, known], [known], recent=["b"]), new=False) == "a:red"


def test_chance_tips_needs_that_are_near_but_seldom_others() -> None:
    """One of 0.93 comes before one of 1 in about 15 of 100: normal, SD 0.05 each, in logs."""
    near = [need("a:red"), need("b:blue", 0.93)]
    turns = sum(first(mix(near, rng=random.Random(seed))) == "b:blue" for seed in range(400))
    assert 0.11 < turns / 400 < 0.20


@pytest.mark.parametrize(("days_ago", "owed"), [(0, False), (5, False), (6, True), (-1, True)])
def test_a_kind_is_owed_a_question_after_six_days(days_ago: int, owed: bool) -> None:
    """One dated ahead by a wrong clock doesn't count as asked of late."""
    state = SkillState("a:red", tries=1, last_tried=START - timedelta(days=days_ago))
    made = Offers({}, (("a", "red"),))
    assert kinds_owed({"a:red": state}, made, START) == (frozenset("a") if owed else frozenset())
    never = SkillState("a:red", tries=1)
    assert kinds_owed({"a:red": never}, made, START) == frozenset("a")
