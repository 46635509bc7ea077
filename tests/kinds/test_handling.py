"""Handling: a bank of questions about hand, paper and label, each with its reasons."""

from __future__ import annotations

import json
import tomllib
from collections import Counter
from zlib import crc32

import pytest

from drills.basics.errors import plain
from drills.kinds import draw
from drills.kinds.handling import BANK, KIND, TOPICS, bank
from drills.pencils.pencil import LIGHTFASTNESS
from drills.planning.plan_limits import LIGHTFAST
from drills.questions.protocol import CannotAskError
from scores.skill.difficulty import level
from scores.skill.psychometric import scale_of
from scores.skill.skill_words import region_words
from tests.palettes import palette_of

PALETTE = palette_of("pocket")
each = pytest.mark.parametrize("entry", bank(), ids=lambda entry: entry.id)


def by_id(name: str):
    return next(entry for entry in bank() if entry.id == name)


def questions():
    for topic in TOPICS:
        for seed in range(25):
            yield draw(KIND, PALETTE, topic, 1.0, seed)


# The bank


def test_the_bank_is_large_enough_that_no_topic_is_soon_known_by_heart():
    topics = Counter(entry.topic for entry in bank())
    assert set(topics) == set(TOPICS)
    assert len(bank()) >= 40
    assert min(topics.values()) >= 6
    assert len({entry.id for entry in bank()}) == len(bank())
    assert len({entry.ask for entry in bank()}) == len(bank())


@each
def test_a_question_has_one_best_choice_and_reasons_for_all(entry):
    assert len(entry.ways) == 4
    scores = [way.score for way in entry.ways]
    assert scores.count(1.0) == 1
    assert all(0.0 <= score <= 0.7 for score in scores if score < 1.0)
    assert len({way.text for way in entry.ways}) == 4
    assert len({way.reason for way in entry.ways}) == 4


@each
def test_some_wrong_choice_is_nearer_than_another(entry):
    wrong = {way.score for way in entry.ways if way is not entry.best}
    assert len(wrong) >= 2


@each
def test_every_word_is_plain_and_fits_a_narrow_screen(entry):
    for words in (entry.ask, entry.why, *(way.reason for way in entry.ways)):
        assert words == plain(words, 160)
        assert words == words.strip()
    # The width of a choice on a screen of 80 columns, its key and margins left out.
    assert all(plain(way.text, 67) == way.text for way in entry.ways)
    assert entry.ask.endswith("?")
    assert entry.why.endswith(".")


def test_neither_the_longest_nor_the_first_choice_is_the_best_more_often_than_chance():
    longest = sum(max(entry.ways, key=lambda way: len(way.text)) is entry.best for entry in bank())
    shortest = sum(min(entry.ways, key=lambda way: len(way.text)) is entry.best for entry in bank())
    assert longest <= 0.4 * len(bank())
    assert shortest <= 0.4 * len(bank())
    first = Counter(question.data.ways[0] is question.data.best for question in questions())
    assert 0.1 < first[True] / first.total() < 0.4


def test_standards_that_are_leant_on_are_named_as_sources():
    for entry in bank():
        told = " ".join((entry.ask, entry.why, *(way.text for way in entry.ways)))
        for standard in ("ASTM", "ISO "):
            if standard in told and "scale" not in entry.ask:
                assert standard in entry.source


def test_no_trade_mark_is_in_the_bank():
    text = BANK.read_text(encoding="utf-8")
    assert not any(mark in text for mark in "®™©")


def test_the_classes_are_those_that_pencils_carry():
    # ASTM D6901: classes I to V, of which I and II conform; limits of a plan say the same.
    assert LIGHTFASTNESS[-1] == "V"
    assert by_id("classes-that-pass").best.text == " and ".join(LIGHTFAST)
    worst = by_id("class-five")
    assert LIGHTFASTNESS[-1] in worst.ask
    assert "fades soon" in worst.best.text


def test_equal_exposures_are_really_equal():
    # CIE 157:2004: exposure is illuminance times time.
    asked = by_id("light-times-time")
    assert "50 lux for ten hours" in asked.ask
    assert "250 lux for two" in asked.ask
    assert 50 * 10 == 250 * 2
    assert asked.best.text == "Both alike"


