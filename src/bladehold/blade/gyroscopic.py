"""What pitching and rolling of the aircraft does to blades that turn."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.folding import FoldingBlade
from bladehold.blade.load_case import LoadCase, RootComponents, turn_case
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

BODY_RATE_RANGE = Range(
    "body rate over rotation speed",
    0.0,
    0.05,
    "",
    "terms with the square of the body rate, left out here, are no longer small",
    "own limit",
)


@dataclass(frozen=True, eq=False)
class BladeGyroscopics:
    """Once-per-turn loads of one blade at its pivot, [...]: parts with cos(psi) and sin(psi).

    flap_cosine, flap_sine - N*m, shear_cosine, shear_sine - N, both upward; psi grows with the turning from
    90 degrees before the axis about which the body turns.
    """

    flap_cosine: FloatArray
    flap_sine: FloatArray
    shear_cosine: FloatArray
    shear_sine: FloatArray

    @property
    def flap_amplitude(self) -> FloatArray:
        """N*m."""
        return np.asarray(np.hypot(self.flap_cosine, self.flap_sine))

    @property
    def shear_amplitude(self) -> FloatArray:
        """N."""
        return np.asarray(np.hypot(self.shear_cosine, self.shear_sine))


def gyroscopic_blade_loads(
    blade: FoldingBlade, speed: ArrayLike, body_rate: ArrayLike, body_acceleration: ArrayLike = 0.0
) -> BladeGyroscopics:
    """Flap moment and shear of a blade whose hub pitches or rolls.

    The hub turns with Omega k, the body with q j. A blade element at r (i cos(psi) + j sin(psi)) has the
    acceleration along k

        (w x (w x r)) + (w' x r) = q Omega r sin(psi) + (q Omega r sin(psi) - q' r cos(psi))

    with w = Omega k + q j and w' = q Omega i + q' j: half from the turning of the element's own speed, half
    from the turning of the spin. Its inertia gives, with the elements at e + s, the upward loads

        flap moment  (I + e S) (q' cos(psi) - 2 Omega q sin(psi))      about the pivot
        shear        m (e + x) (q' cos(psi) - 2 Omega q sin(psi))

    so that the amplitude in a steady turn is 2 I_b Omega q, I_b = I + e S.

    Arguments, broadcasting: blade - straight; speed - Omega, rad/s; body_rate - q, about any axis in the
    disc, rad/s; body_acceleration - q', rad/s^2.
    Range: BODY_RATE_RANGE. Limits: rigid blade; in full at the root, as without damping inertia and
    centrifugal stiffening cancel once per turn.
    Source: derived.
    """
    turning = -2.0 * np.asarray(speed, dtype=float) * np.asarray(body_rate)
    starting = np.asarray(body_acceleration, dtype=float)
    lever = blade.inertia + blade.coupling
    weight = blade.mass * (blade.pivot_radius + blade.balance_point)
    return BladeGyroscopics(
        *(np.asarray(v) for v in (lever * starting, lever * turning, weight * starting, weight * turning))
    )


@dataclass(frozen=True, eq=False)
class RotorGyroscopics:
    """Gyroscopic moment of a rotor on its mounting, N*m, [...].

    mean - across the axis of the body's turning; ripple - amplitude of the part twice per turn about both
    axes of the disc; peak - the greatest resultant.
    """

    mean: FloatArray
    ripple: FloatArray
    peak: FloatArray


def gyroscopic_rotor_moment(
    inertia: ArrayLike, speed: ArrayLike, body_rate: ArrayLike, blades: int
) -> RotorGyroscopics:
    """Gyroscopic moment of a rotor with equally spaced blades: J Omega q; two blades swing it by as much.

    The blades' moments 2 J_b Omega q sin(psi) sum up to B J_b Omega q for three and more. Two give
    J Omega q (1 - cos(2 psi)) across the axis of turning and J Omega q sin(2 psi) along it: from nothing to
    twice the mean, twice per turn.

    Arguments, broadcasting: inertia - J of all blades about the rotor axis, kg m^2; speed - Omega, rad/s;
    body_rate - q, rad/s; blades - B, 2 or more, one number. Range: BODY_RATE_RANGE.
    Errors: ValueError for fewer than two blades. Source: derived.
    """
    if blades < 2:
        raise ValueError(f"blades must be 2 or more, got {blades}")
    mean = np.abs(np.asarray(inertia, dtype=float) * np.asarray(speed) * np.asarray(body_rate))
    ripple = mean if blades == 2 else np.zeros_like(mean)
    return RotorGyroscopics(np.asarray(mean), np.asarray(ripple), np.asarray(mean + ripple))


def gyroscopic_case(
    blade: FoldingBlade,
    steady: RootComponents,
    speed: ArrayLike,
    body_rate: ArrayLike,
    share: ArrayLike,
    flight_time: ArrayLike,
    body_acceleration: ArrayLike = 0.0,
) -> LoadCase:
    """Pitching or rolling flight: the steady loads and, once per turn, those of `gyroscopic_blade_loads`.

    Arguments: blade; steady - root loads, [...]; speed - Omega, rad/s; body_rate - rad/s; body_acceleration -
    rad/s^2; share - of the flight so spent; flight_time - s; all broadcasting.
    Source: as in `gyroscopic_blade_loads`.
    """
    loads = gyroscopic_blade_loads(blade, speed, body_rate, body_acceleration)

    def once(flap: FloatArray, shear: FloatArray) -> RootComponents:
        return RootComponents.of(flap=flap[..., np.newaxis], normal_shear=shear[..., np.newaxis])

    return turn_case(
        "pitching and rolling",
        steady,
        once(loads.flap_cosine, loads.shear_cosine),
        once(loads.flap_sine, loads.shear_sine),
        share,
        flight_time,
        speed,
        "rigid blade, flap moment 2 (I + e S) Omega q once per turn, no relief",
    )
