"""Stripping of screw threads: shear areas, force, engagement.

Areas grow in proportion to the engaged length. Engagement less than about 0.8 to 2.5 diameters,
by parent metal, is where stripping governs; screws should break before threads strip.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive

_SLOPE = 1.0 / np.sqrt(3.0)  # tan 30 deg, printed as 0.57735: half the width lost per unit of diameter


def external_strip_area(
    engagement: ArrayLike,
    pitch: ArrayLike,
    internal_minor_maximum: ArrayLike,
    internal_minor_tolerance: ArrayLike = 0.0,
    external_pitch_tolerance: ArrayLike = 0.0,
    external_allowance: ArrayLike = 0.0,
) -> Floats:
    """Shear area of the screw's thread, stripped at the greatest minor diameter of the nut thread.

    As = pi Le Kmax [0.750 - 0.57735 n (TK + TE + G)], n = 1 / P

    Arguments (broadcast together):
        engagement: Le of full thread [m]; pitch: P [m]; internal_minor_maximum: Kmax, greatest minor
        diameter of the internal thread [m]; internal_minor_tolerance: TK [m]; external_pitch_tolerance:
        TE on the pitch diameter [m]; external_allowance: G of the external thread [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive, a tolerance negative, or no thread is left.
    Source: NSTS 08307 Rev. A (1998) App. A.
    """
    lost = _tolerances(internal_minor_tolerance, external_pitch_tolerance, external_allowance)
    width = positive("thread width left", 0.750 - _SLOPE * lost / positive("pitch", pitch))
    return (
        np.pi
        * positive("engagement", engagement)
        * positive("minor diameter", internal_minor_maximum)
        * width
    )


def internal_strip_area(
    engagement: ArrayLike,
    pitch: ArrayLike,
    external_major_minimum: ArrayLike,
    external_major_tolerance: ArrayLike = 0.0,
    internal_pitch_tolerance: ArrayLike = 0.0,
    external_allowance: ArrayLike = 0.0,
) -> Floats:
    """Shear area of the nut or parent thread, stripped at the least major diameter of the screw.

    As = pi Le Dmin [0.875 - 0.57735 n (TD + TE + G)], n = 1 / P

    Arguments (broadcast together):
        engagement: Le of full thread [m]; pitch: P [m]; external_major_minimum: Dmin, least major
        diameter of the external thread [m]; external_major_tolerance: TD [m]; internal_pitch_tolerance:
        TE on the pitch diameter of the internal thread [m]; external_allowance: G of the external thread [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive, a tolerance negative, or no thread is left.
    Source: NSTS 08307 Rev. A (1998) App. A.
    """
    lost = _tolerances(external_major_tolerance, internal_pitch_tolerance, external_allowance)
    width = positive("thread width left", 0.875 - _SLOPE * lost / positive("pitch", pitch))
    return (
        np.pi
        * positive("engagement", engagement)
        * positive("major diameter", external_major_minimum)
        * width
    )


def external_strip_area_limits(
    engagement: ArrayLike,
    pitch: ArrayLike,
    internal_minor_maximum: ArrayLike,
    external_pitch_minimum: ArrayLike,
) -> Floats:
    """Shear area of the screw's thread from limit sizes.

    As = (pi Le / P) D1max [P/2 + (d2min - D1max) / sqrt(3)]

    Arguments (broadcast together):
        engagement: Le [m]; pitch: P [m]; internal_minor_maximum: D1max of the nut thread [m];
        external_pitch_minimum: d2min of the screw [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive or no thread is left.
    Source: mark "memory", no source opened; it equals `external_strip_area` (read) identically
        when the limits are written as basic profile, tolerances and allowance.
    """
    P, minor = positive("pitch", pitch), positive("minor diameter", internal_minor_maximum)
    width = P / 2.0 + (positive("pitch diameter", external_pitch_minimum) - minor) * _SLOPE
    return np.pi * positive("engagement", engagement) / P * minor * positive("thread width left", width)


def internal_strip_area_limits(
    engagement: ArrayLike,
    pitch: ArrayLike,
    external_major_minimum: ArrayLike,
    internal_pitch_maximum: ArrayLike,
) -> Floats:
    """Shear area of the nut or parent thread from limit sizes.

    As = (pi Le / P) dmin [P/2 + (dmin - D2max) / sqrt(3)]

    Arguments (broadcast together):
        engagement: Le [m]; pitch: P [m]; external_major_minimum: dmin of the screw [m];
        internal_pitch_maximum: D2max of the nut thread [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive or no thread is left.
    Source: mark "memory", no source opened; it equals `internal_strip_area` (read) identically
        when the limits are written as basic profile, tolerances and allowance.
    """
    P, major = positive("pitch", pitch), positive("major diameter", external_major_minimum)
    width = P / 2.0 + (major - positive("pitch diameter", internal_pitch_maximum)) * _SLOPE
    return np.pi * positive("engagement", engagement) / P * major * positive("thread width left", width)


def external_strip_area_simple(engagement: ArrayLike, internal_minor: ArrayLike) -> Floats:
    """Shear area of the screw's thread without tolerances, 5 pi Le D / 8.

    Arguments (broadcast together):
        engagement: Le [m]; internal_minor: D, minor diameter of the internal thread [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive.
    Source: NASA-TM-106943 (1995) eq. 63.
    """
    return 5.0 / 8.0 * np.pi * positive("engagement", engagement) * positive("minor diameter", internal_minor)


def internal_strip_area_simple(engagement: ArrayLike, external_major: ArrayLike) -> Floats:
    """Shear area of an insert's or parent's internal thread without tolerances, 3 pi Le D / 4.

    Arguments (broadcast together):
        engagement: Le [m]; external_major: D, major diameter of the thread [m].
    Returns: area [m2].
    Errors: ValueError when a size is not positive.
    Source: NASA-TM-106943 (1995) eq. 76.
    """
    return 3.0 / 4.0 * np.pi * positive("engagement", engagement) * positive("major diameter", external_major)


def stripping_force(area: ArrayLike, shear_strength: ArrayLike) -> Floats:
    """Axial force that strips a thread, Pult = Fsu As.

    Arguments (broadcast together):
        area: As from one of the functions above [m2];
        shear_strength: Fsu of the part whose thread strips [Pa].
    Returns: force [N].
    Errors: ValueError when an argument is not positive.
    Source: NASA-TM-106943 (1995) eq. 63, 76.
    """
    return positive("area", area) * positive("shear strength", shear_strength)


def engagement_needed(force: ArrayLike, area_per_length: ArrayLike, shear_strength: ArrayLike) -> Floats:
    """Engaged length at which a thread strips at a given force, Le = P / (Fsu As/Le).

    Arguments (broadcast together):
        force: axial force to be carried, factors included [N]; area_per_length: shear area of 1 m
        of engagement [m2/m]; shear_strength: Fsu of the part whose thread strips [Pa].
    Returns: length of full thread [m].
    Errors: ValueError when the force is negative or another argument not positive.
    Range: load spreads evenly only over short engagements; past about 1.5 d more length adds less.
    Source: NASA-TM-106943 (1995) eq. 63, 76, solved for the length.
    """
    per_length = stripping_force(area_per_length, shear_strength)
    return at_least_zero("force", force) / per_length


def _tolerances(first: ArrayLike, second: ArrayLike, allowance: ArrayLike) -> Floats:
    """Sum of two tolerances and the allowance."""
    return (
        at_least_zero("tolerance", first)
        + at_least_zero("pitch diameter tolerance", second)
        + at_least_zero("allowance", allowance)
    )
