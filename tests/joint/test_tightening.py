import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import tightening

M8 = {"pitch_diameter": 7.1881e-3, "root_diameter": 6.4664e-3, "pitch": 1.25e-3}


def m8_preload(edition):
    return tightening.assembly_preload(640e6, **M8, thread_friction=0.12, edition=edition)


def test_older_edition_gives_8_percent_less():
    """Trap: torsion factor 2 (1986) or 1.5 (2001 on), M8 8.8 friction 0.12: 17.2 and 18.6 kN."""
    assert m8_preload("1986") / 1e3 == pytest.approx(17.2, abs=0.05)
    assert m8_preload("2015") / 1e3 == pytest.approx(18.63, abs=0.005)
    assert m8_preload("2001") == m8_preload("2003") == m8_preload("2015")
    with pytest.raises(ValueError, match=r"1986.*2015.*1999"):
        m8_preload("1999")


def test_frictionless_fine_thread_uses_the_iso_stress_area():
    """Trap: the area inside is the ISO one (0.938194 P), M5: 14.183 mm2, not the inch form's 13.91 mm2."""
    force = tightening.assembly_preload(1.0, 4.4804e-3, 4.0185e-3, 1e-9, 0.0, utilisation=1.0)
    assert force * 1e6 == pytest.approx(14.183, abs=0.001)


@pytest.mark.parametrize(
    ("friction", "force", "torque"), [(0.10, 7.39, 5.36), (0.12, 7.20, 6.09), (0.14, 7.01, 6.77)]
)
def test_m5_class_8_8(friction, force, torque):
    """Computed independently from the same formula: socket head dw 8.03, hole 5.5 mm."""
    ours = tightening.assembly_preload(640e6, 4.4804e-3, 4.0185e-3, 0.8e-3, friction)
    assert ours / 1e3 == pytest.approx(force, abs=0.005)
    moment = tightening.tightening_torque(ours, 0.8e-3, 4.4804e-3, friction, 8.03e-3, 5.5e-3, friction)
    assert moment == pytest.approx(torque, abs=0.005)


@given(st.floats(0.0, 0.3), st.floats(0.001, 0.1))
def test_friction_costs_preload_and_torque_per_newton(friction, more):
    low, high = (
        tightening.assembly_preload(640e6, **M8, thread_friction=f) for f in (friction, friction + more)
    )
    assert high < low < 0.9 * 640e6 * 36.7e-6


@pytest.mark.parametrize(
    ("scatter", "factor"), [(0.12, 1.27), (0.17, 1.41), (0.23, 1.60), (0.28, 1.78), (0.43, 2.51), (0.60, 4.0)]
)
def test_tightening_factor_of_common_scatter(scatter, factor):
    assert tightening.tightening_factor(scatter) == pytest.approx(factor, abs=0.005)


@given(st.floats(0.0, 0.9), st.floats(1, 1e5))
def test_tightening_factor_both_ways(scatter, preload):
    factor = tightening.tightening_factor(scatter)
    assert tightening.scatter_from_tightening_factor(factor) == pytest.approx(scatter, abs=1e-12)
    least = tightening.minimum_assembly_preload(preload, factor)
    assert tightening.maximum_assembly_preload(least, factor) == pytest.approx(preload)
    assert least == pytest.approx(preload * (1 - scatter) / (1 + scatter))


def test_tightening_factor_below_one_is_refused():
    for function in (tightening.minimum_assembly_preload, tightening.maximum_assembly_preload):
        with pytest.raises(ValueError, match="tightening factor"):
            function(1000.0, np.array([1.6, 0.6]))
    with pytest.raises(ValueError, match="tightening factor"):
        tightening.scatter_from_tightening_factor(0.6)
