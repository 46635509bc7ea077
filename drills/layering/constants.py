"""Every number of the layering model, in one place, each with its source or "our estimate".

Thickness is counted in firm films: 1 is what firm pressure leaves on a peak of
fresh drawing paper. K and S are Kubelka and Munk's absorption and scattering
for that thickness.
"""

from __future__ import annotations

from typing import Final

# Pressure: 1 is firm, as for the swatch in a pencils file.
LIGHT: Final = 0.3  # our estimate
MIDDLE: Final = 0.6  # our estimate
FIRM: Final = 1.0  # by definition
HEAVIEST: Final = 1.5  # our estimate: more would tear the paper or break the point

# The wax or oil film of one firm layer. Scattering S by opacity: over a black
# ground a film that absorbs nothing reflects S/(1 + S) (Kubelka 1948).
SCATTERING: Final = {"transparent": 0.12, "semi": 0.3, "opaque": 1.1}  # our estimate
ABSORPTION_FLOOR: Final = 1e-5  # least K/S: no film is perfectly clear; our estimate
S_LIMITS: Final = (1e-3, 1e4)  # where S is solved for; our estimate
K_LIMITS: Final = (1e-6, 1e4)  # where K is solved for; our estimate

# Papers. Heights run from 0 (the deepest valley) to 1 (the highest peak).
ZONE_HEIGHTS: Final = (0.1, 0.3, 0.5, 0.7, 0.9)  # five equal bands
# Shares of area, for a surface whose heights lie about the middle; our estimate.
ZONE_AREAS: Final = (0.12, 0.2, 0.28, 0.24, 0.16)
# Depth of tooth: how far apart the heights stand to the point; our estimate.
TOOTH: Final = {"smooth": 0.55, "drawing": 1.0, "rough": 1.25}
# White drawing paper without brighteners: reflectance at 400, 450 … 700 nm. Our estimate.
WHITE_PAPER: Final = (0.84, 0.905, 0.92, 0.925, 0.925, 0.93, 0.93)
BLACK_PAPER: Final = 0.045  # our estimate, for on_black swatches

# What a point sheds grows faster than its pressure: load = pressure ** LOAD_POWER.
LOAD_POWER: Final = 1.5  # our estimate

# How a point touches the tooth: it reaches a zone in full when pressure presses
# it lower than the zone's height, over a soft edge.
REACH: Final = 1.05  # depth reached by firm pressure; our estimate
EDGE: Final = 0.13  # softness of that edge, in height; our estimate
# Filling: the share of tooth filled by X firm films is 1 − exp(−X / CAPACITY).
CAPACITY: Final = 1.8  # our estimate: four firm layers bring drawing paper to FULL
FULL: Final = 0.68  # area-mean fill from which paper takes little more; our estimate

# Blending with a colourless pencil.
RUB: Final = 2.0  # share rubbed = 1 − exp(−RUB · pressure); our estimate
CARRY: Final = 0.08  # share of what is rubbed that is carried off to emptier zones; our estimate
WAX: Final = 0.25  # thickness of clear wax left by firm blending; our estimate
HAZE: Final = 0.08  # scattering S·x of the haze left by firm blending; our estimate
# Share of a haze taken off by the next layer = 1 − exp(−HAZE_TAKEN · pressure).
HAZE_TAKEN: Final = 3.0  # our estimate

# Burnishing presses everything flat.
BURNISH_RUB: Final = 0.9  # share of each zone rubbed into one film; our estimate
BURNISH_CARRY: Final = 0.8  # share of that pressed out level; our estimate
