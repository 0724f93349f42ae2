"""Parts per turn, the sum over blades, and the hub's axes."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import (
    all_blades,
    blade_from_measures,
    blade_moments,
    blade_shears,
    greatest_departure,
    hub_loads,
    solve_tilted,
    thrust_over_turn,
    torque_over_turn,
    turn_harmonics,
)

AIR = {"density": 1.225, "viscosity": 1.79e-5, "speed_of_sound": 340.3}
SERIES = st.lists(st.floats(-100.0, 100.0), min_size=6, max_size=24)


@pytest.fixture(scope="module")
def blade():
    return blade_from_measures(
        diameter=0.7112,
        hub_radius=0.03,
        geometric_pitch=0.23,
        widest_chord=0.07,
        widest_fraction=0.35,
        tip_chord=0.025,
        thickness_ratio=0.117,
        section="clark-y",
    )


@given(SERIES)
def test_the_parts_add_up_to_the_series(series):
    load = np.array(series)
    parts = turn_harmonics(load)
    psi = 2.0 * np.pi / load.size * np.arange(load.size)
    order = np.arange(1, parts.cosine.size + 1)[:, None]
    total = parts.mean + parts.cosine @ np.cos(order * psi) + parts.sine @ np.sin(order * psi)
    assert total == pytest.approx(load, abs=1e-9)


@given(SERIES, st.integers(1, 4))
def test_the_sum_over_blades_is_the_sum_of_turned_series(series, blades):
    load = np.array(series * blades)  # so that every blade stands on a sample
    turned = [np.roll(load, -k * len(series)) for k in range(blades)]
    assert all_blades(load, blades) == pytest.approx(np.sum(turned, axis=0), abs=1e-8)


@pytest.mark.parametrize("blades", [2, 3])
def test_a_rotor_hands_on_multiples_of_its_blades_alone(blade, blades):
    found = solve_tilted(blade, blades, 300.0, 0.5, 12.0, **AIR)
    for over_turn, mean in ((thrust_over_turn(found), found.thrust), (torque_over_turn(found), found.torque)):
        parts = turn_harmonics(over_turn)
        assert parts.mean == pytest.approx(mean)
        others = [k for k in range(1, 19) if k % blades]
        assert np.all(parts.amplitude[np.array(others) - 1] < 1e-9)
        assert parts.amplitude[blades - 1] > 1e-4 * mean
    one = turn_harmonics(blade_shears(found, 0.0).normal)
    assert one.amplitude[0] > 10.0 * one.amplitude[2]  # once per turn leads, thrice is small


def in_aircraft_axes(found, bearing):
    """Forces and moments by placing every blade in axes forward, left, up, and summing cross products."""
    downwind = bearing + np.pi  # bearings grow to the right: clockwise seen from above
    place = -downwind + found.spin * found.azimuth  # angle of the blade, counter-clockwise seen from above
    radial = np.stack([np.cos(place), np.sin(place), 0.0 * place], axis=-1)
    up = np.array([0.0, 0.0, 1.0])
    onward = found.spin * np.cross(up, radial)
    normal, tangential = blade_shears(found, 0.0).normal, blade_shears(found, 0.0).tangential
    moments = blade_moments(found, 0.0)
    force = normal[:, None] * up - tangential[:, None] * onward
    flap, lead_lag = moments.flap[:, None], moments.lead_lag[:, None]
    moment = flap * np.cross(radial, up) - lead_lag * np.cross(radial, onward)
    return found.blades * force.mean(axis=0), found.blades * moment.mean(axis=0)


@settings(max_examples=20, deadline=None)
@given(bearing=st.floats(-7.0, 7.0), spin=st.sampled_from([1, -1]))
def test_turning_the_wind_turns_the_loads(blade, bearing, spin):
    found = solve_tilted(blade, 2, 300.0, 0.5, 12.0, spin=spin, azimuths=24, **AIR)
    hub = hub_loads(found, bearing)
    force, moment = in_aircraft_axes(found, bearing)
    # right, nose up and nose right are negative in axes forward, left, up
    assert [hub.forward, -hub.right, hub.upward] == pytest.approx(force, abs=1e-9)
    assert [hub.roll, -hub.pitch, -hub.yaw] == pytest.approx(moment, abs=1e-9)


def test_bearings_broadcast(blade):
    found = solve_tilted(blade, 2, 300.0, 0.5, 12.0, **AIR)
    around = hub_loads(found, np.linspace(0.0, 2.0 * np.pi, 9))
    assert around.forward.shape == (9,)
    size = np.hypot(found.drag_force, found.side_force)
    assert np.hypot(around.forward, around.right) == pytest.approx(size)
    assert hub_loads(found).forward == pytest.approx(-found.drag_force)


@given(
    count=st.integers(6, 40),
    parts=st.lists(st.tuples(st.floats(-2.0, 2.0), st.floats(-2.0, 2.0)), min_size=2, max_size=2),
)
def test_greatest_departure_is_that_of_the_curve_itself(count, parts):
    def load(psi):
        return 3.0 + sum(a * np.cos(k * psi) + b * np.sin(k * psi) for k, (a, b) in enumerate(parts, start=1))

    exact = np.abs(load(np.linspace(0.0, 2.0 * np.pi, 7201)) - 3.0).max()
    found = greatest_departure(load(2.0 * np.pi / count * np.arange(count)))
    # the finest curve has a step of 2 pi / 48 here: a part twice per turn is missed by 1 - cos(2 pi / 48)
    assert found == pytest.approx(exact, rel=0.01, abs=1e-12)
