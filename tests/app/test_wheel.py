"""The wheel: twelve families by pattern and length, moved round by keys, practised by one."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from coach.reports.classes.kinds import kind_scales
from coach.screens.classroom import ClassroomScreen
from coach.screens.practice.question import PracticeScreen
from coach.screens.wheel.learner import PATTERNS, WheelScreen, wedge_of
from coach.screens.wheel.of_class import ClassWheelScreen
from coach.screens.wheel.of_class import family_lines as class_lines
from coach.screens.wheel.of_class import wedge_of as class_wedge
from coach.widgets.drawn.wheel import Wedge, WheelPicture, places
from scores.classes.standing_lines import SkillLevel
from scores.classes.standings import class_counts, standing_from
from scores.progress.wheel import Standing, Wheel, WheelPart
from scores.skill.skill_words import WHEEL, region_words
from tests.bench.records import make_long_record
from tests.classes import STUDENTS, attempts, class_of, results_file
from tests.contact_sheet.class_made import OFTEN, SOME, by_family
from tests.pilots import TableApp, painted, practice, shown, table


async def opened(tmp_path: Path, size: tuple[int, int] = (80, 24)) -> TableApp:
    make_long_record(tmp_path / "record.db", attempts=250, seed=3)
    return table(tmp_path, minutes=2)


@pytest.mark.parametrize("size", [(44, 19), (84, 35), (160, 55), (24, 11)])
def test_the_families_share_the_wheel_alike_and_keep_apart(size: tuple[int, int]) -> None:
    cells = places(*size, 12)
    counts = Counter(place[0] for row in cells for place in row if place)
    assert set(counts) == set(range(12))
    middle = (size[0] - 1) / 2
    across = {0: 0, 3: 1, 6: 0, 9: -1}
    for family, side in across.items():
        columns = [
            x for row in cells for x, place in enumerate(row) if place and place[0] == family
        ]
        assert (sum(columns) / len(columns) - middle) * side >= 0
    if size[1] >= 35:
        assert max(counts.values()) < 1.4 * min(counts.values())


def test_a_longer_wedge_fills_more_cells() -> None:
    picture = WheelPicture()
    picture._size = picture.size.__class__(44, 19)
    filled = []
    for length in (0.1, 0.5, 1.0):
        picture.set_reactive(WheelPicture.wedges, (Wedge("red", length, "░"),))
        filled.append(sum(picture._cell((0, share / 20)) == "░" for share in range(1, 21)))
    assert filled == [2, 10, 20]


async def test_each_family_is_a_key_away_with_what_is_known_of_it(tmp_path: Path) -> None:
    app = await opened(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("g", "f")
        await pilot.pause()
        assert isinstance(app.screen, WheelScreen)
        for family in WHEEL:
            assert region_words(family).capitalize() + ":" in shown(app)
            await pilot.press("right")
            await pilot.pause()
        assert region_words(WHEEL[0]).capitalize() + ":" in shown(app)
        await pilot.press("left")
        await pilot.pause()
        assert region_words(WHEEL[-1]).capitalize() + ":" in shown(app)
        assert {wedge.pattern for wedge in app.screen.wedges} <= set(PATTERNS.values())
        assert painted(app) == set()


async def test_the_family_marked_is_practised_alone(tmp_path: Path) -> None:
    app = await opened(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("g", "f", "right", "right", "right", "right", "enter")
        await pilot.pause()
        assert isinstance(app.screen, PracticeScreen)
        session = practice(app).session
        assert session is not None
        assert session.item is not None
        assert session.item.region == WHEEL[4]


async def test_a_class_has_the_same_picture(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    steps = (20.0, 0.8)
    sent = attempts("Wren", range(30), step=2.0, steps=steps, score=0.8, region="violet")
    class_of(tmp_path / "class.db", results_file("Wren", sent)).close()
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("k")
        await app.workers.wait_for_complete()
        await pilot.pause()
        class_screen = app.screen
        assert isinstance(class_screen, ClassroomScreen)
        await pilot.press("f")
        await pilot.pause()
        assert isinstance(app.screen, ClassWheelScreen)
        assert "No student has tried them yet" in shown(app)
        assert all(wedge.length is None for wedge in app.screen.wedges)
        for _ in range(WHEEL.index("violet")):
            await pilot.press("right")
        await pilot.pause()
        assert "1 tried" in shown(app)
        assert painted(app) == set()
        standing = class_screen.standing
    assert standing is not None
    known = {(kind, "violet"): SkillLevel(0.6, 0.02) for kind in ("one", "other")}
    (student,) = standing.students
    sure = replace(standing, students=(replace(student, skills=known),))
    assert class_wedge(sure, "violet") == Wedge("violet", pytest.approx(0.6), "█")
    assert class_wedge(sure, "red").length is None
    assert "  mean level 60 of 100, 1 of 1 students known" in class_lines(sure, "violet", {})


@pytest.mark.parametrize(
    ("standings", "pattern"),
    [
        (("strong", "strong"), "█"),
        (("strong", "due"), "▒"),
        (("due", "shaky"), "░"),
        (("strong", "unmet"), "█"),
        (("unmet", "unmet"), " "),
    ],
)
def test_a_family_is_drawn_as_its_weakest_drill(
    standings: tuple[Standing, Standing], pattern: str
) -> None:
    cells = {
        ("red", str(at)): WheelPart("", str(at), "red", one, 0.5, 9 * (one != "unmet"))
        for at, one in enumerate(standings)
    }
    wedge = wedge_of(Wheel(("red",), ("0", "1"), {}, cells), "red")
    assert wedge.pattern == pattern
    assert wedge.length == (None if pattern == " " else 0.5)


def test_the_class_s_wheel_has_each_of_its_patterns(tmp_path: Path) -> None:
    files = [results_file(name, by_family(name)) for name in STUDENTS]
    book = class_of(tmp_path / "class.db", *files)
    standing = standing_from(class_counts(book, ""), kind_scales())
    book.close()
    wedges = {family: class_wedge(standing, family) for family in WHEEL}
    assert all(wedges[family].length and wedges[family].pattern == "█" for family in OFTEN)
    assert all(wedges[family].length and wedges[family].pattern == "░" for family in SOME)
    rest = {family for family in WHEEL if wedges[family].length is None}
    assert rest == set(WHEEL) - {*OFTEN, *SOME}
    assert rest
    assert len({one.place for one in standing.students}) > 1
