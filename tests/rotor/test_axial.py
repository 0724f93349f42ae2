"""The rotor in hover and climb."""

import numpy as np
import pytest
from _rotors import AIR, PLATE, measured, wild_blades
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    AnalyticPolar,
    BladeGeometry,
    LossModel,
    blade_shears,
    ideal_induced_velocity,
    prandtl_loss,
    solve_axial,
    through_flow,
)

FIELDS = (
    "normal_load",
    "tangential_load",
    "inflow_angle",
    "induced_velocity",
    "swirl_velocity",
    "thrust",
    "torque",
    "power",
    "tip_mach",
)


@settings(max_examples=150, deadline=None)
@given(
    blade=wild_blades(),
    blades=st.integers(1, 8),
    speed=st.just(0.0) | st.floats(0.01, 2000.0),
    climb=st.just(0.0) | st.floats(0.01, 200.0) | st.floats(-200.0, -0.01),
    density=st.floats(1e-3, 10.0),
    tip=st.booleans(),
    hub=st.booleans(),
)
def test_no_input_gives_a_hole_in_the_result(blade, blades, speed, climb, density, tip, hub):
    air = AIR | {"density": density}
    found = solve_axial(blade, blades, speed, climb, losses=LossModel(tip, hub), **air)
    for name in FIELDS:
        assert np.all(np.isfinite(getattr(found, name))), name
    if speed == climb == 0.0:
        assert found.thrust == found.torque == 0.0
        return
    # a solved element obeys both momentum equations
    relative = np.hypot(climb + found.induced_velocity, speed * blade.r - found.swirl_velocity)
    sine = np.abs(climb + found.induced_velocity) / np.maximum(relative, 1e-12)
    none = np.full(blade.r.shape, np.inf)
    from_tip = 0.5 * blades * (blade.radius - blade.r) / blade.r if tip else none
    lossy_hub = hub and blade.hub_radius > 1e-12
    from_hub = 0.5 * blades * (blade.r - blade.hub_radius) / blade.hub_radius if lossy_hub else none
    through = through_flow(found.induced_velocity, climb)
    flow = 4.0 * np.pi * density * blade.r * prandtl_loss(sine, from_tip, from_hub) * through
    scale = density * np.pi * blade.r * (np.square(speed * blade.r) + climb**2)
    state = ~found.unbracketed
    for load, velocity in (
        (found.normal_load, found.induced_velocity),
        (found.tangential_load, found.swirl_velocity),
    ):
        assert (flow * velocity / scale)[state] == pytest.approx((blades * load / scale)[state], abs=1e-6)


@settings(max_examples=60, deadline=None)
@given(speed=st.floats(50.0, 500.0), climb=st.floats(0.0, 15.0), pitch=st.floats(0.1, 0.4))
def test_power_is_at_least_that_of_the_ideal_disc(speed, climb, pitch):
    blade = measured(pitch=pitch)
    found = solve_axial(blade, 2, speed, climb, **AIR)
    if found.thrust > 0.0 and not found.unbracketed.any():
        ideal = climb + ideal_induced_velocity(found.thrust, climb, 1.225, blade.radius)
        assert found.power >= found.thrust * ideal


@settings(max_examples=40, deadline=None)
@given(factor=st.floats(0.1, 3.0), speed=st.floats(50.0, 500.0), climb=st.floats(0.0, 15.0))
def test_loads_grow_with_density_when_the_section_does_not_depend_on_it(factor, speed, climb):
    blade = measured()
    one = solve_axial(blade, 2, speed, climb, polar=PLATE, **AIR)
    other = solve_axial(blade, 2, speed, climb, polar=PLATE, **(AIR | {"density": factor * 1.225}))
    assert other.thrust == pytest.approx(factor * one.thrust, rel=1e-6, abs=1e-9)
    assert other.torque == pytest.approx(factor * one.torque, rel=1e-6, abs=1e-9)


@settings(max_examples=30, deadline=None)
@given(
    climb=st.floats(0.0, 10.0), pitch=st.floats(0.15, 0.3), section=st.sampled_from(["clark-y", "naca4412"])
)
def test_thrust_grows_with_speed_once_it_pulls(climb, pitch, section):
    blade = measured(section, pitch)
    # from where the pitch alone outruns the climb
    speed = np.linspace(2.0 * np.pi * climb / pitch + 60.0, 600.0, 40)
    found = solve_axial(blade, 2, speed, climb, **AIR)
    assert np.all(np.diff(found.thrust) > 0.0)


