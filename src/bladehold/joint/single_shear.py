"""A pin left in lug and one plate after it was sheared at the other: what it feels.

Nothing but the two holes turns such a pin, so the resultants of the pressure in lug and plate lie on one
line, in the middle of the gap between them. With a stiff pin the pressure in each part runs linearly with the
depth x from its face: per length p = (P/t)(4 + 6 e - 6 (1 + 2 e) x/t), e = g/(2 t).
"""

from __future__ import annotations

from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive


def single_shear_moment(force: ArrayLike, thickness: ArrayLike, gap: ArrayLike = 0.0) -> Floats:
    """Greatest bending moment of the pin within one of the two parts.

    M = P t [e + s - (2 + 3 e) s^2 + (1 + 2 e) s^3], e = g/(2 t), s = 1/(3 (1 + 2 e)), where shear ends;
    4 P t/27 without a gap. The greater of both parts, that of the thicker one, is the pin's.

    >>> print(f"{single_shear_moment(1000.0, 8e-3) / (1000.0 * 8e-3):.6f}")
    0.148148

    Arguments (broadcast together):
        force: P across the pin [N]; thickness: t of the part [m]; gap: g between the parts [m].
    Returns: moment [N m].
    Errors: ValueError when force or gap is negative or t not positive.
    Range: stiff pin, elastic bearing; a soft pin leans on the edges and bends less.
    Source: derived, statics of the linear pressure above.
    """
    t = positive("thickness", thickness)
    e = at_least_zero("gap", gap) / (2.0 * t)
    s = 1.0 / (3.0 * (1.0 + 2.0 * e))
    lever = e + s - (2.0 + 3.0 * e) * s**2 + (1.0 + 2.0 * e) * s**3
    return at_least_zero("force", force) * t * lever


def single_shear_peak(thickness: ArrayLike, gap: ArrayLike = 0.0) -> Floats:
    """Greatest pressure of the pin on one part, at its face, over the average there, 4 + 3 g/t.

    Arguments (broadcast together):
        thickness: t of the part [m]; gap: g between the parts [m].
    Returns: ratio [-].
    Errors: ValueError when the gap is negative or t not positive.
    Range: as `single_shear_moment`.
    Source: derived, as `single_shear_moment`.
    """
    return 4.0 + 3.0 * at_least_zero("gap", gap) / positive("thickness", thickness)
