"""The subject: colour, pencils, layering, and each kind of drill.

Nothing here knows a screen, a file of records, or what time it is. Randomness
comes in as a seeded generator.
"""
