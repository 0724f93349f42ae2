"""Section polars: tables, blends, closed forms."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladehold.rotor import AnalyticPolar, BlendedPolar, cubic_rows, section_polar, tabulated_polar
from bladehold.rotor.slices import TABLE_POINTS

GRID = np.radians(np.arange(TABLE_POINTS) - 180.0)


def made(mach=(0.0, 0.4), reynolds=(1e5, 4e5), cd=0.02):
    """A table known in closed form: cl = sin(2 alpha) (1 + M^2) log10(Re), cd constant."""
    lift = np.sin(2 * GRID) * (1 + np.array(mach)[:, None] ** 2) * np.log10(reynolds)[:, None, None]
    return tabulated_polar(
        "made",
        lift,
        np.full(lift.shape, cd),
        reynolds=reynolds,
        mach=mach,
        confidence=np.ones((len(reynolds), TABLE_POINTS)),
    )


def test_a_table_is_met_at_its_points_and_linear_in_log_reynolds_and_mach_squared():
    reynolds, mach = np.full(GRID.shape, 2e5), np.full(GRID.shape, 0.25)
    cl, cd = made().at(reynolds, mach)(GRID)
    assert cl == pytest.approx(np.sin(2 * GRID) * (1 + 0.25**2) * np.log10(2e5), abs=1e-12)
    assert cd == pytest.approx(0.02, abs=1e-15)


@settings(max_examples=60, deadline=None)
@given(
    alpha=st.lists(st.floats(-4.0, 4.0), min_size=6, max_size=6),
    moves=st.lists(st.sampled_from([0.0, 1e-6, 0.01, 0.03, 1.0]), min_size=6, max_size=6),
    subset=st.booleans(),
)
def test_following_an_angle_changes_nothing_but_the_time(alpha, moves, subset):
    weights = np.array([[1.0, 0.0], [0.4, 0.6], [0.0, 1.0]])
    blend = BlendedPolar((section_polar("clark-y"), section_polar("e63")), weights)
    numbers = np.array([[3e4, 1e5, 2e5], [5e4, 4e5, 9e5]]), np.array([[0.1, 0.2, 0.4], [0.0, 0.3, 0.6]])
    angle, step = np.reshape(alpha, (2, 3)), np.reshape(moves, (2, 3))
    for polar in (section_polar("clark-y"), blend, AnalyticPolar(cl=np.sin, cd=np.cos)):
        section = polar.at(*numbers)
        *here, nearby = section.follow(angle)
        assert np.array_equal(here, section(angle))
        for _ in range(3):
            if subset:
                index = np.array([4, 1, 3])
                few = nearby.subset(index)(angle.ravel()[index] + step.ravel()[index])
                assert few == pytest.approx(np.stack(section(angle + step)).reshape(2, -1)[:, index])
            angle = angle + step
            *there, nearby = nearby.follow(angle)
            assert np.array_equal(there, section(angle))


def test_between_points_the_curve_is_close_and_continuous_over_180_degrees():
    alpha = np.radians(np.array([-179.5, -3.3, 0.25, 44.7, 179.5, 540.0 - 0.5]))
    like = np.ones(alpha.shape)
    cl, _ = made().at(1e5 * like, 0.0 * like)(alpha)
    assert cl == pytest.approx(5 * np.sin(2 * alpha), abs=2e-3)


def test_beyond_the_tables_the_nearest_is_used_and_told():
    polar, zero = made(), np.zeros(3)
    reynolds, mach = np.array([1e4, 2e5, 1e6]), np.array([0.1, 0.6, 0.1])
    cl, _ = polar.at(reynolds, mach)(zero + 0.1)
    edge, _ = polar.at(np.clip(reynolds, 1e5, 4e5), np.clip(mach, 0.0, 0.4))(zero + 0.1)
    assert cl == pytest.approx(edge)
    check = polar.check(reynolds, mach, zero)
    assert check.beyond_reynolds.tolist() == [True, False, True]
    assert check.beyond_mach.tolist() == [False, True, False]
    assert (check.reynolds_range.low, check.reynolds_range.high, check.mach_range.high) == (1e5, 4e5, 0.4)


@given(st.lists(st.floats(0.0, 10.0), min_size=4, max_size=12), st.floats(0.0, 1.0))
def test_a_cubic_stays_between_its_neighbouring_points(values, way):
    y = np.array(values)
    curve = cubic_rows(y) @ np.array([1.0, way, way**2, way**3])
    low, high = np.minimum(y, np.roll(y, -1)), np.maximum(y, np.roll(y, -1))
    assert np.all(curve >= low - 1e-12)
    assert np.all(curve <= high + 1e-12)


@settings(max_examples=50)
@given(st.floats(-10.0, 10.0), st.floats(1.0, 1e7), st.floats(0.0, 2.0))
def test_shipped_drag_is_positive_everywhere(alpha, reynolds, mach):
    cl, cd = section_polar("clark-y").at(np.array([reynolds]), np.array([mach]))(np.array([alpha]))
    assert np.isfinite(cl[0])
    assert cd[0] > 0.0


def test_leading_axes_broadcast_and_a_subset_is_the_same_section():
    part = section_polar("naca4412").at(np.full((2, 3), 1.7e5), np.linspace(0.0, 0.5, 6).reshape(2, 3))
    alpha = np.linspace(-0.2, 0.3, 24).reshape(4, 2, 3)
    cl, cd = part(alpha)
    assert cl.shape == cd.shape == (4, 2, 3)
    again, _ = part.subset(np.array([4, 1]))(alpha.reshape(4, 6)[:, [4, 1]])
    assert np.array_equal(again, cl.reshape(4, 6)[:, [4, 1]])


def test_a_blend_is_the_weighted_sum_and_reports_only_sections_in_use():
    thin, thick = made(cd=0.01), made(reynolds=(3e5, 4e5), cd=0.03)
    blend = BlendedPolar((thin, thick), np.array([[1.0, 0.0], [0.5, 0.5], [0.0, 1.0]]))
    reynolds, mach, alpha = np.full((2, 3), 2e5), np.zeros((2, 3)), np.full((2, 3), 0.05)
    part = blend.at(reynolds, mach)
    assert part(alpha)[1] == pytest.approx(np.array([[0.01, 0.02, 0.03]] * 2))
    assert part.subset(np.array([5, 0]))(np.zeros(2))[1] == pytest.approx([0.03, 0.01])
    check = blend.check(reynolds, mach, alpha)
    assert check.beyond_reynolds.tolist() == [[False, True, True]] * 2
    assert check.reynolds_range.low == 3e5


def test_a_closed_form_is_never_out_of_range():
    polar = AnalyticPolar(cl=np.sin, cd=np.cos)
    check = polar.check(np.ones((2, 3)), np.ones(3), np.ones(3))
    assert check.beyond_reynolds.shape == (2, 3)
    assert not (check.beyond_reynolds | check.beyond_mach).any()
    assert check.reynolds_range.breach(1e9) is None


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"cl": np.zeros((1, 1, 300))}, "cl"),
        ({"confidence": np.zeros(TABLE_POINTS)}, "confidence"),
        ({"reynolds": [2e5, 1e5], "cl": np.zeros((2, 1, 360)), "cd": np.zeros((2, 1, 360))}, "confidence"),
        ({"mach": [0.1, 0.1], "cl": np.zeros((1, 2, 360)), "cd": np.zeros((1, 2, 360))}, "mach"),
    ],
)
def test_a_table_of_the_wrong_shape_is_refused_by_name(change, word):
    table = {
        "cl": np.zeros((1, 1, 360)),
        "cd": np.ones((1, 1, 360)),
        "reynolds": [1e5],
        "mach": [0.0],
        "confidence": np.ones((1, 360)),
    }
    with pytest.raises(ValueError, match=word):
        tabulated_polar("bad", **(table | change))
