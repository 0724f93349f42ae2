"""Sweeps: full assessments of a sheet over ranges of its numbers, point by point."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from importlib.metadata import version
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.sheet import SheetError, resolve
from bladehold.sheet.vary import Axis, Source, sheet_at
from bladehold.study.assess import assess
from bladehold.study.checks import FATIGUE
from bladehold.study.mass import retention_mass

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

GRID, SOBOL = "grid", "sobol"
USUAL_POINTS = 5  # along an axis of a grid where none are named
MOST = 1_000_000  # points
_OF_THE_AIR = ("air", "aircraft", "flying", "propeller")
"""Tables of a sheet whose numbers the air may feel: they change slowest, so that rotors are solved least."""
REFUSED, IMPOSSIBLE = "refused", "cannot be computed"
_RPM = 30.0 / math.pi
Record = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Sweep:
    """What is swept: source - the sheet; axes; kind - GRID, the last axis fastest, or SOBOL, quasi-random;
    count - of points; seed - of the quasi-random ones.
    """

    source: Source
    axes: tuple[Axis, ...]
    kind: str
    count: int
    seed: int = 1

    @cached_property
    def numbers(self) -> FloatArray:
        """Numbers of the axes in their units, [N, D]."""
        if self.kind == GRID:
            rows = [_along(axis) for axis in self.axes]
            return np.stack([each.ravel() for each in np.meshgrid(*rows, indexing="ij")], axis=-1)
        from scipy.stats.qmc import Sobol

        # Drawn by the power of two, as the sequence is balanced, then as many as are wanted.
        whole = Sobol(len(self.axes), rng=self.seed).random_base2(max(self.count - 1, 1).bit_length())
        low, high = np.array([(axis.low, axis.high + axis.whole) for axis in self.axes]).T
        drawn = low + whole[: self.count] * (high - low)
        return np.asarray(np.where([axis.whole for axis in self.axes], np.floor(drawn), drawn))

    @property
    def order(self) -> IntArray:
        """Places of the points in the order in which they are asked, [N]: what the air feels slowest."""
        felt = [at for at, axis in enumerate(self.axes) if axis.path[0] in _OF_THE_AIR]
        if self.kind != GRID or not felt:
            return np.arange(self.count)
        return np.lexsort([self.numbers[:, at] for at in reversed(felt)])

    @property
    def signature(self) -> dict[str, Any]:
        """What two runs must share to be one sweep."""
        return {
            "sheet": hashlib.sha256(self.source.text.encode()).hexdigest(),
            "keys": [
                f"{axis.key}={axis.low!r}..{axis.high!r} {axis.unit}:{axis.points}" for axis in self.axes
            ],
            "points": f"{self.kind} of {self.count}",
            "seed": self.seed if self.kind == SOBOL else None,
            "polar": self._polar,
            "version": version("bladehold"),
        }

    @property
    def _polar(self) -> str | None:
        """Hash of the user's own polar, which the sheet only names; None without one, or where it is gone."""
        name = self.source.data["propeller"].get("polar")
        path = Path(self.source.folder, name) if name else None
        if path is None or not path.is_file():
            return None
        return hashlib.sha256(path.read_bytes()).hexdigest()


def _along(axis: Axis) -> FloatArray:
    if axis.whole:
        span = int(axis.high) - int(axis.low) + 1
        count = span if axis.points is None else min(axis.points, span)
        return np.unique(np.round(np.linspace(axis.low, axis.high, count)))
    return np.linspace(axis.low, axis.high, axis.points or USUAL_POINTS)


def sweep_of(source: Source, axes: Sequence[Axis], *, drawn: int | None = None, seed: int = 1) -> Sweep:
    """Return what is swept: a full grid, or so many quasi-random points.

    Arguments: source, axes; drawn - number of quasi-random points, None for the grid; seed.
    Errors: ValueError for a key twice, too many points, or points along a key beside a number of drawn ones.
    """
    keys = [axis.key for axis in axes]
    for at, key in enumerate(keys):
        if key in keys[:at]:
            raise ValueError(f"{key} is varied twice")
    if drawn is None:
        count = math.prod(_along(axis).size for axis in axes)
    else:
        count = drawn
        given = next((axis for axis in axes if axis.points is not None), None)
        if given is not None:
            raise ValueError(f"{given.key}: points along a key belong to a grid, not to quasi-random points")
    if count > MOST:
        raise ValueError(f"{count} points are more than {MOST}")
    return Sweep(source, tuple(axes), GRID if drawn is None else SOBOL, count, seed)


