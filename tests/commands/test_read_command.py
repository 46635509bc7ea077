"""``coach read``: colours in, an artist's words or JSON out."""

from __future__ import annotations

import json
import os
import pty
import subprocess
import sys

import pytest

COACH = [sys.executable, "-m", "coach", "read"]
KEYS = {
    "lab",
    "lch",
    "munsell",
    "family",
    "lean",
    "value",
    "chroma_word",
    "temperature",
    "complement",
    "neutral",
}


def run(*words: str, stdin: bytes = b"") -> subprocess.CompletedProcess[bytes]:
    return subprocess.run([*COACH, *words], input=stdin, capture_output=True, timeout=60)


def objects(done: subprocess.CompletedProcess[bytes]) -> list[dict[str, object]]:
    return [json.loads(line) for line in done.stdout.splitlines()]


def on_a_terminal(*words: str, **environment: str) -> str:
    """What the command writes to a terminal."""
    keep = {k: v for k, v in os.environ.items() if k not in {"COLORTERM", "NO_COLOR", "TERM"}}
    parent, child = pty.openpty()
    done = subprocess.Popen([*COACH, *words], stdout=child, env=keep | environment)
    os.close(child)
    written = b""
    while True:
        try:
            piece = os.read(parent, 4096)
        except OSError:  # Linux: the other end is closed
            break
        if not piece:
            break
        written += piece
    os.close(parent)
    assert done.wait(60) == 0
    return written.decode()


def test_json_has_one_object_a_line_with_the_promised_keys() -> None:
    done = run("5R 4/10", "#808080", "lab(50 20 -30)", "rgb(0 0 255)", "--json")
    assert done.returncode == 0
    red, grey, violet, blue = objects(done)
    assert all(set(one) >= KEYS for one in (red, grey, violet, blue))
    assert (red["munsell"], red["family"], red["complement"]) == ("5R 4/10", "red", "green")
    assert red["neutral"] is False
    assert red["value"] == pytest.approx(4)
    assert grey["neutral"] is True
    assert grey["family"] is None
    assert violet["lab"] == [50, 20, -30]
    assert blue["family"] == "blue-violet"
    assert blue["input"] == "rgb(0 0 255)"


def test_people_read_sentences() -> None:
    done = run("#8b4513")
    text = done.stdout.decode()
    assert text.startswith("#8b4513\n")
    assert "Many call it brown: look for the orange in it." in text
    assert "Munsell 4.1YR" in text
    assert "\x1b" not in text


def test_standard_input_has_one_colour_a_line() -> None:
    done = run("N 9", "-", "#000", "--json", stdin="\ufeff#fff\r\n\n  N 5 \n5R 4/10".encode())
    assert done.returncode == 0
    inputs = [one["input"] for one in objects(done)]
    assert inputs == ["N 9", "#fff", "N 5", "5R 4/10", "#000"]


def test_a_thousand_lines_come_back_in_order() -> None:
    lines = [f"#{number * 16770 % 0xFFFFFF:06x}" for number in range(1000)]
    done = run("-", "--json", stdin="\n".join(lines).encode())
    assert done.returncode == 0
    assert [one["input"] for one in objects(done)] == lines


def test_a_bad_line_is_named_and_the_others_still_read() -> None:
    done = run("-", "--json", stdin=b"#fff\nmauve\n\xff\xfe\n\x1b[31m#000\nN 5\n")
    assert done.returncode == 2
    assert [one["input"] for one in objects(done)] == ["#fff", "N 5"]
    faults = done.stderr.decode().splitlines()
    assert [fault.split(",")[0] for fault in faults] == [
        "coach: line 2",
        "coach: line 3",
        "coach: line 4",
    ]
    assert all("Write #rrggbb" in fault for fault in faults)
    assert "\x1b" not in done.stderr.decode()


def test_a_bad_colour_is_one_line_and_status_2() -> None:
    done = run("rgb(300 0 0)")
    assert done.returncode == 2
    assert done.stdout == b""
    (fault,) = done.stderr.decode().splitlines()
    assert "rgb(300 0 0)" in fault
    assert "out of range" in fault
    assert "0 to 255" in fault


def test_no_colour_at_all_says_what_to_do() -> None:
    done = run()
    assert done.returncode == 2
    assert len(done.stderr.splitlines()) == 1
    assert b"in quotes" in done.stderr


def test_a_line_without_end_is_refused_unkept() -> None:
    done = run("-", "--json", stdin=b"x" * 3_000_000 + b"\n#fff\n")
    assert done.returncode == 2
    assert done.stderr.startswith(b"coach: line 1, ")
    assert len(done.stderr) < 400
    assert [one["input"] for one in objects(done)] == ["#fff"]


def test_munsell_cut_by_the_shell_is_put_together() -> None:
    done = run("5R", "4/10", "N", "5", "#fff", "--json")
    assert [one["input"] for one in objects(done)] == ["5R 4/10", "N 5", "#fff"]


def test_a_colour_outside_srgb_is_read_and_said_to_be_unshowable() -> None:
    done = run("lab(50 100 0)")
    assert done.returncode == 0
    assert "outside sRGB" in done.stdout.decode()
    (one,) = objects(run("lab(50 100 0)", "--json"))
    assert one["hex"] is None


def test_a_terminal_with_24_bit_colour_shows_the_colour() -> None:
    text = on_a_terminal("#8b4513", TERM="xterm-256color", COLORTERM="truecolor")
    assert "\x1b[48;2;139;69;19m" in text


@pytest.mark.parametrize(
    "environment",
    [
        {"TERM": "xterm-256color"},
        {"TERM": "xterm-256color", "COLORTERM": "truecolor", "NO_COLOR": "1"},
        {"TERM": "dumb"},
    ],
)
def test_a_terminal_without_it_shows_words_only(environment: dict[str, str]) -> None:
    assert "\x1b" not in on_a_terminal("#8b4513", **environment)


def test_no_swatch_stands_for_a_colour_that_cannot_be_shown() -> None:
    text = on_a_terminal("lab(50 100 0)", TERM="xterm-256color", COLORTERM="truecolor")
    assert "\x1b" not in text
    assert "no swatch" in text


def test_no_heavy_library_is_loaded() -> None:
    code = (
        "import sys; from drills.colour.reading import read_colours; "
        "read_colours([(50, 20, 10)], with_munsell=True); "
        "print([name for name in ('colour', 'scipy', 'PIL', 'textual') if name in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert done.stdout.strip() == b"[]"
