"""Time of the elastic blade: `make bench`. Targets are stated; nothing here asserts a time."""

import numpy as np
import pytest

from bladehold.blade import (
    BladeBeam,
    Layup,
    SpanLoads,
    beam_from_sections,
    beam_matrices,
    blade_modes,
    elastic_root_loads,
    fit_mass,
    flap_damping,
    four_digit_form,
    section_properties,
)
from bladehold.tables import blade_material

STATIONS = np.linspace(0.0, 0.33, 30)
CHORD = np.interp(STATIONS, [0.0, 0.1, 0.33], [0.035, 0.06, 0.025])
LAYUP = Layup(blade_material("carbon-0-90"), 6e-4, blade_material("foam-pmi-52"))


def made() -> BladeBeam:
    sections = section_properties(CHORD, 0.1 * CHORD, four_digit_form(0.04), LAYUP)
    spread = fit_mass(STATIONS, sections.line_mass, 0.035)
    twist = np.arctan2(0.23, 2 * np.pi * (STATIONS + 0.03))
    return beam_from_sections(STATIONS, sections, twist, spread, pivot_radius=0.03)


@pytest.fixture(scope="module")
def matrices():
    return beam_matrices(made())


def test_from_chord_and_thickness_to_beam(benchmark):
    benchmark(made)


def test_matrices(benchmark):
    benchmark(beam_matrices, made())


def test_modes_at_40_speeds(benchmark, matrices):
    """Target: 30 ms."""
    found = benchmark(blade_modes, matrices, np.linspace(0.0, 500.0, 40))
    assert found.frequency.shape == (40, 6)


def test_response_in_24_conditions(benchmark, matrices):
    """Target: 20 ms, 36 azimuths by 30 stations each."""
    radius = np.linspace(0.04, 0.35, 30)
    speed, psi = np.linspace(200.0, 500.0, 24), np.arange(36) * np.pi / 18
    turn = 1.0 + 0.4 * np.sin(psi) + 0.1 * np.cos(2 * psi)
    normal = 1e-3 * speed[:, np.newaxis, np.newaxis] ** 2 * turn[:, np.newaxis] * radius**2 / radius[-1] ** 2
    damping = flap_damping(5.7, 0.05, 1.2, speed[:, np.newaxis], radius)
    air = SpanLoads(radius, np.full(30, 0.0107), normal, 0.1 * normal, damping=damping)
    found = benchmark(
        elastic_root_loads, matrices, air, speed, damping_ratio=0.01, upward_angle=0.02, rate_across=1.0
    )
    assert found.flap_moment.shape == (24, 36)
