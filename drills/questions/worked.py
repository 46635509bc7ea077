"""A question solved before the learner's eyes, step by step, and the first step of one to solve.

Who is new to a kind of task learns more from solved ones than from solving (Sweller & Cooper
1985), and then from ones whose first steps are done, fewer each time (Renkl & Atkinson 2003;
from memory). All that is told comes from the question itself: its key, what each choice would
make, and the kind's ``look_for``.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from drills.questions.adjusting import lab_of
from drills.questions.answered import a_good_way, answer_words, reply_words
from drills.questions.narrowing import leave_out
from drills.questions.protocol import Answers, Ask, Kind, Question, Reveal


@dataclass(frozen=True)
class Step:
    """What is looked at, and what a teacher says of it."""

    asked: Ask
    words: str


@dataclass(frozen=True)
class Worked:
    """A question solved: its steps, the answer in words, and what each choice would have made."""

    question: Question
    steps: tuple[Step, ...]
    answer: str
    reveal: Reveal


@dataclass(frozen=True)
class FirstStep:
    """What is done of a question before it is asked: the first replies, or else words alone."""

    replies: Answers = ()
    words: str = ""


def worked(kind: Kind, question: Question) -> Worked | None:
    """The question solved; None where its kind gives no answer to show."""
    way = a_good_way(kind, question)
    if way is None:
        return None
    asks: list[Ask] = []
    for at in range(len(way)):
        asked = kind.ask(question, way[:at])
        if asked is None:
            return None
        asks.append(asked)
    built = asks[0].form == "build"
    steps = _laid(kind, asks, way) if built else _looked_at(kind, question, asks, way)
    # Of many good ways a question keeps one in words.
    answer = answer_words(question, tuple(asks), None if built else way)
    return Worked(question, tuple(steps), answer, unmarked(kind.reveal(question, way)))


def unmarked(reveal: Reveal) -> Reveal:
    """A reveal without the marks of who answered, nor a row that is only theirs: nobody did."""
    rows = tuple(
        replace(row, mark="best" if "best" in row.mark else "")
        for row in reveal.results
        if row.mark != "yours"
    )
    return replace(reveal, results=rows)


def look_words(kind: Kind, stage: int) -> str:
    """What to look at in a stage; of a kind that doesn't say, what it trains."""
    said: tuple[str, ...] = getattr(kind, "look_for", ())
    if said:
        return said[min(stage, len(said) - 1)]
    return f"{kind.trains[:1].upper()}{kind.trains[1:]}."


def first_step(kind: Kind, question: Question) -> FirstStep:
    """The first of several steps, done; of a question of one step, what is surely not it."""
    way = a_good_way(kind, question)
    asked = kind.ask(question, ())
    if way is None or asked is None:
        return FirstStep()
    if asked.form == "arrange":
        texts = {choice.key: choice.text for choice in asked.choices}
        return FirstStep(words=f"Done for you: {texts[way[0][0]]} comes first.")
    # A layer is a pencil and a pressure; without one more there is nothing left to lay.
    done = 2 if asked.form == "build" else 1
    if asked.form in ("build", "choose") and len(way) > done + (asked.form == "build"):
        asks = [kind.ask(question, way[:at]) for at in range(done)]
        told = [reply_words(one, way[at]) for at, one in enumerate(asks) if one is not None]
        if all(told):
            return FirstStep(way[:done], f"Done for you: {', '.join(told)}.")
    out = leave_out(kind, question, ())
    return FirstStep(words=f"Not {out.text}." if out is not None and out.text else "")


def _looked_at(kind: Kind, question: Question, asks: list[Ask], way: Answers) -> Iterator[Step]:
    """Each stage looked at as a teacher would; each but the first begins with what was found."""
    found = ""
    for at, asked in enumerate(asks):
        yield Step(asked, f"{found}{look_words(kind, at)}")
        more = _narrowed(kind, question, asked, way, at)
        if more:
            yield Step(asked, more)
        told = reply_words(asked, way[at])
        found = f"So: {told}. " if told and asked.form == "choose" else ""


def _narrowed(kind: Kind, question: Question, asked: Ask, way: Answers, at: int) -> str:
    """What can be said before the answer: what is farthest off, both ends, which way to go."""
    if asked.form == "arrange":
        texts = {choice.key: choice.text for choice in asked.choices}
        first, last = texts[way[at][0]], texts[way[at][-1]]
        return f"Find both ends: {first} comes first, {last} last. Then what lies between."
    if asked.form == "set" and asked.start is not None:
        from drills.colour.change import describe_difference

        need = describe_difference(asked.start, lab_of(way[at][0]))
        return f"From where it stands it has to become {need}."
    out = leave_out(kind, question, way[:at])
    return f"Leave out what is farthest off: {out.text}." if out is not None and out.text else ""


def _laid(kind: Kind, asks: list[Ask], way: Answers) -> Iterator[Step]:
    """Each layer as it goes on the paper, and what the colour still wants."""
    from drills.colour.change import describe_difference

    yield Step(asks[0], look_words(kind, 0))
    for at in range(2, len(way), 2):
        laid = ", ".join(reply_words(asks[one], way[one]) for one in (at - 2, at - 1))
        target, now = asks[at].scene[0].lab, asks[at].scene[-1].lab
        last = at + 1 == len(way)
        need = describe_difference(now, target)
        told = f"It still wants: {need}"
        if last:
            told = "That is it"
            if need != "the same to the eye":
                told = f"The planner finds no nearer way, though it still wants: {need}"
        yield Step(asks[at], f"{laid}. {told}.")
