"""Assigned work to the item: which come, in what order, how much of a day, and in what words."""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import replace
from datetime import timedelta

import pytest

from coach.session.assigned.deck_progress import DeckStanding
from coach.session.assigned.deck_questions import NAMED, DeckReady, assigned, preview, ready_deck
from coach.session.assigned.deck_work import Assigned, deck_items, plan_with_decks
from coach.session.feed import SoFar
from decks.deck import Deck, Target
from decks.tasks import DeckTask
from drills.questions.protocol import CannotAskError, Question
from scores.classes.passing import latest_wanted
from scores.record.decks_added import Tally
from scores.skill.difficulty import level, step_at
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_name
from scores.today.day_plan import Aims, Item, plan_day
from scores.today.offers import KindFacts, Offers
from tests.answers import START
from tests.fake_kinds import PALETTE, FakeKind, kinds

DAY = START.date()
REGIONS = ("red", "green", "blue", "violet")
OFFERS = Offers(
    {name: KindFacts(name, 1, name, 9.0, "ΔE00", (20.0, 1.0), 0.25, True) for name in "abc"},
    tuple((kind, region) for kind in "abc" for region in REGIONS),
)
"""Three kinds whose questions take 15 s each, the reading of the answer included."""
DECK = Deck("Work", "A. Teacher", ("a", "b"), items_a_day=4, days=3)
ALL = tuple(DeckTask(kind, region) for kind in "ab" for region in REGIONS)


def stands(
    deck: Deck = DECK,
    tasks: Sequence[DeckTask] | None = ALL,
    tried: dict[tuple[str, str, str], tuple[int, float]] | None = None,
    days: dict[int, int] | None = None,
    scores: tuple[float, ...] = (),
    inside: str = "",
) -> DeckStanding:
    done = {DAY + timedelta(days=day): count for day, count in (days or {}).items()}
    held = None if tasks is None else tuple(tasks)
    return DeckStanding(deck.fingerprint, deck, Tally(done, tried or {}, scores), held, DAY, inside)


def items(one: DeckStanding, count: int, **given: object) -> list[Assigned]:
    return deck_items(one, count, OFFERS, {}, random.Random(1), **given)  # type: ignore[arg-type]


def skills_of(found: Sequence[Item]) -> list[str]:
    return [item.skill for item in found]


# -- which items ---------------------------------------------------------------------------


def test_a_deck_s_kinds_come_in_turn_and_each_task_once_before_any_twice() -> None:
    found = items(stands(), 16)
    assert all(found[at].kind != found[at + 1].kind for at in range(0, 16, 2))
    assert len({item.skill for item in found[:8]}) == 8
    assert [skills_of(found).count(skill) for skill in set(skills_of(found))] == [2] * 8
    assert items(stands(), 0) == []
    assert items(stands(tasks=()), 3) == items(stands(tasks=None), 3) == []


def test_the_kind_least_answered_comes_first_until_the_others_are_level() -> None:
    tried = {("a", "red", ""): (2, 0.9), ("a", "blue", ""): (1, 0.9)}
    found = [item.kind for item in items(stands(tried=tried), 6)]
    assert found[:3] == ["b", "b", "b"]
    assert sorted(found[3:5]) == ["a", "b"]


def test_within_a_kind_the_least_asked_then_the_weakest() -> None:
    tasks = [DeckTask("a", region) for region in REGIONS]
    counts = ((2, 0.1), (1, 0.9), (1, 0.4), (1, 0.6))
    tried = {("a", r, ""): c for r, c in zip(REGIONS, counts, strict=True)}
    found = items(stands(tasks=tasks, tried=tried), 4)
    assert [item.region for item in found] == ["blue", "violet", "green", "red"]


