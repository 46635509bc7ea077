"""Asking what a deck assigns: within its bounds, about its targets, with its pencils.

What takes numpy is here; planning (``coach.session.assigned.deck_work``) is light.
"""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from coach.session.assigned.deck_progress import offers_json
from coach.session.assigned.deck_work import Assigned
from coach.session.feed import Feed, TellsAll
from coach.session.question import ASIDE, SEED_BITS
from coach.session.today_plan import kinds_stamp
from decks.deck import Deck
from decks.deck_pencils import set_inside
from decks.tasks import DeckTask, target_named, work_out_tasks
from decks.waiting import Waiting, waiting_for_screen
from drills.basics.json_values import JSON
from scores.record.decks_added import put_deck_offers
from scores.record.record import Record
from scores.skill.difficulty import START, level, step_at
from scores.today.day_plan import Item

if TYPE_CHECKING:
    from coach.session.feed import SoFar
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind, Question

NAMED = "named"
"""The key in a question's facts that names the deck's target colour."""


@dataclass(frozen=True, eq=False)
class DeckReady(TellsAll):
    """A deck made ready to be asked: its palette, its tasks, and what to keep of them.

    ``waiting`` is what it leaves out until the screen is known.

    A ``feed.Source`` of assigned items.
    """

    fingerprint: str
    deck: Deck
    palette: Palette
    tasks: tuple[DeckTask, ...]
    offers: JSON
    waiting: tuple[Waiting, ...] = ()

    def ask(self, item: Item, kind: Kind, so_far: SoFar) -> Question | None:
        """The question at the learner's own step, held within the deck's bounds."""
        assert isinstance(item, Assigned)
        place = level(kind.steps, so_far.step(kind, item.skill, item.aim))
        places = (place, place, place - ASIDE, place + ASIDE)
        name = f"{so_far.seed}/{so_far.number}"
        return _ask(item, self.deck, kind, self.palette, places, name)

    def regions(self, kind: str) -> tuple[str, ...]:
        """Those of its tasks."""
        return tuple(dict.fromkeys(task.region for task in self.tasks if task.kind == kind))


def ready_deck(
    deck: Deck, own: Palette, kinds: Mapping[str, Kind], known: tuple[DeckTask, ...] | None = None
) -> DeckReady:
    """Work a deck out for the learner's pencils, or for its own. May run in a thread.

    ``known`` are its tasks where they have been worked out before. Raises
    InputError for pencils inside the deck that can't be.
    """
    from drills.layering.palette import prepare

    palette = own
    if deck.pencils:
        inside_deck = prepare(set_inside(deck.pencils, deck.title))
        palette = replace(inside_deck, screen_known=own.screen_known)
    tasks = work_out_tasks(deck, palette, kinds) if known is None else known
    inside = palette.set.fingerprint if deck.pencils else ""
    screen = str(own.screen_known)
    waiting = waiting_for_screen(deck, tasks, palette, kinds)
    offers = offers_json(tasks, own.set.fingerprint, kinds_stamp(), inside, screen, waiting)
    return DeckReady(deck.fingerprint, deck, palette, tasks, offers, waiting)


def keep_ready(record: Record, ready: DeckReady) -> None:
    """Keep what was worked out, for the first screen to plan from. Raises NotSavedError."""
    put_deck_offers(record, ready.fingerprint, ready.offers)


def preview(ready: DeckReady, kinds: Mapping[str, Kind], seed: int) -> Iterator[Question]:
    """One question for each task, as a newcomer would be asked it; refused ones are left out."""
    for number, task in enumerate(ready.tasks):
        item = assigned(task, ready.deck)
        places = (START, START, 0.0, 1.0)
        kind = kinds[task.kind]
        question = _ask(item, ready.deck, kind, ready.palette, places, f"{seed}/{number}")
        if question is not None:
            yield question


def assigned(task: DeckTask, deck: Deck) -> Assigned:
    """A task as an item on its own."""
    return Assigned(
        skill=f"{task.kind}:{task.region}",
        kind=task.kind,
        region=task.region,
        why=f"assigned: {deck.title}",
        reason="practice",
        seconds=0.0,
        source=deck.fingerprint,
        target=task.target,
        easiest=deck.easiest,
        hardest=deck.hardest,
        day=deck.days,
    )


def _ask(
    item: Assigned,
    deck: Deck,
    kind: Kind,
    palette: Palette,
    places: tuple[float, ...],
    name: str,
) -> Question | None:
    from drills.kinds import draw
    from drills.questions.given_colour import asks_about_given, draw_for
    from drills.questions.protocol import CannotAskError

    target = target_named(deck, item.target) if item.target else None
    for turn, place in enumerate(places):
        step = step_at(kind.steps, min(max(place, item.easiest), item.hardest))
        seed = random.Random(f"{name}/{item.skill}/{item.target}/{turn}").getrandbits(SEED_BITS)
        try:
            if target is None:
                return draw(kind, palette, item.region, step, seed)
            if not asks_about_given(kind):
                return None
            question = draw_for(kind, palette, target.lab, step, seed)
        except CannotAskError:
            continue
        return replace(question, facts={**question.facts, NAMED: target.name})
    return None


def assignments(decks: Sequence[DeckReady], minutes: float) -> Feed:
    """Each task of these decks once, and nothing else."""
    plan = tuple(assigned(task, ready.deck) for ready in decks for task in ready.tasks)
    return Feed(plan, {ready.fingerprint: ready for ready in decks}, minutes)
