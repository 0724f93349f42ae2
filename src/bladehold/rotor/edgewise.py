"""A rigid blade in edgewise flight, in closed form: how much of its load comes once per turn.

The blade neither flaps nor bends, its chord is constant and its pitch linear, theta = th0 + th1 x
with x = r/R; the inflow ratio lambda is uniform; lift is cl = a (theta - lambda / u_T) at the
tangential speed u_T = x + mu sin(psi), from centre to tip, without stall, loss or reverse flow.
The azimuth psi is zero where the blade points down the stream and grows with the turning, so that
sin(psi) = 1 on the advancing side. Pitch counts from the angle of no lift.

The results below are blade-element integrals of this element, in the manner of Johnson, Helicopter
Theory (1980), chapter 5; the integration is our own and checked by quadrature.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.bracket import bracketed_root
from bladehold.rotor.geometry import BladeGeometry
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

ADVANCE_RANGE = Range(
    "advance ratio",
    0.0,
    0.3,
    "",
    "reverse flow at the root, left out here, is no longer small",
    "Johnson, Helicopter Theory (1980), chapter 5",
)
DISC_ANGLE_RANGE = Range(
    "disc angle",
    -np.arctan(np.sqrt(8.0)),
    None,
    "rad",
    "descent too steep: several inflows satisfy the momentum balance, one of them is given",
    "condition for a single root of Glauert's inflow equation, derived here",
)
INFLOW_TOLERANCE = 1e-13


@dataclass(frozen=True, eq=False)
class Harmonics:
    """mean + sine sin(psi) + cosine2 cos(2 psi): all that a rigid blade's root sees; any shape."""

    mean: FloatArray
    sine: FloatArray
    cosine2: FloatArray


@dataclass(frozen=True, eq=False)
class CyclicShare:
    """Half the range over a turn divided by the mean, of flap moment and of root shear; any shape."""

    flap_moment: FloatArray
    root_shear: FloatArray


def flap_moment_harmonics(
    advance_ratio: ArrayLike, root_pitch: ArrayLike, twist_rate: ArrayLike, inflow_ratio: ArrayLike
) -> Harmonics:
    """Flap moment of the air loads about the centre, in units of K = rho a c Omega^2 R^4 / 2.

    mean  th0 (1/4 + mu^2/4) + th1 (1/5 + mu^2/6) - lambda/3
    sine  mu (2 th0/3 + th1/2 - lambda/2)
    cosine of twice psi  -mu^2 (th0/4 + th1/6)

    Arguments: advance_ratio - mu; root_pitch - th0, rad; twist_rate - th1, rad per unit of r/R;
    inflow_ratio - lambda; all broadcast. Validity: ADVANCE_RANGE. Source: head of this page.

    >>> moment = flap_moment_harmonics(0.15, np.radians(12.0), 0.0, 0.06)
    >>> round(float(moment.sine / moment.mean), 3)
    0.49
    """
    mu, th0, th1, inflow = _floats(advance_ratio, root_pitch, twist_rate, inflow_ratio)
    return Harmonics(
        mean=th0 * (0.25 + mu**2 / 4.0) + th1 * (0.2 + mu**2 / 6.0) - inflow / 3.0,
        sine=mu * (2.0 * th0 / 3.0 + th1 / 2.0 - inflow / 2.0),
        cosine2=-(mu**2) * (th0 / 4.0 + th1 / 6.0),
    )


def root_shear_harmonics(
    advance_ratio: ArrayLike, root_pitch: ArrayLike, twist_rate: ArrayLike, inflow_ratio: ArrayLike
) -> Harmonics:
    """Lift of one blade, the shear at its root, in units of K/R = rho a c Omega^2 R^3 / 2.

    mean  th0 (1/3 + mu^2/2) + th1 (1/4 + mu^2/4) - lambda/2
    sine  mu (th0 + 2 th1/3 - lambda)
    cosine of twice psi  -mu^2 (th0/2 + th1/4)

    The mean times the number of blades is the rotor's thrust.
    Arguments: advance_ratio - mu; root_pitch - th0, rad; twist_rate - th1, rad per unit of r/R;
    inflow_ratio - lambda; all broadcast. Validity: ADVANCE_RANGE. Source: head of this page.

    >>> shear = root_shear_harmonics(0.15, np.radians(12.0), 0.0, 0.06)
    >>> round(float(shear.sine / shear.mean), 3)
    0.532
    """
    mu, th0, th1, inflow = _floats(advance_ratio, root_pitch, twist_rate, inflow_ratio)
    return Harmonics(
        mean=th0 * (1.0 / 3.0 + mu**2 / 2.0) + th1 * (0.25 + mu**2 / 4.0) - inflow / 2.0,
        sine=mu * (th0 + 2.0 * th1 / 3.0 - inflow),
        cosine2=-(mu**2) * (th0 / 2.0 + th1 / 4.0),
    )


def half_range(load: Harmonics) -> FloatArray:
    """Half the difference between the greatest and the least load of a turn, in the load's unit.

    With y = sin(psi) the load is m + s y + c (1 - 2 y^2): a parabola, greatest and least at the ends
    y = -1, 1 or at its vertex y = s / (4 c) where that lies between them.

    >>> one = Harmonics(*(np.array(value) for value in (1.0, 0.5, -0.1)))
    >>> float(half_range(one))
    0.5
    """
    sine, cosine2 = np.abs(load.sine), load.cosine2
    ends = np.stack([-sine - cosine2, sine - cosine2])
    curved = sine < 4.0 * np.abs(cosine2)
    vertex = cosine2 + sine**2 / (8.0 * np.where(curved, cosine2, 1.0))
    extremes = np.concatenate([ends, np.where(curved, vertex, ends[0])[np.newaxis]])
    return np.asarray(0.5 * (extremes.max(axis=0) - extremes.min(axis=0)))


