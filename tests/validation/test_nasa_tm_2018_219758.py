"""A 9.4-inch rotor alone in hover: Russell et al., NASA/TM-2018-219758 (2018).

R 0.119 m, air 1.221 kg/m^3, thrust and torque of the single-rotor stand from 2500 to 8000 rpm. Chord, pitch
and section of the blade are not at hand, so its thrust cannot be computed. What can be asked:

- that the rows, made dimensionless in the propeller's convention, give the coefficients told of this rotor
  (CT 0.119 to 0.121, CP 0.049 to 0.052): units, signs and conventions, no aerodynamics;
- that the solver lets the coefficients drift with the speed of turning about as the rows do. A stand-in of
  about the same size and Reynolds numbers does that, the 10x5 propeller of the UIUC database with NACA 4409.
  When the speed doubles its measured CT grows by 5 %, this rotor's by 3 %, ours by 7 %.
"""

import numpy as np
import pytest
from _uiuc import FRACTION, PROPELLERS

from bladehold.rotor import (
    blade_from_table,
    propeller_power_coefficient,
    propeller_thrust_coefficient,
    solve_axial,
)

SOURCE = "Russell et al., NASA/TM-2018-219758 (2018)"
DIAMETER, DENSITY = 0.238, 1.221
AIR = {"density": DENSITY, "viscosity": 1.79e-5, "speed_of_sound": 340.3}
RPM, THRUST, TORQUE = np.array([
    [2500, 0.7784, 0.0134],
    [3000, 1.1387, 0.0197],
    [3500, 1.5569, 0.0261],
    [4000, 2.0951, 0.0346],
    [4500, 2.6823, 0.0430],
    [5000, 3.3228, 0.0531],
    [5300, 3.5941, 0.0572],
    [5500, 3.9144, 0.0627],
    [6000, 4.7863, 0.0759],
    [6500, 5.6047, 0.0884],
    [7000, 6.4410, 0.1009],
    [7500, 7.3128, 0.1152],
    [8000, 8.4338, 0.1305],
]).T  # fmt: skip
OMEGA = RPM * np.pi / 30.0
FAST = RPM >= 5000.0


def coefficients(thrust, torque, diameter):
    return (
        propeller_thrust_coefficient(thrust, DENSITY, OMEGA, diameter),
        propeller_power_coefficient(torque * OMEGA, DENSITY, OMEGA, diameter),
    )


def drift(coefficient):
    """Growth of a coefficient when the speed of turning doubles, by a straight line in the logarithms."""
    return 2.0 ** np.polyfit(np.log(RPM), np.log(coefficient), 1)[0]


def stand_in():
    propeller = PROPELLERS["10x5"]
    chord, twist = propeller.shape()
    blade = blade_from_table(
        radius=propeller.radius,
        hub_radius=FRACTION[0] * propeller.radius,
        r=FRACTION * propeller.radius,
        chord=chord,
        twist=twist,
        thickness=0.09 * chord,
        sections=("naca4409",),
    )
    found = solve_axial(blade, 2, OMEGA, 0.0, **AIR)
    return coefficients(found.thrust, found.torque, 2.0 * propeller.radius)


@pytest.mark.parametrize(
    ("which", "quantity", "printed", "half"), [(0, "CT", 0.120, 0.001), (1, "CP", 0.0505, 0.0015)]
)
def test_coefficients_of_the_rows(published, which, quantity, printed, half):
    ours = coefficients(THRUST, TORQUE, DIAMETER)[which][FAST].mean()
    why = "half the range told; our reduction of the measured rows, nothing computed of the blade"
    published("rotor", SOURCE, "mean of rows from 5000 rpm", quantity, printed, ours, abs=half, why=why)


@pytest.mark.parametrize(("which", "quantity"), [(0, "CT"), (1, "CP")])
def test_drift_with_the_speed_of_turning(published, which, quantity):
    printed = round(float(drift(coefficients(THRUST, TORQUE, DIAMETER)[which])), 3)
    ours = drift(stand_in()[which])
    what = f"{quantity} at twice the speed over {quantity}"
    why = "own gate: rows scatter by 2 %, another blade stands in"
    published("rotor", SOURCE, "2500 to 8000 rpm, stand-in blade", what, printed, ours, abs=0.05, why=why)
