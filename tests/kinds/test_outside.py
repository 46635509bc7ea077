"""Kinds of drill that other packages bring: found, held to the laws, left out with a reason."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.session.assigned.deck_progress import standing
from coach.session.today_plan import kinds_stamp
from decks.vocabulary import other_regions
from drills.kinds import all_kinds
from drills.laws import LAWS
from drills.outside import GROUP, lacking, outside_kinds, package_of
from scores.record.record import Record
from tests.answers import START, answer
from tests.classes import attempts, results_file
from tests.palettes import palette_of

LEAF = "green-drills.leaf"
SOURCE = Path(__file__).with_name("leaf.py").read_text(encoding="utf-8")

Install = Callable[..., None]


def forget() -> None:
    outside_kinds.cache_clear()
    all_kinds.cache_clear()
    other_regions.cache_clear()
    for name in [name for name in sys.modules if name.startswith("green_drills")]:
        del sys.modules[name]


@pytest.fixture
def install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Install]:
    """Put a package green-drills in place, with one kind ``name`` of this source."""
    site = tmp_path / "site"
    site.mkdir()

    def put(source: str = SOURCE, version: str = "1.2", name: str = "leaf") -> None:
        for old in site.glob("*.dist-info/*"):
            old.unlink()
        info = site / f"green_drills-{version}.dist-info"
        info.mkdir(exist_ok=True)
        (info / "METADATA").write_text(f"Name: Green_Drills\nVersion: {version}\n")
        (info / "entry_points.txt").write_text(f"[{GROUP}]\n{name} = green_drills:KIND\n")
        (site / "green_drills.py").write_text(source, encoding="utf-8")
        monkeypatch.setattr(sys, "dont_write_bytecode", True)
        monkeypatch.syspath_prepend(site)
        forget()

    yield put
    monkeypatch.undo()
    forget()


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("COACH_HOME", str(tmp_path / "home"))
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


def deck_file(home: Path, *kinds: str, families: str = "") -> str:
    text = f'format = 1\ntitle = "Leaves"\nauthor = "A. Teacher"\nkinds = {json.dumps(kinds)}\n'
    (home / "leaves.toml").write_text(text + families, encoding="utf-8")
    return "leaves.toml"


def test_it_is_found_under_its_package_s_name(install: Install) -> None:
    assert LEAF not in all_kinds()
    install()
    assert all_kinds()[LEAF].name == LEAF
    assert list(all_kinds()) == sorted(all_kinds())
    assert outside_kinds()[1] == ()


@pytest.mark.parametrize("law", LAWS, ids=lambda law: law.__name__)
def test_it_is_held_to_the_same_laws(install: Install, law) -> None:
    install()
    law(all_kinds()[LEAF], palette_of("pocket"))


def test_no_kind_of_ours_has_a_package_s_name() -> None:
    assert not any(map(package_of, all_kinds()))
    assert package_of(LEAF) == "green-drills"


def test_another_version_of_the_package_is_another_stamp(install: Install) -> None:
    before = kinds_stamp()
    install()
    first = kinds_stamp()
    install(version="1.3")
    assert len({before, first, kinds_stamp()}) == 3


@pytest.mark.parametrize(
    ("source", "name", "why"),
    [
        ("import no_such_module\n", "leaf", "ModuleNotFoundError"),
        ("raise SystemExit(3)\n", "leaf", "it can't be loaded: SystemExit: 3"),
        ("", "leaf", "AttributeError"),
        ("KIND = 7\n", "leaf", f"its name must be {LEAF}"),
        (SOURCE, "Leaf", "in small letters"),
        (SOURCE, "leaf" * 10, "40 characters at most"),
        (SOURCE, "twig", "its name must be green-drills.twig"),
        (SOURCE + "KIND.version = '2'\n", "leaf", "its version is missing or of a wrong type"),
        (SOURCE + "KIND.reveal = None\n", "leaf", "it has no reveal()"),
    ],
)
def test_a_broken_one_is_left_out_and_the_doctor_says_why(
    install: Install, home: Path, source: str, name: str, why: str
) -> None:
    install(source, name=name)
    assert not any(map(package_of, all_kinds()))
    done = run("doctor")
    (line,) = [line for line in done.output.splitlines() if line.startswith("! left out")]
    assert f"green-drills.{name}: " in line
    assert why in line
    assert done.exit_code == 1


def test_the_doctor_names_one_that_is_used(install: Install, home: Path) -> None:
    install()
    assert f"{LEAF}, version 1" in run("doctor").output


def test_a_deck_may_name_it(install: Install, home: Path) -> None:
    install()
    file = deck_file(home, LEAF, families='families = ["leaf greys"]\n')
    assert "not to be had" not in run("deck", "check", file).output
    assert "The lighter leaf (leaf greys)" in run("deck", "preview", file, "--pocket").output


def test_where_it_is_not_installed_the_student_is_told_and_the_rest_works(home: Path) -> None:
    file = deck_file(home, "handling", LEAF, families='families = ["leaf greys", "tooth"]\n')
    done = run("deck", "add", file, "--yes")
    assert done.exit_code == 0
    (line,) = [line for line in done.output.splitlines() if LEAF in line]
    assert "install the package green-drills." in line
    assert "The rest of the deck works without." in line
    assert "some of it only with the package green-drills" in run("deck", "list").output
    assert "  Handling (tooth)" in run("deck", "preview", file).output


def test_a_deck_of_nothing_else_says_what_it_takes(install: Install, home: Path) -> None:
    file = deck_file(home, LEAF)
    added = run("deck", "add", file, "--yes").output
    assert "install the package green-drills." in added
    assert "The rest" not in added
    record = Record.open(home / "home" / "record.db")
    (one,) = standing(record, "", kinds_stamp(), START)
    one = replace(one, tasks=())
    assert one.words == "it needs the package green-drills"
    install()
    assert one.words == "these pencils can't be asked for it"
    record.close()


def test_an_installed_package_without_the_kind_is_the_doctor_s_matter(
    install: Install, home: Path
) -> None:
    install("KIND = 7\n")
    assert lacking([LEAF]) == ()
    assert "see coach doctor" in run("deck", "check", deck_file(home, LEAF)).output


def test_answers_outlive_the_package(home: Path) -> None:
    """They are kept, shown, sent and counted where no one has it."""
    record = Record.open(home / "home" / "record.db", create=True)
    for number in range(30):
        record.save(answer(number, kind=LEAF, region="leaf greys", days=number / 4))
    record.close()
    (home / "wren.json").write_bytes(
        results_file("Wren", attempts("Wren", range(6), kind=LEAF, region="leaf greys"))
    )
    for words in (
        ("progress",),
        ("progress", "--json"),
        ("skills",),
        ("scores", "export", "--xapi", "mine.json"),
        ("scores", "export", "--csv", "mine.csv"),
        ("class", "add", "wren.json"),
        ("class", "show"),
        ("class", "report", "class.html"),
        ("class", "export", "--csv"),
        ("class", "export", "--xapi"),
    ):
        done = run(*words)
        assert done.exit_code == 0, (words, done.output, done.exception)
    assert LEAF in run("class", "export", "--csv").output
    assert "leaf" in run("skills").output
