"""Factors of the full lug method (Melcon and Hoblit) for metal, from points read off its curves.

A lug under oblique load is looked at along and across its axis: along, the lesser of shear-bearing
Kbr D t Ftux and net tension Kt (w - D) t Ftu; across, Ktru D t Ftux; both together by
`oblique_multiplier` of the lug's own module. At yield the same forms with Kbry, Kt and Ktry and the yield
strengths. The points are given as arguments: a curve is the abscissae `points` and the `factors` there, a
family of curves one row of factors for each value of its parameter. Between points a straight line is taken;
beyond the ends the factor is held. That is the safe side for rising curves past their last point (e/D above
4, hav/D above 1.4); a lug wider than the last point of net tension must be put in as that wide. Below the
first point the `CURVE_` ranges speak up.

Readings of the same printed curve by several people differ by 2 to 5 % (`CURVE_READING_ERROR`), readings of
kindred curves for shear-bearing by up to 8 % (`SHEAR_BEARING_READING_ERROR`): e/D 1.25 was read as 1.10, 1.14
and 1.24. Verdicts use `lower_bound`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, larger, positive, real
from bladehold.joint.lug import CURVE_READING_ERROR
from bladehold.validity import Range

SHEAR_BEARING_READING_ERROR = 0.08
"""Share by which a shear-bearing factor may be too high: spread of four published readings."""

SHEAR_PLANE_ANGLE = np.radians(40.0)
"""Angle from the load to where the two shear planes start at the hole."""

_METHOD = "AFFDL-TR-69-42 ch. 9 (Melcon and Hoblit)"
CURVE_EDGE_DISTANCE = Range("e/D", 0.75, None, "", "off the curves of the full lug method", _METHOD)
CURVE_WIDTH = Range("w/D", 1.1, None, "", "off the curves of the full lug method", _METHOD)
CURVE_SLENDERNESS = Range("D/t", None, 8.0, "", "so thin a lug dishes, off the curves", _METHOD)
CURVE_AREA_RATIO = Range("hav/D", 0.2, None, "", "off the curves for transverse load", _METHOD)


def curve_factor(value: ArrayLike, points: ArrayLike, factors: ArrayLike) -> Floats:
    """Factor of one curve, straight lines between the points read, held beyond the ends.

    Arguments:
        value: abscissa, such as w/D [-], any shape; points: abscissae of the points read, rising [n];
        factors: factors there [n].
    Returns: factor of the shape of value [-].
    Errors: ValueError when points do not rise, differ in number from factors, or a number is not finite.
    Range: the ends of the points, see the `CURVE_` ranges.
    Source: AFFDL-TR-69-42 ch. 9, points as given.
    """
    x, y = _rising("points", points), real("factors", factors)
    if x.shape != y.shape:
        raise ValueError(f"points and factors must be as many, got {x.size} and {y.size}")
    return np.asarray(np.interp(real("value", value), x, y))


def family_factor(
    value: ArrayLike, parameter: ArrayLike, parameters: ArrayLike, points: ArrayLike, factors: ArrayLike
) -> Floats:
    """Factor of a family of curves, straight lines between points and between curves, held beyond the ends.

    Arguments:
        value: abscissa, such as e/D [-]; parameter: of the curve, such as D/t [-], broadcasts with value;
        parameters: of the curves read, rising [m]; points: abscissae common to all curves, rising [n];
        factors: factors there [m, n].
    Returns: factor of the broadcast shape [-].
    Errors: ValueError when points or parameters do not rise or the factors' shape does not fit them.
    Range: the ends of points and parameters, see the `CURVE_` ranges.
    Source: AFFDL-TR-69-42 ch. 9, points as given.
    """
    x, p, table = _rising("points", points), _rising("parameters", parameters), real("factors", factors)
    if table.shape != (p.size, x.size):
        raise ValueError(f"factors must have the shape ({p.size}, {x.size}), got {table.shape}")
    at, between = np.broadcast_arrays(real("value", value), real("parameter", parameter))
    place = np.clip(np.interp(between, p, np.arange(p.size)), 0, p.size - 1)
    below = np.floor(place).astype(int)
    above = np.minimum(below + 1, p.size - 1)
    columns = np.stack([np.interp(at, x, row) for row in table])
    low = np.take_along_axis(columns, below[np.newaxis], axis=0)[0]
    high = np.take_along_axis(columns, above[np.newaxis], axis=0)[0]
    return np.asarray(low + (place - below) * (high - low))


def lower_bound(factor: ArrayLike, reading_error: ArrayLike = CURVE_READING_ERROR) -> Floats:
    """Factor less what may have been read too much, K (1 - error).

    Arguments (broadcast together):
        factor: as read [-]; reading_error: share, `CURVE_READING_ERROR` or `SHEAR_BEARING_READING_ERROR` [-].
    Returns: factor to be used in a verdict [-].
    Errors: ValueError when the factor is not positive or the error not between 0 and 1.
    Source: own choice after the spread of published readings, see the module's text.
    """
    error = real("reading error", reading_error)
    if np.any((error < 0) | (error >= 1)):
        raise ValueError("reading error must be at least 0 and less than 1")
    return positive("factor", factor) * (1.0 - error)


def shear_plane_factor(edge_ratio: ArrayLike, shear_ratio: ArrayLike) -> Floats:
    """Kbr by two shear planes that start 40 degrees off the load, 2 (Fsu/Ftu)(e/D - cos 40/2).

    Free body: the plug between the planes, each e - (D/2) cos 40 long. It needs no curve and stands 3 to 13 %
    below the ultimate curve at e/D up to 1.5 (Fsu/Ftu 0.58 to 0.62); past e/D of about 2 bearing takes over
    and it promises too much.

    >>> print(f"{shear_plane_factor(1.5, 0.6):.2f}")
    1.34

    Arguments (broadcast together):
        edge_ratio: e/D [-]; shear_ratio: Fsu/Ftu [-].
    Returns: Kbr [-].
    Errors: ValueError when an argument is not positive or e/D not above 0.383.
    Range: e/D up to 2; D/t up to about 5.
    Source: statics; the angle is common practice, no source opened.
    """
    e, least = positive("e/D", edge_ratio), np.asarray(np.cos(SHEAR_PLANE_ANGLE) / 2.0)
    larger("e/D", e, "half of cos 40 degrees", least)
    return np.asarray(2.0 * positive("Fsu/Ftu", shear_ratio) * (e - least))


def average_depth(width: ArrayLike, hole_diameter: ArrayLike, edge_distance: ArrayLike) -> Floats:
    """Depth hav of a straight lug that stands for its sides under transverse load.

    hav = 6 / (3/h1 + 1/h2 + 1/h3 + 1/h4): h1 and h4 beside the hole at 45 degrees, (w - D cos 45)/2; h2
    square to the axis, (w - D)/2; h3 the least of all radial sections, end included.

    Arguments (broadcast together):
        width: w [m]; hole_diameter: D [m]; edge_distance: e from hole centre to the end [m].
    Returns: hav [m].
    Errors: ValueError when a size is not positive, w not above D, or e not above D/2.
    Range: straight lug, load square to its axis.
    Source: AFFDL-TR-69-42 ch. 9; areas as in Bruhn, Analysis and Design of Flight Vehicle Structures, D1.
    """
    w, D = positive("width", width), positive("hole diameter", hole_diameter)
    e = positive("edge distance", edge_distance)
    larger("width", w, "hole diameter", D)
    larger("edge distance", e, "half the hole diameter", D / 2.0)
    oblique, beside = (w - D * np.cos(np.pi / 4.0)) / 2.0, (w - D) / 2.0
    least = np.minimum(beside, e - D / 2.0)
    return np.asarray(6.0 / (3.0 / oblique + 1.0 / beside + 1.0 / least + 1.0 / oblique))


def bush_load(
    compressive_yield: ArrayLike, pin_diameter: ArrayLike, thickness: ArrayLike, factor: ArrayLike = 1.0
) -> Floats:
    """Load at which the bush of a lug yields under the pin, P = K Fcy d t.

    Arguments (broadcast together):
        compressive_yield: Fcy of the bush [Pa]; pin_diameter: d inside the bush [m]; thickness: t [m];
        factor: 1; handbooks also use 1.85 for a bush held by its lug, which is not confirmed here [-].
    Returns: load [N].
    Errors: ValueError when an argument is not positive.
    Source: AFFDL-TR-69-42 eq. 9-8, 9-9, as quoted in an open implementation.
    """
    area = positive("pin diameter", pin_diameter) * positive("thickness", thickness)
    return positive("factor", factor) * positive("compressive yield", compressive_yield) * area


def press_fit_pressure(
    interference: ArrayLike,
    inner_diameter: ArrayLike,
    bush_diameter: ArrayLike,
    outer_diameter: ArrayLike,
    bush_modulus: ArrayLike,
    lug_modulus: ArrayLike,
    bush_poisson: ArrayLike = 0.3,
    lug_poisson: ArrayLike = 0.33,
) -> Floats:
    """Pressure between a bush and the lug it is pressed into (two thick rings, Lame).

    p = (i/D) / {[(W^2 + D^2)/(W^2 - D^2) + nu_l]/E_l + [(D^2 + d^2)/(D^2 - d^2) - nu_b]/E_b}, tension at the
    lug's hole p (W^2 + D^2)/(W^2 - D^2).

    Arguments (broadcast together):
        interference: i on the diameter [m]; inner_diameter: d [m]; bush_diameter: D [m]; outer_diameter: W of
        the ring in the lug, its width or twice e [m]; bush_modulus, lug_modulus: E [Pa];
        bush_poisson, lug_poisson: nu [-].
    Returns: pressure [Pa].
    Errors: ValueError when a size or modulus is not positive or diameters do not grow outward.
    Range: elastic; isotropic rings, so not for laminates.
    Source: Lame, thick rings; Shigley's Mechanical Engineering Design, press fits.
    """
    d, D, W = (
        positive(name, value)
        for name, value in (
            ("inner diameter", inner_diameter),
            ("bush diameter", bush_diameter),
            ("outer diameter", outer_diameter),
        )
    )
    larger("bush diameter", D, "inner diameter", d)
    larger("outer diameter", W, "bush diameter", D)
    lug = (W**2 + D**2) / (W**2 - D**2) + real("lug Poisson ratio", lug_poisson)
    bush = (D**2 + d**2) / (D**2 - d**2) - real("bush Poisson ratio", bush_poisson)
    give = lug / positive("lug modulus", lug_modulus) + bush / positive("bush modulus", bush_modulus)
    return positive("interference", interference) / D / give


def _rising(name: str, values: ArrayLike) -> Floats:
    """One row of numbers that rise."""
    row = real(name, values)
    if row.ndim != 1 or row.size == 0 or np.any(np.diff(row) <= 0):
        raise ValueError(f"{name} must be one row of rising numbers")
    return row
