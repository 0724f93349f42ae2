"""Cantilevers with a mass at the tip: roots of a paper and a frequency of a worked case.

Mathematical Problems in Engineering (2017), article 1568019, table 1: roots for a tip of the beam's own mass.
The worked case, of a tutorial on the natural frequencies of beams, is a bar of 6061-T6, 2.0 x 0.25 x 5.5 in,
with 0.44 lbm at its end. It is read without the modulus and density that it was worked with; handbook values
for the alloy are taken here, 10.0e6 psi and 0.098 lbm/in^3.
"""

import pytest

from bladehold.loss import ArmBeam, bending_frequencies, bending_roots, plate_section

PAPER = "Mathematical Problems in Engineering (2017) 1568019, table 1"
TUTORIAL = "Tutorial on natural frequencies of beams, cantilever with end mass"
INCH, POUND = 0.0254, 0.45359237
PSI = 6894.757293168361


@pytest.mark.parametrize(
    ("mode", "printed", "half"), [(1, 1.557298, 5e-7), (2, 16.25009, 5e-6), (3, 50.89584, 5e-6)]
)
def test_roots(mode, printed, half, published):
    published(
        "loss",
        PAPER,
        "tip of the mass of the beam, no inertia",
        f"square of root {mode}",
        printed,
        bending_roots(1.0, 0.0, 3)[mode - 1] ** 2,
        abs=half,
        why="rounding of the figures printed",
    )


def worked_case(mass):
    """First frequency (Hz) of the bar with a mass (lbm) at its end."""
    section = plate_section(2.0 * INCH, 0.25 * INCH)
    density = 0.098 * POUND / INCH**3
    stiffness = 10.0e6 * PSI * float(section.vertical)
    beam = ArmBeam(stiffness, density * float(section.area), 5.5 * INCH, mass * POUND)
    return bending_frequencies(beam, 1)[0]


def test_worked_case(published):
    """No closer than its inputs are printed: the mass has two figures, which alone leave 1.1 % open.

    With 0.44 lbm to the letter ours is 0.13 % low. The modulus and density that it was worked with are not
    printed and not allowed for.
    """
    heavy, light = worked_case(0.445), worked_case(0.435)
    published(
        "loss",
        TUTORIAL,
        "6061-T6, 2.0 x 0.25 x 5.5 in, 0.44 lbm at the end",
        "first frequency, Hz",
        95.6,
        worked_case(0.44),
        abs=0.05 + (light - heavy) / 2.0,
        why="one decimal printed, and the mass to two figures: 0.435 to 0.445 lbm; modulus, density are not",
    )
