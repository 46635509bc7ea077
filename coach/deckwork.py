"""Assigned work: what each deck still wants today, and its place in the daily session.

A deck wants so many answers a day on so many days. A day missed is not piled on
the next: the days simply run on, until the deck is done, or a fortnight past its
due date, after which it rests.

Assigned work takes at most half of a session (``SHARE``), and more only where
the learner's own skills call for less than the other half: what is due or weak
is never put off for a deck.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Literal

from decks.deck import Deck
from decks.kept import from_kept
from decks.tasks import Task, tasks_from_json, tasks_to_json
from scores.deckshelf import Tally, decks_kept, tally
from scores.jsons import JSON
from scores.memory import SkillState
from scores.offers import Offers
from scores.plan import REVEAL_S, Item, plan_session
from scores.record import Record
from scores.when import practice_day
from scores.words import ahead_words, skill_name

SHARE = 0.5
"""Share of a session that assigned work may take while the learner's own skills need the rest."""
CALLED_FOR = ("due", "weak")
"""Reasons for which an item of the learner's own is never put off."""
RESTS_AFTER = timedelta(days=14)
"""How long past its due date a deck is still mixed in."""

State = Literal["to do", "done today", "finished", "past its date", "can't be asked"]


@dataclass(frozen=True)
class Assigned(Item):
    """An item that a deck asks for.

    ``target`` is the name of a target colour, else empty. ``easiest`` and
    ``hardest`` bound its difficulty as levels. ``pencils`` is the fingerprint
    of the set inside the deck, empty when the learner's own serve.
    """

    deck: str = ""
    target: str = ""
    easiest: float = 0.0
    hardest: float = 1.0
    pencils: str = ""


@dataclass(frozen=True)
class Standing:
    """Where one deck stands on a practice day.

    ``today`` answers of ``deck.items_a_day`` are given today; ``days_done`` of
    ``deck.days`` are complete. ``level`` is the mean grade of the latest
    answers (a half of all that are wanted, at least a day's), None before the
    first. ``tasks`` is None until they are worked out for these pencils;
    ``inside`` is the fingerprint of the pencils the deck brings, if it does.
    """

    fingerprint: str
    deck: Deck
    tally: Tally
    tasks: tuple[Task, ...] | None
    day: date
    inside: str = ""

    @property
    def today(self) -> int:
        return self.tally.days.get(self.day, 0)

    @property
    def days_done(self) -> int:
        enough = sum(1 for count in self.tally.days.values() if count >= self.deck.items_a_day)
        return min(enough, self.deck.days)

    @property
    def left_today(self) -> int:
        """Answers still wanted today; 0 when the deck rests."""
        if self.state != "to do":
            return 0
        return self.deck.items_a_day - self.today

    @property
    def level(self) -> float | None:
        scores = self.tally.scores[: latest_of(self.deck)]
        return sum(scores) / len(scores) if scores else None

    @property
    def passed(self) -> bool:
        """Whether all days are done and the pass level is reached."""
        done = self.days_done >= self.deck.days
        return done and self.level is not None and self.level >= self.deck.pass_level

    @property
    def late(self) -> bool:
        return self.deck.due is not None and self.day > self.deck.due

    @property
    def state(self) -> State:
        if self.tasks is not None and not self.tasks:
            return "can't be asked"
        if self.days_done >= self.deck.days:
            return "finished"
        if self.deck.due is not None and self.day > self.deck.due + RESTS_AFTER:
            return "past its date"
        return "done today" if self.today >= self.deck.items_a_day else "to do"

    @property
    def words(self) -> str:
        """One line for the first screen: progress and date, without the title."""
        deck = self.deck
        days = f"day {min(self.days_done + (self.left_today > 0), deck.days)} of {deck.days}"
        parts = {
            "to do": f"{self.today} of {deck.items_a_day} today, {days}",
            "done today": f"done for today, {days}",
            "finished": "finished" + (", passed" if self.passed else ", not passed yet"),
            "past its date": f"{self.days_done} of {deck.days} days done",
            "can't be asked": "these pencils can't be asked for it",
        }[self.state]
        return f"{parts}, {self.due_words}" if self.due_words else parts

    @property
    def due_words(self) -> str:
        if self.deck.due is None or self.state == "finished":
            return ""
        if self.late:
            late = (self.day - self.deck.due).days
            return f"was due {late} day{'s' * (late > 1)} ago"
        return f"due {ahead_words(self.deck.due, self.day)}"


