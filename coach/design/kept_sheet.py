"""A style sheet that reads its rules once for one set of colours."""

from __future__ import annotations

from pathlib import Path

from textual.css.model import RuleSet
from textual.css.parse import parse
from textual.css.stylesheet import Stylesheet
from textual.css.types import CSSLocation


class KeptSheet(Stylesheet):
    """Textual's style sheet, but rules already read are kept while no variable has changed.

    Its own reads every rule anew whenever it is asked to look them over, which it is twice
    while a first screen is made.
    """

    def __init__(self, *, variables: dict[str, str]) -> None:
        super().__init__(variables=variables)
        self._ahead: dict[tuple[str, CSSLocation], list[RuleSet]] = {}

    def set_variables(self, variables: dict[str, str]) -> None:
        """Take other colours; the same ones again change nothing."""
        if variables != self._variables:
            super().set_variables(variables)
            self._ahead.clear()

    def reparse(self) -> None:
        """Look the rules over: only those not read under these colours are read."""
        self.parse()

    def read_ahead(self, file: Path) -> None:
        """Read a file's rules before a screen asks for them; a thread may do it."""
        tokens = self._variable_tokens
        where, css = (str(file), ""), file.read_text(encoding="utf-8")
        rules = list(parse("", css, where, variable_tokens=tokens, is_default_rules=False))
        if tokens is self._variable_tokens:
            self._ahead[css, where] = rules

    def _parse_rules(
        self,
        css: str,
        read_from: CSSLocation,
        is_default_rules: bool = False,
        tie_breaker: int = 0,
        scope: str = "",
    ) -> list[RuleSet]:
        ahead = self._ahead.get((css, read_from))
        if ahead is not None:
            return ahead
        return super()._parse_rules(css, read_from, is_default_rules, tie_breaker, scope)
