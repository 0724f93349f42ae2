"""Thrust in edgewise flight at equal rpm: Russell et al., NASA/TM-2018-219758 (2018).

Told of the 9.4-inch rotor as a trend: at advance ratios of 0.08 to 0.12 its thrust is 12 to 20 % above that
of hover at the same rpm, and falls as the disc is tilted nose-down. Its blade is not published. In its place
stands the 10x4.7 slow-flying propeller of the UIUC database with NACA 4409, of nearly the same diameter and
ratio of pitch to diameter, at 6000 rpm. How much thrust grows depends on the blade: the 11x4.7 gives 13 to
24 %, the 10x5 4 to 9 %, the stalled 10x7 2 %.
"""

import numpy as np
import pytest
from _uiuc import FRACTION, PROPELLERS

from bladehold.rotor import blade_from_table, solve_axial, solve_tilted

SOURCE = "Russell et al., NASA/TM-2018-219758 (2018)"
AIR = {"density": 1.221, "viscosity": 1.79e-5, "speed_of_sound": 340.3}
SPEED = 6000.0 * np.pi / 30.0
ADVANCE = np.array([0.08, 0.10, 0.12])
TILT_DEG = np.array([0.0, 5.0, 10.0, 15.0, 20.0])


@pytest.fixture(scope="module")
def growth():
    """Thrust over that of hover, [tilt, advance ratio]."""
    propeller = PROPELLERS["10x4.7 slow"]
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
    hover = solve_axial(blade, 2, SPEED, 0.0, **AIR).thrust
    edge = ADVANCE * SPEED * propeller.radius
    axial = edge * np.tan(np.radians(TILT_DEG))[:, np.newaxis]
    return solve_tilted(blade, 2, SPEED, axial, edge, **AIR).thrust / hover


@pytest.mark.parametrize(("place", "printed"), [(0, 1.12), (1, 1.16), (2, 1.20)])
def test_thrust_over_that_of_hover(published, growth, place, printed):
    case = f"mu {ADVANCE[place]:g}, disc level, stand-in blade"
    why = "own gate on a trend: ends of the range told and its middle, another blade stands in"
    published("rotor", SOURCE, case, "thrust over hover", printed, growth[0, place], abs=0.03, why=why)


def test_thrust_falls_as_the_disc_tilts_nose_down(growth):
    assert np.all(np.diff(growth, axis=0) < 0.0)
