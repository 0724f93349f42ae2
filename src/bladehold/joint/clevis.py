"""Prying of the flap moment in the clevis: what the pivot screw, ties and plates feel.

Axes: x along the blade, outboard positive, from the pivot screw axis; z along the screw, up. The lug
(rigid, contact from -a to +a, width w across the blade) lies between an upper and a lower plate, which are
held together by the pivot screw at x = 0 and by ties or hub a distance b inboard. At the screw axis the
blade hands the lug a lift L and a flap moment M that raises the tip. The moment that the pin could take
by bearing within the lug's hole is left out, which loads the faces more.

Free body, lug alone, with Nu pressing down from the upper plate at x = +cu, Nl up from the lower plate at
x = -cl: Nu - Nl = L, Nu cu + Nl cl = M. Where the resultants lie is not settled by statics. Two methods:

- "edge": rigid faces, cu = cl = a. So Nu + Nl = M/a, or |L| on one face alone while M < |L| a.
- "strip": elastic faces, pressure in proportion to how far the lug sinks in, under a screw and plates that do
  not give. Without lift it falls from the edge to zero at the screw axis, cu = cl = 2a/3 and
  Nu + Nl = 3M/(2a), half as much again as "edge". With lift the zero moves to x = -e on the upper face and
  on the lower: face forces K (a + e)^2/2 and K (a - e)^2/2 with arms (2a - e)/3 and (2a + e)/3 give
  e = |L| a^2/(3M), Nu + Nl = 3M/(2a) + L^2 a/(6M), or |L| on one face alone while M < |L| a/3.

- "round": as "strip", but the contact is a disc of radius a, as between a lug and plates with round ends.
  Half discs have their resultant at 3 pi a/16, and to second order in the lift e = |L| a^2/(4M) and
  Nu + Nl = 16M/(3 pi a) + L^2 a/(2 pi M), or nearly |L| on one face alone for less M.

"round" is the safe side and the default: any screw that does give feels something between it and "edge". A
contact model must lie between them when the clevis is open, and must show no change of screw tension before
`first_gap_moment` when it is clamped.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, positive, real

CONTACT_ARMS: MappingProxyType[str, float] = MappingProxyType(
    {"edge": 1.0, "strip": 2.0 / 3.0, "round": 3.0 * np.pi / 16.0}
)
"""Lever of the contact force on the screw axis over the half-length a, by method, without lift; with
lift the heavier loaded face of the elastic ones has less."""

# Total force of the elastic methods: M/c + _LIFT L^2 a/M down to the moment where that is least.
_LIFT = MappingProxyType({"strip": 1.0 / 6.0, "round": 1.0 / (2.0 * np.pi)})
# Of the clamp force, what may add to |M|/(2c) in a clamped clevis; "edge" is asked for the least bound only.
_KEPT = MappingProxyType({"edge": 0.5, "strip": 0.5, "round": 1.0 - 4.0 / (3.0 * np.pi)})


@dataclass(frozen=True)
class ContactForces:
    """Forces between lug and plates [N], not negative, and their lever on the screw axis [m]."""

    upper: Floats
    lower: Floats
    arm: Floats

    @property
    def greatest(self) -> Floats:
        """The greater of the two forces [N]."""
        return np.maximum(self.upper, self.lower)


@dataclass(frozen=True)
class TensionBounds:
    """Least and greatest screw tension that statics and the strip model allow [N]."""

    least: Floats
    greatest: Floats


def contact_forces(
    flap_moment: ArrayLike, lift: ArrayLike, half_length: ArrayLike, method: str = "round"
) -> ContactForces:
    """Contact forces of an open (unclamped) lug on its two plates.

    Nu = (S + L)/2, Nl = (S - L)/2; S = max(|M|/a, |L|) by "edge"; S = 3|M|/(2a) + L^2 a/(6|M|) by "strip",
    |L| where |M| < |L| a/3; S = 16|M|/(3 pi a) + L^2 a/(2 pi |M|) by "round", near |L| for less M. The
    sign of M only says which end of which face bears, not how hard.

    >>> open_lug = contact_forces(1.2, 0.0, 8e-3, "edge")
    >>> print(f"{open_lug.upper:.1f} N")
    75.0 N

    Arguments (broadcast together):
        flap_moment: M at the pivot [N m]; lift: L at the pivot, positive up [N]; half_length: a, from
        the screw axis to the end of the lug's contact along the blade [m]; method: key of `CONTACT_ARMS`.
    Returns: forces on upper and lower plate [N] and their lever [m].
    Errors: ValueError when a is not positive or the method unknown.
    Range: rigid lug, symmetric about the screw axis.
    Source: statics, derived in the module's text.
    """
    if method not in CONTACT_ARMS:
        raise ValueError(f"contact method must be one of {', '.join(CONTACT_ARMS)}, got {method!r}")
    a, shear = positive("contact half-length", half_length), real("lift", lift)
    couple = np.abs(real("flap moment", flap_moment)) / a
    couple, size = np.broadcast_arrays(couple, np.abs(shear))
    if method == "edge":
        total = np.maximum(couple, size)
    else:
        total = _elastic_total(couple, size, CONTACT_ARMS[method], _LIFT[method])
    return ContactForces((total + shear) / 2.0, (total - shear) / 2.0, CONTACT_ARMS[method] * a)


def _elastic_total(couple: Floats, lift: Floats, arm: float, part: float) -> Floats:
    """Force on both elastic faces together, x = M/(|L| a): L (x/arm + part/x), for small x a straight line.

    The curve is least at x0 = sqrt(part arm); below, where one face bears (the strip exactly, the disc
    nearly), a straight line from |L| up to that least value takes over, so that the force never falls as M
    grows.
    """
    turn = np.sqrt(part * arm)
    both = couple > turn * lift
    curve = couple / arm + part * lift**2 / np.where(both, couple, 1.0)
    line = lift + (2.0 * np.sqrt(part / arm) - 1.0) * couple / turn
    return np.asarray(np.where(both, curve, line))


def screw_tension_open(contact: ContactForces) -> Floats:
    """Pivot screw tension when each plate is held by the screw alone, T = max(Nu, Nl).

    Free body: the upper plate. The lug pushes it up with Nu, the screw head holds it down with T; the plate's
    root gives no transverse force, only the couple Nu cu. The lower plate then hands the whole lift to
    the hub: of the lift, half enters T by way of Nu. Against plates that hold themselves by their own
    stiffness this is the safe side; against plates that lever see `screw_tension_lever`.

    Arguments:
        contact: forces of the open lug [N].
    Returns: tension [N].
    Source: statics.
    """
    return contact.greatest


def screw_tension_lever(contact: ContactForces, heel_distance: ArrayLike) -> Floats:
    """Pivot screw tension when a plate levers on its heel, T = max(Nu, Nl)(1 + c/b).

    Free body: the upper plate, loaded by N upwards at x = +c, held by the screw at x = 0 and pressed on
    spacer or hub at x = -b without any clamping moment. Moments about the heel: T b = N (b + c).
    Upper bound of the screw's load, for a plate held loosely at its root.

    Arguments (broadcast together):
        contact: forces of the open lug [N]; heel_distance: b from the screw axis inboard to where the
        plate rests [m].
    Returns: tension [N].
    Errors: ValueError when b is not positive.
    Source: statics.
    """
    return contact.greatest * (1.0 + contact.arm / positive("heel distance", heel_distance))


def tie_force(contact: ContactForces, tie_distance: ArrayLike, ties: ArrayLike = 1) -> Floats:
    """Tension in each tie screw of one blade, F = max(Nu, Nl) c / (b n).

    Free body: the plate that bears at the inboard end of the lug (the lower one for a lifting blade),
    loaded by N downwards at x = -c, turning about the seat of the pivot screw at x = 0, held by n ties
    at x = -b. Moments about the seat: F n b = N c. The greater of the two contact forces is put in, so that
    it holds for flap moments of either sign. It needs the pivot screw: without that the ties carry
    far more.

    Arguments (broadcast together):
        contact: forces of the open lug [N]; tie_distance: b from the screw axis to the row of ties [m];
        ties: n that share the load [-].
    Returns: tension per tie [N].
    Errors: ValueError when b or n is not positive.
    Source: statics.
    """
    lever = contact.arm / positive("tie distance", tie_distance)
    return contact.greatest * lever / positive("number of ties", ties)


def first_gap_moment(clamp_force: ArrayLike, half_length: ArrayLike, lift: ArrayLike = 0.0) -> Floats:
    """Flap moment at which a clamped lug first gapes at a face's end, M = (2/3)(Fp - |L|) a.

    Strip model: both faces uniform springs (k per area), plates rigid, pressure Fp/(2 a w) from the clamp
    force. A lug rotation theta adds k theta x on one face and takes it on the other; on each face the sum
    of changes is zero, so screw tension stays Fp, and both faces together resist M = 2 k theta w (2 a^3/3).
    The face opens where k theta a = Fp/(2 a w), hence M = 2 Fp a/3. Lift takes half of L off one face with
    a rigid screw and all of it with a soft one: all is taken off, the safe side.

    Arguments (broadcast together):
        clamp_force: Fp in the clevis, the least [N]; half_length: a [m]; lift: L [N].
    Returns: moment [N m], 0 where lift alone opens a face.
    Errors: ValueError when the clamp force is negative or a not positive.
    Source: derived; the limit of a clamped joint (screw load unchanged) that any contact model must meet.
    """
    kept = np.maximum(at_least_zero("clamp force", clamp_force) - np.abs(real("lift", lift)), 0.0)
    return 2.0 / 3.0 * kept * positive("contact half-length", half_length)


def screw_tension_clamped(
    flap_moment: ArrayLike,
    lift: ArrayLike,
    half_length: ArrayLike,
    clamp_force: ArrayLike,
    method: str = "round",
) -> TensionBounds:
    """Bounds of the pivot screw tension in a clamped clevis, plates held by the screw alone.

    least = max(Fp, Nu by "edge"): contact cannot lie outside the edges, and the lug only ever pushes the
    plates apart. greatest = max(Fp, k Fp + |M|/(2c)) + |L|, c the arm of the method and k = 1/2: the strip
    model of `first_gap_moment` with a rigid screw. There the contact length from the edge is l = a (1 +
    1/f), f = theta/theta_gap >= 1, the force on a face T = Fp (f + 1)^2/(4 f) and |M| = 2 T (a - l/3), so T -
    3|M|/(4a) = T/(2 f), at most Fp/2. A softer screw lets the plates part and feels less. Lift moves at most
    L more onto one face. On a disc T - |M|/(2c) is greatest at the first gap, M = Fp a/2, where it is k Fp
    with k = 1 - 4/(3 pi).

    Arguments (broadcast together):
        flap_moment: M at the pivot [N m]; lift: L [N]; half_length: a [m]; clamp_force: Fp [N];
        method: elastic one of `CONTACT_ARMS` for the greater bound.
    Returns: bounds of the tension [N]; they meet at Fp up to the first gap when L = 0.
    Errors: ValueError when the clamp force is negative or a not positive.
    Range: linear strips, rigid plates; a plate that levers adds the factor of `screw_tension_lever`.
    Source: derived.
    """
    preload, a = at_least_zero("clamp force", clamp_force), positive("contact half-length", half_length)
    moment, shear = np.abs(real("flap moment", flap_moment)), np.abs(real("lift", lift))
    least = np.maximum(preload, contact_forces(moment, shear, a, "edge").greatest)
    arm = CONTACT_ARMS[method] * a
    greatest = np.maximum(preload, _KEPT[method] * preload + moment / (2.0 * arm)) + shear
    return TensionBounds(least, greatest)


def edge_contact_pressure(force: ArrayLike, width: ArrayLike, contact_length: ArrayLike) -> Floats:
    """Greatest pressure at the end of a lug face, falling linearly to zero over a length, p = 2 N / (w l).

    Arguments (broadcast together):
        force: N on the face [N]; width: w of the contact across the blade, hole taken off [m];
        contact_length: l from the edge to where pressure ends: a for "strip", 2 a at the first gap [m].
    Returns: pressure [Pa].
    Errors: ValueError when a length is not positive or the force negative.
    Range: "edge" has no length of its own; a sharp rigid edge presses without limit.
    Source: statics of the strip model.
    """
    area = positive("contact width", width) * positive("contact length", contact_length)
    return 2.0 * at_least_zero("contact force", force) / area
