"""Heads, nuts, washers and holes: they fit each other, grow with size, and bear on the right area."""

from itertools import pairwise
from math import pi

import numpy as np
import pytest

from bladehold.tables import (
    bearing_area,
    clearance_fits,
    clearance_hole,
    head,
    head_kinds,
    nut,
    nut_kinds,
    property_class,
    thread,
    thread_names,
    washer,
)

SIZES = thread_names()


@pytest.mark.parametrize(
    ("size", "area"),
    [
        ("M2.5", 7.12),
        ("M3", 11.11),
        ("M4", 17.59),
        ("M5", 26.88),
        ("M6", 34.89),
        ("M8", 55.79),
        ("M10", 89.54),
    ],
)
def test_bearing_area_of_a_socket_head_over_a_medium_hole(size, area):
    face = head(size, "socket").bearing_diameter
    assert bearing_area(face, clearance_hole(size, "medium").diameter) * 1e6 == pytest.approx(area, abs=0.005)


def test_bearing_area_takes_arrays_and_vanishes_with_the_face():
    area = bearing_area(np.array([[6e-3], [8e-3]]), np.array([4e-3, 6e-3]))
    assert area.shape == (2, 2)
    assert area[0, 1] == 0.0
    assert area[1, 0] == pytest.approx(pi * 12e-6, rel=1e-12)


def _grow(rows, *fields):
    for smaller, larger in pairwise(rows):
        for field in fields:
            assert getattr(smaller, field) < getattr(larger, field)


@pytest.mark.parametrize("kind", head_kinds())
def test_heads_fit_their_screw(kind):
    rows = [head(size, kind) for size in SIZES]
    _grow(rows, "width", "height", "bearing_diameter", "underhead_diameter")
    assert all(smaller.key <= larger.key for smaller, larger in pairwise(rows))
    for row in rows:
        nominal = thread(row.size).nominal_diameter
        assert nominal < row.underhead_diameter < row.bearing_diameter < row.width
        assert 0.6 * nominal <= row.height <= nominal
        assert row.kind == kind


@pytest.mark.parametrize("kind", nut_kinds())
def test_nuts_fit_their_screw(kind):
    rows = [nut(size, kind) for size in SIZES if kind != "locking" or thread(size).nominal_diameter >= 3e-3]
    _grow(rows, "width", "height", "thread_height", "bearing_diameter", "chamfer_diameter")
    for row in rows:
        nominal = thread(row.size).nominal_diameter
        assert nominal < row.chamfer_diameter < row.bearing_diameter < row.width
        assert row.thread_height < row.height
        assert row.width == head(row.size, "hexagon").width


def test_thin_nuts_carry_less_thread_and_locking_nuts_stand_higher():
    for size in SIZES[2:]:
        thin, full, locking = (nut(size, kind) for kind in ("thin", "hexagon", "locking"))
        assert thin.thread_height < full.thread_height == locking.thread_height
        assert locking.height > full.height
        assert locking.provenance.unconfirmed
        assert not full.provenance.unconfirmed


def test_washers_fit_their_screw_and_widen_the_face():
    rows = [washer(size) for size in SIZES]
    _grow(rows, "inner_diameter", "outer_diameter")
    assert all(smaller.thickness <= larger.thickness for smaller, larger in pairwise(rows))
    for row in rows:
        assert thread(row.size).nominal_diameter < row.inner_diameter
        assert row.outer_diameter > head(row.size, "socket").bearing_diameter


def test_holes_clear_their_screw():
    assert clearance_fits() == ("fine", "medium", "coarse")
    for fit in clearance_fits():
        _grow([clearance_hole(size, fit) for size in SIZES], "diameter")
    for size in SIZES:
        fine, medium, coarse = (clearance_hole(size, fit).diameter for fit in clearance_fits())
        assert thread(size).nominal_diameter < fine < medium < coarse
        assert coarse < head(size, "socket").bearing_diameter


def test_a_fully_tightened_socket_screw_presses_harder_than_7075_allows():
    # Class 12.9 at 90 % of its yield on the bare head of an M5 screw, 410 MPa permissible.
    preload = 0.9 * property_class("12.9").yield_strength * thread("M5").profile.stress_area
    area = bearing_area(head("M5", "socket").bearing_diameter, clearance_hole("M5", "medium").diameter)
    assert preload / area > 410e6
    under_washer = bearing_area(washer("M5").outer_diameter, washer("M5").inner_diameter)
    assert preload / under_washer < 410e6


@pytest.mark.parametrize(
    ("size", "stress", "newtons"),
    [
        ("M2.5", property_class("8.8").proof_stress, 1967),
        ("M4", property_class("10.9").proof_stress, 7286),
        ("M8", property_class("12.9").proof_stress, 35510),
        ("M3", property_class("A2-50").tensile_strength, 2515),
        ("M5", property_class("A2-70").tensile_strength, 9928),
        ("M10", property_class("A4-80").tensile_strength, 46392),
    ],
)
def test_minimum_loads_follow_from_area_and_stress(size, stress, newtons):
    assert stress * thread(size).profile.stress_area == pytest.approx(newtons, abs=0.5)
