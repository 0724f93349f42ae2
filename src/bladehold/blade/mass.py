"""The spread of a blade's mass along its span, made to agree with the scale and the balance."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

GREATEST_TAPER = 0.5
"""Largest change of a section's density at root or tip against the mean that is believed: own judgement."""


class BalanceError(ValueError):
    """Weighed mass and measured balance point do not go with the sections given.

    Attributes, m from the pivot: measured - the balance point measured; nearest - the one nearest to it that
    the sections can have within the greatest taper; from_sections - the one they have as given.
    """

    def __init__(self, measured: float, nearest: float, from_sections: float, greatest_taper: float) -> None:
        """Keep the numbers, so that faces can word their own message."""
        super().__init__(measured, nearest, from_sections, greatest_taper)
        self.measured = measured
        self.nearest = nearest
        self.from_sections = from_sections
        self.greatest_taper = greatest_taper

    def __str__(self) -> str:
        """One sentence with all numbers."""
        return (
            f"balance point {self.measured:.4g} m: chord and thickness put it at {self.from_sections:.4g} m, "
            f"and density changing along the span by up to {100 * self.greatest_taper:.0f} % at the ends "
            f"moves it no nearer than {self.nearest:.4g} m"
        )


@dataclass(frozen=True, eq=False)
class MassSpread:
    """line_mass - kg/m at the stations; factor - it over the line mass given, at the stations.

    scale - the mean density over the one given; taper - change of density from the mean to the tip, over
    the mean; balance_point - m from the pivot; flap_inertia - moment of inertia about the pivot, kg*m^2.
    """

    line_mass: FloatArray
    factor: FloatArray
    scale: float
    taper: float
    balance_point: float
    flap_inertia: float


def span_moments(stations: ArrayLike, line_mass: ArrayLike) -> tuple[FloatArray, FloatArray, FloatArray]:
    """Mass (kg), its first (kg*m) and its second moment (kg*m^2) about the pivot, all [...].

    Exact integrals of a line mass that runs straight between stations.
    Arguments: stations - [S], m from the pivot, increasing; line_mass - [..., S], kg/m.
    Source: integrals of x^n times a straight line, by Simpson's rule (n <= 2 exactly).

    >>> [round(float(v), 6) for v in span_moments([0.0, 3.0], [2.0, 2.0])]
    [6.0, 9.0, 18.0]
    """
    x, line = np.asarray(stations, dtype=float), np.asarray(line_mass, dtype=float)
    step, middle = np.diff(x), 0.5 * (x[1:] + x[:-1])
    between = 0.5 * (line[..., 1:] + line[..., :-1])

    def moment(power: int) -> FloatArray:
        ends = line[..., :-1] * x[:-1] ** power + line[..., 1:] * x[1:] ** power
        return np.asarray(((ends + 4.0 * between * middle**power) * step / 6.0).sum(axis=-1))

    return moment(0), moment(1), moment(2)


def fit_mass(
    stations: ArrayLike,
    line_mass: ArrayLike,
    mass: float,
    balance_point: float | None = None,
    greatest_taper: float = GREATEST_TAPER,
) -> MassSpread:
    """Scale the line mass of a blade to its weighed mass, and taper it to its balance point.

    Density is multiplied by scale (1 + taper (2 x / L - 1)), with x from the pivot and L the blade: the two
    numbers follow from mass and first moment, linear equations. Without a balance point the taper is 0.
    Arguments: stations - [S], m from the pivot, from root to tip, increasing; line_mass - [S], kg/m, from
    the sections; mass - weighed, kg; balance_point - measured, m from the pivot; greatest_taper - largest
    taper accepted, either way, below 1.
    Returns a MassSpread.
    Raises BalanceError where the taper would exceed its bound; ValueError for a mass that is not positive.
    Source: own, the least change in one number that meets both measurements.
    """
    x, line = np.asarray(stations, dtype=float), np.asarray(line_mass, dtype=float)
    if not mass > 0.0:
        raise ValueError(f"mass {mass:g} kg must be positive")
    way = 2.0 * x / x[-1] - 1.0
    even, tilted = span_moments(x, line), span_moments(x, line * way)

    def balance(taper: float) -> float:
        return float((even[1] + taper * tilted[1]) / (even[0] + taper * tilted[0]))

    taper = 0.0
    if balance_point is not None:
        lever = tilted[1] - balance_point * tilted[0]
        taper = float((balance_point * even[0] - even[1]) / lever)
        if not (abs(taper) <= greatest_taper and np.isfinite(taper)):
            ends = balance(-greatest_taper), balance(greatest_taper)
            nearest = float(np.clip(balance_point, min(ends), max(ends)))
            raise BalanceError(balance_point, nearest, balance(0.0), greatest_taper)
    scale = mass / float(even[0] + taper * tilted[0])
    factor = scale * (1.0 + taper * way)
    _, first, second = span_moments(x, line * factor)
    return MassSpread(line * factor, factor, scale, taper, float(first) / mass, float(second))
