"""Wide, the room is used: words beside swatches, a page beside its list, two columns."""

from __future__ import annotations

from pathlib import Path

import pytest

from coach.app import CoachApp
from coach.design.measures import MEASURE
from coach.screens.classroom import ClassroomScreen
from coach.screens.practice.closing import ClosingScreen
from coach.widgets.choices import Choices
from coach.widgets.heat import Heat
from coach.widgets.scene import Scene
from drills.kinds import all_kinds
from tests.contact_sheet.laws import LAWS
from tests.contact_sheet.pressing import pressed, settled
from tests.contact_sheet.walk import app_of, at_home, furnish, of_kind, running
from tests.pilots import answer, lines, place_of, practice, rgb, runs, shown, table

WIDE_SIZES = ((120, 40), (200, 60))


@pytest.mark.parametrize("size", WIDE_SIZES, ids=str)
async def test_few_swatches_have_their_words_beside_them_and_are_larger(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = table(tmp_path)
    beside = 0
    async with app.run_test(size=size) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        screen = practice(app)
        for kind in all_kinds().values():
            async for state in of_kind(pilot, kind):
                if state.name.startswith("reveal"):
                    continue
                broken = [what for law in LAWS for what in law(app)]
                assert not broken, (kind.name, broken)
                asked = screen.query_one(Choices).asked
                assert asked is not None
                words = not any(choice.swatch or len(choice.text) > 36 for choice in asked.choices)
                if not (asked.form == "choose" and words and len(asked.scene) in (1, 2)):
                    assert not screen.query_one("#asking").has_class("-beside"), kind.name
                    continue
                beside += 1
                assert asked.prompt in shown(app) or asked.prompt[:30] in shown(app)
                assert all(choice.text in shown(app) for choice in asked.choices), kind.name
                scene, choices = screen.query_one(Scene), screen.query_one(Choices)
                assert screen.query_one("#prompt").region.right <= scene.region.x
                assert choices.region.right <= scene.region.x
                assert choices.region.y > screen.query_one("#prompt").region.y
                # Two of the most cells they have below words would be 42 and 24 high.
                assert scene.size.height >= size[1] - 8, kind.name
                if asked.scene[0].surround is None:
                    cells = sum(
                        len(run.text) for run in runs(app) if run.behind == rgb(asked.scene[0].lab)
                    )
                    assert cells > 42 * 24, kind.name
    assert beside >= 3


@pytest.mark.parametrize("size", [(80, 24), *WIDE_SIZES], ids=str)
async def test_a_closing_has_what_to_take_along_beside_what_was_practised(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    app = table(tmp_path, "hue-and-lean")
    async with app.run_test(size=size) as pilot:
        await pilot.press("enter")
        await answer(pilot)
        await pilot.press("escape")
        await settled(pilot, "For the drawing table")
        assert isinstance(app.screen, ClosingScreen)
        x, y = place_of(app, "For the drawing table")
        first_x, first_y = place_of(app, "Practised:")
        assert first_x < x if size[0] > 80 else first_x == x
        assert first_y == y if size[0] > 80 else first_y < y
        assert not [what for law in LAWS for what in law(app)]
        for part in ("#said", "#table"):
            assert app.screen.query_one(part).size.width <= MEASURE


@pytest.mark.parametrize("size", [(80, 24), *WIDE_SIZES], ids=str)
async def test_a_class_has_the_marked_student_beside_it(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    furnish(tmp_path, weeks=1)
    with at_home(tmp_path):
        async with running(app_of(tmp_path / "record.db"), size) as pilot:
            app = pilot.app
            assert isinstance(app, CoachApp)
            await pressed(pilot, "k")
            await settled(pilot, "students", gone="Reading the answers")
            assert isinstance(app.screen, ClassroomScreen)
            for _ in range(2):
                one = app.screen.query_one("#one")
                assert one.display == (size[0] > 80)
                if size[0] > 80:
                    heat = app.screen.query_one(Heat)
                    assert heat.student is not None
                    told = [line[one.region.x :] for line in lines(app)]
                    assert any(heat.student.name in line for line in told)
                    assert any("Drills, the least level" in line for line in told)
                    assert heat.region.right <= one.region.x
                    assert one.size.width <= MEASURE
                assert not [what for law in LAWS for what in law(app)]
                await pressed(pilot, "down")
