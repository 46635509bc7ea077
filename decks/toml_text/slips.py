"""What is wrong with a line that is no TOML, for one who has never seen TOML."""

from __future__ import annotations

import re

from drills.basics.errors import plain

_CURLY = re.compile(r"[“”„‟‘’‚«»]")
_KEY = re.compile(r"""\s*(?P<key>[\w.-]+|"[^"]*")\s*=\s*(?P<value>.*)$""")
_WORDS = re.compile(r"[^\W\d_]")
_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
SHOWN = 40
"""Characters of a teacher's own text that are said back."""
NOT_TOML = "this can't be read as a deck"


def in_words(line: str, told: str) -> tuple[str, str]:
    """The problem with a line and its remedy; ``told`` is what the reader of TOML said.

    The remedy is empty where nothing better than an example can be said.
    """
    found = _KEY.match(line)
    bare = line.strip()
    if "overwrite" in told or "twice" in told or "mutate" in told:
        what = plain(found["key"], SHOWN) if found else plain(bare, SHOWN)
        return f"{what} is written twice", "Keep one of them."
    if "nclosed array" in told and not (found and found["value"].startswith("[")):
        return "a list above isn't closed", "Part its words with commas and end it with ]"
    if not found:
        return _no_key(bare, told)
    key, value = plain(found["key"], SHOWN), found["value"].split("#")[0].strip()
    if _CURLY.match(value) or (value.startswith("[") and _CURLY.search(value)):
        return "these quotes are curly", f'Type straight ones: {key} = "…"'
    if not value:
        return f"nothing stands after {key} =", f'Write what it is: {key} = "…"'
    if _WORDS.match(value):
        return "the text has no quotes round it", f'Put quotes round it: {key} = "{_cut(value)}"'
    return _value(key, value, told)


def _value(key: str, value: str, told: str) -> tuple[str, str]:
    if value.startswith("["):
        inside = value.strip("[] \t")
        if _WORDS.match(inside):
            first = _cut(inside.split(",")[0].strip())
            return (
                "the words in the list have no quotes round them",
                f'Put quotes round each: {key} = ["{first}"]',
            )
        return "the list isn't closed", "Part its words with commas and end it with ]"
    if "\\" in value and ("escape" in told.lower() or "\\" in told):
        return "a backslash in a text means something else", "Write two of them: \\\\"
    if value[0] in "\"'" and (len(value) == 1 or value.count(value[0]) == 1):
        return "the text isn't closed", f"End it with {value[0]} on the same line."
    if re.fullmatch(r"\d+,\d+", value):
        return "a number has a comma", f"Write a point: {key} = {value.replace(',', '.')}"
    if _DAY.match(value):
        return "there is no such day", "Write year-month-day, as in 2026-09-30."
    if value[0] in "\"'":
        return "something stands after the text's end", 'One key a line; a quote inside is \\"'
    return f"“{plain(value, SHOWN)}” can't be read", f'If it is a text: {key} = "{_cut(value)}"'


def _no_key(bare: str, told: str) -> tuple[str, str]:
    if bare.startswith("["):
        return "this heading isn't closed", "Write [difficulty], [[targets]] or [[pencils]]."
    if bare.startswith("{"):
        return "this is no deck or course", "A teacher's reply: coach teacher add FILE"
    if bare and "=" not in bare and "nterminated" not in told and "nclosed" not in told:
        return (
            "this line is neither a note nor a key with its value",
            'Begin a note with #; else write it as title = "…"',
        )
    if '"""' in told or "nterminated" in told or "Illegal character" in told:
        return "a text isn't closed", 'End it with the quotes that it began with: " or """'
    if "array" in told.lower():
        return "a list isn't closed", "End it with ]"
    return NOT_TOML, ""


def _cut(text: str) -> str:
    return plain(text.strip().strip("\"'“”„‘’]"), SHOWN).replace('"', "'")
