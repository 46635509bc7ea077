"""What is done for a learner before a question: help, its first step, a solved one like it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from coach.session.examples.solved import Examples
from coach.session.helping import first_step_done
from drills.basics.days import practice_day
from drills.questions.worked import FirstStep, Worked

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
    if _has_example(item, so_far):
        made.solved = examples.before(kind, feed.sources[item.source], item, question, so_far)
    return made


def example_ahead(
    feed: Feed, kinds: Mapping[str, Kind], item: Item | None, so_far: SoFar, examples: Examples
) -> bool:
    """Make something of the example before an item that is likely to come; False where nothing
    is left."""
    if item is None or not _has_example(item, so_far):
        return False
    kind, source = kinds.get(item.kind), feed.sources.get(item.source)
    return bool(kind and source and examples.ahead(kind, source, item, so_far))


def _has_example(item: Item, so_far: SoFar) -> bool:
    seen = so_far.examples.get(item.kind) == practice_day(so_far.now)
    return bool(item.example_s) and not seen and so_far.seconds_left >= item.seconds
