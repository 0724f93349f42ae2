"""Static thrust of a 28-inch carbon multirotor propeller: University of Stavanger (2020).

Two blades, D 0.7112 m, hub radius 0.03 m; chord and pitch measured at r/R = 0.2, 0.3 .. 0.9. Added here: a
tip row (25 mm, 6.2 deg, the table's last slopes carried on) and a hub row (42 mm, 19.6 deg). Neither
section nor air density is stated: Clark-Y, the neutral choice for a moulded blade, and 1.225 kg/m^3 are
assumed.
"""

import numpy as np
import pytest

from bladehold.rotor import blade_from_table, solve_axial

SOURCE = "University of Stavanger, static measurements of a 28-inch propeller (2020)"
RADIUS = 0.3556
FRACTION = np.array([0.03 / RADIUS, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1.0])
CHORD = np.array([42.0, 56.0, 70.0, 70.0, 65.0, 58.0, 50.0, 43.0, 34.0, 25.0]) / 1e3
PITCH_DEG = np.array([19.6, 19.6, 17.9, 14.4, 11.6, 9.7, 8.4, 7.2, 6.7, 6.2])
AIR = {"density": 1.225, "viscosity": 1.789e-5, "speed_of_sound": 340.3}


def clark_y_blade():
    return blade_from_table(
        radius=RADIUS,
        hub_radius=0.03,
        r=FRACTION * RADIUS,
        chord=CHORD,
        twist=np.radians(PITCH_DEG),
        thickness=0.117 * CHORD,
        sections=("clark-y",),
    )


@pytest.mark.parametrize(("rpm", "thrust"), [(2053.0, 24.718), (2207.0, 28.798)])
def test_static_thrust(published, rpm, thrust):
    found = solve_axial(clark_y_blade(), 2, rpm * np.pi / 30.0, 0.0, **AIR)
    why = "section guessed, air density of the test not stated (4 % by itself)"
    published("rotor", SOURCE, f"{rpm:g} rpm, Clark-Y", "thrust, N", thrust, found.thrust, rel=0.10, why=why)
    assert found.breaches == ()
