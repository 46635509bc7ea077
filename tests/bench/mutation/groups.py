"""Which modules are mutated, by subject, and which tests must notice."""

from __future__ import annotations

from typing import NamedTuple


class Part(NamedTuple):
    """Modules, as patterns of paths, and the test files that must notice a fault in them; the
    quickest first. A module belongs to the first part of its group that names it."""

    modules: tuple[str, ...]
    tests: tuple[str, ...]


CHOSEN = (
    "tests/planning/test_choice.py",
    "tests/planning/test_plan_words.py",
    "tests/planning/test_roles.py",
)
PLANNED = (*CHOSEN, "tests/planning/test_answers.py", "tests/planning/test_trade.py")
SEARCHED = ("tests/planning/test_search.py", "tests/planning/test_craft.py")
TODAY = (
    "tests/session/test_need_figures.py",
    "tests/session/test_mix.py",
    "tests/session/test_day_plan.py",
    "tests/session/test_need.py",
    "tests/session/test_plan.py",
)
KEPT = (
    "tests/record/test_lines.py",
    "tests/record/test_pages.py",
    "tests/record/test_set_aside.py",
    "tests/record/test_looked_over.py",
    "tests/record/test_answers.py",
    "tests/record/test_schemas.py",
    "tests/record/test_migrations.py",
    "tests/record/test_journal.py",
    "tests/record/test_trouble.py",
)

GROUPS: dict[str, tuple[Part, ...]] = {
    "planning": (
        Part(
            ("drills/planning/rules.py", "drills/planning/search/craft.py"),
            (*CHOSEN, "tests/planning/test_each_rule.py", *SEARCHED),
        ),
        Part(
            ("drills/planning/search/*.py",),
            (*CHOSEN, *SEARCHED, "tests/planning/test_answers.py", "tests/planning/test_light.py"),
        ),
        Part(
            ("drills/planning/*.py",),
            (*PLANNED, "tests/planning/test_light.py", "tests/planning/test_craft.py"),
        ),
    ),
    "scheduling": (
        Part(("scores/today/*.py",), TODAY),
        Part(("scores/skill/*.py",), ("tests/skill", "tests/session/test_plan.py")),
    ),
    "session": (
        Part(
            ("coach/session/deck*.py",),
            (
                "tests/decks/test_work_figures.py",
                "tests/decks/test_work.py",
                "tests/decks/test_session.py",
            ),
        ),
        Part(
            ("coach/session/retest_session.py",),
            ("tests/session/test_retest.py", "tests/progress/test_probe.py"),
        ),
        Part(
            ("coach/session/*.py",),
            (
                "tests/session/test_session_figures.py",
                "tests/session/test_retest.py",
                "tests/session/test_run.py",
                "tests/decks/test_session.py",
                "tests/decks/test_work.py",
            ),
        ),
    ),
    "record": (Part(("scores/record/**/*.py",), KEPT),),
    "reading": (
        Part(
            tuple(
                f"drills/colour/{name}.py" for name in ("reading", "words", "change", "everyday")
            ),
            ("tests/colour/test_words.py", "tests/colour/test_reading.py"),
        ),
    ),
}
