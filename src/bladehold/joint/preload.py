"""Preload from tightening torque, its greatest and least value, and what temperature does to it.

Force, torque and length in SI. "Nominal" preload is the one the nominal torque gives at the nominal
nut factor; scatter, tolerance, relaxation and temperature act on it.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real

SHORT_TERM_RELAXATION = 0.05
"""Share of preload lost soon after tightening where no test says otherwise (NASA-STD-5020B (2021) 4.3.1)."""


@dataclass(frozen=True)
class Limits:
    """Greatest and least value of one quantity, SI, any shape."""

    maximum: Floats
    minimum: Floats


def torque_from_preload(preload: ArrayLike, nut_factor: ArrayLike, diameter: ArrayLike) -> Floats:
    """Tightening torque T = K D P, above any running torque.

    >>> print(f"{torque_from_preload(132.3e3, 0.18, 20e-3):.1f} N m")
    476.3 N m

    Arguments (broadcast together):
        preload: P [N]; nut_factor: K [-]; diameter: nominal thread diameter D [m].
    Returns: torque [N m].
    Errors: ValueError when nut factor or diameter is not positive.
    Source: NASA-TM-106943 (1995); NSTS 08307 Rev. A (1998); Shigley ch. 8.
    """
    return real("preload", preload) * positive("nut factor", nut_factor) * positive("diameter", diameter)


def preload_from_torque(torque: ArrayLike, nut_factor: ArrayLike, diameter: ArrayLike) -> Floats:
    """Nominal preload P = T / (K D), T above any running torque.

    Arguments (broadcast together):
        torque: T [N m]; nut_factor: K [-]; diameter: nominal thread diameter D [m].
    Returns: preload [N].
    Errors: ValueError when nut factor or diameter is not positive.
    Source: as `torque_from_preload`.
    """
    return real("torque", torque) / (positive("nut factor", nut_factor) * positive("diameter", diameter))


def nut_factor(
    pitch_diameter: ArrayLike,
    nominal_diameter: ArrayLike,
    lead_angle: ArrayLike,
    thread_friction: ArrayLike,
    head_friction: ArrayLike,
    thread_half_angle: ArrayLike = np.pi / 6.0,
) -> Floats:
    """Nut factor from friction, for a head or nut whose mean bearing radius is 0.625 D.

    K = Dp/(2 D) (tan psi + mu sec alpha)/(1 - mu tan psi sec alpha) + 0.625 mu_c

    Arguments (broadcast together):
        pitch_diameter: Dp [m]; nominal_diameter: D [m]; lead_angle: psi [rad];
        thread_friction: mu [-]; head_friction: mu_c [-]; thread_half_angle: alpha [rad], 30 deg for ISO.
    Returns: K [-]; the source finds about 0.11-0.15 lubricated and 0.2 dry.
    Errors: ValueError when a diameter is not positive, a friction negative, or the thread locks itself
        against tightening.
    Source: NASA-TM-106943 (1995).
    """
    secant = 1.0 / np.cos(real("thread half angle", thread_half_angle))
    tangent = np.tan(at_least_zero("lead angle", lead_angle))
    mu = at_least_zero("thread friction", thread_friction) * secant
    ratio = positive("pitch diameter", pitch_diameter) / (
        2.0 * positive("nominal diameter", nominal_diameter)
    )
    denominator = positive(
        "1 - mu tan(psi) sec(alpha), which thread friction and lead angle make,", 1.0 - mu * tangent
    )
    return ratio * (tangent + mu) / denominator + 0.625 * at_least_zero("head friction", head_friction)


def friction_from_nut_factor(
    nut_factor: ArrayLike,
    pitch_diameter: ArrayLike,
    nominal_diameter: ArrayLike,
    lead_angle: ArrayLike,
    thread_half_angle: ArrayLike = np.pi / 6.0,
) -> Floats:
    """Friction, the same in thread and under the head, that makes a nut factor: `nut_factor` solved for it.

    Arguments (broadcast together):
        nut_factor: K [-]; pitch_diameter: Dp [m]; nominal_diameter: D [m]; lead_angle: psi [rad];
        thread_half_angle: alpha [rad], 30 deg for ISO.
    Returns: mu [-].
    Errors: ValueError when K is below what the lead alone makes, or a diameter not positive.
    Source: as `nut_factor`, its quadratic in mu, smaller root.
    """
    K = positive("nut factor", nut_factor)
    secant = 1.0 / np.cos(real("thread half angle", thread_half_angle))
    tangent = np.tan(at_least_zero("lead angle", lead_angle))
    ratio = positive("pitch diameter", pitch_diameter) / (
        2.0 * positive("nominal diameter", nominal_diameter)
    )
    constant = at_least_zero("nut factor less the share of the lead", K - ratio * tangent)
    linear = 0.625 + (ratio + K * tangent) * secant
    root = np.sqrt(linear**2 - 2.5 * tangent * secant * constant)
    return 2.0 * constant / (linear + root)


def torque_long_form(
    preload: ArrayLike,
    thread_radius: ArrayLike,
    lead_angle: ArrayLike,
    thread_friction: ArrayLike,
    bearing_radius: ArrayLike,
    head_friction: ArrayLike,
    thread_half_angle: ArrayLike = np.pi / 6.0,
) -> Floats:
    """Tightening torque from the radii of thread and bearing face.

    T = P [Rt (tan a + mu_t / cos b) + Re mu_b]

    Arguments (broadcast together):
        preload: P [N]; thread_radius: mean radius of the thread Rt, half the pitch diameter [m];
        lead_angle: a [rad]; thread_friction: mu_t [-]; bearing_radius: mean radius of the turned
        face Re [m]; head_friction: mu_b [-]; thread_half_angle: b [rad], 30 deg for ISO.
    Returns: torque above any running torque [N m].
    Errors: ValueError when a radius is not positive or a friction negative.
    Source: NSTS 08307 Rev. A (1998).
    """
    thread = np.tan(at_least_zero("lead angle", lead_angle)) + at_least_zero(
        "thread friction", thread_friction
    ) / np.cos(real("thread half angle", thread_half_angle))
    face = positive("bearing radius", bearing_radius) * at_least_zero("head friction", head_friction)
    return real("preload", preload) * (positive("thread radius", thread_radius) * thread + face)


def torque_limits(nominal: ArrayLike, tolerance: ArrayLike) -> Limits:
    """Greatest and least torque of a setting T +- tolerance.

    Arguments (broadcast together):
        nominal: T [N m]; tolerance: [N m].
    Returns: torques [N m].
    Errors: ValueError unless 0 <= tolerance < nominal.
    Source: NASA-STD-5020B (2021) 4.3.1.
    """
    torque, band = positive("nominal torque", nominal), at_least_zero("torque tolerance", tolerance)
    larger("nominal torque", torque, "its tolerance", band)
    return Limits(torque + band, torque - band)


def torque_above_running(
    specified: Limits, breakaway_minimum: ArrayLike, locking_maximum: ArrayLike
) -> Limits:
    """Torque that is left to stretch the screw where a locking feature eats part of it.

    Tmax = Ts,max - Tbreakaway,min; Tmin = Ts,min - Tlock,max. For a setting given above the
    measured running torque nothing is taken off: use `torque_limits` as it is.

    Arguments (broadcast together):
        specified: limits of the wrench setting [N m]; breakaway_minimum: least torque of the locking
        feature [N m]; locking_maximum: greatest torque of the locking feature [N m].
    Returns: torques that make preload [N m].
    Errors: ValueError when a locking torque is negative, or eats the whole setting.
    Source: NASA-STD-5020B (2021) eq. 29, 30.
    """
    greatest = specified.maximum - at_least_zero("least breakaway torque", breakaway_minimum)
    least = specified.minimum - at_least_zero("greatest locking torque", locking_maximum)
    return Limits(
        positive("greatest torque left above running", greatest), positive("least torque left", least)
    )


def torque_factors(limits: Limits, nominal: ArrayLike) -> Limits:
    """Factors cmax and cmin of the torque tolerance, T / Tnominal.

    >>> factors = torque_factors(torque_limits(40.0, 2.0), 40.0)
    >>> print(f"{factors.maximum:.2f} {factors.minimum:.2f}")
    1.05 0.95

    Arguments (broadcast together):
        limits: greatest and least torque that makes preload [N m]; nominal: nominal of the same [N m].
    Returns: cmax, cmin [-].
    Errors: ValueError when the nominal torque is not positive.
    Source: NASA-STD-5020B (2021) 4.3.1.
    """
    torque = positive("nominal torque", nominal)
    return Limits(limits.maximum / torque, limits.minimum / torque)


def maximum_preload(
    nominal: ArrayLike, uncertainty: ArrayLike, torque_factor: ArrayLike = 1.0, thermal_gain: ArrayLike = 0.0
) -> Floats:
    """Greatest preload, Pmax = cmax (1 + Gamma) Pnom + thermal gain.

    Arguments (broadcast together):
        nominal: Pnom [N]; uncertainty: Gamma of the tightening method [-]; torque_factor: cmax [-];
        thermal_gain: greatest increase by temperature [N].
    Returns: preload [N].
    Errors: ValueError when an argument is negative.
    Source: NASA-STD-5020B (2021) eq. 1, 3.
    """
    spread = 1.0 + at_least_zero("uncertainty", uncertainty)
    initial = positive("torque factor", torque_factor) * spread * at_least_zero("nominal preload", nominal)
    return initial + at_least_zero("thermal gain", thermal_gain)


def minimum_preload(
    nominal: ArrayLike,
    uncertainty: ArrayLike,
    torque_factor: ArrayLike = 1.0,
    thermal_loss: ArrayLike = 0.0,
    *,
    bolts: ArrayLike = 1,
    relaxation: ArrayLike = SHORT_TERM_RELAXATION,
) -> Floats:
    """Least preload, Pmin = cmin (1 - Gamma / sqrt(nf)) Pnom (1 - relaxation) - thermal loss.

    Arguments (broadcast together):
        nominal: Pnom [N]; uncertainty: Gamma of the tightening method [-]; torque_factor: cmin [-];
        thermal_loss: greatest decrease by temperature [N]; bolts: nf, screws that resist slip together;
        1 wherever a single screw counts (separation, one pivot); relaxation: share lost [-].
    Returns: preload [N], not below 0.
    Errors: ValueError when Gamma or relaxation is not within 0 to 1, or an argument negative.
    Source: NASA-STD-5020B (2021) eq. 2, 4 (separation), 5 (slip of a joint of nf screws).
    """
    scatter = at_least_zero("uncertainty", uncertainty)
    at_least_zero("1 - uncertainty", 1.0 - scatter)
    kept = at_least_zero("1 - relaxation", 1.0 - at_least_zero("relaxation", relaxation))
    spread = 1.0 - scatter / np.sqrt(positive("number of screws", bolts))
    initial = positive("torque factor", torque_factor) * spread * at_least_zero("nominal preload", nominal)
    return np.maximum(initial * kept - at_least_zero("thermal loss", thermal_loss), 0.0)


def minimum_preload_tm106943(nominal: ArrayLike, uncertainty: ArrayLike) -> Floats:
    """Least preload in the older NASA form, Pmin = Pnom (1 - u) / 1.05.

    Arguments (broadcast together):
        nominal: T / (K D) [N]; uncertainty: u [-].
    Returns: preload [N]; 0.714 Pnom for u = 0.25.
    Errors: ValueError when u is not within 0 to 1 or Pnom negative.
    Source: NASA-TM-106943 (1995) eq. 13-16.
    """
    kept = at_least_zero("1 - uncertainty", 1.0 - at_least_zero("uncertainty", uncertainty))
    return at_least_zero("nominal preload", nominal) * kept / 1.05


def thermal_mismatch(
    temperature_change: ArrayLike,
    layer_thickness: ArrayLike,
    layer_expansion: ArrayLike,
    bolt_expansion: ArrayLike,
) -> Floats:
    """Length by which the clamped stack grows more than the screw in it.

    delta = dT (sum t_i a_i - a_b sum t_i)

    Arguments:
        temperature_change: dT from tightening [K], shape (...);
        layer_thickness: t_i [m], shape (..., layers);
        layer_expansion: a_i through the thickness [1/K], shape (..., layers);
        bolt_expansion: a_b [1/K], shape (...). The leading axes broadcast.
    Returns: mismatch [m], shape (...), positive where the screw is stretched.
    Errors: ValueError when a thickness is negative or anything not finite.
    Source: NASA-TM-106943 (1995) eq. 10 for one material; the sum over layers follows from the
        free lengths.
    """
    thickness = at_least_zero("layer thickness", layer_thickness)
    excess = (
        real("layer expansion", layer_expansion) - real("bolt expansion", bolt_expansion)[..., np.newaxis]
    )
    growth: Floats = np.sum(thickness * excess, axis=-1)
    return real("temperature change", temperature_change) * growth


def thermal_preload_change(
    bolt_stiffness: ArrayLike, joint_stiffness: ArrayLike, mismatch: ArrayLike
) -> Floats:
    """Change of preload by differential expansion, Pth = [Kb Kj / (Kb + Kj)] delta.

    Arguments (broadcast together):
        bolt_stiffness: Kb [N/m]; joint_stiffness: Kj of the clamped stack [N/m];
        mismatch: from `thermal_mismatch` [m].
    Returns: change [N], a gain where positive.
    Errors: ValueError when a stiffness is not positive.
    Source: NASA-TM-106943 (1995) eq. 10.
    """
    kb, kj = positive("bolt stiffness", bolt_stiffness), positive("joint stiffness", joint_stiffness)
    return kb * kj / (kb + kj) * real("mismatch", mismatch)
