"""The beam's matrices: statics, rigid motions, pull in the blade, coupling by twist, refusals."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from bladehold.blade import (
    BladeBeam,
    Layup,
    RootSupport,
    beam_from_sections,
    beam_matrices,
    fit_mass,
    four_digit_form,
    outboard_pull,
    section_properties,
    stiffened,
)
from bladehold.blade.beam import shape_rows, span_points
from bladehold.tables import blade_material


def tapered(pivot_radius=0.03, tip_mass=0.0):
    stations = np.array([0.0, 0.03, 0.09, 0.17, 0.24, 0.30])
    return BladeBeam(
        stations=stations,
        line_mass=np.array([0.4, 0.25, 0.22, 0.15, 0.10, 0.04]),
        flatwise_stiffness=np.array([60.0, 20.0, 9.0, 4.0, 1.5, 0.3]),
        edgewise_stiffness=np.array([400.0, 300.0, 350.0, 200.0, 90.0, 20.0]),
        structural_angle=np.array([0.5, 0.45, 0.35, 0.25, 0.18, 0.14]),
        flat_inertia=np.full(6, 1e-7),
        edge_inertia=np.full(6, 3e-5),
        mass_offset=np.full(6, 0.002),
        pivot_radius=pivot_radius,
        tip_mass=tip_mass,
    )


def bent(matrices, load):
    """Deflection in all coordinates under nodal loads, at rest."""
    found = np.zeros(matrices.mass.shape[0])
    found[matrices.free] = np.linalg.solve(matrices.kept(matrices.elastic), load[matrices.free])
    return found


@pytest.mark.parametrize("elements", [2, 5, 12])
def test_statics_of_a_cantilever_are_exact_at_the_nodes(uniform_beam, elements):
    length, stiffness = 0.4, 3.0
    matrices = beam_matrices(uniform_beam(length=length, flat=stiffness), elements=elements)
    half = 2 * matrices.nodes.size
    point = np.zeros(2 * half)
    point[half - 2] = 7.0
    assert bent(matrices, point)[half - 2] == pytest.approx(7.0 * length**3 / (3 * stiffness), rel=1e-9)
    x, weight = span_points(matrices.beam, matrices.nodes)
    even = np.concatenate([5.0 * weight @ shape_rows(matrices.nodes, x, 0), np.zeros(half)])
    assert bent(matrices, even)[half - 2] == pytest.approx(5.0 * length**4 / (8 * stiffness), rel=1e-9)


@given(st.floats(-1.5, 1.5))
def test_a_bent_beam_leans_towards_its_soft_side(angle):
    """Unsymmetrical bending by hand: the load's part along each principal axis bends that way alone."""
    beam = BladeBeam(
        stations=np.array([0.0, 0.4]),
        line_mass=np.ones(2),
        flatwise_stiffness=np.full(2, 2.0),
        edgewise_stiffness=np.full(2, 50.0),
        structural_angle=np.full(2, angle),
        flat_inertia=np.zeros(2),
        edge_inertia=np.zeros(2),
        mass_offset=np.zeros(2),
    )
    matrices = beam_matrices(beam, elements=3)
    half = 2 * matrices.nodes.size
    load = np.zeros(2 * half)
    load[half - 2] = 1.0  # upwards
    flat = np.cos(angle) * 0.4**3 / (3 * 2.0)
    edge = np.sin(angle) * 0.4**3 / (3 * 50.0)
    found = bent(matrices, load)
    assert found[half - 2] == pytest.approx(flat * np.cos(angle) + edge * np.sin(angle), rel=1e-8)
    assert found[-2] == pytest.approx(flat * np.sin(angle) - edge * np.cos(angle), rel=1e-8, abs=1e-12)


