import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import laminate_lug


@given(st.floats(1e9, 300e9), st.floats(0.0, 0.49))
def test_isotropic_plate_has_three(modulus, poisson):
    shear = modulus / (2 * (1 + poisson))
    kt = laminate_lug.hole_stress_concentration(modulus, modulus, shear, poisson)
    assert float(kt) == pytest.approx(3.0)


def test_stiff_fibres_along_the_load_concentrate_more_and_45_degree_plies_less():
    cross = laminate_lug.hole_stress_concentration(60e9, 60e9, 5e9, 0.05)
    angle = laminate_lug.hole_stress_concentration(20e9, 20e9, 30e9, 0.7)
    along = laminate_lug.hole_stress_concentration(130e9, 9e9, 5e9, 0.3)
    assert angle < 3.0 < cross < along


def test_shear_below_a_sharp_contact_end_is_the_pressure_over_pi():
    """Flamant's line loads summed over a strip whose pressure falls from p at its end to zero at twice its
    depth.

    The shear on planes along the surface, just below the end: p/pi as the point comes near.
    """
    edges = np.concatenate([[0.0], np.geomspace(1e-9, 1.0, 400001)])
    x, width = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    load = (1.0 - x) * width
    depth = 1e-4
    shear = np.sum(2 / np.pi * load * x * depth**2 / (x**2 + depth**2) ** 2)
    assert shear == pytest.approx(float(laminate_lug.edge_interlaminar_shear(1.0)), rel=2e-3)
    deeper = [np.sum(2 / np.pi * load * x * z**2 / (x**2 + z**2) ** 2) for z in (1e-3, 1e-2, 1e-1)]
    assert max(deeper) < shear


def test_the_weaker_way_of_failing_decides():
    assert float(laminate_lug.permissible_edge_pressure(200e6, 60e6)) == pytest.approx(60e6 * np.pi)
    assert float(laminate_lug.permissible_edge_pressure(150e6, 60e6)) == pytest.approx(150e6)


@given(st.floats(0, 2), st.floats(0, 2))
def test_bypass_adds_to_bearing(bearing, bypass):
    assert float(laminate_lug.bearing_bypass(bearing, bypass)) == pytest.approx(bearing + bypass)


def test_impossible_input_is_refused():
    with pytest.raises(ValueError, match="pressure must not be negative"):
        laminate_lug.edge_interlaminar_shear(-1.0)
    with pytest.raises(ValueError, match="stiffness term"):
        laminate_lug.hole_stress_concentration(1.0, 1.0, 1e9, 5.0)
    assert laminate_lug.LAMINATE_SLENDERNESS.breach(0.4)
