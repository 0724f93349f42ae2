"""A propeller in hover and climb, computed by two independent blade-element solvers.

Two blades, R 0.3556 m, hub 0.03556 m, stations r/R = 0.125, 0.175 .. 0.975, chord 0.064 - 0.040 r/R (m),
twist atan(0.2337 / (2 pi r)), cl = 2.6 sin(2 (alpha + 3 deg)), cd = 0.012 + 1.2 sin^2(alpha + 3 deg), density
1.225 kg/m^3, 3000 rpm; Prandtl losses at tip and hub, swirl, drag in the induction; trapezoid totals with no
load at hub and tip; moments per blade about the hub radius. Case recomputed, not measured.
"""

import numpy as np
import pytest

from bladehold.rotor import AnalyticPolar, AxialSolution, BladeGeometry, blade_moments, solve_axial

SOURCE = "two independent blade-element solvers, case recomputed"
RADIUS, HUB = 0.3556, 0.03556
CLIMB = (0.0, 5.0)


@pytest.fixture(scope="module")
def solution() -> AxialSolution:
    x = np.arange(0.125, 0.98, 0.05)
    chord, lead = 0.064 - 0.040 * x, np.radians(3.0)
    blade = BladeGeometry(
        radius=RADIUS,
        hub_radius=HUB,
        r=RADIUS * x,
        chord=chord,
        twist=np.arctan(0.2337 / (2.0 * np.pi * RADIUS * x)),
        thickness=0.1 * chord,
        sections=("closed form",),
        section_weights=np.ones((x.size, 1)),
    )
    polar = AnalyticPolar(
        cl=lambda alpha: 2.6 * np.sin(2.0 * (alpha + lead)),
        cd=lambda alpha: 0.012 + 1.2 * np.sin(alpha + lead) ** 2,
    )
    return solve_axial(
        blade,
        2,
        3000.0 * np.pi / 30.0,
        CLIMB,
        density=1.225,
        viscosity=1.8e-5,
        speed_of_sound=340.0,
        polar=polar,
    )


@pytest.mark.parametrize(
    ("case", "thrust", "torque", "flap", "lead_lag"),
    [(0, 36.533, 1.1869, 3.648, 0.4924), (1, 27.731, 1.0990, 2.786, 0.4566)],
)
def test_propeller_in_hover_and_climb(published, solution, case, thrust, torque, flap, lead_lag):
    moments = blade_moments(solution, HUB)
    why = "agreement of the two solvers with each other; ours has its own residual and root finder"
    for quantity, printed, ours, rel in (
        ("thrust, N", thrust, solution.thrust, 0.005),
        ("torque, N*m", torque, solution.torque, 0.01),
        ("flap moment, N*m", flap, moments.flap, 0.01),
        ("lead-lag moment, N*m", lead_lag, moments.lead_lag, 0.01),
    ):
        where = f"3000 rpm, climb {CLIMB[case]:g} m/s"
        published("rotor", SOURCE, where, quantity, printed, ours[case], rel=rel, why=why)
