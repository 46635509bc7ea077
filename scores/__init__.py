"""The record: what was answered, what is remembered, and how hard to ask next.

Nothing here knows a screen or a clock: times come in as aware datetimes. The
hot path is the standard library's ``sqlite3`` alone; ``sqlite_utils`` and
``fsrs`` are imported only where a record is made or an answer is weighed.
"""

PART_OF = "coloured-pencil-coach"
"""Whose package this is: others of its name may lie beside it (``coach.__main__`` looks)."""
