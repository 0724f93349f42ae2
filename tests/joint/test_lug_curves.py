import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import lug, lug_curves

POINTS, FACTORS = (1.0, 2.0, 3.0), (1.0, 0.9, 0.6)
FAMILY = ((0.0, 2.0), (1.0, 1.5), (2.0, 0.0))  # of parameters 1, 2, 4 at points 0, 1


def test_reads_points_and_straight_lines_and_holds_the_ends():
    read = lug_curves.curve_factor([0.0, 1.0, 1.5, 3.0, 9.0], POINTS, FACTORS)
    assert read == pytest.approx(np.array([1.0, 1.0, 0.95, 0.6, 0.6]))


def test_family_reads_between_points_and_between_curves():
    def read(value, parameter):
        return lug_curves.family_factor(value, parameter, (1.0, 2.0, 4.0), (0.0, 1.0), FAMILY)

    assert read(0.0, [1.0, 2.0, 3.0, 4.0, 9.0, 0.1]) == pytest.approx(
        np.array([0.0, 1.0, 1.5, 2.0, 2.0, 0.0])
    )
    assert float(read(0.5, 1.5)) == pytest.approx((1.0 + 1.25) / 2)
    assert read([0.0, 1.0, 7.0], [[1.0], [2.0]]).shape == (2, 3)


@pytest.mark.parametrize(
    "bad",
    [
        lambda: lug_curves.curve_factor(1.0, (2.0, 1.0), (1.0, 1.0)),
        lambda: lug_curves.curve_factor(1.0, (1.0, 2.0), (1.0,)),
        lambda: lug_curves.family_factor(1.0, 1.0, (1.0, 2.0), (0.0, 1.0), ((1.0, 2.0),)),
        lambda: lug_curves.lower_bound(1.0, 1.0),
        lambda: lug_curves.lower_bound(1.0, -0.1),
        lambda: lug_curves.shear_plane_factor(0.3, 0.6),
        lambda: lug_curves.average_depth(5e-3, 5e-3, 9e-3),
        lambda: lug_curves.average_depth(15e-3, 5e-3, 2e-3),
    ],
)
def test_refuses_what_is_not_a_curve_or_a_lug(bad):
    with pytest.raises(ValueError):
        bad()


def test_a_reading_is_lowered_before_it_is_used():
    assert lug_curves.lower_bound(1.24) == pytest.approx(1.24 * 0.95)
    assert lug_curves.lower_bound(1.24, lug_curves.SHEAR_BEARING_READING_ERROR) == pytest.approx(1.1408)


@given(st.floats(0.5, 2.0), st.floats(0.5, 0.7))
def test_shear_planes_are_the_simple_form_with_longer_planes(edge, ratio):
    """Planes tangent to the hole's top are the simple form 2 (e/D - 1/2) Fsu/Ftu, shorter by D/8."""
    simple = float(lug.shear_out_capacity(1.0, edge + 1e-6, 1.0, ratio)) if edge > 0.5 else 0.0
    assert float(lug_curves.shear_plane_factor(edge, ratio)) > simple
    assert float(lug_curves.shear_plane_factor(edge, ratio)) == pytest.approx(
        2 * ratio * (edge - 0.5 * np.cos(np.radians(40.0)))
    )


def test_depth_of_the_stress_reports_lug():
    """W 4, D 2, e 2.5: by hand 6/(2 x 2/1.2929 ...) with the side of the hole as the least section."""
    by_hand = 6 / (4 / ((4 - np.sqrt(2)) / 2) + 1 / 1.0 + 1 / 1.0)
    assert float(lug_curves.average_depth(4.0, 2.0, 2.5)) == pytest.approx(by_hand)


@given(st.floats(1.2, 5.0), st.floats(0.6, 5.0), st.floats(1.01, 2.0))
def test_depth_grows_with_width_and_with_the_end_until_the_side_is_less(width, edge, factor):
    def depth(w, e):
        return float(lug_curves.average_depth(w, 1.0, e))

    assert depth(factor * width, edge) >= depth(width, edge)
    assert depth(width, factor * edge) >= depth(width, edge)
    if edge - 0.5 > (width - 1.0) / 2:
        assert depth(width, factor * edge) == pytest.approx(depth(width, edge))


def test_bush_yields_on_its_projected_area():
    assert float(lug_curves.bush_load(400e6, 5e-3, 8e-3)) == pytest.approx(16000.0)


def test_press_fit_of_equal_metals_is_the_text_book_form():
    """One modulus, solid inner: p = (E i/D)(W^2 - D^2)/(2 W^2) for a shaft; here against a thin bore."""
    E, nu, i, D, W = 70e9, 0.3, 10e-6, 8e-3, 20e-3
    found = lug_curves.press_fit_pressure(i, 1e-9, D, W, E, E, nu, nu)
    assert float(found) == pytest.approx(E * i / D * (W**2 - D**2) / (2 * W**2), rel=1e-6)


@given(st.floats(1e-6, 3e-5), st.floats(1.05, 3.0))
def test_press_fit_grows_with_interference_and_with_the_ring(interference, factor):
    def press(i, W):
        return float(lug_curves.press_fit_pressure(i, 5e-3, 8e-3, W, 100e9, 70e9))

    assert press(factor * interference, 20e-3) == pytest.approx(factor * press(interference, 20e-3))
    assert press(interference, factor * 20e-3) > press(interference, 20e-3)


@pytest.mark.parametrize(
    ("bound", "inside", "outside"),
    [
        (lug_curves.CURVE_EDGE_DISTANCE, 5.0, 0.7),
        (lug_curves.CURVE_WIDTH, 6.0, 1.05),
        (lug_curves.CURVE_SLENDERNESS, 0.4, 9.0),
        (lug_curves.CURVE_AREA_RATIO, 3.0, 0.1),
    ],
)
def test_ranges_speak_up(bound, inside, outside):
    assert bound.breach(inside) is None
    assert bound.source in bound.breach(outside)
