"""What a blade feels round a turn, as parts once, twice .. per turn, and what its rotor hands on."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.span import blade_shears, span_weights
from bladehold.rotor.tilted import TiltedSolution

FloatArray = NDArray[np.float64]

FINER = 8  # steps of the curve for each step of the load


@dataclass(frozen=True, eq=False)
class TurnHarmonics:
    """mean + sum of cosine_k cos(k psi) + sine_k sin(k psi), k = 1 .. K.

    mean - [...]; cosine, sine - [..., K], the k-th at index k - 1; all in the unit of the load.
    """

    mean: FloatArray
    cosine: FloatArray
    sine: FloatArray

    @property
    def amplitude(self) -> FloatArray:
        """Half the swing of each part, [..., K]."""
        return np.asarray(np.hypot(self.cosine, self.sine))


@dataclass(frozen=True, eq=False)
class HubLoads:
    """Loads on the hub in axes of the aircraft, [...]: forces N, moments N*m.

    forward, right, upward - forces; roll - right side down, pitch - nose up, yaw - nose right: the air's
    moment on the rotor, against its turning.
    """

    forward: FloatArray
    right: FloatArray
    upward: FloatArray
    roll: FloatArray
    pitch: FloatArray
    yaw: FloatArray


def turn_harmonics(series: ArrayLike) -> TurnHarmonics:
    """Parts of a load known at equal steps round the turn, by the discrete Fourier transform.

    Arguments: series - [..., A], at psi = 0, 2 pi / A ..; K is A // 2, and the highest part of an even A
    has a cosine only. Source: Cooley and Tukey, Mathematics of Computation 19 (1965) 297.

    >>> psi = np.arange(12) * np.pi / 6
    >>> parts = turn_harmonics(5.0 + 2.0 * np.sin(psi) - np.cos(2 * psi))
    >>> round(float(parts.mean), 9), parts.amplitude.round(9)[:3].tolist()
    (5.0, [2.0, 1.0, 0.0])
    """
    load = np.asarray(series, dtype=float)
    count = load.shape[-1]
    parts = np.fft.rfft(load, axis=-1) / count
    twice = np.full(parts.shape[-1] - 1, 2.0)
    if count % 2 == 0:
        twice[-1] = 1.0
    return TurnHarmonics(parts[..., 0].real, twice * parts[..., 1:].real, -twice * parts[..., 1:].imag)


def greatest_departure(series: ArrayLike) -> FloatArray:
    """Greatest departure from its mean of a load known at equal steps round the turn.

    Sought on the curve through the steps that carries no part above A // 2 per turn, so that a few steps do.
    Arguments: series - [..., A]. Returns max |load - mean|, [...], in the unit of the load; at least half
    the range from the least load to the greatest.
    Source: trigonometric interpolation by the discrete Fourier transform.

    >>> psi = np.arange(12) * np.pi / 6
    >>> round(float(greatest_departure(5.0 + 2.0 * np.sin(psi - 0.1) - np.cos(2 * psi))), 2)
    2.99
    """
    load = np.asarray(series, dtype=float)
    return np.asarray(np.abs(_finer(load - load.mean(axis=-1, keepdims=True))).max(axis=-1))


def _finer(load: FloatArray) -> FloatArray:
    """The curve through equal steps round the turn that carries no part above A // 2 per turn, at FINER times
    as many steps.
    """
    count = load.shape[-1]
    parts = np.fft.rfft(load, axis=-1)
    if count % 2 == 0:
        parts[..., -1] *= 0.5  # on the finer steps this part has a twin
    return np.asarray(FINER * np.fft.irfft(parts, n=FINER * count, axis=-1))


def second_cycle(series: ArrayLike) -> FloatArray:
    """Half the range of the second cycle of a load within a turn: of its second crest to its second trough.

    A load with parts of twice a turn passes through a second crest and trough, sought on the curve of
    `greatest_departure`. Rainflow takes the greatest and the least as one cycle and these two as another;
    with more of them this is no less than its second cycle.
    Arguments: series - [..., A], at equal steps round the turn. Returns [...], 0 with one crest, in the unit
    of the load. Errors: ValueError for a load that is not a number.
    Source: rainflow of a closed history, ASTM E1049-85 (2017), 5.4.5, for two crests.

    >>> psi = np.arange(12) * np.pi / 6
    >>> second_cycle([np.sin(psi), np.cos(psi) + 2.0 * np.cos(2 * psi)]).round(3).tolist()
    [0.0, 1.531]
    """
    given = np.asarray(series, dtype=float)
    if np.any(np.isnan(given)):
        raise ValueError("the load round the turn is not a number somewhere")
    # Rounded, so that the ripple of arithmetic on an even load is no crest.
    close = 1e-12 * np.abs(given).max(axis=-1, keepdims=True)
    load = _finer(given)
    load = np.where(close > 0.0, np.round(load / np.where(close > 0.0, close, 1.0)) * close, 0.0)
    before, after = np.roll(load, 1, axis=-1), np.roll(load, -1, axis=-1)
    # Of several equal neighbours the last one is the crest or the trough.
    crests = np.where((load >= before) & (load > after), load, -np.inf)
    troughs = np.where((load <= before) & (load < after), load, np.inf)
    high, low = np.sort(crests, axis=-1)[..., -2], np.sort(troughs, axis=-1)[..., 1]
    two = np.isfinite(high) & np.isfinite(low)
    return np.asarray(
        np.where(two, np.maximum(0.5 * (np.where(two, high, 0.0) - np.where(two, low, 0.0)), 0.0), 0.0)
    )


def all_blades(series: ArrayLike, blades: int) -> FloatArray:
    """Sum over equally spaced blades of a load known round the turn for one, [..., A].

    Only the parts of multiples of the number of blades per turn are left, each times that number.
    Arguments: series - [..., A], of one blade, at equal steps of psi; blades - B.
    Returns the sum when the first blade stands at psi. Source: Johnson, Helicopter Theory (1980), ch. 8.

    >>> psi = np.arange(12) * np.pi / 6
    >>> all_blades(5.0 + 2.0 * np.sin(psi) - np.cos(2 * psi), 2).round(6)[:4].tolist()
    [8.0, 9.0, 11.0, 12.0]
    """
    load = np.asarray(series, dtype=float)
    parts = np.fft.rfft(load, axis=-1)
    kept = np.arange(parts.shape[-1]) % blades == 0
    return np.asarray(np.fft.irfft(np.where(kept, blades * parts, 0.0), n=load.shape[-1], axis=-1))


def thrust_over_turn(solution: TiltedSolution) -> FloatArray:
    """Thrust (N) of the whole rotor when its first blade stands at each azimuth, [..., A].

    Arguments: solution - of a tilted rotor. Source: own, sum of the blades' loads.
    """
    return all_blades(blade_shears(solution, 0.0).normal, solution.blades)


def torque_over_turn(solution: TiltedSolution) -> FloatArray:
    """Torque (N*m) of the whole rotor when its first blade stands at each azimuth, [..., A].

    Arguments: solution - of a tilted rotor. Source: own, sum of the blades' loads.
    """
    arm = span_weights(solution.geometry) * solution.geometry.r
    return all_blades(solution.tangential_load @ arm, solution.blades)


def hub_loads(solution: TiltedSolution, bearing: ArrayLike = 0.0) -> HubLoads:
    """Mean loads on the hub in axes of the aircraft: forward, right, and up along the rotor's axis.

    Arguments: solution - of a tilted rotor, [...]; bearing - from which the wind across the axis comes,
    rad, 0 from ahead, growing to the right; broadcasts with [...].
    Source: own, rotation of the wind's axes.
    """
    towards, beside = np.cos(bearing), np.sin(bearing)
    drag, side = solution.drag_force, solution.side_force
    roll, pitch = solution.rolling_moment, solution.pitching_moment
    return HubLoads(
        forward=np.asarray(-drag * towards - side * beside),
        right=np.asarray(side * towards - drag * beside),
        upward=solution.thrust,
        roll=np.asarray(roll * towards - pitch * beside),
        pitch=np.asarray(pitch * towards + roll * beside),
        yaw=np.asarray(solution.spin * solution.torque),
    )
