"""The guide: every word with swatches that show it, opened from anywhere by name or by key."""

from pathlib import Path

from coach.app import PLACES
from coach.guide import ENTRIES, shown
from coach.screens.guide import GuideScreen
from drills.kinds import all_kinds
from tests.pilots import FEW_COLOURS, hues_in, painted, practice, table
from tests.pilots import shown as on_screen


async def test_every_word_is_shown_with_its_swatches_alone(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h")
        await pilot.pause()
        assert isinstance(app.screen, GuideScreen)
        for entry in ENTRIES:
            text = on_screen(app)
            assert f"{entry.chapter}: {entry.word}" in text
            assert entry.says[0].split()[0] in text
            assert painted(app) == hues_in(shown(entry)), entry.word
            await pilot.press("down")
            await pilot.pause()
        await pilot.press("escape")
        assert not isinstance(app.screen, GuideScreen)


async def test_next_and_previous_go_round(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h", "left")
        await pilot.pause()
        last = len(ENTRIES)
        assert f"{ENTRIES[-1].word} ({last} of {last})" in on_screen(app)
        await pilot.press("n", "right")
        await pilot.pause()
        assert f"{ENTRIES[1].word} (2 of {last})" in on_screen(app)
        await pilot.press("p")
        await pilot.pause()
        assert f"{ENTRIES[0].word} (1 of {last})" in on_screen(app)


async def test_a_word_is_practised_from_its_page(tmp_path: Path) -> None:
    app = table(tmp_path, minutes=2)
    async with app.run_test(size=(80, 24)) as pilot:
        await app.workers.wait_for_complete()
        await pilot.press("h", "right", "right", "enter")
        await pilot.pause()
        session = practice(app).session
        assert session is not None
        assert session.item is not None
        assert session.item.kind == ENTRIES[2].practise


def test_each_word_names_a_drill_that_there_is() -> None:
    assert {entry.practise for entry in ENTRIES} <= set(all_kinds())


async def test_without_24_bit_colour_the_guide_is_words_alone(tmp_path: Path) -> None:
    app = table(tmp_path, depth=FEW_COLOURS)
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("h")
        await pilot.pause()
        assert ENTRIES[0].word in on_screen(app)
        assert painted(app) == set()


async def test_every_place_opens_by_its_name(tmp_path: Path) -> None:
    app = table(tmp_path)
    async with app.run_test(size=(80, 24)) as pilot:
        first = app.screen
        for name in PLACES:
            app.action_open(name)
            await pilot.pause()
            module = type(app.screen).__module__
            assert f"{module}.".startswith(f"coach.screens.{name}.")
            app.pop_screen()
            await pilot.pause()
        assert app.screen is first
        titles = {command.title for command in app.get_system_commands(app.screen)}
        assert {title for title, _ in PLACES.values()} <= titles
