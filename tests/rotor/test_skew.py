"""Laws of uneven inflow."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor import COLEMAN, DREES, PITT_PETERS, SKEW_MODELS, UNIFORM, WHITE_BLAKE, wake_skew


@pytest.mark.parametrize("model", SKEW_MODELS, ids=lambda model: model.name)
def test_no_skew_in_axial_flow_and_more_with_the_angle(model):
    kx, ky = model.slopes(np.radians([0.0, 20.0, 50.0, 80.0]), 0.0)
    assert kx[0] == 0.0
    assert np.all(ky == 0.0)
    assert model is UNIFORM or np.all(np.diff(kx) > 0.0)
    for values in model.slopes(np.zeros((3, 1)), np.zeros(2)):
        assert values.shape == (3, 2)


def test_values_at_a_wake_that_lies_in_the_disc_plane():
    flat = np.pi / 2
    assert [float(m.slopes(flat, 0.0)[0]) for m in (COLEMAN, DREES, WHITE_BLAKE, PITT_PETERS, UNIFORM)] == (
        pytest.approx([1.0, 4.0 / 3.0, np.sqrt(2.0), 15.0 * np.pi / 32.0, 0.0])
    )
    assert float(DREES.slopes(flat, 0.2)[1]) == pytest.approx(-0.4)


@given(edge=st.floats(0.0, 100.0), through=st.floats(-100.0, 100.0), mu=st.floats(0.0, 0.35))
def test_all_are_finite(edge, through, mu):
    chi = wake_skew(edge, through)
    assert 0.0 <= chi <= np.pi / 2
    for model in SKEW_MODELS:
        assert np.all(np.isfinite(model.slopes(chi, mu)))


def test_names_are_told_apart():
    assert len({model.name for model in SKEW_MODELS}) == len(SKEW_MODELS) == 5
