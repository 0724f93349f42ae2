"""A section at fixed Reynolds and Mach numbers: lift and drag against the angle of attack, quickly."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

TABLE_POINTS = 360  # one per degree, the first at -180 degrees


class PolarSlice(Protocol):
    """A polar at fixed Reynolds and Mach numbers, one pair for each element of a shape."""

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Lift and drag coefficient at alpha (rad), an array that broadcasts with the shape."""

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """Lift and drag coefficient at alpha (rad, of the full shape), and a slice quicker near it."""

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only, counted along the flattened shape."""


@dataclass(frozen=True, eq=False)
class AnalyticSlice:
    """A closed form, the same for every element."""

    cl: Callable[[FloatArray], FloatArray]
    cd: Callable[[FloatArray], FloatArray]

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Lift and drag coefficient at alpha."""
        return self.cl(alpha), self.cd(alpha)

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, and a slice quicker near alpha."""
        return *self(alpha), self

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only."""
        return self


@dataclass(frozen=True, eq=False)
class TableSlice:
    """Where each element [...] stands between four tables: their first rows and shares, [4, ...]."""

    rows: FloatArray
    starts: IntArray
    shares: FloatArray

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Lift and drag coefficient at alpha."""
        interval, within = interval_of(alpha)
        return _values(self.cubics(interval), within)

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, and a slice quicker near alpha."""
        interval, within = interval_of(alpha)
        cubics = self.cubics(interval)
        return *_values(cubics, within), NearbySlice(self, interval, cubics)

    def cubics(self, interval: IntArray) -> FloatArray:
        """The mean of the four tables' cubics on an interval for each element, [..., 8]."""
        cubics = self.rows.take(self.starts[0] + interval, axis=0)
        cubics *= self.shares[0][..., np.newaxis]
        for start, share in zip(self.starts[1:], self.shares[1:], strict=True):
            rows = self.rows.take(start + interval, axis=0)
            rows *= share[..., np.newaxis]
            cubics += rows
        return np.asarray(cubics)

    def subset(self, index: IntArray) -> TableSlice:
        """The same for some elements only."""
        return TableSlice(
            self.rows, self.starts.reshape(4, -1)[:, index], self.shares.reshape(4, -1)[:, index]
        )


@dataclass(frozen=True, eq=False)
class NearbySlice:
    """A table slice with the cubics that its elements needed last, [..., 8]."""

    table: TableSlice
    interval: IntArray
    cubics: FloatArray

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Lift and drag coefficient at alpha."""
        lift, drag, _ = self.follow(alpha)
        return lift, drag

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, and a slice quicker near alpha."""
        interval, within = interval_of(alpha)
        moved = np.flatnonzero(interval != self.interval)
        if moved.size == 0:
            return *_values(self.cubics, within), self
        if 2 * moved.size > interval.size:
            return self.table.follow(alpha)
        cubics = self.cubics.copy()
        cubics.reshape(-1, 8)[moved] = self.table.subset(moved).cubics(interval.ravel()[moved])
        return *_values(cubics, within), NearbySlice(self.table, interval, cubics)

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only."""
        cubics = self.cubics.reshape(-1, 8)[index]
        return NearbySlice(self.table.subset(index), self.interval.ravel()[index], cubics)


@dataclass(frozen=True, eq=False)
class BlendedSlice:
    """Slices of several sections and their weights at each element, [..., sections]."""

    parts: tuple[PolarSlice, ...]
    weights: FloatArray

    def __call__(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Lift and drag coefficient at alpha."""
        both = [np.stack(part(alpha)) * self.weights[..., k] for k, part in enumerate(self.parts)]
        lift, drag = np.sum(both, axis=0)
        return lift, drag

    def follow(self, alpha: FloatArray) -> tuple[FloatArray, FloatArray, PolarSlice]:
        """The same, and a slice quicker near alpha."""
        lift, drag, nearby = zip(*(part.follow(alpha) for part in self.parts), strict=True)
        shares = [self.weights[..., k] for k in range(len(self.parts))]
        both = [
            np.sum([value * share for value, share in zip(values, shares, strict=True)], axis=0)
            for values in (lift, drag)
        ]
        return both[0], both[1], BlendedSlice(nearby, self.weights)

    def subset(self, index: IntArray) -> PolarSlice:
        """The same for some elements only."""
        weights = self.weights.reshape(-1, len(self.parts))[index]
        return BlendedSlice(tuple(part.subset(index) for part in self.parts), weights)


def _values(cubics: FloatArray, within: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Lift and drag by cubics with coefficients [..., 4 + 4] at the way `within` their interval."""
    lift, drag = (
        cubics[..., k]
        + within * (cubics[..., k + 1] + within * (cubics[..., k + 2] + within * cubics[..., k + 3]))
        for k in (0, 4)
    )
    return lift, drag


def interval_of(alpha: FloatArray) -> tuple[IntArray, FloatArray]:
    """One-degree interval (0 at -180 degrees) that holds alpha (rad), and the way through it."""
    turned = np.degrees(alpha) + 180.0
    floor = np.floor(turned)
    return floor.astype(np.intp) % TABLE_POINTS, turned - floor
