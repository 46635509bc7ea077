"""``coach pencils sheet`` and ``photo``: print, fill, photograph, look over, keep."""

from __future__ import annotations

import re
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from coach.cli import cli
from coach.home import needed_pencils
from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.layering.palette import prepare
from drills.layering.paper import drawing_paper
from drills.pencils.file import load_pencils
from drills.pencils.sets import pocket_set
from drills.sheets.layout import A4, Page
from tests.sheets.camera import Take, filled_page, jpeg, photograph, truth

TAKE = Take("Nikon 5100 (NPL)", "D50", megapixels=1.0, tilt=15.0, seed=2)


@pytest.fixture(autouse=True)
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def ids(page: Path) -> set[str]:
    return set(re.findall(r"Sheet ([A-Z2-7]{6}), page", page.read_text(encoding="utf-8")))


def test_from_a_printed_sheet_to_pencils_in_use(home: Path) -> None:
    run("pencils", "use", "--pocket")
    done = run("pencils", "sheet", "sheet.html", "--patches", "4", "--size", "a4")
    assert done.exit_code == 0, done.output
    assert "2 pages" in done.output
    (id_,) = ids(home / "sheet.html")
    page = Page(id_, "pencils", A4, 1)
    count = sum(not one.is_blender for one in pocket_set().pencils)
    filled = {
        key: value
        for key, value in filled_page(page, np.random.default_rng(3)).items()
        if key[0] < count
    }
    (home / "photo.jpg").write_bytes(jpeg(photograph(page, filled, TAKE)))
    before = needed_pencils()

    looked = run("pencils", "photo", "photo.jpg", "--csv", "read.csv")
    assert looked.exit_code == 0, looked.output
    assert f"{page.slots - count} left empty" in looked.output
    assert needed_pencils() == before  # looked at alone, nothing is kept
    read = load_pencils("read.csv")
    assert [one.name for one in read.pencils] == [one.name for one in pocket_set().pencils]
    coloured = [one for one in read.pencils if not one.is_blender]
    off = [
        float(delta_e00(np.array(one.lab), truth(filled[slot, "firm"])))
        for slot, one in enumerate(coloured)
        if one.lab is not None
    ]
    assert np.median(off) < 2.5
    assert sum(one.on_black is not None for one in coloured) > count / 2
    prepare(read)

    kept = run("pencils", "photo", "photo.jpg", "--keep")
    assert kept.exit_code == 0, kept.output
    assert needed_pencils().fingerprint == read.fingerprint
    assert re.search(r"\d+ light boxes kept as patches", kept.output)
    assert "patches of" in run("hand").output


def test_a_blank_sheets_pencils_wait_for_their_names(home: Path) -> None:
    run("pencils", "sheet", "sheet.html", "--blank", "--pages", "2", "--size", "a4")
    (id_,) = ids(home / "sheet.html")
    page = Page(id_, "pencils", A4, 2)
    red = np.where(np.arange(31) > 18, 0.7, 0.08)
    filled = {(0, "firm"): red, (0, "light"): np.sqrt(red * drawing_paper().reflectance)}
    (home / "photo.jpg").write_bytes(jpeg(photograph(page, filled, TAKE)))
    done = run("pencils", "photo", "photo.jpg", "--csv", "read.csv")
    assert "names still to be written" in done.output
    (one,) = load_pencils("read.csv").pencils
    assert one.name == f"Pencil {page.slots + 1}"
    assert one.on_black is None  # its black strip was left bare


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("photo", "none.jpg"), "no such file"),
        (("photo", "grey.png"), "no code of a sheet's corner is read in it"),
        (("photo", "text.txt"), "not a picture"),
        (("sheet", "."), "folder"),
        (("sheet", "text.txt"), "there is a file of this name"),
        (("sheet", "new.html", "--patches", "3"), "no pencils are in use"),
        (("photo", "grey.png", "--csv", "text.txt"), "there is a file of this name"),
    ],
)
def test_what_can_not_be_read_or_written_is_one_line(
    home: Path, words: tuple[str, ...], said: str
) -> None:
    Image.new("RGB", (300, 200), (128, 128, 128)).save(home / "grey.png")
    (home / "text.txt").write_text("dear", encoding="utf-8")
    done = run("pencils", *words)
    assert isinstance(done.exception, InputError), done.output
    assert said in str(done.exception)
    assert "\n" not in str(done.exception)
    assert (home / "text.txt").read_text(encoding="utf-8") == "dear"
    assert not (home / "new.html").exists()
