"""A whole session in a real browser, by keys alone; its swatches read back from the pixels."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from coach.room import MIDDLE, grey
from decks.pack import pack
from decks.starters import starter
from scores.record.record import Record
from tests.serving import chromium
from tests.serving.chromium import Tab
from tests.serving.served import DRILL, furnish, serving

pytestmark = pytest.mark.skipif(chromium.PROGRAM is None, reason="no Chromium here")
RGB = tuple[int, int, int]
ROOM = {grey(level)[1:] for level in (MIDDLE.wall, MIDDLE.panel)}
QUESTIONS = 3


def drawn(tab: Tab) -> dict[tuple[int, int], RGB]:
    """The colour that the app drew in each cell within a large swatch, by column and row."""
    screen = tab.screen

    def at(x: int, y: int) -> str:
        return screen.buffer[y][x].bg

    found = {}
    for y in range(1, screen.lines - 1):
        for x in range(1, screen.columns - 1):
            colour = at(x, y)
            near = {at(x + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)}
            if near == {colour} and len(colour) == 6 and colour not in ROOM:
                found[x, y] = (int(colour[:2], 16), int(colour[2:4], 16), int(colour[4:], 16))
    return found


async def shown(tab: Tab) -> dict[tuple[int, int], set[RGB]]:
    """The colours of the pixels in the same cells."""
    picture = await tab.picture()
    cells = "document.querySelector('.xterm-screen')"
    wide = await tab.value(f"{cells}.clientWidth") / tab.screen.columns
    high = await tab.value(f"{cells}.clientHeight") / tab.screen.lines
    found = {}
    for x, y in drawn(tab):
        box = (round(x * wide), round(y * high), round((x + 1) * wide), round((y + 1) * high))
        colours = picture.crop(box).getcolors()
        assert colours is not None
        found[x, y] = {colour for _, colour in colours}
    return found


async def test_a_session_by_keys_and_its_swatches_are_what_was_drawn(tmp_path: Path) -> None:
    furnish(tmp_path)
    compared = set()
    with serving(tmp_path) as server:
        async with chromium.chromium(tmp_path) as tab:
            await tab.call("Page.navigate", url=server.address)
            await tab.until("skills met")
            # The whole window: at most a part of a cell is left, and that is the room's grey.
            edge = await tab.picture()
            assert edge.getpixel((edge.width - 1, edge.height - 1)) == (0x93, 0x93, 0x93)
            assert tab.screen.columns > edge.width // 10
            assert tab.screen.lines > edge.height // 22
            # No click, nowhere.
            await tab.press("Enter")
            await tab.until("· question 1 ")
            for number in range(1, QUESTIONS + 1):
                await tab.until("1–2 choose")
                await tab.until_seen(lambda: bool(drawn(tab)), "swatches")
                expected = drawn(tab)
                assert await shown(tab) == {cell: {rgb} for cell, rgb in expected.items()}
                compared |= set(expected.values())
                await tab.until("Enter next", key="1")
                await tab.until(f"· question {number + 1} ", key="Enter")
            await tab.until("How it went", key="Escape")
        record = Record.open(tmp_path / "record.db")
        assert record.count() == QUESTIONS
        record.close()
    assert len(compared) == 2 * QUESTIONS
    assert tab.complaints == []
    assert {url.split("/")[2] for url in tab.asked} == {server.host}


async def test_a_page_from_elsewhere_can_not_reach_the_app(tmp_path: Path) -> None:
    """It knows address and key, and still the socket does not open to it."""
    with serving(tmp_path) as server:
        async with chromium.chromium(tmp_path) as tab:
            await tab.call("Page.navigate", url="data:text/html,elsewhere")
            url = f"ws://{server.host}/{server.key}/ws"
            opened = await tab.value(
                f"new Promise(done => {{ const s = new WebSocket('{url}');"
                " s.onopen = () => done(true); s.onerror = () => done(false); })"
            )
            assert opened is False
            assert server.apps() == []


async def test_a_deck_is_shown_to_a_class_in_the_browser(tmp_path: Path) -> None:
    """From the class's room to a question, its hands and its answer; nothing kept of it."""
    furnish(tmp_path)
    deck = replace(starter("greys"), kinds=(DRILL,), families=("yellow",), targets=(), steps=())
    file = tmp_path / "y.toml"
    file.write_text(pack(deck), encoding="utf-8")
    with serving(tmp_path) as server:
        async with chromium.chromium(tmp_path) as tab:
            await tab.call("Page.navigate", url=server.address)
            await tab.until("skills met")
            await tab.until("No results yet", "The class", key="k")
            await tab.until("Make a deck", key="w")
            await tab.until("opens it.", key="o")
            await tab.call("Input.insertText", text=str(file))
            await tab.until(file.name)
            await tab.press("Enter")
            await tab.until(deck.title)
            await tab.until("1 of 1 ·", key="c")
            await tab.until_seen(lambda: bool(drawn(tab)), "swatches")
            expected = drawn(tab)
            assert await shown(tab) == {cell: {rgb} for cell, rgb in expected.items()}
            # Huge: the two together take two fifths of the screen and more, their edges left out.
            assert len(expected) >= 0.4 * tab.screen.columns * tab.screen.lines
            for key in ("1", "1", "2"):
                await tab.press(key)
            await tab.until("2 said")
            await tab.until("The answer:", key="Enter")
            await tab.until("2 said lighter than the target, 1 said darker than it.")
        record = Record.open(tmp_path / "record.db")
        assert record.count() == 0
        record.close()
    assert tab.complaints == []
