"""Answers to keep, for the tests of the record and the memory."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from scores.record.attempt import Attempt, attempt_id

START = datetime(2026, 3, 2, 9, 0, tzinfo=UTC)
"""A Monday morning."""


def answer(number: int, session: str = "s", days: float = 0.0, **changes: Any) -> Attempt:
    """Answer ``number`` of a session, ``days`` after START, right and at a usual pace."""
    made = Attempt(
        id=attempt_id(session, number),
        session=session,
        number=number,
        kind="value",
        kind_version=1,
        region="violet",
        seed=number,
        step=6.0,
        steps=(20.0, 1.0),
        chance=0.5,
        pencils="f" * 64,
        target=[50.0, 20.0, -30.0],
        facts={"choices": ["lighter", "darker"], "truth": "darker"},
        answers=(("darker",),),
        score=1.0,
        right=True,
        error=0.0,
        unit="ΔL*",
        verdict="Yes: a touch darker.",
        response_s=4.0,
        at_utc=START + timedelta(days=days),
        zone="+00:00",
    )
    return replace(made, **changes)
