import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import lug

ratios = st.floats(0.01, 3)


def test_simple_forms_by_hand():
    assert lug.net_tension_capacity(15e-3, 5e-3, 6e-3, 500e6) == pytest.approx(30000)
    assert lug.net_tension_capacity(15e-3, 5e-3, 6e-3, 500e6, 0.55) == pytest.approx(16500)
    assert lug.shear_out_capacity(6e-3, 10e-3, 5e-3, 300e6) == pytest.approx(27000)
    assert lug.bearing_capacity(5e-3, 6e-3, 900e6) == pytest.approx(27000)


def test_off_axis_load_is_always_allowed_for():
    assert lug.transverse_load([1000.0, 1000.0], [0.0, -400.0]).tolist() == [100.0, 400.0]


@given(ratios, ratios, st.floats(1.01, 4))
def test_oblique_multiplier_scales(axial, transverse, factor):
    base = lug.oblique_multiplier(axial, transverse)
    assert lug.oblique_multiplier(factor * axial, factor * transverse) == pytest.approx(float(base) / factor)
    assert lug.oblique_multiplier(factor * axial, transverse) < base
    assert lug.oblique_multiplier(axial, factor * transverse) < base


@given(ratios)
def test_pure_loads_are_their_own_ratio(ratio):
    assert lug.oblique_multiplier(ratio, 0.0) == pytest.approx(1 / ratio)
    assert lug.oblique_multiplier(0.0, ratio) == pytest.approx(1 / ratio)
    assert lug.oblique_multiplier(0.0, 0.0) == np.inf


def test_ekvall_factors():
    assert lug.ekvall_transverse_factor(2.0) == pytest.approx(0.697)
    assert lug.ekvall_axial_stress_concentration(2.0) == pytest.approx(2.75)
    with pytest.raises(ValueError, match="K_BR"):
        lug.ekvall_transverse_factor(0.7)
    with pytest.raises(ValueError, match="W/D"):
        lug.ekvall_axial_stress_concentration(1.0)


@pytest.mark.parametrize(
    ("bound", "inside", "outside"),
    [
        (lug.METAL_EDGE_DISTANCE, 1.5, 1.4),
        (lug.METAL_EDGE_DISTANCE_WANTED, 2.0, 1.9),
        (lug.LAMINATE_EDGE_DISTANCE, 3.0, 2.9),
        (lug.LAMINATE_WIDTH, 6.0, 5.9),
        (lug.LAMINATE_SHEAR_OUT_EDGE, 2.0, 1.9),
        (lug.LAMINATE_NET_TENSION_WIDTH, 4.0, 3.9),
        (lug.EKVALL_WIDTH, 1.33, 4.6),
        (lug.EKVALL_HOLE, 6.35e-3, 5e-3),
        (lug.EKVALL_SLENDERNESS, 10.2, 0.7),
    ],
)
def test_ranges_speak_up(bound, inside, outside):
    assert bound.breach(inside) is None
    assert bound.source in bound.breach(outside)


def test_unconfirmed_laminate_limits_say_so():
    for bound in (lug.LAMINATE_EDGE_DISTANCE, lug.LAMINATE_WIDTH):
        assert "memory" in bound.source


def test_impossible_lugs_are_refused():
    with pytest.raises(ValueError, match="width must be greater than hole diameter"):
        lug.net_tension_capacity(5e-3, 5e-3, 6e-3, 500e6)
    with pytest.raises(ValueError, match="edge distance must be greater than half the hole diameter"):
        lug.shear_out_capacity(6e-3, 2.5e-3, 5e-3, 300e6)
