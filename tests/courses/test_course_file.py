"""A course's file: what it may hold, its published schema, hostile ones, levels, packing."""

from __future__ import annotations

import copy
import json
import re
import tomllib
from importlib.resources import files
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator, FormatChecker

from decks.courses.checks import check_course
from decks.courses.course import MOST_DECKS, Course
from decks.courses.course_file import MAX_BYTES, CheckedCourse, read_course, read_work
from decks.courses.course_pack import course_with_pencils, pack_course
from decks.courses.form import schema_text
from decks.courses.levels import at_level, decks_at_level, levelled
from decks.deck_file import CheckedDeck
from decks.pack import pack
from decks.starters import starter, starter_course
from drills.basics.errors import InputError
from drills.pencils.sets import pocket_set
from tests.courses.made import TEXT, course
from tests.decks.test_schema import odd

PUBLISHED = files("decks.courses").joinpath("course.schema.json").read_text(encoding="utf-8")
VALIDATOR = Draft202012Validator(json.loads(PUBLISHED), format_checker=FormatChecker(["date"]))
SOUND: dict[str, Any] = tomllib.loads(TEXT)
TWO = 'name = "two"'


def refused_by_schema(said: dict[str, Any]) -> list[str]:
    return [error.message[:80] for error in VALIDATOR.iter_errors(said)]


def faults(text: str) -> list[str]:
    return [one.text("course.toml") for one in read_course(text.encode(), "course.toml").problems]


# -- the form ----------------------------------------------------------------------------------


def test_a_course_is_what_its_file_says():
    made = course()
    assert [(one.name, one.needs) for one in made.decks] == [
        ("one", ()),
        ("two", ("one",)),
        ("three", ("one", "two")),
    ]
    assert {one.deck.author for one in made.decks} == {"A. Teacher"}
    assert made.place(2).words == "Week 2 of 3"
    assert made.decks[0].deck.growth == ((2, 6),)


def test_the_published_schema_is_made_of_the_course_s_own_fields_and_is_sound():
    """After a change: coach course schema > decks/courses/course.schema.json"""
    assert schema_text() == PUBLISHED
    Draft202012Validator.check_schema(json.loads(PUBLISHED))
    assert not refused_by_schema(SOUND)
    assert isinstance(check_course(SOUND, {})[0], Course)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_what_the_schema_refuses_the_code_refuses(data: st.DataObject):
    """One value anywhere in a sound course is replaced, taken out, or a stray key put beside it."""
    said = copy.deepcopy(SOUND)
    at: Any = said
    while True:
        key = data.draw(st.sampled_from(list(at) if isinstance(at, dict) else list(range(len(at)))))
        if isinstance(at[key], dict | list) and at[key] and data.draw(st.booleans()):
            at = at[key]
            continue
        break
    change = data.draw(st.sampled_from(["replace", "take out", "stray"]))
    if change == "take out":
        del at[key]
    elif change == "stray" and isinstance(at, dict):
        at["stray"] = 1
    else:
        at[key] = data.draw(odd)
    made, problems = check_course(said, {})
    assert (made is None) == bool(problems)
    if refused_by_schema(said):
        assert problems


# -- faults, each in a line ---------------------------------------------------------------------


@pytest.mark.parametrize(
    ("old", "new", "place", "problem"),
    [
        (TWO, f'{TWO}\nneeds = ["three"]', "32, key decks[2].needs[1]", "not come before"),
        (TWO, f'{TWO}\nneeds = ["two"]', "32, key decks[2].needs[1]", "“two” needs “two”"),
        ('needs = ["one", "two"]', 'needs = ["four"]', "decks[3].needs[1]", "no deck “four”"),
        ('needs = ["one", "two"]', 'needs = ["one", "one"]', "decks[3].needs[2]", "there twice"),
        ('name = "three"', 'name = "one"', "decks[3].name", "the name of two decks"),
        ('title = "Hue"', 'title = "VALUE"', "32, key decks[2].title", "have this title"),
        ('name = "three"\n', "", "decks[3].name", "the key is missing"),
        ('"hue-and-lean"', '"hue-and-leen"', "33, key decks[2].kinds[1]", "no drill kind"),
        ("days = 1", "days = 0", "decks[3].days", "out of range"),
        ("= 6", "= 600", "28, key decks[1].steps[2].items_a_day", "out of range"),
        ('title = "Hue"', 'title = "Hue"\nauthor = "B"', "decks[2].author", "there is no key"),
        ("harder = -0.2", "harder = -2", "9, key levels[1].harder", "out of range"),
        ('purpose = "To see"', 'level = "fuller"', "4, key level", "there is no level"),
        ("format = 1", "format = 2", "1, key format", "the course was made for a newer coach"),
        ("format = 1", "", "key format", "the format is missing"),
    ],
)
def test_a_fault_is_one_line_with_its_place(old: str, new: str, place: str, problem: str):
    assert old in TEXT
    told = faults(TEXT.replace(old, new, 1))
    assert len(told) == 1, told
    assert place in told[0]
    assert problem in told[0]
    assert told[0].startswith("course.toml")


