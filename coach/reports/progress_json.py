"""Progress as JSON values, for ``coach progress --json``."""

from __future__ import annotations

from coach.reports.progress_figures import Figures
from coach.reports.progress_words import RULE
from drills.basics.json_values import JSON
from scores.progress.change import Third, ThresholdChange
from scores.progress.lines import ProgressLine

SCHEMA = 1


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
        "eye": _line(course.eye),
        "groups": [_line(line) for line in course.groups],
        "skills": [_line(line) for line in course.skills],
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
            "change": _change(course.matches.change),
        },
        "probe": {
            "runs": [
                {"day": run.day.isoformat(), "items": run.items, "right": run.right}
                for run in course.retest.runs
            ],
            "eye": _line(course.retest.eye),
            "groups": [_line(line) for line in course.retest.groups],
            "words": figures.better_eye,
        },
        "wheel": [
            {
                "skill": cell.skill,
                "kind": cell.kind,
                "region": cell.region,
                "standing": cell.standing,
                "level": None if cell.level is None else round(cell.level, 3),
                "retrievability": round(cell.retrievability, 4),
                "tries": cell.tries,
            }
            for cell in figures.wheel.cells.values()
        ],
        "due_today": figures.due,
        "fading": [
            {"skill": f.skill, "due": f.day.isoformat(), "left_after_week": round(f.left, 4)}
            for f in figures.fading
        ],
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
        "answers": line.answers,
        "points": [
            {
                "day": p.day.isoformat(),
                "threshold": round(p.value, 4),
                "low": round(p.low, 4),
                "high": round(p.high, 4),
                "answers": p.answers,
            }
            for p in line.points
        ],
        "change": _change(line.change),
    }


def _change(change: ThresholdChange | None) -> JSON:
    if change is None:
        return None
    return {
        "verdict": change.verdict,
        "ratio": round(change.ratio, 4),
        "low": round(change.low, 4),
        "high": round(change.high, 4),
        "probability_finer": round(change.finer, 5),
        "then": _third(change.then),
        "now": _third(change.now),
    }


def _third(third: Third) -> JSON:
    return {
        "first": third.first.isoformat(),
        "last": third.last.isoformat(),
        "answers": third.answers,
        "days": third.days,
    }
