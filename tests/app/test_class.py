"""The class on screen: by need, in characters that read without colour, names as plain text."""

from pathlib import Path

import pytest
from textual.pilot import Pilot

from coach.screens.classroom import ClassroomScreen
from coach.screens.first_start.welcome import WelcomeScreen
from coach.screens.words_page import PageScreen
from coach.widgets.heat import Heat, told
from scores.classes.views import GLYPHS, shade
from scores.skill.difficulty import step_at
from tests.classes import STUDENTS, attempts, class_of, results_file
from tests.pilots import TRUE_COLOUR, TableApp, lines, new_desk, painted, place_of, shown, table

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
    await app.workers.wait_for_complete()
    await pilot.pause()
    assert isinstance(app.screen, ClassroomScreen)
    return app.screen


async def test_students_stand_in_order_and_each_cell_is_told_in_words(home: Path) -> None:
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        assert screen.standing is not None
        order = screen.standing.students
        rows = [place_of(app, line.name[:14])[1] for line in order]
        assert rows == sorted(rows)
        assert "3 students, 1 not begun" in shown(app)
        assert "not known yet" in shown(app)
        heat = screen.query_one(Heat)
        heat.row, heat.column = [one.student for one in order].index(STUDENTS["Rail"]), 1
        screen.on_heat_moved()
        assert "10 of 10 right, last 2 March" in shown(app)
        known = screen.standing.by_student()[STUDENTS["Rail"]].skills["value", "green"]
        rail = place_of(app, "Rail")[1]
        mark = GLYPHS[shade(known.level)] if known.told else "?"
        assert lines(app)[rail].split()[-1] == mark
        assert painted(app) == set(), "greys alone"


async def test_a_new_teacher_gets_there_without_choosing_pencils_and_adds_what_came(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    (tmp_path / "sent").mkdir()
    for student in ("Wren", "Rail"):
        data = results_file(student, answers(student, 4, 0.5, 0.8))
        (tmp_path / "sent" / f"{student}.json").write_bytes(data)
    (tmp_path / "sent" / "other.json").write_text("{}")
    app = TableApp(new_desk(tmp_path, TRUE_COLOUR, None, 1, ""))
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.pause()
        assert isinstance(app.screen, WelcomeScreen)
        assert "k I teach: the class" in shown(app)
        await opened(app, pilot)
        assert not (tmp_path / "home").exists()
        await pilot.press("a", *str(tmp_path / "sent"), "enter")
        await pilot.pause()
        assert "8 answers added from 2 of 3 files." in shown(app)
        assert "this is not a results file" in shown(app)
        await pilot.press("escape")
        await app.workers.wait_for_complete()
        await pilot.pause()
        assert "2 students · 8 answers" in shown(app)


async def test_columns_are_labelled_by_drill_and_family(home: Path) -> None:
    """A family by its initials, as in Munsell's notation; the drill by its title or its name."""
    app = table(home)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await opened(app, pilot)
        rail = place_of(app, "Rail")[1]
        heads = [line for line in lines(app)[: rail + 1] if "level of 100" in line]
        assert heads[0].split()[-2:] == ["V", "G"]
        screen.query_one(Heat).focus()
        await pilot.press("right")
        assert "Value, green" in shown(app)


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
            "s": "Level of 100",
            "m": "mixe",
            "n": "Dipper",
            "b": "Whom to ask",
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
        assert screen.standing is not None
        names = [line.name for line in screen.standing.students]
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
        assert "a adds what students sent" in shown(app)
    assert not (tmp_path / "class.db").exists()


@pytest.mark.parametrize(
    ("name", "seen"),
    [
        ("Sam", "Sam"),
        ("Alexandra Marsh-Holt", "Alexandra Marsh-Holt"),
        ("Sam (Port Marrowell 36, hat garden)", "Sam (…hat garden)"),
        ("Alexandra (began 3 March)", "Alexa…an 3 March)"),
    ],
)
def test_what_tells_students_of_one_name_apart_stays_in_sight(name: str, seen: str) -> None:
    assert told(name, 17) == seen
