"""From loads along a blade to shears and moments."""

from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor import BladeGeometry, blade_moments, blade_shears, outboard_weights, span_weights
from bladehold.rotor.span import FloatArray

HUB, TIP = 0.04, 0.4
R = np.linspace(HUB, TIP, 802)[1:-1]
BLADE = BladeGeometry(
    radius=TIP,
    hub_radius=HUB,
    r=R,
    chord=np.full(R.shape, 0.03),
    twist=np.full(R.shape, 0.1),
    thickness=np.full(R.shape, 0.003),
    sections=("clark-y",),
    section_weights=np.ones((R.size, 1)),
)


@dataclass(frozen=True)
class Loads:
    normal_load: FloatArray
    tangential_load: FloatArray
    geometry: BladeGeometry = BLADE


def parabola(r):
    return (r - HUB) * (TIP - r)


@given(st.floats(0.0, 0.399))
def test_shear_and_moment_of_a_parabola(about):
    loads = Loads(parabola(R), -2.0 * parabola(R))
    shear, moment = blade_shears(loads, about), blade_moments(loads, about)
    r = np.linspace(max(about, HUB), TIP, 20001)
    assert shear.normal == pytest.approx(np.trapezoid(parabola(r), r), rel=1e-4, abs=1e-9)
    assert moment.flap == pytest.approx(np.trapezoid(parabola(r) * (r - about), r), rel=1e-4, abs=1e-9)
    assert shear.tangential == pytest.approx(-2.0 * shear.normal)
    assert moment.lead_lag == pytest.approx(-2.0 * moment.flap)


def test_at_the_hub_the_whole_blade_counts():
    force, moment = outboard_weights(BLADE, HUB)
    assert force == pytest.approx(span_weights(BLADE))
    assert moment == pytest.approx(span_weights(BLADE) * (R - HUB))


def test_inboard_of_the_hub_only_the_arm_grows():
    loads = Loads(parabola(R), parabola(R))
    at_hub, inboard = blade_moments(loads, HUB), blade_moments(loads, 0.01)
    shear = blade_shears(loads, 0.0).normal
    assert inboard.flap - at_hub.flap == pytest.approx(shear * (HUB - 0.01))


def test_leading_axes_are_free():
    loads = Loads(np.stack([parabola(R), 2 * parabola(R)]), np.stack([parabola(R)] * 2))
    assert blade_moments(loads, 0.1).flap.shape == (2,)
    assert blade_moments(loads, 0.1).flap[1] == pytest.approx(2 * blade_moments(loads, 0.1).flap[0])


@pytest.mark.parametrize("radius", [-0.01, 0.4, 1.0, np.nan])
def test_a_radius_off_the_blade_is_refused(radius):
    with pytest.raises(ValueError, match="radius"):
        outboard_weights(BLADE, radius)
