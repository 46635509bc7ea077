"""``coach look``: a picture in, its colours in words or JSON out."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from drills.basics.errors import InputError
from drills.colour.difference import delta_e00
from drills.colour.parse import parse_colour
from drills.colour.spaces import lab_to_xyz, srgb_to_lab
from drills.pictures.spot import DOUBT_WORDS
from drills.pictures.white import paper_lab
from tests.photos.made import filed, plain, quarters


def look(*words: str, stdin: bytes = b"") -> Result:
    return CliRunner().invoke(cli, ["look", *words], input=stdin)


def objects(done: Result) -> list[dict[str, object]]:
    assert done.exit_code == 0, done.output
    return [json.loads(line) for line in done.stdout.splitlines()]


@pytest.fixture
def photo(tmp_path: Path) -> str:
    path = tmp_path / "four.png"
    path.write_bytes(filed(quarters().repeat(5, 0).repeat(5, 1)))
    return str(path)


def test_a_spot_is_a_line_with_the_promised_keys(photo: str) -> None:
    red, blue = objects(look(photo, "--at", "20,20", "--at", "25%,75%", "--json"))
    assert {"hex", "lab", "reading", "warnings", "at", "radius"} <= red.keys()
    assert (red["hex"], blue["hex"]) == ("#c82828", "#283cb4")
    assert (red["warnings"], blue["warnings"]) == (["strong_warm"], [])
    assert blue["at"] == [30.0, 60.0]
    assert float(delta_e00(red["lab"], parse_colour("#c82828"))) < 0.01
    assert red["reading"]["family"] == "red"
    assert "red" in red["reading"]["sentence"]


def test_main_colours_are_lines_with_their_share(photo: str) -> None:
    found = objects(look(photo, "--main", "4", "--json"))
    for colour in ("#c82828", "#28a03c", "#283cb4", "#dcc83c"):
        # Counted in cells of two levels a channel.
        off = min(float(delta_e00(one["lab"], parse_colour(colour))) for one in found)
        assert off < 0.6
    assert [one["share"] for one in found] == [0.25] * 4


def test_standard_input_is_a_picture_too(photo: str) -> None:
    given = Path(photo).read_bytes()
    assert objects(look("-", "--at", "20,20", "--json", stdin=given)) == objects(
        look(photo, "--at", "20,20", "--json")
    )


def test_words_for_people_say_the_doubts_and_what_a_camera_does(tmp_path: Path) -> None:
    path = tmp_path / "dark.png"
    path.write_bytes(filed(plain((12, 10, 12))))
    done = look(str(path), "--at", "8,8", "--radius", "1")
    assert "#0c0a0c, at 8,8 within 1 pixels" in done.output
    for doubt in ("dark", "few"):
        assert DOUBT_WORDS[doubt] in done.output
    assert "A camera is no colorimeter" in done.output


def test_a_white_point_takes_the_cast_off(tmp_path: Path) -> None:
    """Paper and a red under a warm, dim light; as they are under D50 is the truth."""
    cast = lab_to_xyz(paper_lab()) * [0.75, 0.7, 0.4]
    levels = plain((0, 0, 0), 80, 40)
    from drills.colour.spaces import screen_rgb, xyz_to_lab

    red = srgb_to_lab([0.7, 0.25, 0.2])
    levels[:, :40] = screen_rgb(xyz_to_lab(cast))
    levels[:, 40:] = screen_rgb(xyz_to_lab(lab_to_xyz(red) * [0.75, 0.7, 0.4]))
    path = tmp_path / "lamp.png"
    path.write_bytes(filed(levels))
    (before,) = objects(look(str(path), "--at", "60,20", "--json"))
    done = look(str(path), "--at", "60,20", "--white", "20,20", "--json")
    (after,) = objects(done)
    assert float(delta_e00(before["lab"], red)) > 6
    assert float(delta_e00(after["lab"], red)) < 4
    assert "white drawing paper" in done.stderr


HOSTILE = {
    "no file": (["none.png"], "no such file"),
    "no place": (["four.png", "--at", "here"], "is no place"),
    "no number": (["four.png", "--at", "nan,1"], "is no place"),
    "outside": (["four.png", "--at", "9000,1"], "outside it"),
    "a radius": (["four.png", "--at", "1,1", "--radius", "-3"], "out of range"),
    "main": (["four.png", "--main", "99"], "out of range"),
    "a dark white": (["black.png", "--white", "3,3"], "too dark"),
    "no chart": (["four.png", "--chart", "5,5", "110,5", "110,70", "5,70"], "no chart is found"),
    "both": (
        ["four.png", "--white", "1,1", "--chart", "5,5", "110,5", "110,70", "5,70"],
        "one or the other",
    ),
    "no picture": (["text.txt"], "not a picture"),
}


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_wrong_is_one_line_and_nothing_else(
    name: str, photo: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "black.png").write_bytes(filed(plain((5, 5, 5))))
    (tmp_path / "text.txt").write_bytes(b"no picture at all")
    words, told = HOSTILE[name]
    done = look(*words)
    assert done.exit_code != 0
    assert done.stdout == ""
    if isinstance(done.exception, InputError):
        assert done.stderr == ""
        assert told in str(done.exception)
        assert "\n" not in str(done.exception)
    else:
        assert told in done.stderr
