"""The subject: colour, pencils, layering, and each kind of drill.

Nothing here knows a screen, a file of records, or what time it is. Randomness
comes in as a seeded generator.
"""

PART_OF = "coloured-pencil-coach"
"""Whose package this is: others of its name may lie beside it (``coach.__main__`` looks)."""
