"""Root loads of the elastic blade: rigid limits, balance, hinges, body rates, Coriolis and feathering."""

from dataclasses import replace

import numpy as np
import pytest

from bladehold.blade import (
    SLOPE_RANGE,
    BladeBeam,
    RootSupport,
    SpanLoads,
    beam_matrices,
    blade_modes,
    elastic_root_loads,
    flap_damping,
    outboard_pull,
    span_moments,
    stiffened,
)
from bladehold.blade.beam import shape_rows

AZIMUTHS = 24
PSI = 2 * np.pi * np.arange(AZIMUTHS) / AZIMUTHS


def blade(pivot_radius=0.03, tip_mass=0.0, angle=0.2, offset=0.0):
    stations = np.linspace(0.0, 0.3, 9)
    shape = 1.0 - 0.6 * stations / 0.3
    return BladeBeam(
        stations=stations,
        line_mass=0.15 * shape,
        flatwise_stiffness=6.0 * shape**3,
        edgewise_stiffness=250.0 * shape**3,
        structural_angle=angle * (1.5 - shape),
        flat_inertia=np.full(9, 2e-7),
        edge_inertia=3e-5 * shape,
        mass_offset=np.full(9, offset),
        pivot_radius=pivot_radius,
        tip_mass=tip_mass,
    )


def air_on(beam, turn=None, normal=120.0, tangential=12.0, damping=None):
    """Loads growing along the radius, integrated by Gauss points, times a function of the azimuth."""
    point, weight = np.polynomial.legendre.leggauss(24)
    radius = beam.pivot_radius + 0.5 * beam.length * (1 + point)
    swing = np.ones(AZIMUTHS) if turn is None else turn
    load = swing[:, np.newaxis] * (radius / radius[-1]) ** 2
    weight = 0.5 * beam.length * weight
    return SpanLoads(radius, weight, normal * load, tangential * load, damping=damping)


def rigid(beam, air, speed, upward_angle=0.0):
    """Flap and lag shear and moment of a rigid blade, by statics."""
    arm = air.weight * (air.radius - beam.pivot_radius)
    _, first, second = span_moments(beam.stations, beam.line_mass)
    pressed = speed**2 * upward_angle * (beam.pivot_radius * first + second)
    return (
        air.normal @ air.weight,
        air.normal @ arm - pressed,
        air.tangential @ air.weight,
        air.tangential @ arm,
    )


TURN = 1.0 + 0.5 * np.sin(PSI) + 0.2 * np.cos(2 * PSI) - 0.05 * np.sin(5 * PSI)


@pytest.mark.parametrize("upward_angle", [0.0, 0.05])
def test_a_very_stiff_blade_is_a_rigid_one(upward_angle):
    beam = stiffened(blade(), 1e5)
    air = air_on(beam, TURN)
    found = elastic_root_loads(beam_matrices(beam), air, 400.0, damping_ratio=0.01, upward_angle=upward_angle)
    wanted = rigid(beam, air, 400.0, upward_angle)
    ours = (found.flap_shear, found.flap_moment, found.lag_shear, found.lag_moment)
    for one, two in zip(ours, wanted, strict=True):
        assert np.abs(one - two).max() < 1e-3 * np.abs(two).max()
    assert float(found.centrifugal) == pytest.approx(400.0**2 * float(outboard_pull(beam, [0.0])[0]))
    assert np.all(found.flap_angle == 0.0) and np.all(found.lag_angle == 0.0)


def test_steady_moment_comes_from_curvature_too():
    """The balance of forces against EI w'' at the root, with ever more elements."""
    beam = blade(angle=0.0)
    air = air_on(beam)
    errors = []
    for elements in (6, 12, 24):
        matrices = beam_matrices(beam, elements=elements)
        found = elastic_root_loads(matrices, air, 300.0, damping_ratio=0.0)
        h = float(matrices.nodes[1])
        stiff = matrices.kept(matrices.elastic + 300.0**2 * matrices.centrifugal)
        load = np.zeros(matrices.mass.shape[0])
        rows = shape_rows(matrices.nodes, air.radius - beam.pivot_radius, 0)
        load[: 2 * matrices.nodes.size] = (air.weight * air.normal[0]) @ rows
        bent = np.zeros_like(load)
        bent[matrices.free] = np.linalg.solve(stiff, load[matrices.free])
        curvature = 6 * bent[2] / h**2 - 2 * bent[3] / h
        errors.append(abs(beam.flatwise_stiffness[0] * curvature / found.flap_moment[0] - 1))
    assert errors[1] < 0.4 * errors[0] and errors[2] < 0.4 * errors[1]
    assert errors[2] < 0.01