def test_cautions_name_air_flames_labels_dust_and_rest():
    cautions = [entry for entry in bank() if entry.topic == "cautions"]
    best = " ".join(f"{entry.why} {entry.best.text} {entry.best.reason}" for entry in cautions)
    for word in (
        "fresh air",
        "flame",
        "label",
        "local rules",
        "dust",
        "mask",
        "distance",
        "vapour",
    ):
        assert word in best.lower()
    # Nothing that could hurt someone earns half marks for setting fire to it or drinking it.
    risky = ("candle", "drinking glass", "radiator", "warm it", "drain", "bathroom")
    for entry in cautions:
        for way in entry.ways:
            if any(word in way.text.lower() for word in risky):
                assert way.score == 0.0


def test_a_changed_bank_is_a_new_version():
    # A question is a pure function of its version and seed. Whoever changes the bank raises
    # the kind's version and puts the new sum here.
    kept = json.dumps(tomllib.loads(BANK.read_text(encoding="utf-8")), sort_keys=True)
    assert (KIND.version, crc32(kept.encode())) == (2, 2559992373)


# The kind


def test_it_needs_no_colour_and_no_threshold_is_measured():
    assert not KIND.needs_colour
    assert scale_of(KIND.steps, KIND.chance) is None
    assert level(KIND.steps, 1.0) == 0.0
    for question in questions():
        asked = KIND.ask(question, ())
        assert asked.scene == ()
        assert all(choice.swatch is None for choice in asked.choices)
        reveal = KIND.reveal(question, ((asked.choices[0].key,),))
        assert all(row.swatch is None for row in reveal.results)
        assert reveal.target is question.target is None


def test_topics_are_said_as_they_are_named():
    assert KIND.regions(PALETTE) == TOPICS
    assert [region_words(topic) for topic in TOPICS] == list(TOPICS)


def test_a_question_is_of_its_topic_and_all_of_a_topic_come_up():
    seen = {topic: set() for topic in TOPICS}
    for topic in TOPICS:
        for seed in range(150):
            question = draw(KIND, PALETTE, topic, 1.0, seed)
            assert by_id(question.facts["id"]).topic == topic
            seen[topic].add(question.facts["id"])
    assert sum(map(len, seen.values())) == len(bank())


def test_the_score_is_the_choices_own_and_only_the_best_is_right():
    for question in questions():
        entry = by_id(question.facts["id"])
        for way in entry.ways:
            grade = KIND.grade(question, ((way.letter,),))
            assert grade.score == way.score
            assert grade.right == (way.score == 1.0)
            assert grade.error == 1.0 - way.score
            assert grade.unit == "none"
            assert way.reason in grade.verdict
            said = "Yes" if way.score == 1.0 else "Nearly" if way.score >= 0.5 else "No"
            assert grade.verdict.startswith(said)


def test_the_reveal_gives_every_choice_its_reason_the_why_and_the_source():
    for question in questions():
        entry = by_id(question.facts["id"])
        mine = min(entry.ways, key=lambda way: way.score)
        reveal = KIND.reveal(question, ((mine.letter,),))
        assert {(row.label, row.words) for row in reveal.results} == {
            (way.text, way.reason) for way in entry.ways
        }
        assert reveal.results[0].mark == "best"
        assert next(row for row in reveal.results if row.mark == "yours").label == mine.text
        assert entry.why in reveal.because
        assert any(
            (entry.source or "common practice, no source") in line for line in reveal.because
        )
        assert "label" in reveal.limits


def test_the_record_keeps_what_was_asked_and_in_which_order():
    first, again = (draw(KIND, PALETTE, "papers", 1.0, 5) for _ in range(2))
    assert first == again
    assert json.loads(json.dumps(dict(first.facts))) == dict(first.facts)
    asked = KIND.ask(first, ())
    assert [choice.key for choice in asked.choices] == first.facts["choices"]
    assert first.facts["key"] == by_id(first.facts["id"]).best.letter


def test_a_topic_that_is_none_is_refused():
    with pytest.raises(CannotAskError, match="perspective"):
        draw(KIND, PALETTE, "perspective", 1.0, 1)
