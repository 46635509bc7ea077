"""A question answered by its own key: what is asked on the way, the replies, and both in words."""

from __future__ import annotations

from drills.questions.adjusting import lab_of
from drills.questions.protocol import Answers, Ask, Kind, Question, Reply

MOST_STAGES = 12


def answered_rightly(kind: Kind, question: Question) -> tuple[tuple[Ask, ...], Answers | None]:
    """What is asked while the key is answered; no answers where the key is none to give."""
    key = question.facts["key"]
    keys = [str(one) for one in key] if isinstance(key, list) else [str(key)]
    asks: list[Ask] = []
    answers: Answers = ()
    while (asked := kind.ask(question, answers)) is not None:
        asks.append(asked)
        reply = _reply(asked, keys)
        if reply is None or len(asks) > MOST_STAGES:
            return tuple(asks), None
        if asked.form == "choose" and len(asked.choices) > 1:
            keys = keys[1:]
        answers = (*answers, reply)
    return tuple(asks), answers


def a_good_way(kind: Kind, question: Question) -> Answers | None:
    """Replies that answer a question as well as can be: its key, or where many answers are good
    what the kind's ``good_way`` gives; None where it has none."""
    given = getattr(kind, "good_way", None)
    if given is not None:
        way: Answers = given(question)
        return way
    return answered_rightly(kind, question)[1] if "key" in question.facts else None


def _reply(asked: Ask, keys: list[str]) -> Reply | None:
    offered = [choice.key for choice in asked.choices]
    if asked.form == "arrange":
        return tuple(keys) if sorted(keys) == sorted(offered) else None
    if asked.form == "set":
        return (keys[0],) if keys else None
    if asked.form == "choose" and len(offered) == 1:
        return (offered[0],)
    return (keys[0],) if asked.form == "choose" and keys and keys[0] in offered else None


def reply_words(asked: Ask, reply: Reply) -> str:
    """One reply as its choices say it, or of a colour set its reading; nothing where there was
    nothing to choose."""
    if asked.form == "set":
        from drills.colour.reading import read_colour

        return read_colour(lab_of(reply[0])).sentence()
    texts = {choice.key: choice.text for choice in asked.choices}
    return ", then ".join(texts[key] for key in reply) if len(texts) > 1 else ""


def answer_words(question: Question, asks: tuple[Ask, ...], answers: Answers | None) -> str:
    """The answer, by what its choices say."""
    if answers is None:
        key = question.facts["key"]
        return "; ".join(map(str, key)) if isinstance(key, list) else str(key)
    told = (reply_words(asked, reply) for asked, reply in zip(asks, answers, strict=True))
    return "; ".join(filter(None, told))