def test_balance_converges_faster_than_curvature():
    beam = blade()
    air = air_on(beam, TURN)
    runs = [
        elastic_root_loads(beam_matrices(beam, elements=n), air, 350.0, damping_ratio=0.01).flap_moment
        for n in (6, 12, 48)
    ]
    scale = np.abs(runs[2]).max()
    coarse, default = (np.abs(run - runs[2]).max() / scale for run in runs[:2])
    assert default < 3e-4 and default < 0.3 * coarse


def test_bending_relieves_the_steady_moment_only_upward():
    beam = blade()
    air = air_on(beam)
    moments = [
        float(
            elastic_root_loads(
                beam_matrices(stiffened(beam, factor)), air, 400.0, damping_ratio=0.0
            ).flap_moment[0]
        )
        for factor in (0.2, 1.0, 5.0, 1e5)
    ]
    assert np.all(np.diff(moments) > 0.0) and moments[0] > 0.0


def test_a_lag_hinge_carries_no_moment():
    matrices = beam_matrices(blade(), RootSupport(lag_spring=0.0))
    found = elastic_root_loads(matrices, air_on(blade(), TURN), 300.0, damping_ratio=0.01)
    assert np.abs(found.lag_moment).max() < 1e-8 * found.flap_moment.max()


def test_a_stiff_hinged_blade_trails_as_a_rigid_one():
    beam = stiffened(blade(angle=0.0), 1e5)
    air = air_on(beam)
    matrices = beam_matrices(beam, RootSupport(lag_spring=0.0))
    found = elastic_root_loads(matrices, air, 300.0, damping_ratio=0.01)
    drag = float(rigid(beam, air, 300.0)[3][0])
    _, first, _ = span_moments(beam.stations, beam.line_mass)
    assert float(found.lag_angle[0]) == pytest.approx(drag / (300.0**2 * 0.03 * float(first)), rel=1e-3)
    on_axis = beam_matrices(replace(beam, pivot_radius=0.0), RootSupport(lag_spring=0.0))
    with pytest.raises(ValueError, match="pivot_radius must be above 0 for a lag hinge"):
        elastic_root_loads(on_axis, air, 300.0, damping_ratio=0.01)


def test_a_spring_carries_the_moment_of_the_balance():
    beam, spring = blade(), 40.0
    matrices = beam_matrices(beam, RootSupport(flap_spring=spring))
    found = elastic_root_loads(matrices, air_on(beam, TURN), 350.0, damping_ratio=0.0)
    assert np.abs(found.flap_moment - spring * found.flap_angle).max() < 1e-8 * found.flap_moment.max()


def element_force(place, rate, omega, time):
    """Upward force per mass on a blade point, by differentiating its path in a turning body twice."""

    def position(t):
        psi = omega * t
        turning = np.array([place * np.cos(psi), place * np.sin(psi), 0.0])
        axis, angle = rate / np.linalg.norm(rate), np.linalg.norm(rate) * t
        return (
            turning * np.cos(angle)
            + np.cross(axis, turning) * np.sin(angle)
            + axis * (axis @ turning) * (1 - np.cos(angle))
        )

    h = 1e-4
    acceleration = (position(time + h) - 2 * position(time) + position(time - h)) / h**2
    axis, angle = rate / np.linalg.norm(rate), np.linalg.norm(rate) * time
    up = np.array([0.0, 0.0, 1.0])
    normal = (
        up * np.cos(angle) + np.cross(axis, up) * np.sin(angle) + axis * (axis @ up) * (1 - np.cos(angle))
    )
    return -acceleration @ normal


