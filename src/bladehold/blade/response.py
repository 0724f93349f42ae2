"""Loads at the pivot of an elastic blade round the turn, by balance of each part per turn.

Every part k = 0 .. 6 per turn of the air loads meets the beam's dynamic stiffness

    K_elastic (1 + 2 i zeta [k > 0]) + Omega^2 (K_centrifugal - k^2 M) + i k Omega C,

C the damping of flapping by the air. Forces at the pivot then follow from the balance of the whole blade
(load, inertia, centrifugal force at the bent place), not from curvatures: the balance is that of the finite
elements themselves, because lifting and turning the whole blade are among their motions.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.beam import BeamMatrices, outboard_pull, shape_rows, span_points
from bladehold.blade.chain import Chain, ChainFactors, chain_of, factor_chain, solve_chain
from bladehold.blade.coriolis import coriolis_parts
from bladehold.blade.harmonics import PARTS, turn_parts, turn_series
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

SLOPE_RANGE = Range(
    "slope of the bent blade",
    0.0,
    0.2,
    "rad",
    "the beam's theory is for small slopes; the blade is stiffened and shortened by more",
    "own limit: the sine differs from the angle by 0.7 %",
)


@dataclass(frozen=True, eq=False)
class SpanLoads:
    """Air loads along one blade round the turn; they broadcast over conditions [...].

    radius - [S], of the stations from the rotor axis, m; weight - [S], m, with which loads sum to a force, as
    those of a trapezoid rule; normal, tangential - [..., A, S], N/m, with the thrust and against the turning,
    at A equal steps of the turn; twisting - [..., A, S], N*m/m, leading edge up, about the line through the
    pivot along the span, or None; damping - [..., S], N*s/m^2, of flapping, or None.
    """

    radius: FloatArray
    weight: FloatArray
    normal: FloatArray
    tangential: FloatArray
    twisting: FloatArray | None = None
    damping: FloatArray | None = None


@dataclass(frozen=True, eq=False)
class RootHistory:
    """Loads of the blade on its pivot over the turn, [..., A]; centrifugal, slope and left_out are [...].

    centrifugal - N, outward; flap_shear, lag_shear - N, up and against the turning; flap_moment,
    lag_moment - N*m, up and against the turning; feathering_moment - N*m, leading edge up; tip_flap,
    tip_lag - deflection of the tip, m, without the upward angle; flap_angle, lag_angle - of the blade at
    the pivot, rad, 0 where it is clamped; slope - largest of the bent blade, rad; left_out - parts of the
    rigid flap moment beyond PARTS per turn, summed, over the mean.
    """

    centrifugal: FloatArray
    flap_shear: FloatArray
    lag_shear: FloatArray
    flap_moment: FloatArray
    lag_moment: FloatArray
    feathering_moment: FloatArray
    tip_flap: FloatArray
    tip_lag: FloatArray
    flap_angle: FloatArray
    lag_angle: FloatArray
    slope: FloatArray
    left_out: FloatArray


def flap_damping(
    lift_slope: ArrayLike, chord: ArrayLike, density: ArrayLike, speed: ArrayLike, radius: ArrayLike
) -> FloatArray:
    """Damping of flapping by the air, N*s/m^2 per length of blade: c = a rho chord Omega r / 2.

    Arguments, all broadcasting: lift_slope - a, 1/rad; chord - m; density - rho, kg/m^3; speed - Omega,
    rad/s; radius - r, m. Source: quasi-steady lift, Johnson, Helicopter Theory (1980), chapter 5.

    >>> round(float(flap_damping(5.7, 0.05, 1.2, 300.0, 0.2)), 6)
    10.26
    """
    a, c, rho, omega, r = (np.asarray(v, dtype=float) for v in (lift_slope, chord, density, speed, radius))
    return np.asarray(0.5 * a * rho * c * omega * r)


@dataclass(frozen=True, eq=False)
class _Whole:
    """What the balance of the whole blade needs; D coordinates as in BeamMatrices."""

    motions: FloatArray  # [4, D]: lifted, turned up, moved back, turned back
    inertia: FloatArray  # [4, D]
    tension: FloatArray  # [4, D]
    reach: FloatArray  # [D], flap displacement e + x
    offset_flap: FloatArray  # [D]: integral of m d cos(a) times flap deflection
    offset_lag: FloatArray  # [D]
    propeller: float  # N*m s^2, feathering moment over Omega^2


def _whole(matrices: BeamMatrices) -> _Whole:
    beam, nodes = matrices.beam, matrices.nodes
    half = 2 * nodes.size
    lifted, turned = np.zeros(half), np.zeros(half)
    lifted[::2], turned[::2], turned[1::2] = 1.0, nodes, 1.0
    none = np.zeros(half)
    motions = np.stack(
        [np.concatenate(pair) for pair in ((lifted, none), (turned, none), (none, lifted), (none, turned))]
    )
    x, weight = span_points(beam, nodes)
    line, offset, angle, flat, edge = (
        np.interp(x, beam.stations, values)
        for values in (
            beam.line_mass,
            beam.mass_offset,
            beam.structural_angle,
            beam.flat_inertia,
            beam.edge_inertia,
        )
    )
    sine, cosine = np.sin(angle), np.cos(angle)
    value = shape_rows(nodes, x, 0)
    return _Whole(
        motions=motions,
        inertia=motions @ matrices.mass,
        tension=motions @ matrices.tension,
        reach=beam.pivot_radius * motions[0] + motions[1],
        offset_flap=np.concatenate([(weight * line * offset * cosine) @ value, none]),
        offset_lag=np.concatenate([none, (weight * line * offset * sine) @ value]),
        propeller=-float(weight @ ((edge - flat + line * offset**2) * sine * cosine)),
    )


def elastic_root_loads(
    matrices: BeamMatrices,
    air: SpanLoads,
    speed: ArrayLike,
    *,
    damping_ratio: float,
    upward_angle: float = 0.0,
    rate_along: ArrayLike = 0.0,
    rate_across: ArrayLike = 0.0,
) -> RootHistory:
    """Loads at the pivot of an elastic blade round the turn.

    Forces on a blade element at x, height z = upward_angle x + w: air loads; inertia; centrifugal force along
    the radius and, in the plane, m Omega^2 v; in a body turning at the rates p and q, - 2 m Omega (e + x) (p
    cos psi + q sin psi) upwards; Coriolis forces of flapping in the plane, found from a first solution and
    added to the loads of a second. The flap moment is the sum of x F_z - z F_x over them, and likewise in
    lag. The feathering moment is the sum of the air's, of Omega^2 (I_flat - I_edge - m d^2) sin a cos a, and
    of the forces above on the centre of mass, d ahead of the pivot's line; products of deflections are left
    out.
    Arguments: matrices - BeamMatrices; air - SpanLoads, more than 12 steps A; speed - Omega, rad/s, [...],
    above 0; damping_ratio - zeta of the structure, on elastic and root stiffness; upward_angle - built-in
    coning, rad; rate_along, rate_across - p, q, rad/s, [...], of the body about the line where the blade
    stands at psi = 0 and at 90 degrees, right-handed about the outward line for a rotor that turns
    right-handed about its thrust, and of the other sign for one that turns the other way.
    Returns RootHistory; azimuths are those of the air loads. Raises ValueError naming the argument that
    cannot be, also for a lag hinge on the rotor axis, which nothing holds.
    Validity: SLOPE_RANGE; parts up to PARTS; no unsteady lift, no torsion.
    Source: harmonic balance of the linear beam; Johnson, Helicopter Theory (1980), chapters 5 and 9; forces
    of the body rates derived from the acceleration of a point in turning axes.
    """
    omega = np.asarray(speed, dtype=float)
    count = air.normal.shape[-2]
    if count <= 2 * PARTS:
        raise ValueError(f"air needs more than {2 * PARTS} steps round the turn, got {count}")
    if not np.all(omega > 0.0):
        raise ValueError("speed must be above 0")
    if matrices.support.lag_spring == 0.0 and matrices.beam.pivot_radius == 0.0:
        raise ValueError("pivot_radius must be above 0 for a lag hinge")
    whole = _whole(matrices)
    place = np.clip(air.radius - matrices.beam.pivot_radius, 0.0, matrices.beam.length)
    rows = shape_rows(matrices.nodes, place, 0)
    rates = np.asarray(rate_along, dtype=float) - 1j * np.asarray(rate_across, dtype=float)
    load = _load_parts(matrices, air, rows, omega * rates, whole.reach)
    raised = upward_angle * whole.motions[1]
    factors = _factors(matrices, air, rows, omega, damping_ratio)
    motion = _motion_parts(matrices, factors, load, raised, omega)
    bent = motion + np.where(np.arange(PARTS + 1)[:, np.newaxis] == 0, raised, 0.0)
    load = load + coriolis_parts(matrices, bent, omega, count)
    motion = _motion_parts(matrices, factors, load, raised, omega)
    roots = _root_parts(whole, air, rows, load, raised, motion, omega)
    feathering = _feathering_parts(whole, raised, motion, omega, omega * rates)
    return _history(matrices, air, np.concatenate([roots, feathering], axis=-1), motion, omega, upward_angle)


def _load_parts(
    matrices: BeamMatrices, air: SpanLoads, rows: FloatArray, turning: ComplexArray, reach: FloatArray
) -> ComplexArray:
    """Parts k = 0 .. PARTS of the loads on every coordinate, [..., PARTS + 1, D].

    turning - Omega (p - i q) of the body, [...]; its forces are those of the mass at e + x, once per turn.
    """
    weighted = air.weight[:, np.newaxis] * rows
    both = (turn_parts(series) @ weighted for series in (air.normal, air.tangential))
    air_parts = np.concatenate(list(both), axis=-1)
    once = np.zeros((PARTS + 1, 1))
    once[1] = -2.0
    return np.asarray(air_parts + once * turning[..., np.newaxis, np.newaxis] * (matrices.mass @ reach))


def _factors(
    matrices: BeamMatrices, air: SpanLoads, rows: FloatArray, omega: FloatArray, damping_ratio: float
) -> ChainFactors:
    """The dynamic stiffness of all parts, [..., PARTS + 1], ready to be solved."""
    order = np.arange(PARTS + 1)[:, np.newaxis, np.newaxis, np.newaxis]
    speed = omega[..., np.newaxis, np.newaxis, np.newaxis, np.newaxis]
    free = _free(matrices)
    kept = np.outer(free, free)  # held coordinates get an equation of their own: displacement 1 times 0
    elastic, centrifugal, mass = (
        chain_of(part * kept) for part in (matrices.elastic, matrices.centrifugal, matrices.mass)
    )
    held = chain_of(np.diag(1.0 - free)).own
    damped = None if air.damping is None else chain_of(_damping(air, rows) * kept)

    def dynamic(part: str) -> ComplexArray:
        lossy = getattr(elastic, part) * (1.0 + 2j * damping_ratio * (order > 0))
        found = lossy + speed**2 * (getattr(centrifugal, part) - order**2 * getattr(mass, part))
        if damped is not None:
            found = found + 1j * order * speed * getattr(damped, part)[..., np.newaxis, :, :, :]
        return np.asarray(found)

    return factor_chain(Chain(dynamic("own") + held, dynamic("next")))


def _motion_parts(
    matrices: BeamMatrices, factors: ChainFactors, load: ComplexArray, raised: FloatArray, omega: FloatArray
) -> ComplexArray:
    """Parts of the deflection in every coordinate, [..., PARTS + 1, D], zero where the root holds it."""
    pressed = (omega**2)[..., np.newaxis, np.newaxis] * (matrices.tension @ raised)
    steady = np.arange(PARTS + 1)[:, np.newaxis] == 0
    return np.asarray(solve_chain(factors, (load - steady * pressed) * _free(matrices)))


def _free(matrices: BeamMatrices) -> FloatArray:
    """1 for coordinates that the root leaves free, else 0, [D]."""
    free = np.zeros(matrices.mass.shape[0])
    free[matrices.free] = 1.0
    return free


def _damping(air: SpanLoads, rows: FloatArray) -> FloatArray:
    """Matrix [..., D, D] of the air's damping of flapping."""
    half = rows.shape[-1]
    assert air.damping is not None
    damped = rows.T @ ((air.weight * air.damping)[..., np.newaxis] * rows)
    whole = np.zeros((*damped.shape[:-2], 2 * half, 2 * half))
    whole[..., :half, :half] = damped
    return whole


