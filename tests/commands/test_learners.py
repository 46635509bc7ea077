"""Several learners on one account: each a record of their own, none ever mistaken for another."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from textual.widgets import Input

from coach.home import class_path, record_path
from coach.learners import choose, chosen, known_learners, learner_dir, sound_learner
from coach.output import checked
from coach.running.who import WhoApp
from drills.basics.errors import InputError
from scores.record.record import Record
from tests.answers import answer
from tests.pseudo_terminal import COACH, Terminal, surroundings
from tests.ways import furnish


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path))
    monkeypatch.delenv("COACH_LEARNER", raising=False)
    yield tmp_path
    os.environ.pop("COACH_LEARNER", None)


def practised(folder: Path) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    record = Record.open(folder / "record.db")
    record.save(answer(1))
    record.close()


def test_each_has_a_record_of_their_own_and_the_class_is_nobodys(home: Path) -> None:
    before = record_path(), class_path()
    choose("Ana")
    assert record_path() == learner_dir(home, "Ana") / "record.db"
    assert class_path() == before[1]
    choose("")
    assert record_path() == before[0] == home / "record.db"


def test_those_with_a_record_are_known_and_the_nameless_first(home: Path) -> None:
    assert known_learners(home) == ()
    practised(learner_dir(home, "ben"))
    practised(learner_dir(home, "Ana"))
    (home / "learners" / "empty").mkdir()
    practised(home / "learners" / "od:d")
    assert known_learners(home) == ("Ana", "ben")
    practised(home)
    assert known_learners(home) == ("", "Ana", "ben")


@pytest.mark.parametrize(
    "name",
    ["", "  ", "..", ".hidden", "a/b", "a\\b", "a:b", "x" * 41, "a\x1b[31m", "a\u202eb", "end."],
)
def test_what_can_not_name_a_folder_is_refused_in_one_line(name: str) -> None:
    with pytest.raises(InputError) as refused:
        sound_learner(name)
    assert "\n" not in str(refused.value)


def test_a_name_is_the_same_however_its_accents_are_written() -> None:
    assert sound_learner(" Zoe\u0308  B ") == sound_learner("Zo\u00eb B")


def test_a_hostile_name_in_the_surroundings_opens_nothing_elsewhere(
    home: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COACH_LEARNER", "../../elsewhere")
    with pytest.raises(InputError):
        record_path()


def test_no_page_is_written_over_another_learners_files(home: Path) -> None:
    practised(learner_dir(home, "Ana"))
    with pytest.raises(InputError):
        checked(str(learner_dir(home, "Ana") / "record.journal"), "plan", True)
    with pytest.raises(InputError):
        checked(str(learner_dir(home, "Ana") / "new.db"), "plan", True)


class TestWho:
    async def test_it_asks_and_practises_as_the_one_named(self, home: Path) -> None:
        app = WhoApp(("", "Ana", "ben"))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("down", "enter")
        assert app.answered
        assert chosen() == "Ana"

    async def test_somebody_new_gives_a_name(self, home: Path) -> None:
        app = WhoApp(("", "Ana"))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("n", *"a/b", "enter")
            assert "can't have this name" in str(app.query_one("#trouble").render())
            app.query_one(Input).value = "Cy"
            await pilot.press("enter")
        assert chosen() == "Cy"

    async def test_leaving_chooses_nobody(self, home: Path) -> None:
        app = WhoApp(("", "Ana"))
        async with app.run_test(size=(80, 24)) as pilot:
            await pilot.press("escape")
        assert not app.answered


def test_it_asks_where_there_are_several_and_else_does_not(tmp_path: Path) -> None:
    furnish(tmp_path)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("skills met")
    ana = learner_dir(tmp_path, "Ana")
    ana.mkdir(parents=True)
    furnish(ana)
    with Terminal(COACH, surroundings(tmp_path)) as terminal:
        terminal.until_text("Who is practising?")
        terminal.press("\x1b[B")
        terminal.press_until("\r", "skills met")
        assert "· Ana" in terminal.text
        terminal.press("q")
        assert terminal.until_gone() == 0
        assert terminal.restored
