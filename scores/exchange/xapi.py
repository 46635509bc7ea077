"""Answers as xAPI statements (ADL, Experience API 1.0.3, 2016), and back.

One statement an answer: actor (an account that names nobody), verb
"answered", object (the skill as an activity), result (score, success, response,
duration), context (the deck, and what the standard has no place for, in one
extension) and timestamp, which carries the learner's own offset from UTC.

Names that the standard wants as web addresses lie under ``.invalid`` (RFC
6761): they name things and lead nowhere.
"""

from __future__ import annotations

import re
from datetime import datetime
from functools import lru_cache
from math import isfinite
from typing import TYPE_CHECKING, Any, NamedTuple
from urllib.parse import quote, unquote

from drills.basics.json_values import JSON
from scores.skill.difficulty import level

if TYPE_CHECKING:
    from scores.record.attempt import Attempt

HOME = "https://coloured-pencil-coach.invalid/"
DRILLS = f"{HOME}xapi/drills/"
DECKS = f"{HOME}xapi/decks/"
EXTENSION = f"{HOME}xapi/answer"
ANSWERED = "http://adlnet.gov/expapi/verbs/answered"
"""The verb of the ADL vocabulary for a question answered."""

# The twelve-part wheel (Itten 1961), as elsewhere in this floor: scores imports no numpy.
FAMILIES = (
    *("yellow", "yellow-orange", "orange", "red-orange", "red", "red-violet"),
    *("violet", "blue-violet", "blue", "blue-green", "green", "yellow-green"),
)
_PLACES = {name: place for place, name in enumerate(FAMILIES)}

LONGEST_S = 3600.0
_WORD = re.compile(r"[a-z][a-z0-9._-]{0,39}(?: [a-z0-9_-]{1,40})*")
_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_DURATION = re.compile(r"PT([0-9]{1,5}(?:\.[0-9]{1,6})?)S")
_TEXT_MOST = 60


class StatementError(ValueError):
    """A statement that can't be counted; the text says why in plain words."""


class SharedAnswer(NamedTuple):
    """What a statement says of one answer.

    ``level`` is the difficulty asked, from a kind's easiest (0) to its hardest
    (1). ``said`` and ``truth`` are places in FAMILIES where the question was
    about naming a family, else −1.
    """

    id: str
    student: str
    deck: str
    kind: str
    region: str
    at: datetime
    score: float
    right: bool
    seconds: float
    level: float
    said: int = -1
    truth: int = -1
    target: str = ""


def statement(attempt: Attempt, student: str, pseudonym: str) -> dict[str, JSON]:
    """The statement of one attempt. ``student`` is the account's name, a random UUID."""
    more: dict[str, JSON] = {
        "kind_version": attempt.kind_version,
        "step": attempt.step,
        "steps": list(attempt.steps),
        "chance": round(attempt.chance, 4),
        "error": round(attempt.error, 4),
        "unit": attempt.unit,
    }
    facts = attempt.facts if isinstance(attempt.facts, dict) else {}
    named = facts.get("named")
    if isinstance(named, str):
        more["target"] = named
    helped = facts.get("help")
    if isinstance(helped, str):
        more["help"] = helped
    truth, said = _families(facts, attempt.answers)
    if truth and said:
        more["truth"], more["said"] = truth, said
    return {
        "id": attempt.id,
        "actor": {"account": {"homePage": HOME, "name": student}, "name": pseudonym},
        "verb": {"id": ANSWERED, "display": {"en": "answered"}},
        "object": {"id": f"{DRILLS}{quote(attempt.kind)}/{quote(attempt.region)}"},
        "result": {
            "score": {"scaled": round(min(1.0, max(0.0, attempt.score)), 4)},
            "success": attempt.right,
            # As the standard writes several choices, or an order.
            "response": "[,]".join(key for reply in attempt.answers for key in reply)[:300],
            "duration": f"PT{min(max(attempt.response_s, 0.0), LONGEST_S):.2f}S",
        },
        "context": {
            "contextActivities": {"grouping": [{"id": f"{DECKS}{attempt.deck}"}]},
            "extensions": {EXTENSION: more},
        },
        "timestamp": attempt.local_time.isoformat(timespec="milliseconds"),
    }


def _families(facts: dict[str, JSON], answers: tuple[tuple[str, ...], ...]) -> tuple[str, str]:
    """The family that was asked for and the one said, where both are families."""
    key = facts.get("key")
    truth = key[0] if isinstance(key, list) and key else key
    said = answers[0][0] if answers and answers[0] else ""
    if isinstance(truth, str) and truth in _PLACES and said in _PLACES:
        return truth, said
    return "", ""


def answer_of(said: Any) -> SharedAnswer:
    """The answer a statement tells of, everything in range. Raises StatementError."""
    try:
        account = said["actor"]["account"]
        result = said["result"]
        context = said["context"]
        more = context["extensions"][EXTENSION]
        name, student = said["id"], account["name"]
        verb, where = said["verb"]["id"], said["object"]["id"]
        deck = context["contextActivities"]["grouping"][0]["id"]
        score, right = result["score"]["scaled"], result["success"]
        took, at = result["duration"], said["timestamp"]
        easiest, hardest = more["steps"]
        step = more["step"]
        target = more.get("target", "")
        truth, family = more.get("truth"), more.get("said")
        home = account.get("homePage")
    except (KeyError, IndexError, TypeError, ValueError, AttributeError):
        raise StatementError(_LACKS) from None
    if not isinstance(took, str):
        raise StatementError(_LACKS)
    if home != HOME or verb != ANSWERED:
        raise StatementError(NOT_OURS)
    return checked_answer(
        *(name, student, deck, where, score, right, took, at),
        *(step, easiest, hardest, target, truth, family),
    )


