"""What is told of a class says no more than is known."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from coach.reports.classes.brief import brief_of
from coach.reports.classes.brief_page import FOR_TEACHER, brief_page
from coach.reports.classes.kinds import kind_titles
from coach.reports.classes.pages_in_words import student_words
from coach.reports.classes.words import level_words, skill_level_words
from coach.reports.printed.drawing import SIZES
from scores.classes.class_lines import StudentLine, StudentPage
from scores.classes.standing_lines import AtKind, ClassStanding, Harder, SkillLevel, Standing


def standing(**changes: Any) -> Standing:
    made = Standing(
        *("id", "Wren", "on track", 0.1, 0.9, 0.6, 0.4, 0.8, 30), (), (), (), ask=None, skills={}
    )
    return replace(made, **changes)


@pytest.mark.parametrize(
    ("low", "level", "high", "words"),
    [
        (0.33, 0.41, 0.5, "41 of 100 (33 to 50)"),
        # Past a drill's hardest questions nothing was asked: 100 would say too much.
        (0.64, 1.2, 1.7, "64 or more of 100"),
        (-0.4, -0.1, 0.2, "20 or less of 100"),
    ],
)
def test_a_level_past_what_drills_ask_is_a_bound(low: float, level: float, high: float, words: str):
    assert level_words(standing(low=low, level=level, high=high)) == words


def test_a_skill_s_level_is_told_the_same_way():
    assert skill_level_words(SkillLevel(1.3, 0.2)).endswith(" or more of 100")


def test_of_a_few_answers_no_level_is_told():
    kinds = (
        AtKind("value-order", 1, 0, 0.0, 0.1, 0.1),
        AtKind("hue-and-lean", 9, 7, 0.62, 0.0, 0.0),
    )
    line = StudentLine("id", "Wren", {}, 10, 0.7, 2, 1, None, None, False)
    told = student_words(StudentPage(line, (), (), ()), standing(kinds=kinds), kind_titles())
    assert "Drills, the least level of 100 first; ? is under 5 answers" in told
    assert told.index("   62  Hue family and lean") < told.index(
        "    ?  Put in value order (0 of 1"
    )


def test_a_brief_shows_colours_alone():
    """A subject of handling may be harder than all colours, and can't be held up."""
    harder = (
        Harder("order of work", 0.9, 13, 6),
        Harder("blue", 0.7, 77, 60),
        Harder("dark greys", 0.6, 20, 15),
    )
    made = brief_of("x", ClassStanding(0.0, (), (), harder, ()), (), kind_titles())
    assert [one.region for one in made.colours] == ["blue", "dark greys"]
    assert all(one.swatches for one in made.colours)


def test_a_printed_brief_says_whom_it_is_for():
    made = brief_of("x", ClassStanding(0.0, (), (), (), ()), (), kind_titles())
    assert FOR_TEACHER in brief_page(made, SIZES["a4"], "Made today.")
