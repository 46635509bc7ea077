"""Assigned work in the daily session: its items, and their place beside the learner's own.

Assigned work takes at most half of a session (``SHARE``), and more only where
the learner's own skills call for less than the other half. It takes the place of
what is neither due nor weak first: of what the plain plan gives to due and weak
skills, all stays, or half a session of it.
"""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from coach.session.assigned.deck_progress import DeckStanding, State, offers_json, standing
from decks.lessons.steps import begins, hardest_on
from decks.tasks import DeckTask
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_name
from scores.today.day_plan import REVEAL_S, Aims, Item, plan_day, plan_session
from scores.today.offers import Offers

__all__ = [
    "CALLED_FOR",
    "SHARE",
    "Assigned",
    "DeckStanding",
    "State",
    "deck_items",
    "offers_json",
    "plan_with_decks",
    "standing",
]

SHARE = 0.5
"""Share of a session that assigned work may take while the learner's own skills need the rest."""
CALLED_FOR = ("due", "weak")
"""Reasons for which an item of the learner's own is never put off."""


@dataclass(frozen=True)
class Assigned(Item):
    """An item that a deck asks for; its ``source`` is the deck's fingerprint.

    ``target`` is the name of a target colour, else empty. ``easiest`` and
    ``hardest`` bound its difficulty as levels. ``day`` is the deck's day of practice,
    from 1, which its lessons go by. ``pencils`` is the fingerprint
    of the set inside the deck, empty when the learner's own serve.
    """

    target: str = ""
    easiest: float = 0.0
    hardest: float = 1.0
    day: int = 1
    pencils: str = ""

    @property
    def subject(self) -> tuple[str, ...]:
        return (self.source, self.skill, self.target)


def deck_items(
    one: DeckStanding,
    count: int,
    offers: Offers,
    times: Mapping[str, float],
    rng: random.Random,
    withheld: Collection[str] = (),
) -> list[Assigned]:
    """So many items of a deck: its kinds in turn, each at what was least asked, then weakest.

    ``offers`` are those that the terminal and the settings leave: a kind without
    any may not be asked here, nor may the skills ``withheld``.
    """
    able = _able(offers, one)
    mine = [
        task
        for task in one.tasks or ()
        if task.kind in able
        and begins(one.deck, task.kind) <= one.day_number
        and skill_name(task.kind, task.region) not in withheld
    ]
    if not mine:
        return []
    rng.shuffle(mine)
    tried = one.tally.tried
    by_task = {task: tried.get((task.kind, task.region, task.target), (0, 0.0)) for task in mine}
    planned: Counter[DeckTask] = Counter()
    by_kind: Counter[str] = Counter()
    for (kind, _, _), (answers, _) in tried.items():
        by_kind[kind] += answers
    items: list[Assigned] = []

    def need(task: DeckTask) -> tuple[int, int, float]:
        answers, mean = by_task[task]
        return (by_kind[task.kind], planned[task] + answers, mean)

    for _ in range(count):
        task = min(mine, key=need)
        planned[task] += 1
        by_kind[task.kind] += 1
        facts = offers.kinds[task.kind]
        about = f"{task.target}, " if task.target else ""
        due = f", {one.due_words}" if one.due_words else ""
        items.append(
            Assigned(
                skill=skill_name(task.kind, task.region),
                kind=task.kind,
                region=task.region,
                why=f"{about}assigned: {one.deck.title}{due}",
                reason="practice",
                seconds=max(1.0, times.get(task.kind, facts.seconds)) + REVEAL_S,
                source=one.fingerprint,
                target=task.target,
                easiest=one.deck.easiest,
                hardest=hardest_on(one.deck, task.kind, one.day_number),
                day=one.day_number,
                pencils=one.inside,
            )
        )
    return items


def _able(offers: Offers, one: DeckStanding) -> set[str]:
    able = {kind for kind, _ in offers.pairs}
    if one.inside:
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
    standings: Sequence[DeckStanding],
    withheld: Collection[str] = (),
    aims: Aims | None = None,
    reveal_s: float = REVEAL_S,
) -> tuple[Item, ...]:
    """A session's plan with assigned work mixed in; the plain plan where no deck wants anything.

    The first three arguments, ``now``, ``minutes``, ``rng``, ``aims`` and ``reveal_s`` are
    those of ``plan_day``. ``withheld`` are skills that no deck may ask here.
    """
    own = plan_day(skills, offers, times, now, minutes, rng, aims, reveal_s)
    wants = [one for one in standings if one.left_today > 0 and one.tasks]
    if not wants:
        return own
    budget = minutes * 60.0
    needed = sum(item.seconds for item in own if item.reason in CALLED_FOR)
    room = max(SHARE * budget, budget - needed)
    assigned = _fill(
        [deck_items(one, one.left_today, offers, times, rng, withheld) for one in wants], room
    )
    left = budget - sum(item.seconds for item in assigned)
    # An own item that a deck asks for as well is asked once, as the deck's.
    asked = Counter(item.skill for item in assigned if not item.pencils)
    kept = _kept(own, asked, left)
    left -= sum(item.seconds for item in kept)
    if left > 0:
        asked.update(item.skill for item in kept)
        recent = [item.kind for item in kept[-2:]]
        more = plan_session(skills, offers, times, now, left / 60.0, rng, recent, asked, aims)
        kept += _fitting(more, left)
    return _woven(assigned, kept)


def _kept(own: Sequence[Item], asked: Mapping[str, int], seconds: float) -> list[Item]:
    """What stays of the plain plan, in its order: what is due or weak before the rest."""
    by_deck = Counter(asked)
    left: list[Item] = []
    for item in own:
        if by_deck[item.skill] > 0:
            by_deck[item.skill] -= 1
        else:
            left.append(item)
    first = sorted(range(len(left)), key=lambda at: left[at].reason not in CALLED_FOR)
    chosen = len(_fitting([left[at] for at in first], seconds))
    return [left[at] for at in sorted(first[:chosen])]


def _fitting(items: Sequence[Item], seconds: float) -> list[Item]:
    """Items from the first on, as long as more than half of the next one fits in."""
    used, count = 0.0, 0
    for item in items:
        if used + item.seconds / 2 > seconds:
            break
        used += item.seconds
        count += 1
    return list(items[:count])


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
