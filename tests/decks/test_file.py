"""Reading a deck's file: what is wrong, where, and what to do; whatever a stranger sends."""

from __future__ import annotations

import os
import re
from datetime import date
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from decks.deck import Deck
from decks.deck_file import MAX_BYTES, load_deck, read_deck
from decks.pack import pack
from decks.record_form import from_kept, to_kept
from decks.targets import target_of
from decks.template import TEMPLATE
from decks.toml_text.lines import lines_of
from drills.basics.errors import InputError
from drills.pencils.file import to_csv
from drills.pencils.sets import pocket_set

LEAST = 'format = 1\ntitle = "Greens"\nauthor = "A"\nkinds = ["hue-and-lean"]\n'


def problems(text: str | bytes) -> list[str]:
    data = text.encode() if isinstance(text, str) else text
    found = read_deck(data, "mine.toml")
    assert (found.deck is None) == bool(found.problems)
    return [problem.text("mine.toml") for problem in found.problems]


def test_the_commented_example_is_sound_as_it_stands():
    found = read_deck(TEMPLATE.encode(), "x")
    assert found.deck is not None
    assert found.deck.title == "Dark greyed greens"
    assert found.deck.families == ("blue-green", "green", "yellow-green")  # round the wheel
    assert found.deck.note.count("\n") == 1


def test_every_commented_line_of_the_example_is_sound_too():
    """What the example only shows becomes a deck when its marks are taken away."""
    text = re.sub(r"(?m)^# (\[\[targets\]\]|name  |colour|due  )", r"\1", TEMPLATE)
    deck = read_deck(text.encode(), "x").sound()
    assert deck.due == date(2026, 9, 30)
    assert [target.name for target in deck.targets] == ["Shadow under the leaf"]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "mine.toml, key format: the format is missing. Write: format = 1"),
        ("format = 2", "mine.toml, line 1, key format: the deck was made for a newer coach."),
        ("format = true", "there is no such format"),
        ("title = ", "mine.toml, line 1: nothing stands after title =. Write what it is:"),
        ('a = 1\nb = "x', "mine.toml, line 2: the text isn't closed. End it with"),
        ("title = Greys", 'the text has no quotes round it. Put quotes round it: title = "Greys"'),
        ("title = “Greys”", "line 1: these quotes are curly. Type straight ones"),
        ("title = Wet's \x00", "the text has no quotes round it"),
        ("kinds = [hue-and-lean]", 'Put quotes round each: kinds = ["hue-and-lean"]'),
        ('kinds = ["value"\ndays = 7', "isn't closed"),
        ("pass_level = 0,7", "a number has a comma. Write a point: pass_level = 0.7"),
        ('title = "a"\ntitle = "b"', "title is written twice. Keep one of them"),
        ('title = "a" b', "something stands after the text's end"),
        ("My deck", "line 1: this line is neither a note nor a key with its value"),
        ('{"format": 1}', "line 1: this is no deck or course. A teacher's reply: coach"),
        ("[difficulty", "this heading isn't closed"),
        (r'title = "C:\q"', "a backslash in a text"),
        ('note = """\nhello', "isn't closed"),
        (LEAST + "colour = 1", "line 5, key colour: there is no key “colour” here."),
        (LEAST + "item_a_day = 1", "Did you mean items_a_day?"),
        (LEAST + "days = 0", "line 5, key days: 0 is out of range. Write a whole number from 1"),
        (LEAST + "days = 2.5", "2.5 is not a whole number"),
        (LEAST + "days = true", "true or false is not a whole number"),
        (LEAST + "days = '7'", "a text is not a whole number"),
        (LEAST + "days = 1" + "0" * 40, "so long a number is out of range"),
        (LEAST + "days = 1" + "0" * 4_000, "line 5: the line is too long"),
        (LEAST + "pass_level = nan", "it is not a finite number"),
        (LEAST + "pass_level = -inf", "it is not a finite number"),
        (LEAST + "due = 2026-02-30", "line 5: there is no such day. Write year-month-day"),
        (LEAST + "due = 2026-02-03T10:00:00", "it names a time of day too"),
        (LEAST + "due = 10:00:00", "it is no day of the calendar"),
        (LEAST + "due = 1999-01-01", "the year 1999 is out of range"),
        (LEAST.replace("hue-and-lean", "hue-and-lena"), "Did you mean hue-and-lean?"),
        (LEAST + 'families = ["Greens"]', "“Greens” is not a name"),
        (LEAST + 'families = ["green-blue"]', "Did you mean blue-green?"),
        (
            LEAST + 'families = [\n "red",\n\n "read"]',
            "line 8, key families[2]: there is no family",
        ),
        (LEAST + 'note = "a\\u001b[31m"', "holds a control or invisible character"),
        (LEAST + 'note = "a\\u202eb"', "“a·b” holds a control or invisible character"),
        (
            LEAST + '[[targets]]\nname = "A"\ncolour = "#12"',
            "line 7, key targets[1].colour: 2 digits",
        ),
        (LEAST + '[[targets]]\nname = "A"', "line 5, key targets[1].colour: the key is missing"),
        (LEAST + "[difficulty]\neasiest = 2", "line 6, key difficulty.easiest: 2 is out of range"),
        (LEAST + "difficulty = 1", "a number stands where a table belongs"),
        (LEAST + '[[pencils]]\nname="A"\nhex="#fff"', "line 7, key pencils[1].hex: “#fff” is not"),
        (LEAST + '[[pencils]]\nname="A"\nhex="#aabbcc"\nhex2="x"', "line 8, key pencils[1].hex2"),
        (LEAST + "pencils = []", "it holds no pencils"),
    ],
)
def test_each_fault_is_told_with_line_key_and_remedy(text: str, told: str):
    assert any(told in line for line in problems(text)), problems(text)


