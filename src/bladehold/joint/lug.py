"""A lug, or a plate edge, loaded by a pin: net section, shear-out, bearing, oblique load.

Metal: the simple forms stand with e/D of 2, at the least 1.5 (`METAL_EDGE_DISTANCE`); below that, or with
a margin under 0.5, the factors of the full lug method (Kbr, Kt, Ktru) are read off its curves and given
as arguments. A reading carries about 5 % (`CURVE_READING_ERROR`). The same shear-out form serves
the tear-out of a hub plate towards its edge. Laminates: the same forms with the laminate's own tested
strengths and a hole factor.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real
from bladehold.validity import Range

METAL_EDGE_DISTANCE = Range(
    "e/D",
    1.5,
    None,
    "",
    "simple shear-out and bearing no longer hold, use the full lug method",
    "NASA-TM-106943 (1995) eq. 69-74",
)
METAL_EDGE_DISTANCE_WANTED = Range(
    "e/D",
    2.0,
    None,
    "",
    "less edge distance than wanted, bearing strength drops",
    "NASA-TM-106943 (1995) eq. 69-74",
)
LAMINATE_EDGE_DISTANCE = Range(
    "e/D",
    3.0,
    None,
    "",
    "carbon laminate may shear out before it bears",
    "customary laminate practice, unconfirmed (mark: memory)",
)
LAMINATE_WIDTH = Range(
    "w/D",
    6.0,
    None,
    "",
    "carbon laminate may fail in net tension before it bears",
    "customary laminate practice, unconfirmed (mark: memory)",
)
LAMINATE_SHEAR_OUT_EDGE = Range(
    "e/D",
    2.0,
    None,
    "",
    "single-bolt carbon/epoxy shears out below this",
    "Polymers 16(6) 847 (2024), abstract",
)
LAMINATE_NET_TENSION_WIDTH = Range(
    "w/D",
    4.0,
    None,
    "",
    "single-bolt carbon/epoxy fails in net tension below this",
    "Polymers 16(6) 847 (2024), abstract",
)
_EKVALL = "Ekvall, J. Aircraft 23(5) (1986)"
EKVALL_WIDTH = Range("W/D", 1.33, 4.5, "", "outside the 243 tests of the method", _EKVALL)
EKVALL_HOLE = Range("D", 0.25 * 0.0254, 2.85 * 0.0254, "m", "outside the 243 tests of the method", _EKVALL)
EKVALL_SLENDERNESS = Range("D/t", 0.76, 10.2, "", "outside the 243 tests of the method", _EKVALL)

EKVALL_FACTOR_90_95 = 0.910
"""On Ekvall's mean prediction: 90 % of lugs with 95 % confidence reach it."""
EKVALL_FACTOR_99_95 = 0.837
"""On Ekvall's mean prediction: 99 % of lugs with 95 % confidence reach it."""

CURVE_READING_ERROR = 0.05
"""Share by which a factor read off the printed lug curves may be wrong."""

OFF_AXIS_SHARE = 0.10
"""Transverse share of the axial load that is always allowed for (AA-SB-001, 3rd ed., 12.2.9)."""


def net_tension_capacity(
    width: ArrayLike,
    hole_diameter: ArrayLike,
    thickness: ArrayLike,
    tensile_strength: ArrayLike,
    factor: ArrayLike = 1.0,
) -> Floats:
    """Load that tears the lug through its net section, P = K (w - D) t Ftu.

    Arguments (broadcast together):
        width: w across the hole [m]; hole_diameter: D [m]; thickness: t [m];
        tensile_strength: Ftu along the load, for a laminate its unnotched strength [Pa];
        factor: 1 for the simple form, Kt of the full lug method, or a laminate's hole factor [-].
    Returns: load [N].
    Errors: ValueError when an argument is not positive or w not above D.
    Source: NASA-TM-106943 (1995); full method AFFDL-TR-69-42 ch. 9 (P'tu = Kt (w - D) t Ftux).
    """
    w, D = positive("width", width), positive("hole diameter", hole_diameter)
    larger("width", w, "hole diameter", D)
    strength = positive("factor", factor) * positive("tensile strength", tensile_strength)
    return (w - D) * positive("thickness", thickness) * strength


def net_section_stress(
    pull: ArrayLike,
    moment: ArrayLike,
    width: ArrayLike,
    hole_diameter: ArrayLike,
    thickness: ArrayLike,
) -> Floats:
    """Greatest stress beside the hole under pull and flatwise bending, P/A + 6 M/(A t), A = (w - D) t.

    Lug and plates of a clevis both carry part of the flap moment through the section at the hole:
    each contact force N on its lever c, about half the moment.

    Arguments (broadcast together):
        pull: P along the part [N]; moment: M that bends it flatwise at the hole [N m]; width: w [m];
        hole_diameter: D [m]; thickness: t [m].
    Returns: stress [Pa], without stress concentration.
    Errors: ValueError when a size is not positive or w not above D.
    Source: beam theory; pull as in NASA-TM-106943 (1995) eq. 69-74.
    """
    w, D = positive("width", width), positive("hole diameter", hole_diameter)
    larger("width", w, "hole diameter", D)
    t = positive("thickness", thickness)
    area = (w - D) * t
    return at_least_zero("pull", pull) / area + 6.0 * at_least_zero("moment", moment) / (area * t)