def latest_of(deck: Deck) -> int:
    """How many of the latest answers a deck's level is the mean of."""
    return max(deck.items_a_day, deck.wanted // 2)


def standing(record: Record, pencils: str, stamp: str, now: datetime) -> tuple[Standing, ...]:
    """Every deck kept, the one due soonest first. Imports nothing heavy.

    ``pencils`` is the fingerprint of the set in use and ``stamp`` the drills'
    own (``coach.offers.kinds_stamp``): tasks worked out for others don't count.
    """
    day = practice_day(now)
    found = []
    for kept in decks_kept(record):
        deck = from_kept(kept.content)
        if deck is None:
            continue
        done = tally(record, kept.fingerprint, latest_of(deck), named=bool(deck.targets))
        tasks, inside = _tasks_kept(kept.offers, pencils, stamp)
        found.append(Standing(kept.fingerprint, deck, done, tasks, day, inside))
    return tuple(sorted(found, key=lambda s: (s.deck.due or date.max, s.deck.title)))


def offers_json(tasks: Sequence[Task], pencils: str, stamp: str, inside: str = "") -> JSON:
    """What is kept with a deck (``scores.deckshelf.put_deck_offers``).

    ``inside`` is the fingerprint of the deck's own pencils, empty when it has none.
    """
    listed: list[JSON] = [list(task) for task in tasks_to_json(tasks)]
    return {"pencils": inside or pencils, "stamp": stamp, "inside": bool(inside), "tasks": listed}


def _tasks_kept(offers: JSON, pencils: str, stamp: str) -> tuple[tuple[Task, ...] | None, str]:
    if not isinstance(offers, dict) or offers.get("stamp") != stamp:
        return None, ""
    inside = offers.get("pencils") if offers.get("inside") else ""
    if not isinstance(inside, str) or (not inside and offers.get("pencils") != pencils):
        return None, ""
    return tasks_from_json(offers.get("tasks")), inside


def deck_items(
    standing: Standing,
    count: int,
    offers: Offers,
    times: Mapping[str, float],
    rng: random.Random,
) -> list[Assigned]:
    """So many items of a deck: its kinds in turn, each at what was least asked, then weakest.

    ``offers`` are those that the terminal and the settings leave: a kind without
    any may not be asked here.
    """
    able = _able(offers, standing)
    mine = [task for task in standing.tasks or () if task.kind in able]
    if not mine:
        return []
    rng.shuffle(mine)
    tried = standing.tally.tried
    by_task = {task: tried.get((task.kind, task.region, task.target), (0, 0.0)) for task in mine}
    planned: Counter[Task] = Counter()
    by_kind: Counter[str] = Counter()
    for (kind, _, _), (answers, _) in tried.items():
        by_kind[kind] += answers
    items: list[Assigned] = []

    def need(task: Task) -> tuple[int, int, float]:
        answers, mean = by_task[task]
        return (by_kind[task.kind], planned[task] + answers, mean)

    for _ in range(count):
        task = min(mine, key=need)
        planned[task] += 1
        by_kind[task.kind] += 1
        facts = offers.kinds[task.kind]
        about = f"{task.target}, " if task.target else ""
        due = f", {standing.due_words}" if standing.due_words else ""
        items.append(
            Assigned(
                skill=skill_name(task.kind, task.region),
                kind=task.kind,
                region=task.region,
                why=f"{about}assigned: {standing.deck.title}{due}",
                reason="practice",
                seconds=max(1.0, times.get(task.kind, facts.seconds)) + REVEAL_S,
                deck=standing.fingerprint,
                target=task.target,
                easiest=standing.deck.easiest,
                hardest=standing.deck.hardest,
                pencils=standing.inside,
            )
        )
    return items


def _able(offers: Offers, standing: Standing) -> set[str]:
    able = {kind for kind, _ in offers.pairs}
    if standing.inside:
        # Pencils of the deck's own may give what the learner's can't; without
        # colour on screen they give no more than those.
        colour = any(offers.kinds[kind].needs_colour for kind in able)
        able |= {name for name, facts in offers.kinds.items() if colour or not facts.needs_colour}
    return able


def plan_with_decks(
    skills: Mapping[str, SkillState],
    offers: Offers,
    times: Mapping[str, float],
    now: datetime,
    minutes: float,
    rng: random.Random,
    standings: Sequence[Standing],
) -> tuple[Item, ...]:
    """A session's plan with assigned work mixed in; the plain plan where no deck wants anything.

    The first three arguments, ``now``, ``minutes`` and ``rng`` are those of
    ``plan_session``.
    """
    own = plan_session(skills, offers, times, now, minutes, rng)
    wants = [one for one in standings if one.left_today > 0 and one.tasks]
    if not wants:
        return own
    budget = minutes * 60.0
    needed = sum(item.seconds for item in own if item.reason in CALLED_FOR)
    room = max(SHARE * budget, budget - needed)
    assigned = _fill([deck_items(one, one.left_today, offers, times, rng) for one in wants], room)
    taken = sum(item.seconds for item in assigned)
    left = (budget - taken) / 60.0
    # An own item that a deck asks for as well is asked once, as the deck's.
    asked = Counter(item.skill for item in assigned if not item.pencils)
    rest = plan_session(skills, offers, times, now, left, rng, asked=asked) if left > 0.25 else ()
    return _woven(assigned, rest)


def _fill(queues: list[list[Assigned]], room: float) -> list[Assigned]:
    """Items from each deck in turn until the room is full; one at least, where there is any."""
    chosen: list[Assigned] = []
    used = 0.0
    while any(queues):
        for queue in queues:
            if not queue:
                continue
            if chosen and used + queue[0].seconds > room:
                return chosen
            item = queue.pop(0)
            chosen.append(item)
            used += item.seconds
    return chosen


def _woven(assigned: Sequence[Assigned], own: Sequence[Item]) -> tuple[Item, ...]:
    """Both kinds of item, spread through the session, no drill three times running if it can be."""
    queues: list[list[Item]] = [list(assigned), list(own)]
    whole = [sum(item.seconds for item in queue) or 1.0 for queue in queues]
    spent = [0.0, 0.0]
    plan: list[Item] = []
    while any(queues):
        running = [item.kind for item in plan[-2:]]
        turn = sorted(
            (place for place in (0, 1) if queues[place]),
            key=lambda place: spent[place] / whole[place],
        )
        choice = next(
            (
                (place, at)
                for at in range(max(map(len, queues)))
                for place in turn
                if at < len(queues[place])
                and not (len(running) == 2 and set(running) == {queues[place][at].kind})
            ),
            (turn[0], 0),
        )
        place, at = choice
        item = queues[place].pop(at)
        spent[place] += item.seconds
        plan.append(item)
    return tuple(plan)
