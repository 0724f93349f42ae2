"""A pin weak in bending: how lug and ears give way at their edges until the pin can bear the load.

Two named ways of the Air Force manual, both for metal that may yield at the edges of its holes:

- `peaking_factor`, `bending_moment_peaked`: only a share gamma of the lug's thickness, next to its faces,
  carries.
- `shifted_pin_load`: ears and lug are strained to their strength over as little thickness as the load needs;
  the greatest load that pin, ears and lug then bear together.

A laminate does not yield: there the elastic bed of the bedding module is asked, and first crushing at the
faces.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive
from bladehold.joint.lug_curves import family_factor
from bladehold.joint.pin import double_shear_force
from bladehold.validity import Range

PEAKING_STRENGTH = Range(
    "(Pu)min/(Abr Ftux)",
    0.1,
    2.0,
    "",
    "off the peaking curves; past 2 nothing is taken off the lever",
    "NASA TM X-73305 (1975), lugs and pins",
)


def peaking_factor(
    strength_ratio: ArrayLike,
    end_ratio: ArrayLike,
    parameters: ArrayLike,
    points: ArrayLike,
    factors: ArrayLike,
) -> Floats:
    """Share gamma of the lug's thickness that carries, next to its two faces.

    For r = (e - D/2)/t2 of about 0.55 and more the curves are one straight line, gamma = (Pu)min/(2 Abr
    Ftux): bearing of twice the tensile strength on the share gamma. With less metal beyond the hole more
    thickness is needed. Strength ratios below the first point give that point's share at the least.

    Arguments:
        strength_ratio: (Pu)min/(Abr Ftux), least ultimate load of the lug over D t2 Ftux [-]; end_ratio: r
        [-], broadcasts with it; parameters, points, factors: the curves as read, as in `family_factor` [m],
        [n], [m, n].
    Returns: gamma, at most 1 [-].
    Errors: ValueError when a ratio is not positive or the curves are not in order.
    Range: `PEAKING_STRENGTH`.
    Source: NASA TM X-73305 (1975) with the same curves as Melcon and Hoblit; points read by others.
    """
    ratio = positive("strength ratio", strength_ratio)
    read = family_factor(ratio, positive("end ratio", end_ratio), parameters, points, factors)
    return np.minimum(read, 1.0)


def bending_moment_peaked(
    force: ArrayLike,
    outer_thickness: ArrayLike,
    inner_thickness: ArrayLike,
    gap: ArrayLike,
    peaking: ArrayLike,
) -> Floats:
    """Greatest bending moment in a pin whose load lies near the lug's faces, (P/2)(t1/2 + g + gamma t2/4).

    Free body: half the pin; the half lug pushes at gamma t2/4 from its face. With gamma 1 it is even
    pressure.

    Arguments (broadcast together):
        force: P of the lug [N]; outer_thickness: one plate t1 [m]; inner_thickness: lug t2 [m]; gap: g [m];
        peaking: gamma from `peaking_factor` [-].
    Returns: moment [N m].
    Errors: ValueError when a thickness is not positive, a gap negative, or gamma not in 0 to 1.
    Source: AA-SB-001 (3rd ed.) 12.2.10 after NASA TM X-73305; form confirmed in an open implementation.
    """
    gamma = at_least_zero("peaking factor", peaking)
    if np.any(gamma > 1.0):
        raise ValueError("peaking factor must be at most 1")
    arm = positive("outer thickness", outer_thickness) / 2.0 + at_least_zero("gap", gap)
    return double_shear_force(force) * (arm + gamma * positive("inner thickness", inner_thickness) / 4.0)


def shifted_pin_load(
    pin_moment: ArrayLike,
    outer_strength: ArrayLike,
    inner_strength: ArrayLike,
    outer_thickness: ArrayLike,
    inner_thickness: ArrayLike,
    gap: ArrayLike = 0.0,
) -> Floats:
    """Greatest load of a joint whose pin is weak in bending, ears and lug at their strength near the gap.

    P = 2 C {sqrt[Mu (2/C) + g^2] - g} with C = P1 P2/(P1 t2 + P2 t1). Free body: an ear needs b1 = P t1/(2
    P1) of its thickness, the lug P t2/P2, so that the lever is b1/2 + g + P t2/(4 P2) = P/(4 C) + g, and the
    pin bears Mu = (P/2) times that. Never more than 2 P1 or P2, where the whole thickness is used.

    Arguments (broadcast together):
        pin_moment: Mu that the pin bears [N m]; outer_strength: P1 of one ear, bush counted [N];
        inner_strength: P2 of the lug, bush counted [N]; outer_thickness: t1 [m]; inner_thickness: t2 [m];
        gap: g [m].
    Returns: load of the lug [N].
    Errors: ValueError when an argument is not positive (gap: negative).
    Range: ears and lug that yield before they tear.
    Source: AFFDL-TR-69-42 eq. 9-16, 9-19 as quoted in an open implementation; derived again above.
    """
    p1, p2 = positive("outer strength", outer_strength), positive("inner strength", inner_strength)
    t1, t2 = positive("outer thickness", outer_thickness), positive("inner thickness", inner_thickness)
    g, moment = at_least_zero("gap", gap), positive("pin moment", pin_moment)
    per_lever = p1 * p2 / (p1 * t2 + p2 * t1)
    shifted = 2.0 * per_lever * (np.sqrt(2.0 * moment / per_lever + g**2) - g)
    return np.minimum(shifted, np.minimum(2.0 * p1, p2))
