"""One check as data: what was asked of a part, what it can give, and how that was found."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.tables import Provenance

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Input:
    """One input of a formula as it stood in the governing condition: symbol or name, SI value, SI unit."""

    name: str
    value: float
    unit: str


@dataclass(frozen=True)
class Check:
    """One verdict on one part in one failure mode; numbers in SI, `unit` says which.

    margin = capacity / (factor * demand) - 1 at limit load, in the condition that governs. Where loads
    act together, demand is the share of strength used at limit load and capacity is 1.
    flight_margin - the smallest in flight alone, without the centrifugal proof.
    unconfirmed - sources that rest on memory and decide this number. breaches - ranges left. service - a
    check of setting-up (tightening, grip) that is met or not: a small margin in it is usual and no weakness,
    so it governs a verdict only when it is not met.
    """

    part: str
    mode: str
    level: str
    condition: str
    demand: float
    capacity: float
    unit: str
    factor: float
    margin: float
    flight_margin: float
    formula: str
    inputs: tuple[Input, ...]
    source: str
    unconfirmed: tuple[str, ...]
    breaches: tuple[str, ...]
    advice: str
    service: bool

    @property
    def governs(self) -> bool:
        """Whether this check may be the one that decides a verdict on strength."""
        return self.level != "fatigue" and (not self.service or self.margin < 0.0)

    @property
    def key(self) -> str:
        """A name for this check that stays the same from build to build."""
        return f"{self.part}: {self.mode} ({self.level})"

    def as_dict(self) -> dict[str, Any]:
        """Return the record as plain data for JSON and tables; an unloaded part has margin None."""
        data = asdict(self)
        for name in ("margin", "flight_margin"):
            data[name] = data[name] if np.isfinite(data[name]) else None
        return data


@dataclass(frozen=True)
class Outcome:
    """What a check function returns: arrays over conditions (last axis), any leading axes.

    demand, capacity - in `unit`; factor - of the policy, 0 where the condition does not apply;
    inputs - name, value (broadcasts with the conditions), SI unit.
    """

    demand: FloatArray
    capacity: ArrayLike
    factor: FloatArray
    unit: str
    inputs: tuple[tuple[str, ArrayLike, str], ...]
    strengths: tuple[Provenance, ...] = ()
    breaches: tuple[str | None, ...] = ()
    formula: str | None = None
    source: str | None = None
    margin: FloatArray = field(init=False)

    def __post_init__(self) -> None:
        """Work out the margins; infinite where nothing is demanded or the condition does not apply."""
        load = np.asarray(self.factor * np.abs(self.demand), dtype=float)
        with np.errstate(divide="ignore", invalid="ignore"):
            margin = np.where(load > 0.0, np.asarray(self.capacity, dtype=float) / load - 1.0, np.inf)
        object.__setattr__(self, "margin", margin)
