"""Every skill in figures: threshold with its interval, due day and tries."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from coach.design.measures import MEASURE
from drills.basics.days import utc_text
from drills.basics.errors import plain
from drills.basics.json_values import JSON
from scores.skill.memory import SkillState, retrievability
from scores.skill.psychometric import PROPORTION
from scores.skill.skill_threshold import SkillThreshold
from scores.skill.skill_words import ahead_words, region_words, skill_name
from scores.today.offers import KindFacts, Offers
from scores.today.why import measure_words

HOW_FINE = (
    "How fine you see: the step you answer right four times in five, as your answers tell it;"
    " the range holds it nine times in ten. A range alone: not known yet."
)


@dataclass(frozen=True)
class SkillFigures:
    """One skill. ``threshold`` is None for one that is no skill of the eye, or not met;
    ``retrievability`` for all but cards to remember that were met."""

    skill: str
    kind: str
    region: str
    title: str
    unit: str
    threshold: SkillThreshold | None
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
    known = state.threshold if state is not None else None
    return SkillFigures(
        skill=skill_name(kind, region),
        kind=kind,
        region=region,
        title=title,
        unit=facts.unit if facts else "",
        threshold=known,
        retrievability=retrievability(state, now) if state and met and known is None else None,
        due=state.due if state is not None else None,
        tries=state.tries if state is not None else 0,
        right=state.right if state is not None else 0,
        last_tried=state.last_tried if state is not None else None,
    )


def as_json(figures: Sequence[SkillFigures]) -> dict[str, JSON]:
    """The figures as one JSON object."""
    rows: list[JSON] = []
    for one in figures:
        threshold: JSON = None
        if one.threshold is not None:
            low, high = one.threshold.ends
            threshold = {
                "step": round(one.threshold.step, 4),
                "low": round(low, 4),
                "high": round(high, 4),
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
    return {"proportion_right": PROPORTION, "credible": 0.9, "skills": rows}


def lines(figures: Sequence[SkillFigures], today: date) -> Iterator[str]:
    """The figures as lines of at most 80 columns; skills never met are only counted."""
    met = [one for one in figures if one.tries]
    if met:
        yield from textwrap.wrap(HOW_FINE, MEASURE)
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
        known = one.threshold
        here = measure_words(known.step, "")
        low, high = (measure_words(step, "") for step in known.ends)
        # Past the steps that are asked, as far as that is known at all.
        past = max(known.level - 1.0, -known.level) > known.level_sd or known.known
        sign = {"finer": "under ", "coarser": "over "}.get(known.beyond, "") if past else ""
        figure = f"{sign}{here}" + (f" ({low} to {high})" if low != high else "")
        if not known.known and not sign:
            figure = f"{low} to {high}"
    due = "" if one.due is None else f"due {ahead_words(one.due, today)}"
    tries = "1 try" if one.tries == 1 else f"{one.tries} tries"
    return f"  {what:18} {figure:24} {due:20} {tries}".rstrip()