def test_rigid_motions_cost_no_elastic_energy_and_carry_all_mass():
    beam = tapered(tip_mass=0.004)
    matrices = beam_matrices(beam, RootSupport(0.0, 0.0))
    half = 2 * matrices.nodes.size
    lifted, turned = np.zeros(2 * half), np.zeros(2 * half)
    lifted[:half:2], turned[:half:2], turned[1:half:2] = 1.0, matrices.nodes, 1.0
    scale = np.abs(matrices.elastic).max()
    assert np.abs(matrices.elastic @ lifted).max() < 1e-12 * scale
    assert np.abs(matrices.elastic @ turned).max() < 1e-12 * scale

    def moment(power):
        line = lambda x: x**power * np.interp(x, beam.stations, beam.line_mass)  # noqa: E731
        return quad(line, 0, beam.length, points=beam.stations)[0] + beam.tip_mass * beam.length**power

    assert lifted @ matrices.mass @ lifted == pytest.approx(moment(0), rel=1e-10)
    assert lifted @ matrices.mass @ turned == pytest.approx(moment(1), rel=1e-10)
    assert turned @ matrices.mass @ turned == pytest.approx(moment(2), rel=1e-10)
    # a raised blade is pressed down by the moment of m (e + x) x, whatever its shape
    pressed = beam.pivot_radius * moment(1) + moment(2)
    assert turned @ matrices.tension @ turned == pytest.approx(pressed, rel=1e-10)


def test_pull_is_the_integral_outboard():
    beam = tapered(tip_mass=0.004)
    places = np.array([0.0, 0.03, 0.111, 0.299, 0.30])
    for place, found in zip(places, outboard_pull(beam, places), strict=True):
        line = lambda x: (beam.pivot_radius + x) * np.interp(x, beam.stations, beam.line_mass)  # noqa: E731
        inner = beam.stations[(beam.stations > place) & (beam.stations < 0.3)]
        outboard = quad(line, place, 0.30, points=inner if inner.size else None)[0]
        assert found == pytest.approx(outboard + 0.004 * 0.33, rel=1e-9)


def test_a_spring_gives_way_by_moment_over_stiffness(uniform_beam):
    soft, clamped = (
        beam_matrices(uniform_beam(length=0.4, flat=3.0), RootSupport(flap_spring=spring))
        for spring in (50.0, np.inf)
    )
    load = np.zeros(soft.mass.shape[0])
    load[2 * soft.nodes.size - 2] = 1.0
    tips = [bent(each, load)[2 * each.nodes.size - 2] for each in (soft, clamped)]
    assert tips[0] - tips[1] == pytest.approx(0.4**2 / 50.0, rel=1e-9)


def test_from_sections_to_beam():
    stations = np.linspace(0.0, 0.3, 9)
    chord = np.linspace(0.05, 0.02, 9)
    sections = section_properties(
        chord, 0.1 * chord, four_digit_form(0.04), Layup(blade_material("carbon-0-90"))
    )
    spread = fit_mass(stations, sections.line_mass, 0.040)
    beam = beam_from_sections(
        stations, sections, 0.2, spread, pivot_radius=0.03, mass_offset=0.001, tip_mass=0.002
    )
    assert np.allclose(beam.structural_angle, 0.2 + sections.principal_angle)
    assert np.allclose(beam.edge_inertia, sections.edge_inertia * spread.factor)
    matrices = beam_matrices(beam)
    lifted = np.zeros(matrices.mass.shape[0])
    lifted[: 2 * matrices.nodes.size : 2] = 1.0
    assert lifted @ matrices.mass @ lifted == pytest.approx(0.042, rel=1e-10)
    assert np.allclose(stiffened(beam, 2.0).flatwise_stiffness, 2.0 * sections.flatwise_stiffness)


@pytest.mark.parametrize(
    ("change", "text"),
    [
        ({"stations": np.array([0.01, 0.03, 0.09, 0.17, 0.24, 0.30])}, "stations must begin at 0"),
        ({"line_mass": np.zeros(6)}, "line_mass must be positive"),
        ({"structural_angle": np.zeros(5)}, "structural_angle must hold one finite value for each of the 6"),
        ({"pivot_radius": -0.01}, "pivot_radius must be finite and not negative"),
    ],
)
def test_what_no_blade_can_be_is_refused(change, text):
    with pytest.raises(ValueError, match=text):
        replace(tapered(), **change)


def test_other_refusals(uniform_beam):
    with pytest.raises(ValueError, match="lag_spring must not be negative"):
        RootSupport(lag_spring=-1.0)
    with pytest.raises(ValueError, match="elements must be at least 2"):
        beam_matrices(uniform_beam(), elements=1)
