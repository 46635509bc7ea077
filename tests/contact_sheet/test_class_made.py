"""The class that the contact sheet shows has families known, known in part, and not met."""

from __future__ import annotations

from pathlib import Path

from coach.reports.classes.kinds import kind_scales
from coach.screens.wheel.of_class import wedge_of
from scores.classes.standings import class_counts, standing_from
from scores.skill.skill_words import WHEEL
from tests.classes import STUDENTS, class_of, results_file
from tests.contact_sheet.class_made import OFTEN, SOME, by_family


def test_the_class_s_wheel_has_each_of_its_patterns(tmp_path: Path) -> None:
    files = [results_file(name, by_family(name)) for name in STUDENTS]
    book = class_of(tmp_path / "class.db", *files)
    standing = standing_from(class_counts(book, ""), kind_scales())
    book.close()
    wedges = {family: wedge_of(standing, family) for family in WHEEL}
    assert all(wedges[family].length and wedges[family].pattern == "█" for family in OFTEN)
    assert all(wedges[family].length and wedges[family].pattern == "░" for family in SOME)
    rest = {family for family in WHEEL if wedges[family].length is None}
    assert rest == set(WHEEL) - {*OFTEN, *SOME}
    assert rest
    assert len({one.place for one in standing.students}) > 1
