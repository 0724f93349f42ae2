"""The air room against an open atmosphere library, and its own limits."""

import numpy as np
import pytest
from ambiance import Atmosphere
from hypothesis import given
from hypothesis import strategies as st

from bladehold.air import ALTITUDE_RANGE, air_at, humid_density, standard_temperature, viscosity


def test_agrees_with_an_open_library_over_the_whole_layer():
    geopotential = np.linspace(-1500.0, 10900.0, 40)
    oracle = Atmosphere(Atmosphere.geop2geom_height(geopotential))
    air = air_at(geopotential, standard_temperature(geopotential))
    np.testing.assert_allclose(air.density, oracle.density, rtol=2e-6)
    np.testing.assert_allclose(air.pressure, oracle.pressure, rtol=2e-6)
    np.testing.assert_allclose(air.speed_of_sound, oracle.speed_of_sound, rtol=2e-6)
    np.testing.assert_allclose(viscosity(air.temperature), oracle.dynamic_viscosity, rtol=1e-5)


def test_humid_and_dry_density_of_stand_data_reduction():
    assert float(humid_density(293.15, 101325.0)) == pytest.approx(1.20408, abs=2e-4)
    assert float(humid_density(303.15, 101325.0, 0.5)) == pytest.approx(1.15517, abs=2e-4)


@given(st.floats(240.0, 330.0), st.floats(0.0, 1.0), st.floats(0.0, 5000.0))
def test_warmer_and_wetter_air_is_thinner(temperature, humidity, altitude):
    here = air_at(altitude, temperature, humidity).density
    assert air_at(altitude, temperature + 1.0, humidity).density < here
    assert air_at(altitude, temperature, min(humidity + 0.1, 1.0)).density <= here


def test_broadcasts_over_conditions():
    air = air_at(np.array([[0.0], [1500.0]]), np.array([253.15, 288.15, 313.15]))
    assert air.density.shape == air.viscosity.shape == air.pressure.shape == (2, 3)


def test_outside_the_layer_is_said():
    assert "12000" in (ALTITUDE_RANGE.breach(12000.0) or "").replace("1.2e+04", "12000")
    assert ALTITUDE_RANGE.breach(3000.0) is None
