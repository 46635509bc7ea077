"""The floors: imports run one way, the lower ones know no screen or clock, starts are light."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MAY_IMPORT = {
    "drills": {"drills"},
    "scores": {"scores", "drills"},
    "decks": {"decks", "scores", "drills"},
    "coach": {"coach", "decks", "scores", "drills"},
}
FLOORS = set(MAY_IMPORT)


def sources(floor: str) -> Iterator[Path]:
    yield from sorted((ROOT / floor).rglob("*.py"))


def imported(path: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            yield node.module or ""


@pytest.mark.parametrize("floor", sorted(FLOORS))
def test_imports_run_one_way(floor: str) -> None:
    for path in sources(floor):
        above = {name.split(".")[0] for name in imported(path)} & FLOORS - MAY_IMPORT[floor]
        assert not above, f"{path.relative_to(ROOT)} imports {sorted(above)}"


@pytest.mark.parametrize("floor", ["drills", "scores", "decks"])
def test_lower_floors_know_no_screen(floor: str) -> None:
    for path in sources(floor):
        tops = {name.split(".")[0] for name in imported(path)}
        assert not tops & {"textual", "rich", "click"}, path.relative_to(ROOT)


@pytest.mark.parametrize("floor", ["drills", "scores", "decks"])
def test_lower_floors_read_no_clock_and_throw_no_dice_of_their_own(floor: str) -> None:
    """Time and seeds are handed in. ``random.Random(seed)`` is a seeded generator."""
    asking = {"now", "utcnow", "today", "time", "monotonic", "perf_counter", "SystemRandom"}
    for path in sources(floor):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute)):
                continue
            owner = ast.unparse(node.func.value)
            where = f"{path.relative_to(ROOT)}:{node.lineno}"
            if owner.split(".")[-1] in {"datetime", "date", "time"}:
                assert node.func.attr not in asking, where
            if owner == "random":
                assert node.func.attr in {"Random"}, where


def test_a_kind_of_drill_is_known_by_no_other_file() -> None:
    """Adding a kind touches nothing else, so nothing may import one by name."""
    kinds = {path.stem for path in (ROOT / "drills" / "kinds").glob("*.py")}
    named = {f"drills.kinds.{kind}" for kind in kinds - {"__init__", "protocol", "common"}}
    with_kind = {
        name
        for name in named
        if "\nKIND = " in (ROOT / f"{name.replace('.', '/')}.py").read_text(encoding="utf-8")
    }
    assert len(with_kind) >= 4
    for floor in FLOORS:
        for path in sources(floor):
            assert not with_kind & set(imported(path)), path.relative_to(ROOT)


OF_THE_RECORD = r"\b(attempts|attempt_facts|skills|kind_times|trials|pencil_sets|decks|settings)\b"


def test_only_the_record_touches_its_tables() -> None:
    """Others ask ``scores.record.queries``, and none reaches into a record's insides.

    What looks at files that may be damaged (``scores.upkeep``) counts their rows as they are.
    """
    for floor in FLOORS:
        for path in sources(floor):
            where = path.relative_to(ROOT)
            if where.parts[:2] == ("scores", "record"):
                continue
            text = path.read_text(encoding="utf-8")
            assert not re.search(r"\b(record|other|Record)\._[a-z]", text), where
            if where.parts[:2] not in (("scores", "classes"), ("scores", "upkeep")):
                assert not re.search(rf"\b(FROM|INTO|UPDATE) {OF_THE_RECORD}", text), where


def loaded_after(program: str) -> set[str]:
    """The names of the modules that a fresh Python has loaded after running ``program``."""
    told = subprocess.run(
        [sys.executable, "-c", f"{program}\nimport sys; print(*sys.modules)"],
        check=True,
        capture_output=True,
        text=True,
        cwd=ROOT,
    )
    return set(told.stdout.split())


def test_the_first_screen_loads_nothing_heavy() -> None:
    loaded = loaded_after(
        "import coach.start, coach.app, coach.app_state\n"
        "import coach.screens.practice.today, coach.screens.first_start.welcome\n"
        "from scores.record.record import Record"
    )
    assert not loaded & {"numpy", "scipy", "colour", "PIL", "sqlite_utils", "fsrs", "pandas"}
    assert not loaded & {"pillow_heif", "drills.pictures.opening"}
    # What decks and teachers send is read only where there is some.
    assert not loaded & {"decks.deck", "coach.teaching.reply", "coach.session.assigned.lessons"}


def test_the_room_for_photos_loads_no_reader_before_a_photo_is_opened() -> None:
    loaded = loaded_after("import coach.screens.look, coach.screens.looking.kept")
    assert not loaded & {"numpy", "PIL", "pillow_heif"}
    loaded = loaded_after("import coach.commands.look, coach.commands.palette")
    assert not loaded & {"numpy", "PIL", "pillow_heif", "textual"}


def test_a_photo_is_read_by_one_module_and_loads_only_what_it_needs() -> None:
    loaded = loaded_after(
        "from tests.photos.made import filed, plain\n"
        "import sys; [sys.modules.pop(name) for name in list(sys.modules) if 'heif' in name]\n"
        "from drills.pictures.opening import picture_of\n"
        "picture_of(filed(plain((1, 2, 3))), 'a').levels()"
    )
    assert "PIL" in loaded
    assert not loaded & {"pillow_heif", "colour", "scipy"}


def test_nothing_at_run_time_loads_the_reference_library() -> None:
    loaded = loaded_after(
        "from drills.kinds import all_kinds; all_kinds()\n"
        "from drills.pencils.sets import demo_set\n"
        "from drills.layering.palette import prepare\n"
        "prepare(demo_set()).pool\n"
        "from drills.colour.reading import read_colour; read_colour((50, 10, 10)).munsell"
    )
    assert "numpy" in loaded
    assert not loaded & {"colour", "scipy", "PIL", "matplotlib"}


MOST_MODULES, MOST_LINES = 15, 350
"""Loose modules in a folder, and lines in a file."""


@pytest.mark.parametrize("floor", sorted(FLOORS))
def test_folders_and_files_stay_small(floor: str) -> None:
    for path in sources(floor):
        where = path.relative_to(ROOT)
        loose = [one for one in path.parent.glob("*.py") if not one.name.startswith("__")]
        assert len(loose) <= MOST_MODULES, where.parent
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= MOST_LINES, f"{where} has {lines} lines"


def test_no_module_needs_itself_by_way_of_others() -> None:
    """Not even for types alone, or inside a function."""
    needs: dict[str, set[str]] = {}
    for floor in FLOORS:
        for path in sources(floor):
            needs[module_name(path)] = set()
    for floor in FLOORS:
        for path in sources(floor):
            for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(node, ast.Import):
                    found = [name.name for name in node.names]
                elif isinstance(node, ast.ImportFrom) and node.module:
                    found = [node.module, *(f"{node.module}.{one.name}" for one in node.names)]
                else:
                    continue
                needs[module_name(path)] |= needs.keys() & set(found) - {module_name(path)}
    while True:
        free = {name for name, others in needs.items() if not others}
        if not free:
            break
        needs = {name: others - free for name, others in needs.items() if name not in free}
    assert not needs, f"in or above a circle: {sorted(needs)}"


def module_name(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)
