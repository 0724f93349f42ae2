"""Response to an unbalance: closed forms of two masses, a free chain solved here, the filters stepped."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.loss import (
    HIGH_PASS,
    LOW_PASS,
    Mount,
    carried_acceleration,
    mount_of,
    pair_response,
    unbalance_magnification,
    vibration_measure,
)


def test_one_mode_rises_and_falls_to_one():
    r = np.array([1e-3, 1.0, 1e3])
    assert unbalance_magnification(r, 0.02) == pytest.approx([1e-6, 25.0, 1.0], rel=1e-4)


@given(st.floats(0.1, 3.0), st.floats(0.02, 1.0), st.floats(0.3, 3.0), st.floats(0.0, 0.3))
def test_two_masses_on_the_ground_are_those_of_the_textbook(speed, light, tuned, damping):
    """Den Hartog's closed form of a main mass with a damped absorber."""
    main, rate = 1.0, tuned**2 * light
    drag = 2.0 * damping * light
    mass = np.diag([main, light])
    stiffness = np.array([[1.0 + rate, -rate], [-rate, rate]])
    coupled = np.array([[drag, -drag], [-drag, drag]])
    found = pair_response(mass, coupled, stiffness, [1.0, 0.0], speed)
    g = speed
    above = (2 * damping * g) ** 2 + (g**2 - tuned**2) ** 2
    below = (2 * damping * g) ** 2 * (g**2 - 1 + light * g**2) ** 2
    below += (light * tuned**2 * g**2 - (g**2 - 1) * (g**2 - tuned**2)) ** 2
    if below > 1e-9:
        assert abs(found[0]) == pytest.approx(np.sqrt(above / below), rel=1e-6)


def chain(speed, tip, plate, total, force, net):
    """Absolute motion of tip, body and plate, three unknowns, and their accelerations."""
    m = np.diag([tip.mass, total - tip.mass - plate.mass, plate.mass])
    link = np.array([[1.0, -1.0, 0.0], [-1.0, 1.0, 0.0], [0.0, 0.0, 0.0]])
    other = np.array([[0.0, 0.0, 0.0], [0.0, 1.0, -1.0], [0.0, -1.0, 1.0]])
    stiff = tip.stiffness * link + plate.stiffness * other
    drag = tip.damping * link + plate.damping * other
    load = np.array([force, net - force, 0.0])
    motion = np.linalg.solve(stiff + 1j * speed * drag - speed**2 * m, load)
    return -(speed**2) * motion


@pytest.mark.parametrize("net", [None, 0.0])
@pytest.mark.parametrize("hertz", [3.0, 15.0, 21.0, 24.0, 60.0, 110.0])
def test_the_free_aircraft_is_a_chain_of_three(hertz, net):
    tip, plate, total = mount_of(0.6, 21.0, 0.02), mount_of(0.14, 24.0, 0.12), 26.0
    speed = 2 * np.pi * hertz
    body, carried = carried_acceleration(tip, plate, total, 50.0, speed, net)
    _, wanted_body, wanted = chain(speed, tip, plate, total, 50.0, 50.0 if net is None else net)
    assert body == pytest.approx(wanted_body, rel=1e-9)
    assert carried == pytest.approx(wanted, rel=1e-9)


def test_arrays_are_solved_together():
    speed = 2 * np.pi * np.linspace(5.0, 100.0, 7)
    tip, plate = mount_of(0.6, 21.0, 0.02), mount_of(0.14, 24.0, 0.12)
    body, carried = carried_acceleration(tip, plate, np.array([[26.0], [13.0]]), 5.0, speed)
    assert body.shape == carried.shape == (2, 7)
    one, _ = carried_acceleration(tip, plate, 13.0, 5.0, speed[3])
    assert body[1, 3] == pytest.approx(one)


def test_a_stiff_arm_and_a_massless_plate_leave_force_over_mass():
    rigid = Mount(0.0, 1.0, 0.0)
    body, carried = carried_acceleration(mount_of(0.6, 1e4, 0.02), rigid, 26.0, 130.0, 200.0)
    assert abs(body) == pytest.approx(5.0, rel=1e-5)
    assert carried == body


def test_a_soft_mount_is_the_transmissibility_of_the_textbook():
    plate = mount_of(1e-6, 24.0, 0.12)
    for hertz in (10.0, 24.0, 70.0):
        r = hertz / 24.0
        body, carried = carried_acceleration(mount_of(0.6, 1e5, 0.02), plate, 26.0, 130.0, 2 * np.pi * hertz)
        passed = np.hypot(1.0, 0.24 * r) / np.hypot(1 - r**2, 0.24 * r)
        assert abs(carried / body) == pytest.approx(passed, rel=1e-6)


def test_masses_that_outweigh_the_whole_are_refused():
    with pytest.raises(ValueError, match="weigh less"):
        carried_acceleration(mount_of(20.0, 20.0, 0.02), mount_of(6.0, 24.0, 0.1), 26.0, 1.0, 100.0)


@pytest.mark.parametrize("hertz", [3.0, 8.0, 70.0])
def test_the_measure_is_what_stepped_filters_settle_to(hertz):
    step = 2e-5
    time = np.arange(0.0, 2.0, step)
    signal = 12.0 * np.sin(2 * np.pi * hertz * time)
    slow = smooth = 0.0
    share = [1.0 - np.exp(-2 * np.pi * corner * step) for corner in (HIGH_PASS, LOW_PASS)]
    seen = np.empty_like(time)
    for at, value in enumerate(signal):
        slow += share[0] * (value - slow)
        smooth += share[1] * ((value - slow) ** 2 - smooth)
        seen[at] = smooth
    settled = np.sqrt(seen[time > 1.5])
    assert settled.max() == pytest.approx(vibration_measure(12.0, hertz), rel=2e-3)


def test_a_fast_sine_measures_its_effective_value():
    assert vibration_measure(10.0, 1e5) == pytest.approx(10.0 / np.sqrt(2.0), rel=1e-4)
