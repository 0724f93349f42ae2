"""Blades from a table and from few measures."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.rotor import (
    BladeGeometry,
    blade_from_measures,
    blade_from_table,
    planform_chord,
    station_radii,
)

MEASURES = {
    "diameter": 0.7112,
    "hub_radius": 0.03,
    "geometric_pitch": 0.23,
    "widest_chord": 0.07,
    "widest_fraction": 0.35,
    "tip_chord": 0.025,
    "thickness_ratio": 0.1,
    "section": "clark-y",
}


@given(
    hub=st.floats(0.0, 0.05),
    widest_fraction=st.floats(0.25, 0.8),
    tip=st.floats(0.005, 0.07),
    root=st.floats(0.01, 0.07),
    root_thickness=st.floats(0.004, 0.03),
)
def test_a_measured_blade_is_positive_and_smooth(hub, widest_fraction, tip, root, root_thickness):
    change = {
        "hub_radius": hub,
        "widest_fraction": widest_fraction,
        "tip_chord": tip,
        "root_chord": root,
        "root_thickness": root_thickness,
    }
    blade = blade_from_measures(**(MEASURES | change), stations=np.linspace(0.051, 0.355, 400))
    assert np.all(blade.chord >= min(tip, root) - 1e-12)
    assert blade.chord.max() <= 0.07 + 1e-12
    assert np.all(np.abs(np.diff(blade.chord)) < 0.003)
    assert np.all(np.diff(blade.twist) < 0.0)
    assert blade.thickness.min() > 0.0
    outboard = blade.r >= widest_fraction * blade.radius
    assert blade.thickness[outboard] == pytest.approx(0.1 * blade.chord[outboard])


def test_the_planform_law_follows_a_measured_blade():
    # chords of the 28-inch multirotor blade, University of Stavanger (2020), at r/R = 0.2, 0.3 .. 0.9
    measured = np.array([56.0, 70.0, 70.0, 65.0, 58.0, 50.0, 43.0, 34.0]) / 1e3
    law = planform_chord(
        0.3556 * np.arange(0.2, 0.95, 0.1),
        radius=0.3556,
        hub_radius=0.03,
        widest_chord=0.0705,
        widest_radius=0.33 * 0.3556,
        tip_chord=0.024,
        root_chord=0.035,
    )
    assert law == pytest.approx(measured, rel=0.03)


def test_root_thickness_is_met_at_the_hub():
    blade = blade_from_measures(**MEASURES, root_thickness=0.012, stations=[0.0300001, 0.2])
    assert blade.thickness[0] == pytest.approx(0.012, abs=1e-6)


def test_a_table_is_met_at_its_rows_and_held_beyond_them():
    blade = blade_from_table(
        radius=0.3,
        hub_radius=0.03,
        r=[0.1, 0.2],
        chord=[0.05, 0.03],
        twist=[0.3, 0.1],
        thickness=[0.01, 0.004],
        sections=("naca4415", "clark-y"),
        stations=[0.05, 0.15, 0.29],
    )
    assert blade.chord.tolist() == pytest.approx([0.05, 0.04, 0.03])
    assert blade.section_weights == pytest.approx(np.array([[1.0, 0.0], [0.5, 0.5], [0.0, 1.0]]))


def test_a_section_that_returns_along_the_span_is_one_section():
    rows = {"r": [0.1, 0.15, 0.2], "chord": [0.05] * 3, "twist": [0.1] * 3, "thickness": [0.01] * 3}
    blade = blade_from_table(radius=0.3, hub_radius=0.03, sections=("e63", "clark-y", "e63"), **rows)
    assert blade.sections == ("e63", "clark-y")


def test_stations_lie_strictly_inside():
    r = station_radii(0.03, 0.3, 30)
    assert np.all(np.diff(r) > 0.0)
    assert 0.03 < r[0] < r[-1] < 0.3


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"hub_radius": 0.4}, "hub_radius"),
        ({"r": np.array([0.1, 0.3])}, "r must"),
        ({"r": np.array([0.2, 0.1])}, "r must"),
        ({"chord": np.array([0.1, 0.0])}, "chord"),
        ({"twist": np.array([0.1, np.nan])}, "twist"),
        ({"thickness": np.array([0.1])}, "thickness"),
        ({"section_weights": np.array([[0.5], [1.0]])}, "section_weights"),
        ({"section_weights": np.ones((2, 2))}, "section_weights"),
    ],
)
def test_a_blade_that_cannot_be_is_refused_by_name(change, word):
    fields = {
        "radius": 0.3,
        "hub_radius": 0.03,
        "r": np.array([0.1, 0.2]),
        "chord": np.array([0.05, 0.04]),
        "twist": np.array([0.3, 0.1]),
        "thickness": np.array([0.01, 0.01]),
        "sections": ("clark-y",),
        "section_weights": np.ones((2, 1)),
    }
    with pytest.raises(ValueError, match=word):
        BladeGeometry(**(fields | change))


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"widest_fraction": 0.05}, "widest_fraction"),
        ({"widest_fraction": 1.2}, "widest_fraction"),
        ({"geometric_pitch": 0.0}, "geometric_pitch"),
        ({"tip_chord": 0.08}, "tip_chord"),
        ({"root_chord": -0.01}, "root_chord"),
    ],
)
def test_a_measure_that_cannot_be_is_refused_by_name(change, word):
    with pytest.raises(ValueError, match=word):
        blade_from_measures(**(MEASURES | change))


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"r": [0.2, 0.1]}, "r must"),
        ({"chord": [0.05]}, "chord"),
        ({"sections": ("a", "b", "c")}, "sections"),
    ],
)
def test_a_table_that_cannot_be_is_refused_by_name(change, word):
    table = {
        "radius": 0.3,
        "hub_radius": 0.03,
        "r": [0.1, 0.2],
        "chord": [0.05, 0.03],
        "twist": [0.3, 0.1],
        "thickness": [0.01, 0.004],
        "sections": ("clark-y",),
    }
    with pytest.raises(ValueError, match=word):
        blade_from_table(**(table | change))
