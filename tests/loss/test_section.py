"""Sections of an arm against geometry, limits of each other, and series of the theory of torsion."""

import numpy as np
import pytest

from bladehold.loss import box_section, plate_section, tube_section


def test_a_solid_tube_is_a_bar():
    bar = tube_section(0.02, 0.01)
    assert bar.vertical == pytest.approx(np.pi * 0.02**4 / 64)
    assert bar.torsion_modulus == pytest.approx(np.pi * 0.02**3 / 16)
    assert bar.area == pytest.approx(np.pi * 0.02**2 / 4)
    assert bar.polar == pytest.approx(np.pi * 0.02**4 / 32)


def test_a_plate_bends_by_its_height_and_width():
    plate = plate_section(0.03, 0.006)
    assert plate.vertical == pytest.approx(0.03 * 0.006**3 / 12)
    assert plate.horizontal == pytest.approx(0.006 * 0.03**3 / 12)


@pytest.mark.parametrize("ratio", [1.0, 1.5, 2.0, 4.0, 10.0])
def test_torsion_of_a_plate_is_that_of_the_series(ratio):
    """Saint-Venant's series for a rectangle of sides b >= t."""
    t = 0.01
    b = ratio * t
    odd = np.arange(1, 400, 2)
    lower = np.tanh(np.minimum(odd * np.pi * b / (2 * t), 300))
    torsion = b * t**3 / 3 * (1 - 192 * t / (np.pi**5 * b) * np.sum(lower / odd**5))
    upper = 1.0 / np.cosh(np.minimum(odd * np.pi * b / (2 * t), 300))
    stress = t / torsion * (1 - 8 / np.pi**2 * np.sum(upper / odd**2))  # of a unit torque
    for plate in (plate_section(b, t), plate_section(t, b)):
        assert plate.torsion == pytest.approx(torsion, rel=4e-3)
        assert 1.0 / plate.torsion_modulus == pytest.approx(stress, rel=1e-2)


def test_a_thin_box_and_a_thin_tube_twist_by_the_same_law():
    box = box_section(0.03, 0.03, 0.0005)
    assert box.torsion == pytest.approx(0.0295**3 * 0.0005, rel=1e-12)
    assert box.vertical == pytest.approx((0.03**4 - 0.029**4) / 12)
    tube = tube_section(0.03, 0.0005)
    assert tube.torsion == pytest.approx(
        4 * (np.pi / 4 * 0.0295**2) ** 2 * 0.0005 / (np.pi * 0.0295), rel=1e-3
    )


def test_stress_of_two_moments_bounds_every_phase():
    phase = np.linspace(0.0, 2 * np.pi, 721)
    for section in (tube_section(0.03, 0.002), plate_section(0.03, 0.01)):
        for lag in (0.0, 0.7, np.pi / 2):
            up, side = 3.0 * np.cos(phase), 5.0 * np.cos(phase - lag)
            if section.round:
                there = np.hypot(up, side) * section.height / (2 * section.vertical)
            else:
                there = np.abs(up) * section.height / (2 * section.vertical)
                there = there + np.abs(side) * section.width / (2 * section.horizontal)
            bound = float(section.bending_stress(3.0, 5.0))
            assert there.max() <= bound * (1 + 1e-12)
            if lag == 0.0:
                assert there.max() == pytest.approx(bound)


@pytest.mark.parametrize(
    "make",
    [
        lambda: tube_section(0.02, 0.011),
        lambda: tube_section(0.02, 0.0),
        lambda: plate_section(0.0, 0.01),
        lambda: box_section(0.02, 0.01, 0.005),
    ],
)
def test_what_no_section_can_be_is_refused(make):
    with pytest.raises(ValueError, match="must be above 0"):
        make()
