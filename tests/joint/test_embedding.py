import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint.embedding import embedding_amount, embedding_loss
from bladehold.joint.preload import thermal_preload_change

stiff = st.floats(1e6, 1e9)


def test_a_lug_between_two_plates_by_hand():
    """Fine faces, axial: 3 + 2 x 2.5 + 2 x 1.5 = 11 um; 75 N/um in series take 825 N."""
    amount = embedding_amount(3e-6, 2.5e-6, 1.5e-6, 2)
    assert amount == pytest.approx(11e-6)
    assert embedding_loss(amount, 100e6, 300e6) == pytest.approx(825.0)


@given(st.floats(0, 50e-6), stiff, stiff)
def test_embedding_is_a_mismatch_that_the_screw_loses(amount, bolt, joint):
    loss = embedding_loss(amount, bolt, joint)
    assert loss == pytest.approx(-float(thermal_preload_change(bolt, joint, -amount)))
    assert loss <= amount * min(bolt, joint)


def test_what_cannot_be_is_refused_by_name():
    with pytest.raises(ValueError, match="embedding amount"):
        embedding_loss(-1e-6, 1e8, 1e8)
    with pytest.raises(ValueError, match="joint stiffness"):
        embedding_loss(1e-6, 1e8, 0.0)
