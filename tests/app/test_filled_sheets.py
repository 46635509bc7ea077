"""The room for sheets filled by hand: a photo read and kept, and looked through again later."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from textual.widgets import Input

from coach.screens.pencils import PencilsScreen
from coach.screens.tray.filled import FilledScreen
from coach.screens.tray.sheet_read import SheetReadScreen
from coach.sheets.printed import Printed, keep_printed
from coach.sheets.said import BoxSaid, SheetSaid, SlotSaid, keep_said, sheets_kept
from drills.pencils.sets import pocket_set
from drills.sheets.layout import A4, Page
from tests.pilots import painted, rgb, shown, table, until
from tests.sheets.camera import Take, filled_page, jpeg, photograph

TAKE = Take("Nikon 5100 (NPL)", "D50", megapixels=1.0, tilt=10.0, seed=2)
ID = "ABC234"
READ = SheetSaid(
    ID,
    "pencils",
    "Pocket",
    (
        SlotSaid(
            "Whole", (BoxSaid("light", (70.0, 20.0, 10.0)), BoxSaid("firm", (50.0, 40.0, 20.0)))
        ),
        SlotSaid(
            "Spoilt", (BoxSaid("light", (75.0, 0.0, 30.0)), BoxSaid("firm", None, "glare on it"))
        ),
    ),
    empty=3,
)


@pytest.fixture
def photo(tmp_path: Path) -> str:
    """Of a sheet printed for the pocket set, its first four pencils filled in."""
    page = Page(ID, "pencils", A4, 1)
    filled = filled_page(page, np.random.default_rng(3))
    four = {key: value for key, value in filled.items() if key[0] < 4}
    path = tmp_path / "sheet.jpg"
    path.write_bytes(jpeg(photograph(page, four, TAKE)))
    return str(path)


def test_readings_are_kept_beside_those_before_and_read_again(tmp_path: Path) -> None:
    app = table(tmp_path)
    record, now = app.app_state.record, app.app_state.clock()
    keep_said(record, READ, now)
    record.set_setting("filled:broken", {"sheet": 3})
    (kept,) = sheets_kept(record.settings())
    assert kept.slots == READ.slots
    assert (kept.boxes, kept.dropped, kept.empty) == (4, 1, 3)
    keep_said(record, READ, now.replace(year=now.year + 1))
    assert [one.at[:4] for one in sheets_kept(record.settings())] == [
        str(now.year + 1),
        str(now.year),
    ]


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_a_kept_sheet_says_each_box_and_first_those_dropped(
    size: tuple[int, int], tmp_path: Path
) -> None:
    app = table(tmp_path, pencils=pocket_set())
    keep_said(app.app_state.record, READ, app.app_state.clock())
    async with app.run_test(size=size) as pilot:
        await pilot.press("w", "b")
        await pilot.pause()
        assert isinstance(app.screen, FilledScreen)
        assert f"Sheet {ID}, Pocket: 3 boxes read, 1 dropped" in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        assert isinstance(app.screen, SheetReadScreen)
        words = shown(app)
        assert "firm dropped (glare on it)" in words
        assert words.index("Spoilt") < words.index("Whole")
        assert "What your phone does" in words
        assert rgb((50.0, 40.0, 20.0)) in painted(app)
        assert "keep it" not in words
        await pilot.press("k", "escape", "escape")
        await pilot.pause()
        assert isinstance(app.screen, PencilsScreen)


async def test_a_photo_is_read_looked_over_and_only_then_kept(photo: str, tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    record = app.app_state.record
    keep_printed(record, ID, Printed(pocket_set()))
    async with app.run_test(size=(120, 40)) as pilot:
        await pilot.press("w", "b", "o")
        app.screen.query_one(Input).value = photo
        await pilot.press("enter")
        await until(pilot, lambda: isinstance(app.screen, SheetReadScreen))
        await pilot.pause()
        assert "Nothing is kept yet." in shown(app)
        assert "half the boxes of simulated photos" in shown(app)
        assert pocket_set().pencils[0].name in shown(app)
        assert sheets_kept(record.settings()) == ()
        await pilot.press("k")
        await pilot.pause()
        assert isinstance(app.screen, FilledScreen)
        assert "You now practise with" in shown(app)
        rest = len(Printed(pocket_set()).coloured) - 4
        assert f"{rest} without a swatch here stay as they were" in " ".join(shown(app).split())
        (kept,) = sheets_kept(record.settings())
        assert [slot.name for slot in kept.slots] == [
            f"{one.code} {one.name}" if one.code else one.name
            for one in Printed(pocket_set()).coloured[:4]
        ]
        read = app.app_state.pencil_set()
        assert read.fingerprint != pocket_set().fingerprint
        assert [one.name for one in read.pencils] == [one.name for one in pocket_set().pencils]


async def test_what_is_no_sheet_is_said_in_a_line_and_asked_again(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    (tmp_path / "no.jpg").write_bytes(b"dear")
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("w", "b", "o")
        app.screen.query_one(Input).value = str(tmp_path / "no.jpg")
        await pilot.press("enter")
        await until(pilot, lambda: "not a picture" in shown(app))
        await pilot.press("escape")
        await pilot.pause()
        assert isinstance(app.screen, FilledScreen)
        assert app.app_state.pencil_set().fingerprint == pocket_set().fingerprint
