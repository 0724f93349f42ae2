"""Polars of the user's own."""

import numpy as np
import pytest

from bladehold.rotor import polar_from_columns, read_polar, viterna, whole_circle

ALPHA = np.arange(-6.0, 13.0)
CL, CD = 0.1 * (ALPHA + 3.0), 0.012 + 0.0002 * ALPHA**2
GRID = np.arange(360) - 180.0


def test_columns_are_met_inside_and_joined_outside():
    cl, cd = whole_circle(ALPHA, CL, CD, 10.0)
    inside = (GRID >= -6.0) & (GRID <= 12.0)
    assert cl[inside] == pytest.approx(CL)
    assert cd[inside] == pytest.approx(CD)
    assert np.all(np.abs(np.diff(np.append(cl, cl[0]))) < 0.2)  # 1.5 drops to the plate within some degrees
    assert np.all(cd >= CD.min())


def test_a_plate_across_the_stream_has_no_lift_and_the_drag_of_its_aspect_ratio():
    cl, cd = whole_circle(ALPHA, CL, CD, 10.0)
    across = [int(np.flatnonzero(angle == GRID)[0]) for angle in (-90.0, 90.0)]
    assert cl[across] == pytest.approx(0.0, abs=1e-9)
    assert cd[across] == pytest.approx(1.11 + 0.018 * 10.0)


def test_backwards_flow_has_seven_tenths_of_the_lift():
    cl, _ = whole_circle(ALPHA, CL, CD, 10.0)
    forward, backward = cl[GRID == 30.0], cl[GRID == 150.0]
    assert backward == pytest.approx(-0.7 * forward)
    assert cl[0] == 0.0


def test_columns_on_the_whole_circle_are_left_alone():
    alpha = np.arange(-180.0, 181.0, 2.0)
    cl, cd = whole_circle(alpha, np.sin(2 * np.radians(alpha)), 0.01 + np.sin(np.radians(alpha)) ** 2, 10.0)
    assert cl[::2] == pytest.approx(np.sin(2 * np.radians(alpha[:-1])))
    assert cd[::2] == pytest.approx(0.01 + np.sin(np.radians(alpha[:-1])) ** 2)


def test_the_stalled_curves_start_from_the_stall():
    cl, cd = viterna(np.radians(12.0), np.radians(12.0), 1.3, 0.04, 60.0)
    assert (float(cl), float(cd)) == pytest.approx((1.3, 0.04))
    assert viterna(np.pi / 2, np.radians(12.0), 1.3, 0.04, 60.0)[1] == pytest.approx(2.01)


def test_curves_of_several_reynolds_numbers_are_blended_and_mach_is_told():
    polar = polar_from_columns(
        "mine",
        np.tile(ALPHA, 2),
        np.concatenate([CL, 2 * CL]),
        np.tile(CD, 2),
        reynolds=np.repeat([1e5, 4e5], ALPHA.size),
    )
    cl, _ = polar.at(np.array([2e5]), np.array([0.0]))(np.radians([2.0]))
    assert cl == pytest.approx(1.5 * 0.5)
    check = polar.check(np.array([2e5]), np.array([0.4]), np.zeros(1))
    assert check.beyond_mach.all()
    assert not check.beyond_reynolds.any()


def test_one_curve_serves_all_reynolds_numbers():
    polar = polar_from_columns("mine", ALPHA, CL, CD)
    check = polar.check(np.array([1e3, 1e7]), np.zeros(2), np.zeros(2))
    assert not check.beyond_reynolds.any()


def test_a_file_is_read_and_its_faults_are_named(tmp_path):
    file = tmp_path / "mine.csv"
    rows = "\n".join(f"{a},{c},{d}" for a, c, d in zip(ALPHA, CL, CD, strict=True))
    file.write_text("alpha_deg,cl,cd\n" + rows, encoding="utf-8")
    cl, cd = read_polar(file).at(np.array([1e5]), np.array([0.0]))(np.radians([3.0]))
    assert (float(cl[0]), float(cd[0])) == pytest.approx((0.6, 0.0138))
    file.write_text("alpha,cl,cd\n" + rows, encoding="utf-8")
    with pytest.raises(ValueError, match=r"mine\.csv: column alpha_deg is missing"):
        read_polar(file)
    file.write_text("alpha_deg,cl,cd,reynolds\n1,2,3,4\n1,2,x,4", encoding="utf-8")
    with pytest.raises(ValueError, match=r"line 3: cd is not a number"):
        read_polar(file)


@pytest.mark.parametrize(
    ("columns", "word"),
    [
        ((ALPHA[::-1], CL, CD), "alpha_deg must increase"),
        ((ALPHA[:8], CL[:8], CD[:8]), "must reach"),
        ((ALPHA, CL, 0.0 * CD), "cd must be positive"),
    ],
)
def test_columns_that_cannot_be_are_refused(columns, word):
    with pytest.raises(ValueError, match=word):
        whole_circle(*columns, 10.0)


def test_a_reynolds_column_of_another_length_is_refused():
    with pytest.raises(ValueError, match="reynolds"):
        polar_from_columns("mine", ALPHA, CL, CD, reynolds=[1e5])
