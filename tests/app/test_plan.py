"""The plan screen: a target is typed or taken, stepped through, a pencil swapped."""

from pathlib import Path

import pytest
from textual.pilot import Pilot
from textual.widgets import Static

from coach.screens.plan import PlanScreen
from coach.screens.planning.swap import outcomes
from coach.widgets.adjusting_swatch import AdjustingSwatch
from coach.widgets.strip import THICK, PlanStrip
from drills.colour.parse import parse_colour
from drills.layering.moves import pressure_word
from drills.layering.predict import predict
from drills.planning.plan import LIMITS_OF_MODEL, RECOVERED
from drills.questions.adjusting import Setting
from tests.pilots import FEW_COLOURS, painted, rgb, shown, table

TARGET = "#2f5d62"


async def settle(pilot: Pilot[None]) -> None:
    await pilot.app.workers.wait_for_complete()
    await pilot.pause()


async def typed(pilot: Pilot[None], target: str) -> PlanScreen:
    await pilot.press("c")
    for char in target:
        await pilot.press("space" if char == " " else char)
    await pilot.press("enter")
    await settle(pilot)
    assert isinstance(pilot.app.screen, PlanScreen)
    return pilot.app.screen


async def test_a_typed_target_is_planned_and_shown_beside_its_result(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        assert screen.plan.reachable
        assert {rgb(parse_colour(TARGET)), rgb(screen.plan.predicted_lab)} <= painted(app)
        text = shown(app)
        for move in screen.plan.moves:
            assert move.words in text
        assert "try it on a scrap" in text or screen.plan.notes, "the model says what it is"


async def test_before_there_is_a_plan_only_keys_that_bring_one_are_named(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("c")
        await pilot.pause()
        assert "plan it" in shown(app)
        assert "swap" not in shown(app)
        # As it says: off the line by Tab, and r is a key again.
        await pilot.press("tab", "r")
        await settle(pilot)
        assert "swap" in shown(app)
        assert "plan it" not in shown(app)


async def test_stepping_back_shows_each_stage_down_to_bare_paper(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        for move in reversed(screen.plan.moves[:-1]):
            await pilot.press("left")
            assert rgb(move.predicted_lab) in painted(app)
            assert f"ΔE00 {move.delta_e00:.1f} to go" in shown(app)
        await pilot.press("left", "left")
        assert "bare paper" in shown(app)
        await pilot.press("right")
        assert rgb(screen.plan.moves[0].predicted_lab) in painted(app)


async def test_another_way_is_one_key_off_and_comes_round_again(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        assert screen.plan.alternatives
        seen = []
        for _ in range(len(screen.plan.alternatives) + 1):
            seen.append(screen.routes[screen.route].label)
            await pilot.press("a")
        assert len(set(seen)) == len(seen)
        assert screen.route == 0


async def test_a_swapped_pencil_shows_at_once_what_becomes_of_the_result(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(100, 30)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        made = app.app_state.ready_for
        assert made is not None
        at = next(i for i, m in enumerate(screen.plan.recipe) if m.action == "lay")
        for _ in range(len(screen.plan.moves) - 1 - at):
            await pilot.press("left")
        listed = outcomes(made.palette, screen.plan.recipe, at, screen.plan.target)
        assert [off for _, off in listed] == sorted(off for _, off in listed)
        await pilot.press("s")
        await pilot.press("end", "enter")
        own = screen.routes[screen.route]
        assert own.label == "your own way"
        assert own.moves[at].pencil == listed[-1][0]
        assert abs(own.off[-1] - listed[-1][1]) < 1e-6
        assert own.steps[-1] == pytest.approx(predict(made.palette, own.moves))
        await pilot.press("a")
        assert screen.route == 0, "the keys are still the plan's, not the target's line"


async def test_a_target_that_is_no_colour_is_one_line_and_the_screen_stays(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await typed(pilot, "[red]mud")
        assert screen.plan is None
        assert "[red]mud" in shown(app)
        await pilot.press("escape")
        assert not isinstance(app.screen, PlanScreen)


async def test_a_target_like_the_paper_needs_no_layer(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, "lab(96.5 0 1)")
        assert "needs no layer" in shown(app) or "bare paper" in shown(app)


async def test_a_key_writes_the_page_to_print_over_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    (folder / "plan-2f5d62.html").write_text("mine", encoding="utf-8")
    app = table(tmp_path)
    async with app.run_test(size=(120, 30)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        await pilot.press("p")
        assert "plan-2f5d62-2.html" in "".join(shown(app).split())
    assert (folder / "plan-2f5d62.html").read_text(encoding="utf-8") == "mine"
    page = (folder / "plan-2f5d62-2.html").read_text(encoding="utf-8")
    assert all(move.words in page for move in screen.plan.moves)


async def test_any_colour_of_these_pencils_can_be_taken_as_the_target(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await typed(pilot, TARGET)
        first = screen.plan
        await pilot.press("r")
        await settle(pilot)
        assert screen.plan is not None
        assert screen.plan is not first
        assert screen.plan.reachable, "a colour these very pencils make is within reach"


async def test_without_24_bit_colour_the_plan_is_words_alone(tmp_path: Path) -> None:
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await typed(pilot, TARGET)
        assert screen.plan is not None
        assert screen.plan.moves[0].words in shown(app)
        assert painted(app) == set()


async def test_why_each_move_is_made_and_all_figures_are_a_key_away(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(120, 60)) as pilot:
        screen = await typed(pilot, TARGET)
        plan = screen.plan
        assert plan is not None
        last, figures = plan.moves[-1], screen.routes[0].figures
        for details in (False, True, False):
            words = str(screen.query_one("#words", Static).content)
            assert last.stop in words
            assert plan.likely.words() in words
            assert LIMITS_OF_MODEL in words
            assert [each in words for each in (last.why, figures, RECOVERED)] == [details] * 3
            await pilot.press("d")


async def test_the_grain_is_shown_on_asking_and_the_figures_stay_those_of_the_mean(
    tmp_path: Path,
) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        screen = await typed(pilot, "#c9b2a6")
        assert screen.plan is not None
        await pilot.press("left")
        title, even = app.screen.query_one("#title").render(), painted(app)
        await pilot.press("g")
        await pilot.pause()
        assert "▀" in shown(app)
        assert "The grain is drawn by lot" in shown(app)
        assert app.screen.query_one("#title").render() == title
        assert rgb(parse_colour("#c9b2a6")) in painted(app), "the target stays even"
        await pilot.press("g")
        assert painted(app) == even


async def test_a_target_held_beside_the_screen_is_matched_by_eye(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await typed(pilot, TARGET)
        await pilot.press("e")
        for _ in range(2):
            app.screen.query_one(AdjustingSwatch).setting = Setting.of((60.0, 20.0, 20.0))
            await pilot.press("enter")
        await settle(pilot)
        assert isinstance(app.screen, PlanScreen)
        assert app.screen.plan is not None
        assert app.screen.plan.target == pytest.approx((60.0, 20.0, 20.0), abs=0.05)


class TestTheStrip:
    """Paper, then each move: what stands, and its pencil, wider the harder it is laid."""

    async def test_each_step_and_its_pencil_stand_in_order(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await typed(pilot, TARGET)
            plan, strip = screen.plan, screen.query_one(PlanStrip)
            assert plan is not None
            assert [one.lab for one in strip.steps[1:]] == [m.predicted_lab for m in plan.moves]
            pencils = app.app_state.pencil_set().pencils
            assert [one.code for one in strip.steps[1:]] == [
                pencils[move.pencil].code for move in plan.recipe
            ]
            assert [one.pressure for one in strip.steps[1:]] == [
                pressure_word(move.pressure) for move in plan.recipe
            ]
            assert "paper" in shown(app)
            assert "▸" + pencils[plan.recipe[-1].pencil].code in shown(app)

    async def test_a_click_goes_to_a_step(self, tmp_path: Path) -> None:
        app = table(tmp_path)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await typed(pilot, TARGET)
            assert screen.at == len(screen.routes[0].moves)
            await pilot.click(PlanStrip, offset=(1, 0))
            assert screen.at == 0
            assert "bare paper" in shown(app)

    def test_a_harder_hand_is_wider(self) -> None:
        widths = [THICK[word] for word in ("light", "middle", "firm", "heavy")]
        assert widths == sorted(set(widths))
        assert widths[-1] == 1.0

    async def test_without_24_bit_colour_there_is_none(self, tmp_path: Path) -> None:
        app = table(tmp_path, depth=FEW_COLOURS)
        async with app.run_test(size=(80, 24)) as pilot:
            screen = await typed(pilot, TARGET)
            assert screen.query_one(PlanStrip).steps == ()
