"""Derating: the largest thrust that the hardware holds, over temperature and altitude."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from bladehold.air import air_at, standard_density_altitude
from bladehold.sheet.build import Build
from bladehold.study.limit import limit
from bladehold.study.loads import model_speed

_STEPS = (0.0, 1000.0, 2000.0, 3000.0)  # m, above the altitude of the sheet where none are named
MOST = 200  # cells


@dataclass(frozen=True)
class Cell:
    """One kind of air: temperature K, altitude - pressure altitude, density_altitude - m; thrust - steady N,
    at which the smallest margin is zero, peak_thrust N and speed rad/s in the hardest condition there, part -
    that has it; share - of the maker's rating, None without one; why - "" or why there is no figure.
    """

    temperature: float
    altitude: float
    density_altitude: float
    thrust: float
    peak_thrust: float
    speed: float
    part: str
    share: float | None
    why: str = ""


@dataclass(frozen=True)
class Derating:
    """temperatures - K, altitudes - m, cells - by temperature, then altitude; used - steady thrust of the
    sheet, N; claimed - the maker's rating, None without one.
    """

    temperatures: tuple[float, ...]
    altitudes: tuple[float, ...]
    cells: tuple[tuple[Cell, ...], ...]
    used: float
    claimed: float | None

    @property
    def holds(self) -> bool:
        """Whether the thrust used holds in every kind of air."""
        return all(not cell.why and cell.thrust >= self.used for row in self.cells for cell in row)


def derating(build: Build, temperatures: Sequence[float] = (), altitudes: Sequence[float] = ()) -> Derating:
    """Find the limit of thrust in each kind of air alone, with the parts as warm as the air.

    Everything is flown in that air; speeds, tilts and how the parts were tightened stay as in the sheet.
    Arguments: build; temperatures - K, the coldest, middle and warmest of the sheet where none are named;
    altitudes - m, 0 to 3000 m above that of the sheet where none are named.
    Errors: ValueError for more than MOST cells.
    """
    cold, warm = build.flying.temperature_min, build.flying.temperature_max
    usual = dict.fromkeys((cold, 0.5 * (cold + warm), warm))
    columns = tuple(sorted(set(altitudes))) or tuple(build.air.altitude + step for step in _STEPS)
    rows = tuple(sorted(set(temperatures))) or tuple(usual)
    if len(rows) * len(columns) > MOST:
        raise ValueError(f"{len(rows)} temperatures at {len(columns)} altitudes are more than {MOST} cells")
    cells = tuple(tuple(_cell(build, t, h) for h in columns) for t in rows)
    return Derating(rows, columns, cells, build.flying.used_thrust, build.flying.claimed_thrust)


def in_air(build: Build, temperature: float, altitude: float) -> Build:
    """Return the build flown in one kind of air alone: temperature K, altitude m.

    A rotor measured to turn faster or slower than its model, in the air of the sheet, does so in any.
    """
    flying = replace(
        build.flying, temperature_min=temperature, temperature_max=temperature, altitude_max=altitude
    )
    air = replace(build.air, altitude=altitude, temperature=temperature)
    there = replace(build, air=air, flying=flying)
    stated = flying.used_speed
    if stated is None:
        return there
    as_fast = stated * model_speed(there) / model_speed(build)
    return replace(there, flying=replace(flying, used_speed=as_fast))


def _cell(build: Build, temperature: float, altitude: float) -> Cell:
    density = air_at(altitude, temperature, build.air.humidity).density
    level = float(standard_density_altitude(density))
    try:
        found = limit(in_air(build, temperature, altitude))
    except ValueError as error:
        nan = math.nan
        return Cell(temperature, altitude, level, nan, nan, nan, "", None, str(error))
    low = found.lowest
    return Cell(
        temperature=temperature,
        altitude=altitude,
        density_altitude=level,
        thrust=low.thrust,
        peak_thrust=low.peak_thrust,
        speed=low.speed,
        part=low.part,
        share=found.share_of_claim,
    )
