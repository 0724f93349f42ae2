"""The rotor in fast flight, azimuth by azimuth: what the disc carries at top speed."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bladehold.rotor import DEFAULT_AZIMUTHS, TiltedSolution
from bladehold.sheet.build import Build
from bladehold.study.air_loads import solve_windy
from bladehold.study.conditions import conditions_of
from bladehold.study.shape import blade_of

DRAWN = ("top speed, warm", "manoeuvre at top speed, warm")


@dataclass(frozen=True, eq=False)
class ForwardFlight:
    """A rotor in fast flight: names of the conditions, [C], and the solution in all of them, [C, A, S]."""

    names: tuple[str, ...]
    solution: TiltedSolution


def forward_flight(build: Build) -> ForwardFlight:
    """Return the rotor at top speed, level and in a manoeuvre, in the warmest air of the sheet.

    It turns counterclockwise seen from above; a rotor of the other sense is its mirror image.
    Errors: ValueError when the sheet flies at no speed, or the thrust cannot be reached.
    """
    if build.flying.top_speed <= 0.0:
        raise ValueError("flying.top_speed is 0: there is no fast flight to look at")
    conditions = conditions_of(build)
    conditions = conditions.of(np.array([conditions.names.index(name) for name in DRAWN]))
    geometry, polar = blade_of(build)
    solution = solve_windy(build, conditions, geometry, polar, DEFAULT_AZIMUTHS)
    return ForwardFlight(DRAWN, solution)
