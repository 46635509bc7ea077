"""A results file's answers read at once, by a decoder that knows their shape (msgspec).

It reads what ``scores.exchange.results_read`` reads, some times faster, and gives None for
whatever it is not made for: that is then read part by part, which also says what is wrong.
Every answer goes through the same checks (``scores.exchange.xapi.checked_answer``).
"""

from __future__ import annotations

import json
from typing import Any, Literal

import msgspec

from scores.exchange.xapi import EXTENSION, SharedAnswer, checked_answer

# Field names are the standard's, and so are the names of home and verb
# (``scores.exchange.xapi``). Without gc: they hold no cycles, and there are many.


class _Account(msgspec.Struct, gc=False):
    name: str
    homePage: Literal["https://coloured-pencil-coach.invalid/"]  # noqa: N815


class _Actor(msgspec.Struct, gc=False):
    account: _Account


class _Named(msgspec.Struct, gc=False):
    id: str


class _Verb(msgspec.Struct, gc=False):
    id: Literal["http://adlnet.gov/expapi/verbs/answered"]


class _Activities(msgspec.Struct, gc=False):
    grouping: list[_Named]


class _More(msgspec.Struct, gc=False):
    step: float
    steps: tuple[float, float]
    target: str = ""
    truth: str | None = None
    said: str | None = None


class _Extensions(msgspec.Struct, gc=False):
    more: _More = msgspec.field(name=EXTENSION)


class _Context(msgspec.Struct, gc=False):
    contextActivities: _Activities  # noqa: N815
    extensions: _Extensions


class _Score(msgspec.Struct, gc=False):
    scaled: float


class _Result(msgspec.Struct, gc=False):
    score: _Score
    success: bool
    duration: str


class _Statement(msgspec.Struct, gc=False):
    id: str
    actor: _Actor
    verb: _Verb
    object: _Named
    result: _Result
    context: _Context
    timestamp: str


_NONE = msgspec.Raw(b"")


class _Results(msgspec.Struct, gc=False):
    statements: list[_Statement]
    format: msgspec.Raw
    schema: msgspec.Raw
    app: msgspec.Raw = _NONE
    deck: msgspec.Raw = _NONE
    student: msgspec.Raw = _NONE
    made: msgspec.Raw = _NONE
    on_paper: msgspec.Raw = _NONE


class _File(msgspec.Struct, gc=False):
    results: _Results


_FILE = msgspec.json.Decoder(_File)
_PARTS = tuple(name for name in _Results.__struct_fields__ if name != "statements")


def read_quickly(data: bytes, most: int) -> tuple[dict[str, Any], list[SharedAnswer]] | None:
    """The other parts of a results file and its answers, in their order; None: read it slowly.

    ``data`` is the whole file; over ``most`` answers are not read. Texts that nobody reads are
    passed over unread.
    """
    try:
        results = _FILE.decode(data).results
        if len(results.statements) > most:
            return None
        answers = [_answer(one) for one in results.statements]
        raw = {name: bytes(getattr(results, name)) for name in _PARTS}
        return {name: json.loads(part) for name, part in raw.items() if part}, answers
    except (ValueError, KeyError, IndexError, RecursionError, OverflowError):
        # msgspec's errors and StatementError are ValueErrors.
        return None


def _answer(one: _Statement) -> SharedAnswer:
    result, context = one.result, one.context
    more = context.extensions.more
    easiest, hardest = more.steps
    return checked_answer(
        one.id,
        one.actor.account.name,
        context.contextActivities.grouping[0].id,
        one.object.id,
        result.score.scaled,
        result.success,
        result.duration,
        one.timestamp,
        more.step,
        easiest,
        hardest,
        more.target,
        more.truth,
        more.said,
    )
