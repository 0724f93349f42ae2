"""Section polars: lift and drag coefficient against angle of attack, Reynolds and Mach number.

A polar is used in two steps. `polar.at(reynolds, mach)` looks up, once per blade
element, where it stands between the tables; the slice it returns then answers
`slice(alpha) -> (cl, cd)` as often as an iteration asks. Along a blade, Reynolds
and Mach number follow from the speed of turning alone, so they stay put while the
inflow is being found.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.rotor.slices import (
    TABLE_POINTS,
    AnalyticSlice,
    BlendedSlice,
    PolarSlice,
    TableSlice,
    interval_of,
)
from bladehold.validity import Range

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.intp]

# The ends are those of each section's own tables.
REYNOLDS_RANGE = Range(
    "section Reynolds number",
    None,
    None,
    "",
    "the nearest table is used; below it real lift is smaller and drag larger",
    "computed section tables",
)
MACH_RANGE = Range(
    "section Mach number",
    0.0,
    0.65,
    "",
    "the nearest table is used; real drag is larger",
    "computed section tables",
)
ANY_REYNOLDS = Range("section Reynolds number", None, None, "", "", "one curve for all")
ANY_MACH = Range("section Mach number", None, None, "", "", "one curve for all")
CONFIDENCE_RANGE = Range(
    "confidence of the section data, weighted with the load",
    0.5,
    None,
    "",
    "the section lies outside what the tables' method was trained on; measure or calibrate",
    "confidence reported by the airfoil library",
)


@dataclass(frozen=True, eq=False)
class PolarCheck:
    """How far a polar could be trusted at the points asked.

    beyond_reynolds, beyond_mach - True where that number lay beyond the tables; confidence - 0 to 1,
    the trust the source of the data puts in it; reynolds_range, mach_range - the narrowest of the
    sections asked.
    """

    beyond_reynolds: BoolArray
    beyond_mach: BoolArray
    confidence: FloatArray
    reynolds_range: Range
    mach_range: Range


class Polar(Protocol):
    """What a blade needs to know of its section."""

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """Section at fixed Reynolds and Mach numbers (any equal shapes), a function of alpha (rad)."""

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """Trust in the values at these points (equal shapes; alpha in rad)."""


@dataclass(frozen=True, eq=False)
class AnalyticPolar:
    """A polar in closed form, the same at every Reynolds and Mach number.

    cl, cd - functions of the angle of attack (array, rad).

    >>> plate = AnalyticPolar(cl=lambda a: np.sin(2 * a), cd=lambda a: 0.01 + np.sin(a) ** 2)
    >>> lift, drag = plate.at(np.array(1e5), np.array(0.1))(np.array(0.0))
    >>> float(lift), float(drag)
    (0.0, 0.01)
    """

    cl: Callable[[FloatArray], FloatArray]
    cd: Callable[[FloatArray], FloatArray]

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """The closed form itself, a function of alpha (rad)."""
        return AnalyticSlice(self.cl, self.cd)

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """A closed form is taken at its word everywhere."""
        shape = np.broadcast_shapes(np.shape(reynolds), np.shape(mach), np.shape(alpha))
        nowhere = np.zeros(shape, dtype=bool)
        return PolarCheck(nowhere, nowhere, np.ones(shape), ANY_REYNOLDS, ANY_MACH)


@dataclass(frozen=True, eq=False)
class TabulatedPolar:
    """A polar from tables, smooth in alpha, linear in log Reynolds and in Mach squared.

    name - of the section; reynolds - [R], increasing; mach - [M], increasing; rows -
    [R * M * 360, 8], the cubic of each one-degree interval as `cubic_rows` makes it (four numbers
    for lift, four for drag); confidence - [R, 360]; reynolds_range, mach_range - the ends within
    which the tables hold.

    Between Mach numbers the square is the coordinate because the Prandtl-Glauert factor is nearly
    linear in it. Beyond the ends of the tables the nearest one is used.
    """

    name: str
    reynolds: FloatArray
    mach: FloatArray
    rows: FloatArray
    confidence: FloatArray
    reynolds_range: Range
    mach_range: Range

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """Section at fixed Reynolds and Mach numbers (any equal shapes), a function of alpha (rad)."""
        low_r, high_r, share_r = _between(np.log(self.reynolds), np.log(np.maximum(reynolds, 1.0)))
        low_m, high_m, share_m = _between(self.mach**2, np.square(mach))
        first, second = low_r * self.mach.size, high_r * self.mach.size
        starts = [first + low_m, first + high_m, second + low_m, second + high_m]
        less_r, less_m = 1.0 - share_r, 1.0 - share_m
        shares = [less_r * less_m, less_r * share_m, share_r * less_m, share_r * share_m]
        return TableSlice(self.rows, TABLE_POINTS * np.stack(starts), np.stack(shares))

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """Trust in the values at these points (equal shapes; alpha in rad)."""
        low_r, high_r, share_r = _between(np.log(self.reynolds), np.log(np.maximum(reynolds, 1.0)))
        nearest = np.where(share_r < 0.5, low_r, high_r)
        confidence = self.confidence[nearest, interval_of(alpha)[0]]
        return PolarCheck(
            beyond_reynolds=_outside(self.reynolds_range, reynolds),
            beyond_mach=_outside(self.mach_range, mach),
            confidence=confidence,
            reynolds_range=self.reynolds_range,
            mach_range=self.mach_range,
        )


@dataclass(frozen=True, eq=False)
class BlendedPolar:
    """Sections that change along the span: at each station a weighted sum of polars.

    polars - one or more; weights - [S, number of polars], each row summing to 1. The last axis of
    every array handed in is the station axis.
    """

    polars: tuple[Polar, ...]
    weights: FloatArray

    def at(self, reynolds: FloatArray, mach: FloatArray) -> PolarSlice:
        """Sections at fixed Reynolds and Mach numbers (shape [..., S]), a function of alpha (rad)."""
        parts = tuple(polar.at(reynolds, mach) for polar in self.polars)
        return BlendedSlice(parts, np.broadcast_to(self.weights, (*np.shape(reynolds), len(parts))))

    def check(self, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> PolarCheck:
        """Trust in the values at these points (shape [..., S]): each section judged where it is used."""
        parts = [polar.check(reynolds, mach, alpha) for polar in self.polars]
        used = self.weights.T > 0.0
        return PolarCheck(
            beyond_reynolds=np.any(
                [u & part.beyond_reynolds for u, part in zip(used, parts, strict=True)], axis=0
            ),
            beyond_mach=np.any([u & part.beyond_mach for u, part in zip(used, parts, strict=True)], axis=0),
            confidence=np.min(
                [np.where(u, part.confidence, 1.0) for u, part in zip(used, parts, strict=True)], axis=0
            ),
            reynolds_range=_narrowest([part.reynolds_range for part in parts]),
            mach_range=_narrowest([part.mach_range for part in parts]),
        )


def cubic_rows(values: ArrayLike) -> FloatArray:
    """Monotone piecewise cubics through periodic values on a uniform grid, [..., N] -> [..., N, 4].

    On interval i, with 0 <= t < 1 the way through it, y = c0 + c1 t + c2 t^2 + c3 t^3. The slope at
    a point is the harmonic mean of the neighbouring differences, or 0 where they differ in sign, so
    that no value between two points leaves their bounds: drag stays positive, and a sharp stall does
    not ring.
    Arguments: values - [..., N], one period. Returns the coefficients.
    Source: Fritsch and Butland, SIAM J. Sci. Stat. Comput. 5 (1984) 300, for equal intervals.

    >>> cubic_rows([0.0, 1.0, 0.0, 1.0])[0].tolist()
    [0.0, 0.0, 3.0, -2.0]
    """
    y = np.asarray(values, dtype=float)
    difference = np.roll(y, -1, axis=-1) - y
    before = np.roll(difference, 1, axis=-1)
    product = difference * before
    total = np.where(product > 0.0, difference + before, 1.0)
    slope = np.where(product > 0.0, 2.0 * product / total, 0.0)
    after = np.roll(slope, -1, axis=-1)
    return np.stack(
        [y, slope, 3.0 * difference - 2.0 * slope - after, slope + after - 2.0 * difference], axis=-1
    )


def tabulated_polar(
    name: str,
    cl: ArrayLike,
    cd: ArrayLike,
    *,
    reynolds: ArrayLike,
    mach: ArrayLike,
    confidence: ArrayLike,
    reynolds_range: Range | None = None,
    mach_range: Range | None = None,
) -> TabulatedPolar:
    """Polar from tables on the whole circle.

    Arguments: name - of the section; cl, cd - [R, M, 360], one value per degree from -180 degrees;
    reynolds - [R]; mach - [M]; confidence - [R, 360], 0 to 1; reynolds_range, mach_range - where the
    tables hold, default between their ends. Raises ValueError naming the argument that cannot be.
    """
    r, m = np.atleast_1d(np.asarray(reynolds, dtype=float)), np.atleast_1d(np.asarray(mach, dtype=float))
    shape = (r.size, m.size, TABLE_POINTS)
    lift, drag = np.asarray(cl, dtype=float), np.asarray(cd, dtype=float)
    trust = np.asarray(confidence, dtype=float)
    for argument, array, wanted in (
        ("cl", lift, shape),
        ("cd", drag, shape),
        ("confidence", trust, (r.size, TABLE_POINTS)),
    ):
        if array.shape != wanted:
            raise ValueError(f"{argument} of section {name} has shape {array.shape}, expected {wanted}")
    for argument, axis in (("reynolds", r), ("mach", m)):
        if np.any(np.diff(axis) <= 0.0):
            raise ValueError(f"{argument} of section {name} must increase")
    rows = np.concatenate([cubic_rows(lift), cubic_rows(drag)], axis=-1).reshape(-1, 8)
    return TabulatedPolar(
        name=name,
        reynolds=r,
        mach=m,
        rows=rows,
        confidence=trust,
        reynolds_range=reynolds_range or replace(REYNOLDS_RANGE, low=float(r[0]), high=float(r[-1])),
        mach_range=mach_range or replace(MACH_RANGE, high=float(m[-1])),
    )


def _narrowest(ranges: list[Range]) -> Range:
    """The first of the ranges, with the highest low end and the lowest high end of all."""
    lows = [bounds.low for bounds in ranges if bounds.low is not None]
    highs = [bounds.high for bounds in ranges if bounds.high is not None]
    return replace(ranges[0], low=max(lows, default=None), high=min(highs, default=None))


def _outside(bounds: Range, value: FloatArray) -> BoolArray:
    """True where the value lies beyond the bounds."""
    low = -np.inf if bounds.low is None else bounds.low
    high = np.inf if bounds.high is None else bounds.high
    return (value < low) | (value > high)


def _between(grid: FloatArray, value: FloatArray) -> tuple[IntArray, IntArray, FloatArray]:
    """Neighbouring grid points of each value and the share of the upper one, clamped at the ends."""
    place = np.interp(value, grid, np.arange(grid.size, dtype=float))
    low = np.minimum(place.astype(np.intp), max(grid.size - 2, 0))
    return low, np.minimum(low + 1, grid.size - 1), place - low
