"""What a deck asks of one set of pencils: its tasks.

A task is a drill kind in a region, or a drill kind about one of the deck's
target colours. Kinds that can be asked about a given colour are asked about the
targets; beyond that every kind is asked in the deck's families, or, where it
names none, in those its targets lie in (kinds that take the targets themselves
are then asked about nothing else), or in all there are.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING
from weakref import WeakKeyDictionary

from decks.deck import Deck, Target

if TYPE_CHECKING:
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind

TRIES = 3

_offered: WeakKeyDictionary[Palette, dict[Kind, tuple[str, ...]]] = WeakKeyDictionary()
"""What each kind offers of a palette: to ask takes seconds, and a course's decks ask alike."""


@dataclass(frozen=True)
class DeckTask:
    """One thing to practise; ``target`` is the name of a target colour, else empty."""

    kind: str
    region: str
    target: str = ""


def tasks_of(
    deck: Deck, pairs: Iterable[tuple[str, str]], takes_targets: Collection[str]
) -> tuple[DeckTask, ...]:
    """The tasks of a deck, given every (kind, region) the pencils offer.

    ``takes_targets`` are the kinds that can be asked about a given colour.
    Whether the pencils come near each target is not looked at.
    """
    lie_in = {target.region for target in deck.targets}
    tasks: list[DeckTask] = []
    for kind, region in pairs:
        if kind not in deck.kinds:
            continue
        if deck.families:
            wanted = region in deck.families
        elif deck.targets:
            wanted = region in lie_in and kind not in takes_targets
        else:
            wanted = True
        if wanted:
            tasks.append(DeckTask(kind, region))
    for kind in deck.kinds:
        if kind in takes_targets:
            tasks += [DeckTask(kind, target.region, target.name) for target in deck.targets]
    return tuple(tasks)


def work_out_tasks(deck: Deck, palette: Palette, kinds: Mapping[str, Kind]) -> tuple[DeckTask, ...]:
    """The tasks that really give a question with these pencils. Takes seconds at worst."""
    from drills.questions.given_colour import asks_about_given

    able = {name for name, kind in kinds.items() if asks_about_given(kind)}
    mine = [name for name in deck.kinds if name in kinds]
    pairs = [(name, region) for name in mine for region in regions_offered(kinds[name], palette)]
    tasks = tasks_of(deck, pairs, able)
    return tuple(task for task in tasks if not task.target or can_ask(deck, task, palette, kinds))


def target_named(deck: Deck, name: str) -> Target | None:
    """A deck's target colour by its name."""
    return next((target for target in deck.targets if target.name == name), None)


def regions_offered(kind: Kind, palette: Palette) -> tuple[str, ...]:
    """``kind.regions(palette)``, asked once. Some kinds take seconds."""
    known = _offered.setdefault(palette, {})
    if kind not in known:
        known[kind] = kind.regions(palette)
    return known[kind]


def can_ask(deck: Deck, task: DeckTask, palette: Palette, kinds: Mapping[str, Kind]) -> bool:
    """Whether a drill has a question about a deck's target colour."""
    from drills.questions.given_colour import asks_about_given, draw_for
    from drills.questions.protocol import CannotAskError

    kind, target = kinds.get(task.kind), target_named(deck, task.target)
    if kind is None or target is None or not asks_about_given(kind):
        return False
    for turn in range(TRIES):
        try:
            draw_for(kind, palette, target.lab, kind.steps[0], random.Random(turn).getrandbits(32))
        except CannotAskError:
            continue
        return True
    return False
