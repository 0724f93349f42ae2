"""Time of the rotor room: `make bench`. Targets are stated; nothing here asserts a time."""

import subprocess
import sys

import numpy as np
import pytest

from bladehold.rotor import (
    blade_from_measures,
    section_polar,
    solve_axial,
    solve_coaxial,
    solve_for_thrust,
    solve_tilted,
    solve_tilted_for_thrust,
)

AIR = {"density": 1.225, "viscosity": 1.79e-5, "speed_of_sound": 340.3}
BLADE = blade_from_measures(
    diameter=0.7112,
    hub_radius=0.03,
    geometric_pitch=0.23,
    widest_chord=0.07,
    widest_fraction=0.35,
    tip_chord=0.025,
    thickness_ratio=0.117,
    section="clark-y",
)
SPEED, CLIMB, EDGE = (
    np.linspace(1500.0, 4000.0, 24) * np.pi / 30.0,
    np.linspace(0.0, 8.0, 24),
    np.linspace(2, 20, 24),
)
THRUST = np.linspace(20.0, 120.0, 24)


def told(benchmark, elements):
    """Write the best and the median time per blade element beside the time."""
    benchmark.extra_info["elements"] = elements
    if benchmark.stats:
        best, median = (1e9 * benchmark.stats[name] / elements for name in ("min", "median"))
        benchmark.extra_info["ns_per_element"] = round(median)
        print(f"\n{benchmark.name}: {elements} elements, best {best:.0f}, median {median:.0f} ns each")


def test_solve_24_conditions_by_30_stations(benchmark):
    found = benchmark(solve_axial, BLADE, 2, SPEED, CLIMB, **AIR)
    told(benchmark, found.normal_load.size)
    assert found.normal_load.shape == (24, 30)


def test_trim_24_conditions_by_30_stations(benchmark):
    found = benchmark(solve_for_thrust, BLADE, 2, THRUST, CLIMB, **AIR)
    told(benchmark, found.normal_load.size)
    assert found.thrust.shape == (24,)


@pytest.mark.parametrize("conditions", [1, 6, 24, 96])
def test_solve_tilted(benchmark, conditions):
    """Target: 24 conditions by 36 azimuths by 30 stations in 40 ms, and time growing with the work."""
    place = np.linspace(0, 23, conditions)
    flight = [np.interp(place, np.arange(24), values) for values in (SPEED, CLIMB, EDGE)]
    found = benchmark(solve_tilted, BLADE, 2, *flight, **AIR)
    told(benchmark, found.normal_load.size)
    assert found.normal_load.shape == (conditions, 36, 30)


def test_trim_tilted_24_conditions(benchmark):
    found = benchmark(solve_tilted_for_thrust, BLADE, 2, THRUST, CLIMB, EDGE, **AIR)
    told(benchmark, found.normal_load.size)
    assert found.normal_load.shape == (24, 36, 30)


def test_solve_coaxial_24_conditions(benchmark):
    found = benchmark(solve_coaxial, (BLADE, BLADE), (2, 2), (SPEED, SPEED), CLIMB, 0.15, **AIR)
    told(benchmark, found.upper.normal_load.size + found.lower.normal_load.size)
    assert found.thrust.shape == (24,)


def test_solve_one_condition(benchmark):
    benchmark(solve_axial, BLADE, 2, 300.0, 0.0, **AIR)


def test_read_one_section(benchmark):
    benchmark(section_polar.__wrapped__, "clark-y")


@pytest.mark.parametrize("module", ["numpy", "bladehold.rotor"])
def test_import(benchmark, module):
    benchmark.pedantic(subprocess.run, args=([sys.executable, "-c", f"import {module}"],), rounds=5)
