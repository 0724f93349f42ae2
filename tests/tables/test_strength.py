"""Property classes: consistency of the figures, and the envelope for a screw without a grade."""

import pytest

from bladehold.tables import property_class, property_class_names

CLASSES = [property_class(name) for name in property_class_names()]
COMMON = [row for row in CLASSES if row.family in {"steel", "stainless"}]
STEEL = [row for row in CLASSES if row.family == "steel"]


def test_the_classes_are_listed():
    assert property_class_names() == (
        *("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"),
        *("A2-50", "A2-70", "A2-80", "A4-50", "A4-70", "A4-80"),
        "Ti-6Al-4V",
        "unmarked",
    )


@pytest.mark.parametrize("row", CLASSES, ids=lambda row: row.name)
def test_figures_are_in_order_and_in_si(row):
    assert 100e6 < row.yield_strength < row.tensile_strength < 1300e6
    assert row.proof_stress is None or 0.8 * row.yield_strength < row.proof_stress < row.yield_strength
    assert row.elongation is None or 0.05 < row.elongation < 0.3
    assert 100e9 < row.modulus < 215e9
    assert 8e-6 < row.expansion < 18e-6
    assert 4400 < row.density < 8100


@pytest.mark.parametrize("row", STEEL, ids=lambda row: row.name)
def test_the_name_of_a_steel_class_tells_its_strengths(row):
    # ISO 898-1: first number Rm/100 MPa, second the nominal yield ratio in tenths; minima lie at or above.
    hundreds, tenths = (int(part) for part in row.name.split("."))
    assert 0 <= row.tensile_strength / 1e6 - 100 * hundreds <= 40
    assert 0 <= row.yield_strength / 1e6 - 10 * hundreds * tenths <= 40
    assert row.proof_stress is not None


@pytest.mark.parametrize("row", [r for r in CLASSES if r.family == "stainless"], ids=lambda row: row.name)
def test_the_name_of_a_stainless_class_tells_its_tensile_strength(row):
    assert row.tensile_strength == float(row.name.split("-")[1]) * 10e6
    assert row.modulus_provenance.unconfirmed
    assert not row.strength_provenance.unconfirmed
    assert row.proof_stress is None


def test_unmarked_is_the_envelope_of_the_common_classes():
    unmarked = property_class("unmarked")
    assert unmarked.tensile_strength == min(row.tensile_strength for row in COMMON)
    assert unmarked.yield_strength == min(row.yield_strength for row in COMMON)
    assert unmarked.modulus == max(row.modulus for row in COMMON)
    assert unmarked.expansion == min(row.expansion for row in COMMON)
    assert unmarked.density == max(row.density for row in COMMON)
    assert unmarked.strength_provenance.mark == "computed"
    assert unmarked.note


def test_titanium_carries_its_caution():
    note = property_class("Ti-6Al-4V").note
    assert "60 %" in note
    assert "not minima" in note


def test_the_size_limit_of_8_8_is_stated():
    assert property_class("8.8").largest_diameter == 0.016
