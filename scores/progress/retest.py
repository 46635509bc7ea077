"""The fortnightly re-test: the same few questions each time, which practice never asks.

Practice asks new colours at steps that follow the learner, yet a learner may come
to know the drills, and the pencils, rather than see better. So some questions are
held out: drawn once from seeds outside the range that practice draws from, at fixed
steps, and kept with the settings. They are asked once a fortnight, without telling
the answers (told, they would be learnt). Re-tests are recorded with ``RETEST`` as
their deck, and teach the memory and the measured threshold nothing.

Steps run from a little easier than the learner's threshold when the questions were
drawn to much harder, so that there is room to show a finer eye for years. Other
pencils, or a drill whose questions have changed, make other questions: a new bank
is drawn, and its results are not laid beside the old ones'.
"""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from drills.basics.json_values import as_json, from_json
from scores.record.queries import first_id, latest_retests
from scores.record.record import Record
from scores.record.trials import RETEST
from scores.skill.difficulty import step_at
from scores.skill.memory import ZONE_SLACK_DAYS, SkillState
from scores.today.offers import KindFacts, Offers

__all__ = ["RETEST", "Bank", "Due", "HeldQuestion", "bank_from_json", "draw_bank", "due_retest"]

EVERY_DAYS = 14
UNITS = ("ΔL*", "wheel steps", "ΔC*", "C*ab")
"""What is tested apart, by the unit of its steps: value, hue, chroma, greys."""
EACH = 6
"""Questions of each: two dozen in all, four to five minutes (our choice)."""
EASIER, HARDER = 0.08, 0.42
"""How far the easiest and the hardest question of a kind lie from the learner's own level,
the others evenly between, and none beyond the kind's hardest (our choice)."""
FROM_ANSWERS, FROM_DAYS = 120, 4
"""Practice before the first re-test: the learner is placed, and knows the keys."""
HELD_OUT = 1 << 52
"""Added to 48 random bits: practice's seeds have 48 bits, so none is ever the same."""
SETTING = "probe"


class HeldQuestion(NamedTuple):
    """One question held out: drawn again from these, it is the same every time."""

    kind: str
    region: str
    step: float
    seed: int


@dataclass(frozen=True)
class Bank:
    """The questions held out for one set of pencils; ``versions`` are their kinds'.

    ``began`` is the day they were first asked.
    """

    pencils: str
    versions: Mapping[str, int]
    items: tuple[HeldQuestion, ...]
    began: date

    def fits(self, pencils: str, kinds: Mapping[str, KindFacts]) -> bool:
        """Whether these questions can still be asked as they were."""
        return self.pencils == pencils and all(
            kind in kinds and kinds[kind].version == version
            for kind, version in self.versions.items()
        )


def bank_from_json(value: object) -> Bank | None:
    """The bank whose ``as_json`` this is; None for anything else."""
    try:
        bank = from_json(Bank, value)
    except ValueError:
        return None
    return bank if bank.items else None


def draw_bank(
    offers: Offers, skills: Mapping[str, SkillState], pencils: str, who: str, today: date
) -> Bank:
    """The questions held out for a learner; the same of all but the day give the same.

    Of each of UNITS, the kind that takes least time is tested. ``who`` is any text
    that stays the learner's own.
    """
    rng = random.Random(f"probe/{who}/{pencils}")
    items: list[HeldQuestion] = []
    versions: dict[str, int] = {}
    for unit in UNITS:
        asked = {kind for kind, _ in offers.pairs}
        kinds = [f for f in offers.kinds.values() if f.unit == unit and f.name in asked]
        if not kinds:
            continue
        facts = min(kinds, key=lambda f: (f.seconds, f.name))
        versions[facts.name] = facts.version
        regions = sorted({region for kind, region in offers.pairs if kind == facts.name})
        rng.shuffle(regions)
        own = min(_own_level(facts, skills), 0.9)
        low, high = max(own - EASIER, 0.0), min(own + HARDER, 1.0)
        levels = [low + (high - low) * place / (EACH - 1) for place in range(EACH)]
        rng.shuffle(levels)
        for place, at in enumerate(levels):
            step = step_at(facts.steps, at)
            seed = HELD_OUT + rng.getrandbits(48)
            items.append(HeldQuestion(facts.name, regions[place % len(regions)], step, seed))
    # Kinds are mixed, and always in the same order.
    rng.shuffle(items)
    return Bank(pencils, versions, tuple(items), today)


def _own_level(facts: KindFacts, skills: Mapping[str, SkillState]) -> float:
    """Where the learner stands in a kind: the mean level of its thresholds."""
    mine = [
        min(max(state.threshold.level, 0.0), 1.0)
        for state in skills.values()
        if state.kind == facts.name and state.threshold is not None
    ]
    return sum(mine) / len(mine) if mine else 0.35


@dataclass(frozen=True)
class Due:
    """A re-test to offer: ``items`` still to be asked; ``begun`` if some were asked today."""

    bank: Bank
    items: tuple[HeldQuestion, ...]
    begun: bool


def due_retest(
    record: Record,
    offers: Offers,
    pencils: str,
    today: date,
    skills: Mapping[str, SkillState],
) -> Due | None:
    """The re-test to offer today; None when none is due. The bank may be new: ``keep_bank``.

    ``skills`` are those met, with their thresholds (``scores.learner.overlay``).
    """
    days = record.days()
    if sum(day.tries for day in days) < FROM_ANSWERS or len(days) < FROM_DAYS:
        return None
    bank = kept_bank(record)
    if bank is None or not bank.fits(pencils, offers.kinds):
        bank = draw_bank(offers, skills, pencils, first_id(record), today)
    asked = {(kind, region) for kind, region in offers.pairs}
    items = tuple(item for item in bank.items if (item.kind, item.region) in asked)
    last, done = _last_run(record, {item.seed for item in bank.items})
    if last is not None and last == today:
        left = tuple(item for item in items if item.seed not in done)
        return Due(bank, left, True) if left else None
    if last is not None and -ZONE_SLACK_DAYS <= (today - last).days < EVERY_DAYS:
        return None
    return Due(bank, items, False) if items else None


def kept_bank(record: Record) -> Bank | None:
    """The bank in use, as kept."""
    return bank_from_json(record.setting(SETTING))


def keep_bank(record: Record, bank: Bank) -> None:
    """Keep a bank, once its first question is asked. Raises NotSavedError."""
    if kept_bank(record) != bank:
        record.set_setting(SETTING, as_json(bank))


def _last_run(record: Record, seeds: Collection[int]) -> tuple[date | None, set[int]]:
    """The day of the last re-test with these questions, and those asked on it."""
    mine = [(day, seed) for day, seed in latest_retests(record) if seed in seeds]
    if not mine:
        return None, set()
    last = mine[0][0]
    return date.fromisoformat(last), {seed for day, seed in mine if day == last}
