"""One drill alone, from today or by ``coach drill``, and the day at a glance."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from textual.pilot import Pilot

from coach.cli import cli
from coach.screens.one_drill import OneDrillScreen
from coach.screens.practice.today import TodayScreen
from coach.screens.practice.today_words import HUE_UNITS, figures, headline, item_lines
from drills.basics.errors import InputError
from drills.kinds import all_kinds
from scores.today.wishes import wishes_in
from tests.pilots import answer, practice, shown, table


async def test_a_drill_chosen_from_today_is_asked_alone(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.press("o")
        await pilot.pause()
        assert isinstance(app.screen, OneDrillScreen)
        await pilot.press("down", "enter")
        await pilot.pause()
        session = practice(app).session
        assert session is not None
        titles = sorted(kind.title for kind in all_kinds().values())
        seen = set()
        for _ in range(4):
            assert session.item is not None
            seen.add(session.kinds[session.item.kind].title)
            await answer(pilot)
            await pilot.press("enter")
            await pilot.pause()
        assert seen == {titles[1]}


async def test_leaving_the_choice_asks_nothing(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("o", "escape")
        await pilot.pause()
        assert isinstance(app.screen, TodayScreen)


async def answer_some(pilot: Pilot[None]) -> None:
    """A first session, left after a few answers: the next day is a whole one."""
    await pilot.press("enter")
    await pilot.pause()
    for _ in range(9):
        await answer(pilot)
        await pilot.press("enter")
        await pilot.pause()
    await pilot.press("escape", "enter")
    await pilot.pause()


async def test_the_day_stands_in_one_glance_and_gives_no_answer_away(tmp_path: Path) -> None:
    """What is judged by hue isn't told by family; each question is a key away."""
    app = table(tmp_path, minutes=10)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.pause()
        await answer_some(pilot)
        plan = app.app_state.today()
        assert plan is not None
        lines = figures(plan, "pencils").splitlines()
        names = [line.split("  ")[1] for line in lines if line.startswith("  ")]
        assert names == ["warm-up", "focus", "mixed", "a match"]
        head, why = headline(plan)
        assert head.startswith("Today: ")
        assert why.endswith(".")
        focus = next(item for item in plan.plan if item.part == "focus")
        assert plan.offers.kinds[focus.kind].title.rstrip("?") in head
        if plan.offers.kinds[focus.kind].unit in HUE_UNITS:
            assert focus.region not in head + why
        minutes = [int(line.split(" min")[0].split()[-1]) for line in lines if " min " in line]
        assert 8 <= sum(minutes) <= 12
        (match,) = [line for line in lines if line.strip().startswith("a match")]
        assert not [item.region for item in plan.plan if item.region in match]
        first = " ".join(item_lines(plan, 74).splitlines()[0].split())
        assert first not in shown(app)
        await pilot.press("d")
        await pilot.pause()
        assert first in shown(app)
        await pilot.press("d")
        await pilot.pause()
        assert first not in shown(app)


def test_the_command_lists_the_drills_and_knows_no_other() -> None:
    listed = CliRunner().invoke(cli, ["drill"], standalone_mode=False)
    assert [line.split()[0] for line in listed.stdout.splitlines()] == list(all_kinds())
    with pytest.raises(InputError, match="none of this name"):
        CliRunner().invoke(cli, ["drill", "no-such"], standalone_mode=False, catch_exceptions=False)


async def test_one_thing_is_a_key_away_from_progress_and_guide_too(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        for key in ("g", "h"):
            await pilot.press(key)
            await pilot.pause()
            await pilot.press("o")
            await pilot.pause()
            assert isinstance(app.screen, OneDrillScreen)
            await pilot.press("escape", "escape")
            await pilot.pause()
        await pilot.press("h")
        await pilot.pause()
        await pilot.press("o", "end", "enter")
        await pilot.pause()
        session = practice(app).session
        assert session is not None
        assert session.item is not None
        assert session.item.region == "yellow-green"


async def test_a_target_that_can_t_be_got_goes_on_the_list_from_its_plan(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("c")
        await pilot.pause()
        await pilot.press(*"#a26a78", "enter")
        await app.workers.wait_for_complete()
        await pilot.pause()
        await pilot.press("w")
        await pilot.pause()
        (wish,) = wishes_in(app.app_state.record.settings())
        assert wish.words == "#a26a78"
        await pilot.press("w")
        await pilot.pause()
        assert "already" in shown(app)
        assert len(wishes_in(app.app_state.record.settings())) == 1
