"""Every threshold measured again from the answers kept: what a change of method asks for."""

from __future__ import annotations

import sqlite3
from datetime import date

from scores.record.trials import RETEST
from scores.skill.memory import memory_days
from scores.skill.skill_words import skill_name
from scores.skill.threshold import measured_after, threshold_step
from scores.skill.threshold_kept import Measured


def measure_again(db: sqlite3.Connection) -> None:
    """Write each skill's threshold anew, inside the caller's transaction.

    It comes to the same as ``Record.rebuild_skills``, without touching the memory.
    """
    known: dict[str, dict[str, Measured]] = {}
    days: dict[str, date] = {}
    steps: dict[str, float] = {}
    rows = db.execute(
        "SELECT kind, region, step, easiest, hardest, chance, right, day FROM attempts"
        " WHERE deck != ? ORDER BY seq",
        (RETEST,),
    )
    for kind, region, step, easiest, hardest, chance, right, text in rows:
        skill = skill_name(kind, region)
        day, _ = memory_days(date.fromisoformat(text), days.get(skill))
        days[skill] = day
        mine = known.setdefault(kind, {})
        before = mine.get(skill)
        others = [mine[name] for name in sorted(mine)] if before is None else []
        after = measured_after(before, (easiest, hardest), chance, step, bool(right), day, others)
        if after is None:
            mine.pop(skill, None)
            steps[skill] = step
        else:
            mine[skill] = after
            steps[skill] = threshold_step(after)
    for skill, step in steps.items():
        kept = known[skill.partition(":")[0]].get(skill)
        db.execute(
            "UPDATE skills SET measured = ?, step = ? WHERE skill = ?",
            (None if kept is None else kept.as_json(), step, skill),
        )
