"""What flapping does in the plane of turning: mass that moves inwards is pulled forward."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bladehold.blade.beam import BeamMatrices, gauss_points, shape_rows
from bladehold.blade.harmonics import PARTS, turn_parts, turn_series

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]


def coriolis_parts(matrices: BeamMatrices, bent: ComplexArray, speed: FloatArray, count: int) -> ComplexArray:
    """Parts of the Coriolis load of flapping on every coordinate, [..., PARTS + 1, D]; all of it in lag.

    A blade that cannot stretch is drawn in by u = 1/2 integral of z'^2 from the root. Per length the force
    against the turning is 2 m Omega du/dt, du/dt = - Omega times the integral of z' dz'/dpsi; for a rigid
    blade its moment is the known - 2 I Omega^2 beta dbeta/dpsi.
    Arguments: matrices - BeamMatrices; bent - parts of deflection with the upward angle, [..., PARTS + 1, D];
    speed - Omega, rad/s, [...]; count - steps round the turn.
    Validity: the way back, of lagging on flapping, is left out: it is smaller by the lag deflection over the
    radius. Source: Johnson, Helicopter Theory (1980), chapter 5 (Coriolis moment of flapping).
    """
    beam, nodes = matrices.beam, matrices.nodes
    half = 2 * nodes.size
    places, weight = gauss_points(nodes, 2)
    slope, value = shape_rows(nodes, places, 1), shape_rows(nodes, places, 0)
    order = np.arange(PARTS + 1)[:, np.newaxis]
    flap = bent[..., :half]
    tilt = turn_series(flap, count) @ slope.T
    tilting = turn_series(1j * order * flap, count) @ slope.T
    drawn = weight * tilt * tilting
    inwards = np.cumsum(drawn, axis=-1) - 0.5 * drawn  # up to each place; the whole of it to the tip
    line = weight * np.interp(places, beam.stations, beam.line_mass)
    load = (inwards * line) @ value
    load[..., -2] += drawn.sum(axis=-1) * beam.tip_mass
    parts = -2.0 * (speed**2)[..., np.newaxis, np.newaxis] * turn_parts(load)
    return np.concatenate([np.zeros_like(parts), parts], axis=-1)
