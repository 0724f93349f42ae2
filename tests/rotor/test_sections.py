"""The sections shipped with the program."""

import numpy as np
import pytest

from bladehold.rotor import (
    REYNOLDS_RANGE,
    BlendedPolar,
    TabulatedPolar,
    blade_from_table,
    blade_polar,
    section_catalogue,
    section_polar,
)


def blade(sections):
    return blade_from_table(
        radius=0.3,
        hub_radius=0.03,
        r=[0.05, 0.28],
        chord=[0.05, 0.03],
        twist=[0.4, 0.1],
        thickness=[0.01, 0.003],
        sections=sections,
    )


@pytest.mark.parametrize("name", section_catalogue())
def test_every_section_has_a_plausible_polar(name):
    section, polar = section_catalogue()[name], section_polar(name)
    assert section.mark == "computed"
    assert "neuralfoil" in section.source
    alpha = np.radians(np.arange(-1.0, 5.0))  # thin sections separate on either side
    like = np.ones(alpha.shape)
    cl, cd = polar.at(3e5 * like, 0.0 * like)(alpha)
    slope, at_zero = np.polyfit(alpha, cl, 1)
    assert 0.75 < slope / (2.0 * np.pi) < 1.1
    assert 0.004 < cd.min() < 0.02
    # thin-airfoil theory: a parabolic camber line of height m has no lift at -2 m rad
    assert -at_zero / slope == pytest.approx(-2.0 * section.camber_ratio, abs=0.025)


@pytest.mark.parametrize("name", ["naca0012", "naca0015"])
def test_symmetric_sections_are_symmetric(name):
    alpha = np.radians(np.arange(0.0, 180.0))
    like = np.ones(alpha.shape)
    part = section_polar(name).at(2e5 * like, 0.3 * like)
    (up, drag_up), (down, drag_down) = part(alpha), part(-alpha)
    assert up == pytest.approx(-down, abs=2e-3)
    assert drag_up == pytest.approx(drag_down, rel=2e-2)


def test_confidence_falls_where_the_method_was_not_trained():
    polar, like = section_polar("thin-cambered-6"), np.ones(2)
    check = polar.check(2e5 * like, 0.0 * like, np.radians([3.0, 10.0]))
    assert check.confidence[0] > 0.8
    assert check.confidence[1] < 0.5


def test_an_unknown_section_is_named_with_those_there_are():
    with pytest.raises(ValueError, match=r"'flat-iron'.*clark-y"):
        section_polar("flat-iron")


def test_a_blade_of_one_section_takes_it_and_of_two_blends_them():
    assert isinstance(blade_polar(blade(("clark-y",))), TabulatedPolar)
    assert section_polar("clark-y") is blade_polar(blade(("clark-y",)))
    assert isinstance(blade_polar(blade(("naca4415", "clark-y"))), BlendedPolar)


def test_the_range_told_is_that_of_the_tables():
    assert section_polar("clark-y").reynolds_range.high == 1e6
    assert section_polar("naca0012").reynolds_range.high == 3e6
    assert REYNOLDS_RANGE.high is None