def test_an_item_takes_the_learner_s_own_time_and_says_whose_it_is() -> None:
    deck = replace(DECK, due=DAY + timedelta(days=1))
    one = stands(deck, [DeckTask("a", "red", "Leaf")], inside="p" * 64)
    for own, seconds in ((20.0, 26.0), (0.2, 7.0)):
        (item,) = deck_items(one, 1, OFFERS, {"a": own}, random.Random(1))
        assert item.seconds == seconds
    (item,) = items(one, 1)
    assert (item.seconds, item.reason, item.skill) == (15.0, "practice", "a:red")
    assert item.why == "Leaf, assigned: Work, due tomorrow"
    assert (item.target, item.pencils, item.source) == ("Leaf", "p" * 64, deck.fingerprint)
    (plain,) = items(stands(tasks=[DeckTask("a", "red")]), 1)
    assert (plain.why, plain.target, plain.pencils) == ("assigned: Work", "", "")


def test_a_deck_s_own_pencils_open_kinds_that_the_learner_s_can_t_be_asked() -> None:
    narrow = OFFERS.only(without_kinds=["b"])
    for inside, kinds_asked in (("", {"a"}), ("p" * 64, {"a", "b"})):
        found = deck_items(stands(inside=inside), 6, narrow, {}, random.Random(1))
        assert {item.kind for item in found} == kinds_asked
    # Where nothing on screen has colour, only what needs none.
    plain = {**OFFERS.kinds, "b": replace(OFFERS.kinds["b"], needs_colour=False)}
    grey = Offers(plain, OFFERS.pairs).only(colour=False)
    found = deck_items(stands(inside="p" * 64), 6, grey, {}, random.Random(1))
    assert {item.kind for item in found} == {"b"}


# -- its place in a day ------------------------------------------------------------------------


def known(need: str) -> dict[str, SkillState]:
    made = {}
    for pair in OFFERS.pairs:
        skill = skill_name(*pair)
        made[skill] = SkillState(
            skill,
            stability=10.0,
            difficulty=5.0,
            reviewed=DAY - timedelta(days=1),
            due=DAY if need == "due" else DAY + timedelta(days=30),
            tries=10,
            mean_score=0.4 if need == "weak" else 0.9,
        )
    return made


def shares(
    need: str, wants: int, minutes: float = 4.0, decks: int = 1
) -> tuple[list[Assigned], list[Item]]:
    """What a day of so many minutes holds: of the decks, and of the learner's own."""
    each = [
        stands(replace(DECK, title=f"Work {n}", items_a_day=wants), tasks=ALL) for n in range(decks)
    ]
    plan = plan_with_decks(known(need), OFFERS, {}, START, minutes, random.Random(1), each)
    return (
        [item for item in plan if isinstance(item, Assigned)],
        [item for item in plan if not isinstance(item, Assigned)],
    )


@pytest.mark.parametrize("need", ["due", "weak"])
def test_a_deck_takes_half_a_day_where_the_rest_is_called_for(need: str) -> None:
    mine, own = shares(need, 60)
    assert (len(mine), len(own)) == (8, 8)  # of four minutes, two each


def test_a_deck_takes_all_of_a_day_that_nothing_else_calls_for() -> None:
    mine, own = shares("well", 60)
    assert (len(mine), len(own)) == (16, 0)
    mine, own = shares("well", 5)
    assert (len(mine), len(own)) == (5, 11)
    # What is left is filled as long as over half of an item fits.
    assert [len(part) for part in shares("well", 15)] == [15, 1]
    assert [len(part) for part in shares("well", 14)] == [14, 2]


def test_however_short_the_day_one_item_of_a_deck_comes() -> None:
    mine, _ = shares("due", 60, minutes=0.1)
    assert len(mine) == 1


def test_decks_take_their_items_in_turn_until_the_room_is_full() -> None:
    mine, _ = shares("due", 60, decks=2)
    assert [item.why for item in mine] == ["assigned: Work 0", "assigned: Work 1"] * 4
    uneven = [
        stands(replace(DECK, title="Short", items_a_day=1)),
        stands(replace(DECK, title="Long", items_a_day=3)),
        stands(replace(DECK, title="Done", items_a_day=2), days={0: 2}),
    ]
    plan = plan_with_decks({}, OFFERS, {}, START, 4, random.Random(1), uneven)
    why = [item.why for item in plan if isinstance(item, Assigned)]
    assert sorted(why) == ["assigned: Long"] * 3 + ["assigned: Short"]


