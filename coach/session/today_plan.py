"""What these pencils, this terminal and these settings leave to be asked; today's plan from it."""

from __future__ import annotations

import os
import random
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields
from datetime import datetime
from typing import TYPE_CHECKING
from zlib import crc32

import drills
from coach.this_screen.kept import SETTING, screen_known
from drills.basics.days import practice_day
from drills.basics.json_values import JSON, names_in
from drills.outside import installed
from scores.learner.overlay import skills_told
from scores.progress import on_paper
from scores.record.decks_added import decks_kept
from scores.record.queries import reading_seconds, session_seconds
from scores.record.record import Record
from scores.skill.memory import is_due
from scores.today.back import days_away, minutes_back
from scores.today.day_plan import (
    Item,
    aims_of,
    minutes_of,
    minutes_to_plan,
    plan_day,
)
from scores.today.examples import SHOWN, days_shown, planned_with_examples
from scores.today.offers import KindFacts, Offers, offers_in
from scores.today.wishes import wishes_in

if TYPE_CHECKING:
    from coach.session.assigned.deck_work import DeckStanding
    from drills.layering.palette import Palette
    from drills.questions.protocol import Kind
    from drills.screen.known import ScreenKnown
    from scores.skill.model.figures import LearnerFigures


def facts_of(kinds: Mapping[str, Kind]) -> dict[str, KindFacts]:
    """What the floors below need to know of each kind."""
    keys = [field.name for field in fields(KindFacts) if field.name != "name"]
    return {
        name: KindFacts(name, **{key: getattr(kind, key) for key in keys})
        for name, kind in kinds.items()
    }


def work_out_offers(palette: Palette, kinds: Mapping[str, Kind]) -> Offers:
    """Every kind's facts, and the regions it has for these pencils."""
    pairs = tuple((n, region) for n, kind in kinds.items() for region in kind.regions(palette))
    return Offers(facts_of(kinds), pairs)


def kinds_stamp() -> str:
    """A stamp that changes when the drills' code does, found without importing any of it.

    Or the version of another package that brings kinds.
    """
    parts = [*installed()]
    for folder in drills.__path__:
        parts += sorted(_file_states(folder))
    return f"{crc32(chr(10).join(parts).encode()):08x}"


def _file_states(folder: str) -> Iterator[str]:
    """Each module's name, size and time; without making paths, for a start waits for it."""
    for entry in os.scandir(folder):
        if entry.is_dir():
            yield from (f"{entry.name}/{state}" for state in _file_states(entry.path))
        elif entry.name.endswith(".py"):
            state = entry.stat()
            yield f"{entry.name} {state.st_size} {state.st_mtime_ns}"


def keep_offers(record: Record, fingerprint: str, offers: Offers) -> None:
    """Keep the offers of the pencil set in use for the next start. Raises NotSavedError."""
    kept: dict[str, JSON] = {
        "pencils": fingerprint,
        "stamp": kinds_stamp(),
        "screen_known": screen_known({SETTING: record.setting(SETTING)}),
        "offers": offers.as_json(),
    }
    record.set_setting("offers", kept)


def kept_offers(settings: Mapping[str, JSON], fingerprint: str) -> Offers | None:
    """The offers kept for this pencil set, if neither drills nor screen have changed since."""
    kept = settings.get("offers")
    if not isinstance(kept, dict) or kept.get("pencils") != fingerprint:
        return None
    if kept.get("screen_known") != screen_known(settings):
        return None
    return offers_in(kept) if kept.get("stamp") == kinds_stamp() else None


def allowed(offers: Offers, settings: Mapping[str, JSON], colour: bool) -> Offers:
    """The offers that this terminal and these settings leave.

    ``kinds_off`` and ``families_off`` are the learner's choice; ``skills_off`` what
    their way of seeing withholds (``coach.settings``).
    """
    return offers.only(
        colour=colour,
        without_kinds=names_in(settings.get("kinds_off")),
        without_regions=names_in(settings.get("families_off")),
        without_skills=names_in(settings.get("skills_off")),
    )


@dataclass(frozen=True)
class Today:
    """What the first screen shows. ``minutes`` are the session's; ``away`` is how many days the
    learner was away, where this is a first day back, else 0."""

    plan: tuple[Item, ...]
    offers: Offers
    minutes: float
    due: int
    weak: int
    new: int
    met: int
    standings: tuple[DeckStanding, ...] = ()
    paper_due: bool = False
    away: int = 0
    screen_known: ScreenKnown = True


def today(
    record: Record,
    fingerprint: str,
    now: datetime,
    seed: int,
    colour: bool = True,
    offers: Offers | None = None,
    minutes: float | None = None,
    figures: LearnerFigures | None = None,
) -> Today | None:
    """Today's plan from what is kept, importing nothing heavy; None until offers are known.

    ``offers`` are the ones worked out since the start, where there are any. Work
    that a deck assigns is mixed in. ``minutes`` goes before the setting. ``figures`` are
    the learner's model's, where they are known.
    """
    settings = record.settings()
    offers = offers or kept_offers(settings, fingerprint)
    if offers is None:
        return None
    offers = allowed(offers, settings, colour)
    aims = aims_of(settings)
    skills = skills_told(record.skills(), figures, practice_day(now), aims.retention)
    minutes = minutes_of(settings if minutes is None else {"minutes": minutes})
    standings: tuple[DeckStanding, ...] = ()
    away = days_away(skills, now)
    times, reveal_s = record.kind_times(), reading_seconds(record)
    planned, shown = minutes, days_shown(settings.get(SHOWN))
    if decks_kept(record):
        from coach.session.assigned.deck_work import plan_with_decks, standing

        standings = standing(record, fingerprint, kinds_stamp(), now)
        withheld = names_in(settings.get("skills_off"))

        def plan_in(some: float) -> tuple[Item, ...]:
            rest = standings, withheld, aims, reveal_s
            return plan_with_decks(skills, offers, times, now, some, plan_rng(seed), *rest)
    else:
        planned = minutes_to_plan(minutes, session_seconds(record))
        wished = {wish.region for wish in wishes_in(settings)}
        minutes = minutes_back(minutes) if away else minutes

        def plan_in(some: float) -> tuple[Item, ...]:
            rest = aims, reveal_s, wished
            return plan_day(skills, offers, times, now, some, plan_rng(seed), *rest)

    plan = planned_with_examples(plan_in, skills, shown, now, planned, reveal_s)
    reasons = Counter(item.reason for item in plan)
    mine = [skills[name] for name in offers.skills if name in skills]
    due = sum(1 for state in mine if is_due(state, now))
    weak, new = reasons["weak"], reasons["new"]
    paper = not away and on_paper.due(record, practice_day(now))
    known = screen_known(settings)
    return Today(plan, offers, minutes, due, weak, new, len(mine), standings, paper, away, known)


def plan_rng(seed: int, turn: int = 1) -> random.Random:
    """The generator of a session's plans; the first is the one the first screen shows."""
    return random.Random(f"{seed}/plan/{turn}")
