"""The pack: its curve, its resistance, what can be drawn from it, what is refused."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from trains import pack

from bladehold.power import (
    drawn_current,
    greatest_power,
    open_voltage,
    pack_resistance,
    power_current,
    slow_resistance,
)


@given(st.floats(20.0, 60.0), st.floats(1e-4, 0.5), st.floats(0.0, 1.0))
def test_the_current_brings_the_power(voltage, resistance, share):
    power = share * float(greatest_power(voltage, resistance))
    current = float(power_current(voltage, resistance, power))
    assert current * (voltage - resistance * current) == pytest.approx(power, rel=1e-7, abs=1e-9)
    assert current <= voltage / (2 * resistance) * (1 + 1e-12)


def test_a_small_current_keeps_its_figures():
    assert power_current(48.0, 1e-6, 1e-6) == pytest.approx(1e-6 / 48.0, rel=1e-12)


def test_more_than_the_battery_has_is_refused_and_told():
    most = float(greatest_power(44.4, 0.036))
    with pytest.raises(ValueError, match="collapses above"):
        power_current(44.4, 0.036, most * 1.0001)
    assert np.isnan(drawn_current(44.4, 0.036, most * 1.0001))


def test_the_curve_rises_and_meets_its_points():
    charge = np.linspace(0.0, 1.0, 101)
    assert np.all(np.diff(open_voltage(pack(), charge)) > 0.0)
    assert open_voltage(pack(), [0.0, 0.25, 1.0]).tolist() == [40.0, 42.5, 50.0]


def test_cold_and_empty_cells_resist_more():
    warm = pack()
    assert pack_resistance(warm, 1.0) == pytest.approx(0.02, rel=1e-9)
    assert pack_resistance(warm, 0.0) == pytest.approx(0.06)
    assert pack_resistance(pack(temperature=273.15), 1.0) == pytest.approx(0.04, rel=0.03)  # about doubled
    assert slow_resistance(pack(temperature=273.15)) > slow_resistance(warm) == pytest.approx(0.012)


@pytest.mark.parametrize(
    ("changed", "name"),
    [
        ({"capacity": 0.0}, "capacity"),
        ({"resistance": -0.01}, "resistance"),
        ({"temperature": np.nan}, "temperature"),
        ({"slow_share": -0.1}, "slow_share"),
        ({"voltage": np.array([40.0, 39.0, 50.0])}, "voltage"),
        ({"charge": np.array([0.1, 0.5, 1.0])}, "charge"),
    ],
)
def test_what_no_pack_has_is_refused_by_name(changed, name):
    with pytest.raises(ValueError, match=name):
        pack(**changed)
