"""Lubrication states and tightening methods."""

import numpy as np
import pytest

from bladehold.tables import (
    lubrication,
    lubrication_names,
    tightening,
    tightening_factor,
    tightening_names,
)


def test_lubrication_states():
    assert lubrication_names()[:3] == ("lubricated", "dry", "cadmium-plated")
    oiled, dry, plated = (lubrication(name) for name in lubrication_names()[:3])
    assert (oiled.nut_factor_low, oiled.nut_factor_high, oiled.preload_scatter) == (0.11, 0.15, 0.25)
    assert (dry.nut_factor_low, dry.nut_factor_high, dry.preload_scatter) == (0.2, 0.2, 0.35)
    assert plated.nut_factor_low is None
    assert plated.nut_factor_provenance is None
    assert plated.preload_scatter == 0.30


def test_states_in_the_order_a_mechanic_would_put_them():
    """The slipperier, the more preload one torque makes; what is only customary says so."""
    middle = {
        name: (row.nut_factor_low + row.nut_factor_high) / 2
        for name in lubrication_names()
        if (row := lubrication(name)).nut_factor_low is not None
    }
    assert middle["waxed"] < middle["molybdenum anti-seize"] < middle["thread-lock wet"] < middle["dry"]
    assert middle["dry"] < middle["zinc-plated"] < middle["stainless on stainless"]
    assert middle["thread-lock wet"] < middle["thread-lock cured"]
    assert lubrication("waxed").nut_factor_provenance.unconfirmed
    assert not lubrication("zinc-plated").nut_factor_provenance.unconfirmed


def test_scatter_is_a_fraction_and_its_range_in_order():
    for name in tightening_names():
        row = tightening(name)
        assert 0 < row.scatter_low <= row.scatter_high < 1
        assert not row.provenance.unconfirmed


def test_a_power_driver_scatters_more_than_a_wrench_set_by_test():
    tested = tightening("torque wrench, torque found by test")
    estimated = tightening("torque wrench, friction estimated")
    driver = tightening("power driver")
    assert tested.scatter_high <= estimated.scatter_low < estimated.scatter_high < driver.scatter_high


@pytest.mark.parametrize(
    ("scatter", "factor"), [(0.12, 1.27), (0.17, 1.41), (0.23, 1.60), (0.28, 1.78), (0.43, 2.51), (0.60, 4.0)]
)
def test_tightening_factor(scatter, factor):
    assert tightening_factor(scatter) == pytest.approx(factor, abs=0.005)


def test_tightening_factor_of_arrays_is_the_ratio_of_extremes():
    scatter = np.array([0.0, 0.1, 0.5])
    factors = tightening_factor(scatter)
    assert factors.shape == scatter.shape
    assert factors == pytest.approx([1.0, 1.1 / 0.9, 3.0], rel=1e-14)
