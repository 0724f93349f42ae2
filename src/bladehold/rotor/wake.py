"""Where the air goes that a rotor has worked on: climb, descent, windmill, and wind across the axis.

A rotor of thrust T in axial velocity V (climb positive) with wind E across its axis draws the mass
flow rho A M through its disc and speeds it up by twice its induced velocity v in the end:
T = 2 rho A v M. Glauert's M is the resultant velocity; in descent, where the wake meets the stream it
is blown into, a fit to measured rotors stands for it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.bracket import bracketed_root
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.intp]

TINY = 1e-30
RIM = 0.1  # of the fitted region: within it M goes over from the fit to Glauert's, so that it never jumps
LAST_SHARE = 1.9  # of v/|V|: the fitted region has long ended, the fit is still finite
FASTEST_SHARE = 0.5 * (1.0 + np.sqrt(5.0))  # v/|V| where |V| = v_h, the slow end of the fit

SLOW_EDGE, FAST_EDGE, WIDEST = 0.45, 1.5, 0.95  # of the vortex-ring state, in units of v_h
VORTEX_RING_RANGE = Range(
    "descent speed over the induced velocity of hover",
    None,
    SLOW_EDGE,
    "",
    "vortex-ring state, up to 1.5: thrust swings about the mean given here, which may be too high",
    "Johnson, NASA/TP-2005-213477 (2005)",
)
WINDMILL_RANGE = Range(
    "descent speed over the induced velocity of hover",
    2.0,
    None,
    "",
    "turbulent-wake state: momentum theory does not hold, the mean given here follows a fit",
    "Johnson, Helicopter Theory (1980), chapter 3",
)


@dataclass(frozen=True, eq=False)
class DescentState:
    """How a rotor descends, [...]: ratio - of descent speed to the induced velocity of hover, negative
    in climb; vortex_ring, turbulent_wake - whether it is in those states.
    """

    ratio: FloatArray
    vortex_ring: BoolArray
    turbulent_wake: BoolArray

    def breaches(self) -> tuple[str, ...]:
        """One sentence for each of the two states that occurs."""
        told = (
            VORTEX_RING_RANGE.breach(self.ratio[self.vortex_ring]),
            WINDMILL_RANGE.breach(self.ratio[self.turbulent_wake]),
        )
        return tuple(sentence for sentence in told if sentence)


def through_flow(induced: ArrayLike, axial: ArrayLike, edge: ArrayLike = 0.0) -> FloatArray:
    """Velocity M (m/s) with which a disc or annulus draws its mass flow, T = 2 rho A v M.

    M = sqrt(E^2 + (V + v)^2); but where v opposes V and, with v_h^2 = v M,
    1.5 E^2 + (2 |V| - 3 v_h)^2 < v_h^2, a fit to rotors measured in descent,
    v / |V| = 1.991 - (0.373 V^2 + 0.598 E^2) / v_h^2.

    Without wind across the axis the fit holds between |V| = v_h and 2 v_h and meets momentum theory at
    both ends. With wind it meets it within a few percent; the gap is closed over the outermost tenth
    of the region (own choice).
    Arguments: induced - v, m/s, down through the disc; axial - V, m/s, of the stream down through the
    disc, climb positive; edge - E, m/s, across the axis; all broadcast.
    Source: resultant velocity, Glauert, ARC R&M 1111 (1926); fit, Johnson, Helicopter Theory (1980),
    chapter 3, constants as quoted in NASA/TP-2009-215402 (mark: memory).

    >>> round(float(through_flow(1.618, -1.0)), 3), round(float(through_flow(1.0, -1.0)), 3)
    (0.618, 0.376)
    """
    v, along, across = (np.asarray(value, dtype=float) for value in (induced, axial, edge))
    plain = np.hypot(across, along + v)
    opposed = along * v < 0.0
    if not opposed.any():
        return np.asarray(plain)
    speed, size = np.abs(along), np.maximum(np.abs(v), TINY)
    share = np.where(opposed, size / np.maximum(speed, TINY), np.inf)
    hover_square = (0.373 * speed**2 + 0.598 * across**2) / (1.991 - np.minimum(share, LAST_SHARE))
    gap = 1.5 * across**2 + (2.0 * speed - 3.0 * np.sqrt(hover_square)) ** 2
    inside = 1.0 - gap / np.maximum(hover_square, TINY)
    weight = np.where(share < LAST_SHARE, np.clip(inside / RIM, 0.0, 1.0), 0.0)
    return np.asarray(np.where(weight > 0.0, plain + weight * (hover_square / size - plain), plain))


def mean_induced_velocity(
    thrust: ArrayLike, axial: ArrayLike, edge: ArrayLike, density: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """Induced velocity (m/s) of a uniformly loaded disc: v M = T / (2 rho pi R^2), M of `through_flow`.

    The least induced velocity for a thrust, in any flight. Solved between none and more than hover's;
    where descent allows several, one of them.
    Arguments: thrust - T, N, either sign; axial - V, m/s, climb positive; edge - E, m/s, across the
    axis; density - kg/m^3; radius - R, m; all broadcast.
    Source: Glauert, ARC R&M 1111 (1926); Johnson, Helicopter Theory (1980), chapter 4.

    >>> round(float(mean_induced_velocity(10.0, 0.0, 0.0, 1.225, 0.2)), 3)
    5.699
    """
    lift, along, across, rho, tip = _floats(thrust, axial, edge, density, radius)
    sign = np.where(lift < 0.0, -1.0, 1.0).ravel()
    wanted = (np.abs(lift) / (2.0 * rho * np.pi * tip**2)).ravel()
    stream, wind = sign * along.ravel(), across.ravel()

    def balance(induced: FloatArray, which: IntArray) -> FloatArray:
        return np.asarray(induced * through_flow(induced, stream[which], wind[which]) - wanted[which])

    low, high = np.zeros(wanted.size), 2.0 * np.sqrt(wanted) + np.maximum(-stream, 0.0)
    tolerance = 1e-13 * max(float(wanted.max(initial=0.0)), TINY)
    at_high = balance(high, np.arange(wanted.size))
    found = bracketed_root(balance, low, high, -wanted, at_high, tolerance=tolerance)
    return np.asarray((sign * found).reshape(lift.shape))


def descent_state(
    thrust: ArrayLike, axial: ArrayLike, edge: ArrayLike, density: ArrayLike, radius: ArrayLike
) -> DescentState:
    """Whether a rotor is in vortex-ring or turbulent-wake state.

    With d = -V/v_h, e = E/v_h and w = 1 - (e/0.95)^2, the vortex-ring state lies between
    d = 0.975 - 0.525 w^0.2 and d = 0.975 + 0.525 w^1.5, the turbulent-wake state beyond it where
    1.5 e^2 + (2 d - 3)^2 < 1.
    Arguments: thrust - T, N, either sign (thrust down turns the sense of descent round); axial - V,
    m/s, climb positive; edge - E, m/s, across the axis; density - kg/m^3; radius - R, m; all broadcast.
    Source: stability boundary of Johnson, NASA/TP-2005-213477 (2005), as quoted in later programs;
    region of the fit, Johnson, Helicopter Theory (1980), chapter 3.

    >>> descent_state(10.0, -5.7, [0.0, 6.0], 1.225, 0.2).vortex_ring.tolist()
    [True, False]
    """
    lift, along, across, rho, tip = _floats(thrust, axial, edge, density, radius)
    hover = np.maximum(np.sqrt(np.abs(lift) / (2.0 * rho * np.pi * tip**2)), TINY)
    down, wind = -np.where(lift < 0.0, -along, along) / hover, np.abs(across) / hover
    width = 1.0 - np.minimum(wind / WIDEST, 1.0) ** 2
    middle, half = 0.5 * (SLOW_EDGE + FAST_EDGE), 0.5 * (FAST_EDGE - SLOW_EDGE)
    ring = (width > 0.0) & (down > middle - half * width**0.2) & (down < middle + half * width**1.5)
    fitted = 1.5 * np.minimum(wind, 9.0) ** 2 + (2.0 * np.clip(down, 0.0, 9.0) - 3.0) ** 2 < 1.0
    return DescentState(np.asarray(down), np.asarray(ring), np.asarray(fitted & ~ring & (down > middle)))


def _floats(*values: ArrayLike) -> list[FloatArray]:
    """The arguments as float arrays of one shape."""
    return [np.asarray(array) for array in np.broadcast_arrays(*(np.asarray(v, dtype=float) for v in values))]