@pytest.mark.parametrize("rate", [(1.5, 0.0), (0.0, 2.0), (-1.0, 0.7)])
def test_body_rates_against_a_differentiated_path(rate):
    beam, omega = stiffened(blade(tip_mass=0.003), 1e6), 90.0
    air = air_on(beam, normal=0.0, tangential=0.0)
    found = elastic_root_loads(
        beam_matrices(beam), air, omega, damping_ratio=0.0, rate_along=rate[0], rate_across=rate[1]
    )
    _, first, second = span_moments(beam.stations, beam.line_mass)
    tip = beam.tip_mass * 0.3
    inertia = float(second) + tip * 0.3 + beam.pivot_radius * (float(first) + tip)
    for k in (0, 5, 11, 20):
        per_mass = element_force(1.0, np.array([*rate, 0.0]), omega, PSI[k] / omega)
        wanted = inertia * per_mass
        assert float(found.flap_moment[k]) == pytest.approx(wanted, rel=1e-3, abs=0.02 * inertia * omega)
    amplitude = 2.0 * inertia * omega * np.hypot(*rate)
    assert np.ptp(found.flap_moment) / 2 == pytest.approx(amplitude, rel=0.01)


def test_gyroscopic_moment_of_a_blade_pivoted_on_the_axis_is_twice_inertia_speed_rate():
    beam = stiffened(blade(pivot_radius=0.0), 1e6)
    found = elastic_root_loads(
        beam_matrices(beam),
        air_on(beam, normal=0.0),
        np.array([200.0, 400.0]),
        damping_ratio=0.0,
        rate_across=1.2,
    )
    inertia = float(span_moments(beam.stations, beam.line_mass)[2])
    once = 2 * np.abs(np.fft.rfft(found.flap_moment, axis=-1)[:, 1]) / AZIMUTHS
    assert once == pytest.approx(2.0 * inertia * np.array([200.0, 400.0]) * 1.2, rel=1e-4)


def test_coriolis_moment_of_a_flapping_rigid_blade():
    """A rigid blade on a flap spring, very stiff in lag: lag moment 2 I Omega^2 beta dbeta/dpsi, forward."""
    beam = stiffened(blade(pivot_radius=0.0, angle=0.0, tip_mass=0.002), 1e6)
    matrices = beam_matrices(beam, RootSupport(flap_spring=60.0))
    air = air_on(beam, 1.0 + 0.4 * np.sin(PSI), tangential=0.0, damping=np.full(24, 4.0))
    found = elastic_root_loads(matrices, air, 300.0, damping_ratio=0.0, upward_angle=0.03)
    beta = 0.03 + found.flap_angle
    parts = np.fft.rfft(found.flap_angle)
    rate = np.fft.irfft(1j * np.arange(parts.size) * parts, n=AZIMUTHS)
    inertia = float(span_moments(beam.stations, beam.line_mass)[2]) + 0.002 * 0.3**2
    wanted = -2.0 * inertia * 300.0**2 * beta * rate
    assert np.abs(wanted).max() > 0.01
    assert np.abs(found.lag_moment - wanted).max() < 2e-3 * np.abs(wanted).max()


def test_propeller_moment_turns_a_blade_flat():
    beam = stiffened(blade(angle=0.3), 1e6)
    found = elastic_root_loads(beam_matrices(beam), air_on(beam), 400.0, damping_ratio=0.0)
    x = np.linspace(0, 0.3, 20001)
    a, edge, flat = (
        np.interp(x, beam.stations, v) for v in (beam.structural_angle, beam.edge_inertia, beam.flat_inertia)
    )
    wanted = -(400.0**2) * np.trapezoid((edge - flat) * np.sin(a) * np.cos(a), x)
    assert wanted < 0.0
    assert found.feathering_moment == pytest.approx(wanted, rel=1e-5)


def test_a_mass_ahead_of_the_pivot_line_against_sums_over_points():
    """Rigid coned blade in a pitching body: moments of inertia forces at the masses themselves."""
    beam = stiffened(blade(angle=0.3, offset=0.004), 1e7)
    even = replace(beam, flat_inertia=np.zeros(9), edge_inertia=np.zeros(9))
    cone, rate, omega = 0.04, 1.5, 300.0
    air = air_on(beam, normal=0.0, tangential=0.0)
    found = elastic_root_loads(
        beam_matrices(even), air, omega, damping_ratio=0.0, upward_angle=cone, rate_along=rate
    )
    x = np.linspace(0, 0.3, 20001)
    line, a = np.interp(x, beam.stations, beam.line_mass), np.interp(x, beam.stations, beam.structural_angle)
    ahead, up = 0.004 * np.cos(a), 0.004 * np.sin(a) + cone * x
    for k in (0, 7):
        lift = -2.0 * omega * rate * np.cos(PSI[k]) * (0.03 + x)  # N/kg
        wanted = np.trapezoid(line * (ahead * lift - up * omega**2 * ahead), x)
        assert float(found.feathering_moment[k]) == pytest.approx(wanted, rel=2e-3)


