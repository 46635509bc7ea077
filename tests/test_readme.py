"""What the README shows is true: its pictures are the app's own, its commands exist."""

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from coach.cli import cli
from drills.basics.errors import InputError
from tests.pictures import FOLDER, make

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text(encoding="utf-8")


async def test_pictures_are_what_the_app_shows_today() -> None:
    made: dict[str, str] = {}
    await make(made.__setitem__)
    for name, svg in made.items():
        kept = (FOLDER / name).read_text(encoding="utf-8")
        assert kept == svg, f"{name} is out of date: run python -m tests.pictures"


def test_every_picture_the_readme_names_is_there() -> None:
    for path in re.findall(r"!\[[^\]]+\]\(([^)]+)\)", README):
        assert (ROOT / path).is_file(), path


def test_both_commands_are_one_line_each() -> None:
    for mark in ("opens", "tests"):
        block = README.split(f"<!-- {mark} -->")[1].split("```")[1]
        assert len(block.strip().splitlines()) == 2, "the language and one command"


def _console_lines() -> list[str]:
    return re.findall(r"^(?:\$ )?coach (.+?)(?:\s+#.*)?$", README, flags=re.MULTILINE)


def test_commands_shown_exist() -> None:
    shown = _console_lines()
    assert shown
    groups = {"pencils", "deck", "class", "scores"}
    for line in shown:
        words = line.split()
        command = words[: 1 + (words[0] in groups)]
        result = CliRunner().invoke(cli, [*command, "--help"])
        assert result.exit_code == 0, line


def test_the_pencils_file_shown_is_a_good_one(tmp_path: Path) -> None:
    example = README.split("```csv\n")[1].split("```")[0]
    path = tmp_path / "my.csv"
    path.write_text(example, encoding="utf-8")
    result = CliRunner().invoke(cli, ["pencils", "check", str(path)])
    assert result.exit_code == 0, result.output
    with pytest.raises(InputError):
        CliRunner().invoke(
            cli, ["pencils", "check", str(tmp_path / "none.csv")], catch_exceptions=False
        )


def test_the_top_level_holds_only_what_it_should() -> None:
    allowed = {
        *("README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE"),
        *("coach", "drills", "decks", "scores", "tests"),
    }
    caches = {"build", "dist", "__pycache__"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    strays = {name for name in found - allowed - caches if not name.endswith(".egg-info")}
    assert not strays
