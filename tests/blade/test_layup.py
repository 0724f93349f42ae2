"""Sections of known shape, limits of skin and core, and how stiffness scales."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.blade import (
    SKIN_RANGE,
    Layup,
    SectionForm,
    chord_places,
    four_digit_form,
    section_properties,
    thin_wall_torsion,
)
from bladehold.tables import blade_material

CARBON, FOAM = blade_material("carbon-0-90"), blade_material("foam-pvc-80")


def form_of(half, camber=0.0):
    place, weight = chord_places(2000)
    return SectionForm(place, weight, half(place), camber * np.ones_like(place))


RECTANGLE = form_of(lambda x: np.full_like(x, 0.5))
ELLIPSE = form_of(lambda x: np.sqrt(x * (1 - x)))


def test_a_strip_by_hand():
    found = section_properties(0.050, 0.004, RECTANGLE, Layup(CARBON))
    E, rho = CARBON.modulus, CARBON.density
    assert float(found.area) == pytest.approx(2e-4, rel=1e-5)
    assert float(found.line_mass) == pytest.approx(rho * 2e-4, rel=1e-5)
    assert float(found.flatwise_stiffness) == pytest.approx(E * 0.05 * 0.004**3 / 12, rel=1e-5)
    assert float(found.edgewise_stiffness) == pytest.approx(E * 0.004 * 0.05**3 / 12, rel=1e-5)
    assert float(found.edge_inertia) == pytest.approx(rho * 0.004 * 0.05**3 / 12, rel=1e-5)
    assert float(found.flat_inertia) == pytest.approx(rho * 0.05 * 0.004**3 / 12, rel=1e-5)
    assert float(found.mass_place) == pytest.approx(0.5, abs=1e-9)
    # thin strip: J = c t^3 / 3 (1 - 0.63 t / c), textbook; the elongated formula misses the ends a little
    strip = CARBON.shear_modulus * 0.05 * 0.004**3 / 3 * (1 - 0.63 * 0.08)
    assert float(found.torsion_stiffness) == pytest.approx(strip, rel=0.06)


def test_an_ellipse_by_its_closed_forms():
    a, b = 0.03, 0.003
    found = section_properties(2 * a, 2 * b, ELLIPSE, Layup(CARBON))
    assert float(found.area) == pytest.approx(np.pi * a * b, rel=1e-5)
    assert float(found.flatwise_stiffness) == pytest.approx(CARBON.modulus * np.pi / 4 * a * b**3, rel=1e-4)
    assert float(found.edgewise_stiffness) == pytest.approx(CARBON.modulus * np.pi / 4 * a**3 * b, rel=1e-4)
    torsion = CARBON.shear_modulus * np.pi * a**3 * b**3 / (a**2 + b**2)
    assert float(found.torsion_stiffness) == pytest.approx(torsion, rel=1e-4)


def test_a_skin_through_and_through_is_a_solid_section():
    form = four_digit_form(0.03)
    solid = section_properties(0.05, 0.006, form, Layup(CARBON))
    thick = section_properties(0.05, 0.006, form, Layup(CARBON, 0.0031, FOAM))
    for name in ("line_mass", "flatwise_stiffness", "edgewise_stiffness", "flat_inertia", "mass_place"):
        assert float(getattr(thick, name)) == pytest.approx(float(getattr(solid, name)), rel=1e-12)
    assert float(thick.torsion_stiffness) <= float(solid.torsion_stiffness) * (1 + 1e-12)
    assert SKIN_RANGE.breach(thick.wall_share) is not None
    assert SKIN_RANGE.breach(section_properties(0.05, 0.006, form, Layup(CARBON, 5e-4)).wall_share) is None


def test_core_of_the_same_material_is_a_solid_section():
    form = four_digit_form()
    same = section_properties(0.05, 0.006, form, Layup(CARBON, 0.0005, CARBON))
    solid = section_properties(0.05, 0.006, form, Layup(CARBON))
    for name in ("line_mass", "flatwise_stiffness", "edgewise_stiffness", "edge_inertia"):
        assert float(getattr(same, name)) == pytest.approx(float(getattr(solid, name)), rel=1e-12)


def test_hollow_plus_core_is_the_sum():
    form = four_digit_form()
    hollow = section_properties(0.05, 0.006, form, Layup(CARBON, 0.0005))
    filled = section_properties(0.05, 0.006, form, Layup(CARBON, 0.0005, FOAM))
    solid = section_properties(0.05, 0.006, form, Layup(CARBON))
    inside = float(solid.flatwise_stiffness - hollow.flatwise_stiffness) / CARBON.modulus
    core = float(filled.flatwise_stiffness - hollow.flatwise_stiffness)
    assert core == pytest.approx(FOAM.modulus * inside, rel=1e-9)
    assert hollow.line_mass < filled.line_mass
    assert float(hollow.area) < float(filled.area)


def test_a_thin_elliptic_tube_twists_as_bredt_says():
    a, b, s = 0.02, 0.01, 0.0001
    found = section_properties(2 * a, 2 * b, ELLIPSE, Layup(CARBON, s))
    angle = (np.arange(4000) + 0.5) * np.pi / 2000
    girth = np.hypot((a - s / 2) * np.sin(angle), (b - s / 2) * np.cos(angle)).sum() * np.pi / 2000
    bredt = thin_wall_torsion(np.pi * (a - s / 2) * (b - s / 2), girth, s)
    assert float(found.torsion_stiffness) == pytest.approx(CARBON.shear_modulus * float(bredt), rel=0.01)


@given(st.floats(0.2, 5.0), st.floats(0.2, 5.0))
def test_scaling_of_a_solid_flat_section(wide, thick):
    form = four_digit_form()
    one = section_properties(0.05, 0.005, form, Layup(CARBON))
    other = section_properties(0.05 * wide, 0.005 * thick, form, Layup(CARBON))
    assert float(other.line_mass / one.line_mass) == pytest.approx(wide * thick, rel=1e-9)
    across, along = wide * thick**3, wide**3 * thick
    if thick < wide:  # else the flatwise axis may be the stiff one
        assert float(other.flatwise_stiffness / one.flatwise_stiffness) == pytest.approx(across, rel=1e-9)
        assert float(other.edgewise_stiffness / one.edgewise_stiffness) == pytest.approx(along, rel=1e-9)


def test_camber_stiffens_and_turns_the_axes_only_when_it_leans():
    flat, bent = (section_properties(0.05, 0.004, four_digit_form(m, 0.5), Layup(CARBON)) for m in (0, 0.05))
    assert bent.flatwise_stiffness > 1.2 * flat.flatwise_stiffness
    raised = section_properties(0.05, 0.004, form_of(ELLIPSE_HALF, 0.1), Layup(CARBON))
    level = section_properties(0.05, 0.004, form_of(ELLIPSE_HALF), Layup(CARBON))
    assert float(raised.flatwise_stiffness) == pytest.approx(float(level.flatwise_stiffness), rel=1e-9)
    leaning = replace(ELLIPSE, camber=-0.1 * ELLIPSE.place)  # tail down: leading edge up
    turned = section_properties(0.05, 0.004, leaning, Layup(CARBON))
    assert float(turned.principal_angle) == pytest.approx(np.arctan(0.1), rel=0.02)


def ELLIPSE_HALF(x):  # noqa: N802
    return np.sqrt(x * (1 - x))


def test_broadcasts_over_leading_axes():
    chord = np.linspace(0.03, 0.06, 6).reshape(2, 3)
    found = section_properties(chord, 0.1 * chord, four_digit_form(0.03), Layup(CARBON, 3e-4, FOAM))
    one = chord[1, 2]
    alone = section_properties(one, 0.1 * one, four_digit_form(0.03), Layup(CARBON, 3e-4, FOAM))
    assert found.flatwise_stiffness.shape == found.wall_share.shape == (2, 3)
    assert float(found.torsion_stiffness[1, 2]) == pytest.approx(float(alone.torsion_stiffness), rel=1e-12)


@pytest.mark.parametrize(
    ("make", "text"),
    [
        (lambda: Layup(CARBON, None, FOAM), "core: a solid section has none"),
        (lambda: Layup(CARBON, -0.001), "skin_thickness -0.001 m must be positive"),
        (lambda: section_properties(0.0, 0.1, RECTANGLE, Layup(CARBON)), "chord must be positive"),
    ],
)
def test_what_cannot_be_built_is_refused(make, text):
    with pytest.raises(ValueError, match=text):
        make()
