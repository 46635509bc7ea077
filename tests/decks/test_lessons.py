"""Lessons: a deck's steps, their words and pictures, read in the app before their questions."""

import zlib
from base64 import b64decode, b64encode
from dataclasses import replace
from io import BytesIO
from pathlib import Path
from struct import pack as packed

import pytest
from PIL import Image

from coach.screens.practice.lesson import LessonScreen
from coach.screens.practice.question import PracticeScreen
from decks.deck import Deck, Step
from decks.deck_file import read_deck
from decks.lessons.pictures import open_inside, put_inside, with_pictures
from decks.lessons.steps import begins, hardest_on
from decks.pack import pack
from decks.record_form import from_kept, to_kept
from drills.basics.errors import InputError
from drills.pencils.sets import demo_set
from drills.pictures.opening import open_picture
from scores.record.decks_added import put_deck
from tests.app.test_deck import settled
from tests.pilots import FEW_COLOURS, MORNING, TableApp, answer, shown, table

PLAIN = Deck("Value, then hue", "A. Teacher", ("lighter-or-darker", "hue-and-lean"), items_a_day=4)
BEFORE_STEPS = "a13a48aeff1ce2f3880ad57cd65639c346e203f80c2ea162bacf50e34fa5c9e2"
STEPS = (
    Step(
        "Value first", "Squint.\nSay which is darker.", "Fill five boxes.", ("lighter-or-darker",)
    ),
    Step("Then hue", "Name the family.", kinds=("hue-and-lean",), day=3, hardest=0.4),
)
LESSONS = replace(PLAIN, steps=STEPS)


def jug(folder: Path, colour: tuple[int, int, int] = (150, 90, 60)) -> Path:
    """A photo of a made-up jug, with a place in its metadata."""
    image = Image.effect_noise((900, 700), 40).convert("RGB")
    image.paste(colour, (200, 200, 600, 600))
    exif = Image.Exif()
    exif[0x010E] = "12 Marrow Lane"
    image.save(folder / "jug.jpg", exif=exif)
    return folder / "jug.jpg"


def test_a_deck_without_steps_is_what_it_was_before_there_were_any():
    """Its fingerprint, as packed files say it, and its form in records kept."""
    assert PLAIN.fingerprint == BEFORE_STEPS
    assert "steps" not in pack(PLAIN)
    kept = to_kept(PLAIN).replace('"steps":[],', "")
    assert "steps" not in kept
    assert from_kept(kept) == PLAIN


def test_words_and_pictures_may_change_but_what_is_held_back_is_a_question(tmp_path: Path):
    told = replace(LESSONS, steps=(replace(STEPS[0], word="Look."), STEPS[1]))
    shown_too = with_pictures(LESSONS, [f"1={jug(tmp_path)}"])
    assert LESSONS.questions == told.questions == shown_too.questions
    assert len({LESSONS.fingerprint, told.fingerprint, shown_too.fingerprint}) == 3
    assert replace(LESSONS, steps=STEPS[:1]).questions == PLAIN.questions
    later = replace(LESSONS, steps=(STEPS[0], replace(STEPS[1], day=5)))
    assert later.questions != LESSONS.questions


