"""Static and axial-flight rows of eight small propellers: UIUC Propeller Database, volumes 1 to 3.

Brandt, Deters, Ananda, Dantsker and Selig, University of Illinois; the figures stand in `_uiuc.py`. Standard
sea-level air is assumed; coefficients hardly know. The blade is taken to begin at the first row of its table,
0.15 R. Each comparison shows the row that agrees worst, so that it stands for all of them.

Only the laboratory propeller has a published section, SDA1075 (Deters, Ananda and Selig, AIAA 2014-2151). For
the others one shipped section was chosen for each family of blades, after looking at the static rows of the
whole family: the thin plate of 6 % camber for the wide slow blades, NACA 4409 for the narrow ones. These are
held to 10 % of CT and 12 % of CP. Clark-Y, what one would guess knowing nothing, is held to 25 % and 30 %.

After a fit of pitch offset, chord scale, drag factor and lift exponent to half of the rows, the others are
held to 3 % of CT and 4 % of CP.

What fails seems to fail in three ways, none of them mended here but for the fit. Blades of much pitch stall
inboard when standing still; turning holds the flow on the blade, and tables made for wings let it go, so that
thrust and most of all torque come out too small. A law for that (Snel and others, 1993, memory) brings static
CT from 7 to 6 % in the mean of squares and CP from 20 to 16 %, but lets thrust grow too much in edgewise
flight, by 20 and 27 % where 16 and 20 % are told (test_nasa_tm_2018_219758_edgewise.py); it is left out.

Below Reynolds numbers of about 60 000 real sections lose lift and gain drag to laminar separation, which
tables made for the troubled air about a rotor hardly show: in axial flight CT stays too high at low speeds of
turning, and a fifth to three quarters of the square of what a fit of pitch, chord and drag leaves goes with
the speed, mostly less with J. Tables for the calm air of a tunnel (transition amplification 8) leave 2 to 5 %
of CT there instead of 3 to 6 % in the mean of squares, but 4 % instead of 2 % standing still, where the
propeller stirs its own air: no one table serves both. The lift exponent takes up a part of it.

The slow blades carry more camber, or their pitch is read from another line, than any shipped section allows
for: their CT falls too early. Standing still it rises with speed more than that of the others, as if they
twisted under load, which was not measured.
"""

from functools import cache

import numpy as np
import pytest
from _fit import Air, Rows, deviations, fit_blade
from _known import disagreeing
from _uiuc import FRACTION, PROPELLERS

from bladehold.rotor import blade_from_table
from bladehold.rotor.correction import Correction

SOURCE = "UIUC Propeller Database, volumes 1-3 (Brandt, Deters, Ananda, Dantsker, Selig)"
FITTING = {name: "thin-cambered-6" if name.endswith("slow") else "naca4409" for name in PROPELLERS}
FITTING["9x6.75 laboratory"] = "sda1075"
GUESSED = "clark-y"
TAUGHT, JUDGED = slice(0, None, 2), slice(1, None, 2)
AIR = Air()
COEFFICIENTS = ("CT", "CP")

CASES = [
    (name, flight, coefficient)
    for name in PROPELLERS
    for flight in ("static", "axial")
    for coefficient in COEFFICIENTS
]


@cache
def blade(name, section):
    propeller = PROPELLERS[name]
    chord, twist = propeller.shape()
    return blade_from_table(
        radius=propeller.radius,
        hub_radius=FRACTION[0] * propeller.radius,
        r=FRACTION * propeller.radius,
        chord=chord,
        twist=twist,
        thickness=0.1 * chord,
        sections=(section,),
    )


@cache
def measured(name, flight):
    rpm, advance, thrust, power = PROPELLERS[name].rows(flight)
    turns, diameter = rpm / 60.0, 2.0 * PROPELLERS[name].radius
    return Rows(
        rotation_speed=2.0 * np.pi * turns,
        axial_velocity=advance * turns * diameter,
        thrust=thrust * AIR.density * turns**2 * diameter**4,
        power=power * AIR.density * turns**3 * diameter**5,
    )


@cache
def computed(name, flight, section):
    return deviations(blade(name, section), 2, measured(name, flight), AIR, Correction())


@cache
def fitted(name, flight):
    """Fit of the blade on every other row, from the first on."""
    return fit_blade(blade(name, FITTING[name]), 2, measured(name, flight).pick(TAUGHT), AIR)


