"""Every skill in figures: threshold with its interval, memory, due day and tries."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from drills.basics.days import practice_day, utc_text
from drills.basics.errors import plain
from drills.basics.json_values import JSON
from scores.skill.memory import SkillState, retrievability
from scores.skill.psychometric import PROPORTION, scale_of
from scores.skill.skill_words import ahead_words, region_words, skill_name
from scores.skill.threshold import CREDIBLE, on_day
from scores.skill.threshold_kept import Measured
from scores.today.offers import KindFacts, Offers
from scores.today.why import measure_words


@dataclass(frozen=True)
class Threshold:
    """A threshold today, in the kind's unit: the step, and the ends of its 95 % interval.

    ``beyond`` is "finer" or "coarser" where the threshold lies past every step the
    kind asks; the figures are then the end of that range.
    """

    step: float
    low: float
    high: float
    beyond: str


@dataclass(frozen=True)
class SkillFigures:
    """One skill. ``threshold`` and ``retrievability`` are None before it is known."""

    skill: str
    kind: str
    region: str
    title: str
    unit: str
    threshold: Threshold | None
    retrievability: float | None
    due: date | None
    tries: int
    right: int
    last_tried: datetime | None


def skill_figures(
    skills: Mapping[str, SkillState], offers: Offers | None, now: datetime
) -> list[SkillFigures]:
    """Every skill met or on offer, by kind and then as the kind orders its regions.

    ``now`` is an aware local time; ``offers`` None where the drills were not yet
    worked out for these pencils.
    """
    facts = {} if offers is None else offers.kinds
    on_offer = () if offers is None else offers.pairs
    pairs = dict.fromkeys([*on_offer, *((state.kind, state.region) for state in skills.values())])
    order = sorted({kind for kind, _ in pairs})
    return [
        _figures(kind, region, skills.get(skill_name(kind, region)), facts.get(kind), now)
        for kind, region in sorted(pairs, key=lambda pair: order.index(pair[0]))
    ]


def _figures(
    kind: str, region: str, state: SkillState | None, facts: KindFacts | None, now: datetime
) -> SkillFigures:
    met = state is not None and state.tries > 0
    title = facts.title if facts else kind.replace("-", " ").capitalize()
    measured = state.measured if state is not None else None
    return SkillFigures(
        skill=skill_name(kind, region),
        kind=kind,
        region=region,
        title=title,
        unit=facts.unit if facts else "",
        threshold=None if measured is None else _threshold(measured, practice_day(now)),
        retrievability=retrievability(state, now) if state is not None and met else None,
        due=state.due if state is not None else None,
        tries=state.tries if state is not None else 0,
        right=state.right if state is not None else 0,
        last_tried=state.last_tried if state is not None else None,
    )


def _threshold(measured: Measured, today: date) -> Threshold | None:
    scale = scale_of(measured.steps, measured.chance)
    if scale is None or not measured.answers:
        return None
    known = on_day(measured, today)
    least, most = sorted(measured.steps)
    low, high = sorted((scale.step(known.low), scale.step(known.high)))

    def held(step: float) -> float:
        return min(max(step, least), most)

    level = scale.level(known.mean)
    beyond = "finer" if level > 1.0 else "coarser" if level < 0.0 else ""
    return Threshold(held(scale.step(known.mean)), held(low), held(high), beyond)


def as_json(figures: Sequence[SkillFigures]) -> dict[str, JSON]:
    """The figures as one JSON object."""
    rows: list[JSON] = []
    for one in figures:
        threshold: JSON = None
        if one.threshold is not None:
            threshold = {
                "step": round(one.threshold.step, 4),
                "low": round(one.threshold.low, 4),
                "high": round(one.threshold.high, 4),
                "beyond": one.threshold.beyond or None,
            }
        held = one.retrievability
        rows.append(
            {
                "skill": one.skill,
                "kind": one.kind,
                "region": one.region,
                "title": one.title,
                "unit": one.unit,
                "threshold": threshold,
                "retrievability": None if held is None else round(held, 4),
                "due": None if one.due is None else one.due.isoformat(),
                "tries": one.tries,
                "right": one.right,
                "last_tried": None if one.last_tried is None else utc_text(one.last_tried),
            }
        )
    return {"proportion_right": PROPORTION, "credible": CREDIBLE, "skills": rows}


def lines(figures: Sequence[SkillFigures], today: date) -> Iterator[str]:
    """The figures as lines of at most 80 columns; skills never met are only counted."""
    met = [one for one in figures if one.tries]
    if met:
        yield "Threshold: the step that is answered right four times in five, with the range"
        yield "in which it lies 19 times in 20. Held: the chance that it is still remembered."
    for title, group in groupby(met, key=lambda one: (one.title, one.unit)):
        yield ""
        yield plain(title[0]) + (f" ({plain(title[1])})" if title[1] else "")
        for one in group:
            yield _line(one, today)
    new = len(figures) - len(met)
    if met and new:
        yield ""
        yield f"Not met yet: {new} more."
    elif not met:
        yield f"Nothing met yet: {new} skills to meet." if new else "Nothing met yet."


def _line(one: SkillFigures, today: date) -> str:
    what = plain(region_words(one.region), 18)
    figure = "not measured"
    if one.threshold is not None:
        here, low, high = (
            measure_words(step, "")
            for step in (one.threshold.step, one.threshold.low, one.threshold.high)
        )
        sign = {"finer": "under ", "coarser": "over "}.get(one.threshold.beyond, "")
        figure = f"{sign}{here}" + (f" ({low} to {high})" if low != high else "")
    held = "" if one.retrievability is None else f"held {one.retrievability:.0%}"
    due = "" if one.due is None else f"due {ahead_words(one.due, today)}"
    tries = "1 try" if one.tries == 1 else f"{one.tries} tries"
    return f"  {what:18} {figure:22} {held:9} {due:16} {tries}".rstrip()
