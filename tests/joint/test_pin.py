import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import pin

sizes = st.floats(1e-3, 20e-3)


def test_m5_class_8_8_pivot_in_double_shear():
    """Limit shear 6000 N, FF 1.15, FS 1.4, Fsu 480 MPa: shank 5 mm, thread root d3 4.0185 mm."""
    shank, thread = pin.shear_capacity([5e-3, 4.0185e-3], 480e6)
    assert shank == pytest.approx(9424.8, abs=0.05)
    assert thread == pytest.approx(6087.8, abs=0.2)
    for limit, shank_margin, thread_margin in ((6000.0, 0.951, 0.260), (3000.0, 2.903, 1.521)):
        demand = 1.15 * 1.4 * pin.double_shear_force(limit)
        assert shank / demand - 1 == pytest.approx(shank_margin, abs=0.0005)
        assert thread / demand - 1 == pytest.approx(thread_margin, abs=0.0005)


def test_plastic_moment_is_1_698_times_the_elastic_one():
    elastic = 400e6 * pin.section_modulus(5e-3)
    assert pin.plastic_moment(5e-3, 400e6) / elastic == pytest.approx(pin.PLASTIC_BENDING_FACTOR)
    assert pytest.approx(1.698, abs=0.0005) == pin.PLASTIC_BENDING_FACTOR


def test_plastic_moment_integrates_the_section():
    radius = 2.5e-3
    y = np.linspace(0, radius, 20001)
    integral = 2 * np.trapezoid(2 * np.sqrt(radius**2 - y**2) * y, y)
    assert pin.plastic_moment(2 * radius, 400e6) == pytest.approx(400e6 * integral, rel=1e-5)


@given(sizes, sizes, st.floats(0, 2e-3))
def test_air_force_moment_integrates_uniform_bearing(plate, lug, gap):
    """Mid-lug moment from the line loads themselves: plate P/2 over t1, half lug P/2 over t2/2."""
    inner = np.linspace(0, lug / 2, 101)
    outer = lug / 2 + gap + np.linspace(0, plate, 101)
    load = 100.0
    moment = load / 2 * (outer.mean() - inner.mean())
    assert pin.bending_moment_air_force(load, plate, lug, gap) == pytest.approx(moment)


@given(sizes, sizes, st.floats(0, 2e-3))
def test_knuckle_moment_is_the_lower_one(plate, lug, gap):
    air_force, knuckle = (method(100.0, plate, lug, gap) for method in pin.BENDING_METHODS.values())
    assert knuckle < air_force
    assert air_force - knuckle == pytest.approx(50.0 * plate / 6)


@given(st.floats(10, 1e4), st.floats(1.01, 3))
def test_stress_rises_with_load(load, factor):
    def stress(force):
        return pin.bending_stress(pin.bending_moment_air_force(force, 3e-3, 8e-3, 0.1e-3), 5e-3)

    assert stress(load * factor) == pytest.approx(factor * stress(load))


@pytest.mark.parametrize("bad", [0.0, -1e-3, np.nan, np.inf])
def test_refuses_an_impossible_diameter_by_name(bad):
    with pytest.raises(ValueError, match="diameter must be"):
        pin.shear_area([5e-3, bad])
