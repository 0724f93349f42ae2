"""What blades are made of: units, physical order, and agreement with the table of lugs and plates."""

import pytest

from bladehold.tables import blade_material, blade_material_names, material, material_names

ROWS = [blade_material(name) for name in blade_material_names()]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row.name)
def test_figures_are_in_si_and_possible(row):
    assert row.kind in {"laminate", "foam", "wood", "plastic", "metal"}
    assert 5e7 <= row.modulus <= 210e9
    assert 40 < row.density < 3000
    # an isotropic body has G = E / (2 (1 + nu)); only fibres at 45 degrees are stiffer in shear
    assert (row.shear_modulus > row.modulus / 2) == (row.name == "carbon-45")


def test_foam_is_the_lightest_and_softest():
    foams = [row for row in ROWS if row.kind == "foam"]
    others = [row for row in ROWS if row.kind != "foam"]
    assert max(row.density for row in foams) < min(row.density for row in others)
    assert max(row.modulus for row in foams) < min(row.modulus for row in others)


@pytest.mark.parametrize("name", sorted({*blade_material_names()} & {*material_names()}))
def test_a_material_of_both_tables_is_the_same_in_both(name):
    ours, theirs = blade_material(name), material(name)
    assert (ours.modulus, ours.density) == (theirs.modulus, theirs.density)


def test_wood_is_converted_from_psi():
    assert blade_material("birch").modulus == pytest.approx(2.01e6 * 6894.757, rel=1e-3)
    assert blade_material("beech").modulus == pytest.approx(1.72e6 * 6894.757, rel=1e-3)
    assert blade_material("beech").density == pytest.approx(0.64 * 1.12 * 1000, abs=1)
