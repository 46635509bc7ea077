"""Settings: turned over by a key, kept, and obeyed by the plan."""

from pathlib import Path

from coach.screens.settings import SettingsScreen
from coach.settings import all_settings, withheld_from
from tests.pilots import shown, table


async def press_on(app, pilot, key: str) -> None:
    """Mark the line of one setting and turn it over."""
    from textual.widgets import OptionList

    options = app.screen.query_one(OptionList)
    options.highlighted = options.get_option_index(key)
    await pilot.press("enter")
    await pilot.pause()


async def test_a_kind_and_a_family_switched_off_are_not_planned(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("s")
        assert isinstance(app.screen, SettingsScreen)
        await press_on(app, pilot, "kind:hue-and-lean")
        await press_on(app, pilot, "family:violet")
        await pilot.press("escape")
        plan = app.app_state.today()
        assert plan is not None
        assert plan.plan
        assert all(item.kind != "hue-and-lean" for item in plan.plan)
        assert all(item.region != "violet" for item in plan.plan)
        await pilot.press("s")
        await press_on(app, pilot, "kind:hue-and-lean")
        plan = app.app_state.today()
        assert plan is not None
        assert any(kind == "hue-and-lean" for kind, _ in plan.offers.pairs)


async def test_a_way_of_seeing_withholds_hues_that_pass_for_others_and_says_how_many(
    tmp_path: Path,
) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("s")
        await press_on(app, pilot, "vision")
        made = app.app_state.ready_for
        assert made is not None
        withheld = withheld_from("red-weak", made.offers)
        assert withheld
        assert f"red-weak, {len(withheld)} withheld" in shown(app)
        assert "Withheld. " in shown(app)
        assert "no diagnosis" in shown(app)
        plan = app.app_state.today()
        assert plan is not None
        assert not set(withheld) & set(plan.offers.skills)
        assert any(kind == "lighter-or-darker" for kind, _ in plan.offers.pairs), "value stays"
        for _ in range(3):
            await press_on(app, pilot, "vision")
        assert app.app_state.record.setting("skills_off") == []


async def test_retention_and_quickness_go_round_and_are_kept(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("s")
        made = app.app_state.ready_for
        assert made is not None
        for key in ("retention", "untimed", "large"):
            seen = []
            while True:
                lines = all_settings(app.app_state.record, made.offers)
                state = {one.key: one.state for one in lines}[key]
                if state in seen:
                    break
                seen.append(state)
                await press_on(app, pilot, key)
            assert len(seen) >= 2


async def test_large_swatches_take_the_room_there_is(tmp_path: Path) -> None:
    from coach.widgets.scene import Scene

    app = table(tmp_path, "grey-lean")
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("enter")
        await pilot.pause()
        usual = app.screen.query_one(Scene)
        before = (usual.size.height, usual.block_width(usual.size.width))
        await pilot.press("escape")
        await pilot.pause()
        app.app_state.record.set_setting("large", True)
        app.begin()
        await pilot.pause()
        large = app.screen.query_one(Scene)
        after = (large.size.height, large.block_width(large.size.width))
        assert after[0] > before[0]
        assert after[1] > before[1]
