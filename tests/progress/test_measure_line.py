"""The line of measure under a reveal: how fine the eye is here, and never a change."""

from __future__ import annotations

from math import log10

import pytest

from scores.progress.reveal_line import measure_line
from scores.skill.skill_threshold import SkillThreshold

VALUE = (20.0, 0.8)


def line(
    step: float = 4.0,
    sd: float = 0.07,
    title: str = "Lighter or darker",
    unit: str = "ΔL*",
    steps: tuple[float, float] = VALUE,
) -> str:
    known = SkillThreshold(steps, 0.5, log10(step), sd, 30, 12.0)
    return measure_line(known, title, unit, "red")


@pytest.mark.parametrize(
    ("unit", "title", "said"),
    [
        ("ΔL*", "Lighter or darker", "You tell values apart to about ΔL* 4 in reds (3.1 to 5.2)."),
        ("ΔC*", "Brighter or duller", "You tell bright from dull to about ΔC* 4 in reds"),
        ("C*ab", "Grey lean", "You see a grey's lean from about C*ab 4 in reds"),
        ("wheel steps", "Hue", "You place hues to about 4 wheel steps in reds"),
        ("ΔE00", "What is off?", "“What is off” in reds: right down to about ΔE00 4"),
    ],
)
def test_every_unit_has_its_words(unit: str, title: str, said: str) -> None:
    assert line(unit=unit, title=title).startswith(said)


def test_little_known_is_not_told() -> None:
    """Told from an interval whose ends lie within a factor of four."""
    assert line(sd=0.18)
    assert line(sd=0.19) == ""
    assert measure_line(None, "Lighter or darker", "ΔL*", "red") == ""
    assert line(unit="") == ""


def test_past_the_range_that_is_asked_there_is_no_false_figure() -> None:
    assert line(step=30.0) == ""
    assert line(step=0.5).endswith("to about ΔL* 0.8 in reds, as fine as it is asked.")


def test_a_range_where_more_is_harder_reads_from_the_lesser_to_the_greater() -> None:
    known = SkillThreshold((2.0, 20.0), 0.0, -log10(5.0), 0.1, 30, 12.0)
    assert known.step == pytest.approx(5.0)
    assert measure_line(known, "Row", "places", "red").endswith("(3.4 to 7.3).")