@cache
def calibrated(name, flight):
    """Deviations of the rows between those that the blade was fitted to."""
    rows = measured(name, flight).pick(JUDGED)
    return deviations(blade(name, FITTING[name]), 2, rows, AIR, fitted(name, flight).correction)


# Deviations of all rows of the cases beyond their gate, per cent: lowest, mean, highest.
FITTING_OUTSIDE = {
    ("10x4.7 slow", "static", "CP"): (-16.9, -9.3, -2.2),
    ("10x4.7 slow", "axial", "CT"): (-28.4, -12.8, -3.0),
    ("10x4.7 slow", "axial", "CP"): (-19.5, -13.1, -5.7),
    ("11x4.7 slow", "static", "CP"): (-17.8, -8.4, -1.5),
    ("11x4.7 slow", "axial", "CT"): (-29.3, -13.9, -4.0),
    ("11x4.7 slow", "axial", "CP"): (-18.0, -12.4, -4.3),
    ("10x5", "axial", "CT"): (-7.7, 2.2, 14.7),
    ("10x5", "axial", "CP"): (-13.1, -5.5, 5.1),
    ("10x7", "static", "CP"): (-19.2, -17.5, -14.0),
    ("10x7", "axial", "CT"): (-5.0, 0.9, 20.0),
    ("11x5.5", "axial", "CT"): (-3.9, 12.1, 27.2),
    ("11x5.5", "axial", "CP"): (-10.1, 0.7, 13.6),
    ("14x12", "static", "CT"): (-15.9, -14.8, -13.9),
    ("14x12", "static", "CP"): (-34.5, -32.6, -30.4),
    ("14x12", "axial", "CT"): (-14.1, -6.1, 18.4),
    ("14x12", "axial", "CP"): (-20.3, -10.2, 6.7),
    ("17x12", "static", "CP"): (-30.6, -29.9, -28.9),
    ("17x12", "axial", "CT"): (-7.0, -3.4, 21.8),
    ("17x12", "axial", "CP"): (-15.5, -8.0, 9.2),
    ("9x6.75 laboratory", "static", "CT"): (-16.1, -9.8, -7.8),
    ("9x6.75 laboratory", "static", "CP"): (-28.1, -24.4, -20.6),
    ("9x6.75 laboratory", "axial", "CT"): (-15.1, -5.2, -1.0),
    ("9x6.75 laboratory", "axial", "CP"): (-21.1, -12.6, -8.2),
}
GUESSED_OUTSIDE = {
    ("10x4.7 slow", "static", "CP"): (-38.1, -31.2, -23.3),
    ("10x4.7 slow", "axial", "CT"): (-61.0, -37.6, -22.7),
    ("10x4.7 slow", "axial", "CP"): (-56.5, -40.8, -28.8),
    ("11x4.7 slow", "static", "CT"): (-26.6, -21.7, -18.8),
    ("11x4.7 slow", "static", "CP"): (-39.7, -31.0, -22.9),
    ("11x4.7 slow", "axial", "CT"): (-62.2, -39.8, -24.4),
    ("11x4.7 slow", "axial", "CP"): (-57.2, -41.8, -28.6),
    ("14x12", "static", "CP"): (-38.0, -35.8, -32.6),
    ("17x12", "static", "CP"): (-32.5, -31.9, -31.0),
}
CALIBRATED_OUTSIDE = {
    ("10x4.7 slow", "axial", "CP"): (-5.4, -0.2, 2.4),
    ("11x4.7 slow", "static", "CP"): (-5.1, -0.4, 2.6),
    ("11x4.7 slow", "axial", "CT"): (-3.7, 0.1, 1.6),
    ("11x4.7 slow", "axial", "CP"): (-5.8, -0.4, 2.2),
    ("10x5", "axial", "CT"): (-7.8, -0.7, 8.8),
    ("10x5", "axial", "CP"): (-8.3, -1.0, 8.2),
    ("10x7", "axial", "CT"): (-5.4, -0.5, 9.9),
    ("10x7", "axial", "CP"): (-6.3, -0.7, 7.4),
    ("11x5.5", "axial", "CT"): (-7.5, 0.2, 7.7),
    ("11x5.5", "axial", "CP"): (-9.1, -1.0, 8.1),
    ("14x12", "static", "CP"): (-5.1, -0.8, 4.2),
    ("14x12", "axial", "CT"): (-5.0, -0.7, 8.8),
    ("14x12", "axial", "CP"): (-4.8, -0.5, 5.6),
    ("17x12", "axial", "CT"): (-4.1, -0.8, 10.9),
    ("17x12", "axial", "CP"): (-4.9, -0.8, 6.6),
    ("9x6.75 laboratory", "static", "CT"): (-1.6, 0.4, 3.2),
    ("9x6.75 laboratory", "axial", "CT"): (-4.7, -0.1, 3.2),
    ("9x6.75 laboratory", "axial", "CP"): (-5.3, -0.7, 3.7),
}