def test_thrust_falls_with_climb_and_turns_into_braking():
    climb = np.linspace(0.0, 25.0, 26)
    found = solve_axial(measured(), 2, 300.0, climb, **AIR)
    assert np.all(np.diff(found.thrust) < 0.0)
    assert found.thrust[-1] < 0.0
    assert found.thrust[0] > 0.0


def test_a_windmill_that_takes_too_much_out_of_the_stream_is_told():
    found = solve_axial(measured(pitch=0.1, widest_chord=0.2, tip_chord=0.15), 4, 400.0, 20.0, **AIR)
    assert found.thrust < 0.0
    assert found.turbulent.any()
    assert any("axial speed" in sentence for sentence in found.breaches)


def test_from_climb_through_the_states_of_descent_to_the_windmill():
    axial = np.linspace(10.0, -40.0, 501)
    found = solve_axial(measured(), 2, 300.0, axial, **AIR)
    assert np.all(np.isfinite(found.thrust))
    assert np.abs(np.diff(found.thrust)).max() < 0.03 * found.thrust.max()  # no jump from state to state
    hover = np.sqrt(found.thrust / (2.0 * 1.225 * np.pi * found.geometry.radius**2))
    down = -axial / hover
    flagged = (down > 0.45) & (down < 2.0)
    assert np.array_equal(found.vortex_ring, flagged)
    assert any("vortex-ring" in told for told in found.breaches)
    assert any("turbulent-wake" in told for told in found.breaches)
    slow = (axial <= 0.0) & (down < 0.45)
    told = solve_axial(measured(), 2, 300.0, axial[slow], **AIR).breaches
    assert not any("vortex" in sentence or "wake" in sentence for sentence in told)
    # power falls in descent (by steps, as stalled roots change their state) and a windmill gives some back
    assert np.all(np.diff(found.power[(axial <= 0.0) & (down < 1.5)][::20]) < 0.0)
    flat = solve_axial(measured(pitch=0.02), 2, 150.0, -14.0, polar=PLATE, **AIR)
    assert flat.power < 0.0
    assert flat.thrust > 0.0


def test_a_windmill_far_beyond_descent_obeys_plain_momentum():
    found = solve_axial(
        measured(pitch=0.05), 2, 150.0, -25.0, polar=PLATE, losses=LossModel(False, False), **AIR
    )
    state = ~found.unbracketed & (found.induced_velocity < 0.4 * 25.0) & (found.induced_velocity > 0.0)
    assert state.sum() > 10
    r, v = found.geometry.r[state], found.induced_velocity[state]
    load = 4.0 * np.pi * 1.225 * r * v * (25.0 - v)
    assert 2.0 * found.normal_load[state] == pytest.approx(load, rel=1e-6)


def test_the_downwash_of_another_rotor_is_a_climb_of_the_stations_it_meets():
    blade = measured()
    climbing = solve_axial(blade, 2, 300.0, 4.0, **AIR)
    blown = solve_axial(blade, 2, 300.0, 0.0, downwash=4.0, **AIR)
    assert blown.normal_load == pytest.approx(climbing.normal_load)
    inner = np.where(blade.r < 0.7 * blade.radius, 4.0, 0.0)
    both = solve_axial(blade, 2, 300.0, [0.0, 1.0], downwash=inner, **AIR)
    hover = solve_axial(blade, 2, 300.0, 0.0, **AIR)
    assert both.normal_load[0, inner > 0.0] == pytest.approx(climbing.normal_load[inner > 0.0])
    assert both.normal_load[0, inner == 0.0] == pytest.approx(hover.normal_load[inner == 0.0])
    assert both.thrust[1] < both.thrust[0] < hover.thrust


def test_negative_pitch_in_hover_mirrors_positive():
    blade = measured()
    mirrored = BladeGeometry(**(vars(blade) | {"twist": -blade.twist}))
    up = solve_axial(blade, 2, 300.0, 0.0, polar=PLATE, **AIR)
    down = solve_axial(mirrored, 2, 300.0, 0.0, polar=PLATE, **AIR)
    outer = blade.r > 0.5 * blade.radius  # stalled roots may settle in another of their states
    assert down.normal_load[outer] == pytest.approx(-up.normal_load[outer])
    assert down.tangential_load[outer] == pytest.approx(up.tangential_load[outer])


