"""An arm with a motor at its end: natural frequencies and forced motion of an even beam, exact in space.

Bending of an even cantilever (Euler and Bernoulli) with a mass m and a rotational inertia J at its tip, and
twist or stretch of an even rod with an inertia at its end. Damping is a complex modulus E (1 + 2 i zeta),
which at a resonance does as much as a viscous damping ratio zeta. Left out: shear and rotary inertia of the
beam itself, the offset of the tip's centre of mass from the arm's axis, gyroscopic moments of the rotor,
and the give of the clamp, unless a tapped frequency has it in it (`matched_stiffness`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, TypeAlias

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.validity import Range

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]
Floats: TypeAlias = FloatArray | float

_HALVINGS = 60  # of a bracket of pi: to the last digit
_POINTS = 24  # of the integral over a mode shape

SLENDER_RANGE = Range(
    "length of the arm over its height or width",
    8.0,
    None,
    "",
    "shear and rotary inertia lower the frequencies by more than a few per cent",
    "own limit, from the terms left out of Euler and Bernoulli's beam",
)


def bending_roots(mass_ratio: ArrayLike, inertia_ratio: ArrayLike = 0.0, modes: int = 3) -> FloatArray:
    """Roots b = beta L of an even cantilever with a mass and a rotational inertia at its tip, [..., modes].

    1 + cosh b cos b + mu b (sinh b cos b - cosh b sin b) - kappa b^3 (cosh b sin b + sinh b cos b)
    + mu kappa b^4 (1 - cosh b cos b) = 0.
    Each root has a bracket of its own: without inertia between (n - 1) pi and n pi; with it between the root
    n - 1 of the tip held upright and the root n without inertia, as frequencies interlace when one
    motion is held.

    Arguments, broadcasting: mass_ratio - mu, tip mass over the beam's mass, any >= 0; inertia_ratio - kappa,
    tip inertia over the beam's mass times L^2, any >= 0; modes - number of roots.
    Errors: ValueError for a ratio that is negative or not finite, or fewer than one mode.
    Source: Blevins, Formulas for Natural Frequency and Mode Shape; Rao, Mechanical Vibrations (cantilever
    with tip mass); the bracketing is derived.

    >>> bending_roots(1.0).round(6).tolist()
    [1.247917, 4.031139, 7.134132]
    """
    mu, kappa = np.broadcast_arrays(np.asarray(mass_ratio, float), np.asarray(inertia_ratio, float))
    for name, ratio in (("mass_ratio", mu), ("inertia_ratio", kappa)):
        if not np.all((ratio >= 0.0) & np.isfinite(ratio)):
            raise ValueError(f"{name} must be finite and not negative")
    if modes < 1:
        raise ValueError(f"modes must be 1 or more, got {modes}")
    mu, kappa = mu[..., np.newaxis], kappa[..., np.newaxis]
    order = np.arange(1.0, modes + 1.0)
    high = np.broadcast_to(order * np.pi, np.broadcast_shapes(mu.shape, order.shape))
    low = high - np.pi
    plain = _bisected(lambda b: _free(b, mu), low, high)
    held = _bisected(lambda b: -_upright(b, mu), low, high)
    below = np.concatenate([np.zeros_like(held[..., :1]), held[..., :-1]], axis=-1)
    return _bisected(lambda b: _free(b, mu) + kappa * b**3 * _upright(b, mu), below, plain)


def _free(b: FloatArray, mu: FloatArray) -> FloatArray:
    """The equation without inertia, over cosh b."""
    tanh = np.tanh(b)
    return np.asarray(1.0 / np.cosh(b) + np.cos(b) + mu * b * (tanh * np.cos(b) - np.sin(b)))


def _upright(b: FloatArray, mu: FloatArray) -> FloatArray:
    """What the inertia multiplies, over b^3 cosh b: the equation of a tip that is held upright."""
    tanh = np.tanh(b)
    return np.asarray(-np.sin(b) - tanh * np.cos(b) + mu * b * (1.0 / np.cosh(b) - np.cos(b)))


def _bisected(equation: Callable[[FloatArray], FloatArray], low: FloatArray, high: FloatArray) -> FloatArray:
    """Roots between brackets. The first is positive just above its lower end, and the signs alternate."""
    below, above = np.broadcast_arrays(low, high)
    sign = (-1.0) ** np.arange(below.shape[-1])
    for _ in range(_HALVINGS):
        middle = 0.5 * (below + above)
        before = sign * equation(middle) > 0.0
        below, above = np.where(before, middle, below), np.where(before, above, middle)
    return np.asarray(0.5 * (below + above))


def torsion_roots(inertia_ratio: ArrayLike, modes: int = 1) -> FloatArray:
    """Roots g = gamma L of an even rod held at one end, with an inertia at the other, [..., modes].

    r g sin g = cos g, r the tip's inertia over the rod's; one root between (n - 1) pi and (n - 1/2) pi.
    Arguments: inertia_ratio - r [...], any >= 0; modes - number of roots.
    Errors: ValueError for a ratio that is negative or not finite, or fewer than one mode.
    Source: Rao, Mechanical Vibrations, torsion of a shaft with a disc at its end.

    >>> torsion_roots(1.0).round(4).tolist()
    [0.8603]
    """
    ratio = np.asarray(inertia_ratio, float)[..., np.newaxis]
    if not np.all((ratio >= 0.0) & np.isfinite(ratio)):
        raise ValueError("inertia_ratio must be finite and not negative")
    if modes < 1:
        raise ValueError(f"modes must be 1 or more, got {modes}")
    low = (np.arange(1.0, modes + 1.0) - 1.0) * np.pi
    below = np.broadcast_to(low, np.broadcast_shapes(ratio.shape, low.shape))
    return _bisected(lambda g: np.cos(g) - ratio * g * np.sin(g), below, below + np.pi / 2.0)


@dataclass(frozen=True, eq=False)
class ArmBeam:
    """An even arm in one plane of bending; numbers or arrays that broadcast.

    stiffness - E I, N*m^2; line_mass - kg/m; length - clamp to motor axis, m; tip_mass - kg; tip_inertia - of
    what sits at the tip, about the axis that the tip's slope turns about, kg*m^2; damping - ratio.
    """

    stiffness: Floats
    line_mass: Floats
    length: Floats
    tip_mass: Floats
    tip_inertia: Floats = 0.0
    damping: Floats = 0.0

    @property
    def mass(self) -> FloatArray:
        """Mass of the arm without its tip, kg."""
        return np.asarray(self.line_mass * self.length)


def bending_frequencies(beam: ArmBeam, modes: int = 3) -> FloatArray:
    """Natural frequencies (Hz) of an arm, b^2 / (2 pi) sqrt(E I / (line mass L^4)), [..., modes].

    Arguments: beam; modes - number. Range: `SLENDER_RANGE`. Source: as for `bending_roots`.

    >>> beam = ArmBeam(stiffness=1.0, line_mass=1.0, length=1.0, tip_mass=1.0)
    >>> (2.0 * np.pi * bending_frequencies(beam, 2)).round(5).tolist()
    [1.5573, 16.25009]
    """
    roots = bending_roots(*_ratios(beam), modes)
    rate = np.asarray(np.sqrt(beam.stiffness / beam.mass / np.asarray(beam.length) ** 3))
    return np.asarray(roots**2 * rate[..., np.newaxis] / (2.0 * np.pi))


def _ratios(beam: ArmBeam) -> tuple[FloatArray, FloatArray]:
    square = beam.mass * np.square(beam.length)
    return np.asarray(beam.tip_mass / beam.mass), np.asarray(beam.tip_inertia / square)


@dataclass(frozen=True, eq=False)
class TipMode:
    """The first mode as a mass on a spring at the tip, where its shape is 1.

    frequency - Hz; mass - modal mass, kg; stiffness - N/m; slope - of the shape at the tip, 1/m: a moment
    there does as much as slope times that force; participation - kg: what of the arm goes along, integral of
    m phi and the tip mass, which is the momentum it takes from the body.
    """

    frequency: FloatArray
    mass: FloatArray
    stiffness: FloatArray
    slope: FloatArray
    participation: FloatArray


def tip_mode(beam: ArmBeam) -> TipMode:
    """First bending mode of an arm as one mass on one spring: integral of m phi^2, tip mass, J phi'^2.

    The shape is A (cosh - cos) + B (sinh - sin) of b x / L, without moment at the tip but that of its
    inertia. Arguments: beam. Source: derived, modal mass of the exact shape by Gauss's rule.
    """
    mu, kappa = _ratios(beam)
    root = bending_roots(mu, kappa, 1)[..., 0]
    first, second, curve_first, curve_second, slope_first = _shapes(root)
    # Balance of moments at the tip: phi'' = kappa b^4 phi' in units of the length.
    turn_first = curve_first - kappa * root**3 * slope_first
    turn_second = curve_second - kappa * root**3 * first
    share = -turn_first / turn_second
    at_tip = first + share * second
    place, weight = np.polynomial.legendre.leggauss(_POINTS)
    at = root[..., np.newaxis] * 0.5 * (1.0 + place)
    value = (np.cosh(at) - np.cos(at)) + share[..., np.newaxis] * (np.sinh(at) - np.sin(at))
    shape = value / at_tip[..., np.newaxis]
    spread, mean = (0.5 * np.sum(weight * shape**power, axis=-1) for power in (2, 1))
    slope = root * (slope_first + share * first) / at_tip / np.asarray(beam.length, float)
    mass = beam.mass * spread + beam.tip_mass + beam.tip_inertia * slope**2
    frequency = bending_frequencies(beam, 1)[..., 0]
    stiffness = np.asarray(mass * (2.0 * np.pi * frequency) ** 2)
    along = np.asarray(beam.mass * mean + beam.tip_mass)
    return TipMode(frequency, np.asarray(mass), stiffness, slope, along)


def _shapes(b: NDArray[Any]) -> tuple[NDArray[Any], ...]:
    """cosh - cos, sinh - sin, their second derivatives, and the first derivative of the first."""
    cosh, cos, sinh, sin = np.cosh(b), np.cos(b), np.sinh(b), np.sin(b)
    return cosh - cos, sinh - sin, cosh + cos, sinh + sin, sinh + sin


def rod_frequency(
    stiffness: ArrayLike, line_inertia: ArrayLike, length: ArrayLike, tip_inertia: ArrayLike
) -> FloatArray:
    """First natural frequency (Hz) of an even rod in twist or stretch, held at one end.

    g / (2 pi) sqrt(stiffness / (line inertia L^2)), g of `torsion_roots`.
    Arguments, broadcasting: stiffness - G K, N*m^2 (stretch: E A, N); line_inertia - density times polar
    second moment, kg*m (stretch: kg/m); length - m; tip_inertia - kg*m^2 (stretch: kg).
    Source: Rao, Mechanical Vibrations, torsion of a shaft with a disc at its end.
    """
    span = np.asarray(length, float)
    own = np.asarray(line_inertia, float) * span
    root = torsion_roots(np.asarray(tip_inertia, float) / own, 1)[..., 0]
    return np.asarray(
        root / (2.0 * np.pi * span) * np.sqrt(np.asarray(stiffness, float) / np.asarray(line_inertia))
    )


def matched_stiffness(beam: ArmBeam, frequency: ArrayLike) -> FloatArray:
    """Bending stiffness (N*m^2) with which an arm's first frequency is the one tapped; the clamp is in it.

    E I (f / f1)^2, exact as frequencies go with the root of the stiffness.
    Arguments: beam - as computed; frequency - tapped, with everything at the tip, Hz, above 0.
    Errors: ValueError when a frequency is not positive. Source: derived from `bending_frequencies`.
    """
    tapped = np.asarray(frequency, float)
    if not np.all(tapped > 0.0):
        raise ValueError("a tapped frequency must be above 0")
    return np.asarray(beam.stiffness * (tapped / bending_frequencies(beam, 1)[..., 0]) ** 2)


@dataclass(frozen=True, eq=False)
class TipResponse:
    """Steady motion of a shaken arm, complex amplitudes with the phase of the load.

    displacement - of the tip, m; slope - there, rad; moment, shear - at the clamp, N*m and N.
    """

    displacement: ComplexArray
    slope: ComplexArray
    moment: ComplexArray
    shear: ComplexArray


def tip_response(
    beam: ArmBeam, speed: ArrayLike, force: ArrayLike = 0.0, moment: ArrayLike = 0.0
) -> TipResponse:
    """Steady motion of an arm under a force and a moment at its tip that go with exp(i Omega t).

    All modes at once: w = A (cosh - cos) + B (sinh - sin) of beta x meets at the tip
    E* I w'' = C + J Omega^2 w' and E* I w''' = -F - m Omega^2 w, with E* = E (1 + 2 i zeta) and
    beta^4 = line mass Omega^2 / (E* I). At the clamp the moment is 2 E* I beta^2 A, the shear
    -2 E* I beta^3 B.

    Arguments, broadcasting: beam; speed - Omega, rad/s, above 0; force - F, N, may be complex; moment - C, in
    the sense of the tip's slope, N*m, may be complex.
    Errors: ValueError when a speed is not positive.
    Source: derived, exact solution of Euler and Bernoulli's beam.
    """
    turning = np.asarray(speed, float)
    if not np.all(turning > 0.0):
        raise ValueError("speed must be above 0")
    load, couple = np.asarray(force), np.asarray(moment)
    bent = np.asarray(beam.stiffness * (1.0 + 2.0j * beam.damping))
    beta = (beam.line_mass * turning**2 / bent) ** 0.25
    first, second, curve_first, curve_second, slope_first = _shapes(beta * beam.length)
    inertia, mass = beam.tip_inertia * turning**2, beam.tip_mass * turning**2
    # Rows: balance of moments, balance of forces; unknowns A, B.
    bending, shearing = bent * beta**2, bent * beta**3
    a = bending * curve_first - inertia * beta * slope_first
    b = bending * curve_second - inertia * beta * first
    c = shearing * second + mass * first
    d = shearing * curve_first + mass * second
    whole = a * d - b * c
    one = (couple * d + load * b) / whole
    two = (-load * a - couple * c) / whole
    return TipResponse(
        displacement=np.asarray(one * first + two * second),
        slope=np.asarray(beta * (one * slope_first + two * first)),
        moment=np.asarray(2.0 * bending * one),
        shear=np.asarray(-2.0 * shearing * two),
    )


def rod_response(
    stiffness: ArrayLike,
    line_inertia: ArrayLike,
    length: ArrayLike,
    tip_inertia: ArrayLike,
    damping: ArrayLike,
    speed: ArrayLike,
    load: ArrayLike,
) -> tuple[ComplexArray, ComplexArray]:
    """Steady twist or stretch of an even rod under a load at its end that goes with exp(i Omega t).

    A sin(gamma x) with S* gamma A cos(gamma L) - J Omega^2 A sin(gamma L) = T, gamma^2 = j Omega^2 / S*,
    S* = S (1 + 2 i zeta). Returns the motion of the end (rad or m) and the load at the clamp (N*m or N).
    Arguments, broadcasting: stiffness - S, line_inertia - j, length - L, tip_inertia - J, as in
    `rod_frequency`; damping - zeta; speed - Omega, rad/s, above 0; load - T, N*m or N, may be complex.
    Errors: ValueError when a speed is not positive.
    Source: derived, exact solution of the wave equation.
    """
    turning = np.asarray(speed, float)
    if not np.all(turning > 0.0):
        raise ValueError("speed must be above 0")
    soft = np.asarray(stiffness, float) * (1.0 + 2.0j * np.asarray(damping, float))
    gamma = turning * np.sqrt(np.asarray(line_inertia, float) / soft)
    angle = gamma * np.asarray(length, float)
    held = soft * gamma
    inertia = np.asarray(tip_inertia, float) * turning**2
    size = np.asarray(load) / (held * np.cos(angle) - inertia * np.sin(angle))
    return np.asarray(size * np.sin(angle)), np.asarray(held * size)
