"""What every drill kind is: make a question, ask it, grade the answer, show why.

A kind is one module in ``drills.kinds`` holding one object named ``KIND``, or an
entry point of another package (``drills.outside``). The screen knows only the types
below, so a new kind needs no new screen: it asks in one of the ``Ask`` forms and
reveals in rows of swatches and words.

A question is a pure function of (kind version, pencils, region, step, seed).
Its answers are a tuple of replies, one for each ``Ask``; a reply is a tuple of
choice keys (one key when choosing, all keys in order when arranging). ``ask``
is given the replies so far and returns the next thing to ask or ``None`` when
the question is answered, so that a kind may ask in several stages.
"""

from __future__ import annotations

import random
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal, Protocol

if TYPE_CHECKING:
    # Only for types: the first screen knows these classes and must not load numpy.
    from drills.layering.palette import Palette

Mark = Literal["", "yours", "best", "yours, best"]
Lab = tuple[float, float, float]
"""CIE 1976 L*a*b* under D50 for the CIE 1931 2° observer."""

Reply = tuple[str, ...]
Answers = tuple[Reply, ...]
JSON = None | bool | int | float | str | list["JSON"] | dict[str, "JSON"]


@dataclass(frozen=True)
class Swatch:
    """A colour to be judged. ``surround`` is set only where it differs from the room's grey.

    ``grain``, where there is one, are the parts that ``lab`` is the mean of: the share of the
    area (0–1, together 1) and the colour of each.
    """

    lab: Lab
    label: str = ""
    surround: Lab | None = None
    grain: tuple[tuple[float, Lab], ...] = ()


@dataclass(frozen=True)
class Choice:
    """One thing that can be chosen or put in order; ``key`` is what the record keeps."""

    key: str
    text: str
    swatch: Swatch | None = None


YOU_SAY, IT_IS = "You say ", "It is "
"""How a later stage's prompt begins that tells what was said before."""


@dataclass(frozen=True)
class Ask:
    """One thing asked.

    ``form`` "choose": one of ``choices``; "arrange": all of them in order;
    "build": choices are added one at a time, each a stage of its own, and the
    scene changes under the learner's hand (the key ``undo`` takes back a
    stage, ``done`` ends where ``may_end``); "set": there are no choices, and a colour is set from
    ``start`` (Lab) on, its one key as in ``drills.questions.adjusting.key_of``. One swatch of the
    scene touches the one being set; several stand above it.
    ``look_s`` limits how long the scene stays in view (seconds).
    """

    prompt: str
    choices: tuple[Choice, ...]
    scene: tuple[Swatch, ...] = ()
    form: Literal["choose", "arrange", "build", "set"] = "choose"
    look_s: float | None = None
    start: Lab | None = None
    may_end: bool = True

    @property
    def as_fact(self) -> str:
        """The prompt for those who said nothing themselves: "It is red." for "You say red."."""
        begins = self.prompt.startswith(YOU_SAY)
        return f"{IT_IS}{self.prompt.removeprefix(YOU_SAY)}" if begins else self.prompt


@dataclass(frozen=True)
class Question:
    """One question with its computed key.

    ``step`` is the difficulty really asked, in the kind's own unit, after the
    screen's 8 bits; smaller is harder. ``facts`` is what the record keeps
    (target, choices, computed results) as JSON values; its ``key`` is the
    computed key, in the same words as the replies: a choice key for each ask
    (an ask of one choice needs none), the colour wanted when setting, all keys in order when
    arranging, and
    for "build", where many ways are good, a good one in words. ``data`` is the
    kind's own frozen payload.
    """

    kind: str
    version: int
    region: str
    seed: int
    step: float
    target: Lab | None
    facts: Mapping[str, JSON]
    data: object


@dataclass(frozen=True)
class Grade:
    """How far off an answer is.

    ``score`` runs from 0 (wild) to 1 (as good as the best answer); a near miss
    lies between. ``right`` says whether the answer counts as seen correctly
    when a threshold is measured. ``error`` is in ``unit``. ``verdict`` is a sentence as
    an artist would say it, without symbols or figures; those that matter stand in
    ``figures``, shown in one quiet line and not kept.
    """

    score: float
    right: bool
    error: float
    unit: Literal["ΔE00", "ΔL*", "ΔC*", "wheel steps", "places", "none"]
    verdict: str
    figures: str = ""


