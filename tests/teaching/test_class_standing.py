"""Where students stand, and how sure that is; ``python -m tests.bench standing`` has the rates."""

from __future__ import annotations

import math
import random
from dataclasses import fields
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import minimize
from scipy.stats import binom

from scores.classes.class_lines import KindScale
from scores.classes.confusions import RISK, at_least, confusions
from scores.classes.standing import fit as fit_module
from scores.classes.standing.cells import Cells, cells_counted
from scores.classes.standing.drawn import drawn
from scores.classes.standing.fit import (
    CLASS_SD,
    LAPSE,
    NEAR,
    OWN_SPREADS,
    PRIOR_LEVEL,
    REGION_PART,
    REGION_SD,
    SKILL_SD,
    Setting,
    fitted,
    integrate,
)
from scores.classes.standing_lines import in_ten, in_words
from scores.classes.standings import class_standing
from scores.classes.views import overview
from scores.skill.difficulty import step_at
from tests.bench.class_truths import made_class
from tests.class_cells import cells_of
from tests.classes import STUDENTS, attempts, class_of, results_file

SCALES = {"match": KindScale(0.02, 0.8), "value": KindScale(1 / 3, 0.9)}


def small() -> Cells:
    rng = random.Random(3)
    rows = [
        (student, (kind, region), level, 3, rng.randint(0, 3))
        for student in range(4)
        for kind in SCALES
        for region in ("red", "blue")
        for level in (0.2, 0.4)
    ]
    return cells_of(4, rows, SCALES)


def test_the_fit_is_the_maximum_that_a_plain_optimiser_finds() -> None:
    """Against scipy's on the log posterior, written out here once more from the formula."""
    cells, setting = small(), Setting(0.13, 0.12, 10.0)
    kind, region = cells.kind_of, cells.region_of
    prior = CLASS_SD**2 * (kind[:, None] == kind) + REGION_SD**2 * (region[:, None] == region)
    precision = np.linalg.inv(prior + SKILL_SD**2 * np.eye(4))
    mean = PRIOR_LEVEL * cells.span[kind]

    def against(values: np.ndarray) -> float:
        skills, own = values[:4], values[4:].reshape(4, 5)
        total = 0.5 * (skills - mean) @ precision @ (skills - mean) + 0.5 * (own**2).sum()
        rows = zip(cells.student, cells.skill, cells.asked, cells.tries, cells.right, strict=True)
        for student, skill, asked, tries, right in rows:
            theta, u, w = own[student, [0, 1 + kind[skill], 3 + region[skill]]]
            ability = skills[skill] + 0.13 * theta + 0.12 * u + REGION_PART * 0.12 * w
            seen = 1 / (1 + math.exp(-10 * (ability - asked)))
            p = cells.chance[kind[skill]] + (1 - cells.chance[kind[skill]] - LAPSE) * seen
            total -= right * math.log(p) + (tries - right) * math.log(1 - p)
        return float(total)

    fit = fitted(cells, setting)
    found = np.concatenate([fit.skills, fit.own.ravel()])
    best = minimize(against, np.concatenate([mean, np.zeros(20)]), tol=1e-9)
    # A fit ends when its next step promises less than NEAR; the doubt of each is some 0.15.
    assert against(found) == pytest.approx(best.fun, abs=NEAR / 2)
    assert found[:4] == pytest.approx(best.x[:4], abs=0.02)


