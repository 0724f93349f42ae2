"""What a bench run teaches, as a factor on lift and drag."""

import numpy as np
import pytest

from bladehold.rotor import section_polar
from bladehold.rotor.correction import Correction, corrected_polar, reynolds_lift_factor

REYNOLDS = np.array([1e4, 5e4, 1.5e5, 2e5, 8e5])
ALPHA = np.radians([2.0, 5.0, 8.0, 11.0, -3.0])


def test_nothing_learnt_changes_nothing():
    polar = section_polar("clark-y")
    assert corrected_polar(polar, Correction(0.02, 1.1)) is polar


def test_lift_and_drag_are_multiplied_in_every_slice():
    polar = section_polar("clark-y")
    mach = 0.1 + 0.0 * REYNOLDS
    lift, drag = polar.at(REYNOLDS, mach)(ALPHA)
    found = corrected_polar(polar, Correction(profile_drag_factor=1.3, lift_exponent=0.1)).at(REYNOLDS, mach)
    factor = np.clip(REYNOLDS / 1e5, 0.2, 2.0) ** 0.1
    few = np.array([1, 3])
    for part, rows in ((found, slice(None)), (found.follow(ALPHA)[2], slice(None)), (found.subset(few), few)):
        ours = part(ALPHA[rows])
        assert ours[0] == pytest.approx((factor * lift)[rows])
        assert ours[1] == pytest.approx(1.3 * drag[rows])


def test_nothing_is_carried_on_beyond_the_ends():
    assert reynolds_lift_factor(1e5, 0.3) == 1.0
    assert reynolds_lift_factor(3e6, 0.3) == reynolds_lift_factor(2e5, 0.3)
    assert reynolds_lift_factor(1e3, 0.3) == reynolds_lift_factor(2e4, 0.3)


def test_an_exponent_no_section_has_is_told():
    assert Correction(lift_exponent=0.3).breaches == ()
    assert "lift exponent" in Correction(lift_exponent=-0.3).breaches[0]
