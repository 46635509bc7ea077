"""What is done for a learner before a question: help, its first step, a solved one like it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from coach.session.examples.solved import Examples
from coach.session.helping import first_step_done
from drills.questions.worked import FirstStep, Worked
from scores.today.examples import shown_before

if TYPE_CHECKING:
    from coach.session.feed import Feed, SoFar
    from drills.questions.protocol import Kind, Question
    from scores.today.day_plan import Item


@dataclass
class Beforehand:
    """``help`` says how much help the question has, ``done`` what is done of it; ``solved`` is
    the example still to be looked at, ``looked_s`` the seconds it was."""

    help: str = ""
    done: FirstStep = field(default_factory=FirstStep)
    solved: Worked | None = None
    looked_s: float = 0.0


def beforehand(
    feed: Feed, item: Item, kind: Kind, question: Question, so_far: SoFar, examples: Examples
) -> Beforehand:
    """What comes before an item's question: an example only where there is time for both."""
    given = feed.help(item, so_far) if getattr(kind, "look_for", ()) else ""
    made = Beforehand(given, first_step_done(kind, question, given))
    if shown_before(item, so_far.examples, so_far.now, so_far.seconds_left):
        made.solved = examples.before(kind, feed.sources[item.source], item, question, so_far)
    return made


def example_ahead(
    feed: Feed, kinds: Mapping[str, Kind], item: Item | None, so_far: SoFar, examples: Examples
) -> bool:
    """Make something of the example before an item that is likely to come; False where nothing
    is left."""
    shown, now, left = so_far.examples, so_far.now, so_far.seconds_left
    if item is None or not shown_before(item, shown, now, left):
        return False
    kind, source = kinds.get(item.kind), feed.sources.get(item.source)
    return bool(kind and source and examples.ahead(kind, source, item, so_far))
