"""What is installed is ours, what CI installs is known, and the project says which it is."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from coach.__main__ import PARTS, not_ours

ROOT = Path(__file__).parent.parent
LOCK = ROOT / ".ci" / "lock.txt"


def test_our_packages_are_ours() -> None:
    assert not_ours() == ""


@pytest.mark.parametrize("name", PARTS)
@pytest.mark.parametrize("content", ["", "PART_OF = 'chess'", "raise RuntimeError('theirs')"])
def test_a_package_of_anothers_in_the_place_of_ours_is_one_line(
    name: str, content: str, tmp_path: Path
) -> None:
    (tmp_path / name).mkdir()
    (tmp_path / name / "__init__.py").write_text(content, encoding="utf-8")
    program = (
        f"import sys; sys.path[:0] = [{str(tmp_path)!r}, {str(ROOT)!r}];"
        "from coach.__main__ import main; main()"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], capture_output=True, text=True, cwd=tmp_path
    )
    assert done.returncode == 2
    assert done.stdout == ""
    assert done.stderr.count("\n") == 1
    assert f"“{name}”" in done.stderr
    assert "pipx" in done.stderr


def test_it_is_looked_at_before_anything_else_is_imported() -> None:
    program = (
        "import sys; import coach.__main__;"
        "print([m for m in sys.modules if m.split('.')[0] in ('drills', 'decks', 'scores')])"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, cwd=ROOT)
    assert done.stdout.strip() == b"[]"


def declared() -> dict[str, tuple[tuple[int, ...], tuple[int, ...]]]:
    """The range of each dependency in pyproject: from, and below."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)["project"]
    found = {}
    for text in project["dependencies"] + project["optional-dependencies"]["test"]:
        match = re.fullmatch(r"([\w-]+)>=([\d.]+),<([\d.]+)", text)
        assert match, text
        found[match[1]] = (numbers(match[2]), numbers(match[3]))
    return found


def numbers(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in version.split("."))


def test_the_lock_holds_all_that_is_declared_within_its_range() -> None:
    locked = {}
    for line in LOCK.read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            match = re.fullmatch(r"([\w.-]+)==([\d.]+) --hash=sha256:[0-9a-f]{64}", line)
            assert match, line
            locked[match[1].lower().replace("_", "-")] = numbers(match[2])
    assert len(locked) > 30
    for name, (least, below) in declared().items():
        assert least <= locked[name] < below, name


def test_the_lock_is_what_ci_installs() -> None:
    assert "--require-hashes -r .ci/lock.txt" in (ROOT / ".ci" / "run").read_text(encoding="utf-8")


def test_no_host_of_packages_is_named() -> None:
    text = LOCK.read_text(encoding="utf-8")
    assert "://" not in text
    assert "/" not in text.replace("# What CI installs, with hashes. Made by .ci/lock; for:", "")


def test_the_newest_change_told_is_this_version() -> None:
    from click.testing import CliRunner

    from coach.cli import cli

    with (ROOT / "pyproject.toml").open("rb") as file:
        version = tomllib.load(file)["project"]["version"]
    told = re.findall(r"^## (\S+)$", CliRunner().invoke(cli, ["changes"]).output, re.MULTILINE)
    assert told[0] == version
    assert told == sorted(told, key=numbers, reverse=True)
