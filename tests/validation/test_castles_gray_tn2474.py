"""Hover thrust of an untwisted three-blade rotor: Castles and Gray, NACA TN 2474 (1951).

6-ft rotor, constant chord 1.89 in, NACA 0015, contour from 16.9 % of the radius, solidity 0.05, 1200 rpm;
runs 15 and 39, collective pitch at 0.75 R. Standard sea-level air is assumed. The gate of 6 % is asked twice:

- of the solver, with the section law of that time, lift slope 5.73 per radian and Bailey's drag polar
  0.0087 - 0.0216 alpha + 0.400 alpha^2 (NACA Report 716, 1941; read in later quotations): all points pass;
- of the solver with the section tables as shipped for NACA 0015, not adjusted to this rotor: four points
  pass, two do not. They are marked and recorded with their deviation; the gate stays at 6 %.
"""

import numpy as np
import pytest
from _known import disagreeing

from bladehold.rotor import AnalyticPolar, Polar, blade_from_table, rotor_thrust_coefficient, solve_axial

SOURCE = "Castles and Gray, NACA TN 2474 (1951)"
RADIUS, CHORD = 36.0 * 0.0254, 1.89 * 0.0254
AIR = {"density": 1.225, "viscosity": 1.789e-5, "speed_of_sound": 340.3}
SPEED = 1200.0 * np.pi / 30.0

POINTS = [
    (15, 6.68, 0.00289),
    (15, 8.46, 0.00400),
    (15, 10.29, 0.00488),
    (39, 6.99, 0.00284),
    (39, 8.70, 0.00414),
    (39, 10.34, 0.00513),
]
# Beyond the gate; the runs contradict each other by as much. Run 39 gives less thrust at 6.99 deg than
# run 15 at 6.68 deg, and 5 % more at 10.34 deg than run 15 at 10.29 deg.
OUTSIDE = {(39, 6.99): "ours is 10 % high", (15, 10.29): "ours is 7.6 % high"}


BAILEY = AnalyticPolar(
    cl=lambda alpha: 5.73 * np.sin(alpha) * np.cos(alpha),
    cd=lambda alpha: 0.0087 - 0.0216 * alpha + 0.400 * alpha**2,
)


def thrust_coefficient(collective_deg: float, polar: Polar | None = None) -> float:
    blade = blade_from_table(
        radius=RADIUS,
        hub_radius=0.169 * RADIUS,
        r=[0.2, 0.9],
        chord=[CHORD] * 2,
        twist=[np.radians(collective_deg)] * 2,
        thickness=[0.15 * CHORD] * 2,
        sections=("naca0015",),
    )
    found = solve_axial(blade, 3, SPEED, 0.0, polar=polar, **AIR)
    return float(rotor_thrust_coefficient(found.thrust, AIR["density"], SPEED, RADIUS))


@pytest.mark.parametrize(
    ("run", "collective", "printed"),
    [
        disagreeing(*point, reason=OUTSIDE[point[:2]]) if point[:2] in OUTSIDE else pytest.param(*point)
        for point in POINTS
    ],
)
def test_hover_thrust_with_the_shipped_tables(published, run, collective, printed):
    ours = thrust_coefficient(collective)
    why = "tight hover gate for a rotor of known section"
    published(
        "rotor",
        SOURCE,
        f"run {run}, {collective:g} deg",
        "CT, shipped NACA 0015 tables",
        printed,
        ours,
        rel=0.06,
        why=why,
    )


@pytest.mark.parametrize(("run", "collective", "printed"), POINTS)
def test_hover_thrust_with_the_section_law_of_the_time(published, run, collective, printed):
    ours = thrust_coefficient(collective, BAILEY)
    why = "tight hover gate for a rotor of known section"
    case = f"run {run}, {collective:g} deg"
    published("rotor", SOURCE, case, "CT, slope 5.73 and Bailey's polar", printed, ours, rel=0.06, why=why)
