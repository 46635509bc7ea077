"""Between the record's rows and the dataclasses."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Any

from drills.basics.days import from_utc_text, utc_text
from drills.basics.json_values import JSON, json_text
from scores.skill.memory import SkillState

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

ATTEMPT_COLUMNS = (
    "id, session, number, kind, kind_version, region, seed, step, easiest, hardest, chance,"
    " pencils, score, right, error, unit, outcome, response_s, at_utc, zone, day, deck"
)
FACT_COLUMNS = "target, facts, answers, verdict"
SKILL_COLUMNS = (
    "skill, stability, difficulty, reviewed, due, tries, right, last_score, mean_score, step,"
    " usual_step, last_tried_utc, last_right_utc, measured"
)
COLUMNS = {
    "attempts": f"seq, {ATTEMPT_COLUMNS}",
    "attempt_facts": f"seq, {FACT_COLUMNS}",
    "skills": SKILL_COLUMNS,
    "kind_times": "kind, recent_s",
    "days": "day, kind, tries, right, seconds",
    "settings": "key, value",
    "pencil_sets": "fingerprint, name, csv, added_utc",
    "decks": "fingerprint, title, content, offers, added_utc",
    "trials": "block, skill, probe, answers",
    "journal": "one, name, bytes, length, line",
}
"""The columns that must be there; SQLite itself adds none."""


def marks(columns: str) -> str:
    """As many question marks as there are columns."""
    return ", ".join("?" * len(columns.split(",")))


def attempt_row(attempt: Attempt) -> tuple[object, ...]:
    return (
        attempt.id,
        attempt.session,
        attempt.number,
        attempt.kind,
        attempt.kind_version,
        attempt.region,
        attempt.seed,
        attempt.step,
        *attempt.steps,
        attempt.chance,
        attempt.pencils,
        attempt.score,
        int(attempt.right),
        attempt.error,
        attempt.unit,
        attempt.outcome,
        attempt.response_s,
        utc_text(attempt.at_utc),
        attempt.zone,
        attempt.day.isoformat(),
        attempt.deck,
    )


def facts_row(attempt: Attempt) -> tuple[str, ...]:
    return (
        json_text(attempt.target),
        json_text(attempt.facts),
        json_text(attempt.answers),
        attempt.verdict,
    )


def attempt_of(row: Sequence[Any]) -> Attempt:
    """The attempt of a row of ATTEMPT_COLUMNS and FACT_COLUMNS."""
    # Imported here: the first screen reads no attempt, and this class is slow to make.
    from scores.record.attempt import Attempt

    target: JSON = json.loads(row[22])
    facts: JSON = json.loads(row[23])
    return Attempt(
        id=row[0],
        session=row[1],
        number=row[2],
        kind=row[3],
        kind_version=row[4],
        region=row[5],
        seed=row[6],
        step=row[7],
        steps=(row[8], row[9]),
        chance=row[10],
        pencils=row[11],
        target=target,
        facts=facts,
        answers=tuple(tuple(reply) for reply in json.loads(row[24])),
        score=row[12],
        right=bool(row[13]),
        error=row[14],
        unit=row[15],
        verdict=row[25],
        response_s=row[17],
        at_utc=from_utc_text(row[18]),
        zone=row[19],
        deck=row[21],
        outcome=row[16],
    )


def skill_row(state: SkillState) -> tuple[object, ...]:
    def day(value: date | None) -> str | None:
        return None if value is None else value.isoformat()

    def moment(value: datetime | None) -> str | None:
        return None if value is None else utc_text(value)

    return (
        state.skill,
        state.stability,
        state.difficulty,
        day(state.reviewed),
        day(state.due),
        state.tries,
        state.right,
        state.last_score,
        state.mean_score,
        state.step,
        state.usual_step,
        moment(state.last_tried),
        moment(state.last_right),
        # Measured one by one, once; now the model of the learner knows (scores.learner).
        None,
    )


def skill_of(row: Sequence[Any]) -> SkillState:
    """The state of a row of SKILL_COLUMNS. Raises ValueError or TypeError for nonsense."""

    def day(text: str | None) -> date | None:
        return None if text is None else date.fromisoformat(text)

    def moment(text: str | None) -> datetime | None:
        return None if text is None else from_utc_text(text)

    return SkillState(
        skill=row[0],
        stability=row[1],
        difficulty=row[2],
        reviewed=day(row[3]),
        due=day(row[4]),
        tries=row[5],
        right=row[6],
        last_score=row[7],
        mean_score=row[8],
        step=row[9],
        usual_step=row[10],
        last_tried=moment(row[11]),
        last_right=moment(row[12]),
    )
