"""The surface of a film: what it sends back itself, and what it holds in.

Saunderson, J. L. (1942), J. Opt. Soc. Am. 32, 727: of light that falls on a
surface a share k1 turns back, and of light that comes up from below a share k2
turns down again, so that a body of reflectance ρ sends out

    u = (1 − k1)(1 − k2)·ρ / (1 − k2·ρ)

and, to an eye that sees the share m of what the surface turns back, u + m·k1. A
film under a surface keeps Kubelka's form (drills.layering.films): like it, u is
a ratio of two straight lines in ρ, so stacks can be counted in u throughout.
"""

from __future__ import annotations

from drills.layering import constants as c
from drills.layering.films import FloatArray

_PASSED = (1.0 - c.SURFACE_OUT) * (1.0 - c.SURFACE_IN)


def outside(body: FloatArray) -> FloatArray:
    """u, what leaves through the surface, for a body's reflectance ρ 0–1."""
    u: FloatArray = _PASSED * body / (1.0 - c.SURFACE_IN * body)
    return u


def inside(u: FloatArray) -> FloatArray:
    """ρ of the body for u: the inverse of ``outside``."""
    body: FloatArray = u / (_PASSED + c.SURFACE_IN * u)
    return body


def ends(r_inf: FloatArray) -> tuple[FloatArray, FloatArray]:
    """The two numbers of a film under the surface that ``films.over`` asks for, from its R∞.

    They are u of R∞ and one over u of 1/R∞, the two grounds that thickness doesn't change.
    """
    return outside(r_inf), (r_inf - c.SURFACE_IN) / _PASSED
