"""Parts 0 .. 6 per turn of series known at equal steps round the turn, and back."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

PARTS = 6
"""Highest part per turn that is followed."""


def turn_parts(series: NDArray[Any]) -> ComplexArray:
    """Complex parts X_k of series [..., A, S], so that they are the real part of sum X_k e^(i k psi).

    Arguments: series - at psi = 0, 2 pi / A ..; A above 2 PARTS. Returns [..., PARTS + 1, S].
    Source: discrete Fourier transform.

    >>> psi = np.arange(16) * np.pi / 8
    >>> turn_parts((3.0 + 2.0 * np.sin(psi) - np.cos(2 * psi))[:, np.newaxis])[:3, 0].round(9).tolist()
    [(3+0j), (-0-2j), (-1+0j)]
    """
    count = series.shape[-2]
    twice = np.where(np.arange(PARTS + 1) == 0, 1.0, 2.0)[:, np.newaxis] / count
    turns = twice * _turns(count).T
    return np.asarray(turns.real @ series - 1j * (turns.imag @ series))


def turn_series(parts: ComplexArray, count: int) -> FloatArray:
    """The series [..., count, S] whose parts [..., PARTS + 1, S] are given; as for `turn_parts`.

    Arguments: parts - complex; count - steps round the turn.
    """
    turns = _turns(count)
    return np.asarray(turns.real @ parts.real - turns.imag @ parts.imag)


def _turns(count: int) -> ComplexArray:
    """e^(i k psi), [count, PARTS + 1], at equal steps of psi."""
    psi = 2.0 * np.pi * np.arange(count) / count
    return np.asarray(np.exp(1j * psi[:, np.newaxis] * np.arange(PARTS + 1)))
