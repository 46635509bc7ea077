"""Sure and right: counted from the answers, told with its doubt, and not before there is enough."""

from __future__ import annotations

from pathlib import Path

import pytest
from scipy.stats import binomtest

from coach.reports.progress_figures import figures
from coach.reports.progress_json import figures_json
from coach.reports.progress_page import page as html
from coach.reports.progress_words import page
from scores.progress.sureness import ENOUGH, Sureness, interval, sure_words, sureness
from scores.record.record import Record
from scores.record.trials import PAPER, RETEST
from scores.skill.outcome import WITH_HELP
from tests.answers import START, answer


@pytest.fixture
def record(tmp_path: Path) -> Record:
    return Record.open(tmp_path / "record.db")


def put(record: Record, sure: list[bool], others: list[bool]) -> None:
    said = [*((True, right) for right in sure), *((False, right) for right in others)]
    for number, (was_sure, right) in enumerate(said):
        facts = {"choices": ["lighter", "darker"], "sure": was_sure}
        record.save(answer(number, session="said", right=right, facts=facts))


def test_sure_answers_and_the_others_are_counted_apart(record: Record) -> None:
    put(record, [True, True, False], [True, False, False, False])
    assert sureness(record) == Sureness(3, 2, 4, 1)


def test_answers_given_while_it_was_not_asked_do_not_count(record: Record) -> None:
    put(record, [True], [])
    for number in range(5):
        record.save(answer(number))
    assert sureness(record) == Sureness(1, 1, 0, 0)


@pytest.mark.parametrize("changes", [{"chance": WITH_HELP}, {"deck": RETEST}, {"deck": PAPER}])
def test_help_re_tests_and_paper_do_not_count(record: Record, changes: dict[str, object]) -> None:
    record.save(answer(1, facts={"sure": True}, **changes))
    assert sureness(record) == Sureness()


def test_a_fact_that_only_sounds_like_it_does_not_count(record: Record) -> None:
    record.save(answer(1, facts={"sure": "very"}))
    record.save(answer(2, facts={"held": {"sure": True}}))
    assert sureness(record) == Sureness()


def test_nothing_is_told_of_few_and_the_others_are_told_when_they_are_enough() -> None:
    assert sure_words(Sureness(ENOUGH - 1, 12, 300, 200)) == ""
    alone = sure_words(Sureness(40, 31, ENOUGH - 1, 9))
    assert alone.startswith("Of 40 answers you were sure of, 31 were right.")
    assert "between 62 and 88" in alone
    assert "others" not in alone
    assert sure_words(Sureness(40, 31, 112, 70)).endswith("Of the 112 others, 70 were right.")


@pytest.mark.parametrize(("right", "of"), [(0, 20), (20, 20), (31, 40), (500, 1000)])
def test_the_interval_is_that_of_scipy(right: int, of: int) -> None:
    known = binomtest(right, of).proportion_ci(0.95, method="wilson")
    assert interval(right, of) == pytest.approx((known.low, known.high), abs=1e-4)


def test_progress_tells_it_in_words_json_and_on_the_page(record: Record) -> None:
    put(record, [True] * 18 + [False] * 6, [True, False])
    made = figures(record, START)
    said = sure_words(made.sureness)
    assert said
    assert said in " ".join(" ".join(page(made)).split())
    assert said in html(made)
    assert figures_json(made)["sureness"] == {
        "sure": 24,
        "sure_right": 18,
        "others": 2,
        "others_right": 1,
    }
