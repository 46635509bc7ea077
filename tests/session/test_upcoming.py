"""What a session asks next of its plan: parts in order, the match kept whole."""

from __future__ import annotations

from scores.today.day_plan import LATE_S, Item, minutes_to_plan, too_slow
from scores.today.match_part import Part
from scores.today.offers import KindFacts, Offers
from scores.today.upcoming import next_item, taken, with_room_for_the_match


def item(kind: str, part: Part = "mixed", seconds: float = 20.0, source: str = "") -> Item:
    return Item(f"{kind}:red", kind, "red", "", "practice", seconds, source, part)


def kinds(items: list[Item]) -> str:
    return "".join(item.kind for item in items)


def test_a_focus_is_asked_as_planned_however_often_its_drill_comes_running() -> None:
    plan = [item("a", "focus"), item("b")]
    found = next_item(plan, ["a", "a", "a"])
    assert found is plan[0]


def test_elsewhere_no_drill_comes_a_third_time_running() -> None:
    plan = [item("a"), item("a"), item("b")]
    assert next_item(plan, ["a", "a"]) is plan[2]
    assert next_item(plan, ["b", "a"]) is plan[0]


def test_where_nothing_else_is_left_it_does_or_the_plan_is_made_anew() -> None:
    plan = [item("a")]
    assert next_item(plan, ["a", "a"], strictly=True) is None
    assert next_item(plan, ["a", "a"], strictly=False) is plan[0]
    assert next_item([], [], strictly=False) is None


def test_what_would_end_late_gives_way_to_what_ends_nearest_to_time() -> None:
    plan = [item("slow", seconds=60.0), item("quick", seconds=15.0), item("fit", seconds=28.0)]
    assert next_item(plan, [], left_s=60.0) is plan[0]
    assert next_item(plan, [], left_s=30.0) is plan[2]
    assert next_item(plan, [], left_s=12.0) is plan[1]


def test_where_all_of_it_would_end_late_the_plan_is_made_anew() -> None:
    plan = [item("slow", seconds=60.0)]
    assert next_item(plan, [], left_s=60.0 - LATE_S) is plan[0]
    assert next_item(plan, [], left_s=59.0 - LATE_S) is None
    assert next_item(plan, [], strictly=False, left_s=59.0 - LATE_S) is plan[0]


def test_a_match_to_come_is_asked_however_late_it_ends() -> None:
    plan = [item("m", "match", 60.0), item("quick", seconds=10.0)]
    assert next_item(plan, [], left_s=10.0) is plan[0]


def test_too_slow_is_what_ends_after_the_time_but_never_everything() -> None:
    kind = {name: KindFacts(name, 1, name, s, "ΔL*", (9.0, 1.0), 0.5, True)
            for name, s in (("quick", 10.0), ("slow", 50.0))}  # fmt: skip
    both = Offers(kind, (("quick", "red"), ("slow", "red")))
    assert too_slow(both, {}, 56.0) == frozenset()
    assert too_slow(both, {}, 49.0) == {"slow"}
    assert too_slow(both, {"slow": 30.0}, 49.0) == frozenset()
    assert too_slow(both, {}, 1.0) == frozenset()


def test_what_is_mixed_in_gives_way_to_the_match_from_its_end_on() -> None:
    plan = [item("a"), item("b"), item("c"), item("m", "match", 60.0)]
    assert kinds(with_room_for_the_match(plan, 120.0)) == "abcm"
    assert kinds(with_room_for_the_match(plan, 100.0)) == "abm"
    assert kinds(with_room_for_the_match(plan, 62.0)) == "m"
    # Half a question over is none too many.
    assert kinds(with_room_for_the_match(plan, 111.0)) == "abcm"


def test_the_focus_gives_way_after_what_is_mixed_and_assigned_work_never() -> None:
    plan = [item("f", "focus"), item("d", source="deck"), item("a"), item("m", "match", 60.0)]
    assert kinds(with_room_for_the_match(plan, 100.0)) == "fdm"
    assert kinds(with_room_for_the_match(plan, 60.0)) == "dm"


def test_without_a_match_to_come_nothing_gives_way() -> None:
    plan = [item("a"), item("b")]
    assert with_room_for_the_match(plan, 1.0) == plan


def test_a_step_drilled_again_after_the_match_stays() -> None:
    plan = [item("m", "match", 60.0), item("again")]
    assert kinds(with_room_for_the_match(plan, 30.0)) == "magain"


def test_the_day_is_laid_for_the_time_a_learner_really_stays() -> None:
    assert minutes_to_plan(10.0, []) == 10.0
    assert minutes_to_plan(10.0, [240.0, 240.0]) == 10.0
    assert minutes_to_plan(10.0, [240.0, 240.0, 240.0]) == 4.0
    # One short day among five changes nothing, nor one a little short.
    assert minutes_to_plan(10.0, [600.0, 600.0, 60.0, 600.0, 600.0]) == 10.0
    assert minutes_to_plan(10.0, [500.0] * 5) == 10.0
    # What was long ago no longer counts; less than two minutes are no session.
    assert minutes_to_plan(10.0, [60.0] * 9 + [600.0] * 5) == 10.0
    assert minutes_to_plan(10.0, [30.0] * 5) == 2.0


def test_what_is_taken_leaves_the_plan_and_a_plan_used_up_is_made_anew() -> None:
    plan, anew = [item("a"), item("b")], [item("c")]
    first, left = taken(plan, [], 600.0, lambda: anew)
    assert (first, left) == (plan[0], [plan[1]])
    other, left = taken([], ["a", "b"], 600.0, lambda: anew)
    assert (other, left) == (anew[0], [])
    assert taken([], [], 600.0, list) == (None, [])


def test_half_of_it_must_fit_but_the_first_question_always_comes() -> None:
    plan = [item("a", seconds=20.0)]
    assert taken(plan, ["b"], 10.0, list)[0] is plan[0]
    assert taken(plan, ["b"], 9.9, list) == (None, plan)
    assert taken(plan, [], 0.0, list)[0] is plan[0]


def test_where_nothing_new_can_be_planned_one_drill_comes_a_third_time_running() -> None:
    plan = [item("a")]
    assert taken(plan, ["a", "a"], 600.0, list)[0] is plan[0]
