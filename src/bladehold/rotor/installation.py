"""What is left of a rotor's thrust once its wake has blown on the aircraft beneath it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Installation:
    """One row of the table: download_share - of the rotor's thrust, lost; where the figure comes from."""

    name: str
    description: str
    download_share: float
    source: str
    mark: str


@cache
def installations() -> dict[str, Installation]:
    """Every installation in the table, by name."""
    import csv

    with (DATA / "installation.csv").open(encoding="utf-8", newline="") as stream:
        return {
            row["name"]: Installation(
                name=row["name"],
                description=row["description"],
                download_share=float(row["download_share"]),
                source=row["source"],
                mark=row["mark"],
            )
            for row in csv.DictReader(stream)
        }


def net_thrust(thrust: ArrayLike, download_share: ArrayLike = 0.0) -> FloatArray:
    """Thrust (N) that lifts the aircraft: T (1 - d).

    Arguments: thrust - T of the rotor, N; download_share - d, of `installations` or measured, from 0 up
    to 1, default none lost; both broadcast. Raises ValueError naming download_share.
    Source: definition of the download share, Johnson, Helicopter Theory (1980), chapter 4.

    >>> round(float(net_thrust(100.0, installations()["arm"].download_share)), 6)
    97.0
    """
    share = np.asarray(download_share, dtype=float)
    if not np.all((share >= 0.0) & (share < 1.0)):
        raise ValueError(f"download_share must be from 0 up to 1, got {share.ravel()[:3]}")
    return np.asarray(np.asarray(thrust, dtype=float) * (1.0 - share))
