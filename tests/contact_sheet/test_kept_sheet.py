"""The style sheet that keeps what it has read gives what Textual's own gives, and reads once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from textual.css import stylesheet
from textual.css.model import RuleSet
from textual.css.parse import parse
from textual.css.stylesheet import Stylesheet

from coach.design import kept_sheet
from coach.design.kept_sheet import KeptSheet
from coach.design.measures import FIRST_SHEET, SHEET
from coach.room import DARK, MIDDLE, Room
from coach.running.base_app import BaseApp

FILES = (FIRST_SHEET, SHEET)


def colours(room: Room) -> dict[str, str]:
    app = BaseApp()
    app.theme = room.name
    return app.get_css_variables()


def of_textual(variables: dict[str, str], files: tuple[Path, ...] = FILES) -> str:
    sheet = Stylesheet(variables=variables)
    sheet.read_all(files)
    return sheet.css


def times_read(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The files whose rules are read from now on, by whom ever, one entry a reading."""
    found: list[str] = []

    def noted(scope: str, css: str, read_from: tuple[str, str], **rest: Any) -> Iterator[RuleSet]:
        found.append(Path(read_from[0]).name)
        return parse(scope, css, read_from, **rest)

    for module in (stylesheet, kept_sheet):
        monkeypatch.setattr(module, "parse", noted)
    return found


def test_looked_over_again_it_reads_nothing_and_stays_the_same(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    middle = colours(MIDDLE)
    sheet = KeptSheet(variables=middle)
    sheet.read_all(FILES)
    found = times_read(monkeypatch)
    for _ in range(3):
        sheet.set_variables(dict(middle))
        sheet.reparse()
    assert found == [file.name for file in FILES]
    assert sheet.css == of_textual(middle)


def test_other_colours_are_followed() -> None:
    middle, dark = colours(MIDDLE), colours(DARK)
    sheet = KeptSheet(variables=middle)
    sheet.read_all(FILES)
    for file in FILES:
        sheet.read_ahead(file)
    sheet.reparse()
    sheet.set_variables(dark)
    sheet.reparse()
    assert sheet.css == of_textual(dark) != of_textual(middle)


def test_read_ahead_it_is_not_read_again_when_a_screen_brings_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    middle = colours(MIDDLE)
    sheet = KeptSheet(variables=middle)
    sheet.read(FIRST_SHEET)
    sheet.reparse()
    sheet.read_ahead(SHEET)
    found = times_read(monkeypatch)
    sheet.read(SHEET)
    sheet.reparse()
    assert found == []
    assert sheet.css == of_textual(middle)
