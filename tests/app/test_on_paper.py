"""What came on paper, given in the app: by eye, written or said; kept; and gone on from."""

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from coach.learned import keep_patches, patches_of
from coach.screens.giving.by_eye import ByEyeScreen
from coach.screens.giving.give import GiveScreen
from coach.screens.hand import HandScreen
from coach.screens.look import LookScreen
from coach.screens.mending import MendingScreen
from coach.screens.plan import PlanScreen
from coach.session.on_paper import UNLIT_PHOTO_SD
from coach.widgets.adjusting_swatch import AdjustingSwatch
from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.hand.patch import Patch, Recipe
from drills.layering.moves import FIRM, Move
from drills.questions.adjusting import Setting
from scores.progress.on_paper import results
from tests.app.test_plan import settle, typed
from tests.pilots import FEW_COLOURS, TableApp, painted, place_of, rgb, shown, table

TARGET = "#2f5d62"


async def give(pilot: Pilot[None], way: str, text: str) -> None:
    await pilot.press(way, *("space" if char == " " else char for char in text), "enter")
    await settle(pilot)


async def plan_to(pilot: Pilot[None], done: int | None = None) -> PlanScreen:
    """A plan for ``TARGET``, stepped back to where ``done`` moves are laid (all where None)."""
    screen = await typed(pilot, TARGET)
    assert screen.plan is not None
    for _ in range(0 if done is None else len(screen.plan.moves) - done):
        await pilot.press("left")
    return screen


