"""Air Force Stress Analysis Manual, AFFDL-TR-69-42, chapter 9 (lugs), after an aircraft stress report.

The manual's curves were not read; the report quotes the factors it read off them (its forms F5, F6). Loads
there are in newtons, strengths in pounds.
"""

import pytest

from bladehold.joint import lug, lug_curves, pin, pin_peaking
from bladehold.tables import lug_curves as figure

SOURCE = "AFFDL-TR-69-42 ch. 9, quoted in an aircraft stress report"
MANUAL = "AFFDL-TR-69-42 ch. 9, its example 9.6 as carried by an open implementation"
INCH, POUND = 0.0254, 4.4482216152605
PSI = POUND / INCH**2


def test_oblique_lug(published):
    """Lug of 7075, D 2, t 2.5, w 4, e 2.5 in, Ftu 71 ksi; Kbr 1.24, Kt 0.95, Ktru 0.7875, FF 1.15."""
    D, t, w, strength = 2 * INCH, 2.5 * INCH, 4 * INCH, 71e3 * PSI
    bearing = lug.bearing_capacity(D, t, strength, 1.24)
    tension = lug.net_tension_capacity(w, D, t, strength, 0.95)
    transverse = lug.bearing_capacity(D, t, strength, 0.7875)
    for quantity, printed, ours in (
        ("P'bru, lb", 440200.0, bearing),
        ("P'tu, lb", 337250.0, tension),
        ("P'tru, lb", 279562.0, transverse),
    ):
        published(
            "joint",
            SOURCE,
            "F5",
            quantity,
            printed,
            ours / POUND,
            abs=1.0,
            why="half pounds cut off in print",
        )
    axial_ratio = 1.15 * 317840 / min(bearing, tension)
    transverse_ratio = 1.15 * lug.transverse_load(317840, 529740) / transverse
    margin = lug.oblique_multiplier(axial_ratio, transverse_ratio) - 1
    published("joint", SOURCE, "F5", "Ra", 0.2437, axial_ratio, abs=0.00005, why="four figures printed")
    published("joint", SOURCE, "F5", "Rtr", 0.4899, transverse_ratio, abs=0.00005, why="four figures printed")
    published(
        "joint", SOURCE, "F5", "margin of safety", 0.710, margin, abs=0.0005, why="three decimals printed"
    )


def test_pin_bending(published):
    """P 617776 N, pin 50.8, lug 63.5, ear 31.75, gap 0.762 mm."""
    moment = pin.bending_moment_air_force(617776.0, 31.75e-3, 63.5e-3, 0.762e-3)
    bending = pin.bending_stress(moment, 50.8e-3)
    shear = pin.double_shear_force(617776.0) / pin.shear_area(50.8e-3)
    why = "one decimal printed"
    published("joint", SOURCE, "F6", "pin bending stress, MPa", 780.3, bending / 1e6, abs=0.05, why=why)
    published("joint", SOURCE, "F6", "pin shear stress, MPa", 152.4, shear / 1e6, abs=0.05, why=why)


def test_example_9_6(published):
    """Two 0.5 in ears, 0.75 in lug, gap 0.1, pin 0.75 in (125 ksi, plastic factor 1.56), bushes 60 ksi, D 1.

    Ultimate loads are capped at 1.5/1.15 of yield, as the manual does for its ductile alloys.
    """
    cap = 1.5 / 1.15
    ear = lug.bearing_capacity(INCH, 0.5 * INCH, cap * 40e3 * PSI, 1.46 * 0.75)
    bush = lug_curves.bush_load(60e3 * PSI, 0.75 * INCH, 0.75 * INCH, cap)
    moment = 1.56 * 125e3 * PSI * pin.section_modulus(0.75 * INCH)
    even = 2 * moment / ((0.25 + 0.1 + 0.1875) * INCH)
    shear = 2 * pin.shear_capacity(0.75 * INCH, 82e3 * PSI)
    joint = pin_peaking.shifted_pin_load(moment, ear, bush, 0.5 * INCH, 0.75 * INCH, 0.1 * INCH)
    for quantity, printed, ours in (
        ("ear, shear-bearing, lb", 28600.0, ear),
        ("bush of the lug, lb", 44000.0, bush),
        ("pin shear, lb", 72400.0, shear),
        ("pin bending, even pressure, lb", 30100.0, even),
        ("joint, load shifted to the faces, lb", 37900.0, joint),
    ):
        published(
            "joint", MANUAL, "9.6", quantity, printed, ours / POUND, rel=0.005, why="three figures printed"
        )


def read(name, value, parameter):
    curves = figure(name)
    return lug_curves.family_factor(value, parameter, curves.parameters, curves.points, curves.factors)


def test_curves_against_what_others_read(published):
    """Points of our curves beside factors that the manual's example and the report read off theirs."""
    bearing, net = lug_curves.SHEAR_BEARING_READING_ERROR, lug_curves.CURVE_READING_ERROR
    for source, case, quantity, printed, ours, error in (
        (MANUAL, "9.6", "K(a/D), e/D 1.25", 1.46 * 0.75, read("shear-bearing", 1.25, 2.0), bearing),
        (MANUAL, "9.6", "K, e/D 1.5", 1.33, read("shear-bearing", 1.5, 4 / 3), bearing),
        (SOURCE, "F5", "Kbr, e/D 1.25", 1.24, read("shear-bearing", 1.25, 0.8), bearing),
        (MANUAL, "9.6", "Kn, w/D 2.5, 2024-T351 (curve 5)", 0.74, read("net tension", 2.5, 5.0), net),
        (MANUAL, "9.6", "Kn, w/D 3, 7075-T651 (curve 3)", 0.87, read("net tension", 3.0, 3.0), net),
        (SOURCE, "F5", "Kt, w/D 2, 7075 (curve 2)", 0.95, read("net tension", 2.0, 2.0), net),
        (SOURCE, "F5, first issue", "Kt, w/D 2, 7075 (curve 4)", 0.90, read("net tension", 2.0, 4.0), net),
    ):
        why = "reading error the verdicts allow for"
        published("joint", source, case, quantity, printed, ours, rel=error, why=why)


@pytest.mark.xfail(
    strict=True,
    reason="ours is 12 % lower: the hole's side is taken as least section, and the aluminium curve is lower",
)
def test_transverse_factor(published):
    """W/D 2, e/D 1.25."""
    ours = read("transverse", lug_curves.average_depth(2.0, 1.0, 1.25), 0.0)
    why = "reading error the verdicts allow for"
    published("joint", SOURCE, "F5", "Ktru, w/D 2, e/D 1.25", 0.7875, ours, rel=0.05, why=why)
