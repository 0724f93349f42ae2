"""Lift along an untwisted two-blade rotor in hover: Caradonna and Tung, NASA TM-81232 (1981).

R 1.143 m, chord 0.1905 m, NACA 0012, untwisted, blade from one chord outwards, 8 deg; section lift from
pressures at five radii and the thrust printed with them. Density and viscosity of standard sea-level air.

The theory knows the wake only as an inflow that is the same all around each ring. Plain blade-element
momentum is known to be 20 to 36 % high on the thrust of this rotor; ours is 30 to 36 % high, recorded at 5 %
so that it shows: a code that comes that near has probably been tuned. The tip vortex of the blade before
passes below, takes lift away at 0.8 R and adds it outboard: the measured lift coefficient rises towards the
tip, ours falls from 0.89 R on with the tip loss, and its shape misses the gate at every speed. The lever at
which the lift bends a root hardly feels that: the centre of lift, by trapezoids over the same five radii with
no lift at the ends of the blade, agrees within 1 %.
"""

import numpy as np
import pytest
from _known import disagreeing

from bladehold.rotor import blade_from_table, rotor_thrust_coefficient, solve_axial, station_radii

SOURCE = "Caradonna and Tung, NASA TM-81232 (1981)"
RADIUS, CHORD = 1.143, 0.1905
FRACTION = np.array([0.50, 0.68, 0.80, 0.89, 0.96])
LIFT = {
    (1250.0, 0.439): (0.2345, 0.2815, 0.2886, 0.3143, 0.2683),
    (1500.0, 0.526): (0.2409, 0.2638, 0.2633, 0.2760, 0.3052),
    (1750.0, 0.612): (0.2374, 0.2728, 0.2690, 0.2835, 0.3125),
    (2250.0, 0.794): (0.2275, 0.2768, 0.2751, 0.2937, 0.3250),
    (2500.0, 0.877): (0.2298, 0.2842, 0.2736, 0.2989, 0.3175),
}
THRUST = {
    (1250.0, 0.439): 0.00459,
    (1750.0, 0.612): 0.00455,
    (2250.0, 0.794): 0.00462,
    (2500.0, 0.877): 0.00473,
}


def solution(rpm, tip_mach):
    stations = np.sort(np.concatenate([station_radii(CHORD, RADIUS), FRACTION * RADIUS]))
    blade = blade_from_table(
        radius=RADIUS,
        hub_radius=CHORD,
        r=[CHORD, RADIUS],
        chord=[CHORD] * 2,
        twist=[np.radians(8.0)] * 2,
        thickness=[0.12 * CHORD] * 2,
        sections=("naca0012",),
        stations=stations,
    )
    omega = rpm * np.pi / 30.0
    sound = omega * RADIUS / tip_mach
    return solve_axial(blade, 2, omega, 0.0, density=1.225, viscosity=1.789e-5, speed_of_sound=sound)


def lift_coefficients(found):
    at = np.searchsorted(found.geometry.r, FRACTION * RADIUS)
    speed = found.rotation_speed * found.geometry.r[at]
    return found.normal_load[at] / (0.5 * found.density * speed**2 * CHORD)


def test_ranges_left_are_told():
    for case in LIFT:
        left = " ".join(solution(*case).breaches)
        assert ("Mach" in left) == (case[1] > 0.65)
        assert ("Reynolds" in left) == (case[0] > 2000.0)


OFF = {1250.0: 0.94, 1500.0: 0.22, 1750.0: 0.39, 2250.0: 0.53, 2500.0: 0.61}


@pytest.mark.parametrize(
    "case",
    [disagreeing(case, reason=f"correlation {OFF[case[0]]:g}, no vortex wake") for case in LIFT],
)
def test_shape_of_the_lift_coefficient(published, case):
    ours = np.corrcoef(lift_coefficients(solution(*case)), LIFT[case])[0, 1]
    why = "shape, not level; theory without a vortex wake"
    where = f"8 deg, {case[0]:g} rpm, tip Mach {case[1]:g}"
    published("rotor", SOURCE, where, "correlation of cl(r), five radii", 1.0, ours, abs=0.05, why=why)


def centre_of_lift(lift):
    x = np.concatenate([[CHORD / RADIUS], FRACTION, [1.0]])
    load = np.concatenate([[0.0], lift * FRACTION**2, [0.0]])
    return np.trapezoid(load * x, x) / np.trapezoid(load, x)


@pytest.mark.parametrize("case", LIFT)
def test_centre_of_lift(published, case):
    printed, ours = centre_of_lift(LIFT[case]), centre_of_lift(lift_coefficients(solution(*case)))
    why = "own gate: a lever of the root moment; levels differ by 30 %"
    where = f"8 deg, {case[0]:g} rpm, tip Mach {case[1]:g}"
    quantity = "centre of lift, r/R, from cl at five radii"
    published("rotor", SOURCE, where, quantity, round(printed, 4), ours, rel=0.02, why=why)


HIGH = {1250.0: 30, 1750.0: 36, 2250.0: 35, 2500.0: 33}


@pytest.mark.parametrize(
    "case",
    [disagreeing(case, reason=f"ours is {HIGH[case[0]]} % high") for case in THRUST],
)
def test_thrust_is_too_high(published, case):
    found = solution(*case)
    ours = rotor_thrust_coefficient(found.thrust, found.density, found.rotation_speed, RADIUS)
    why = "not asked of plain blade-element momentum, known to be 20 to 36 % high here"
    where = f"8 deg, {case[0]:g} rpm, tip Mach {case[1]:g}"
    published("rotor", SOURCE, where, "CT", THRUST[case], ours, rel=0.05, why=why)