@pytest.mark.parametrize("in_one", [200_000, 20], ids=["whole", "part by part"])
@pytest.mark.parametrize("setting", [Setting(0.13, 0.12, 10.0), Setting(0.0, 0.06, 6.0)], ids=str)
def test_the_information_is_that_of_the_whole_matrix(
    setting: Setting, in_one: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Inverted as one, students' own and the class's together, by numpy."""
    monkeypatch.setattr(fit_module, "IN_ONE_THREAD", in_one)
    cells = small()
    weight = np.random.default_rng(5).uniform(0.0, 9.0, (4, 4))
    precision = np.diag([3.0, 2.0, 5.0, 4.0])
    design = np.zeros((4, 5))
    for skill in range(4):
        design[skill, 0] = setting.spread
        design[skill, 1 + cells.kind_of[skill]] = setting.own
        design[skill, 3 + cells.region_of[skill]] = REGION_PART * setting.own
    whole = np.zeros((4 + 20, 4 + 20))
    whole[:4, :4] = precision + np.diag(weight.sum(axis=0))
    for student in range(4):
        mine = slice(4 + 5 * student, 9 + 5 * student)
        within = design.T @ np.diag(weight[student]) @ design + np.eye(5)
        across = design.T @ np.diag(weight[student])
        whole[mine, mine], whole[mine, :4], whole[:4, mine] = within, across, across.T
    found = fit_module._information(cells, setting, precision, weight)
    assert np.linalg.inv(found.about) == pytest.approx(np.linalg.inv(whole)[:4, :4])
    together = found.log_det + np.linalg.slogdet(found.about)[1]
    assert together == pytest.approx(np.linalg.slogdet(whole)[1])
    for student in range(4):
        mine = slice(4 + 5 * student, 9 + 5 * student)
        assert found.inverse[student] == pytest.approx(np.linalg.inv(whole[mine, mine]))


def test_counts_of_several_decks_are_one_cell_whatever_the_keys() -> None:
    """Rows by key come out as rows by name do; two of one bin add up."""
    ids, skills = {7: "b", 3: "a"}, {1: ("value", "red"), 2: ("match", "blue"), 9: ("match", "red")}
    rows = [
        (7, 1, 4, 2, 1, 0.21),
        (7, 1, 4, 3, 3, 0.36),
        (3, 9, 0, 1, 0, 0.0),
        (3, 2, 9, 4, 2, 0.9),
    ]
    for mine in (rows, rows[::-1]):
        students, cells = cells_counted(mine, ids, skills, SCALES)
        assert students == ["a", "b"]
        named = [
            (0, ("match", "blue"), 0.9 / 4, 4, 2),
            (0, ("match", "red"), 0.0, 1, 0),
            (1, ("value", "red"), (0.21 + 0.36) / 5, 5, 4),
        ]
        plain = cells_of(2, named, SCALES)
        for field in fields(Cells):
            got, expected = getattr(cells, field.name), getattr(plain, field.name)
            assert np.array_equal(got, expected) if isinstance(got, np.ndarray) else got == expected


def test_who_stands_where_is_found_and_what_is_said_to_be_sure_mostly_is() -> None:
    named = right = 0
    for seed in range(4):
        made = made_class(seed)
        told = drawn(made.cells, integrate(made.cells))
        third = set(np.argsort(made.true)[: len(made.true) // 3].tolist())
        weak = set(np.flatnonzero(told.weak >= 0.8).tolist())
        named += len(weak)
        right += len(weak & third)
    assert named >= 10  # of 32
    assert right >= 0.8 * named


def test_a_class_of_equals_may_be_found_to_be_one() -> None:
    made = made_class(2, equal=True)
    fits = integrate(made.cells)
    assert fits[0][1].setting.spread <= 0.04
    assert drawn(made.cells, fits).differ < 0.5
    assert OWN_SPREADS[0] == 0.0


def test_students_who_answered_nothing_alike_are_not_told_apart() -> None:
    """One answer each leaves a third of a chance to be in the weakest third, more or less."""
    cells = cells_of(6, [(s, ("value", "red"), 0.3, 1, 1) for s in range(6)], SCALES)
    told = drawn(cells, integrate(cells))
    assert told.weak == pytest.approx([1 / 3] * 6, abs=0.06)


def at_match(student: str, count: int, right: bool, level: float, first: int = 0):
    step = step_at((10.0, 1.0), level)
    return attempts(
        student, range(first, first + count), kind="match", region="red", step=step,
        steps=(10.0, 1.0), right=right, score=float(right), chance=0.02,
    )  # fmt: skip


def test_none_of_five_at_the_match_is_stuck_there_and_says_so(tmp_path: Path) -> None:
    book = class_of(
        tmp_path / "class.db",
        results_file("Wren", [*at_match("Wren", 5, False, 0.05), *_fair("Wren")]),
        results_file("Rail", [*at_match("Rail", 8, True, 0.3), *_fair("Rail")]),
        results_file("Teal", [*at_match("Teal", 8, True, 0.3), *_fair("Teal")]),
    )
    standing = class_standing(book, SCALES)
    wren = standing.by_student()[STUDENTS["Wren"]]
    assert [one.kind for one in wren.stuck] == ["match"]
    assert (wren.stuck[0].right, wren.stuck[0].tries) == (0, 5)
    assert not standing.by_student()[STUDENTS["Rail"]].stuck
    assert standing == class_standing(book, SCALES), "the same answers, the same words"


def _fair(student: str):
    return attempts(
        student, range(50, 62), kind="value", region="blue", step=step_at((20.0, 1.0), 0.3),
        steps=(20.0, 1.0),
    )  # fmt: skip


def test_every_student_has_a_place_and_who_is_not_known_a_question(tmp_path: Path) -> None:
    book = class_of(
        tmp_path / "class.db",
        *(results_file(name, _fair(name)[: 2 + at]) for at, name in enumerate(STUDENTS)),
    )
    standing = class_standing(book, SCALES)
    assert {one.student for one in standing.students} == set(STUDENTS.values())
    for one in standing.at("not known yet"):
        assert one.ask is not None
    assert len(overview(book).students) == 3


def test_an_unknown_kind_is_read_too() -> None:
    cells = cells_of(3, [(s, ("elsewhere", "red"), 0.3, 4, s + 1) for s in range(3)], {})
    assert np.isfinite(drawn(cells, integrate(cells)).weak).all()


# What is confused


def rows_of(rng: random.Random, special: float = 0.0) -> list[tuple[int, int, int, int]]:
    """A class's answers: 17 of 20 right, errors on neighbours; red for red-orange more often."""
    counts: dict[tuple[int, int], int] = {}
    for truth in range(12):
        for _ in range(60):
            said = truth
            if truth == 4 and rng.random() < special:
                said = 3
            elif rng.random() < 0.15:
                said = (truth + rng.choice((-1, 1, -1, 1, -1, 1, 2, -2))) % 12
            counts[truth, said] = counts.get((truth, said), 0) + 1
    return [(truth, said, tries, min(9, tries)) for (truth, said), tries in counts.items()]


def test_accidents_between_neighbours_are_no_confusion_and_a_true_one_is_found() -> None:
    rng = random.Random(1)
    assert sum(bool(confusions(rows_of(rng))) for _ in range(60)) <= 60 * RISK + 2
    found = [confusions(rows_of(rng, special=0.3)) for _ in range(10)]
    told = [(one[0].truth, one[0].said) for one in found if one]
    assert len(told) >= 8
    assert set(told) == {("red", "red-orange")}


def test_one_student_s_habit_is_not_the_class_s() -> None:
    rows = rows_of(random.Random(1), 0.4)
    assert confusions(rows)
    rows = [(t, s, n, 1 if (t, s) == (4, 3) else k) for t, s, n, k in rows]
    assert confusions(rows) == ()


@pytest.mark.parametrize(("count", "tries", "share"), [(3, 10, 0.2), (1, 40, 0.01), (30, 90, 0.06)])
def test_a_tail_is_the_binomial_s(count: int, tries: int, share: float) -> None:
    """Against scipy.stats.binom."""
    assert at_least(count, tries, share) == pytest.approx(
        binom.sf(count - 1, tries, share), rel=1e-9
    )


def test_how_sure_is_said_in_words_and_counts() -> None:
    told = {0.97: "almost sure", 0.9: "very likely", 0.75: "likely", 0.5: "maybe"}
    assert {sure: in_words(sure) for sure in told} == told
    assert [in_ten(sure) for sure in (1.0, 0.97, 0.9, 0.33, 0.01)] == [
        *("99 in 100", "97 in 100", "9 in 10", "3 in 10", "under 1 in 20")
    ]
