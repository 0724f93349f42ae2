"""Natural frequencies and shapes of a turning blade over rotation speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.beam import CLAMPED, BeamMatrices, BladeBeam, beam_matrices, stiffened

FloatArray = NDArray[np.float64]

MODES = 6
_SPARE = 3  # shapes kept beyond those asked for, at either end of the speeds; more cost time
_ROUNDS = 5  # of inverse iteration
_SHIFT = 1e-11  # of the sum of all eigenvalues, far below the lowest of a blade that is held


@dataclass(frozen=True, eq=False)
class BladeModes:
    """Modes at rotation speeds [...], N modes in order of frequency.

    speed - Omega, rad/s, [...]; frequency - Hz, [..., N]; nodes - [K], m from the pivot; flap, lag - shapes,
    [..., N, K], upward and against the turning, of largest deflection 1; flap_energy - of the mode's kinetic
    energy that is in flap, [..., N]: above one half it is a flap mode.
    """

    speed: FloatArray
    frequency: FloatArray
    nodes: FloatArray
    flap: FloatArray
    lag: FloatArray
    flap_energy: FloatArray


def blade_modes(matrices: BeamMatrices, speed: ArrayLike, count: int = MODES) -> BladeModes:
    """Modes of a turning blade: (K_elastic + Omega^2 K_centrifugal) q = omega^2 M q.

    M does not change with speed: one Cholesky factor makes the problem an ordinary symmetric one. It is
    solved in a basis for all speeds, the lowest shapes (count + 3) at the least and at the greatest, found by
    inverse iteration. Its error is far below that of the elements (1e-5 where Omega is six times the first
    flap frequency at rest).
    Arguments: matrices - BeamMatrices; speed - Omega, rad/s, [...]; count - N, modes wanted.
    Returns BladeModes. Raises ValueError where more modes are wanted than the beam has.
    Validity: as for `beam_matrices`; a mode that turns about a hinge at rest has the frequency 0.
    Source: Rayleigh-Ritz, inverse iteration (Bathe, Finite Element Procedures, 1996, ch. 11); Johnson,
    Helicopter Theory (1980), chapter 9.
    """
    omega = np.asarray(speed, dtype=float)
    size = matrices.free.size
    if not 0 < count <= size:
        raise ValueError(f"count must lie between 1 and {size}, got {count}")
    factor = np.asarray(np.linalg.cholesky(matrices.kept(matrices.mass)), dtype=float)
    standing, turning = (
        _reduced(factor, matrices.kept(part)) for part in (matrices.elastic, matrices.centrifugal)
    )
    basis = _basis(standing, turning, omega, min(count + _SPARE, size))
    standing, turning = (basis.T @ part @ basis for part in (standing, turning))
    squares, vectors = np.linalg.eigh(standing + (omega**2)[..., np.newaxis, np.newaxis] * turning)
    free = np.linalg.solve(factor.T, basis) @ vectors[..., :count]
    shapes = np.zeros((*omega.shape, matrices.mass.shape[0], count))
    shapes[..., matrices.free, :] = free
    half = shapes.shape[-2] // 2
    # The vectors have unit modal mass, so that the part in flap is the share.
    share = (shapes[..., :half, :] * (matrices.mass[:half, :half] @ shapes[..., :half, :])).sum(axis=-2)
    flap, lag = np.swapaxes(shapes[..., 0:half:2, :], -1, -2), np.swapaxes(shapes[..., half::2, :], -1, -2)
    both = np.concatenate([flap, lag], axis=-1)
    largest = np.take_along_axis(both, np.abs(both).argmax(axis=-1)[..., np.newaxis], axis=-1)
    # A frequency of exactly 0 comes out as a square of either sign, as small as rounding.
    return BladeModes(
        speed=omega,
        frequency=np.sqrt(np.maximum(squares[..., :count], 0.0)) / (2.0 * np.pi),
        nodes=matrices.nodes,
        flap=flap / largest,
        lag=lag / largest,
        flap_energy=share,
    )


def _reduced(factor: FloatArray, matrix: FloatArray) -> FloatArray:
    """L^-1 A L^-T."""
    half = np.linalg.solve(factor, matrix)
    return np.asarray(np.linalg.solve(factor, half.T))


def _basis(standing: FloatArray, turning: FloatArray, omega: FloatArray, count: int) -> FloatArray:
    """Orthonormal columns near the lowest `count` vectors at the least and at the greatest speed."""
    size = standing.shape[0]
    start = np.random.default_rng(1).standard_normal((size, count))  # any will do, but always the same
    found = []
    for speed in (np.min(omega), np.max(omega)):
        stiff = standing + speed**2 * turning
        # A shift keeps a blade that is free to turn about a hinge at rest from being singular.
        shifted = stiff + _SHIFT * np.trace(stiff) * np.eye(size)
        lowest = start
        for _ in range(_ROUNDS):
            lowest = np.linalg.qr(np.linalg.solve(shifted, lowest))[0]
        found.append(lowest)
    return np.asarray(np.linalg.qr(np.concatenate(found, axis=-1))[0])


def tapped_stiffness(beam: BladeBeam, frequency: float) -> tuple[BladeBeam, float]:
    """The beam with the bending stiffness that a tap test proves, and the factor on that of the sections.

    Both stiffnesses are multiplied by (measured / computed)^2: at rest the frequency of a clamped beam grows
    with the root of its stiffness. The lag stiffness is taken along, since both rest on the same modulus.
    Arguments: beam - BladeBeam from its sections; frequency - Hz, first flap frequency of the blade clamped
    at its pivot, at rest. Raises ValueError for a frequency that is not positive.
    Source: own, similarity of the beam's equation.
    """
    if not 0.0 < frequency < np.inf:
        raise ValueError(f"frequency {frequency:g} Hz must be positive")
    found = blade_modes(beam_matrices(beam, CLAMPED), 0.0)
    first = int(np.argmax(found.flap_energy > 0.5))
    factor = (frequency / float(found.frequency[first])) ** 2
    return stiffened(beam, factor), factor
