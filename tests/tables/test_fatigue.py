"""Stress-life curves and fatigue strengths of screws."""

import pytest

from bladehold import tables


def test_every_metal_has_its_curves():
    for name in tables.fatigue_materials():
        rows = tables.fatigue_curves(name)
        assert [row.material for row in rows] == [name] * len(rows)
        assert all(row.slope < 0 < row.ratio_exponent < 1 for row in rows)
    assert set(tables.fatigue_materials()) >= {"6061-T6", "7075-T6", "2024-T3"}
    assert tables.fatigue_curves("7075-T6")[0].offset == pytest.approx(69.98e6, rel=1e-4)


def test_what_is_known_from_memory_says_so():
    assert all(row.provenance.unconfirmed for row in tables.fatigue_curves("2024-T3"))
    assert not tables.fatigue_curves("7075-T6")[0].provenance.unconfirmed
    assert not tables.thread_fatigue("8.8").provenance.unconfirmed
    assert tables.thread_fatigue("12.9").provenance.unconfirmed


def test_every_family_of_screws_has_its_strength():
    families = {tables.property_class(name).family for name in tables.property_class_names()}
    assert families == set(tables.screw_fatigue_families())
    lowest = tables.screw_fatigue("unknown")
    for name in families:
        assert tables.screw_fatigue(name).endurance_ratio >= lowest.endurance_ratio
    assert tables.screw_fatigue("steel").endless
    assert not tables.screw_fatigue("titanium").endless


def test_unknown_names_are_refused():
    with pytest.raises(tables.UnknownName, match="fatigue curve"):
        tables.fatigue_curves("6061-T66")
    with pytest.raises(tables.UnknownName, match="thread endurance"):
        tables.thread_fatigue("4.6")