def excess_over_mean(load: Harmonics) -> FloatArray:
    """Greatest load of a turn less its mean, in the load's unit.

    More than `half_range` where the part twice per turn is negative: strength asks for this, fatigue for
    the other. The same parabola in y = sin(psi): the greater of its ends and of its vertex within them.
    Arguments: load - harmonics of any shape. Source: derived, as `half_range`.

    >>> one = Harmonics(*(np.array(value) for value in (1.0, 0.5, -0.1)))
    >>> float(excess_over_mean(one))
    0.6
    """
    sine, cosine2 = np.abs(load.sine), load.cosine2
    curved = sine < 4.0 * np.abs(cosine2)
    vertex = cosine2 + sine**2 / (8.0 * np.where(curved, cosine2, 1.0))
    return np.asarray(np.maximum(sine - cosine2, np.where(curved, vertex, -np.inf)))


def cyclic_share(
    advance_ratio: ArrayLike, root_pitch: ArrayLike, twist_rate: ArrayLike, inflow_ratio: ArrayLike
) -> CyclicShare:
    """How far flap moment and root shear swing about their means, as shares of the means.

    Independent of blade size, speed, density and lift slope.
    Arguments: advance_ratio - mu; root_pitch - th0, rad; twist_rate - th1, rad per unit of r/R;
    inflow_ratio - lambda; all broadcast. Raises ValueError where the mean load is not positive.
    Validity: ADVANCE_RANGE. Source: `flap_moment_harmonics`, `root_shear_harmonics`.
    """
    flap = flap_moment_harmonics(advance_ratio, root_pitch, twist_rate, inflow_ratio)
    shear = root_shear_harmonics(advance_ratio, root_pitch, twist_rate, inflow_ratio)
    for name, load in (("flap moment", flap), ("root shear", shear)):
        if np.any(~(load.mean > 0.0)):
            raise ValueError(
                f"mean {name} is not positive: inflow_ratio exceeds what root_pitch and twist_rate lift"
            )
    return CyclicShare(flap_moment=half_range(flap) / flap.mean, root_shear=half_range(shear) / shear.mean)


def linear_twist_fit(geometry: BladeGeometry, zero_lift_angle: float = 0.0) -> tuple[float, float]:
    """Straight line th0 + th1 x (rad, rad) through a blade's pitch, x = r/R.

    Weighted least squares, weight x^2 along the span, as the lift of an element goes with the square
    of its speed. Pitch counts from the angle of no lift.
    Arguments: geometry - the blade; zero_lift_angle - of its section, rad, negative with camber.
    """
    x = geometry.r / geometry.radius
    nodes = np.concatenate([[geometry.hub_radius], geometry.r, [geometry.radius]]) / geometry.radius
    weight = x**2 * 0.5 * (nodes[2:] - nodes[:-2])
    pitch = geometry.twist - zero_lift_angle
    middle, level = np.average(x, weights=weight), np.average(pitch, weights=weight)
    rate = np.sum(weight * (x - middle) * (pitch - level)) / np.sum(weight * (x - middle) ** 2)
    return float(level - rate * middle), float(rate)


def edgewise_inflow(
    thrust_coefficient: ArrayLike, advance_ratio: ArrayLike, disc_angle: ArrayLike
) -> FloatArray:
    """Inflow ratio of a rotor in forward flight: lambda = mu tan(i) + CT / (2 sqrt(mu^2 + lambda^2)).

    Glauert's hypothesis: the disc acts like an elliptic wing when fast, like the momentum disc in
    hover. Solved between no induction and that of hover.
    Arguments: thrust_coefficient - CT, rotor convention, at least 0; advance_ratio - mu = V cos(i) /
    (Omega R), at least 0; disc_angle - i, rad, positive with the disc tilted forward so that the
    stream comes from above; all broadcast.
    Returns lambda, positive down through the disc. Raises ValueError naming the argument that cannot
    be. Validity: DISC_ANGLE_RANGE.
    Source: Glauert, ARC R&M 1111 (1926); Johnson, Helicopter Theory (1980), chapter 4.

    >>> round(float(edgewise_inflow(0.0072, 0.0, 0.0)), 4)
    0.06
    """
    ct, mu, angle = np.broadcast_arrays(*_floats(thrust_coefficient, advance_ratio, disc_angle))
    for name, values in (("thrust_coefficient", ct), ("advance_ratio", mu)):
        if not np.all(np.isfinite(values) & (values >= 0.0)):
            raise ValueError(f"{name} must be finite and at least 0, got {values.ravel()[:3]}")
    half, along, across = (0.5 * ct).ravel(), mu.ravel(), (mu * np.tan(angle)).ravel()

    def balance(induced: FloatArray, which: IntArray) -> FloatArray:
        return np.asarray(induced * np.hypot(along[which], across[which] + induced) - half[which])

    every = np.arange(half.size)
    low, high = np.zeros(half.size), np.sqrt(half) + np.maximum(-across, 0.0)
    induced = bracketed_root(
        balance, low, high, balance(low, every), balance(high, every), tolerance=INFLOW_TOLERANCE
    )
    return np.asarray((across + induced).reshape(ct.shape))


def _floats(*values: ArrayLike) -> tuple[FloatArray, ...]:
    """The arguments as float arrays."""
    return tuple(np.asarray(value, dtype=float) for value in values)