def test_the_items_of_decks_are_spread_through_the_day() -> None:
    plan = plan_with_decks(
        known("well"),
        OFFERS,
        {},
        START,
        4,
        random.Random(1),
        [stands(replace(DECK, items_a_day=8))],
    )
    places = [place for place, item in enumerate(plan) if isinstance(item, Assigned)]
    assert len(places) == 8
    assert 3 <= sum(place < 8 for place in places) <= 5
    assert isinstance(plan[0], Assigned)


def test_what_a_deck_asks_for_is_not_asked_again_as_the_learner_s_own() -> None:
    """Only where it is asked with the learner's own pencils is it the same question."""
    few = Offers(OFFERS.kinds, (("a", "red"), ("b", "blue"), ("c", "green"), ("c", "violet")))
    task = [DeckTask("a", "red")]
    wants = replace(DECK, items_a_day=2)
    counts = []
    for inside in ("", "p" * 64):
        plan = plan_with_decks(
            known("due"), few, {}, START, 4, random.Random(3), [stands(wants, task, inside=inside)]
        )
        own = [item.skill for item in plan if not isinstance(item, Assigned)]
        counts.append(own.count("a:red"))
    assert counts[0] < counts[1]


def test_a_deck_that_wants_nothing_leaves_the_plain_plan_with_its_aims() -> None:
    aims = Aims(0.8, 0.5)
    plain = plan_day(known("due"), OFFERS, {}, START, 4, random.Random(1), aims)
    for one in (stands(days={0: 4}), stands(tasks=None), stands(tasks=())):
        with_deck = plan_with_decks(
            known("due"), OFFERS, {}, START, 4, random.Random(1), [one], aims=aims
        )
        assert with_deck == plain


# -- where it stands ----------------------------------------------------------------------------


def test_what_is_done_and_what_is_left_of_it() -> None:
    over = stands(days={-5: 4, -4: 9, -3: 3, 0: 4})
    assert (over.days_done, over.today, over.left_today, over.state) == (3, 4, 0, "finished")
    more = stands(days=dict.fromkeys(range(-6, 0), 4))
    assert (more.days_done, more.words) == (3, "finished, not passed yet")
    begun = stands(days={-1: 4, 0: 1})
    assert (begun.left_today, begun.words) == (3, "1 of 4 today, day 2 of 3")
    assert stands(days={-1: 4, 0: 4}).words == "done for today, day 2 of 3"
    past = stands(replace(DECK, due=DAY - timedelta(days=15)), days={-20: 4})
    assert past.words == "1 of 3 days done, was due 15 days ago"
    assert past.left_today == 0
    assert stands(tasks=None).state == "to do"
    # What is finished says no date.
    assert stands(replace(DECK, due=DAY), days={-3: 4, -2: 4, -1: 4}).due_words == ""
    assert [stands(replace(DECK, due=DAY + timedelta(d))).late for d in (-1, 0, 1)] == [
        True,
        False,
        False,
    ]


def test_a_level_is_the_mean_of_the_latest_half_or_a_day_s() -> None:
    assert (latest_wanted(DECK.items_a_day, 3), latest_wanted(DECK.items_a_day, 1)) == (6, 4)
    assert latest_wanted(DECK.items_a_day, 5) == 10
    assert stands().level is None
    assert stands(scores=(0.5, 0.7)).level == pytest.approx(0.6)
    assert stands(scores=(0.6,) * 6 + (0.0,) * 6).level == pytest.approx(0.6)
    done = {-3: 4, -2: 4, -1: 4}
    passed = [stands(days=done, scores=(s,) * 6).passed for s in (0.69, 0.7, 0.9)]
    assert passed == [False, True, True]
    assert not stands(days={-3: 4, -2: 4}, scores=(0.9,) * 6).passed
    assert not stands(days=done).passed
    assert stands(days=done, scores=(0.9,)).words == "finished, passed"


# -- asked within its bounds ----------------------------------------------------------------------


class Given(FakeKind):
    """A fake kind that can be asked about a given colour."""

    def make_for(
        self, palette: object, target: object, step: float, rng: random.Random
    ) -> Question:
        return replace(self.make(palette, "red", step, rng), target=target)  # type: ignore[arg-type]