def test_all_faults_are_told_at_once_in_the_order_of_lines():
    text = 'format = 1\ntitle = ""\nkinds = ["hue"]\ndays = 999\nauthor = 3\n'
    lines = [int(re.search(r"line (\d+)", line)[1]) for line in problems(text)]
    assert lines == [2, 3, 4, 5]


def test_an_error_names_the_first_fault_and_says_how_many_more():
    with pytest.raises(InputError, match=r"line 2, key title.*And 3 more"):
        read_deck(b'format = 1\ntitle = ""\nkinds = ["hue"]\ndays = 999\nauthor = 3\n', "x").sound()


HOSTILE = {
    "too big": b"#" * (MAX_BYTES + 1),
    "an archive": b"PK\x03\x04" + b"\0" * 50,
    "squeezed": b"\x1f\x8b\x08" + b"\0" * 50,
    "utf-16": "format = 1".encode("utf-16"),
    "not utf-8": b"format = 1\n\xff\xfe",
    "nul": LEAST.encode() + b'note = "\0"',
    "nested lists": LEAST.encode() + b"days = " + b"[\n" * 60_000,
    "nested tables": LEAST.encode() + b"days = " + b"{a=" * 900,
    "a deep key": b".".join([b"a"] * 1_900) + b" = 1",
    "deep quoted keys": b".".join([b'"="'] * 900) + b" = 1",
    "many deep keys": b"\n".join(b".".join([b"a"] * 99) + b".k%d = 1" % i for i in range(1_200)),
    "many tables": LEAST.encode() + b"[[targets]]\n" * 20_000,
    "many keys": LEAST.encode() + b"".join(b"k%d = 1\n" % i for i in range(20_000)),
    "a long list": LEAST.encode() + b"families = [" + b"'x',\n" * 40_000 + b"]",
    "a huge number": LEAST.encode() + b"days = 0x" + b"f" * 3_900,
    "escapes in a key": LEAST.encode() + b'"\\u001b[31mred" = 1',
    "escapes in a kind": LEAST.replace("hue-and-lean", "\\u001b]0;x\\u0007").encode(),
    "markup": LEAST.replace("Greens", "[bold]<b>x</b>").encode(),
    "a path": LEAST.encode() + b'pencils = "../../etc/passwd"',
    "a path in a key": LEAST.encode() + b'[[pencils]]\nfile = "/etc/passwd"',
}


@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_file_is_refused_soon_and_in_plain_words(name: str):
    found = read_deck(HOSTILE[name], "mine\x1b.toml")
    told = "\n".join(problem.text("mine\x1b.toml") for problem in found.problems)
    if name == "markup":
        assert found.deck is not None  # brackets are text; the screens show them as such
        return
    assert found.deck is None
    assert told
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f]", told)
    assert len(told) < 40_000


def test_what_is_no_ordinary_file_is_not_opened(tmp_path: Path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path, told in ((pipe, "not an ordinary file"), (tmp_path / "no", "no such file")):
        with pytest.raises(InputError, match=told):
            load_deck(path)
    big = tmp_path / "big.toml"
    with big.open("wb") as file:
        file.truncate(1_000_000_000)
    with pytest.raises(InputError, match="too big"):
        load_deck(big)


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=400))
def test_no_bytes_bring_the_reader_down(data: bytes):
    problems(data)


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_no_change_to_a_sound_file_brings_it_down(data: st.DataObject):
    text = TEMPLATE
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(text)))
        end = min(len(text), at + data.draw(st.integers(0, 12)))
        text = text[:at] + data.draw(st.text(max_size=6)) + text[end:]
    problems(text.encode("utf-8", "surrogatepass"))


