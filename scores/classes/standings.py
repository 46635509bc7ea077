"""Who stands where in a class, on what, and how sure: the class read by one model.

Chances and ranges of the drill kinds are handed in, for this floor knows no drill.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from scores.classes.class_lines import KindScale, Skill
from scores.classes.confusions import confusions
from scores.classes.people import told_apart
from scores.classes.standing_lines import (
    NOBODY,
    PLACES,
    AtKind,
    ClassStanding,
    Harder,
    Pair,
    Place,
    SkillLevel,
    Standing,
)
from scores.classes.store import ClassBook
from scores.classes.views import mixup_rows, only

if TYPE_CHECKING:
    from scores.classes.standing.cells import Cells, CountedRow
    from scores.classes.standing.drawn import Drawn

WEAK, DIFFER = 0.8, 0.95
"""Who is named weak: likely so much to stand in the weakest third, in a class whose students
differ in earnest as surely as that."""
STUCK, BEHIND, ON_TRACK = 0.8, 0.8, 0.85
STUCK_TRIES = 4
"""Answers from which one may be called stuck at a kind."""
PAIR_SURE = 0.8
PAIRS_MOST = 6


def class_standing(
    book: ClassBook, scales: Mapping[str, KindScale], deck: str = ""
) -> ClassStanding:
    """The class over one deck (by fingerprint) or over all. Loads numpy where anybody answered."""
    return standing_from(class_counts(book, deck), scales)


class ClassCounts(NamedTuple):
    """What of a class the model reads.

    ``ids`` and ``skills`` are by key, ``rows`` as in ``scores.classes.standing.cells``, ``names``
    by id, ``mixed`` as in ``confusions``.
    """

    ids: Mapping[int, str]
    skills: Mapping[int, Skill]
    rows: Sequence[CountedRow]
    names: Mapping[str, str]
    mixed: Sequence[tuple[int, int, int, int]]


def class_counts(book: ClassBook, deck: str = "") -> ClassCounts:
    """Read the counts of one deck (by fingerprint) or of all. Imports nothing heavy."""
    clause, values = only(deck)
    return ClassCounts(
        dict(book.db.execute("SELECT key, id FROM students").fetchall()),
        {
            key: (kind, region)
            for key, kind, region in book.db.execute("SELECT key, kind, region FROM skills")
        },
        book.db.execute(
            "SELECT student, skill, bin, tries, right, total_level"
            f" FROM level_marks WHERE 1 {clause}",
            values,
        ).fetchall(),
        told_apart(book),
        mixup_rows(book, deck, ""),
    )


def standing_from(counts: ClassCounts, scales: Mapping[str, KindScale]) -> ClassStanding:
    """The class as the model reads it."""
    if not counts.rows:
        return NOBODY
    from scores.classes.standing.cells import cells_counted
    from scores.classes.standing.drawn import drawn
    from scores.classes.standing.fit import integrate

    students, cells = cells_counted(counts.rows, counts.ids, counts.skills, scales)
    told = drawn(cells, integrate(cells))
    lines = _standings(cells, told, students, counts.names)
    return ClassStanding(
        told.differ,
        tuple(sorted(lines, key=_first)),
        _pairs(cells, told, lines),
        _harder(cells, told),
        confusions(counts.mixed),
    )


def _standings(
    cells: Cells, told: Drawn, students: Sequence[str], names: Mapping[str, str]
) -> list[Standing]:
    import numpy as np

    tries, right = cells.counts()
    skills = [
        [SkillLevel(*known) for known in zip(levels, doubts, strict=True)]
        for levels, doubts in zip(told.skill.tolist(), told.skill_sd.tolist(), strict=True)
    ]
    of_kind = [
        np.stack([counts[:, mine].sum(axis=1) for mine in cells.groups[: len(cells.kinds)]], axis=1)
        .astype(int)
        .tolist()
        for counts in (tries, right)
    ]
    figures = np.stack([told.level, told.stuck, told.behind], axis=2).tolist()
    tried = tries > 0
    lines = []
    for at, student in enumerate(students):
        kinds = [
            AtKind(kind, count, hits, *known)
            for kind, count, hits, known in zip(
                cells.kinds, of_kind[0][at], of_kind[1][at], figures[at], strict=True
            )
            if count
        ]
        known = {
            skill: level
            for skill, level, answered in zip(
                cells.skills, skills[at], tried[at].tolist(), strict=True
            )
            if answered
        }
        lines.append(_standing(student, names[student], told, at, kinds, cells, known))
    return lines


def _standing(
    student: str,
    name: str,
    told: Drawn,
    at: int,
    kinds: list[AtKind],
    cells: Cells,
    known: Mapping[Skill, SkillLevel],
) -> Standing:
    weak, on_track = float(told.weak[at]), float(told.on_track[at])
    stuck = [one for one in kinds if one.stuck >= STUCK and one.tries >= STUCK_TRIES]
    differ = told.differ >= DIFFER
    behind = [one for one in kinds if differ and one.behind >= BEHIND and one not in stuck]
    place: Place = "not known yet"
    if differ and weak >= WEAK:
        place = "weak"
    elif stuck:
        place = "stuck"
    elif on_track >= ON_TRACK:
        place = "on track"
    level, low, high = (float(one) for one in told.whole[at])
    return Standing(
        student,
        name,
        place,
        weak,
        on_track,
        level,
        low,
        high,
        sum(one.tries for one in kinds),
        tuple(kinds),
        tuple(sorted(stuck, key=lambda one: -one.stuck)),
        tuple(sorted(behind, key=lambda one: -one.behind)),
        cells.skills[int(told.gain[at].argmax())],
        known,
    )


def _first(line: Standing) -> tuple[int, float, str, str]:
    return (PLACES.index(line.place), -line.weak, line.name.casefold(), line.student)


def _pairs(cells: Cells, told: Drawn, lines: Sequence[Standing]) -> tuple[Pair, ...]:
    """Who needs help at a kind beside one likely clearly ahead there; nobody twice."""
    needs = [
        (one.stuck if one in line.stuck else one.behind, at, one.kind)
        for at, line in enumerate(lines)
        for one in (*line.stuck, *line.behind)
    ]
    taken: set[int] = set()
    pairs: list[Pair] = []
    for _, at, kind in sorted(needs, key=lambda need: (-need[0], need[1], need[2])):
        if at in taken or len(pairs) == PAIRS_MOST:
            continue
        ahead = told.ahead[:, cells.kinds.index(kind)]
        free = [
            one
            for one, line in enumerate(lines)
            if one != at and one not in taken and line.place == "on track"
        ]
        if not free:
            break
        best = max(free, key=lambda one: (float(ahead[one]), -one))
        if ahead[best] < PAIR_SURE:
            continue
        taken |= {at, best}
        pairs.append(Pair(lines[at].student, lines[best].student, kind, float(ahead[best])))
    return tuple(pairs)


def _harder(cells: Cells, told: Drawn) -> tuple[Harder, ...]:
    tries, right = (counts.sum(axis=0) for counts in cells.counts())
    found = []
    for at, region in enumerate(cells.regions):
        mine = cells.region_of == at
        if len(cells.regions) > 1:
            counted = int(tries[mine].sum()), int(right[mine].sum())
            found.append(Harder(region, float(told.harder[at]), *counted))
    return tuple(sorted(found, key=lambda one: (-one.sure, one.region)))
