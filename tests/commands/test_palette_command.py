"""``coach palette``: which pencils to take out for a picture."""

from __future__ import annotations

import json
import re
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner, Result
from PIL import Image

from coach.cli import cli
from coach.reports.half_blocks import beside
from drills.basics.errors import InputError
from drills.colour.spaces import srgb_to_lab
from drills.pencils.sets import demo_set
from tests.photos.made import filed, quarters


@pytest.fixture
def photo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    path = tmp_path / "four.jpg"
    exif = Image.Exif()
    exif[0x013B] = "Somebody's name"
    levels = quarters().repeat(5, 0).repeat(5, 1)
    path.write_bytes(filed(levels, "JPEG", quality=95, exif=exif))
    return str(path)


def palette(*words: str) -> Result:
    return CliRunner().invoke(cli, ["palette", *words])


def test_json_tells_pencils_colours_and_one_more(photo: str) -> None:
    done = palette(photo, "--pencils-at-most", "3", "--main", "4", "--json")
    assert done.exit_code == 0, done.output
    told = json.loads(done.stdout)
    names = {pencil.name for pencil in demo_set().pencils}
    assert 1 <= len(told["pencils"]) <= 3
    assert set(told["pencils"]) <= names
    assert len(told["colours"]) == 4
    for one in told["colours"]:
        assert {
            "hex",
            "lab",
            "share",
            "moves",
            "delta_e00",
            "expected_miss",
            "range90",
        } <= one.keys()
    more = told["one_more"]
    assert more["pencil"] in names - set(told["pencils"])
    assert more["mean_delta_e00"] < more["without_delta_e00"]


def test_words_say_what_to_take_what_to_lay_and_how_sure(photo: str) -> None:
    done = palette(photo, "--pencils-at-most", "3", "--main", "4")
    assert "take out 3 pencils" in done.output
    assert "Were hand and model exact" in done.output
    assert done.output.count("Expect to land") == 4
    assert "One more, " in done.output
    assert "\x1b" not in done.output


def test_the_page_holds_the_pictures_and_nothing_of_the_photos_owner(
    photo: str, tmp_path: Path
) -> None:
    page = tmp_path / "page.html"
    words = (photo, "--main", "4", "--html", str(page), "--greys", "3")
    assert palette(*words).exit_code == 0
    html = page.read_text(encoding="utf-8")
    pictures = [
        Image.open(BytesIO(b64decode(data)))
        for data in re.findall(r"data:image/png;base64,([^\"]+)", html)
    ]
    assert len(pictures) == 3
    assert {picture.size for picture in pictures} == {(120, 80)}
    greys = np.asarray(pictures[2])
    assert len(np.unique(greys.reshape(-1, 3), axis=0)) <= 3
    assert (np.ptp(greys.astype(int), axis=2) <= 1).all()
    assert "Somebody" not in html
    assert all(not picture.getexif() and not picture.info for picture in pictures)
    # Its own page is written over, another's is not.
    assert palette(*words).exit_code == 0
    page.write_text("mine", encoding="utf-8")
    done = palette(*words)
    assert isinstance(done.exception, InputError)
    assert page.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("words", [("--pencils-at-most", "0"), ("--main", "0")])
def test_what_is_out_of_range_is_one_line(photo: str, words: tuple[str, ...]) -> None:
    done = palette(photo, *words)
    assert isinstance(done.exception, InputError)
    assert "out of range" in str(done.exception)
    assert done.output == ""


def test_pictures_stand_side_by_side_where_they_fit_and_else_one_by_one() -> None:
    copy = srgb_to_lab(quarters() / 255)
    wide = list(beside((copy, copy, copy), ("one", "two", "three"), 120))
    assert len(wide) == 14  # 38 cells are 38 by 25.3 pixels: 13 lines and the titles
    assert wide[0].count("▀") == 3 * 38
    narrow = list(beside((copy, copy, copy), ("one", "two", "three"), 60))
    assert [line for line in narrow if "▀" not in line] == ["one", "two", "three"]
    assert "38;2;200;40;40" in wide[0]
