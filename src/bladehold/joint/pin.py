"""A pin or screw shank that carries a lug between two plates: shear and bending.

All functions take SI numbers or arrays that broadcast together. Whether bending must be counted:
where shear crosses a gap, or the pin has clearance in the hole, yes; for a close fit without gap
NASA-STD-5020B (2021) 4.4.4 does not ask for it. Elastic beam bending without peaking (the lug
load moving towards its faces as the pin bends) is several times the shear stress; which of the
named moment methods is used is therefore always a stated choice.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real

PLASTIC_BENDING_FACTOR = 16.0 / (3.0 * np.pi)
"""Plastic over elastic bending moment of a solid round section, (4/3) r^3 / ((pi/4) r^3) = 1.698."""


def double_shear_force(force: ArrayLike) -> Floats:
    """Shear force in each of the two shear planes of a pin through a lug between two plates.

    Q = P / 2: the lug is pulled by P, each plate holds half (free body: the pin, symmetric plates).

    Arguments:
        force: force P of the lug across the pin [N], any shape.
    Returns: force in one shear plane [N].
    Source: statics.
    """
    return real("force", force) / 2.0


def shear_area(diameter: ArrayLike) -> Floats:
    """Area of a round section in one shear plane.

    A = pi d^2 / 4, with d the shank diameter where the shank lies in the plane and the least minor
    diameter of the external thread (d3 of an ISO thread) where threads lie in it.

    Arguments:
        diameter: shank or thread root diameter d [m], any shape.
    Returns: area [m2].
    Errors: ValueError when a diameter is not positive.
    Source: NASA-STD-5020B (2021) eq. 12 (shank), eq. 13 (thread).
    """
    return np.pi / 4.0 * positive("diameter", diameter) ** 2


def shear_strength_from_tensile(tensile_strength: ArrayLike) -> Floats:
    """Shear strength of a ductile metal where none is published: Fsu = Ftu / sqrt(3) = 0.577 Ftu.

    The same ratio takes tensile yield to shear yield.

    Arguments:
        tensile_strength: Ftu (or Fty) [Pa], any shape.
    Returns: Fsu (or Fsy) [Pa].
    Errors: ValueError when a strength is not positive.
    Range: "usually holds" for the metals of fasteners, says the source; not for composites or
        castings of low ductility.
    Source: NASA-STD-5020B (2021) eq. 64; for yield also NASA-TM-106943 (1995).
    """
    return positive("tensile strength", tensile_strength) / math.sqrt(3.0)


def shear_capacity(diameter: ArrayLike, shear_strength: ArrayLike) -> Floats:
    """Allowable shear load of one shear plane, Psu = (pi d^2 / 4) Fsu.

    >>> print(f"{shear_capacity(5e-3, 480e6):.1f} N")
    9424.8 N

    Arguments:
        diameter: diameter in the plane, see `shear_area` [m]; shear_strength: Fsu [Pa]; broadcast.
    Returns: load per plane [N].
    Errors: ValueError when a diameter or strength is not positive.
    Source: NASA-STD-5020B (2021) eq. 12, 13.
    """
    return shear_area(diameter) * positive("shear strength", shear_strength)


def bending_moment_air_force(
    force: ArrayLike, outer_thickness: ArrayLike, inner_thickness: ArrayLike, gap: ArrayLike = 0.0
) -> Floats:
    """Greatest bending moment in the pin, uniform bearing in lug and plates.

    M = (P/2)(t1/2 + t2/4 + g). Free body: half the pin from mid-lug outwards. The plate pushes P/2 at
    the middle of its thickness, t2/2 + g + t1/2 from mid-lug; the half lug pushes P/2 back at t2/4.

    Arguments (broadcast together):
        force: force P of the lug [N]; outer_thickness: one plate t1 [m];
        inner_thickness: lug t2 [m]; gap: clearance g between lug and each plate [m].
    Returns: moment at mid-lug [N m].
    Errors: ValueError when a thickness is not positive or a gap negative.
    Source: Air Force Stress Analysis Manual, AFFDL-TR-69-42, ch. 9, without its peaking factor.
    """
    arm = (
        positive("outer thickness", outer_thickness) / 2.0
        + positive("inner thickness", inner_thickness) / 4.0
        + at_least_zero("gap", gap)
    )
    return double_shear_force(force) * arm


def bending_moment_knuckle(
    force: ArrayLike, outer_thickness: ArrayLike, inner_thickness: ArrayLike, gap: ArrayLike = 0.0
) -> Floats:
    """Greatest bending moment in the pin, triangular bearing in the plates.

    M = (P/2)(t2/4 + t1/3 + g). Free body as in `bending_moment_air_force`, but the plate's bearing falls
    to zero at its outer face, so that its resultant lies at t1/3 from the inner face. The source has no
    gap; g enters the same lever by the same statics.

    Arguments (broadcast together):
        force: force P of the lug [N]; outer_thickness: one plate t1 [m];
        inner_thickness: lug t2 [m]; gap: clearance g between lug and each plate [m].
    Returns: moment at mid-lug [N m].
    Errors: ValueError when a thickness is not positive or a gap negative.
    Source: Bhandari, Design of Machine Elements, knuckle joint, Ex. 4.5.
    """
    arm = (
        positive("outer thickness", outer_thickness) / 3.0
        + positive("inner thickness", inner_thickness) / 4.0
        + at_least_zero("gap", gap)
    )
    return double_shear_force(force) * arm


BENDING_METHODS: MappingProxyType[str, Callable[..., Floats]] = MappingProxyType(
    {"air-force": bending_moment_air_force, "knuckle": bending_moment_knuckle}
)
"""Named pin bending methods, all with the arguments (force, outer thickness, inner thickness, gap)."""


def section_modulus(diameter: ArrayLike) -> Floats:
    """Elastic section modulus of a solid round section, Z = pi d^3 / 32.

    Arguments:
        diameter: shank diameter, or thread root diameter where threads lie at the moment's place [m].
    Returns: modulus [m3].
    Errors: ValueError when a diameter is not positive.
    Source: beam theory.
    """
    return np.pi / 32.0 * positive("diameter", diameter) ** 3


def bending_stress(moment: ArrayLike, diameter: ArrayLike) -> Floats:
    """Elastic bending stress at the extreme fibre of a solid round section, M / Z = 32 M / (pi d^3).

    Arguments (broadcast together):
        moment: bending moment M [N m]; diameter: section diameter d [m].
    Returns: stress [Pa].
    Errors: ValueError when a diameter is not positive.
    Source: beam theory.
    """
    return real("moment", moment) / section_modulus(diameter)


def plastic_moment(diameter: ArrayLike, strength: ArrayLike) -> Floats:
    """Moment at which a solid round section is plastic through its whole depth, Mp = (4/3) F r^3.

    Mp / Z is the plastic bending allowable Fbu = 1.698 F of the interaction forms with plastic bending.

    Arguments (broadcast together):
        diameter: section diameter 2 r [m]; strength: Fty (or Ftu at rupture) [Pa].
    Returns: moment [N m].
    Errors: ValueError when a diameter or strength is not positive.
    Range: needs a ductile material, elastic - ideally plastic.
    Source: NASA-STD-5020B (2021) eq. 70-75.
    """
    return 4.0 / 3.0 * positive("strength", strength) * (positive("diameter", diameter) / 2.0) ** 3
