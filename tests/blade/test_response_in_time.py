"""The elastic response against a march in time, and fed with a rotor's own air loads."""

import numpy as np
import pytest

from bladehold.blade import (
    BladeBeam,
    Layup,
    RootSupport,
    SpanLoads,
    beam_from_sections,
    beam_matrices,
    elastic_root_loads,
    fit_mass,
    flap_damping,
    four_digit_form,
    section_properties,
    stiffened,
    tapped_stiffness,
)
from bladehold.blade.beam import shape_rows
from bladehold.rotor import blade_from_measures, blade_moments, blade_shears, solve_tilted, span_weights
from bladehold.tables import blade_material

STEPS, TURNS = 480, 25


def marched(matrices, load, damping, speed):
    """Deflections over the last turn by average acceleration (Newmark), from rest; load - [STEPS, F]."""
    stiff = matrices.kept(matrices.elastic + speed**2 * matrices.centrifugal)
    mass, h = matrices.kept(matrices.mass), 2 * np.pi / speed / STEPS
    left = np.linalg.inv(stiff + 2 / h * damping + 4 / h**2 * mass)
    place = np.linalg.solve(stiff, load.mean(axis=0))
    velocity = np.zeros_like(place)
    gain = np.linalg.solve(mass, load[0] - stiff @ place)
    path = []
    for step in range(1, TURNS * STEPS + 1):
        right = mass @ (4 / h**2 * place + 4 / h * velocity + gain) + damping @ (2 / h * place + velocity)
        new = left @ (load[step % STEPS] + right)
        moved = 2 / h * (new - place) - velocity
        gain = 2 / h * (moved - velocity) - gain
        place, velocity = new, moved
        path.append(place)
    return np.array(path[-STEPS:])


def test_harmonic_balance_is_where_a_march_in_time_ends():
    stations = np.array([0.0, 0.3])
    beam = BladeBeam(
        stations=stations,
        line_mass=np.array([0.16, 0.06]),
        flatwise_stiffness=np.array([5.0, 1.0]),
        edgewise_stiffness=np.array([90.0, 30.0]),
        structural_angle=np.array([0.4, 0.15]),
        flat_inertia=np.zeros(2),
        edge_inertia=np.zeros(2),
        mass_offset=np.zeros(2),
        pivot_radius=0.03,
    )
    speed, spring = 260.0, 60.0
    matrices = beam_matrices(beam, RootSupport(flap_spring=spring), elements=3)
    point, weight = np.polynomial.legendre.leggauss(16)
    x, weight = 0.15 * (1 + point), 0.15 * weight
    rows, half = shape_rows(matrices.nodes, x, 0), 2 * matrices.nodes.size
    psi = 2 * np.pi * np.arange(STEPS) / STEPS
    swing = 1 + 0.5 * np.sin(psi) - 0.3 * np.cos(2 * psi) + 0.2 * np.sin(3 * psi) + 0.1 * np.cos(6 * psi)
    normal = swing[:, np.newaxis] * 1e-3 * (x / 0.3) ** 2  # so small that Coriolis forces vanish
    line = flap_damping(5.7, 0.05, 1.2, speed, 0.03 + x)
    air = SpanLoads(0.03 + x, weight, normal, 0.1 * normal, damping=line)
    found = elastic_root_loads(matrices, air, speed, damping_ratio=0.0)
    damping = np.zeros_like(matrices.mass)
    damping[:half, :half] = rows.T @ ((weight * line)[:, np.newaxis] * rows)
    load = np.concatenate([(normal * weight) @ rows, 0.1 * (normal * weight) @ rows], axis=1)
    path = marched(matrices, load[:, matrices.free], matrices.kept(damping), speed)
    root = path[:, 0]  # flap slope at the root, the first free coordinate
    moment = np.roll(spring * root, 1)  # the first step of the march is at psi = 2 pi / STEPS
    assert matrices.free[0] == 1
    assert np.abs(found.flap_moment - moment).max() < 0.01 * np.ptp(moment)


@pytest.fixture(scope="module")
def flying():
    """A blade of carbon skin and foam, its rotor's loads in forward flight at two speeds, as a beam."""
    geometry = blade_from_measures(
        diameter=0.7112,
        hub_radius=0.03,
        geometric_pitch=0.23,
        widest_chord=0.07,
        widest_fraction=0.35,
        tip_chord=0.025,
        thickness_ratio=0.117,
        section="clark-y",
    )
    speed = np.array([300.0, 380.0])
    solved = solve_tilted(
        geometry, 2, speed, 1.0, 12.0, density=1.225, viscosity=1.79e-5, speed_of_sound=340.3
    )
    nodes = np.concatenate([[0.03], geometry.r, [geometry.radius]])
    chord, thickness, twist = (
        np.interp(nodes, geometry.r, values)
        for values in (geometry.chord, geometry.thickness, geometry.twist)
    )
    layup = Layup(blade_material("carbon-0-90"), 5e-4, blade_material("foam-pmi-52"))
    sections = section_properties(chord, thickness, four_digit_form(0.035), layup)
    spread = fit_mass(nodes - 0.03, sections.line_mass, 0.045)
    beam = beam_from_sections(nodes - 0.03, sections, twist, spread, pivot_radius=0.03)
    damping = flap_damping(5.7, geometry.chord, 1.225, speed[:, np.newaxis], geometry.r)
    weight = span_weights(geometry)
    air = SpanLoads(geometry.r, weight, solved.normal_load, solved.tangential_load, damping=damping)
    return beam, air, speed, solved


def test_a_rotors_loads_on_a_stiff_blade_are_its_own_moments(flying):
    beam, air, speed, solved = flying
    found = elastic_root_loads(beam_matrices(stiffened(beam, 1e4)), air, speed, damping_ratio=0.01)
    moments, shears = blade_moments(solved, 0.03), blade_shears(solved, 0.03)
    pairs = (
        (found.flap_moment, moments.flap),
        (found.lag_moment, moments.lead_lag),
        (found.flap_shear, shears.normal),
        (found.lag_shear, shears.tangential),
    )
    for ours, rigid in pairs:
        assert np.abs(ours - rigid).max() < 2e-3 * np.abs(rigid).max() + float(np.abs(rigid).max()) * float(
            found.left_out.max()
        )


def test_bending_relieves_a_real_blade_and_stays_small(flying):
    beam, air, speed, solved = flying
    tapped, factor = tapped_stiffness(beam, 45.0)
    assert 0.05 < factor < 20.0
    found = elastic_root_loads(beam_matrices(tapped), air, speed, damping_ratio=0.01)
    rigid = blade_moments(solved, 0.03).flap.mean(axis=-1)
    share = found.flap_moment.mean(axis=-1) / rigid
    assert np.all((share > 0.2) & (share < 0.9)) and share[1] < share[0]
    assert np.all(found.slope < 0.2)
    assert np.all(found.feathering_moment.mean(axis=-1) < 0.0)
