"""Modes of turning blades: limits, laws that hold for all blades, and the basis over the speeds."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.linalg import eigh

from bladehold.blade import (
    BladeBeam,
    RootSupport,
    beam_matrices,
    blade_modes,
    stiffened,
    tapped_stiffness,
)


def blade(taper=0.5, angle=0.2, pivot_radius=0.03, line=0.15, tip_mass=0.0, flat=3.0):
    stations = np.linspace(0.0, 0.3, 7)
    shape = 1.0 - (1.0 - taper) * stations / 0.3
    return BladeBeam(
        stations=stations,
        line_mass=line * shape,
        flatwise_stiffness=flat * shape**3,
        edgewise_stiffness=40.0 * flat * shape**3,
        structural_angle=angle * (2.0 - shape),
        flat_inertia=np.zeros(7),
        edge_inertia=np.zeros(7),
        mass_offset=np.zeros(7),
        pivot_radius=pivot_radius,
        tip_mass=tip_mass,
    )


SHAPES = st.builds(blade, st.floats(0.2, 1.0), st.floats(0.0, 0.6), st.floats(0.0, 0.1), st.floats(0.05, 0.3))
SUPPORTS = st.builds(
    RootSupport, st.sampled_from([0.0, 20.0, np.inf]), st.sampled_from([0.0, 50.0, 500.0, np.inf])
)
FEW = settings(max_examples=25, deadline=None)


def full_solution(matrices, speed):
    """All frequencies (Hz) by a general solver."""
    stiff = matrices.elastic + speed**2 * matrices.centrifugal
    squares = eigh(matrices.kept(stiff), matrices.kept(matrices.mass), eigvals_only=True)
    return np.sqrt(np.maximum(squares, 0.0)) / (2 * np.pi)


@FEW
@given(SHAPES, SUPPORTS)
def test_frequencies_rise_with_speed(beam, support):
    found = blade_modes(beam_matrices(beam, support), np.linspace(0.0, 500.0, 6)).frequency
    # squares, because that of a blade hinged on the axis, whose lag frequency is 0, is rounding alone
    assert np.all(np.diff(found**2, axis=0) >= -1e-9 * found.max() ** 2)
    assert np.all(np.diff(found, axis=1) >= 0.0)


@FEW
@given(SHAPES, st.sampled_from([0.0, 20.0, np.inf]), st.floats(50.0, 500.0))
def test_flapping_is_never_slower_than_the_turning(beam, spring, speed):
    """Raising a hinged blade as a whole costs Omega^2 (I + e S): no flap mode lies below Omega."""
    still = BladeBeam(
        **{**vars(beam), "structural_angle": np.zeros(7), "edgewise_stiffness": 1e3 * np.ones(7)}
    )
    modes = blade_modes(beam_matrices(still, RootSupport(flap_spring=spring)), speed)
    flapping = modes.frequency[modes.flap_energy > 0.5]
    assert flapping.size and flapping.min() >= speed / (2 * np.pi) * (
        1 - 1e-7
    )  # equal when hinged on the axis


@FEW
@given(SHAPES, SUPPORTS, st.floats(0.2, 5.0), st.floats(0.0, 500.0))
def test_mass_and_stiffness_together_change_nothing(beam, support, factor, speed):
    heavier = BladeBeam(**{**vars(stiffened(beam, factor)), "line_mass": factor * beam.line_mass})
    other = RootSupport(factor * support.flap_spring, factor * support.lag_spring)
    one = blade_modes(beam_matrices(beam, support), speed).frequency
    two = blade_modes(beam_matrices(heavier, other), speed).frequency
    assert np.allclose(one**2, two**2, rtol=1e-6, atol=1e-9 * one.max() ** 2)


@FEW
@given(SHAPES, st.floats(0.0, 0.05))
def test_a_tip_mass_lowers_frequencies_at_rest(beam, mass):
    weighted = BladeBeam(**{**vars(beam), "tip_mass": mass})
    one, two = (blade_modes(beam_matrices(each), 0.0).frequency for each in (beam, weighted))
    assert np.all(two <= one * (1 + 1e-9))


@pytest.mark.parametrize("support", [RootSupport(), RootSupport(20.0, 0.0)])
@pytest.mark.parametrize(("flat", "error"), [(3.0, 1e-7), (0.3, 1e-5)])
def test_the_basis_over_the_speeds_serves_all_of_them(support, flat, error):
    matrices = beam_matrices(blade(flat=flat), support)
    speeds = np.linspace(60.0, 600.0, 13)
    found = blade_modes(matrices, speeds).frequency
    wanted = np.array([full_solution(matrices, speed)[:6] for speed in speeds])
    assert np.abs(found / wanted - 1).max() < error


def test_shapes_belong_to_their_frequencies():
    matrices = beam_matrices(blade())
    speed = np.array([0.0, 300.0])
    modes = blade_modes(matrices, speed)
    assert np.allclose(np.abs(np.concatenate([modes.flap, modes.lag], axis=-1)).max(axis=-1), 1.0)
    assert np.all(modes.flap[..., 0] == 0.0) and np.all(modes.lag[..., 0] == 0.0)
    _, vectors = eigh(
        matrices.kept(matrices.elastic + 300.0**2 * matrices.centrifugal), matrices.kept(matrices.mass)
    )
    shape = np.zeros(matrices.mass.shape[0])
    shape[matrices.free] = vectors[:, 0]
    both = np.concatenate([shape[: 2 * matrices.nodes.size : 2], shape[2 * matrices.nodes.size :: 2]])
    ours = np.concatenate([modes.flap[1, 0], modes.lag[1, 0]])
    assert np.allclose(both / both[np.abs(both).argmax()], ours, atol=1e-6)
    assert np.all((modes.flap_energy > 0.0) & (modes.flap_energy < 1.0))


def test_batches_are_single_speeds():
    matrices = beam_matrices(blade())
    speeds = np.array([[100.0, 200.0, 300.0], [150.0, 250.0, 350.0]])
    found = blade_modes(matrices, speeds)
    assert found.frequency.shape == (2, 3, 6) and found.flap.shape == (2, 3, 6, 13)
    alone = blade_modes(matrices, 250.0)
    assert np.allclose(found.frequency[1, 1], alone.frequency, rtol=1e-6)
    assert np.allclose(found.flap[1, 1], alone.flap, atol=1e-3)


def test_a_very_stiff_hinged_blade_flaps_as_a_rigid_one():
    beam = stiffened(blade(angle=0.0, tip_mass=0.002), 1e5)
    speed, matrices = 300.0, beam_matrices(beam, RootSupport(30.0, 0.0))
    half = 2 * matrices.nodes.size
    turned = np.zeros(2 * half)
    turned[:half:2], turned[1:half:2] = matrices.nodes, 1.0
    lifted = np.zeros(2 * half)
    lifted[:half:2] = 1.0
    inertia, first = turned @ matrices.mass @ turned, turned @ matrices.mass @ lifted
    wanted = np.sqrt(1 + beam.pivot_radius * first / inertia + 30.0 / (inertia * speed**2))
    modes = blade_modes(matrices, speed)
    flap = modes.frequency[modes.flap_energy > 0.5][0]
    lag = modes.frequency[modes.flap_energy < 0.5][0]
    assert flap / (speed / (2 * np.pi)) == pytest.approx(wanted, rel=1e-4)
    assert lag / (speed / (2 * np.pi)) == pytest.approx(np.sqrt(0.03 * first / inertia), rel=1e-4)


def test_a_tap_sets_both_stiffnesses():
    beam = blade()
    found, factor = tapped_stiffness(beam, 41.0)
    modes = blade_modes(beam_matrices(found), 0.0)
    assert modes.frequency[modes.flap_energy > 0.5][0] == pytest.approx(41.0, rel=1e-9)
    assert np.allclose(found.edgewise_stiffness, factor * beam.edgewise_stiffness)
    with pytest.raises(ValueError, match="frequency 0 Hz must be positive"):
        tapped_stiffness(beam, 0.0)


def test_more_modes_than_there_are_is_refused():
    with pytest.raises(ValueError, match="count must lie between 1 and 8"):
        blade_modes(beam_matrices(blade(), elements=2), 0.0, 9)