def test_a_packed_deck_carries_a_small_picture_and_nothing_else_of_its_file(tmp_path: Path):
    deck = with_pictures(LESSONS, [f"2={jug(tmp_path)}"])
    again = read_deck(pack(deck).encode(), "packed").sound()
    assert again == deck
    assert len(pack(deck)) < 60_000
    assert b"Marrow Lane" not in b64decode(again.steps[1].picture)
    inside = open_inside(again.steps[1].picture)
    assert inside.width / inside.height == pytest.approx(900 / 700, rel=0.02)
    middle = inside.levels()[inside.height // 2, int(inside.width * 0.45)]
    assert abs(middle.astype(int) - (150, 90, 60)).max() < 12


def test_kinds_come_in_day_by_day_and_no_harder_than_their_step():
    assert [begins(LESSONS, kind) for kind in LESSONS.kinds] == [1, 3]
    assert hardest_on(LESSONS, "hue-and-lean", 3) == 0.4
    assert hardest_on(LESSONS, "lighter-or-darker", 7) == 1.0
    assert hardest_on(replace(LESSONS, easiest=0.5), "hue-and-lean", 3) == 0.5


def chunk(name: bytes, data: bytes) -> bytes:
    return packed(">I", len(data)) + name + data + packed(">I", zlib.crc32(name + data))


def bomb() -> bytes:
    """A PNG of a few KB that would open to 64 million pixels."""
    head = chunk(b"IHDR", packed(">IIBBBBB", 8000, 8000, 8, 0, 0, 0, 0))
    rows = chunk(b"IDAT", zlib.compress(bytes(8001) * 9, 9))
    return b"\x89PNG\r\n\x1a\n" + head + rows + chunk(b"IEND", b"")


def gif() -> bytes:
    out = BytesIO()
    Image.new("RGB", (4, 4)).save(out, "GIF")
    return out.getvalue()


@pytest.mark.parametrize(
    ("bytes_", "problem"),
    [
        (bomb(), "more than 1 million pixels"),
        (gif(), "not a picture that can be read"),
        (b"\xff\xd8\xff\xe0 torn", "can't be read"),
    ],
)
def test_a_picture_in_a_deck_is_hostile_until_opened(bytes_: bytes, problem: str):
    text = pack(LESSONS).replace(LESSONS.fingerprint, "0" * 64)
    picture = f'picture = "{b64encode(bytes_).decode()}"'
    text = text.replace('title = "Value first"', f'title = "Value first"\n{picture}')
    found = read_deck(
        "".join(line for line in text.splitlines(True) if "fingerprint =" not in line).encode(), "d"
    )
    (one,) = found.problems
    assert problem in one.problem
    assert one.key == "steps[1].picture"
    assert one.line


def test_a_picture_for_a_step_that_is_not_there_is_refused(tmp_path: Path):
    for given in ("3=x.jpg", "0=x.jpg", "jug.jpg", "1="):
        with pytest.raises(InputError, match="names none of the deck's 2 steps"):
            with_pictures(LESSONS, [given])


def assigned(app: TableApp, deck: Deck) -> None:
    put_deck(app.app_state.record, deck.fingerprint, deck.title, to_kept(deck), MORNING)
    app.app_state.use(demo_set())


async def test_a_lesson_comes_once_before_its_first_question_and_can_be_read_again(tmp_path: Path):
    picture = put_inside(open_picture(jug(tmp_path)))
    deck = replace(LESSONS, steps=(replace(STEPS[0], picture=picture), STEPS[1]))
    app = table(tmp_path, minutes=10)
    app.app_state.only_assigned = True
    assigned(app, deck)
    async with app.run_test(size=(80, 24)) as pilot:
        await settled(app, pilot)
        app.begin()
        await pilot.pause()
        assert isinstance(app.screen, LessonScreen)
        assert "Squint." in shown(app)
        await pilot.press("enter")
        await pilot.pause()
        # A preview asks all of the week: what comes next may bring the other lesson.
        seen = [isinstance(app.screen, LessonScreen)]
        for _ in range(8):
            if isinstance(app.screen, LessonScreen):
                assert "Squint." not in shown(app)
                await pilot.press("enter")
                await pilot.pause()
            assert isinstance(app.screen, PracticeScreen)
            assert "n lesson" in shown(app)
            await pilot.press("n")
            await pilot.pause()
            assert isinstance(app.screen, LessonScreen)
            await pilot.press("escape")
            await pilot.pause()
            await answer(pilot)
            await pilot.press("enter")
            await pilot.pause()
            seen.append(isinstance(app.screen, LessonScreen))
        assert sum(seen) <= 1


async def test_a_terminal_without_colour_says_so_instead_of_the_picture(tmp_path: Path):
    picture = put_inside(open_picture(jug(tmp_path)))
    app = table(tmp_path, depth=FEW_COLOURS)
    from coach.session.assigned.lessons import Lesson

    async with app.run_test(size=(80, 24)) as pilot:
        step = replace(STEPS[0], picture=picture)
        app.push_screen(LessonScreen([Lesson(LESSONS, step)]))
        await pilot.pause()
        assert "can't show its colours" in shown(app)
