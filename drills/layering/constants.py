"""Every number of the layering model, in one place, each with its source or "our estimate".

What waits for real patches has its prior spread beside it, as ..._SD: a standard deviation,
drawn in ``drills.layering.doubt``. What has none is held fixed there.

Thickness is counted in firm films: 1 is what firm pressure leaves on a peak of
fresh drawing paper. K and S are Kubelka and Munk's absorption and scattering
for that thickness.
"""

from __future__ import annotations

from typing import Final

FILM_MODEL: Final = 2
"""Counts up whenever predictions change: questions keep which model made them. 1 scattered all
light alike and had no surface."""

# Pressure: 1 is firm, as for the swatch in a pencils file.
LIGHT: Final = 0.3  # our estimate
MIDDLE: Final = 0.6  # our estimate
FIRM: Final = 1.0  # by definition
HEAVIEST: Final = 1.5  # our estimate: more would tear the paper or break the point

# The wax or oil film of one firm layer. Scattering S by opacity: over a black
# ground a film that absorbs nothing reflects S/(1 + S) (Kubelka 1948).
SCATTERING: Final = {"transparent": 0.12, "semi": 0.3, "opaque": 1.1}  # our estimate
# S runs over wavelengths as (R/Rmax) ** SCATTER_POWER · (550 nm/λ) ** (SCATTER_SLOPE · Rmax), R
# being the pencil's own swatch: a grain that absorbs a light scatters little of it, and one
# that absorbs none scatters blue before red (Mie 1908: grains no larger than the wave).
SCATTER_POWER: Final = 0.75  # our estimate; 0 was flat, and greyed every pencil layer by layer
SCATTER_POWER_SD: Final = 0.3  # our estimate
SCATTER_SLOPE: Final = 1.0  # our estimate
SCATTERING_SD: Final = 0.4  # of the log of a pencil's scale about its class: × or ÷ 1.5; ours
CLASS_SD: Final = 0.2  # how much of SCATTERING_SD a whole class shares; our estimate
MEASURED_SD: Final = 0.2  # the same where there is an on_black swatch; our estimate
ON_BLACK_SD: Final = 3.0  # in Lab, of an on_black colour: measuring, and the model; our estimate
S_SCALES: Final = (0.02, 5.0)  # the least and most scattering of a pencil; our estimate
ABSORPTION_FLOOR: Final = 1e-5  # least K/S: no film is perfectly clear; our estimate
K_LIMITS: Final = (1e-6, 1e4)  # where K is solved for; our estimate

# Surface (Saunderson 1942): shares of light turned back going in and coming out.
SURFACE_OUT: Final = 0.04  # Fresnel at right angles, refractive index 1.5: ((n − 1)/(n + 1))²
SURFACE_IN: Final = 0.4  # Saunderson's own for pigmented plastics, from memory; theory gives 0.6
# What an eye sees of SURFACE_OUT: a matt film sends it everywhere, a glossy one past the eye.
MATT: Final = 0.25  # a waxy pencil film is between, and nearer glossy; our estimate
MATT_SD: Final = 0.7  # of its log; our estimate
DARKEST: Final = 0.5  # of a swatch's least reflectance its surface is this share at most; ours
SURFACE_DEPTH: Final = 0.2  # firm films that give a surface their own look; our estimate

# Papers. Heights run from 0 (a valley) to 1 (the highest peak); pits lie deeper.
# Pits, and four equal bands. A few pits stay nearly bare under one firm layer: the white
# flecks of a coloured pencil (common practice, no source).
ZONE_HEIGHTS: Final = (-0.25, 0.3, 0.5, 0.7, 0.9)
# Shares of area, for a surface whose heights lie about the middle; our estimate.
ZONE_AREAS: Final = (0.04, 0.24, 0.3, 0.26, 0.16)
# Depth of tooth: how far apart the heights stand to the point; our estimate.
TOOTH: Final = {"smooth": 0.55, "drawing": 1.0, "rough": 1.25}
TOOTH_SD: Final = 0.22  # of its log; our estimate
# White drawing paper without brighteners: reflectance at 400, 450 … 700 nm. Our estimate.
WHITE_PAPER: Final = (0.84, 0.905, 0.92, 0.925, 0.925, 0.93, 0.93)
BLACK_PAPER: Final = 0.045  # our estimate, for on_black swatches

