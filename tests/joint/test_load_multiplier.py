"""By how much loads may grow: the inverse of the cycles to failure of every curve."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from bladehold.joint import notch
from bladehold.joint.bearing_line import BearingLine
from bladehold.joint.load_multiplier import ThreadLine, load_multiplier
from bladehold.joint.stress_life import KSI, HandbookCurve, ReversedLine, steel_line

CURVES = {
    "thread": ThreadLine(70e6, "vdi-rolled-before"),
    "handbook": HandbookCurve(18.22, -7.77, 0.62, 10.15 * KSI),
    "line": steel_line(1040e6, 5e-3, endless=False),
    "bearing": BearingLine(300e6),
}


@pytest.mark.parametrize("name", CURVES)
@given(st.floats(1e6, 3e8), st.floats(-2e8, 2e8), st.floats(4.5, 6.0))
def test_grown_loads_last_just_so_often(name, amplitude, mean, decades):
    curve = CURVES[name]
    wanted = 10.0**decades
    k = float(load_multiplier(curve, wanted, amplitude, mean))
    low, high = k * (mean - amplitude), k * (mean + amplitude)
    assume(mean + amplitude > 0.0)
    assert float(curve.cycles(high, low)) == pytest.approx(wanted, rel=1e-6)


@pytest.mark.parametrize("name", CURVES)
def test_nothing_swings_nothing_fails(name):
    with np.errstate(divide="ignore"):
        assert load_multiplier(CURVES[name], 1e5, 0.0, 1e8) == np.inf


def test_endurance_limit_is_where_endless_life_ends():
    line = steel_line(1040e6, 5e-3)
    k = float(load_multiplier(line, 1e9, 1e8, 5e7))
    assert line.cycles(0.999 * k * 1.5e8, -0.999 * k * 0.5e8) == np.inf
    assert line.cycles(1.001 * k * 1.5e8, -1.001 * k * 0.5e8) < 1e6


def test_another_rule_of_the_mean_is_refused():
    with pytest.raises(ValueError, match="gerber"):
        load_multiplier(ReversedLine(8e8, 7e8, 3e8, mean_stress="gerber"), 1e5, 1e8, 0.0)


def test_bent_hole_from_sharp_to_mild():
    """3 in a wide plate far thicker than the hole, 1.79 in a thin one, and always below the pulled hole."""
    assert float(notch.open_hole_bending_factor(1e3, 1e-3, 1e3)) == pytest.approx(3.0, abs=0.02)
    assert float(notch.open_hole_bending_factor(1e6, 1.0, 1e-3)) == pytest.approx(1.79, abs=0.01)
    share = np.linspace(0.05, 0.6, 12)
    for thickness in (0.05, 0.2, 1.0):
        bent = notch.open_hole_bending_factor(1.0, share, thickness)
        assert (bent <= notch.open_hole_factor(1.0, share) * 1.02).all()
