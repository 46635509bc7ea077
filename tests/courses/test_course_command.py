"""``coach course``: the teacher's new, check, show and pack; the student's add, list and drop."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from decks.courses.course_file import load_course
from decks.starters import starter_course, starter_courses
from tests.courses.made import TEXT, course, practise, taken
from tests.courses.test_course_file import HOSTILE


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine.toml").write_text(TEXT, encoding="utf-8")
    return tmp_path


def run(*words: str, keys: str = "") -> Result:
    return CliRunner().invoke(cli, ["course", *words], input=keys)


def said(*words: str, keys: str = "") -> str:
    """What a command says that does what it was asked."""
    done = run(*words, keys=keys)
    assert done.exit_code == 0, (done.output, done.exception)
    return done.output


def refused(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, *words: str
) -> str:
    """The one line that a command ends in, run as a person runs it."""
    from coach.running.entry import main

    monkeypatch.setattr("sys.argv", ["coach", "course", *words])
    capsys.readouterr()
    with pytest.raises(SystemExit) as end:
        main()
    told = capsys.readouterr()
    assert end.value.code == 2
    assert told.out == ""
    assert told.err.startswith("coach: ")
    assert told.err.count("\n") == 1, told.err
    return told.err


# -- the teacher's ------------------------------------------------------------------------------


def test_new_copies_a_starter_and_says_how_to_check_it(home: Path):
    assert "Change it, then: coach course check 'my own.toml'" in said("new", "my own.toml")
    assert "sound. “A first month”: 4 decks: First week" in said("check", "my own.toml")
    assert load_course("my own.toml").sound() == starter_course("first-month")
    assert 'title = "A second month"' in said("new", "-", "--starter", "second-month")
    assert not (home / "home").exists()


def test_check_tells_every_fault_of_every_file(home: Path):
    bad = TEXT.replace('"hue-and-lean"', '"hue-and-leen"').replace("harder = -0.2", "harder = 7")
    (home / "bad.toml").write_text(bad, encoding="utf-8")
    done = run("check", "bad.toml", "no.toml", "mine.toml")
    assert done.exit_code == 2
    assert "bad.toml, line 33, key decks[2].kinds[1]" in done.output
    assert "bad.toml, line 9, key levels[1].harder" in done.output
    assert "no.toml: there is no such file" in done.output
    assert "mine.toml: sound. “Three weeks”: 3 decks: Value, Hue, Greys." in done.output


def test_show_tells_weeks_steps_what_each_needs_and_what_to_try_on_paper(home: Path):
    shown = said("show", "mine.toml")
    assert "No level is chosen: it is as written; there is “lighter”." in shown
    first = "Week 1 of 3: Value, 2 days, 4 questions a day, 6 from day 2; 2 steps;"
    assert f"{first} open from the start" in shown
    assert "Day 1: Look\n      On paper: Fill five boxes." in shown
    third = "Week 3 of 3: Greys, 1 day, 4 questions a day; 0 steps;"
    assert f"{third} opens once “Value” and “Hue” are passed" in shown
    lighter = said("show", "mine.toml", "--level", "LIGHTER")
    assert "Level: lighter." in lighter
    assert "Value, 2 days, 2 questions a day, 3 from day 2" in lighter
    assert "Complements that mute" in said("show", "--starter", "first-month")


def test_pack_makes_one_file_a_group_and_puts_pencils_in(home: Path):
    (home / "box.csv").write_text("name,hex\nSea,#2f7f93\nClay,#a0522d\nOchre,#c08a2e\n")
    told = said("pack", "mine.toml", "--pencils", "box.csv")
    assert "mine.course.toml is ready to send. “Three weeks”: 3 decks" in told
    assert "coach course add FILE" in told
    packed = load_course("mine.course.toml").sound()
    assert all(one.deck.pencils.count("\n") == 4 for one in packed.decks)
    told = said("pack", "mine.toml", "--level", "lighter")
    assert "mine-lighter.course.toml is ready to send. “Three weeks”, level lighter" in told
    assert load_course("mine-lighter.course.toml").sound().level == "lighter"
    assert "out.toml is ready" in said("pack", "mine.course.toml", "-o", "out.toml")
    assert load_course("out.toml").sound() == packed


def test_starters_and_schema_are_printed(home: Path):
    listed = said("starters").splitlines()
    assert [line.split()[0] for line in listed] == list(starter_courses())
    assert "A first month: " in listed[0]
    assert '"title": "A course of decks for the coloured-pencil coach, format 1"' in said("schema")


# -- the student's -------------------------------------------------------------------------------


def test_add_shows_what_it_changes_and_asks_and_drop_takes_it_out(home: Path):
    asked = run("add", "mine.toml", keys="n\n")
    assert asked.exit_code == 1
    assert "It says it is from: A. Teacher" in asked.output
    assert "one deck after another, 3 in all, from 4 questions a day on" in asked.output
    assert "No course yet" in said("list")
    assert "Three weeks is added." in said("add", "mine.toml", keys="y\n")
    assert "nothing was changed" in said("add", "mine.toml")
    listed = said("list").splitlines()
    assert listed[0] == "Three weeks (A. Teacher)"
    assert listed[1] == "  Week 1 of 3: Value: 0 of 4 today, day 1 of 2"
    assert listed[3] == "  Week 3 of 3: Greys: opens once “Value” and “Hue” are passed"
    assert "Three weeks is dropped" in said("drop", "three w")
    assert "No course yet" in said("list")


def test_a_level_given_with_add_stands_in_the_list_and_may_change(home: Path):
    said("add", "mine.toml", "--level", "lighter", "--yes")
    assert "Three weeks (A. Teacher), level: lighter" in said("list")
    assert "0 of 2 today" in said("list")
    assert "takes the place of what you have of it" in said("add", "mine.toml", "--yes")
    assert said("list").splitlines()[0] == "Three weeks (A. Teacher)"
    assert len(said("list").splitlines()) == 4


def test_what_was_passed_stays_passed_unless_added_anew(home: Path):
    (home / "home").mkdir()
    record = taken(home / "home" / "record.db", course())
    practise(record, "one", 0, 4)
    practise(record, "one", 1, 6)
    record.close()
    told = said("add", "mine.toml", "--level", "lighter", "--yes")
    assert "What you have passed stays passed: 1 of its decks." in told
    assert "Week 2 of 3: Hue: 0 of 2 today" in said("list")
    told = said("add", "mine.toml", "--level", "lighter", "--yes", "--anew")
    assert "stays passed" not in told
    assert "Week 2 of 3: Hue: opens once “Value” is passed" in said("list")


def test_a_starter_is_added_by_its_name_a_deck_or_a_course(home: Path):
    said("add", "--starter", "first-month", "--level", "less time", "--yes")
    assert "A first month" in said("list")
    assert "First week is added" in said("add", "--starter", "first-week", "--yes")


# -- what was given wrong, each in a line ----------------------------------------------------------

NOT_ONE = "give a FILE, or --starter NAME, and only one of them"
THERE = "there is a file of this name. Give another name, or add --force."
WRONG: dict[tuple[str, ...], str] = {
    ("bogus",): "No such command 'bogus'",
    ("new",): "Missing argument 'FILE'",
    ("new", ""): "the file to write: this is a folder",
    ("new", "mine.toml"): f"mine.toml: {THERE}",
    ("new", "no/such/x.toml"): "no/such/x.toml: there is no such folder",
    ("new", "x.toml", "--starter", "first-moth"): "Did you mean first-month?",
    ("new", "home"): "home: this is a folder",
    ("check",): "Missing argument 'FILES...'",
    ("check", "no.toml"): "no.toml: there is no such file. Check the path.",
    ("check", ""): "the file: there is no such file",
    ("check", "."): ".: this is not an ordinary file. Give the path of a deck or a course.",
    ("show",): NOT_ONE,
    ("show", "mine.toml", "--starter", "first-month"): NOT_ONE,
    ("show", "no.toml"): "no.toml: there is no such file",
    ("show", "deck.toml"): "deck.toml: this is a deck, not a course. See: coach deck preview",
    ("show", "mine.toml", "--level", "fuller"): "level “fuller”: the course has no such level. It",
    ("show", "--starter", "greys"): "“greys”: there is no such starter course. There are: first-m",
    ("pack", "no.toml"): "no.toml: there is no such file",
    ("pack", "mine.toml", "-o", "deck.toml"): f"deck.toml: {THERE}",
    ("pack", "mine.toml", "-o", "x/y.toml"): "x/y.toml: there is no such folder",
    ("pack", "mine.toml", "--pencils", "no.csv"): "no.csv: there is no such file",
    ("pack", "mine.toml", "--pencils", "deck.toml"): "there is no column called name",
    ("pack", "mine.toml", "--level", ""): "level “”: the course has no such level",
    ("pack", "mine.toml", "--picture", "1=x.jpg"): "--picture is for a deck of its own",
    ("pack", "deck.toml", "--level", "x"): "--level is for a course; this is a deck.",
    ("paper", "mine.toml"): "Missing option '--html'",
    ("paper", "--html", "x.html"): NOT_ONE,
    ("paper", "no.toml", "--html", "x.html"): "no.toml: there is no such file",
    ("paper", "deck.toml", "--html", "x.html"): "deck.toml: this is a deck, not a course",
    ("paper", "mine.toml", "--html", "deck.toml"): f"deck.toml: {THERE}",
    ("add",): NOT_ONE,
    ("add", "no.toml", "--yes"): "no.toml: there is no such file",
    ("add", "changed.toml", "--yes"): "key fingerprint: the course has changed since it was packed",
    ("add", "several.toml", "--yes"): "(And 3 more: coach course check tells all.)",
    ("add", "mine.toml", "--yes", "--level", "x"): "level “x”: the course has no such level. Its",
    ("add", "--starter", "grays", "--yes"): "Did you mean greys?",
    ("add", "--starter", "greys", "--level", "x"): "--level is for a course; this is a deck.",
    ("list", "x"): "unexpected extra argument (x)",
    ("drop",): "Missing argument 'COURSE'",
    ("drop", "x"): "you have no such course. See them with: coach course list",
    ("drop", ""): "you have no such course",
    ("drop", "three"): "several courses begin so. See them with: coach course list",
    ("starters", "x"): "unexpected extra argument (x)",
    ("schema", "x"): "unexpected extra argument (x)",
}


@pytest.fixture
def furnished(home: Path) -> Path:
    """Two courses taken in; beside them a deck, a pack changed since, a file of three faults."""
    (home / "home").mkdir()
    for other in ("Three months", "Three weeks"):
        text = TEXT.replace("Three weeks", other).replace('"A. Teacher"', f'"For {other}"')
        for title in ("Value", "Hue", "Greys"):
            text = text.replace(f'"{title}"', f'"{title}, in {other.lower()}"')
        taken(home / "home" / "record.db", course(text)).close()
    assert CliRunner().invoke(cli, ["deck", "new", "deck.toml"]).exit_code == 0
    run("pack", "mine.toml", "-o", "changed.toml")
    text = (home / "changed.toml").read_text(encoding="utf-8")
    (home / "changed.toml").write_text(text.replace("Fill five", "Fill nine"), encoding="utf-8")
    several = TEXT.replace("days = 1", "days = 0").replace("= 6", "= 600").replace("0.5", "50")
    (home / "several.toml").write_text(several, encoding="utf-8")
    return home


@pytest.mark.parametrize("words", WRONG, ids=" ".join)
def test_what_was_given_wrong_is_one_line(
    words: tuple[str, ...],
    furnished: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
):
    held = {path: path.read_bytes() for path in furnished.iterdir() if path.is_file()}
    assert WRONG[words] in refused(capsys, monkeypatch, *words)
    assert held == {path: path.read_bytes() for path in furnished.iterdir() if path.is_file()}


def test_every_command_of_the_group_is_tried_with_something_wrong():
    from coach.commands.course import command

    assert {words[0] for words in WRONG} - {"bogus"} == set(command.commands)


@pytest.mark.parametrize("name", sorted(HOSTILE.keys() - {"a deck"}))
@pytest.mark.parametrize(
    "words", [("show",), ("pack",), ("add", "--yes"), ("check",)], ids=" ".join
)
def test_a_hostile_file_is_one_line_and_nothing_is_kept(
    words: tuple[str, ...],
    name: str,
    home: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
):
    text, problem = HOSTILE[name]
    if name == "no decks" and words != ("show",):
        problem = "the key is missing"  # It may as well be a deck.
    (home / "theirs.toml").write_text(text, encoding="utf-8")
    told = refused(capsys, monkeypatch, words[0], "theirs.toml", *words[1:])
    assert "theirs.toml" in told
    assert problem in told
    assert "\x1b" not in told
    assert not (home / "home").exists()
    assert sorted(path.name for path in home.iterdir()) == ["mine.toml", "theirs.toml"]


def test_nothing_is_kept_where_there_is_no_record_yet(
    home: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
):
    refused(capsys, monkeypatch, "drop", "three")
    said("list")
    assert not (home / "home").exists()