words = st.text(
    st.characters(exclude_categories=("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")), min_size=1
).filter(lambda text: text.strip(" ") == text and text.strip() != "")


@st.composite
def decks(draw: st.DrawFn) -> Deck:
    names = draw(st.lists(words.filter(lambda w: len(w) <= 60), max_size=3, unique_by=str.casefold))
    colours = st.sampled_from(["#5f6b3a", "lab(50 5 -10)", "5R 4/6", "N 5", "rgb(10% 20% 30%)"])
    low, high = sorted(draw(st.lists(st.floats(0, 1), min_size=2, max_size=2)))
    return Deck(
        title=draw(words.filter(lambda w: len(w) <= 80)),
        author=draw(words.filter(lambda w: len(w) <= 80)),
        note=draw(st.lists(words, max_size=3).map("\n".join).filter(lambda w: len(w) <= 2_000)),
        kinds=draw(st.sampled_from([("hue-and-lean",), ("make-the-match", "what-is-off")])),
        families=draw(st.sampled_from([(), ("red",), ("blue", "green", "dark greys")])),
        targets=tuple(target_of(name, draw(colours)) for name in names),
        pencils=draw(st.sampled_from(["", to_csv(pocket_set())])),
        easiest=low,
        hardest=high,
        items_a_day=draw(st.integers(1, 100)),
        days=draw(st.integers(1, 366)),
        due=draw(st.none() | st.dates(date(2025, 1, 1), date(2199, 12, 31))),
        pass_level=draw(st.floats(0.1, 1)),
    )


@settings(max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(decks())
def test_a_packed_deck_reads_back_as_itself_with_its_fingerprint(deck: Deck):
    text = pack(deck)
    found = read_deck(text.encode(), "packed")
    assert found.deck == deck
    assert found.packed
    assert deck.fingerprint in text
    assert from_kept(to_kept(deck)) == deck


def test_a_packed_deck_that_was_changed_is_refused_and_unpacked_by_taking_the_line_out():
    text = pack(read_deck(TEMPLATE.encode(), "x").sound())
    changed = text.replace("days = 7", "days = 8")
    assert "has changed since it was packed" in problems(changed)[0]
    assert not problems(re.sub(r"fingerprint = .*\n", "", changed))


def test_comments_order_and_defaults_change_no_fingerprint():
    one = read_deck(LEAST.encode(), "x").sound()
    lines = LEAST.splitlines()
    other = "\n".join(["# note", *reversed(lines), "days = 7", "pass_level = 0.7", ""])
    assert read_deck(other.encode(), "x").sound().fingerprint == one.fingerprint
    assert read_deck(LEAST.replace("\n", "\r\n").encode(), "x").sound() == one
    assert read_deck(LEAST.encode() + b"days = 8", "x").sound().fingerprint != one.fingerprint


def test_lines_are_found_whatever_the_way_of_writing():
    text = (
        "# head\n'title' = '''a\n# no comment\n'''\n\nlist = [ # one\n  1, [2,\n3],\n]\n"
        'inline = { a = 1, b.c = "}" }\n[t."x y"]\nk = "\\"="\n[[many]]\nn = 1\n[[many]]\nn = 2\n'
    )
    lines = lines_of(text)
    assert lines["title",] == 2
    assert lines["list", 1] == 7
    assert lines["list", 1, 1] == 8
    assert lines["inline", "b", "c"] == 10
    assert lines["t", "x y", "k"] == 12
    assert lines["many", 1, "n"] == 16


def test_a_fault_among_the_pencils_has_its_place_as_it_is_whatever_the_pencils_are_called():
    """Nothing is read back out of a message: a name may look like a place."""
    pencil = '[[pencils]]\nname = "box, row 9, column hex"\nhex = "#aabbcc"\n'
    (told,) = problems(LEAST + pencil * 2)
    assert told == (
        "mine.toml, line 9, key pencils[2].name: “box, row 9, column hex” is already the name of"
        " pencil 1. Give each pencil its own name."
    )
    spectrum = f"[[pencils]]\nname = 'B'\nreflectance = [{', '.join(['0.5'] * 31)}]\nlab = '1 2'\n"
    (told,) = problems(LEAST + spectrum)
    assert told.startswith("mine.toml, line 8, key pencils[1].lab: “1 2” is not three Lab numbers")