def marked(case, outside):
    """The case, marked with how far all its rows are off where it is known to lie beyond the gate."""
    if case not in outside:
        return pytest.param(*case)
    low, mean, high = outside[case]
    reason = f"over all rows {low:+.1f} to {high:+.1f} %, mean {mean:+.1f} %"
    return disagreeing(*case, reason=reason)


def cases(outside):
    return [marked(case, outside) for case in CASES]


def compare(published, case, found, gate, *, how, why, rows=slice(None)):
    """Pass the row that agrees worst through the gate; rows - those that `found` belongs to."""
    name, flight, coefficient = case
    index = COEFFICIENTS.index(coefficient)
    worst = int(np.argmax(np.abs(found[index])))
    rpm, advance, *values = PROPELLERS[name].rows(flight)[:, rows]
    where = f"{rpm[worst]:g} rpm" + (f", J {advance[worst]:g}" if flight == "axial" else "")
    printed = values[index][worst]
    published(
        "rotor",
        SOURCE,
        f"{name}, {how}",
        f"{flight} {coefficient}, worst of {rpm.size} rows: {where}",
        printed,
        printed * (1.0 + found[index][worst]),
        rel=gate[index],
        why=why,
    )


@pytest.mark.parametrize(("name", "flight", "coefficient"), cases(FITTING_OUTSIDE))
def test_a_fitting_section(published, name, flight, coefficient):
    section = FITTING[name]
    how = f"{section} ({'published' if section == 'sda1075' else 'fitting'})"
    why = "blade-element results with a fitting section and nothing tuned"
    found = computed(name, flight, section)
    compare(published, (name, flight, coefficient), found, (0.10, 0.12), how=how, why=why)


@pytest.mark.parametrize(("name", "flight", "coefficient"), cases(GUESSED_OUTSIDE))
def test_a_guessed_section(published, name, flight, coefficient):
    why = "blade-element results with a guessed section were 13 to 27 % low"
    found = computed(name, flight, GUESSED)
    how = f"{GUESSED} (guessed)"
    compare(published, (name, flight, coefficient), found, (0.25, 0.30), how=how, why=why)


@pytest.mark.parametrize(("name", "flight", "coefficient"), cases(CALIBRATED_OUTSIDE))
def test_other_rows_after_a_fit(published, name, flight, coefficient):
    why = "other rows of the blade that pitch, chord, drag and lift exponent were fitted to"
    found = calibrated(name, flight)
    how = f"{FITTING[name]}, fitted to half of the rows"
    case = (name, flight, coefficient)
    compare(published, case, found, (0.03, 0.04), how=how, why=why, rows=JUDGED)


def test_the_deviations_told_are_those_found():
    for outside, find in (
        (FITTING_OUTSIDE, lambda name, flight: computed(name, flight, FITTING[name])),
        (GUESSED_OUTSIDE, lambda name, flight: computed(name, flight, GUESSED)),
        (CALIBRATED_OUTSIDE, calibrated),
    ):
        for (name, flight, coefficient), told in outside.items():
            found = 100.0 * find(name, flight)[COEFFICIENTS.index(coefficient)]
            assert (found.min(), found.mean(), found.max()) == pytest.approx(told, abs=0.11)


@pytest.mark.parametrize("name", PROPELLERS)
def test_a_fit_stays_a_blade(name):
    fit = fitted(name, "static")
    assert fit.correction.breaches == ()
    assert fit.solves < 80
    assert np.all(np.linalg.eigvalsh(fit.covariance) > 0.0)
