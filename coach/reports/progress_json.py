"""Progress as JSON values, for ``coach progress --json``."""

from __future__ import annotations

import math
from datetime import date

from coach.reports.progress_figures import Figures
from coach.reports.progress_words import RULE, change_words
from coach.reports.skill_table import as_json
from drills.basics.json_values import JSON
from scores.progress.claim import Claim
from scores.progress.lines import ProgressLine
from scores.progress.on_paper import finished
from scores.progress.paper_change import PaperChange

SCHEMA = 2


def figures_json(figures: Figures) -> dict[str, JSON]:
    """All figures. Thresholds are in each line's ``unit``, and smaller is better."""
    course = figures.course
    span = course.span
    return {
        "schema": SCHEMA,
        "range": span.name,
        "since": span.first.isoformat(),
        "until": span.last.isoformat(),
        "days_a_point": span.period_days,
        "smaller_is_better": True,
        "rule": RULE,
        "answers": figures.answers,
        "minutes": round(figures.minutes, 1),
        "change": _change(course.change),
        "then_now": [
            {
                "kind": one.kind,
                "unit": one.unit,
                "since": one.since.isoformat(),
                "then": round(one.then, 4),
                "now": round(one.now, 4),
            }
            for one in course.then_now
        ],
        "eye": _line(course.eye),
        "kinds": [_line(line) for line in course.kinds],
        "skills": as_json(figures.skills)["skills"],
        "matches": {
            "unit": "ΔE00",
            "points": [
                {
                    "day": p.day.isoformat(),
                    "median": round(p.median, 3),
                    "lower_quartile": round(p.lower, 3),
                    "upper_quartile": round(p.upper, 3),
                    "matches": p.matches,
                }
                for p in course.matches.points
            ],
        },
        "on_paper": [
            {
                "day": one.day.isoformat(),
                "miss_delta_e00": round(one.miss, 3),
                "expected_delta_e00": round(one.expected, 3),
                "reading_sd_delta_e00": round(one.doubt, 3),
                "target_lab": list(one.target),
                "predicted_lab": list(one.predicted),
                "got_lab": list(one.got),
                "how": one.how,
                "mended": one.mended,
            }
            for one in finished(figures.paper)
        ],
        "sureness": {
            "sure": figures.sureness.sure,
            "sure_right": figures.sureness.sure_right,
            "others": figures.sureness.others,
            "others_right": figures.sureness.others_right,
        },
        "on_paper_change": _paper_change(figures.paper_change),
        "retests": [
            {"day": run.day.isoformat(), "items": run.items, "right": run.right}
            for run in course.retests
        ],
        "wheel": [
            {
                "skill": cell.skill,
                "kind": cell.kind,
                "region": cell.region,
                "standing": cell.standing,
                "level": None if cell.level is None else round(cell.level, 3),
                "tries": cell.tries,
            }
            for cell in figures.wheel.cells.values()
        ],
        "due_today": figures.due,
        "coming_due": [{"skill": f.skill, "due": f.day.isoformat()} for f in figures.coming],
        "days": [
            {"day": d.day.isoformat(), "minutes": round(d.minutes, 2), "answers": d.answers}
            for d in figures.calendar
            if d.answers
        ],
    }


def _line(line: ProgressLine | None) -> JSON:
    if line is None:
        return None
    return {
        "name": line.name,
        "words": line.words,
        "unit": line.unit,
        "points": [
            {
                "day": p.day.isoformat(),
                "threshold": round(p.value, 4),
                "low": round(p.low, 4),
                "high": round(p.high, 4),
            }
            for p in line.points
        ],
    }


def _change(change: Claim | None) -> JSON:
    """``threshold_ratio`` is now over then; an end that is not known is null."""
    if change is None:
        return None
    low, high = (round(10.0**end, 4) if math.isfinite(end) else None for end in change[5:7])
    return {
        "words": change_words(change),
        "direction": change.direction,
        "since": date.fromordinal(change.since).isoformat(),
        "days": change.days,
        "answers": change.answers,
        "threshold_ratio": round(change.ratio, 4),
        "low": low,
        "high": high,
    }


def _paper_change(change: PaperChange | None) -> JSON:
    """Null while no change is known."""
    if change is None:
        return None
    return {
        name: {
            "until": period.last.isoformat(),
            "miss_delta_e00": round(period.miss, 3),
            "swatches": period.swatches,
        }
        for name, period in (("then", change.then), ("now", change.now))
    }
