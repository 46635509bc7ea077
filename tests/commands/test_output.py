"""What commands write: whole, for its owner alone, and over nothing of anyone's."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click import Group
from click.testing import CliRunner, Result

from coach.cli import cli
from coach.output import RULES
from drills.basics.drafts import take_name
from drills.basics.errors import InputError
from scores.record.record import Record
from tests.answers import answer
from tests.pseudo_terminal import ROOT, surroundings

DECK = "d" * 64


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A learner who teaches a class as well: a record with answers, and a class file."""
    home = tmp_path / "home"
    monkeypatch.setenv("COACH_HOME", str(home))
    record = Record.open(home / "record.db")
    for number in range(4):
        record.save(answer(number, kind="lighter-or-darker", region="red", days=number))
    record.close()
    names = tmp_path / "names.txt"
    names.write_text("Ada\nBen\n", encoding="utf-8")
    assert run("class", "expect", str(names)).exit_code == 0
    return home


def run(*words: str) -> Result:
    return CliRunner().invoke(cli, words)


PAGES = {
    "plan": ("plan", "#c33935", "--svg", "{}"),
    "plan page": ("plan", "#c33935", "--html", "{}"),
    "pencil sheet": ("pencils", "sheet", "{}", "--blank"),
    "progress": ("progress", "--html", "{}"),
    "charts": ("progress", "--svg", "{}"),
    "class report": ("class", "report", "{}"),
}
DATA = {
    "answers": ("scores", "export", "--csv", "{}"),
    "record": ("scores", "export", "--json", "{}"),
    "statements": ("scores", "export", "--xapi", "{}"),
    "class answers": ("class", "export", "--csv", "-o", "{}"),
    "deck": ("deck", "new", "{}"),
}
ALL = PAGES | DATA


def words(name: str, file: Path) -> tuple[str, ...]:
    return tuple(word.replace("{}", str(file)) for word in ALL[name])


def refused(result: Result, file: Path) -> str:
    assert isinstance(result.exception, InputError), result.output
    text = str(result.exception)
    assert "\n" not in text
    assert str(file) in text
    return text


@pytest.mark.parametrize("name", ALL)
def test_a_new_file_is_its_owners_alone_and_whole(name: str, home: Path, tmp_path: Path) -> None:
    file = tmp_path / "new"
    os.umask(0)
    assert run(*words(name, file)).exit_code == 0
    assert file.stat().st_mode & 0o777 == 0o600
    assert file.stat().st_size > 0
    assert not list(tmp_path.glob(".coach-*"))


@pytest.mark.parametrize("name", ALL)
def test_a_file_that_is_there_stays_without_force(name: str, home: Path, tmp_path: Path) -> None:
    file = tmp_path / "mine"
    file.write_text("dear", encoding="utf-8")
    assert "--force" in refused(run(*words(name, file)), file)
    assert file.read_text(encoding="utf-8") == "dear"
    assert run(*words(name, file), "--force").exit_code == 0
    assert file.read_text(encoding="utf-8") != "dear"


@pytest.mark.parametrize("name", PAGES)
def test_a_page_of_ours_is_made_anew_but_only_of_the_same_kind(
    name: str, home: Path, tmp_path: Path
) -> None:
    file = tmp_path / "page"
    assert run(*words(name, file)).exit_code == 0
    first = file.read_bytes()
    assert run(*words(name, file)).exit_code == 0
    assert file.read_bytes()[:300] == first[:300]
    for other in PAGES.keys() - {name}:
        refused(run(*words(other, file)), file)
    assert file.read_bytes()[:300] == first[:300]


@pytest.mark.parametrize("name", DATA)
def test_data_is_never_written_over_unasked(name: str, home: Path, tmp_path: Path) -> None:
    file = tmp_path / "data"
    assert run(*words(name, file)).exit_code == 0
    refused(run(*words(name, file)), file)


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("own", ["record.db", "record.journal", "class.db", "record-new.db"])
def test_the_coachs_own_files_are_never_written_to(name: str, own: str, home: Path) -> None:
    file = home / own
    before = file.read_bytes() if file.exists() else None
    assert "coach's own" in refused(run(*words(name, file), "--force"), file)
    assert (file.read_bytes() if file.exists() else None) == before


