"""The sections shipped with the program, and the polar of a blade made of them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np

from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.polar import BlendedPolar, Polar, TabulatedPolar, tabulated_polar

DATA = Path(__file__).parent / "data"


@dataclass(frozen=True)
class Section:
    """One row of the catalogue: thickness and camber as shares of the chord, where the polar comes from."""

    name: str
    description: str
    thickness_ratio: float
    camber_ratio: float
    source: str
    mark: str


@cache
def section_catalogue() -> dict[str, Section]:
    """Every section shipped, by name."""
    import csv

    with (DATA / "sections.csv").open(encoding="utf-8", newline="") as stream:
        return {
            row["name"]: Section(
                name=row["name"],
                description=row["description"],
                thickness_ratio=float(row["thickness_ratio"]),
                camber_ratio=float(row["camber_ratio"]),
                source=row["source"],
                mark=row["mark"],
            )
            for row in csv.DictReader(stream)
        }


@cache
def section_polar(name: str) -> TabulatedPolar:
    """Polar of a section shipped with the program, read once.

    Raises ValueError naming the section and those there are.

    >>> lift, drag = section_polar("clark-y").at(np.array(1e5), np.array(0.0))(np.radians(4.0))
    >>> round(float(lift), 2), round(float(drag), 4)
    (0.79, 0.0156)
    """
    if name not in section_catalogue():
        raise ValueError(f"section {name!r} is not known; there are {', '.join(section_catalogue())}")
    with np.load(DATA / f"{name}.npz") as table:
        return tabulated_polar(
            name,
            table["cl"],
            table["cd"],
            reynolds=table["reynolds"],
            mach=table["mach"],
            confidence=table["confidence"],
        )


def blade_polar(geometry: BladeGeometry) -> Polar:
    """Polar of a blade from the shipped sections its geometry names."""
    polars = tuple(section_polar(name) for name in geometry.sections)
    return polars[0] if len(polars) == 1 else BlendedPolar(polars, geometry.section_weights)
