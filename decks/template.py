"""The commented deck that ``coach deck new`` writes: an example that is sound as it stands."""

from __future__ import annotations

AUTHOR = "Your name"
"""Whom the example says it is from, until somebody writes their own."""
TEMPLATE = """\
# A deck of practice for the coloured-pencil coach.
#
# Change what you like, look it over with    coach deck check FILE
# see what a student would be asked with     coach deck preview FILE
# and make the one file to send with         coach deck pack FILE
#
# Lines that begin with # are notes to you: the coach passes over them.
# Text stands in "quotes". Keys left out take the values named here.

format = 1                      # the version of this form; leave it

title   = "Dark greyed greens"  # up to 80 characters
author  = "Your name"           # who the student sees it is from
purpose = "To dull a green without losing it"

# A word to the student, over as many lines as you like.
note = \"\"\"
Work by daylight if you can, and stop when your eyes tire.
Look at value first, then at hue.
\"\"\"

# Which drills. All the names: coach deck kinds
kinds = ["hue-and-lean", "lighter-or-darker", "mute-with-complement"]

# Which hue families, in any order. Leave the line out for all that the
# student's pencils can make. The twelve: yellow, yellow-orange, orange,
# red-orange, red, red-violet, violet, blue-violet, blue, blue-green, green,
# yellow-green. Some drills have regions of their own, such as "dark greys".
families = ["green", "yellow-green", "blue-green"]

items_a_day = 10                # questions a day, 1 to 100 (10 if left out)
days        = 7                 # days of practice, 1 to 366 (7 if left out)
# due       = 2026-09-30        # the last day; leave it out for no date
pass_level  = 0.7               # mean grade to reach, 0.1 to 1 (0.7 if left out)

# How hard the questions may be: 0 is a drill's easiest, 1 its hardest. Within
# these bounds each student is asked at their own level.
[difficulty]
easiest = 0.0
hardest = 0.8

# Named colours to be asked about: #rrggbb, rgb(), lab() or Munsell notation.
# Drills that can be asked about a given colour ask about these; the others ask
# in the families these lie in, or in those named above. Add as many as you
# like, up to 60: take the # away from these three lines, and copy them.
#
# [[targets]]
# name   = "Shadow under the leaf"
# colour = "#3f4a35"

# The student's own pencils serve, unless the deck brings a set. To put a
# pencils file inside: coach deck pack FILE --pencils PENCILS.csv
"""