@pytest.mark.parametrize("name", ALL)
def test_nor_by_another_name_of_theirs(name: str, home: Path, tmp_path: Path) -> None:
    other = tmp_path / "other"
    os.link(home / "record.db", other)
    before = other.read_bytes()
    assert "coach's own" in refused(run(*words(name, other), "--force"), other)
    assert other.read_bytes() == before


@pytest.mark.parametrize("name", ALL)
@pytest.mark.parametrize("there", [True, False])
def test_nothing_is_written_through_a_link(
    name: str, there: bool, home: Path, tmp_path: Path
) -> None:
    target, link = tmp_path / "target", tmp_path / "link"
    if there:
        target.write_text("dear", encoding="utf-8")
    link.symlink_to(target)
    assert "a link" in refused(run(*words(name, link), "--force"), link)
    assert link.is_symlink()
    assert target.exists() is there


@pytest.mark.parametrize("name", ALL)
def test_nor_into_a_folder_a_pipe_or_a_device(name: str, home: Path, tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for file in (tmp_path, pipe, Path(os.devnull)):
        refused(run(*words(name, file), "--force"), file)


@pytest.mark.parametrize("name", ALL)
def test_a_folder_that_is_not_there_is_not_made(name: str, home: Path, tmp_path: Path) -> None:
    file = tmp_path / "nowhere" / "page"
    assert "no such folder" in refused(run(*words(name, file)), file)
    assert not file.parent.exists()


@pytest.mark.parametrize("name", ALL)
def test_a_name_too_long_is_one_line(name: str, home: Path, tmp_path: Path) -> None:
    result = run(*words(name, tmp_path / ("n" * 300)))
    assert isinstance(result.exception, InputError)
    assert "\n" not in str(result.exception)


COPIES = {
    "copy": ("scores", "backup", "{}"),
    "rescued": ("scores", "rescue", "{home}/record.db", "-o", "{}"),
}


@pytest.mark.parametrize("name", COPIES)
def test_records_are_written_by_the_same_rules_and_never_over_a_file(
    name: str, home: Path, tmp_path: Path
) -> None:
    def given(file: Path) -> tuple[str, ...]:
        return tuple(
            word.replace("{}", str(file)).replace("{home}", str(home)) for word in COPIES[name]
        )

    os.umask(0)
    file, link = tmp_path / "new.db", tmp_path / "link"
    assert run(*given(file)).exit_code == 0
    assert file.stat().st_mode & 0o777 == 0o600
    assert not list(tmp_path.glob("*.new-*"))
    before = file.read_bytes()
    assert "coach's own" in refused(run(*given(file)), file)
    assert file.read_bytes() == before
    note = tmp_path / "note"
    note.write_text("dear", encoding="utf-8")
    text = refused(run(*given(note)), note)
    assert "a file of this name" in text
    assert "--force" not in text
    link.symlink_to(tmp_path / "nothing")
    assert "a link" in refused(run(*given(link)), link)
    for own in ("record.db", "class.db", "record-new.db"):
        assert "coach's own" in refused(run(*given(home / own)), home / own)
    assert note.read_text(encoding="utf-8") == "dear"
    assert not (tmp_path / "nothing").exists()


@pytest.mark.parametrize("name", [*ALL, "copy"])
def test_a_folder_of_a_user_who_is_none_is_one_line(name: str, home: Path) -> None:
    file = Path("~nosuchuserhere/x")
    given = words(name, file) if name in ALL else ("scores", "backup", str(file))
    assert "no such user's folder" in refused(run(*given), file)


def test_a_draft_takes_its_name_over_nothing_with_links_or_without(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    draft, path = tmp_path / "draft", tmp_path / "path"

    def no_links(*given: object) -> None:
        raise OSError("there are no links here")

    for link in (os.link, no_links):
        monkeypatch.setattr("os.link", link)
        path.unlink(missing_ok=True)
        draft.write_text("new", encoding="utf-8")
        take_name(draft, path)
        assert path.read_text(encoding="utf-8") == "new"
        draft.unlink(missing_ok=True)
        draft.write_text("newer", encoding="utf-8")
        with pytest.raises(FileExistsError):
            take_name(draft, path)
        assert path.read_text(encoding="utf-8") == "new"


def commands(group: Group, before: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    from click import Context

    context = Context(group)
    for name in group.list_commands(context):
        found = group.get_command(context, name)
        path = (*before, name)
        if isinstance(found, Group):
            yield from commands(found, path)
        elif found is not None and any(one.name == "force" for one in found.params):
            yield path


def test_every_help_of_a_command_that_writes_says_so() -> None:
    found = set(commands(cli))
    assert found == {
        ("class", "brief"),
        ("class", "export"),
        ("class", "report"),
        ("class", "question"),
        ("class", "reply"),
        ("teacher", "ask"),
        ("course", "new"),
        ("course", "pack"),
        ("course", "paper"),
        ("deck", "new"),
        ("deck", "pack"),
        ("deck", "paper"),
        ("deck", "photo"),
        ("palette",),
        ("plan",),
        ("progress",),
        ("pencils", "photo"),
        ("pencils", "sheet"),
        ("scores", "export"),
        ("scores", "share"),
    }
    for path in found:
        said = " ".join(run(*path, "--help").output.split())
        assert RULES in said, path


def test_dates_are_written_without_the_codes_of_one_system() -> None:
    """Only what C89, and so every system, knows: ``%-d``, ``%#d`` and ``%e`` are not."""
    portable = set("aAbBcdHIjmMpSUwWxXyYZ%")
    for floor in ("coach", "decks", "scores", "drills"):
        for path in (ROOT / floor).rglob("*.py"):
            for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
                for code in re.findall(r"strftime\(([^)]*)\)", line):
                    assert set(re.findall(r"%(.)", code)) <= portable, f"{path}:{number}"
                assert not re.search(r"%[-#_^][A-Za-z]", line.split("``")[0]), f"{path}:{number}"
                for spec in re.findall(r"{[\w.]+:(%[^{}]*)}", line):
                    assert set(re.findall(r"%(.)", spec)) <= portable, f"{path}:{number}"


@pytest.mark.parametrize("start", [b"SQLite format 3\0", b'0badc0de {"journal":{"format":1}}\n'])
def test_a_record_anywhere_is_never_written_over(start: bytes, home: Path, tmp_path: Path) -> None:
    file = tmp_path / "kept elsewhere"
    file.write_bytes(start + b"x" * 100)
    assert "coach's own" in refused(run("deck", "new", str(file), "--force"), file)
    assert file.read_bytes().startswith(start)


# Where the words go


def shell(command: str, home: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        ["bash", "-c", command.replace("coach", f"{sys.executable} -m coach")],
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=surroundings(home),
    )


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no full device here")
def test_a_full_disk_under_the_output_is_one_line(tmp_path: Path) -> None:
    done = shell("coach deck kinds > /dev/full", tmp_path)
    assert done.returncode == 2
    assert done.stderr.count("\n") == 1
    assert "no space left" in done.stderr


@pytest.mark.parametrize("words", ["deck schema", "read '#c33935' --json", "deck kinds"])
def test_a_reader_that_goes_away_is_nothing_wrong(words: str, tmp_path: Path) -> None:
    done = shell(f"set -o pipefail; coach {words} | true", tmp_path)
    assert done.returncode == 0, done.stderr
    assert done.stderr == ""


def test_no_output_at_all_is_nothing_wrong(tmp_path: Path) -> None:
    done = shell("coach read '#c33935' >&-", tmp_path)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(
    "given",
    [
        ("x\x1b[31mz",),
        ("read", "#c33935", "--x\x1b[31mz"),
        ("plan", "#c33935", "--paper", "\x1b]0;z\x07"),
        ("deck", "add", "a", "b\x1b[2J"),
        ("read", "\x1b[31m"),
    ],
)
def test_what_was_typed_wrong_is_told_without_its_escape_codes(
    given: tuple[str, ...], tmp_path: Path
) -> None:
    done = subprocess.run(
        [sys.executable, "-m", "coach", *given],
        capture_output=True,
        cwd=ROOT,
        env=surroundings(tmp_path),
    )
    assert done.returncode == 2
    assert done.stderr.count(b"\n") == 1
    assert not set(done.stderr) & {0x1B, 0x07}


def test_it_says_its_version(tmp_path: Path) -> None:
    assert re.fullmatch(r"coach (\d+\.\d+\.\d+|unknown)\n", run("--version").output)
