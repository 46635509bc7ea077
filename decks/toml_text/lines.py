"""Where in a TOML text each value stands, so that a problem can name its line.

``tomllib`` keeps no places. This reads only what it needs to: keys, and the
extent of values. It is given text that tomllib has taken already, and where it
loses its way it stops; a place not found is line 0.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress

Path = tuple[str | int, ...]
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SPACE = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_PLAIN_VALUE = re.compile(r"[^,\]}#\r\n]+")
_ESCAPES = re.compile(r"\\(.)")
DEEPEST = 6


class _LostError(Exception):
    """The text is not as expected."""


def lines_of(text: str) -> dict[Path, int]:
    """Line numbers, from 1, by path: ("due",), ("targets", 2, "colour"), ("kinds", 0)."""
    scan = _Scan(text)
    with suppress(_LostError, IndexError, ValueError):
        scan.document()
    return scan.found


def line_for(lines: Mapping[Path, int], path: Path) -> int:
    """The line of a path, else of the nearest thing around it that has one, else 0."""
    while path and path not in lines:
        path = path[:-1]
    return lines.get(path, 0)


class _Scan:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.counted_to = 0
        self.line = 1
        self.found: dict[Path, int] = {}
        self.tables: dict[Path, int] = {}

    def document(self) -> None:
        table: Path = ()
        while True:
            self._skip()
            if self.at >= len(self.text):
                return
            if self.text[self.at] == "[":
                table = self._header()
            else:
                self._pair(table)

    def _header(self) -> Path:
        double = self.text.startswith("[[", self.at)
        self.at += 2 if double else 1
        path = self._within(self._key())
        if double:
            place = self.tables.get(path, 0)
            self.tables[path] = place + 1
            self._note(path)
            path = (*path, place)
        self._note(path)
        self.at = self.text.index("]", self.at) + (2 if double else 1)
        return path

    def _within(self, keys: list[str]) -> Path:
        """A header's path, with the place of each list of tables on the way: its latest."""
        path: Path = ()
        for key in keys[:-1]:
            path = (*path, key)
            if path in self.tables:
                path = (*path, self.tables[path] - 1)
        return (*path, keys[-1])

    def _pair(self, table: Path) -> None:
        path = (*table, *self._key())
        self._note(path)
        self._skip()
        if self.text[self.at] != "=":
            raise _LostError
        self.at += 1
        self._value(path)

    def _value(self, path: Path) -> None:
        if len(path) > DEEPEST:
            raise _LostError
        self._skip()
        char = self.text[self.at]
        if char in "\"'":
            self._string()
        elif char == "[":
            self._array(path)
        elif char == "{":
            self.at += 1
            self._skip()
            while self.text[self.at] != "}":
                self._pair(path)
                self._comma()
            self.at += 1
        else:
            match = _PLAIN_VALUE.match(self.text, self.at)
            if match is None:
                raise _LostError
            self.at = match.end()

    def _array(self, path: Path) -> None:
        self.at += 1
        place = 0
        self._skip()
        while self.text[self.at] != "]":
            self._note((*path, place))
            self._value((*path, place))
            self._comma()
            place += 1
        self.at += 1

    def _comma(self) -> None:
        self._skip()
        if self.text[self.at] == ",":
            self.at += 1
            self._skip()

    def _key(self) -> list[str]:
        parts: list[str] = []
        while True:
            self._skip()
            if self.text[self.at] in "\"'":
                parts.append(self._string())
            else:
                match = _BARE.match(self.text, self.at)
                if match is None:
                    raise _LostError
                parts.append(match[0])
                self.at = match.end()
            self._skip()
            if not self.text.startswith(".", self.at):
                return parts
            self.at += 1

    def _string(self) -> str:
        quote = self.text[self.at]
        if self.text.startswith(quote * 3, self.at):
            self._long_string(quote * 3)
            return ""
        start = self.at + 1
        end = start
        while self.text[end] != quote:
            if self.text[end] == "\n":
                raise _LostError
            end += 2 if quote == '"' and self.text[end] == "\\" else 1
        self.at = end + 1
        inside = self.text[start:end]
        return _ESCAPES.sub(r"\1", inside) if quote == '"' else inside

    def _long_string(self, quotes: str) -> None:
        end = self.at + 3
        while not self.text.startswith(quotes, end):
            if end >= len(self.text):
                raise _LostError
            end += 2 if quotes == '"""' and self.text[end] == "\\" else 1
        end += 3
        # Up to two more quotation marks may stand at the end of the text itself.
        for _ in range(2):
            end += self.text.startswith(quotes[0], end)
        self.at = end

    def _skip(self) -> None:
        match = _SPACE.match(self.text, self.at)
        assert match is not None
        self.at = match.end()

    def _note(self, path: Path) -> None:
        self.line += self.text.count("\n", self.counted_to, self.at)
        self.counted_to = self.at
        # After a key its end is noted, which stands on the same line.
        self.found.setdefault(path, self.line)