def records_of(sweep: Sweep, places: Sequence[int]) -> list[Record]:
    """Assess some points of a sweep; each stands alone, so that it matters to none which are asked together.

    Arguments: sweep; places - of points, 0 to count - 1. Returns a record for each, plain data.
    """
    return [_record(sweep, int(place)) for place in places]


def _record(sweep: Sweep, place: int) -> Record:
    numbers = [float(number) for number in sweep.numbers[place]]
    record: Record = {"point": place + 1}
    record |= {axis.title: number for axis, number in zip(sweep.axes, numbers, strict=True)}
    try:
        sheet = sheet_at(sweep.source, sweep.axes, numbers)
        build = resolve(sheet, sweep.source.folder)
        found = assess(build)
    except SheetError as error:
        reason = "; ".join(f"{one.key}: {one.message}" for one in error.problems)
        return {**record, "state": REFUSED, "why": reason}
    except ValueError as error:
        return {**record, "state": IMPOSSIBLE, "why": str(error)}
    worst, lasting = found.governing, found.shortest
    loads = found.loads
    record |= {
        "state": found.verdict,
        "why": "",
        "margin": found.margin,
        "part": worst.part,
        "check": worst.key,
        "condition": worst.condition,
        "fatigue margin": None if lasting is None else lasting.margin,
        "fatigue part": "" if lasting is None else lasting.part,
        "greatest thrust, N": float(loads.thrust[:-1].max()),
        "greatest speed, rpm": float(loads.speed[:-1].max()) * _RPM,
        "greatest pull, N": float(loads.root.centrifugal[:-1].max()),
        "retention, g": 1e3 * sum(retention_mass(build).values()),
    }
    for part, check in found.by_part().items():
        if check.level != FATIGUE:
            record[f"margin: {part}"] = check.margin
    # What nothing bounds has no number in a table.
    return {
        name: None if isinstance(value, float) and not math.isfinite(value) else value
        for name, value in record.items()
    }


def text_of_record(record: Record) -> str:
    """Return a record as one line of JSON."""
    return json.dumps(record, ensure_ascii=False, allow_nan=False)


@dataclass(frozen=True)
class Effect:
    """What one key does to the margin: its mean over the lowest and over the highest quarter of the key's
    values, both NaN where nothing was computed there.
    """

    axis: Axis
    low: float
    high: float

    @property
    def moves(self) -> float:
        """How far the mean margin moves."""
        return abs(self.high - self.low)


@dataclass(frozen=True, eq=False)
class Swept:
    """All records of a sweep in the order of its points."""

    sweep: Sweep
    records: tuple[Record, ...]

    @cached_property
    def margin(self) -> FloatArray:
        """Smallest margin at every point, NaN where there is none, [N]."""
        return np.array([record.get("margin", np.nan) for record in self.records], dtype=float)

    @property
    def states(self) -> dict[str, int]:
        """How many points are in each state."""
        counts: dict[str, int] = {}
        for record in self.records:
            counts[record["state"]] = counts.get(record["state"], 0) + 1
        return counts

    @property
    def parts(self) -> tuple[str, ...]:
        """Parts that have a margin at any point."""
        keys = dict.fromkeys(key for record in self.records for key in record if key.startswith("margin: "))
        return tuple(key.removeprefix("margin: ") for key in keys)

    @property
    def effects(self) -> tuple[Effect, ...]:
        """What each key does to the margin, the one that moves it most first."""
        found = []
        for at, axis in enumerate(self.sweep.axes):
            number = self.sweep.numbers[:, at]
            low, high = np.quantile(number, (0.25, 0.75))
            ends = (self.margin[number <= low], self.margin[number >= high])
            means = [float(np.nanmean(end)) if np.isfinite(end).any() else math.nan for end in ends]
            found.append(Effect(axis, *means))
        return tuple(sorted(found, key=lambda one: (math.isnan(one.moves), -one.moves)))

    @property
    def crossings(self) -> tuple[float, ...]:
        """Numbers of the only axis at which the margin is zero, between neighbours in a straight line."""
        if len(self.sweep.axes) != 1:
            return ()
        order = np.argsort(self.sweep.numbers[:, 0])
        x, y = self.sweep.numbers[order, 0], self.margin[order]
        with np.errstate(invalid="ignore"):
            at = np.flatnonzero((y[:-1] < 0.0) != (y[1:] < 0.0))
        at = at[np.isfinite(y[at]) & np.isfinite(y[at + 1])]
        return tuple(float(x[i] - y[i] * (x[i + 1] - x[i]) / (y[i + 1] - y[i])) for i in at)
