"""One load case: all six root components of a blade at the same instants, and how often they recur.

A case that repeats every turn and one that happens twice a flight have one form: a closed block of instants
in order, and the number of times per flight that it is passed through. Counting of cycles needs no more.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

AZIMUTHS = 72


@dataclass(frozen=True, eq=False)
class RootComponents:
    """Loads of one blade on its pivot, along and across the blade, all of one shape.

    centrifugal - outward, N; normal_shear - with the thrust, N; in_plane_shear - backward, with the drag, N;
    flap - moment that lifts the blade, lag - moment that drives it back, feathering - moment about its
    length, leading edge up, N*m.
    """

    centrifugal: FloatArray
    normal_shear: FloatArray
    in_plane_shear: FloatArray
    flap: FloatArray
    lag: FloatArray
    feathering: FloatArray

    @classmethod
    def of(
        cls,
        centrifugal: ArrayLike = 0.0,
        normal_shear: ArrayLike = 0.0,
        in_plane_shear: ArrayLike = 0.0,
        flap: ArrayLike = 0.0,
        lag: ArrayLike = 0.0,
        feathering: ArrayLike = 0.0,
    ) -> RootComponents:
        """The components, those not given zero, broadcast to one shape."""
        given = (centrifugal, normal_shear, in_plane_shear, flap, lag, feathering)
        return cls(*np.broadcast_arrays(*(np.asarray(value, dtype=float) for value in given)))

    def each(self, change: Callable[..., FloatArray], *others: RootComponents) -> RootComponents:
        """The outcome of one function for every component, with the same component of the others."""
        return RootComponents(
            *(
                np.asarray(change(*(getattr(item, field.name) for item in (self, *others))))
                for field in fields(RootComponents)
            )
        )

    def plus(self, other: RootComponents) -> RootComponents:
        """The sum, component by component, broadcasting."""
        return self.each(np.add, other)

    def times(self, factor: ArrayLike) -> RootComponents:
        """All components times a factor, broadcasting."""
        return self.each(lambda value: value * np.asarray(factor, dtype=float))


@dataclass(frozen=True, eq=False)
class LoadCase:
    """A block of root loads and how often it is passed through.

    name - of the case; history - [..., N], N instants in order, the last followed by the first; repeats - how
    often per flight the block is passed through, [...]; basis - source and assumptions, one sentence.
    """

    name: str
    history: RootComponents
    repeats: FloatArray
    basis: str

    @property
    def peak(self) -> RootComponents:
        """Of each component the value furthest from zero, with its sign, [...]."""
        return self.history.each(_furthest)

    @property
    def span(self) -> RootComponents:
        """Of each component the largest less the smallest value, [...]."""
        return self.history.each(lambda values: np.ptp(values, axis=-1))


def _furthest(values: FloatArray) -> FloatArray:
    at = np.abs(values).argmax(axis=-1)[..., np.newaxis]
    return np.asarray(np.take_along_axis(values, at, axis=-1)[..., 0])


def sequence(*instants: RootComponents) -> RootComponents:
    """Instants [...] in order as one history [..., N].

    Arguments: instants - broadcasting. Source: own, no formula.
    """
    return instants[0].each(lambda *values: np.stack(np.broadcast_arrays(*values), axis=-1), *instants[1:])


def event_case(
    name: str, history: RootComponents, events: ArrayLike, basis: str, cycles: ArrayLike = 1.0
) -> LoadCase:
    """A case that happens so many times a flight.

    Arguments: name, basis - texts; history - [..., N], one closed course; events - per flight, cycles - times
    the course is passed through in one event, broadcasting with [...].
    Errors: ValueError when there are fewer than no events. Source: own, a count.
    """
    repeats = np.asarray(events, dtype=float) * np.asarray(cycles, dtype=float)
    if np.any(~(repeats >= 0.0)):
        raise ValueError(f"events of {name!r} must be 0 or more")
    return LoadCase(name, history, repeats, basis)


def turn_case(
    name: str,
    mean: RootComponents,
    cosine: RootComponents,
    sine: RootComponents,
    share: ArrayLike,
    flight_time: ArrayLike,
    speed: ArrayLike,
    basis: str,
    azimuths: int = AZIMUTHS,
) -> LoadCase:
    """A case that repeats every turn: mean + sum of cosine_k cos(k psi) + sine_k sin(k psi), k = 1 .. K.

    Arguments: name, basis - texts; mean - [...]; cosine, sine - [..., K]; share - of the flight time spent in
    the case, 0 to 1; flight_time - s; speed - Omega, rad/s, the three broadcasting with [...]; azimuths -
    instants in the block, which finds peaks to 1 - cos(pi K / azimuths).
    Errors: ValueError when share is not from 0 to 1. Source: Fourier sum; turns are share t Omega / (2 pi).
    """
    part = np.asarray(share, dtype=float)
    if not np.all((part >= 0.0) & (part <= 1.0)):
        raise ValueError(f"share of {name!r} must be from 0 to 1")
    psi = 2.0 * np.pi * np.arange(azimuths) / azimuths

    def course(middle: FloatArray, even: FloatArray, odd: FloatArray) -> FloatArray:
        order = np.arange(1, even.shape[-1] + 1)[:, np.newaxis]
        return middle[..., np.newaxis] + even @ np.cos(order * psi) + odd @ np.sin(order * psi)

    repeats = part * np.asarray(flight_time, dtype=float) * np.asarray(speed, dtype=float) / (2.0 * np.pi)
    return LoadCase(name, mean.each(course, cosine, sine), np.asarray(repeats), basis)
