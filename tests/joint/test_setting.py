import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import preload, tightening
from bladehold.joint.setting import Spread, preload_limits, torque_band


def spread(**changes):
    plain = {
        "diameter": 5e-3,
        "nut_factor_low": 0.16,
        "nut_factor_high": 0.2,
        "scatter_up": 0.25,
        "scatter_down": 0.25,
    }
    return Spread(**{**plain, **changes})


def test_by_hand():
    """M5, 2 N m with 4 % wrench, running torque 0.2 to 0.5: 1.88/(0.16 x 5 mm) x 1.25 and
    1.42/(0.2 x 5 mm) x 0.75 x 0.95, less 100 N."""
    limits = preload_limits(2.0, spread(wrench=0.04, prevailing_low=0.2, prevailing_high=0.5, loss=100.0))
    assert limits.maximum == pytest.approx(1.88 / 0.8e-3 * 1.25)
    assert limits.minimum == pytest.approx(1.42 / 1e-3 * 0.75 * 0.95 - 100.0)


@given(st.floats(10, 5000), st.floats(1.0, 9.0), st.floats(0, 0.1), st.floats(0, 0.6), st.floats(0, 200))
def test_the_band_of_torques_is_the_inverse_of_the_limits(low, ratio, wrench, prevailing, loss):
    scatter = spread(wrench=wrench, prevailing_low=prevailing / 3, prevailing_high=prevailing, loss=loss)
    band = torque_band(low, low * ratio, scatter)
    assert preload_limits(band.minimum, scatter).minimum == pytest.approx(low)
    assert preload_limits(band.maximum, scatter).maximum == pytest.approx(low * ratio)


def test_the_tightening_factor_is_that_of_vdi_2230_for_one_nut_factor():
    same = spread(nut_factor_low=0.2, scatter_up=0.23, scatter_down=0.23, relaxation=0.0)
    assert same.factor == pytest.approx(tightening.tightening_factor(0.23))


def test_a_torque_below_the_running_torque_may_clamp_nothing():
    limits = preload_limits(0.3, spread(prevailing_high=0.4))
    assert limits.minimum == 0.0
    assert limits.maximum > 0.0
    assert torque_band(0.0, 100.0, spread(prevailing_high=0.4)).minimum == 0.0


def test_ends_the_wrong_way_round_are_refused():
    with pytest.raises(ValueError, match="nut factor"):
        spread(nut_factor_low=0.3)
    with pytest.raises(ValueError, match="prevailing torque"):
        spread(prevailing_low=0.4)
    with pytest.raises(ValueError, match="relaxation"):
        spread(relaxation=1.0)


@given(st.floats(0.05, 0.4))
def test_friction_and_nut_factor_are_inverse(mu):
    size = {"pitch_diameter": 4.4804e-3, "nominal_diameter": 5e-3, "lead_angle": np.radians(3.253)}
    factor = preload.nut_factor(thread_friction=mu, head_friction=mu, **size)
    assert preload.friction_from_nut_factor(factor, **size) == pytest.approx(mu)


@pytest.mark.parametrize("mu", [0.08, 0.12, 0.16])
def test_nut_factor_and_vdi_torque_agree(mu):
    """M5 with a socket head of 8.5 mm over a hole of 5.5 mm: the bearing radius is 0.7 D and not 0.625 D,
    which is worth 6 to 8 % of the torque."""
    factor = preload.nut_factor(4.48e-3, 5e-3, np.radians(3.253), mu, mu)
    torque = tightening.tightening_torque(7200.0, 0.8e-3, 4.48e-3, mu, 8.5e-3, 5.5e-3, mu)
    ours = preload.torque_from_preload(7200.0, factor, 5e-3)
    assert 1.0 < torque / ours < 1.08
