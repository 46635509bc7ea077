"""Photos of sheets that lie or are broken: one line, status 2, nothing lost, nothing kept."""

from __future__ import annotations

import random
import sys
import warnings
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from PIL import Image
from textual.widgets import Input

from coach.home import record_path
from coach.running.entry import main
from coach.screens.tray.filled import FilledScreen
from coach.sheets.photos import read_sheets
from coach.sheets.printed import Printed, keep_printed
from coach.sheets.said import sheets_kept
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set
from drills.pictures.picture import Picture
from drills.sheets import finding
from drills.sheets.codes import MOST_PAGES, Codes, Found
from drills.sheets.layout import A4, LETTER, Page, page_of_code
from scores.record.record import Record
from tests.photos.made import filed, wide_profile
from tests.photos.test_opening import broken_profile, moving, png_of
from tests.pilots import shown, table, until
from tests.sheets.scan import codes_alone, scanned

ID, OTHER = "ABC234", "XYZ765"
PAGE = Page(ID, "pencils", A4, 1)
PATCHES = Page(ID, "patches", A4, 1)
STRANGE = Page(OTHER, "pencils", A4, 1)
STRANGE_PATCHES = Page(OTHER, "patches", A4, 1)
ARABIC = str.maketrans("0123456789", "٠١٢٣٤٥٦٧٨٩")


def said_by_all(change: Callable[[str], str | bytes], page: Page = PAGE) -> dict[int, str | bytes]:
    return {corner: change(page.code(corner)) for corner in range(4)}


def many_sheets(count: int) -> list[str]:
    rng = random.Random(14)
    letters = "ABCDEFGHIJKLMNOPQRSTUVWXYZ234567"
    return [f"PS1PA01{''.join(rng.choices(letters, k=6))}{rng.randrange(4)}" for _ in range(count)]


LIES: dict[str, tuple[Callable[[], np.ndarray], str]] = {
    "a corner of another sheet": (
        lambda: scanned(PAGE, {2: STRANGE.code(2)}),
        f"its bottom right corner says another page: sheet {OTHER}, page 1",
    ),
    "a corner of another page": (
        lambda: scanned(PAGE, {0: Page(ID, "pencils", A4, 7).code(0)}),
        f"its top left corner says another page: sheet {ID}, page 7",
    ),
    "two corners of another sheet": (
        lambda: scanned(PAGE, {0: STRANGE.code(0), 2: STRANGE.code(2)}),
        "no sheet could be read",
    ),
    "two corners alike": (lambda: scanned(PAGE, {1: PAGE.code(0)}), "seen twice"),
    "all corners alike": (lambda: scanned(PAGE, dict.fromkeys(range(4), PAGE.code(0))), "twice"),
    "corners changed about": (
        lambda: scanned(PAGE, {0: PAGE.code(1), 1: PAGE.code(0)}),
        "don't lie as on the sheet",
    ),
    "a mirrored photo": (
        lambda: scanned(PAGE)[:, ::-1].copy(),
        "go round it the wrong way, as in a mirrored photo",
    ),
    "a sheet without its colours": (
        lambda: np.repeat(scanned(PAGE).mean(axis=2, keepdims=True).astype(np.uint8), 3, axis=2),
        "it is a grey picture",
    ),
    "another size": (
        lambda: scanned(Page(OTHER, "pencils", LETTER, 1), drawn_as=STRANGE),
        "don't lie as on the sheet",
    ),
    "more boxes than there are": (
        lambda: scanned(STRANGE_PATCHES, drawn_as=STRANGE),
        "don't lie as on a page of patches",
    ),
    "fewer boxes than there are": (
        lambda: scanned(STRANGE, drawn_as=STRANGE_PATCHES),
        "don't lie as on a page of pencils",
    ),
    "a page that was not printed": (
        lambda: scanned(Page(ID, "pencils", A4, 9)),
        "page 9 of pencils, and this coach printed 1",
    ),
    "patches that were not asked for": (
        lambda: scanned(PATCHES),
        "page 1 of patches, and this coach printed 0",
    ),
    "another form": (
        lambda: scanned(PAGE, said_by_all(lambda text: text.replace("PS1", "PS2"))),
        "in a form that this version doesn't know",
    ),
    "page nought": (
        lambda: scanned(PAGE, said_by_all(lambda text: text.replace("A01", "A00"))),
        "no code",
    ),
    "a page below nought": (
        lambda: scanned(PAGE, said_by_all(lambda text: text.replace("A01", "A-1"))),
        "no code",
    ),
    "digits of another script": (
        lambda: scanned(
            PAGE, said_by_all(lambda text: text[:5] + text[5:7].translate(ARABIC) + text[7:])
        ),
        "no code",
    ),
    "a corner beyond the fourth": (
        lambda: scanned(PAGE, said_by_all(lambda text: text[:-1] + "9")),
        "no code",
    ),
    "something after it": (
        lambda: scanned(PAGE, said_by_all(lambda text: text + "\n")),
        "no code",
    ),
    "far too much": (
        lambda: scanned(PAGE, said_by_all(lambda text: text + "9" * 900)),
        "no code",
    ),
    "escape codes and pictures": (
        lambda: scanned(PAGE, said_by_all(lambda text: f"\x1b[2J{text[:4]}\u202e🎨\0")),
        "no code",
    ),
    "bytes that are no text": (
        lambda: scanned(PAGE, said_by_all(lambda _: b"\xff\xfe\x00\x80")),
        "no code",
    ),
    "codes in their places and nothing else": (
        lambda: scanned(PAGE, colours=False),
        "don't lie as on a page of pencils",
    ),
    "codes in a row": (
        lambda: codes_alone([PAGE.code(corner) for corner in range(4)], 4),
        "don't lie as on the sheet",
    ),
    "codes of more sheets than are read": (
        lambda: codes_alone(many_sheets(MOST_PAGES + 1), 5),
        f"codes of {MOST_PAGES + 1} pages",
    ),
}

