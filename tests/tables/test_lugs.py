"""Points of the lug curves, nut styles and printed engagements."""

import numpy as np
import pytest

from bladehold.joint.lug_curves import curve_factor, shear_plane_factor
from bladehold.tables import (
    engagements,
    lug_curves,
    lug_figures,
    lug_material,
    material,
    material_names,
    nut_style,
    nut_style_names,
)


def test_figures_are_in_order():
    assert lug_figures() == (
        *("net tension", "shear-bearing", "shear-bearing yield"),
        *("transverse", "transverse yield", "peaking"),
    )
    for name in lug_figures():
        curves = lug_curves(name)
        assert list(curves.parameters) == sorted(curves.parameters)
        assert list(curves.points) == sorted(curves.points)
        assert {len(row) for row in curves.factors} == {len(curves.points)}
        assert all(0.0 < factor < 3.1 for row in curves.factors for factor in row)
        assert not any(provenance.unconfirmed for provenance in curves.provenances)


def test_curves_go_the_way_the_method_says():
    net, bearing = lug_curves("net tension"), lug_curves("shear-bearing")
    assert np.all(np.diff(net.factors, axis=1)[:, 1:] < 0.0)  # wider lugs use less of their net section
    assert np.all(np.diff(bearing.factors, axis=1) >= 0.0)  # more end helps
    assert np.all(np.diff(np.array(bearing.factors)[:, 3:], axis=0) <= 0.0)  # thinner lugs bear less
    for name in ("transverse", "transverse yield", "peaking"):
        assert np.all(np.diff(lug_curves(name).factors, axis=1) >= 0.0)


@pytest.mark.parametrize("edge", [1.0, 1.25, 1.5])
@pytest.mark.parametrize("ratio", [0.577, 0.62])
def test_shear_planes_stay_below_the_curve(edge, ratio):
    curves = lug_curves("shear-bearing")
    read = float(curve_factor(edge, curves.points, curves.factors[0]))
    share = float(shear_plane_factor(edge, ratio)) / read
    assert 0.86 < share < 0.98


def test_yield_curve_for_thick_lugs_agrees_with_a_second_reading():
    curves = lug_curves("shear-bearing yield")
    second = {1.0: 0.881, 1.25: 1.145, 1.5: 1.350, 2.0: 1.581, 3.0: 1.727}
    for edge, factor in second.items():
        assert float(curve_factor(edge, curves.points, curves.factors[-1])) == pytest.approx(factor, rel=0.02)


def test_every_metal_has_curves_and_nothing_else_has():
    for name in material_names():
        assert (lug_material(name) is not None) == (material(name).kind == "metal")
        if (found := lug_material(name)) is not None:
            assert lug_curves("net tension").row(found.net_tension)
            assert lug_curves("transverse").row(found.transverse)


def test_nut_styles():
    assert nut_style_names() == ("plain", "thin", "insert", "all-metal", "castle", "tapped", "wire insert")
    assert nut_style("insert").temperature_limit == pytest.approx(393.15)
    assert nut_style("all-metal").temperature_limit is None
    assert nut_style("castle").thread_share < 1.0
    assert nut_style("thin").note
    for name in nut_style_names():
        assert nut_style(name).provenance.unconfirmed


def test_stronger_screws_and_softer_parents_need_more_thread():
    rows = engagements()
    for parent in {row.parent for row in rows}:
        lengths = [row.over_diameter for row in rows if row.parent == parent]
        assert lengths == sorted(lengths)
    assert len(rows) == 14