class TestWhatCameOut:
    async def test_half_laid_it_is_gone_on_from_and_tells_of_the_hand_alone(
        self, tmp_path: Path
    ) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            plan = (await plan_to(pilot, 1)).plan
            assert plan is not None
            await pilot.press("m")
            assert "After 1 of " in shown(app)
            await give(pilot, "2", "#6a8f92")
            assert isinstance(app.screen, MendingScreen)
            assert painted(app) == {rgb(parse_colour(TARGET)), rgb(parse_colour("#6a8f92"))}
            assert "Beside the target it is much lighter" in shown(app)
            assert "Lay " in shown(app)
            record = app.app_state.record
            (patch,) = patches_of(record, app.app_state.pencil_set())
            assert patch.recipe.moves == plan.recipe[:1]
            assert results(record) == ()

    async def test_laid_to_its_end_it_is_a_match_on_paper(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            plan = (await plan_to(pilot)).plan
            assert plan is not None
            await pilot.press("m")
            await give(pilot, "2", "#3f6f70")
            (one,) = results(app.app_state.record)
            got = parse_colour("#3f6f70")
            assert one.got == got
            assert one.miss == pytest.approx(float(delta_e00(parse_colour(TARGET), got)))
            assert one.expected == plan.likely.expected
            assert one.how == "typed"
            assert [(a, p) for a, p, _ in one.moves] == [(m.action, m.pencil) for m in plan.recipe]

    async def test_a_second_look_is_of_the_same_swatch(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await plan_to(pilot, 1)
            await pilot.press("m")
            await give(pilot, "2", "#6a8f92")
            await pilot.press("m")
            await give(pilot, "2", "#4a7377")
            await pilot.press("m")
            await give(pilot, "2", "#32605f")
            found = results(app.app_state.record)
            assert [one.mended for one in found] == [1, 2]
            assert found[0].swatch == found[1].swatch
            assert len(found[1].moves) > len(found[0].moves) > 1

    async def test_it_may_be_said_in_words_with_more_doubt(self, tmp_path: Path) -> None:
        app = table(tmp_path, depth=FEW_COLOURS)
        async with app.run_test(size=(80, 24)) as pilot:
            await plan_to(pilot)
            await pilot.press("m")
            await give(pilot, "4", "flibber")
            assert "“flibber” is not understood" in shown(app)
            app.screen.query_one("Input").value = "a bit too light"  # type: ignore[attr-defined]
            await pilot.press("enter")
            await settle(pilot)
            (one,) = results(app.app_state.record)
            assert one.how == "in words"
            assert one.doubt > 2.0
            assert "said in words" in shown(app)
            assert painted(app) == set()

    async def test_it_may_be_picked_from_a_photo(self, tmp_path: Path) -> None:
        from PIL import Image

        Image.new("RGB", (60, 40), (63, 111, 112)).save(tmp_path / "leaf.png")
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await plan_to(pilot)
            await pilot.press("m", "3")
            assert isinstance(app.screen, LookScreen)
            app.screen.query_one(Input).value = str(tmp_path / "leaf.png")
            await pilot.press("enter")
            await settle(pilot)
            await pilot.press("enter")
            await settle(pilot)
            (one,) = results(app.app_state.record)
            assert one.how == "photo"
            assert one.doubt == UNLIT_PHOTO_SD
            assert float(delta_e00(one.got, parse_colour("#3f6f70"))) < 0.5

    async def test_nothing_is_kept_when_no_colour_is_given(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await plan_to(pilot)
            await pilot.press("m", "escape")
            assert isinstance(app.screen, PlanScreen)
            assert patches_of(app.app_state.record, app.app_state.pencil_set()) == ()


class TestByEye:
    async def by_eye(self, pilot: Pilot[None], app: TableApp) -> ByEyeScreen:
        app.push_screen(ByEyeScreen("your patch", (50.0, 10.0, 10.0), 7), self.taken.append)
        await pilot.pause()
        assert isinstance(app.screen, ByEyeScreen)
        return app.screen

    def setup_method(self) -> None:
        self.taken: list[object] = []

    async def test_two_settings_that_agree_are_their_mean(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await self.by_eye(pilot, app)
            swatch = screen.query_one(AdjustingSwatch)
            starts = []
            for lightness in (50.0, 51.0):
                starts.append(swatch.setting)
                swatch.setting = Setting.of((lightness, 10.0, 10.0))
                await pilot.press("enter")
            (found,) = self.taken
            assert len(found.settings) == 2  # type: ignore[attr-defined]
            assert found.lab[0] == pytest.approx(50.5, abs=0.01)  # type: ignore[attr-defined]
            assert starts[0] != starts[1]

    async def test_two_that_lie_apart_ask_for_a_third(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await self.by_eye(pilot, app)
            swatch = screen.query_one(AdjustingSwatch)
            for lightness in (45.0, 60.0):
                swatch.setting = Setting.of((lightness, 10.0, 10.0))
                await pilot.press("enter")
            assert not self.taken
            assert "A third time settles it" in shown(app)
            await pilot.press("enter")
            (found,) = self.taken
            assert found.spread > 4.0  # type: ignore[attr-defined]

    @pytest.mark.parametrize(
        ("key", "place", "way"),
        [("up", 0, 1), ("down", 0, -1), ("plus", 1, 1), ("minus", 1, -1), ("right", 2, 1)],
    )
    async def test_keys_move_one_part(self, tmp_path: Path, key: str, place: int, way: int) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            swatch = (await self.by_eye(pilot, app)).query_one(AdjustingSwatch)
            before = swatch.setting = Setting(50.0, 20.0, 40.0)
            await pilot.press(key)
            after = swatch.setting
            moved = (
                after.lightness - before.lightness,
                after.chroma - before.chroma,
                after.hue - before.hue,
            )
            assert [abs(by) > 1e-6 for by in moved] == [at == place for at in range(3)]
            assert moved[place] * way > 0
            await pilot.press("f", key)
            assert rgb(swatch.setting.lab) in painted(app)
            fine = float(delta_e00(after.lab, swatch.setting.lab))
            assert fine < 0.5 * float(delta_e00(before.lab, after.lab))

    async def test_a_click_on_a_scale_puts_its_part_there(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            swatch = (await self.by_eye(pilot, app)).query_one(AdjustingSwatch)
            swatch.setting = Setting(50.0, 20.0, 40.0)
            await pilot.pause()
            column, row = place_of(app, "lighter")
            await pilot.click(offset=(column - 2, row))
            assert swatch.setting.lightness > 90.0
            assert swatch.setting.hue == 40.0

    async def test_without_24_bit_colour_it_says_so(self, tmp_path: Path) -> None:
        app = table(tmp_path, depth=FEW_COLOURS)
        async with app.run_test(size=(80, 24)) as pilot:
            await self.by_eye(pilot, app)
            assert "can't show 24-bit colour" in shown(app)
            assert painted(app) == set()
            await pilot.press("escape")
            assert self.taken == [None]


class TestTheHandsRoom:
    async def room(self, pilot: Pilot[None]) -> HandScreen:
        await pilot.press("w", "h")
        await settle(pilot)
        assert isinstance(pilot.app.screen, HandScreen)
        return pilot.app.screen

    async def test_it_says_what_to_paint_and_takes_its_colour(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await self.room(pilot)
            assert "Nothing is known yet of your hand" in shown(app)
            assert screen.known is not None
            first = screen.known.next[0].recipe
            await pilot.press("enter")
            assert isinstance(app.screen, GiveScreen)
            await give(pilot, "2", "#40484a")
            (patch,) = patches_of(app.app_state.record, app.app_state.pencil_set())
            assert patch.recipe == first
            assert "1 patch of" in shown(app)
            assert rgb(parse_colour("#40484a")) in painted(app)
            assert screen.known.next[0].recipe != first

    async def test_a_patch_of_ones_own_is_written(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await self.room(pilot)
            name = app.app_state.pencil_set().pencils[0].name
            await pilot.press("o")
            await pilot.press(*("space" if c == " " else c for c in f"{name} firmly on black"))
            await pilot.press("enter")
            await give(pilot, "2", "#40484a")
            (patch,) = patches_of(app.app_state.record, app.app_state.pencil_set())
            assert patch.recipe.paper == "black"
            assert [move.pencil for move in patch.recipe.moves] == [0]

    async def test_undo_takes_the_last_and_x_twice_takes_all(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await self.room(pilot)
            for _ in range(3):
                await pilot.press("enter")
                await give(pilot, "2", "#40484a")
            kept = lambda: len(patches_of(app.app_state.record, app.app_state.pencil_set()))  # noqa: E731
            await pilot.press("u")
            await settle(pilot)
            assert kept() == 2
            await pilot.press("x")
            assert "Press x again to drop all 2 patches" in shown(app)
            await pilot.press("down", "x")
            assert kept() == 2, "any other key keeps them"
            await pilot.press("x")
            await settle(pilot)
            assert kept() == 0

    async def test_what_was_laid_for_a_plan_steers_what_to_paint_next(self, tmp_path: Path) -> None:
        from coach.reports.hand_report import hand_known
        from drills.hand.patch import Recipe
        from drills.layering.moves import FIRM, Move

        app = table(tmp_path)
        pencils = app.app_state.pencil_set()
        own = Recipe((Move("lay", 5, FIRM), Move("lay", 5, FIRM), Move("lay", 5, FIRM)))
        plain = hand_known(pencils, ())
        steered = hand_known(pencils, (), [own])
        with_it = [any(m.pencil == 5 for m in one.recipe.moves) for one in steered.next]
        assert any(with_it)
        assert [one.recipe for one in plain.next] != [one.recipe for one in steered.next]

    async def test_what_another_page_kept_meanwhile_stays(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            await self.room(pilot)
            record, pencils = app.app_state.record, app.app_state.pencil_set()
            other = Patch(Recipe((Move("lay", 3, FIRM),)), (30.0, 0.0, 0.0))
            keep_patches(record, pencils, (other,))
            await pilot.press("enter")
            await give(pilot, "2", "#40484a")
            assert patches_of(record, pencils)[0] == other
            assert len(patches_of(record, pencils)) == 2

    async def test_the_list_has_the_focus(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await self.room(pilot)
            assert isinstance(screen.focused, OptionList)