# What a point sheds grows faster than its pressure: load = pressure ** LOAD_POWER.
LOAD_POWER: Final = 1.5  # our estimate
LOAD_POWER_SD: Final = 0.22  # of its log; our estimate
# A hand: each layer's pressure is off by HAND_SD (a share, layer for layer by itself), and
# light and middle are pressed as pressure ** power, power being 1 ± HABIT_SD.
HAND_SD: Final = 0.15  # our estimate
HABIT_SD: Final = 0.15  # our estimate: light pressed a fifth too hard or too lightly
PRESS_SD: Final = 0.12  # the same for light and for middle by themselves, of its log; ours

# How a point touches the tooth: it reaches a zone in full when pressure presses
# it lower than the zone's height, over a soft edge.
REACH: Final = 1.05  # depth reached by firm pressure; our estimate
EDGE: Final = 0.13  # softness of that edge, in height; our estimate
# Filling: the share of tooth filled by X firm films is 1 − exp(−X / CAPACITY).
CAPACITY: Final = 1.8  # our estimate: four firm layers bring drawing paper to FULL
CAPACITY_SD: Final = 0.22  # of its log; our estimate
FULL: Final = 0.68  # area-mean fill from which paper takes little more; our estimate

# Blending with a colourless pencil.
RUB: Final = 2.0  # share rubbed = 1 − exp(−RUB · pressure); our estimate
CARRY: Final = 0.08  # share of what is rubbed that is carried off to emptier zones; our estimate
WAX: Final = 0.25  # thickness of clear wax left by firm blending; our estimate
HAZE: Final = 0.005  # scattering S·x of the haze left by firm blending; our estimate
BLEND_GLOSS: Final = 0.6  # share of the surface's matt look that firm blending takes; our estimate
# Share of a haze taken off by the next layer = 1 − exp(−HAZE_TAKEN · pressure).
HAZE_TAKEN: Final = 3.0  # our estimate

# Burnishing presses everything flat.
BURNISH_RUB: Final = 0.9  # share of each zone rubbed into one film; our estimate
BURNISH_CARRY: Final = 0.8  # share of that pressed out level; our estimate
BURNISH_GLOSS: Final = 0.9  # share of the surface's matt look that burnishing takes; our estimate

# A patch that a learner paints (drills.hand), as a difference CIEDE2000.
PATCH_SD: Final = 1.5  # measuring one, from a photo or by eye; our estimate
# A box or a thing read from a photo by its paper white: simulated photos came to about 2 (root mean
# square, ``tests.bench sheets``), and phones do more to tones than those; our estimate.
READ_SD: Final = 2.5
# The same for a strong red or orange: 1.7 by cameras with a matrix fitted to a chart, 5 by those
# with one that is worst for reds (``tests.bench pictures``); our estimate.
WARM_SD: Final = 4.5
MISFIT_SD: Final = 1.0  # what the model gets wrong whatever is learned; our estimate

# The spectrum behind a hex or Lab. Measured patches (drills.colour.recover against the charts
# and samples of colour-science, tests.other_make) differ from the smooth one by waves in
# its logit: size SPECTRUM before what could be seen is taken off, of log sd SPECTRUM_SD from
# patch to patch, alike over SPECTRUM_NM.
SPECTRUM: Final = 0.35
SPECTRUM_SD: Final = 0.5
SPECTRUM_NM: Final = 28.0
DEEPEST: Final = 0.9  # the most, as a share, that a band gives up to a wave; our estimate
BRIGHTEST: Final = 0.98  # the most a drawn spectrum reflects; our estimate
