"""Lug, plate, hub and bush materials: conversions, completeness by kind, and physical order."""

import pytest

from bladehold.tables import material, material_names

ROWS = [material(name) for name in material_names()]
METALS = [row for row in ROWS if row.kind == "metal"]
LAMINATES = [row for row in ROWS if row.kind == "laminate"]
KSI = 6.894757e6


def test_the_materials_are_listed():
    assert material_names() == (
        *("7075-T6", "7075-T7351", "6061-T6", "2024-T3", "Ti-6Al-4V", "17-4PH", "S235", "C45"),
        *("carbon-woven", "carbon-0-90", "PA66-GF30"),
    )


# Ftu, Fty, Fsu, Fbru and Fbry at e/D 2.0, Fbru and Fbry at e/D 1.5, in ksi.
IN_KSI = {
    "7075-T6": (78, 70, 47, 156, 119, 121, 102),
    "7075-T7351": (65, 52, None, 131, None, None, None),
    "6061-T6": (42, 35, 27, 88, 58, 67, 50),
    "2024-T3": (63, 42, 39, 129, 88, 104, 73),
    "17-4PH": (190, 170, 123, 380, 280, 313, 255),
}


@pytest.mark.parametrize("name", IN_KSI)
def test_rows_given_in_ksi_are_converted_to_a_tenth_of_a_megapascal(name):
    row = material(name)
    ours = (
        row.tensile_ultimate,
        row.tensile_yield,
        row.shear_ultimate,
        row.bearing_ultimate_2d,
        row.bearing_yield_2d,
        row.bearing_ultimate_1_5d,
        row.bearing_yield_1_5d,
    )
    for value, ksi in zip(ours, IN_KSI[name], strict=True):
        if ksi is None:
            assert value is None
        else:
            assert value == pytest.approx(ksi * KSI, abs=0.0501e6)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_figures_are_in_si(row):
    assert row.kind in {"metal", "laminate", "plastic"}
    assert 100e6 <= row.tensile_ultimate <= 1400e6
    assert 6e9 <= row.modulus <= 210e9
    assert 1e-6 < row.expansion_in_plane <= row.expansion_thickness < 100e-6
    assert 1000 < row.density < 8000
    assert row.surface_pressure is None or 200e6 < row.surface_pressure < 1000e6


@pytest.mark.parametrize("row", METALS, ids=lambda row: row.name)
def test_metals_have_yield_and_bearing_but_no_laminate_figures(row):
    assert row.tensile_yield < row.tensile_ultimate
    assert row.shear_ultimate is None or 0.5 < row.shear_ultimate / row.tensile_ultimate < 0.7
    assert 1.6 < row.bearing_ultimate_2d / row.tensile_ultimate < 2.2
    assert row.bearing_yield_2d is None or row.bearing_yield_2d < row.bearing_ultimate_2d
    if row.bearing_ultimate_1_5d is not None:
        assert row.bearing_ultimate_1_5d < row.bearing_ultimate_2d
    assert row.expansion_in_plane == row.expansion_thickness
    assert row.laminate_provenance is None
    assert row.hole_factor is None


@pytest.mark.parametrize("row", LAMINATES, ids=lambda row: row.name)
def test_laminates_are_assumptions_with_all_their_hole_figures(row):
    assert row.laminate_provenance.unconfirmed
    assert row.strength_provenance.unconfirmed
    assert row.bearing_pin <= row.bearing_finger_tight <= row.bearing_clamped
    assert row.interlaminar_shear <= row.shear_out < row.bearing_pin
    assert 0 < row.hole_factor < 1
    assert row.tensile_yield is None
    assert row.bearing_ultimate_2d is None
    assert row.expansion_thickness > 10 * row.expansion_in_plane


def test_cloth_without_45_degree_plies_is_the_weaker_lug():
    woven, cross_ply = material("carbon-woven"), material("carbon-0-90")
    assert cross_ply.shear_out < woven.shear_out
    assert cross_ply.bearing_clamped < woven.bearing_clamped


def test_only_confirmed_figures_are_marked_so():
    confirmed = {row.name for row in ROWS if not row.strength_provenance.unconfirmed}
    assert confirmed == {"7075-T7351", "Ti-6Al-4V"}
    with_pressure = {row.name: row.surface_pressure for row in ROWS if row.surface_pressure is not None}
    assert with_pressure == {
        "7075-T6": 410e6,
        "7075-T7351": 410e6,
        "Ti-6Al-4V": 890e6,
        "S235": 490e6,
        "C45": 630e6,
    }