def many(count: int) -> str:
    head = 'format = 1\ntitle = "T"\nauthor = "A"\n'
    return head + "".join(
        f'[[decks]]\nname = "d{n}"\ntitle = "D{n}"\nkinds = ["grey-lean"]\n' for n in range(count)
    )


HOSTILE = {
    "ten thousand decks": (many(10_000), "it holds 10,000 decks"),
    "no decks": (many(0), "it holds no decks"),
    "decks that are none": (many(0) + "decks = 3\n", "a number stands where a list belongs"),
    "a deck that is none": (many(0) + "decks = [1]\n", "a number stands where a table belongs"),
    "a huge text": (many(1).replace('"T"', f'"{"x" * 5_000}"'), "the line is too long"),
    "a huge text of many lines": (
        many(1).replace('"A"', '"A"\nnote = """\n' + "y\n" * 3_000 + '"""'),
        "over 2,000 characters",
    ),
    "deep nesting": (many(1) + "x = " + "[" * 1_900 + "]" * 1_900, "nested too deep"),
    "nested tables": (many(1) + f"[{'.'.join('a' * 90)}]\nb = 1\n", "there is no key “a”"),
    "too many dots": (many(1) + f"[{'.'.join('a' * 200)}]\n", "too many dots"),
    "a huge number": (many(1) + f"days = {'9' * 3_900}\n", "out of range"),
    "escape codes": (many(1).replace('"D0"', '"\\u001b[31m"'), "control or invisible"),
    "too many bytes": ("#" * (MAX_BYTES + 1), "too big"),
    "an archive": ("PK\x03\x04", "an archive"),
    "a deck": (pack(starter("greys")), "this is a deck, not a course"),
    "many tables of levels": (many(1) + "[[levels]]\n" * 20_000, "it holds 20,000 levels"),
    "needs of a thousand": (
        many(1) + "needs = [" + ", ".join(f'"d{n}"' for n in range(300)) + "]",
        "it holds 300",
    ),
    "a path for a name": (many(1).replace('"d0"', '"../../etc"'), "decks[1].name"),
}


@pytest.mark.parametrize("name", sorted(HOSTILE))
def test_hostile_files_are_one_line(name: str):
    text, problem = HOSTILE[name]
    (told,) = faults(text)
    assert problem in told
    assert "\n" not in told
    assert "\x1b" not in told
    assert len(told) < 500


def judged(data: bytes) -> None:
    """Sound, or told of in lines that hold no control characters; it raises nothing."""
    for read in (read_course, read_work):
        found = read(data, "theirs\x1b.toml")
        sound = found.course if isinstance(found, CheckedCourse) else found.deck
        assert (sound is None) == bool(found.problems)
        for problem in found.problems:
            assert not re.search(r"[\x00-\x1f\x7f-\x9f]", problem.text("theirs\x1b.toml"))
        if isinstance(sound, Course):
            assert read_course(pack_course(sound).encode(), "again").sound() == sound


@settings(max_examples=200, deadline=None)
@given(st.binary(max_size=400), st.booleans())
def test_no_bytes_bring_the_reader_down(data: bytes, after: bool):
    judged(TEXT.encode() + data if after else data)