@dataclass(frozen=True)
class Result:
    """What one choice would have made: a row of the reveal.

    ``beside`` is a second swatch in the same row, where two ways are compared
    step by step.
    """

    label: str
    words: str
    swatch: Swatch | None = None
    mark: Mark = ""
    beside: Swatch | None = None


@dataclass(frozen=True)
class Reveal:
    """What is shown after an answer. ``limits`` states what the model can't know."""

    because: tuple[str, ...]
    results: tuple[Result, ...] = ()
    target: Swatch | None = None
    limits: str = ""


class CannotAskError(Exception):
    """These pencils can't give a sound question for this region and step; the text says why."""


class Kind(Protocol):
    """One kind of drill.

    ``steps`` is the range (easiest, hardest) of difficulty in ``unit``;
    ``seconds`` is how long one question usually takes (our estimate) until the
    learner's own time is known; ``needs_colour`` is False for a kind that can
    be asked without 24-bit colour on screen; ``chance`` is the proportion right
    by guessing. ``of_the_eye`` is False where rules or facts are remembered: it has no
    threshold of sight, and comes back as a card to remember does. It may have an attribute
    ``at_the_table``, one thing to do on paper after practising it, in a sentence, and one
    ``look_for``, a tuple of sentences: what to look at in each stage, said to who is new to it.
    Where an attribute ``screen_only`` is True none of its questions can stand on paper, and for
    a worksheet none is drawn.
    Where many answers are good and the key is words, a method ``good_way(question)`` gives the
    replies of one, for a question that is solved before the learner's eyes.
    """

    def __hash__(self) -> int: ...
    @property
    def name(self) -> str: ...
    @property
    def version(self) -> int: ...
    @property
    def title(self) -> str: ...
    @property
    def trains(self) -> str: ...
    @property
    def needs_colour(self) -> bool: ...
    @property
    def seconds(self) -> float: ...
    @property
    def unit(self) -> str: ...
    @property
    def steps(self) -> tuple[float, float]: ...
    @property
    def chance(self) -> float: ...
    @property
    def of_the_eye(self) -> bool: ...

    def regions(self, palette: Palette) -> tuple[str, ...]:
        """The colour regions these pencils can be drilled in, each once, in a fixed order.

        It hangs on the pencils alone. Every region named can be asked at some step within
        ``steps``; with pencils that give none it is empty, and nothing is raised.
        """
        ...

    def make(self, palette: Palette, region: str, step: float, rng: random.Random) -> Question:
        """A question for a region of ``regions``, as near ``step`` (in ``unit``) as may be.

        All chance comes from ``rng``: the same pencils, region, step and seed make the same
        question. ``Question.step`` is the step that the screen's 8 bits really show;
        ``facts`` is JSON and holds the choices, the key, and what was computed for each.
        The key is computed, and told apart by the eye from the next best choice. Raises
        CannotAskError where the pencils give no sound question here; nothing else.
        """
        ...

    def ask(self, question: Question, answers: Answers) -> Ask | None:
        """The next thing to ask after ``answers``, or None when they are complete.

        It changes nothing and draws nothing: the same answers so far, the same ask. Each
        answer is a tuple of keys of the choices offered; there is an end after finitely many.
        """
        ...

    def grade(self, question: Question, answers: Answers) -> Grade:
        """Grade complete answers, by what each choice would have made.

        ``score`` is from 0 to 1: the key scores 1, and a near miss more than a wild one.
        ``error`` is how far off in ``unit``, 0 or more. Other answers than ``ask`` offered
        are no answers: then it may raise ValueError.
        """
        ...

    def reveal(self, question: Question, answers: Answers) -> Reveal:
        """Show what each choice would have made, and why, after complete answers.

        The learner's own choice and the best are among ``results`` and marked. A prediction
        of the layering model says so in ``limits``.
        """
        ...
