"""``coach pencils``: check a file, use it, list it; nothing is kept of a bad one."""

from __future__ import annotations

import os
import pty
import re
import subprocess
import sys

import pytest

RUN = [sys.executable, "-m", "coach", "pencils"]


@pytest.fixture
def coach(tmp_path):
    env = {**os.environ, "COACH_HOME": str(tmp_path / "home"), "PYTHONWARNINGS": "ignore"}

    def run(*words: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run([*RUN, *words], capture_output=True, text=True, env=env, timeout=60)

    run.home = tmp_path / "home"
    run.env = env
    return run


@pytest.fixture
def box(tmp_path):
    path = tmp_path / "my box.csv"
    path.write_text("name,hex,lightfastness\n[red] one,#b5443c,V\nSea,#2f7f93,\n")
    return path


def test_check_says_what_is_there_what_is_missing_and_what_to_mind(coach, box):
    done = coach("check", str(box))
    assert done.returncode == 0
    assert "my box: 2 colours." in done.stdout
    assert "[red] one" in done.stdout
    assert re.search(r"there is no yellow, .*violet", done.stdout)
    assert "no colourless blender" in done.stdout
    assert "lightfastness is not given for 1 of 2" in done.stdout
    assert "[red] one will fade" in done.stdout
    assert not coach.home.exists()


def test_use_keeps_the_set_and_list_shows_it(coach, box):
    assert "You now practise with my box: 2 pencils." in coach("use", str(box)).stdout
    listed = coach("list").stdout.splitlines()
    assert len(listed) == 2
    assert re.match(r"\[red\] one +red, .* value +\d\.\d +semi", listed[0])
    assert "\x1b" not in "".join(listed)  # a pipe gets no colour


def test_the_invented_sets_by_their_options(coach):
    assert "12 pencils" in coach("use", "--pocket").stdout
    assert "colourless blender" in coach("list").stdout
    assert len(coach("list", "--demo").stdout.splitlines()) == 36


def test_before_any_choice_list_says_how_to_choose(coach):
    done = coach("list")
    assert done.returncode == 2
    assert done.stderr.startswith("coach: pencils: none are in use yet. ")
    assert not coach.home.exists()


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("name,hex\nRed,#b5443\n", "row 2, column hex"),
        ("name,lab\nFine,50 0 0\nRed,50 120 120\n", "row 3: no paper can reflect the colour"),
        (
            "name,lab,on_black\nRed,50 20 20,9 -90 90\n",
            "row 2: no paper can reflect the on_black colour",
        ),
        ("", "row 1"),
    ],
)
def test_a_bad_file_is_one_line_and_nothing_is_kept(coach, tmp_path, text, words):
    path = tmp_path / "bad.csv"
    path.write_text(text)
    for verb in ("check", "use", "list"):
        done = coach(verb, str(path))
        assert done.returncode == 2
        assert done.stdout == ""
        assert done.stderr.count("\n") == 1
        assert done.stderr.startswith(f"coach: {path}")
        assert words in done.stderr
    assert not coach.home.exists()


def test_a_set_in_use_outlives_a_bad_one(coach, box, tmp_path):
    coach("use", str(box))
    bad = tmp_path / "bad.csv"
    bad.write_text("name,hex\nRed,nope\n")
    assert coach("use", str(bad)).returncode == 2
    assert "[red] one" in coach("list").stdout


@pytest.mark.parametrize("words", [(), ("a.csv", "--demo"), ("--huh",)])
def test_words_that_make_no_sense(coach, words):
    done = coach("use", *words)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1


def test_a_terminal_with_24_bit_colour_is_shown_swatches(coach):
    for depth, blocks in (("truecolor", 11), ("", 0)):
        env = {**coach.env, "COLORTERM": depth, "TERM": "xterm-256color", "COLUMNS": "80"}
        env.pop("NO_COLOR", None)
        main, far = pty.openpty()
        with subprocess.Popen([*RUN, "list", "--pocket"], stdout=far, stdin=far, env=env) as ran:
            os.close(far)
            shown = b""
            while True:
                try:
                    piece = os.read(main, 65536)
                except OSError:  # the far end closed
                    break
                if not piece:
                    break
                shown += piece
        os.close(main)
        assert ran.returncode == 0
        assert len(re.findall(rb"\x1b\[48;2;\d+;\d+;\d+m {6}\x1b\[0m  \w", shown)) == blocks