FILES: dict[str, tuple[Callable[[bytes], bytes], str]] = {
    "empty": (lambda _: b"", "empty"),
    "text": (lambda _: b"name,hex\nred,#f00\n", "not a picture"),
    "cut at its head": (lambda whole: whole[:30], "can"),
    "cut in its middle": (lambda whole: whole[: len(whole) // 2], "it ends too soon"),
    "cut at its end": (lambda whole: whole[:-40], "it ends too soon"),
    "one pixel": (lambda _: filed(np.full((1, 1, 3), 9, np.uint8)), "no code"),
    "a line": (lambda _: png_of(100_000, 1, 8, 0, b"\0" * 100_001), "100,000 by 1 pixels"),
    "a long thin picture": (lambda _: filed(np.full((1, 30_000, 3), 9, np.uint8)), "no code"),
    "a bomb": (lambda _: png_of(60_000, 60_000, 8, 0, b"\0" * 900), "million pixels"),
    "moving PNG": (lambda _: moving("PNG"), "moves"),
    "moving WebP": (lambda _: moving("WEBP"), "moves"),
    "a damaged profile": (
        lambda _: filed(scanned(PAGE), icc_profile=broken_profile()),
        "profile can't be read",
    ),
    "a profile of noise": (lambda _: filed(scanned(PAGE), icc_profile=b"\x07" * 400), "profile"),
    "a profile for grey": (
        lambda _: filed(scanned(PAGE)[..., 0].copy(), icc_profile=wide_profile()),
        "for other pixels",
    ),
}


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Pencils in use, and a sheet of theirs printed."""
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    record_path().parent.mkdir(parents=True, exist_ok=True)
    record = Record.open(record_path())
    pencils = pocket_set()
    now = datetime(2026, 1, 2, 9, tzinfo=UTC)
    record.put_pencils(pencils.fingerprint, pencils.name, to_csv(pencils), now)
    keep_printed(record, ID, Printed(pencils))
    record.close()
    return tmp_path


def kept() -> tuple[object, ...]:
    """All that could be lost or kept."""
    record = Record.open(record_path())
    try:
        return record.settings(), record.active_pencils()
    finally:
        record.close()


def contents(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.is_file()}


def refused(home: Path, capfd: pytest.CaptureFixture[str], *photos: str) -> str:
    """The one line that a command to read and keep photos ends with."""
    before, files = kept(), contents(home)
    capfd.readouterr()
    with warnings.catch_warnings(), pytest.MonkeyPatch.context() as patch:
        warnings.simplefilter("error", RuntimeWarning)
        words = ("pencils", "photo", *photos, "--keep", "--csv", "o.csv")
        patch.setattr(sys, "argv", ["coach", *words])
        with pytest.raises(SystemExit) as end:
            main()
    out, err = capfd.readouterr()
    assert end.value.code == 2, (out, err)
    assert "Traceback" not in out + err
    assert kept() == before
    assert contents(home) == files
    faults = [line for line in out.splitlines() if not line.startswith("Not read: ")]
    assert not faults
    (line,) = err.splitlines()
    assert line.startswith("coach: ")
    assert line.isprintable()
    return line + " " + out


def write(path: Path, image: np.ndarray) -> None:
    path.write_bytes(filed(image))


@pytest.mark.parametrize("lie", LIES)
def test_codes_that_lie_are_one_line_and_nothing_is_kept(
    lie: str, home: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    make, words = LIES[lie]
    write(home / "photo.png", make())
    line = refused(home, capfd, "photo.png")
    assert words in line
    assert "photo.png" in line


@pytest.mark.parametrize("name", FILES)
def test_a_broken_photo_of_a_sheet_is_one_line_and_nothing_is_kept(
    name: str, home: Path, capfd: pytest.CaptureFixture[str]
) -> None:
    make, words = FILES[name]
    whole = filed(scanned(PAGE), "JPEG")
    (home / "broken.jpg").write_bytes(make(whole))
    (home / "good.jpg").write_bytes(whole)
    line = refused(home, capfd, "broken.jpg")
    assert words in line
    assert line.startswith("coach: broken.jpg")
    # A good photo before it is not kept by half.
    assert words in refused(home, capfd, "good.jpg", "broken.jpg")


def test_the_same_sheets_that_do_not_lie_are_read() -> None:
    """What the lies are made from: else anything might be refused."""
    for page in (PAGE, STRANGE_PATCHES, Page(OTHER, "pencils", LETTER, 1)):
        found, unread = read(scanned(page))
        assert not unread
        assert list(found) == [(page.id, page.kind)]


def test_a_sheet_is_read_beside_one_in_a_form_not_known() -> None:
    other = scanned(STRANGE, said_by_all(lambda text: text.replace("PS1", "PS3"), STRANGE))
    found, (said,) = read(np.hstack([scanned(PAGE), other]))
    assert list(found) == [(ID, "pencils")]
    assert "form that this version doesn't know" in said


def test_codes_of_many_sheets_are_not_each_looked_for_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    looks = []
    find = finding.find
    monkeypatch.setattr(finding, "find", lambda grey: looks.append(1) or find(grey))
    image = codes_alone(many_sheets(MOST_PAGES + 1), 5)
    assert finding.find_pages(image[..., 0].copy())[0] == []
    assert len(looks) == 1
    looks.clear()
    finding.find_pages(codes_alone(many_sheets(3), 3)[..., 0].copy())
    assert len(looks) == 1 + 3  # once more each, and not again where that brought nothing


def read(image: np.ndarray) -> tuple[object, list[str]]:
    picture = Picture(Image.fromarray(image), None, "photo.png")
    return read_sheets([picture], lambda _: None)


def test_codes_of_any_text_anywhere_are_refused_in_a_line_or_read() -> None:
    """Drawn from a seed: corners' texts changed by a letter, left out, or put about."""
    rng = random.Random(2026)
    ends = set()
    for _ in range(8):
        page = Page(ID, rng.choice(("pencils", "patches")), rng.choice((A4, LETTER)), 1)
        drawn_as = Page(ID, rng.choice(("pencils", "patches")), rng.choice((A4, LETTER)), 1)
        says: dict[int, str | bytes | None] = {}
        for corner in range(4):
            text = page.code(rng.choice((corner, corner, corner, rng.randrange(4))))
            if rng.random() < 0.4:
                at = rng.randrange(len(text))
                text = text[:at] + rng.choice("019-AZ٣\0é🎨") + text[at + 1 :]
            says[corner] = text if rng.random() < 0.9 else None
        try:
            with warnings.catch_warnings():
                warnings.simplefilter("error", RuntimeWarning)
                _, unread = read(scanned(page, says, drawn_as))
        except InputError as error:
            unread = [str(error)]
        ends.add(bool(unread))
        assert all(one.isprintable() for one in unread)
    assert True in ends


POINTS = arrays(
    np.float64, (4, 2), elements=st.floats(-1e5, 1e5) | st.sampled_from([0.0, 1.0, 1e5, -1e-9])
)


@given(st.lists(st.tuples(st.integers(0, 3), POINTS), min_size=1, max_size=4))
@settings(max_examples=40, deadline=None)
def test_codes_whose_corners_lie_anywhere_raise_nothing(
    places: list[tuple[int, np.ndarray]],
) -> None:
    """Behind one another, in a line, in one spot: whatever a reader might give back."""
    found = Codes(tuple(Found(PAGE, corner, points) for corner, points in places), False)
    with pytest.MonkeyPatch.context() as patch, warnings.catch_warnings():
        warnings.simplefilter("error", RuntimeWarning)
        patch.setattr(finding, "find", lambda _: found)
        patch.setattr(finding, "_READ_AT", 0.5)
        sighted, unread = finding.find_pages(np.full((60, 80), 200, dtype=np.uint8))
    assert sighted == []
    assert len(unread) == 1


@given(st.text(max_size=40) | st.from_regex(r"PS1[PH][AL]..[A-Z2-7]{6}.", fullmatch=True))
def test_only_what_a_sheet_says_is_taken_for_a_code(text: str) -> None:
    named = page_of_code(text)
    if named is not None:
        page, corner = named
        assert page.code(corner) == text
        assert 1 <= page.number <= 99


async def test_a_lying_sheet_is_said_in_the_room_and_nothing_is_kept(tmp_path: Path) -> None:
    app = table(tmp_path, pencils=pocket_set())
    record = app.app_state.record
    keep_printed(record, ID, Printed(pocket_set()))
    write(tmp_path / "photo.png", scanned(PAGE, {2: STRANGE.code(2)}))
    before = record.settings()
    async with app.run_test(size=(80, 24)) as pilot:
        await pilot.press("w", "b", "o")
        app.screen.query_one(Input).value = str(tmp_path / "photo.png")
        await pilot.press("enter")
        await until(pilot, lambda: "another page" in shown(app))
        assert isinstance(app.screen, FilledScreen)
        assert sheets_kept(record.settings()) == ()
        assert record.settings() == before
