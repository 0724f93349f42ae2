"""Torque and figure of merit of a full-scale two-blade rotor in hover: Harrington, NACA TN 2318 (1951).

Rotor 1: R 12.5 ft, straight taper, untwisted, symmetric four-digit sections from 30 % thick at the root to
16 % at the tip, solidity 0.027, 500 ft/s; rows of CT and CQ read off the printed chart. Taken here: thickness
ratio linear in the radius, from the first chord row (20 in, where the blade is taken to begin) to the tip;
sections NACA 0015, 0018 and 0024 blended accordingly, 0024 where the blade is thicker; standard air. The
Reynolds number is 1.25 million at 0.75 R. CQ is compared at equal CT by varying the collective pitch.

Torque is missing at every thrust, and the best figure of merit is 20 % too high. At little thrust, 0.7 to
1.3e-5 of CQ is missing, a third of the section drag, as if the blade were rougher than the smooth computed
sections: tables with transition forced at 5 % of the chord bring CQ to within -11 and +17 %, 0 in the mean.
How the blade was finished is not known here, so they are not used. The rest grows with thrust, as induced
torque does. The shape agrees. The printed row without thrust is left out: without lift there is no inflow,
and annulus momentum then has no air to carry the drag away.
"""

from functools import cache

import numpy as np
import pytest

from bladehold.rotor import blade_from_table, rotor_thrust_coefficient, rotor_torque_coefficient, solve_axial

SOURCE = "Harrington, NACA TN 2318 (1951), rotor 1"
INCH = 0.0254
RADIUS = 150.0 * INCH
SPEED = 500.0 * 12.0 * INCH / RADIUS
AIR = {"density": 1.225, "viscosity": 1.789e-5, "speed_of_sound": 340.3}
CHORD_AT = (20.0, 40.0, 60.0, 80.0, 100.0, 120.0, 147.0)  # in
CHORD = (11.3, 10.2, 9.2, 8.1, 7.0, 5.9, 4.45)  # in
# CT, CQ, both in 1e-5
ROWS = 1e-5 * np.array([
    [19, 3.62], [38, 4.33], [75, 5.26], [98, 5.93], [106, 6.75], [124, 7.01], [142, 7.99], [155, 8.99],
    [179, 10.52], [188, 10.75], [207, 11.72], [220, 12.99], [234, 13.77], [265, 15.93], [283, 17.50],
    [296, 19.03], [310, 19.44], [348, 23.66],
])  # fmt: skip
CT, CQ = ROWS.T


def merit(ct, cq):
    return ct**1.5 / np.sqrt(2.0) / cq


def blade(collective):
    # where the thickness ratio passes 24, 18 and (a little beyond the tip) 15 %
    thick, thin, tip = (20.0 + 130.0 * (0.30 - ratio) / 0.14 for ratio in (0.24, 0.18, 0.15))
    r = np.array([20.0, thick, thin, tip])
    slope = (CHORD[-1] - CHORD[-2]) / (CHORD_AT[-1] - CHORD_AT[-2])
    chord = np.interp(r, CHORD_AT, CHORD) + slope * np.maximum(r - CHORD_AT[-1], 0.0)
    return blade_from_table(
        radius=RADIUS,
        hub_radius=CHORD_AT[0] * INCH,
        r=r * INCH,
        chord=chord * INCH,
        twist=np.full(4, collective),
        thickness=np.array([0.30, 0.24, 0.18, 0.15]) * chord * INCH,
        sections=("naca0024", "naca0024", "naca0018", "naca0015"),
    )


@cache
def polar_curve():
    """Our CT and CQ over collective pitch, 0.25 to 14 degrees."""
    found = [
        solve_axial(blade(np.radians(pitch)), 2, SPEED, 0.0, **AIR) for pitch in np.arange(0.25, 14.01, 0.25)
    ]
    thrust, torque = np.array([(one.thrust, one.torque) for one in found]).T
    assert not any(one.breaches for one in found)
    return (
        rotor_thrust_coefficient(thrust, AIR["density"], SPEED, RADIUS),
        rotor_torque_coefficient(torque, AIR["density"], SPEED, RADIUS),
    )


@pytest.mark.xfail(strict=True, raises=AssertionError, reason="ours is 12 to 24 % low, mean 15 %")
def test_torque_at_equal_thrust(published):
    ours = np.interp(CT, *polar_curve())
    worst = int(np.argmax(np.abs(ours / CQ - 1.0)))
    where = f"worst of {CT.size} rows: CT {CT[worst]:.5f}"
    why = "gate for torque at equal thrust, chart read by eye"
    published("rotor", SOURCE, "500 ft/s", f"CQ, {where}", CQ[worst], ours[worst], rel=0.08, why=why)


@pytest.mark.xfail(strict=True, raises=AssertionError, reason="ours is 20 % high")
def test_best_figure_of_merit(published):
    ours = np.max(merit(*polar_curve()))
    why = "gate for torque at equal thrust; figure in the text"
    published("rotor", SOURCE, "500 ft/s", "maximum figure of merit", 0.615, ours, rel=0.08, why=why)


def test_shape_of_the_figure_of_merit(published):
    ours = np.corrcoef(merit(CT, np.interp(CT, *polar_curve())), merit(CT, CQ))[0, 1]
    why = "shape, not level"
    quantity = f"correlation of figure of merit over CT, {CT.size} rows"
    published("rotor", SOURCE, "500 ft/s", quantity, 1.0, ours, abs=0.05, why=why)
