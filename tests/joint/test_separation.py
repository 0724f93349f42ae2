import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import separation

loads = st.floats(1, 1e4)
shares = st.floats(0.01, 0.99)
slip = {"level": "limit", "surface": "bare metal"}


@given(loads, shares, st.floats(0.1, 1.0))
def test_bolt_load_is_continuous_where_the_joint_opens(preload, phi, n):
    opening = separation.separation_load(preload, phi, n)
    assert separation.bolt_load(preload, opening, phi, n) == pytest.approx(float(opening))
    assert separation.bolt_load(preload, 2 * opening, phi, n) == pytest.approx(float(2 * opening))
    assert separation.bolt_load(preload, 0.0, phi, n) == preload


@given(loads, loads, shares)
def test_bolt_reaches_its_capacity_at_the_stated_tension(preload, spare, phi):
    tension = separation.tension_to_bolt_load(preload + spare, preload, phi)
    closed = tension <= separation.separation_load(preload, phi)
    assert not closed or separation.bolt_load(preload, tension, phi) == pytest.approx(preload + spare)


def test_rigid_ends_of_the_load_share():
    assert separation.separation_load(100.0, 1.0) == np.inf
    assert separation.separation_load(0.0, 1.0) == 0.0
    assert separation.tension_to_bolt_load([200.0, 50.0], 100.0, 0.0).tolist() == [np.inf, -np.inf]


def test_which_comes_first():
    """Ptu 1000, phi n 0.5: preload 400 opens at 800 before rupture at 1200; 700 breaks at 600 before 1400."""
    first = separation.ruptures_before_separation(1000.0, [400.0, 700.0], 0.5)
    assert first.tolist() == [False, True]


@given(loads, loads, loads, st.floats(1.01, 5))
def test_margins_fall_as_loads_rise(preload, shear, tension, factor):
    separate = [separation.separation_margin(preload, k * tension, 1.2, 1.15) for k in (1, factor)]
    assert separate[1] < separate[0]
    base = separation.slip_margin(preload, shear, tension, 0.15, 1.25, **slip)
    assert separation.slip_margin(preload, factor * shear, tension, 0.15, 1.25, **slip) < base
    assert separation.slip_margin(preload, shear, factor * tension, 0.15, 1.25, **slip) < base
    assert separation.slip_margin(factor * preload, shear, tension, 0.15, 1.25, **slip) > base


def test_margins_by_hand():
    assert separation.separation_margin(1000.0, 500.0, 1.2, 1.15) == pytest.approx(
        1000 / (1.15 * 1.2 * 500) - 1
    )
    margin = separation.slip_margin(1000.0, 300.0, 500.0, 0.2, 1.25, bolts=4, **slip)
    assert margin == pytest.approx(0.2 * 4 * 1000 / (1.25 * (300 + 0.2 * 500)) - 1)
    assert separation.slip_margin(1000.0, 0.0, 0.0, 0.2, 1.25, **slip) == np.inf
    assert separation.slip_margin(0.0, 0.0, 0.0, 0.2, 1.25, **slip) == np.inf


def test_friction_never_counts_at_ultimate():
    with pytest.raises(ValueError, match="never at ultimate"):
        separation.slip_margin(1000.0, 1.0, 1.0, 0.1, 1.4, level="ultimate", surface="bare metal")


@pytest.mark.parametrize(("surface", "cap"), [("bare metal", 0.20), ("coated or non-metallic", 0.10)])
def test_friction_has_a_cap_without_a_test(surface, cap):
    assert separation.allowed_friction(cap, surface) == cap
    with pytest.raises(ValueError, match=f"above {cap:g}"):
        separation.allowed_friction([0.05, cap + 0.01], surface)
    with pytest.raises(ValueError, match=f"above {cap:g}"):
        separation.slip_margin(1000.0, 1.0, 1.0, cap + 0.01, 1.4, level="yield", surface=surface)
    assert separation.allowed_friction(0.6, "tested") == 0.6
    with pytest.raises(ValueError, match="surface must be"):
        separation.allowed_friction(0.05, "oily")


def test_load_share_above_one_is_refused():
    with pytest.raises(ValueError, match="1 - load factor"):
        separation.bolt_load(100.0, 100.0, 1.2)
