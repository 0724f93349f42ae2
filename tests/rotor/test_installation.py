"""Thrust lost on what stands in the wake."""

import numpy as np
import pytest

from bladehold.rotor import installations, net_thrust


def test_nothing_is_lost_unless_asked_for():
    assert net_thrust([10.0, 20.0]).tolist() == [10.0, 20.0]
    assert installations()["none"].download_share == 0.0


def test_rows_tell_their_source_and_mark():
    for name, row in installations().items():
        assert row.name == name
        assert row.source
        assert row.mark in {"definition", "memory", "computed", "read"}
        assert 0.0 <= row.download_share < 0.3


def test_four_rotors_alone_give_ten_percent_more_than_the_quadcopter():
    alone = 1.0
    installed = net_thrust(alone, installations()["whole-quadcopter"].download_share)
    assert alone / installed == pytest.approx(1.10, abs=0.001)


@pytest.mark.parametrize("share", [-0.1, 1.0, np.nan])
def test_what_cannot_be_is_refused_by_name(share):
    with pytest.raises(ValueError, match="download_share"):
        net_thrust(10.0, share)
