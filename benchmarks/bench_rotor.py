"""Time of the rotor room: `pytest benchmarks/bench_rotor.py`."""

import subprocess
import sys

import numpy as np
import pytest

from bladehold.rotor import blade_from_measures, section_polar, solve_axial, solve_for_thrust

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
CLIMB = np.linspace(0.0, 8.0, 24)


def test_solve_24_conditions_by_30_stations(benchmark):
    speed = np.linspace(1500.0, 4000.0, 24) * np.pi / 30.0
    found = benchmark(solve_axial, BLADE, 2, speed, CLIMB, **AIR)
    assert found.normal_load.shape == (24, 30)


def test_trim_24_conditions_by_30_stations(benchmark):
    found = benchmark(solve_for_thrust, BLADE, 2, np.linspace(20.0, 120.0, 24), CLIMB, **AIR)
    assert found.thrust.shape == (24,)


def test_solve_one_condition(benchmark):
    benchmark(solve_axial, BLADE, 2, 300.0, 0.0, **AIR)


def test_read_one_section(benchmark):
    benchmark(section_polar.__wrapped__, "clark-y")


@pytest.mark.parametrize("module", ["numpy", "bladehold.rotor"])
def test_import(benchmark, module):
    benchmark.pedantic(subprocess.run, args=([sys.executable, "-c", f"import {module}"],), rounds=5)
