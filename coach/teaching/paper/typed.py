"""What was written on a sheet, typed in: read, and graded by the computed keys."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from coach.teaching.paper.sheet import LETTERS, PaperQuestion, Worksheet
from drills.basics.errors import InputError, plain

if TYPE_CHECKING:
    from drills.questions.protocol import Answers, Grade

MOST_TYPED = 2_000
_TOKEN = re.compile(r"([0-9]{1,3})[.:)]?([a-z]*|-)")
_HOW = "Write the number and the letters, such as: 1b 2ac 3bdeac; - for one left out."


@dataclass(frozen=True, eq=False)
class Typed:
    """An answer to a question of a sheet, and its grade."""

    asked: PaperQuestion
    letters: str
    answers: Answers
    grade: Grade


def read_typed(sheet: Worksheet, text: str) -> list[Typed]:
    """The answers typed, each graded, in the order of the sheet. Raises InputError.

    What is left out is no answer, and not graded.
    """
    if len(text) > MOST_TYPED:
        raise InputError("what is typed", f"it is over {MOST_TYPED:,} characters long", _HOW)
    by_number = {one.number: one for one in sheet.questions}
    found: dict[int, Typed] = {}
    # "2. a c" and "2 ac" are one answer: letters after a number are its own.
    joined = re.sub(r"(?<=[0-9a-z.:)])[ \t]+(?=[a-z-])", "", text.strip().lower())
    for token in re.split(r"[\s,;]+", joined):
        if not token:
            continue
        where = f"“{plain(token, 30)}”"
        read = _TOKEN.fullmatch(token)
        if read is None:
            raise InputError(where, "this is no answer", _HOW)
        asked = by_number.get(int(read[1]))
        if asked is None:
            problem = (
                f"the sheet has questions 1 to {len(by_number)}" if by_number else "no question"
            )
            raise InputError(where, problem, "Look at the sheet's name again.")
        if asked.number in found:
            raise InputError(where, f"question {asked.number} is answered twice", "Keep one.")
        if read[2] not in ("", "-"):
            answers = _answers(asked, read[2], where)
            grade = asked.kind.grade(asked.question, answers)
            found[asked.number] = Typed(asked, read[2], answers, grade)
    if not found:
        raise InputError("what is typed", "there is no answer in it", _HOW)
    return [found[number] for number in sorted(found)]


def _answers(asked: PaperQuestion, letters: str, where: str) -> Answers:
    first = asked.first
    wanted = len(first.choices) if first.form == "arrange" else 2 if asked.then else 1
    if len(letters) != wanted:
        some = "one letter" if wanted == 1 else f"{wanted} letters"
        raise InputError(where, f"question {asked.number} takes {some}", _HOW)
    keys = [choice.key for choice in first.choices]
    if first.form == "arrange":
        if sorted(letters) != sorted(LETTERS[: len(keys)]):
            remedy = f"Write {LETTERS[0]} to {LETTERS[len(keys) - 1]} in your order."
            raise InputError(where, f"question {asked.number} wants each letter once", remedy)
        return (tuple(keys[LETTERS.index(one)] for one in letters),)
    chosen = (_key(keys, letters[0], asked, where),)
    if not asked.then:
        return (chosen,)
    more = [choice.key for choice in asked.then[chosen[0]].choices]
    return (chosen, (_key(more, letters[1], asked, where),))


def _key(keys: Sequence[str], letter: str, asked: PaperQuestion, where: str) -> str:
    at = LETTERS.find(letter)
    if not 0 <= at < len(keys):
        last = LETTERS[len(keys) - 1]
        raise InputError(where, f"question {asked.number} has choices a to {last}", _HOW)
    return keys[at]


def told(typed: Sequence[Typed]) -> list[str]:
    """What came of each answer, and the whole, in words."""
    lines = []
    for one in typed:
        if one.letters == one.asked.key:
            lines.append(f"{one.asked.number}{one.letters}: right.")
        else:
            verdict = one.grade.verdict
            lines.append(
                f"{one.asked.number}{one.letters}: the answer is {one.asked.key}. {verdict}"
            )
    right = sum(one.letters == one.asked.key for one in typed)
    mean = sum(one.grade.score for one in typed) / len(typed)
    lines.append(f"{right} of {len(typed)} as the key has them, mean grade {mean:.2f}.")
    return lines
