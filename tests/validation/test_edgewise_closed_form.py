"""Root load of a rigid blade in edgewise flight, closed form against its own quadrature.

Blade-element integrals in the manner of Johnson, Helicopter Theory (1980), chapter 5; the case was derived
and evaluated by quadrature apart from this program. Density 1.225, lift slope 5.7 per rad, chord 0.05 m,
R 0.3556 m, 3000 rpm, pitch 12 deg without twist, inflow ratio 0.06, advance ratio 0.15.
"""

import numpy as np
import pytest

from bladehold.rotor import flap_moment_harmonics, root_shear_harmonics

SOURCE = "blade-element integrals as in Johnson, Helicopter Theory (1980), ch. 5; case recomputed"
RADIUS = 0.3556
MOMENT = 1.225 * 5.7 * 0.05 * 314.159**2 * RADIUS**4 / 2.0
FLIGHT = (0.15, np.radians(12.0), 0.0, 0.06)


@pytest.mark.parametrize(
    ("quantity", "printed", "ours"),
    [
        ("flap moment, mean, N*m", 9.2392, MOMENT * flap_moment_harmonics(*FLIGHT).mean),
        ("flap moment, sine once per turn, N*m", 4.5301, MOMENT * flap_moment_harmonics(*FLIGHT).sine),
        ("flap moment, cosine twice per turn, N*m", -0.3246, MOMENT * flap_moment_harmonics(*FLIGHT).cosine2),
        ("thrust of two blades, N", 65.338, 2.0 * MOMENT / RADIUS * root_shear_harmonics(*FLIGHT).mean),
    ],
)
def test_recorded_case(published, quantity, printed, ours):
    last_digit = 0.001 if printed > 10.0 else 0.0001
    why = "recorded from a numerical quadrature; one unit of its last digit"
    published("rotor", SOURCE, "mu 0.15, 12 deg", quantity, printed, ours, abs=last_digit, why=why)


def test_shear_once_per_turn_by_quadrature(published):
    psi = np.arange(720) * 2.0 * np.pi / 720.0
    x = (np.arange(4000) + 0.5) / 4000.0
    mu, pitch, _, inflow = FLIGHT
    speed = x + mu * np.sin(psi)[:, None]
    lift = (speed**2 * pitch - inflow * speed).mean(axis=1)
    published(
        "rotor",
        "numerical quadrature of the same element",
        "mu 0.15, 12 deg",
        "root shear, sine once per turn, in K/R",
        2.0 * float(np.mean(lift * np.sin(psi))),
        root_shear_harmonics(*FLIGHT).sine,
        rel=1e-6,
        why="midpoint rule with 4000 stations",
    )
