"""NASA-STD-5020B (2021), Requirements for Threaded Fastening Systems in Spaceflight Hardware.

A.12.3: two aluminium members of 0.50 in each under a 0.25 in steel bolt with 0.50 in head and nut, 25 deg
cones, n = 0.5. The standard does not print the moduli; 30e6 and 10e6 psi reproduce its load factor.
4.3.1: torque tolerances. Eq. 64: shear strength from tensile strength.
"""

import numpy as np
import pytest

from bladehold.joint import pin, preload, separation, stiffness

SOURCE = "NASA-STD-5020B (2021)"
INCH, POUND = 0.0254, 4.4482216152605
PSI = POUND / INCH**2


@pytest.fixture
def phi_a_12_3():
    bolt = stiffness.axial_stiffness(pin.shear_area(0.25 * INCH), 1.0 * INCH, 30e6 * PSI)
    cone = stiffness.frustum_stiffness(10e6 * PSI, 0.25 * INCH, 0.5 * INCH, 0.5 * INCH, np.radians(25.0))
    return stiffness.load_factor(bolt, stiffness.in_series([cone, cone]))


def test_a_12_3_load_factor(published, phi_a_12_3):
    why = "printed to three figures; moduli 30e6 and 10e6 psi are ours"
    published("joint", SOURCE, "A.12.3", "load factor phi", 0.314, phi_a_12_3, abs=0.0005, why=why)


@pytest.mark.parametrize(
    ("preloads", "printed"), [((2090.0,), 2479.0), ((2090.0, 2090.0), 4958.0), ((2090.0, 3135.0), 6198.0)]
)
def test_a_12_3_separation_load(published, phi_a_12_3, preloads, printed):
    opening = separation.separation_load(np.array(preloads) * POUND, phi_a_12_3, 0.5)
    case = f"A.12.3, preload {' + '.join(f'{p:g}' for p in preloads)} lb"
    ours = opening.sum() / POUND
    published(
        "joint",
        SOURCE,
        case,
        "separation load, lb",
        printed,
        ours,
        abs=0.5 * len(preloads),
        why=("whole pounds printed per bolt"),
    )


def test_4_3_1_torque_tolerance(published):
    factors = preload.torque_factors(preload.torque_limits(40.0, 2.0), 40.0)
    why = "two decimals printed"
    published("joint", SOURCE, "4.3.1, 40 +- 2 N m", "cmax", 1.05, factors.maximum, abs=0.005, why=why)
    published("joint", SOURCE, "4.3.1, 40 +- 2 N m", "cmin", 0.95, factors.minimum, abs=0.005, why=why)


def test_4_3_1_torque_above_running(published):
    limits = preload.torque_limits(60.0 * INCH * POUND, 3.0 * INCH * POUND)
    case = "4.3.1, 60 +- 3 in-lb above running"
    for printed, ours in ((63.0, limits.maximum), (57.0, limits.minimum)):
        published(
            "joint", SOURCE, case, "torque, in-lb", printed, ours / (INCH * POUND), abs=0.5, why="whole in-lb"
        )


def test_eq_64_shear_strength(published):
    ours = pin.shear_strength_from_tensile(1.0)
    published("joint", SOURCE, "eq. 64", "Fsu / Ftu", 0.577, ours, abs=0.0005, why="printed to three figures")