def shear_out_capacity(
    thickness: ArrayLike, edge_distance: ArrayLike, hole_diameter: ArrayLike, shear_strength: ArrayLike
) -> Floats:
    """Load that pushes the pin out through the end of a lug or plate, P = 2 t (e - D/2) Fsu.

    Free body: the plug between hole and edge, held along two planes tangent to the hole's top.

    Arguments (broadcast together):
        thickness: t [m]; edge_distance: e from hole centre to the edge along the load [m];
        hole_diameter: D [m]; shear_strength: Fsu, for a laminate its tested shear-out strength [Pa].
    Returns: load [N].
    Errors: ValueError when an argument is not positive or e not above D/2.
    Range: `METAL_EDGE_DISTANCE`, `LAMINATE_EDGE_DISTANCE`.
    Source: NASA-TM-106943 (1995) eq. 69-74.
    """
    e, radius = positive("edge distance", edge_distance), positive("hole diameter", hole_diameter) / 2.0
    larger("edge distance", e, "half the hole diameter", radius)
    return 2.0 * positive("thickness", thickness) * (e - radius) * positive("shear strength", shear_strength)


def bearing_capacity(
    hole_diameter: ArrayLike, thickness: ArrayLike, strength: ArrayLike, factor: ArrayLike = 1.0
) -> Floats:
    """Load in bearing on the projected area of the pin, P = K D t F.

    Arguments (broadcast together):
        hole_diameter: D, the pin's where it is smaller [m]; thickness: t [m];
        strength: Fbr for the simple form, Ftu along the load for the lug methods [Pa];
        factor: 1 with Fbr; Kbr (axial shear-bearing) or Ktru (transverse) of the full lug method, or
        Ekvall's K_BR, with Ftu [-].
    Returns: load [N].
    Errors: ValueError when an argument is not positive.
    Source: NASA-TM-106943 (1995) eq. 69-74 (D t Fbr); AFFDL-TR-69-42 ch. 9 (P'bru = Kbr D t Ftux,
        P'tru = Ktru D t Ftux); Ekvall (1986) (P = K_BR D t Ftu).
    """
    area = positive("hole diameter", hole_diameter) * positive("thickness", thickness)
    return positive("factor", factor) * area * positive("strength", strength)


def transverse_load(axial: ArrayLike, transverse: ArrayLike) -> Floats:
    """Transverse load to be checked: as found, but never below a tenth of the axial load.

    Arguments (broadcast together):
        axial: load along the lug [N]; transverse: load across it as computed [N].
    Returns: transverse load [N], magnitude.
    Errors: ValueError when a load is not finite.
    Source: AA-SB-001, 3rd ed., 12.2.9.
    """
    found = np.abs(real("transverse load", transverse))
    return np.maximum(found, OFF_AXIS_SHARE * np.abs(real("axial load", axial)))


def oblique_multiplier(axial_ratio: ArrayLike, transverse_ratio: ArrayLike) -> Floats:
    """Factor by which an oblique load on a lug may grow, 1 / (Ra^1.6 + Rtr^1.6)^0.625.

    Arguments (broadcast together):
        axial_ratio: Ra, axial load with its factors (fitting factor 1.15 too) over the lower of P'bru and
        P'tu [-]; transverse_ratio: Rtr, the same over P'tru [-].
    Returns: multiplier [-], infinite without load; margin of safety is the multiplier less 1.
    Errors: ValueError when a ratio is negative.
    Range: factors read off curves carry `CURVE_READING_ERROR`.
    Source: AFFDL-TR-69-42 ch. 9 (Melcon and Hoblit).
    """
    axial, transverse = np.broadcast_arrays(
        at_least_zero("axial ratio", axial_ratio), at_least_zero("transverse ratio", transverse_ratio)
    )
    combined = (axial**1.6 + transverse**1.6) ** 0.625
    with np.errstate(divide="ignore"):
        return 1.0 / combined


def ekvall_transverse_factor(width_ratio: ArrayLike) -> Floats:
    """K_BR of a straight lug loaded square to its axis, -0.463 + 0.580 W/D.

    Goes with `bearing_capacity`; multiply by `EKVALL_FACTOR_90_95` or `EKVALL_FACTOR_99_95`: test over
    prediction has a mean of 1.003 over 243 tests, standard deviation 0.065.

    Arguments:
        width_ratio: W/D [-], any shape.
    Returns: K_BR [-].
    Errors: ValueError where the factor is not positive (W/D below 0.80).
    Range: `EKVALL_WIDTH`, `EKVALL_HOLE`, `EKVALL_SLENDERNESS`; bearing failures excluded.
    Source: Ekvall, J. Aircraft 23(5) (1986).
    """
    return positive("K_BR from W/D", -0.463 + 0.580 * positive("W/D", width_ratio))


def ekvall_axial_stress_concentration(width_ratio: ArrayLike) -> Floats:
    """Ktb, bearing stress concentration of a straight lug loaded along its axis, 2.75 (W/D - 1)^-0.675.

    The curve from Ktb to K_BR is a figure that is not carried here; K_BR for axial load is an argument
    of `bearing_capacity`.

    Arguments:
        width_ratio: W/D [-], any shape.
    Returns: Ktb [-].
    Errors: ValueError when W/D is not above 1.
    Range: `EKVALL_WIDTH`.
    Source: Ekvall, J. Aircraft 23(5) (1986).
    """
    return 2.75 * positive("W/D - 1", positive("W/D", width_ratio) - 1.0) ** -0.675
