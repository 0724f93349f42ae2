"""Disc springs (conical spring washers) under head or nut: force, rate, stacks.

In series with the screw they make it softer, so that temperature, embedding and creep take less of the
preload; `stiffness.in_series` puts them together.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real

_POISSON = 0.3  # Poisson's ratio of spring steel


def disc_spring_force(
    deflection: ArrayLike,
    outer_diameter: ArrayLike,
    inner_diameter: ArrayLike,
    thickness: ArrayLike,
    cone_height: ArrayLike,
    modulus: ArrayLike,
) -> Floats:
    """Force of one disc spring without flats.

    F = 4 E/(1 - nu^2) t^3 s/(K1 De^2) [(h/t - s/t)(h/t - s/(2t)) + 1], nu = 0.3,
    K1 = (1/pi) ((d - 1)/d)^2 / [(d + 1)/(d - 1) - 2/ln d], d = De/Di

    Arguments (broadcast together):
        deflection: s [m]; outer_diameter: De [m]; inner_diameter: Di [m]; thickness: t [m];
        cone_height: h, free height less thickness [m]; modulus: E [Pa].
    Returns: force [N].
    Errors: ValueError when a size is not positive, De not above Di, or the deflection beyond flat.
    Range: up to about 0.75 h; near flat the force rises faster.
    Source: Almen and Laszlo, Trans. ASME 58 (1936); DIN 2092; from memory.
    """
    scale, t, h = _scale(outer_diameter, inner_diameter, thickness, cone_height, modulus)
    s = at_least_zero("deflection", deflection)
    at_least_zero("cone height less deflection", h - s)
    return scale * s / t * ((h / t - s / t) * (h / t - s / (2.0 * t)) + 1.0)


def disc_spring_rate(
    deflection: ArrayLike,
    outer_diameter: ArrayLike,
    inner_diameter: ArrayLike,
    thickness: ArrayLike,
    cone_height: ArrayLike,
    modulus: ArrayLike,
) -> Floats:
    """Rate of one disc spring at a deflection, dF/ds of `disc_spring_force`.

    4 E/(1 - nu^2) t^3/(K1 De^2) [(h/t)^2 - 3 (h/t)(s/t) + 1.5 (s/t)^2 + 1]

    Arguments (broadcast together):
        deflection: s [m]; outer_diameter: De [m]; inner_diameter: Di [m]; thickness: t [m];
        cone_height: h [m]; modulus: E [Pa].
    Returns: rate [N/m], falling with deflection; negative for tall discs (h/t above 1.41) near flat.
    Errors: as `disc_spring_force`.
    Range: as `disc_spring_force`.
    Source: as `disc_spring_force`, derived from it.
    """
    scale, t, h = _scale(outer_diameter, inner_diameter, thickness, cone_height, modulus)
    s = at_least_zero("deflection", deflection)
    at_least_zero("cone height less deflection", h - s)
    return scale / t * ((h / t) ** 2 - 3.0 * h * s / t**2 + 1.5 * (s / t) ** 2 + 1.0)


def disc_stack_rate(rate: ArrayLike, nested: ArrayLike = 1, opposed: ArrayLike = 1) -> Floats:
    """Rate of a stack of disc springs, k n / m.

    Arguments (broadcast together):
        rate: k of one disc [N/m]; nested: n discs the same way round in each packet [-]; opposed: m packets
        against each other [-].
    Returns: rate [N/m].
    Errors: ValueError when a count is not positive or a rate not finite.
    Range: friction between nested discs left out.
    Source: DIN 2092; springs in series and in parallel.
    """
    return real("rate", rate) * positive("nested discs", nested) / positive("opposed packets", opposed)


def _scale(
    outer: ArrayLike, inner: ArrayLike, thickness: ArrayLike, height: ArrayLike, modulus: ArrayLike
) -> tuple[Floats, Floats, Floats]:
    """4 E/(1 - nu^2) t^4/(K1 De^2), t and h."""
    De, Di = positive("outer diameter", outer), positive("inner diameter", inner)
    larger("outer diameter", De, "inner diameter", Di)
    t, ratio = positive("thickness", thickness), De / Di
    shape = ((ratio - 1.0) / ratio) ** 2 / ((ratio + 1.0) / (ratio - 1.0) - 2.0 / np.log(ratio)) / np.pi
    plate = 4.0 * positive("modulus", modulus) / (1.0 - _POISSON**2)
    return plate * t**4 / (shape * De**2), t, at_least_zero("cone height", height)
