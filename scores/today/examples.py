"""Before which questions of a day a solved one is shown: where what they ask is new.

A drill never answered (or hardly, where there was no room for its example), or the pair of
families that a focus sets side by side while one of them never was, begins with one. It goes by
what the record says of the learner, not by time: whoever has answered a drill rightly so often
gains more from solving than from examples (the "expertise reversal" of Kalyuga, Ayres, Chandler &
Sweller 2003; from memory). After a long break it comes once more. No drill has two on one day.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime, timedelta

from drills.basics.days import practice_day
from drills.basics.json_values import JSON
from scores.skill.memory import SkillState
from scores.skill.skill_words import skill_name
from scores.today.back import days_away, seconds_back
from scores.today.day_plan import Item
from scores.today.shares import AWAY_SHARE, CRAFT

SHOWN = "examples_shown"
"""The setting that names the day (ISO 8601) on which each drill's latest example was shown."""
HUE_UNITS = ("wheel steps", "of the cast", "C*ab")
"""Units of the drills whose answer is a hue: their families aren't told beforehand."""
HELD = 8
"""Right answers in a drill from which a pair of families never met brings no example; ours."""
KNOWN = 2
"""Right answers in a drill from which an example for which there was no room is missed no more."""
LONG_BREAK_DAYS = 56
"""Days without a drill after which its example comes once more; our estimate."""
REVEALS = 3.5
"""How many times as long an example is looked at as a reveal; our estimate."""
SHARE, LONG_SHARE = 0.15, 0.25
"""Share of a session's time for examples, though one at least; and the share from which one alone
is so long for it that none comes on two days running. Our estimates."""


def days_shown(setting: JSON) -> dict[str, date]:
    """The day of each drill's latest example, from the setting ``SHOWN``; what isn't sound is
    left out."""
    found: dict[str, date] = {}
    for kind, day in setting.items() if isinstance(setting, dict) else ():
        try:
            found[kind] = date.fromisoformat(str(day))
        except ValueError:
            continue
    return found


def example_seconds(reveal_s: float) -> float:
    """How long an example will take a learner who reads a reveal for so long."""
    return REVEALS * reveal_s


def shown_before(item: Item, shown: Mapping[str, date], now: datetime, seconds_left: float) -> bool:
    """Whether an item's example is shown now: not where its drill had one on this day, nor where
    no time is left for both."""
    seen = shown.get(item.kind) == practice_day(now)
    return item.example_s > 0 and not seen and seconds_left >= item.seconds


def planned_with_examples(
    plan_in: Callable[[float], Sequence[Item]],
    skills: Mapping[str, SkillState],
    shown: Mapping[str, date],
    now: datetime,
    minutes: float,
    reveal_s: float,
) -> tuple[Item, ...]:
    """A plan for so many minutes, its examples marked: what they take is taken from the questions.

    ``plan_in`` plans so many minutes; of these a first day back has a share
    (``scores.today.back``). The rest is as ``with_examples`` has it.
    """
    away = days_away(skills, now) > 0
    day = seconds_back(60.0 * minutes) / 60.0 if away else minutes
    plan = with_examples(plan_in(minutes), skills, shown, now, day, reveal_s)
    taken = sum(item.example_s for item in plan) / 60.0
    if not taken:
        return plan
    fewer = plan_in(minutes - (taken / AWAY_SHARE if away else taken))
    return with_examples(fewer, skills, shown, now, day, reveal_s)


def with_examples(
    plan: Sequence[Item],
    skills: Mapping[str, SkillState],
    shown: Mapping[str, date],
    now: datetime,
    minutes: float,
    reveal_s: float,
) -> tuple[Item, ...]:
    """The plan, its items marked that an example goes before, and their seconds with it.

    ``shown`` is as ``days_shown`` gives it; ``now`` is an aware local time.
    """
    takes, day = example_seconds(reveal_s), practice_day(now)
    of_kind: dict[str, list[SkillState]] = {}
    for state in skills.values():
        if state.tries:
            of_kind.setdefault(state.kind, []).append(state)
    done = {kind for kind, then in shown.items() if then == day}
    new: list[int] = []
    for at, item in enumerate(plan):
        met = of_kind.get(item.kind, ())
        # The last moments of a session are for a question, not for one solved.
        fits = takes + item.seconds <= minutes * 60.0
        if fits and item.kind not in done and _new(item, plan, met, shown, now):
            done.add(item.kind)
            new.append(at)
    # Where not all have room, the craft's own come first, and the rest on another day.
    new.sort(key=lambda at: plan[at].kind not in CRAFT)
    long = takes > LONG_SHARE * minutes * 60.0
    lately = any(day - timedelta(days=1) <= then <= day for then in shown.values())
    count = 0 if long and lately else max(1, int(SHARE * minutes * 60.0 / takes))
    chosen = set(new[:count])
    return tuple(
        replace(item, example_s=takes, seconds=item.seconds + takes) if at in chosen else item
        for at, item in enumerate(plan)
    )


def _new(
    item: Item,
    plan: Sequence[Item],
    met: Sequence[SkillState],
    shown: Mapping[str, date],
    now: datetime,
) -> bool:
    """Whether what an item asks is new; ``met`` are the skills of its drill that were answered."""
    right = sum(state.right for state in met)
    if not met or (item.kind not in shown and right < KNOWN):
        return True
    last = max(
        (
            practice_day(state.last_tried.astimezone(now.tzinfo))
            for state in met
            if state.last_tried is not None
        ),
        default=None,
    )
    if last is not None and (practice_day(now) - last).days >= LONG_BREAK_DAYS:
        return shown.get(item.kind, date.min) <= last
    if item.part != "focus" or right >= HELD:
        return False
    run = dict.fromkeys(
        skill_name(one.kind, one.region)
        for one in plan
        if one.part == "focus" and one.kind == item.kind
    )
    return not set(list(run)[:2]) <= {state.skill for state in met}
