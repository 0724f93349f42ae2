"""The solver of the tilted rotor against the closed form of a rigid blade in edgewise flight.

Blade-element integrals in the manner of Johnson, Helicopter Theory (1980), chapter 5, case recomputed:
density 1.225, chord 0.05 m, R 0.3556 m, 3000 rpm, pitch 12 deg without twist, inflow ratio 0.06 prescribed,
advance ratio 0.15, lift slope a = 5.7, no cut-out, losses or drag. The closed form is written for small
angles, cl = a (theta - lambda/u_T) and lift by u_T alone, also where the flow is reversed. For a blade
without twist a section law exists whose blade element is exactly that one, phi being theta - alpha:
cl = a (theta cos(phi) - sin(phi)). With it the solver, which knows no small angles, has to give the closed
form. With cl = a alpha its true angles are worth +0.6 % of the mean, -0.1 % of the 1/rev, +1.5 % of the 2/rev
and, as alpha has no bound near the centre, +1.8 % of the thrust.
"""

import numpy as np
import pytest

from bladehold.rotor import (
    AnalyticPolar,
    BladeGeometry,
    LossModel,
    blade_moments,
    solve_tilted,
    station_radii,
    turn_harmonics,
)

SOURCE = "blade-element integrals as in Johnson, Helicopter Theory (1980), ch. 5; case recomputed"
RADIUS, SPEED, PITCH, SLOPE = 0.3556, 314.159, np.radians(12.0), 5.7
SAME_ELEMENT = AnalyticPolar(
    cl=lambda alpha: SLOPE * (PITCH * np.cos(PITCH - alpha) - np.sin(PITCH - alpha)),
    cd=lambda alpha: 0.0 * alpha,
)


@pytest.fixture(scope="module")
def solution():
    r = station_radii(0.0, RADIUS, 30)
    blade = BladeGeometry(
        radius=RADIUS,
        hub_radius=0.0,
        r=r,
        chord=np.full(r.shape, 0.05),
        twist=np.full(r.shape, PITCH),
        thickness=np.full(r.shape, 0.005),
        sections=("closed form",),
        section_weights=np.ones((r.size, 1)),
    )
    return solve_tilted(
        blade,
        2,
        SPEED,
        0.0,
        0.15 * SPEED * RADIUS,
        density=1.225,
        viscosity=1.8e-5,
        speed_of_sound=340.0,
        polar=SAME_ELEMENT,
        losses=LossModel(tip=False, hub=False),
        inflow_ratio=0.06,
    )


def test_the_solver_gives_the_closed_form(published, solution):
    parts = turn_harmonics(blade_moments(solution, 0.0).flap)
    why = "integration over 30 stations; the blade element is the same"
    for quantity, printed, ours in (
        ("flap moment, mean, N*m", 9.2392, parts.mean),
        ("flap moment, sine once per turn, N*m", 4.5301, parts.sine[0]),
        ("flap moment, cosine twice per turn, N*m", -0.3246, parts.cosine[1]),
        ("thrust of two blades, N", 65.338, solution.thrust),
    ):
        published("rotor", SOURCE, "mu 0.15, solver", quantity, printed, ours, rel=0.005, why=why)
    assert np.abs(parts.cosine[0]) < 1e-9
    assert np.all(parts.amplitude[2:] < 1e-3 * parts.mean)
