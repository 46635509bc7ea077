"""The learner's model for a session of made-up drills."""

from __future__ import annotations

from typing import Any

from coach.session.today_plan import work_out_offers
from scores.learner.eye import EyeModel, follow
from scores.record.record import Record
from tests.fake_kinds import PALETTE


def eye_of(record: Record, kinds: dict[str, Any]) -> EyeModel:
    """After all the answers of a record."""
    return EyeModel(follow(record, work_out_offers(PALETTE, kinds)))