def test_twisting_of_the_air_is_summed():
    beam = stiffened(blade(angle=0.0), 1e6)
    air = air_on(beam, TURN)
    twisted = replace(air, twisting=-0.3 * np.ones((AZIMUTHS, 24)) * TURN[:, np.newaxis])
    found = elastic_root_loads(beam_matrices(beam), twisted, 300.0, damping_ratio=0.0)
    assert found.feathering_moment == pytest.approx(-0.3 * 0.3 * TURN, rel=1e-6)


def test_resonance_is_bounded_by_damping_alone():
    """At a crossing with 3 per turn the flap moment falls as damping grows."""
    beam = blade(angle=0.0)
    matrices = beam_matrices(beam)
    speeds = np.linspace(50.0, 400.0, 701)
    first = blade_modes(matrices, speeds).frequency[:, 0] * 2 * np.pi
    crossing = speeds[np.argmin(np.abs(first - 3 * speeds))]
    air = air_on(beam, 1.0 + 0.1 * np.cos(3 * PSI))

    def swing(ratio, speed=crossing):
        return float(np.ptp(elastic_root_loads(matrices, air, speed, damping_ratio=ratio).flap_moment))

    assert swing(0.005) > 1.8 * swing(0.01) > 3.0 * swing(0.02)
    assert swing(0.01) > 10 * swing(0.01, 1.4 * crossing)


def test_conditions_together_are_conditions_alone():
    beam = blade()
    matrices = beam_matrices(beam, RootSupport(200.0, 300.0))
    speeds = np.array([[200.0, 300.0, 400.0], [250.0, 350.0, 450.0]])
    damping = flap_damping(5.7, 0.05, 1.2, speeds[..., np.newaxis], air_on(beam).radius)
    air = air_on(beam, TURN)
    growing = (speeds / 300.0)[..., np.newaxis, np.newaxis]
    many = replace(air, normal=growing * air.normal, tangential=growing * air.tangential, damping=damping)
    rates = np.array([0.0, 1.0, 2.0])
    found = elastic_root_loads(matrices, many, speeds, damping_ratio=0.01, rate_across=rates)
    assert found.flap_moment.shape == (2, 3, AZIMUTHS) and found.centrifugal.shape == (2, 3)
    one = replace(air, normal=many.normal[1, 2], tangential=many.tangential[1, 2], damping=damping[1, 2])
    alone = elastic_root_loads(matrices, one, 450.0, damping_ratio=0.01, rate_across=2.0)
    for name in vars(alone):
        assert np.allclose(getattr(found, name)[1, 2], getattr(alone, name), rtol=1e-9, atol=1e-12), name


def test_parts_beyond_six_are_told():
    beam = blade()
    air = air_on(beam, 1.0 + 0.1 * np.cos(9 * PSI))
    found = elastic_root_loads(beam_matrices(beam), air, 300.0, damping_ratio=0.01)
    assert float(found.left_out) == pytest.approx(0.1, rel=1e-9)
    smooth = elastic_root_loads(beam_matrices(beam), air_on(beam, TURN), 300.0, damping_ratio=0.01)
    assert float(smooth.left_out) < 1e-12


def test_large_slopes_are_seen():
    beam = stiffened(blade(), 0.05)
    found = elastic_root_loads(beam_matrices(beam), air_on(beam, normal=900.0), 200.0, damping_ratio=0.01)
    assert SLOPE_RANGE.breach(found.slope) is not None
    steeper = elastic_root_loads(
        beam_matrices(beam), air_on(beam, normal=900.0), 200.0, damping_ratio=0.01, upward_angle=0.1
    )
    assert steeper.slope != found.slope


def test_refusals():
    beam = blade()
    matrices = beam_matrices(beam)
    air = air_on(beam)
    with pytest.raises(ValueError, match="more than 12 steps round the turn, got 12"):
        elastic_root_loads(
            matrices,
            replace(air, normal=air.normal[:12], tangential=air.tangential[:12]),
            300.0,
            damping_ratio=0.01,
        )
    with pytest.raises(ValueError, match="speed must be above 0"):
        elastic_root_loads(matrices, air, 0.0, damping_ratio=0.01)
