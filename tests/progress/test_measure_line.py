"""The reveal's line of measure: said plainly, and as a change only where it is one."""

from __future__ import annotations

import random
from datetime import date, timedelta

import pytest

from scores.progress.reveal_line import earlier, measure_line
from scores.skill.memory import SkillState
from scores.skill.psychometric import proportion, scale_of
from scores.skill.skill_words import WHEEL
from scores.skill.step_choice import step_to_ask
from scores.skill.threshold import answered, for_kind
from scores.skill.threshold_kept import Mark, Measured

TODAY = date(2026, 4, 10)
STEPS, CHANCE = (20.0, 0.8), 0.5
MONTH_AGO = TODAY - timedelta(30)


def known(
    step: float, before: float | None = None, sd: float = 0.05, day: date = MONTH_AGO
) -> Measured:
    """A threshold known to within a tenth or so, and where it stood before."""
    scale = scale_of(STEPS, CHANCE)
    assert scale is not None
    log = scale.intensity(step)
    marks = () if before is None else (Mark(day, scale.intensity(before), sd),)
    return Measured(
        STEPS, CHANCE, TODAY, 40, 3, 20.0, (log, 0.3), log, sd, log - 0.1, log + 0.1, "", marks
    )


def skill(measured: Measured | None, region: str = "red") -> SkillState:
    return SkillState(f"lighter-or-darker:{region}", measured=measured)


def line(
    measured: Measured | None,
    others: tuple[Measured, ...] = (),
    unit: str = "ΔL*",
    title: str = "Lighter or darker",
) -> str:
    kindred = [skill(other, region) for other, region in zip(others, WHEEL[5:], strict=False)]
    return measure_line(skill(measured), kindred, title, unit, TODAY)


def test_a_change_beyond_noise_is_told_with_where_it_came_from() -> None:
    assert line(known(4.0, 7.0)) == "You now tell values apart to ΔL* 4 in reds; last month 7."


def test_so_is_what_has_faded() -> None:
    assert line(known(7.0, 4.0)) == "You now only tell values apart to ΔL* 7 in reds; last month 4."


def test_within_its_noise_it_is_no_change() -> None:
    assert line(known(4.0, 4.6)) == "You tell values apart to ΔL* 4 in reds (3.2 to 5)."


@pytest.mark.parametrize(
    ("unit", "title", "said"),
    [
        ("ΔC*", "Brighter or duller", "You now tell bright from dull to ΔC* 4 in reds"),
        ("wheel steps", "Nearest start", "You now place hues to 4 wheel steps in reds"),
        ("C*ab", "Which way does the grey lean?", "You now see a grey's lean from C*ab 4 in reds"),
        ("ΔE00", "Hold it in mind", "“Hold it in mind” in reds: now right down to ΔE00 4"),
        (
            "of the cast",
            "See through the cast?",
            "“See through the cast” in reds: now right down to 4 of the cast",
        ),
    ],
)
def test_every_unit_has_its_words(unit: str, title: str, said: str) -> None:
    assert line(known(4.0, 7.0), unit=unit, title=title) == f"{said}; last month 7."


def test_the_kind_answers_over_all_colours_where_one_skill_cannot() -> None:
    own = known(4.0, 5.2, sd=0.08)
    assert "last month" not in line(own)
    others = tuple(known(4.0, 5.2, sd=0.08) for _ in range(5))
    said = line(own, others)
    assert said == "You now tell values apart to ΔL* 4 in all colours; last month 5.2."
    # One that got worse elsewhere is counted with the rest.
    worse = (*others[:2], *(known(5.2, 4.0, sd=0.08) for _ in range(3)))
    assert "last month" not in line(own, worse)


def test_other_times_ago_are_named() -> None:
    assert line(known(4.0, 7.0, day=TODAY - timedelta(15))).endswith("reds; 15 days ago 7.")
    assert line(known(4.0, 7.0, day=TODAY - timedelta(60))).endswith("reds; 9 weeks ago 7.")
    assert "now" not in line(known(4.0, 7.0, day=TODAY - timedelta(9)))
    assert "now" not in line(known(4.0, 7.0, day=TODAY - timedelta(200)))


def test_the_mark_nearest_a_month_ago_is_taken() -> None:
    marks = tuple(Mark(TODAY - timedelta(days), 0.5, 0.1) for days in (70, 45, 33, 20, 5))
    found = earlier(known(4.0)._replace(marks=marks), TODAY)
    assert found is not None
    assert (TODAY - found.day).days == 33


def test_little_known_is_not_told() -> None:
    wide = known(4.0)._replace(low=0.2, high=1.0)
    assert line(wide) == ""
    assert line(known(4.0)._replace(answers=5)) == ""
    assert line(None) == ""
    assert line(known(4.0), unit="") == ""


def test_past_the_range_that_is_asked_there_is_no_false_figure() -> None:
    assert line(known(0.6)) == "You tell values apart to ΔL* 0.8 in reds, as fine as it is asked."
    assert line(known(26.0)) == ""


def practise(
    seed: int, drop: float, every: float, days: int = 90, skills: int = 6
) -> tuple[int, int, int]:
    """Lines shown after the first month, those that tell of a better eye, and of a worse one.

    A learner whose thresholds fall by ``drop`` (log10) over 60 days, each skill asked
    once in ``every`` days.
    """
    scale, rng = scale_of(STEPS, CHANCE), random.Random(seed)
    assert scale is not None
    truths = [scale.at_level(rng.gauss(0.35, 0.12)) for _ in range(skills)]
    states: list[Measured | None] = [None] * skills
    shown = better = worse = 0
    for number in range(days):
        day = TODAY + timedelta(number)
        for place in range(skills):
            if rng.random() > 1 / every:
                continue
            mine = states[place]
            kin = [one for one in states if one is not None] if mine is None else []
            begun = for_kind(mine, STEPS, CHANCE, day, kin)
            assert begun is not None
            step = step_to_ask(begun, day)
            above = scale.intensity(step) - (truths[place] - drop * min(1.0, number / 60))
            right = rng.random() < proportion(above, 2.3, 0.03, CHANCE)
            states[place] = answered(begun, step, right, day)
            if number < 30:
                continue
            kindred = [
                skill(one, WHEEL[other])
                for other, one in enumerate(states)
                if other != place and one is not None
            ]
            said = measure_line(skill(states[place], WHEEL[place]), kindred, "Values", "ΔL*", day)
            shown += 1
            better += "now tell" in said
            worse += "now only" in said
    return shown, better, worse


@pytest.mark.parametrize("every", [3.0, 1.0])
def test_a_learner_who_does_not_change_is_hardly_ever_told_of_a_change(every: float) -> None:
    runs = [practise(seed, 0.0, every) for seed in range(10)]
    shown, better, worse = (sum(column) for column in zip(*runs, strict=True))
    assert shown > 500
    assert better / shown < 0.015
    assert worse / shown < 0.015


def test_a_learner_who_sees_twice_as_fine_is_told_so_and_never_the_contrary() -> None:
    runs = [practise(seed, 0.35, 1.0) for seed in range(10)]
    shown, better, worse = (sum(column) for column in zip(*runs, strict=True))
    assert better / shown > 0.1
    assert worse / shown < 0.005