def test_an_element_without_a_rotor_state_is_flagged_and_told():
    # almost stopped in a strong stream, chord set so that lift drives the air backwards round
    blade = measured()
    found = solve_axial(
        blade, 8, 1.0, 50.0, polar=AnalyticPolar(cl=lambda a: 0.0 * a + 2.0, cd=lambda a: 0.0 * a), **AIR
    )
    assert found.unbracketed.any()
    assert "no rotor state" in found.breaches[0]
    assert np.all(found.induced_velocity[found.unbracketed] == pytest.approx(0.0, abs=1e-9))


def test_no_loads_without_turning_or_stream():
    found = solve_axial(measured(), 2, [0.0, 200.0], 0.0, **AIR)
    assert found.thrust[0] == found.torque[0] == 0.0
    assert found.thrust[1] > 0.0


def test_losses_take_load_off_tip_and_hub():
    blade = measured()
    full = solve_axial(blade, 2, 300.0, 0.0, losses=LossModel(tip=False, hub=False), **AIR)
    tip = solve_axial(blade, 2, 300.0, 0.0, losses=LossModel(hub=False), **AIR)
    hub = solve_axial(blade, 2, 300.0, 0.0, losses=LossModel(tip=False), **AIR)
    assert tip.normal_load[-1] < 0.5 * full.normal_load[-1]
    assert hub.normal_load[0] < full.normal_load[0]
    assert full.thrust > tip.thrust


def test_conditions_broadcast_and_agree_with_single_ones():
    blade = measured()
    speed, climb = np.array([[200.0], [400.0]]), np.array([0.0, 3.0, 6.0])
    together = solve_axial(blade, 3, speed, climb, **AIR)
    assert together.normal_load.shape == (2, 3, blade.r.size)
    assert together.thrust.shape == (2, 3)
    single = solve_axial(blade, 3, 400.0, 6.0, **AIR)
    assert together.thrust[1, 2] == pytest.approx(single.thrust, rel=1e-7)
    assert blade_shears(together, 0.0).normal * 3 == pytest.approx(together.thrust)


def test_a_neighbouring_solution_changes_nothing_but_the_time():
    blade, climb = measured(), np.array([0.0, 4.0])
    start = solve_axial(blade, 2, 290.0, climb, **AIR)
    fresh = solve_axial(blade, 2, 300.0, climb, **AIR)
    followed = solve_axial(blade, 2, 300.0, climb, near=start, **AIR)
    assert followed.thrust == pytest.approx(fresh.thrust, rel=1e-6)
    with pytest.raises(ValueError, match="near"):
        solve_axial(blade, 2, 300.0, 0.0, near=start, **AIR)


def test_reynolds_and_mach_of_the_elements_and_what_lies_outside():
    blade = measured()
    found = solve_axial(blade, 2, [20.0, 900.0], 0.0, **AIR)
    assert found.reynolds[1] == pytest.approx(1.225 * 900.0 * blade.r * blade.chord / 1.79e-5)
    assert found.tip_mach[1] == pytest.approx(900.0 * blade.radius / 340.3)
    assert found.outside_polar[0].all()
    assert found.outside_polar[1, -1]
    told = " ".join(found.breaches)
    assert "section Reynolds number" in told
    assert "section Mach number" in told


def test_little_trust_in_the_section_is_told():
    found = solve_axial(measured("thin-cambered-6", pitch=0.5), 2, 300.0, 0.0, **AIR)
    assert any("confidence" in sentence for sentence in found.breaches)
    assert solve_axial(measured(), 2, 300.0, 0.0, **AIR).breaches == ()


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"rotation_speed": -1.0}, "rotation_speed"),
        ({"downwash": np.inf}, "downwash"),
        ({"axial_velocity": np.nan}, "axial_velocity"),
        ({"density": 0.0}, "density"),
        ({"viscosity": np.inf}, "viscosity"),
        ({"speed_of_sound": -1.0}, "speed_of_sound"),
        ({"blades": 0}, "blades"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change, word):
    inputs = {"blades": 2, "rotation_speed": 100.0, "axial_velocity": 0.0} | AIR | change
    with pytest.raises(ValueError, match=word):
        solve_axial(measured(), **inputs)
