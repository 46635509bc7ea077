"""How much a deck may hold. Decks come from strangers, so everything has a bound.

The same numbers stand in ``deck.schema.json``; a test holds the two together.
"""

from __future__ import annotations

FORMAT = 1
"""The version of the format that this program reads and writes."""
SCHEMA_ID = "https://coloured-pencil-coach.invalid/schemas/deck-1.json"
"""The schema's name; ``.invalid`` (RFC 6761) says that nothing is fetched from there."""

MAX_BYTES = 256 * 1024
MAX_LINE = 4_000
"""Characters in one line of a deck's file."""
MAX_DOTS = 100
"""Dots in one line: a dotted key nests tables, and deep ones cost the square of their depth."""

TITLE, AUTHOR, PURPOSE, NOTE = 80, 80, 300, 2_000
"""Characters in each of a deck's texts."""
TARGET_NAME, COLOUR = 60, 100
WORD = 40
"""Characters in the name of a drill kind or a region."""
MAX_KINDS, MAX_FAMILIES, MAX_TARGETS, MAX_PENCILS = 30, 30, 60, 500
ITEMS_A_DAY = (1, 100)
DAYS = (1, 366)
PASS_LEVEL = (0.1, 1.0)
DUE_YEARS = (2025, 2199)
"""First and last year a due date may lie in."""

DEFAULT_ITEMS_A_DAY = 10
DEFAULT_DAYS = 7
DEFAULT_PASS_LEVEL = 0.7