_LACKS = "a statement lacks a part that it must have"
NOT_OURS = "a statement is not one of the coach's"


def checked_answer(
    name: object,
    student: object,
    deck: object,
    where: object,
    score: Any,
    right: object,
    took: str,
    at: object,
    step: Any,
    easiest: Any,
    hardest: Any,
    target: object,
    truth: object,
    family: object,
) -> SharedAnswer:
    """The answer that a statement's parts tell of, each checked. Raises StatementError.

    ``where`` is the id of the object, ``took`` the duration, as the standard writes them.
    """
    if not (isinstance(name, str) and _UUID.fullmatch(name)):
        raise StatementError("a statement's id is not a UUID")
    if not (isinstance(student, str) and isinstance(deck, str) and isinstance(where, str)):
        raise StatementError("a statement's name is not a text")
    if type(score) not in (int, float) or not 0 <= score <= 1:
        raise StatementError("a score is not from 0 to 1")
    if type(right) is not bool:
        raise StatementError("success is neither true nor false")
    lasted = _DURATION.fullmatch(took)
    if lasted is None or (seconds := float(lasted[1])) > LONGEST_S:
        raise StatementError("a duration is out of range")
    if not _is_difficulty(step):
        raise StatementError(_NO_DIFFICULTY)
    place = level(_range(easiest, hardest), float(step))
    if not (isinstance(target, str) and len(target) <= _TEXT_MOST):
        raise StatementError("a target's name is too long")
    kind, region = _SKILLS.get(where) or _skill(where)
    said = _PLACES.get(family, -1) if isinstance(family, str) else -1
    true = _PLACES.get(truth, -1) if isinstance(truth, str) else -1
    deck, moment = deck.removeprefix(DECKS), _moment(at)
    # In a class of years these are millions: _make takes half the time of naming each.
    return SharedAnswer._make(
        (
            name,
            student,
            deck,
            kind,
            region,
            moment,
            float(score),
            right,
            seconds,
            place,
            said,
            true,
            target,
        )
    )


_SKILLS: dict[str, tuple[str, str]] = {}


def _skill(where: str) -> tuple[str, str]:
    found = _SKILLS.get(where)
    if found is None:
        if not where.startswith(DRILLS) or len(where) > 400:
            raise StatementError("a statement's object is not a drill")
        kind, _, region = unquote(where[len(DRILLS) :]).partition("/")
        if not (_WORD.fullmatch(kind) and _WORD.fullmatch(region) and len(region) <= 40):
            raise StatementError("a drill's name is not a name")
        if len(_SKILLS) > 5_000:
            _SKILLS.clear()
        found = _SKILLS[where] = (kind, region)
    return found


_NO_DIFFICULTY = "a difficulty is out of range"


# Answers to one kind have the same range; what can't be hashed is no number.
@lru_cache(maxsize=1_000, typed=True)
def _range_of(easiest: Any, hardest: Any) -> tuple[float, float]:
    if not (_is_difficulty(easiest) and _is_difficulty(hardest)):
        raise StatementError(_NO_DIFFICULTY)
    return float(easiest), float(hardest)


def _range(easiest: object, hardest: object) -> tuple[float, float]:
    try:
        return _range_of(easiest, hardest)
    except TypeError:
        raise StatementError(_NO_DIFFICULTY) from None


def _is_difficulty(number: Any) -> bool:
    """Whether it can be a step of any kind: a number, nought or from a millionth to a million."""
    if type(number) not in (int, float):
        return False
    # Compared first: a whole number may be too long to be made a float at all.
    return abs(number) <= 1e6 and isfinite(number) and (number == 0 or abs(number) >= 1e-6)


def _moment(text: object) -> datetime:
    try:
        moment = datetime.fromisoformat(text) if isinstance(text, str) else None
        if moment is None or moment.utcoffset() is None:
            raise ValueError
    except (ValueError, OverflowError):
        raise StatementError("a timestamp is not a time with its offset") from None
    return moment


def statement_of(answer: SharedAnswer, pseudonym: str) -> dict[str, JSON]:
    """The statement of an answer that a class keeps; steps are levels, and times are in UTC."""
    more: dict[str, JSON] = {"step": answer.level, "steps": [0.0, 1.0], "unit": "level"}
    if answer.target:
        more["target"] = answer.target
    if answer.truth >= 0 and answer.said >= 0:
        more["truth"], more["said"] = FAMILIES[answer.truth], FAMILIES[answer.said]
    return {
        "id": answer.id,
        "actor": {"account": {"homePage": HOME, "name": answer.student}, "name": pseudonym},
        "verb": {"id": ANSWERED, "display": {"en": "answered"}},
        "object": {"id": f"{DRILLS}{quote(answer.kind)}/{quote(answer.region)}"},
        "result": {
            "score": {"scaled": answer.score},
            "success": answer.right,
            "duration": f"PT{answer.seconds:.2f}S",
        },
        "context": {
            "contextActivities": {"grouping": [{"id": f"{DECKS}{answer.deck}"}]},
            "extensions": {EXTENSION: more},
        },
        "timestamp": answer.at.isoformat(timespec="milliseconds"),
    }