def _root_parts(
    whole: _Whole,
    air: SpanLoads,
    rows: FloatArray,
    load: ComplexArray,
    raised: FloatArray,
    motion: ComplexArray,
    omega: FloatArray,
) -> ComplexArray:
    """Parts of flap shear, flap moment, lag shear and lag moment, [..., PARTS + 1, 4]."""
    order = np.arange(PARTS + 1)[:, np.newaxis]
    speed = omega[..., np.newaxis, np.newaxis]
    in_plane = np.array([0.0, 0.0, 1.0, 1.0])  # the centrifugal force m Omega^2 v
    force = load @ whole.motions.T + speed**2 * (order**2 + in_plane) * (motion @ whole.inertia.T)
    bent = motion + np.where(order == 0, raised, 0.0)
    force = force - speed**2 * (bent @ whole.tension.T)
    if air.damping is not None:
        half = rows.shape[-1]
        flapping = (motion[..., :half] @ rows.T) * (air.weight * air.damping)[..., np.newaxis, :]
        force = force - 1j * order * speed * ((flapping @ rows) @ whole.motions[:, :half].T)
    return np.asarray(force)


def _feathering_parts(
    whole: _Whole, raised: FloatArray, motion: ComplexArray, omega: FloatArray, turning: ComplexArray
) -> ComplexArray:
    """Parts of the feathering moment by mass, [..., PARTS + 1, 1]: all but the air's own."""
    order = np.arange(PARTS + 1)
    speed = omega[..., np.newaxis]
    flapping = (order**2 - 1.0) * (motion @ whole.offset_flap) - (order == 0) * (raised @ whole.offset_flap)
    lagging = (order**2 + 1.0) * (motion @ whole.offset_lag)
    steady = (order == 0) * whole.propeller
    body = -2.0 * (order == 1) * turning[..., np.newaxis] * (whole.offset_flap @ whole.reach)
    return np.asarray(speed**2 * (flapping + lagging + steady) + body)[..., np.newaxis]


