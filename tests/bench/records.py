"""A record of many years, made quickly and in earnest: every skill follows from its attempts."""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

from scores.record import tables
from scores.record.attempt import Attempt, attempt_id
from scores.record.journal.lines import answer_body
from scores.record.record import Record
from scores.record.rows import attempt_row
from scores.skill.difficulty import START, level, step_at
from scores.skill.memory import SkillState, advance
from scores.skill.outcome import judge

KINDS = {
    "hue-and-lean": ((0.5, 0.04), 0.25, 14.0, "wheel steps"),
    "lighter-or-darker": ((20.0, 0.8), 0.5, 7.0, "ΔL*"),
    "mute-with-complement": ((6.0, 1.0), 0.25, 20.0, "ΔE00"),
    "order-of-layers": ((5.0, 1.5), 0.1, 25.0, "ΔE00"),
}
"""Each kind's (easiest, hardest) step, chance, usual seconds and unit."""
FAMILIES = (
    *("yellow", "yellow-orange", "orange", "red-orange", "red", "red-violet"),
    *("violet", "blue-violet", "blue", "blue-green", "green", "yellow-green"),
)
A_DAY = 60
"""Answers a day: 220,000 of them are ten years of daily practice."""
FIRST_DAY = datetime(2025, 6, 1, 8, 0, tzinfo=UTC)
AT_ONCE = 1000
"""Entries put in the journal together."""
FACTS_BYTES = 700
"""What the choices and their computed results take, about, over all kinds."""


def make_long_record(path: Path, attempts: int = 220_000, seed: int = 1) -> Record:
    """Write a record of so many attempts at ``path`` (which must not exist) and open it.

    A learner whose skill rises slowly answers at a step that follows them; the
    same seed writes the same record.
    """
    rng = random.Random(seed)
    skills = [(kind, family) for kind in KINDS for family in FAMILIES]
    able = {skill: rng.uniform(0.2, 0.5) for skill in skills}
    states: dict[str, SkillState] = {}
    recent: dict[str, list[float]] = {kind: [] for kind in KINDS}
    entries: list[str] = []
    record = Record.open(path)
    record.set_setting("minutes", 10)
    with record._write() as db:
        for number in range(attempts):
            day, turn = divmod(number, A_DAY)
            skill = skills[rng.randrange(len(skills))]
            at = FIRST_DAY + timedelta(days=day, seconds=17 * turn)
            attempt = _attempt(rng, skill, able[skill], states, number, at)
            able[skill] += (0.9 - able[skill]) * 0.0005
            times = recent[attempt.kind]
            before = states.get(attempt.skill)
            outcome = judge(
                attempt.score,
                attempt.right,
                attempt.response_s,
                tables.usual_seconds(times),
                attempt.step,
                None if before is None else before.usual_step,
                attempt.chance,
            )
            attempt = replace(attempt, outcome=outcome)
            states[attempt.skill] = advance(before, attempt, outcome)
            recent[attempt.kind] = [*times, attempt.response_s][-tables.RECENT_TIMES :]
            facts = tables.checked_facts(attempt)
            tables.put_attempt(db, attempt, facts)
            entries.append(answer_body(attempt_row(attempt), facts))
            if len(entries) == AT_ONCE or number == attempts - 1:
                record._journal(db, *entries)
                entries.clear()
        for state in states.values():
            tables.put_skill(db, state)
        tables.rebuild_counts(db)
    return record


def _attempt(
    rng: random.Random,
    skill: tuple[str, str],
    able: float,
    states: dict[str, SkillState],
    number: int,
    at: datetime,
) -> Attempt:
    kind, family = skill
    steps, chance, seconds, unit = KINDS[kind]
    state = states.get(f"{kind}:{family}")
    step = step_at(steps, START) if state is None or state.step is None else state.step
    seen = rng.random() < (0.97 if level(steps, step) < able else 0.45)
    right = seen or rng.random() < chance
    session = f"{at:%Y%m%d}"
    return Attempt(
        id=attempt_id(session, number),
        session=session,
        number=number,
        kind=kind,
        kind_version=1,
        region=family,
        seed=rng.getrandbits(48),
        step=step,
        steps=steps,
        chance=chance,
        pencils="f" * 64,
        target=[50.0, 20.0, -30.0],
        facts={"computed": "x" * FACTS_BYTES},
        answers=((family,),),
        score=1.0 if right else round(rng.random() * 0.7, 3),
        right=right,
        error=0.0 if right else step,
        unit=unit,
        verdict="So it is.",
        response_s=round(rng.lognormvariate(0.0, 0.4) * seconds, 2),
        at_utc=at,
        zone="+01:00",
    )
