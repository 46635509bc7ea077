"""Answering any drill kind as its protocol allows, without knowing which it is."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import islice, permutations
from typing import Any

from drills.questions.adjusting import PARTS, Setting, key_of
from drills.questions.draw import as_shown
from drills.questions.protocol import Answers, Ask, Kind, Question, Reply

DONE: Reply = ("done",)
LONGEST_BUILD = 14
"""Stages after which a builder here says done."""


MOVES = (0.0, -3.0, 3.0, -9.0, 9.0, -20.0, 20.0)
"""Steps by which one part of a colour is moved here where it is set."""


def settings_of(ask: Ask) -> list[str]:
    """Some of the colours that can be set: the start left as it is, and moved in each part."""
    assert ask.start is not None, "a colour is set from a start"
    start = Setting.of(ask.start)
    moved = [start.moved(part, by) for part in PARTS for by in MOVES[1:]]
    return [key_of(ask.start), *(key_of(as_shown(one.lab)) for one in moved)]


def is_set(kind: Kind, question: Question) -> bool:
    """Whether the last thing asked is a colour to set."""
    answers: Answers = ()
    while (ask := kind.ask(question, answers)) is not None:
        if ask.form == "set":
            return True
        if ask.form == "build":
            return False
        keys = tuple(choice.key for choice in ask.choices)
        answers = (*answers, keys if ask.form == "arrange" else keys[:1])
    return False


def replies_to(ask: Ask) -> Iterator[Reply]:
    """Every reply to one ask that is not built; of a colour to set, some."""
    keys = [choice.key for choice in ask.choices]
    if ask.form == "set":
        yield from ((key,) for key in settings_of(ask))
    elif ask.form == "arrange":
        yield from permutations(keys)
    else:
        yield from ((key,) for key in keys)


def is_built(kind: Kind, question: Question) -> bool:
    """Whether the question is answered stage by stage, without end but for "done"."""
    ask = kind.ask(question, ())
    return ask is not None and ask.form == "build"


def every_answer(
    kind: Kind, question: Question, answers: Answers = (), most: int = 150
) -> list[Answers]:
    """All complete answers to a question that is not built, in order; at most ``most``."""

    def walk(so_far: Answers) -> Iterator[Answers]:
        ask = kind.ask(question, so_far)
        if ask is None:
            yield so_far
            return
        for reply in replies_to(ask):
            yield from walk((*so_far, reply))

    return list(islice(walk(answers), most))


def any_answer(kind: Kind, question: Question, pick: Callable[[list[Any]], Any]) -> Answers:
    """One complete answer; ``pick`` takes one of a list."""
    answers: Answers = ()
    while (ask := kind.ask(question, answers)) is not None:
        keys = [choice.key for choice in ask.choices]
        if ask.form == "arrange":
            reply: Reply = ()
            while left := [key for key in keys if key not in reply]:
                reply = (*reply, pick(left))
        elif ask.form == "set":
            reply = (pick(settings_of(ask)),)
        elif ask.form == "build":
            tired = len(answers) >= LONGEST_BUILD and answers[-1] != DONE
            reply = DONE if tired else (pick([*keys, "done"]),)
        else:
            reply = (pick(keys),)
        answers = (*answers, reply)
        assert len(answers) < 4 * LONGEST_BUILD, "the kind never stops asking"
    return answers


def key_answer(kind: Kind, question: Question) -> Answers | None:
    """The answer that ``facts["key"]`` stands for: a choice key for each ask, or all of an order.

    An ask of a single choice needs no key. None for a built question, which has
    many good answers.
    """
    if is_built(kind, question):
        return None
    key = question.facts["key"]
    keys = [str(part) for part in key] if isinstance(key, list) else [str(key)]
    answers: Answers = ()
    while (ask := kind.ask(question, answers)) is not None:
        if len(ask.choices) == 1:
            reply: Reply = (ask.choices[0].key,)
        elif ask.form == "arrange":
            reply, keys = tuple(keys), []
        else:
            reply, keys = (keys[0],), keys[1:]
        answers = (*answers, reply)
    assert not keys, "the key says more than is asked"
    return answers
