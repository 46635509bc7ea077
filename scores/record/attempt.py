"""One answered question, as the record keeps it: enough to ask it again and grade it again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from drills.basics.days import practice_day, zone_of
from drills.basics.json_values import JSON
from scores.skill.skill_words import skill_name


def attempt_id(session: str, number: int) -> str:
    """The attempt's name: a UUID (RFC 9562, version 5) of its session and number.

    The same answer saved twice has the same name, so that it counts once.
    """
    from uuid import UUID, uuid5

    return str(uuid5(UUID("6e0f6d3e-7c3b-5f43-9d1a-2f0a4b6c8d10"), f"{session}/{number}"))


@dataclass(frozen=True, slots=True)
class Attempt:
    """One answer. Make one with ``attempt_id(session, number)`` as its ``id``.

    ``step`` is the difficulty really asked, ``steps`` the kind's (easiest,
    hardest), both in the kind's own unit, where smaller is harder; ``chance``
    is the proportion right by guessing, 1 with help: from such an answer no threshold is
    measured (what help, the facts say). ``pencils`` is the pencil set's
    fingerprint. ``facts`` holds the choices and what was computed for each.
    ``response_s`` is in seconds with pauses left out. ``zone`` is an IANA name
    or ``±HH:MM``. ``outcome`` is what the answer said to the memory; it is
    worked out when the attempt is saved.
    """

    id: str
    session: str
    number: int
    kind: str
    kind_version: int
    region: str
    seed: int
    step: float
    steps: tuple[float, float]
    chance: float
    pencils: str
    target: JSON
    facts: JSON
    answers: tuple[tuple[str, ...], ...]
    score: float
    right: bool
    error: float
    unit: str
    verdict: str
    response_s: float
    at_utc: datetime
    zone: str
    deck: str = ""
    outcome: str = ""

    @property
    def skill(self) -> str:
        return skill_name(self.kind, self.region)

    @property
    def local_time(self) -> datetime:
        """When it was answered, by the clock on the learner's wall."""
        return self.at_utc.astimezone(zone_of(self.zone))

    @property
    def day(self) -> date:
        """The learner's practice day on which it was answered."""
        return practice_day(self.local_time)