PIECES = st.one_of(
    st.text(max_size=6),
    st.sampled_from(
        [
            *("[[decks]]\n", "[[levels]]\n", "[decks]\n", "decks = 1\n", "[[decks.steps]]\n"),
            *('needs = ["three"]\n', "needs = []\n", 'name = "one"\n', "days = 366\n", '"""'),
            *("questions = 1e308\n", "harder = nan\n", "pass_level = inf\n", "due = 2026-02-30"),
            *('level = "lighter"\n', "format = 2\n", 'fingerprint = "0"\n', "\r\n", "\ufeff"),
        ]
    ),
)


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_no_change_to_a_sound_file_brings_it_down(data: st.DataObject):
    """A few pieces are taken out, put in or moved, wherever they fall."""
    text = TEXT
    for _ in range(data.draw(st.integers(1, 5))):
        at = data.draw(st.integers(0, len(text)))
        end = min(len(text), at + data.draw(st.integers(0, 60)))
        if data.draw(st.booleans()):  # At the start of a line, where a key or a table may be.
            at = text.rfind("\n", 0, at) + 1
        taken = text[at:end] if data.draw(st.booleans()) else data.draw(PIECES)
        text = text[:at] + taken * data.draw(st.integers(0, 2)) + text[end:]
    judged(text.encode("utf-8", "surrogatepass"))


def test_as_many_decks_as_allowed_are_taken():
    assert len(course(many(MOST_DECKS)).decks) == MOST_DECKS
    assert "holds 31 decks" in faults(many(MOST_DECKS + 1))[0]


def test_no_circle_of_needs_can_be_written():
    """Whatever needs are drawn, what is taken opens deck by deck."""
    assert faults(TEXT.replace('name = "one"', 'name = "one"\nneeds = ["three"]'))
    for made in (course(), starter_course("first-month")):
        there: set[str] = set()
        for one in made.decks:
            assert set(one.needs) <= there
            there.add(one.name)


def test_a_file_says_itself_whether_it_is_a_deck_or_a_course():
    assert isinstance(read_work(TEXT.encode(), "f"), CheckedCourse)
    assert isinstance(read_work(pack(starter("greys")).encode(), "f"), CheckedDeck)
    for nothing in (b"", b"\xff\xfe", b"format = 1\n"):
        assert read_work(nothing, "f").problems


# -- levels and packing ---------------------------------------------------------------------------


def test_a_level_makes_of_each_deck_what_it_says():
    made = at_level(course(), "Lighter ")
    first, *_ = decks_at_level(made)
    assert (first.items_a_day, first.growth, first.pass_level) == (2, ((2, 3),), 0.5)
    assert (first.hardest, first.steps[0].hardest) == (0.8, 0.2)
    assert decks_at_level(course()) == tuple(one.deck for one in course().decks)
    assert made.place(1).asks == course().place(1).asks
    assert made.place(1).level == "lighter"
    with pytest.raises(InputError, match=r"no such level.*lighter"):
        at_level(course(), "fuller")


@settings(max_examples=100, deadline=None)
@given(st.floats(0.1, 3.0), st.floats(-1.0, 1.0))
def test_at_any_level_a_deck_keeps_within_a_deck_s_limits(questions: float, harder: float):
    text = TEXT.replace("questions = 0.5", f"questions = {questions:.4f}")
    made = course(text.replace("harder = -0.2", f"harder = {harder:.4f}"))
    for one in made.decks:
        deck = levelled(one.deck, made.levels[0])
        assert 0.0 <= deck.easiest <= deck.hardest <= 1.0
        assert all(1 <= deck.items_on(day) <= 100 for day in range(1, deck.days + 1))
        pack(deck)


@pytest.mark.parametrize("level", ["", "lighter"])
def test_a_packed_course_reads_back_as_the_same(level: str):
    made = course(TEXT.replace('"To see"', '"To \\\\n see"'))
    made = at_level(made, level) if level else made
    text = pack_course(made)
    assert course(text) == made
    assert course(text).fingerprint == made.fingerprint
    (told,) = faults(text.replace("Fill five", "Fill nine"))
    assert "has changed since it was packed" in told


def test_pencils_go_into_each_of_its_decks():
    made = course(pack_course(course_with_pencils(course(), pocket_set())))
    assert all(one.deck.pencils.count("\n") == 13 for one in made.decks)


def test_a_starter_course_packs_within_the_limits():
    for name in ("first-month", "second-month"):
        made = course_with_pencils(starter_course(name), pocket_set())
        assert len(pack_course(made)) < MAX_BYTES / 4
