"""What other programs may call: ``from drills import read_colour, load_pencils, plan``.

These names and what they promise stay as they are within a major version.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from drills.colour.reading import Reading
    from drills.colour.spaces import Lab
    from drills.pencils.pencil import PencilSet
    from drills.planning.plan import Plan
    from drills.planning.plan_limits import Limits


def read_colour(colour: str | Lab) -> Reading:
    """What an artist's eye should find in a colour: family, lean, value, chroma, complement.

    ``colour`` is text (``#rrggbb``, ``rgb()`` or ``lab()`` as in CSS Color 4, or a Munsell
    notation) or CIELAB (L*, a*, b*; D50, 2° observer). Raises InputError for a text that is
    no colour.

    >>> from drills import read_colour
    >>> brown = read_colour("#6b4423")
    >>> brown.family, brown.value_word, brown.everyday
    ('orange', 'dark', 'brown')
    >>> print(read_colour((52, -18, -24)).complement)
    orange
    >>> read_colour("#808080").family is None
    True
    """
    from drills.colour.reading import read_colour as read

    return read(_lab(colour))


def load_pencils(path: str | os.PathLike[str]) -> PencilSet:
    """The pencils of a CSV file in UTF-8, checked through and through.

    Its first line names the columns: ``name``, and ``hex``, ``lab`` or 31 reflectances
    ``r400`` to ``r700`` (nm); the README has the others. Raises InputError, whose one line
    names the file, the place and the remedy.

    >>> from pathlib import Path
    >>> from tempfile import TemporaryDirectory
    >>> from drills import load_pencils
    >>> with TemporaryDirectory() as folder:
    ...     file = Path(folder) / "mine.csv"
    ...     _ = file.write_text("name,hex\\nMy red,#c33935\\nMy blue,#2a5a9c\\n")
    ...     [pencil.name for pencil in load_pencils(file).pencils]
    ['My red', 'My blue']
    """
    from drills.pencils.file import load_pencils as load

    return load(path)


def plan(colour: str | Lab, pencils: PencilSet, limits: Limits | None = None) -> Plan:
    """Which of these pencils to lay, in what order and how hard, to make a colour on paper.

    ``colour`` is as for ``read_colour``; without ``limits`` at most five moves and four
    pencils on white drawing paper. The plan's ``delta_e00`` is what a layering model
    predicts (CIEDE2000), not a measurement. Raises InputError.

    >>> from drills import plan
    >>> from drills.pencils.sets import demo_set
    >>> made = plan("#c33935", demo_set())
    >>> made.moves[0].move.action
    'lay'
    >>> made.delta_e00 < 3
    True
    """
    from drills.layering.palette import prepare
    from drills.planning.plan_limits import Limits
    from drills.planning.planner import plan as make

    return make(prepare(pencils), _lab(colour), Limits() if limits is None else limits)


def _lab(colour: str | Lab) -> Lab:
    from drills.colour.parse import parse_colour

    return parse_colour(colour) if isinstance(colour, str) else colour