class Picky(FakeKind):
    """A fake kind that can't be asked; ``tried`` are the levels it was asked at."""

    tried: list[float] = []  # noqa: RUF012

    def make(self, palette: object, region: str, step: float, rng: random.Random) -> Question:
        self.tried.append(level(self.steps, step))
        raise CannotAskError("no such pencils")


LEAF = Target("Leaf", "#5f6b3a", (40.0, -10.0, 20.0), "green")


def asked(
    deck: Deck, kind: FakeKind, task: DeckTask, skills: dict[str, SkillState] | None = None
) -> Question | None:
    item = assigned(task, deck)
    ready = DeckReady(deck.fingerprint, deck, PALETTE, (task,), None)
    so_far = SoFar(1, 1, START, 600.0, skills or {}, lambda kind, *_: step_at(kind.steps, 0.35))
    return ready.ask(item, kind, so_far)  # type: ignore[arg-type]


def test_a_question_is_held_within_the_deck_s_bounds() -> None:
    (kind,) = kinds("a").values()
    places = []
    for low, high in ((0.0, 1.0), (0.8, 0.9), (0.05, 0.1)):
        question = asked(replace(DECK, easiest=low, hardest=high), kind, DeckTask("a", "red"))
        assert question is not None
        places.append(level(kind.steps, question.step))
    assert places[1] == pytest.approx(0.8)
    assert places[2] == pytest.approx(0.1)
    assert 0.1 < places[0] < 0.8


def test_what_pencils_refuse_is_tried_twice_then_easier_then_harder() -> None:
    refuses = kinds("a", refuses=frozenset({"red"}))["a"]
    steps: list[float] = []
    seeds: list[float] = []

    class Watched(FakeKind):
        def make(self, palette: object, region: str, step: float, rng: random.Random) -> Question:
            steps.append(level(self.steps, step))
            seeds.append(rng.random())
            return super().make(palette, region, step, rng)

    kind = Watched("a", refuses=refuses.refuses)
    assert asked(DECK, kind, DeckTask("a", "red")) is None
    assert steps[1:] == [
        steps[0],
        pytest.approx(steps[0] - 0.12),
        pytest.approx(steps[0] + 0.12),
    ]
    assert len(set(seeds)) == 4


def test_a_target_is_asked_of_kinds_that_can_and_named_in_the_question() -> None:
    deck = replace(DECK, targets=(LEAF,))
    question = asked(deck, Given("a"), DeckTask("a", "green", "Leaf"))
    assert question is not None
    assert (question.target, question.facts[NAMED]) == (LEAF.lab, "Leaf")
    assert asked(deck, FakeKind("a"), DeckTask("a", "green", "Leaf")) is None
    plain = asked(deck, Given("a"), DeckTask("a", "green"))
    assert plain is not None
    assert (plain.target, NAMED in plain.facts) == (None, False)


def test_a_preview_asks_each_task_once_as_a_newcomer_would_be_asked() -> None:
    made = kinds("a", "b", refuses=frozenset({"red"}))
    deck = replace(DECK, easiest=0.4)
    ready = ready_deck(deck, PALETTE, made, known=ALL)
    assert (ready.tasks, ready.palette, ready.fingerprint) == (ALL, PALETTE, deck.fingerprint)
    questions = list(preview(ready, made, 7))
    assert [(q.kind, q.region) for q in questions] == [
        (kind, region) for kind in "ab" for region in REGIONS if region != "red"
    ]
    assert {round(level(made["a"].steps, q.step), 6) for q in questions} == {0.4}
    assert questions == list(preview(ready, made, 7)) != list(preview(ready, made, 8))
    free = ready_deck(DECK, PALETTE, made, known=ALL[1:2])
    (newcomer,) = preview(free, made, 7)
    assert level(made["a"].steps, newcomer.step) == pytest.approx(0.3)
    # Where the pencils refuse that, as easy as the deck allows, then as hard.
    picky = Picky("a")
    ready = ready_deck(replace(DECK, easiest=0.1), PALETTE, {"a": picky}, known=ALL[:1])
    assert list(preview(ready, {"a": picky}, 7)) == []  # type: ignore[dict-item]
    assert picky.tried == [pytest.approx(place) for place in (0.3, 0.3, 0.1, 1.0)]
