"""The grey that mutes it: the planner's other way of muting, as ``mute_with_complement`` is one.

A grey or an earth has no hue, or hardly any, to turn a colour by: it takes chroma, and as much
value as its own value lies off. So among four of them value decides, and the lean of each.
"""

from __future__ import annotations

from drills.colour.reading import read_colour
from drills.kinds.mute_with_complement import MutersOffered, MuteWithComplement, named
from drills.questions import muting
from drills.questions.protocol import Lab


class MuteWithGrey(MuteWithComplement):
    name = "mute-with-grey"
    version = 1
    title = "The grey that mutes it"
    trains = "to choose the grey or earth that quiets a colour and keeps its value"
    by: muting.By = muting.GREYS
    which = "Which of these greys and earths"

    def touch(self, swatch: Lab) -> str:
        return named(read_colour(swatch))

    def why(self, data: MutersOffered) -> str:
        muter = read_colour(data.swatches[data.best])
        return (
            f"{data.names[data.best]} is {named(muter)}, {muter.value_word} in value. A grey turns "
            "no hue: it takes chroma, and draws the value toward its own."
        )


KIND = MuteWithGrey()
