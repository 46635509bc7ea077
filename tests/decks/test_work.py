"""Assigned work on the day: what a deck wants, and its place beside the learner's own skills."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from coach.session.assigned.deck_progress import RESTS_AFTER, DeckStanding, offers_json, standing
from coach.session.assigned.deck_work import CALLED_FOR, SHARE, Assigned, plan_with_decks
from decks.deck import Deck, Target
from decks.record_form import to_kept
from decks.tasks import DeckTask, tasks_of
from scores.record.decks_added import Tally, decks_kept, drop_deck, put_deck, put_deck_offers, tally
from scores.record.record import Record
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_name
from scores.today.day_plan import plan_day
from scores.today.offers import KindFacts, Offers
from tests.answers import START, answer

DAY = START.date()
KINDS = ("hue", "value", "match")
REGIONS = ("red", "green", "blue", "violet")
OFFERS = Offers(
    {
        name: KindFacts(name, 1, name.title(), seconds, "ΔE00", (20.0, 1.0), 0.25, True)
        for name, seconds in zip(KINDS, (8.0, 6.0, 40.0), strict=True)
    },
    tuple((kind, region) for kind in KINDS for region in REGIONS),
)
DECK = Deck("Greens", "A. Teacher", ("hue", "value"), families=("green",), items_a_day=6, days=3)


def at(days: float = 0.0) -> datetime:
    return START + timedelta(days=days)


def stands(
    deck: Deck = DECK, days: dict[int, int] | None = None, **changes: object
) -> DeckStanding:
    counts = {DAY + timedelta(days=day): count for day, count in (days or {}).items()}
    pairs = tuple((kind, region) for kind, region in OFFERS.pairs)
    made = DeckStanding(
        deck.fingerprint,
        deck,
        Tally(counts, {}, (0.9,) * sum(counts.values())),
        tasks_of(deck, pairs, ()),
        DAY,
    )
    return replace(made, **changes)  # type: ignore[arg-type]


# -- what a deck asks of these pencils ---------------------------------------------------


def test_a_deck_without_families_asks_in_all_that_are_offered():
    tasks = tasks_of(replace(DECK, families=()), OFFERS.pairs, ())
    assert len(tasks) == 2 * len(REGIONS)


def test_targets_are_asked_by_kinds_that_can_and_lend_their_families_to_the_others():
    leaf = Target("Leaf", "#5f6b3a", (40.0, -10.0, 20.0), "green")
    deck = Deck("T", "A", ("hue", "match"), targets=(leaf,))
    assert set(tasks_of(deck, OFFERS.pairs, {"match"})) == {
        DeckTask("hue", "green"),
        DeckTask("match", "green", "Leaf"),
    }
    both = replace(deck, families=("red",))
    assert set(tasks_of(both, OFFERS.pairs, {"match"})) == {
        DeckTask("hue", "red"),
        DeckTask("match", "red"),
        DeckTask("match", "green", "Leaf"),
    }


# -- where a deck stands -------------------------------------------------------------------


def test_it_wants_so_many_a_day_and_then_no_more_that_day():
    assert stands().left_today == 6
    assert stands(days={0: 4}).left_today == 2
    done = stands(days={0: 7})
    assert (done.state, done.left_today) == ("done today", 0)
    assert done.words == "done for today, day 1 of 3"


def test_days_missed_are_not_piled_up():
    late = stands(days={-9: 6, -4: 3})
    assert (late.days_done, late.left_today) == (1, 6)
    assert late.words == "0 of 6 today, day 2 of 3"


def test_it_is_finished_after_its_days_and_passed_at_its_level():
    finished = stands(days={-3: 6, -2: 6, -1: 6})
    assert (finished.state, finished.passed) == ("finished", True)
    poor = replace(finished, tally=replace(finished.tally, scores=(0.5,) * 18))
    assert (poor.passed, poor.words) == (False, "finished, not passed yet")


@pytest.mark.parametrize(
    ("due", "state", "words"),
    [
        (3, "to do", "due in 3 days"),
        (0, "to do", "due today"),
        (-1, "to do", "was due 1 day ago"),
        (-RESTS_AFTER.days, "to do", "was due 14 days ago"),
        (-RESTS_AFTER.days - 1, "past its date", "was due 15 days ago"),
    ],
)
def test_a_due_date_is_told_and_long_past_it_the_deck_rests(due: int, state: str, words: str):
    one = stands(replace(DECK, due=DAY + timedelta(days=due)))
    assert one.state == state
    assert one.words.endswith(words)


def test_pencils_that_can_be_asked_for_nothing_of_it_are_told():
    assert stands(tasks=()).words == "these pencils can't be asked for it"


# -- kept in the record -----------------------------------------------------------------------


def test_a_deck_is_kept_counted_and_dropped_and_its_answers_stay(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    name = DECK.fingerprint
    put_deck(record, name, DECK.title, to_kept(DECK), START)
    put_deck(record, name, "another title", "{}", START)
    for number in range(5):
        facts = {"named": "Leaf"} if number == 4 else {}
        record.save(answer(number, deck=name if number else "", days=number // 3, facts=facts))
    (kept,) = decks_kept(record)
    assert (kept.title, kept.added, kept.offers) == ("Greens", START, None)
    done = tally(record, name, latest=3)
    assert done.days == {DAY: 2, DAY + timedelta(days=1): 2}
    assert done.tried == {
        ("value", "violet", ""): (3, 1.0),
        ("value", "violet", "Leaf"): (1, 1.0),
    }
    assert done.scores == (1.0, 1.0, 1.0)
    assert tally(record, name, named=False).tried == {("value", "violet", ""): (4, 1.0)}

    (before,) = standing(record, "f" * 64, "stamp", at())
    assert before.tasks is None
    put_deck_offers(record, name, offers_json([DeckTask("hue", "green")], "f" * 64, "stamp"))
    (now,) = standing(record, "f" * 64, "stamp", at())
    assert (now.deck, now.tasks, now.today) == (DECK, (DeckTask("hue", "green"),), 2)
    for pencils, stamp in (("0" * 64, "stamp"), ("f" * 64, "another")):
        assert standing(record, pencils, stamp, at())[0].tasks is None
    drop_deck(record, name)
    assert decks_kept(record) == ()
    assert record.count() == 5


def test_a_deck_with_its_own_pencils_is_asked_with_those_whatever_ispencils_in_use(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    put_deck(record, DECK.fingerprint, DECK.title, to_kept(DECK), START)
    offers = offers_json([DeckTask("hue", "green")], "f" * 64, "stamp", inside="a" * 64)
    put_deck_offers(record, DECK.fingerprint, offers)
    (one,) = standing(record, "0" * 64, "stamp", at())
    assert one.tasks == (DeckTask("hue", "green"),)
    plan = plan_with_decks({}, OFFERS, {}, at(), 10, random.Random(1), [one])
    assert {item.pencils for item in plan if isinstance(item, Assigned)} == {"a" * 64}


def test_a_deck_row_written_over_hides_that_deck_alone(tmp_path: Path):
    record = Record.open(tmp_path / "record.db")
    put_deck(record, "a" * 64, "Broken", "{", START)
    put_deck(record, DECK.fingerprint, DECK.title, to_kept(DECK), START)
    assert [one.deck.title for one in standing(record, "", "", at())] == ["Greens"]


# -- beside the learner's own skills ------------------------------------------------------------


def state(kind: str, region: str, need: str) -> SkillState:
    """A skill that is due, weak, or neither."""
    return SkillState(
        skill_name(kind, region),
        stability=10.0,
        difficulty=5.0,
        reviewed=DAY - timedelta(days=20),
        due=DAY - timedelta(days=1) if need == "due" else DAY + timedelta(days=30),
        tries=10,
        right=5,
        mean_score=0.4 if need == "weak" else 0.9,
        last_tried=START - timedelta(days=20),
        last_right=START - timedelta(days=20),
    )


def wants(
    kinds: tuple[str, ...], items: int, due: int | None = None, done: int = 0
) -> DeckStanding:
    """A deck of these kinds in every family, due in so many days, some of it done today."""
    deck = replace(
        DECK,
        title=f"{kinds}{items}",
        kinds=kinds,
        families=(),
        items_a_day=items,
        due=None if due is None else DAY + timedelta(days=due),
    )
    return stands(deck, {0: done} if done else {})


needs = st.lists(
    st.sampled_from(["due", "weak", "well", "new"]), min_size=len(OFFERS.pairs), max_size=12
)
assigned_decks = st.lists(
    st.builds(
        wants,
        st.sampled_from([("hue",), ("value", "match"), ("match",), KINDS]),
        st.integers(1, 60),
        st.none() | st.integers(-20, 20),
        st.integers(0, 70),
    ),
    max_size=3,
    unique_by=lambda one: one.fingerprint,
)


@settings(max_examples=200, deadline=None)
@given(needs, assigned_decks, st.floats(2, 60), st.integers(0, 99))
@example(["due"] * 12, [wants(("value", "match"), 1)], 2.0, 16)
@example(
    ["due", "well", "well", "due", "due", "due", "new", "weak", "well", "weak", "well", "new"],
    [wants(("match",), 7)],
    2.0,
    84,
)
def test_a_deck_never_puts_off_what_is_due_or_weak(
    wanted: list[str], decks: list[DeckStanding], minutes: float, seed: int
):
    """Of what the plain plan gives to due and weak skills, as much stays, or half a session of it.

    Which of them is not said: a deck may ask one of them itself, and be the one that asks it.
    The last item of a plan may lie half outside.
    """
    called = {
        skill_name(*pair)
        for pair, need in zip(OFFERS.pairs, wanted, strict=True)
        if need in CALLED_FOR
    }
    skills = {
        skill_name(*pair): state(*pair, need)
        for pair, need in zip(OFFERS.pairs, wanted, strict=True)
        if need != "new"
    }
    plain = plan_day(skills, OFFERS, {}, at(), minutes, random.Random(seed))
    mixed = plan_with_decks(skills, OFFERS, {}, at(), minutes, random.Random(seed), decks)
    budget, half_an_item = minutes * 60, 23.0
    needed = sum(item.seconds for item in plain if item.reason in CALLED_FOR)
    called = {
        skill_name(*pair)
        for pair, need in zip(OFFERS.pairs, wanted, strict=True)
        if need in CALLED_FOR
    }
    served = {item.skill: item.seconds for item in mixed if item.skill in called}
    assert sum(served.values()) >= min(needed, (1 - SHARE) * budget) - half_an_item
    total = sum(item.seconds for item in mixed)
    assert total <= budget + half_an_item + 1e-6
    taken = sum(item.seconds for item in mixed if isinstance(item, Assigned))
    assert taken <= max(SHARE * budget, budget - needed) + 1e-6
    for one in decks:
        asked = [i for i in mixed if isinstance(i, Assigned) and i.source == one.fingerprint]
        assert len(asked) <= one.left_today
    if not any(one.left_today for one in decks):
        assert mixed == plain


@settings(max_examples=100, deadline=None)
@given(assigned_decks, st.floats(4, 60), st.integers(0, 99))
def test_where_nothing_is_called_for_a_deck_gets_what_it_wants(
    decks: list[DeckStanding], minutes: float, seed: int
):
    mixed = plan_with_decks({}, OFFERS, {}, at(), minutes, random.Random(seed), decks)
    wanted = sum(one.left_today for one in decks)
    asked = sum(1 for item in mixed if isinstance(item, Assigned))
    seconds = sum(item.seconds for item in mixed if isinstance(item, Assigned))
    assert asked == wanted or seconds > minutes * 60 - 46


def test_no_drill_comes_three_times_running_while_another_is_left():
    decks = [stands(replace(DECK, kinds=("hue",), families=(), items_a_day=20))]
    for seed in range(30):
        plan = plan_with_decks({}, OFFERS, {}, at(), 10, random.Random(seed), decks)
        kinds = [item.kind for item in plan]
        for place in range(2, len(kinds)):
            if len(set(kinds[place - 2 : place + 1])) == 1:
                assert len(set(kinds[place:])) == 1


def test_a_kind_that_may_not_be_asked_here_is_not_assigned():
    """Without 24-bit colour, or with a kind switched off, a deck asks what is left of it."""
    without = OFFERS.only(without_kinds=["hue"])
    plan = plan_with_decks({}, without, {}, at(), 10, random.Random(1), [stands()])
    assert {item.kind for item in plan if isinstance(item, Assigned)} == {"value"}
    red = {skill_name("hue", "red"), skill_name("value", "red")}
    deck = stands(replace(DECK, families=()))
    plan = plan_with_decks({}, OFFERS, {}, at(), 10, random.Random(1), [deck], withheld=red)
    assert "red" not in {item.region for item in plan if isinstance(item, Assigned)}
    grey = OFFERS.only(colour=False)
    for one in (stands(), stands(inside="a" * 64)):
        assert plan_with_decks({}, grey, {}, at(), 10, random.Random(1), [one]) == ()


def test_assigned_items_say_whose_they_are_and_keep_the_deck_s_bounds():
    deck = replace(DECK, due=date(2026, 3, 4), easiest=0.2, hardest=0.6)
    plan = plan_with_decks({}, OFFERS, {}, at(), 10, random.Random(1), [stands(deck)])
    mine = [item for item in plan if isinstance(item, Assigned)]
    assert len(mine) == 6
    assert {item.why for item in mine} == {"assigned: Greens, due in 2 days"}
    assert {(item.easiest, item.hardest, item.source) for item in mine} == {
        (0.2, 0.6, deck.fingerprint)
    }
    assert {item.kind for item in mine} == {"hue", "value"}
