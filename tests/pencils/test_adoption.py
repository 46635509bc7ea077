"""Taking pencils into use: parsed once, their films worked out once, their offers read once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from textual.widgets import Input

from coach.app import CoachApp
from coach.app_state import AppState
from coach.cli import cli
from coach.screens.first_start.pencil_file import PencilFileScreen
from drills.layering.palette import Palette
from drills.pencils.file import to_csv
from drills.pencils.sets import demo_set, pocket_set
from tests.pilots import new_desk, ready_once, until

Calls = Counter[str]


@pytest.fixture
def calls(monkeypatch: pytest.MonkeyPatch) -> Calls:
    """How often the pocket set was parsed, its films worked out, and offers read."""
    counted: Calls = Counter()

    def count(target: str, of: Callable[[tuple[Any, ...], Any], bool]) -> None:
        module, name = target.rsplit(".", 1)
        real = getattr(__import__(module, fromlist=[name]), name)

        def counting(*given: Any, **named: Any) -> Any:
            found = real(*given, **named)
            counted[name] += of(given, found)
            return found

        monkeypatch.setattr(target, counting)

    pocket = pocket_set()
    count("drills.pencils.file.set_of", lambda given, found: found == pocket)
    count("drills.layering.palette.prepare", lambda given, found: given[0] == pocket)
    count("scores.today.offers.offers_from_json", lambda given, found: True)
    return counted


@pytest.fixture
def file(tmp_path: Path) -> Path:
    path = tmp_path / "mine.csv"
    path.write_text(to_csv(pocket_set()), encoding="utf-8", newline="")
    return path


def test_by_the_command(
    file: Path, calls: Calls, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    said = CliRunner().invoke(cli, ["pencils", "use", str(file)])
    assert said.output == "You now practise with mine: 12 pencils.\n"
    assert calls == {"set_of": 1, "prepare": 1}


async def test_in_the_app(file: Path, calls: Calls, tmp_path: Path) -> None:
    app = CoachApp(new_desk(tmp_path))
    async with app.run_test(size=(80, 24)) as pilot:
        app.push_screen(PencilFileScreen(), lambda _: app.make_ready())
        await pilot.pause()
        app.screen.query_one(Input).value = str(file)
        await pilot.press("enter")
        await until(pilot, lambda: app.app_state.ready_for is not None)
    assert app.app_state.pencils_name == "mine"
    assert (calls["set_of"], calls["prepare"]) == (1, 1)


def test_films_of_a_file_looked_over_but_not_taken_are_not_those_of_the_set_in_use(
    file: Path, tmp_path: Path
) -> None:
    desk = new_desk(tmp_path)
    looked_over = desk.load(str(file))
    desk.use(demo_set())
    assert desk.prepared() is demo_set()
    desk.use(looked_over)
    assert isinstance(desk.prepared(), Palette)
    desk.use(pocket_set())
    assert desk.prepared() is pocket_set()


def test_offers_kept_are_read_once_a_start(calls: Calls, tmp_path: Path) -> None:
    first = new_desk(tmp_path)
    assert first.today() is None
    first.use(pocket_set())
    made = ready_once(pocket_set())
    first.keep(made)
    desk = AppState(first.record, first.depth, first.clock, first.timer, lambda: 1)
    for _ in range(3):
        assert desk.today() is not None
    assert desk.offers_kept() == made.offers
    desk.keep(made)
    assert calls["offers_from_json"] == 1
