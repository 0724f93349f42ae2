"""Stripping of a screw in a nut or tapped hole with what widens the nut and bends the threads.

Shear areas come from the thread module, best from limit sizes. Three factors take off what plain shear does
not see: C1 the nut that widens under load, C2 the screw's thread that bends (strong nut), C3 the nut's thread
that bends (weak nut). Stripping force of the screw 0.6 Rm,s As,s C1 C2, of the nut 0.6 Rm,n As,n C1 C3; the
lower decides. With 0.6 in place of a tested shear strength; a tested share may be put in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive
from bladehold.validity import Range

SHEAR_SHARE = 0.6
"""Shear strength of thread metal over its tensile strength in this model."""

_MODEL = "Alexander, SAE 770420 (1977); ISO/TR 16224:2012, 4.2.3"
NUT_WIDTH = Range("s/d", 1.4, None, "", "so narrow a nut widens more than the model knows", _MODEL)
THREAD_STRENGTH_RATIO = Range(
    "RS", 0.4, 2.2, "", "strength ratio of nut and screw thread off the model", _MODEL
)


@dataclass(frozen=True)
class StripForces:
    """Force [N] that strips the screw's thread and the nut's; any shape."""

    screw: Floats
    nut: Floats

    @property
    def least(self) -> Floats:
        """The lower of the two [N]."""
        return np.minimum(self.screw, self.nut)


def nut_dilation(width_ratio: ArrayLike) -> Floats:
    """C1, share left when the nut widens under load: 3.8 s/d - (s/d)^2 - 2.61 for s/d below 1.9, then 1.

    ISO/TR 16224 prints 2.6 for 2.61 and takes 1 from 1.8 on; the difference is 1 %, this is the lower one.

    Arguments:
        width_ratio: s/d, width across flats over thread diameter; 1.9 or more for a tapped plate [-].
    Returns: C1 [-].
    Errors: ValueError when s/d is below 1.4.
    Range: `NUT_WIDTH`.
    Source: Alexander (mark memory for 2.61); ISO/TR 16224:2012 4.2.3.1 read in an open implementation.
    """
    ratio = positive("s/d", width_ratio)
    if np.any(ratio < 1.4):
        raise ValueError("s/d must be at least 1.4")
    inside = np.minimum(ratio, 1.9)
    return np.asarray(3.8 * inside - inside**2 - 2.61)


def strength_ratio(
    nut_strength: ArrayLike, nut_area: ArrayLike, screw_strength: ArrayLike, screw_area: ArrayLike
) -> Floats:
    """RS, strength of the nut's thread over the screw's, (Rm,n As,n)/(Rm,s As,s).

    Arguments (broadcast together):
        nut_strength, screw_strength: tensile (or shear) strengths, of one kind [Pa]; nut_area, screw_area:
        shear areas at the same engagement [m2].
    Returns: ratio [-].
    Errors: ValueError when an argument is not positive.
    Range: `THREAD_STRENGTH_RATIO`.
    Source: ISO/TR 16224:2012 4.2.3.1.
    """
    nut = positive("nut strength", nut_strength) * positive("nut area", nut_area)
    return nut / (positive("screw strength", screw_strength) * positive("screw area", screw_area))


def screw_thread_bending(ratio: ArrayLike) -> Floats:
    """C2, share left of the screw's thread strength by bending.

    5.594 - 13.682 RS + 14.107 RS^2 - 6.057 RS^3 + 0.9353 RS^4 for 1 < RS < 2.2, 0.897 below. Past 2.2 the
    value there, 1.187, is held.

    Arguments:
        ratio: RS from `strength_ratio` [-].
    Returns: C2 [-].
    Errors: ValueError when RS is not positive.
    Range: `THREAD_STRENGTH_RATIO`.
    Source: Alexander (1977); ISO/TR 16224:2012 4.2.3.1 read in an open implementation.
    """
    r = np.clip(positive("RS", ratio), 1.0, 2.2)
    return np.asarray(5.594 - 13.682 * r + 14.107 * r**2 - 6.057 * r**3 + 0.9353 * r**4)


def nut_thread_bending(ratio: ArrayLike) -> Floats:
    """C3, share left of the nut's thread strength by bending.

    0.728 + 1.769 RS - 2.896 RS^2 + 1.296 RS^3 for 0.4 < RS < 1, 0.897 above. Below 0.4, where a soft parent
    holds a hard screw, the model does not reach; the curve is carried on, where it falls from 1.055 to 0.728.

    Arguments:
        ratio: RS from `strength_ratio` [-].
    Returns: C3 [-].
    Errors: ValueError when RS is not positive.
    Range: `THREAD_STRENGTH_RATIO`.
    Source: Alexander (1977); ISO/TR 16224:2012 4.2.3.1 read in an open implementation.
    """
    r = np.minimum(positive("RS", ratio), 1.0)
    return np.asarray(0.728 + 1.769 * r - 2.896 * r**2 + 1.296 * r**3)


def strip_forces(
    screw_area: ArrayLike,
    nut_area: ArrayLike,
    screw_strength: ArrayLike,
    nut_strength: ArrayLike,
    width_ratio: ArrayLike,
    shear_share: ArrayLike = SHEAR_SHARE,
) -> StripForces:
    """Forces that strip the screw's thread and the nut's, c Rm As C1 C2 and c Rm As C1 C3.

    Arguments (broadcast together):
        screw_area, nut_area: shear areas at the engaged length, best from limit sizes [m2];
        screw_strength, nut_strength: tensile strengths Rm [Pa]; width_ratio: s/d of the nut [-]; shear_share:
        c, shear over tensile strength [-].
    Returns: both forces [N].
    Errors: ValueError when an argument is not positive or s/d below 1.4.
    Range: `NUT_WIDTH`, `THREAD_STRENGTH_RATIO`.
    Source: ISO/TR 16224:2012 4.2.3; Alexander (1977).
    """
    ratio = strength_ratio(nut_strength, nut_area, screw_strength, screw_area)
    held = nut_dilation(width_ratio) * positive("shear share", shear_share)
    screw = positive("screw strength", screw_strength) * positive("screw area", screw_area)
    nut = positive("nut strength", nut_strength) * positive("nut area", nut_area)
    return StripForces(held * screw_thread_bending(ratio) * screw, held * nut_thread_bending(ratio) * nut)


def engagement_to_break_screw(
    stress_area: ArrayLike,
    screw_area_per_length: ArrayLike,
    nut_area_per_length: ArrayLike,
    screw_strength: ArrayLike,
    nut_strength: ArrayLike,
    width_ratio: ArrayLike,
    shear_share: ArrayLike = SHEAR_SHARE,
) -> Floats:
    """Full engaged thread at which the screw breaks before either thread strips, Le = As Rm,s / (least force
    per Le).

    Arguments (broadcast together):
        stress_area: As of the screw [m2]; screw_area_per_length, nut_area_per_length: shear areas of 1 m of
        engagement [m2/m]; screw_strength, nut_strength: Rm [Pa]; width_ratio: s/d [-]; shear_share: c [-].
    Returns: length of full thread [m]; chamfers and the screw's point (about a pitch) come on top.
    Errors: ValueError when an argument is not positive or s/d below 1.4.
    Range: as `strip_forces`; even load along the thread, so not past about 1.5 d.
    Source: ISO/TR 16224:2012 4.2.3, solved for the length.
    """
    forces = strip_forces(
        screw_area_per_length, nut_area_per_length, screw_strength, nut_strength, width_ratio, shear_share
    )
    return positive("stress area", stress_area) * positive("screw strength", screw_strength) / forces.least


def insert_pull_out(
    outer_diameter: ArrayLike, length: ArrayLike, parent_shear: ArrayLike, share: ArrayLike = 0.75
) -> Floats:
    """Axial force that tears a wire insert with its outer thread out of the parent, share pi D Le Fsu.

    Arguments (broadcast together):
        outer_diameter: D of the tapped hole's major diameter, larger than the screw's [m]; length: Le of the
        insert [m]; parent_shear: Fsu of the parent [Pa]; share: of the cylinder that holds, 3/4 as for any
        internal thread [-].
    Returns: force [N].
    Errors: ValueError when an argument is not positive.
    Source: NASA-TM-106943 (1995) eq. 76, put on the insert's outer thread.
    """
    cylinder = np.pi * positive("outer diameter", outer_diameter) * positive("length", length)
    return positive("share", share) * cylinder * positive("parent shear strength", parent_shear)


def castle_nut_length(height: ArrayLike, slot_depth: ArrayLike) -> Floats:
    """Engaged thread of a castle nut, its height less its slots.

    Arguments (broadcast together):
        height: of the nut [m]; slot_depth: of the slots for the split pin [m].
    Returns: length of full thread [m].
    Errors: ValueError when the height is not positive, the slot negative, or no thread is left.
    Source: geometry; the thread between slots is not counted, the safe side.
    """
    whole, slots = positive("height", height), at_least_zero("slot depth", slot_depth)
    larger("height", whole, "slot depth", slots)
    return whole - slots
