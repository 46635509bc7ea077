"""Statements held to a kept validator of xAPI: Open FUN's "ralph-malph", a learning record store.

Its models are those of xAPI 1.0 (MIT licence). What it lets pass of what our test breaks on purpose
is named: ``tests.teaching.xapi_rules``, held to the published text, finds all of it.
"""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings

from scores.exchange.xapi import answer_of, statement, statement_of
from tests.classes import attempts
from tests.teaching.test_share_results import BROKEN, WREN, answers

statements = pytest.importorskip("ralph.models.xapi.base.statements")
LETS_PASS = {
    "2.2.s4.b1.b2 a number as a text",
    "2.4.3.s5.b1 no display",
    "4.5.s1.b3 whole seconds",
    "4.5.s1.b4 no zone",
    "4.6.s1.b2 too fine",
}
"""Its reader is kinder than the text: it turns a text into a number where it can, for one."""


def refused(said: object) -> bool:
    try:
        statements.BaseXapiStatement.model_validate_json(json.dumps(said))
    except ValueError:
        return True
    return False


@settings(max_examples=150, deadline=None)
@given(answers)
def test_every_answer_s_statement_passes_from_the_student_and_from_the_class(one: Any):
    said = statement(one, WREN, "Wren")
    assert not refused(said)
    assert not refused(statement_of(answer_of(said), "Wren"))


@pytest.mark.parametrize("rule", BROKEN)
def test_what_breaks_a_rule_is_refused_by_it_but_for_what_it_lets_pass(rule: str):
    said: Any = statement(attempts("Wren", range(1))[0], WREN, "Wren")
    (*path, last), value = BROKEN[rule]
    part = said
    for key in path:
        part = part[key]
    part[last] = value
    assert refused(said) is (rule not in LETS_PASS)
