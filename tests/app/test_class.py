"""The class on screen: by need, in characters that read without colour, names as plain text."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from coach.screens.classroom import ClassroomScreen
from coach.screens.words_page import PageScreen
from coach.widgets.heat import Heat
from scores.classes.views import GLYPHS, overview, shade
from scores.skill.difficulty import step_at
from tests.classes import attempts, class_of, results_file
from tests.pilots import TableApp, lines, painted, place_of, shown, table

STEPS = (20.0, 0.8)
NASTY = "[red]\\[b]Wren[/]"


def answers(student: str, count: int, level: float, score: float, region: str = "violet"):
    step = step_at(STEPS, level)
    return attempts(student, range(count), step=step, steps=STEPS, score=score, region=region)


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A teacher's folder: Wren is far along, Rail is not, Teal has hardly begun."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    book = class_of(
        tmp_path / "class.db",
        results_file("Wren", answers("Wren", 30, 0.9, 0.8), name=NASTY),
        results_file("Rail", answers("Rail", 10, 0.5, 0.4, "green")),
        results_file("Teal", answers("Teal", 4, 0.1, 1.0)),
    )
    book.expect(["Dipper"])
    book.close()
    return tmp_path


async def opened(app: TableApp, pilot: Pilot[None]) -> ClassroomScreen:
    await pilot.press("k")
    await pilot.pause()
    assert isinstance(app.screen, ClassroomScreen)
    return app.screen


async def test_the_neediest_stand_first_and_each_cell_is_told_in_words(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        assert screen.book is not None
        view = overview(screen.book)
        rows = [place_of(app, line.name[:14])[1] for line in view.students]
        assert rows == sorted(rows)
        assert "3 students, 1 not begun" in shown(app)
        first = view.students[0]
        cell = first.cells[view.skills[0].skill]
        assert f"reach {100 * cell.reach:.0f} of 100" in shown(app)
        assert GLYPHS[shade(cell.reach)] in lines(app)[rows[0]]
        assert painted(app) == set(), "greys alone"


async def test_a_stranger_s_name_is_text_and_moves_nothing(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        assert NASTY[:14] in shown(app)


async def test_keys_lead_to_a_student_a_skill_mixups_and_who_has_not_begun(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        await pilot.press("down", "right")
        heat = screen.query_one(Heat)
        assert (heat.row, heat.column) == (1, 1)
        for key, words in {
            "enter": "Day by day",
            "s": "Reach of 100",
            "m": "mixe",
            "n": "Dipper",
        }.items():
            await pilot.press(key)
            assert isinstance(app.screen, PageScreen), key
            assert words in shown(app), key
            await pilot.press("escape")
            assert app.screen is screen


async def test_a_cell_is_marked_by_a_click(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        assert screen.book is not None
        names = [line.name for line in overview(screen.book).students]
        await pilot.click(offset=place_of(app, names[2]))
        assert screen.query_one(Heat).row == 2


async def test_one_deck_or_all(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        await opened(app, pilot)
        assert "every deck" in shown(app)
        await pilot.press("d")
        assert "Greens" in shown(app)


async def test_before_any_results_it_says_how_to_begin(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        assert "k class" not in shown(app), "a learner without a class is not shown the key"
        await opened(app, pilot)
        assert "coach class add" in shown(app)
    assert not (tmp_path / "class.db").exists()