def _history(
    matrices: BeamMatrices,
    air: SpanLoads,
    roots: ComplexArray,
    motion: ComplexArray,
    omega: FloatArray,
    upward_angle: float,
) -> RootHistory:
    """The series over the turn, and what to doubt."""
    beam, half = matrices.beam, 2 * matrices.nodes.size
    count = air.normal.shape[-2]
    flap_shear, flap_moment, lag_shear, lag_moment, feathering = np.moveaxis(turn_series(roots, count), -1, 0)
    if air.twisting is not None:
        feathering = feathering + air.twisting @ air.weight
    moved = turn_series(motion, count)
    slopes = np.hypot(moved[..., 1:half:2] + upward_angle, moved[..., half + 1 :: 2])
    pull = float(outboard_pull(beam, np.zeros(1))[0])
    return RootHistory(
        centrifugal=omega**2 * pull,
        flap_shear=flap_shear,
        lag_shear=lag_shear,
        flap_moment=flap_moment,
        lag_moment=lag_moment,
        feathering_moment=feathering,
        tip_flap=moved[..., half - 2],
        tip_lag=moved[..., -2],
        flap_angle=moved[..., 1],
        lag_angle=moved[..., half + 1],
        slope=slopes.max(axis=(-2, -1)),
        left_out=_left_out(air, beam.pivot_radius),
    )


def _left_out(air: SpanLoads, pivot_radius: float) -> FloatArray:
    """Parts of the rigid flap moment beyond PARTS, summed, over the mean, [...]."""
    moment = air.normal @ (air.weight * (air.radius - pivot_radius))
    parts = np.abs(np.fft.rfft(moment, axis=-1))
    beyond = 2.0 * parts[..., PARTS + 1 :].sum(axis=-1)
    return np.asarray(beyond / np.maximum(parts[..., 0], np.finfo(float).tiny))
