"""Choosing the colour to lay on paper: one the learner can't get, else one their pencils mix."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from coach.session.question import ask_about, ask_for
from scores.progress.on_paper import results
from scores.record.record import NotSavedError
from scores.skill.difficulty import step_at
from scores.today.paper_task import SETTING, families_in_turn, is_laid, task_in
from scores.today.wishes import wishes_in

if TYPE_CHECKING:
    from coach.app_state import Ready
    from drills.questions.protocol import Lab
    from scores.record.record import Record

DRILL = "make-the-match"
PLACE = 0.5
"""How hard a colour to mix is asked for, between the drill's easiest (0) and hardest (1) step."""


def task(record: Record, ready: Ready, seed: int, another: bool = False) -> Lab | None:
    """The task kept, while it isn't laid; else, or where ``another`` is wanted, a new one.

    None where these pencils mix nothing. Nothing is kept: see ``keep_task``.
    """
    from drills.questions.given_colour import region_of

    settings = record.settings()
    laid = [one.target for one in results(record)]
    kept = task_in(settings)
    if kept is not None and not another and not is_laid(kept, laid):
        return kept
    kind = ready.kinds.get(DRILL)
    if kind is None:
        return None
    name = f"{seed}/on paper"
    step = step_at(kind.steps, PLACE)
    for wish in wishes_in(settings):
        question = ask_about(kind, ready.palette, wish.lab, step, name)
        wished = question.target if question is not None else None
        if wished is not None and wished != kept and not is_laid(wished, laid):
            return wished
    regions = [region for drill, region in ready.offers.pairs if drill == DRILL]
    rng = random.Random(name)
    for region in families_in_turn(regions, [region_of(target) for target in laid], rng):
        question = ask_for(kind, ready.palette, region, step, name)
        if question is not None and question.target not in (None, kept):
            return question.target
    return None


def keep_task(record: Record, target: Lab) -> str:
    """Keep the task until it is laid; why that could not be, or nothing."""
    if task_in(record.settings()) == target:
        return ""
    try:
        record.set_setting(SETTING, list(target))
    except NotSavedError as error:
        return str(error)
    return ""
