"""Rotating beams: the uniform cantilever, statics, a tip mass, a hinge, and stiff rotation.

Wright, Smith, Thresher and Wang, Vibration modes of centrifugally stiffened beams, J. Applied Mechanics 49
(1982) 197, and Hodges and Rutkowski, Free-vibration analysis of rotating beams by a variable-order finite
element method, AIAA Journal 19 (1981) 1459: uniform cantilever, hub radius 0; the figures below agree with
both and were found again apart from this program. The others are closed forms, named with each test.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from bladehold.blade import RootSupport, SpanLoads, beam_matrices, blade_modes, elastic_root_loads, stiffened
from bladehold.blade.beam import shape_rows, span_points
from bladehold.tables import blade_material

CANTILEVER = "Wright et al., J. Applied Mechanics 49 (1982); Hodges and Rutkowski, AIAA J. 19 (1981)"
STATICS = "beam tables, any textbook of strength of materials"
TIP_MASS = "Blevins, Formulas for Natural Frequency and Mode Shape (1979), table 8-8 (memory)"
GATE = "asked for: 0.05 %; twelve elements"
FLAP = {
    0: (3.5160, 22.0345, 61.6972),
    1: (3.6816, 22.1810, 61.8418),
    2: (4.1373, 22.6149, 62.2732),
    4: (5.5850, 24.2733, 63.9668),
    6: (7.3604, 26.8091, 66.6839),
}


def dimensionless(modes, flap=True):
    """Frequencies (rad/s) of the flap or the lag modes."""
    return 2 * np.pi * modes.frequency[(modes.flap_energy > 0.5) == flap]


@pytest.mark.parametrize("speed", FLAP)
def test_uniform_cantilever(published, uniform_beam, speed):
    modes = blade_modes(beam_matrices(uniform_beam(edge=1e5)), float(speed))
    for number, (printed, ours) in enumerate(zip(FLAP[speed], dimensionless(modes), strict=False), start=1):
        case = f"hub radius 0, Omega sqrt(m L^4/EI) = {speed}"
        published("blade", CANTILEVER, case, f"flap mode {number}", printed, ours, rel=5e-4, why=GATE)


@pytest.mark.parametrize("speed", [2.0, 6.0])
def test_lag_lies_below_flap_by_the_speed(published, uniform_beam, speed):
    modes = blade_modes(beam_matrices(uniform_beam(edge=1.0)), speed, 10)
    flap, lag = dimensionless(modes), dimensionless(modes, flap=False)
    for number in range(3):
        published(
            "blade",
            "in-plane and flap frequencies of one beam, closed form",
            f"equal stiffness, Omega sqrt(m L^4/EI) = {speed:g}",
            f"mode {number + 1}: flap^2 - lag^2, over Omega^2",
            1.0,
            (flap[number] ** 2 - lag[number] ** 2) / speed**2,
            abs=1e-6,
            why="exact law; rounding of eigenvalues up to 10^7 Omega^2",
        )


@pytest.mark.parametrize("hinge", [0.02, 0.1])
def test_hinged_blade_in_lag(published, uniform_beam, hinge):
    beam = uniform_beam(length=1.0 - hinge, edge=1e3, flat=1e3, pivot_radius=hinge)
    modes = blade_modes(beam_matrices(beam, RootSupport(lag_spring=0.0), elements=3), 1.0)
    published(
        "blade",
        "Johnson, Helicopter Theory (1980), ch. 5: hinged uniform blade",
        f"hinge at {hinge:g} R",
        "square of lag frequency per turn",
        1.5 * hinge / (1.0 - hinge),
        dimensionless(modes, flap=False)[0] ** 2,
        rel=1e-4,
        why="of a rigid blade; the beam has EI = 1000 m Omega^2 L^4",
    )


def test_eigenvalues_converge_with_the_fourth_power(published, uniform_beam):
    exact = brentq(lambda b: 1 + np.cosh(b) * np.cos(b), 4.0, 5.0) ** 4  # second mode
    errors = [
        dimensionless(blade_modes(beam_matrices(uniform_beam(edge=1e6), elements=n), 0.0, 4))[1] ** 2 / exact
        - 1
        for n in (8, 16)
    ]
    published(
        "blade",
        "Strang and Fix, An Analysis of the Finite Element Method (1973), ch. 6: cubic elements",
        "second flap mode at rest, 8 and 16 elements",
        "order of the error of the eigenvalue",
        4.0,
        np.log2(errors[0] / errors[1]),
        abs=0.1,
        why="order is reached as elements become small",
    )


@pytest.mark.parametrize("elements", [4, 12])
def test_static_deflection(published, uniform_beam, elements):
    length, stiffness = 0.35, 4.0
    matrices = beam_matrices(uniform_beam(length=length, flat=stiffness), elements=elements)
    half = 2 * matrices.nodes.size
    x, weight = span_points(matrices.beam, matrices.nodes)
    even = np.concatenate([weight @ shape_rows(matrices.nodes, x, 0), np.zeros(half)])
    point = np.zeros(2 * half)
    point[half - 2] = 1.0
    tips = [np.linalg.solve(matrices.kept(matrices.elastic), load[matrices.free]) for load in (point, even)]
    place = int(np.flatnonzero(matrices.free == half - 2)[0])
    laws = (("P L^3/(3 EI)", length**3 / (3 * stiffness)), ("w L^4/(8 EI)", length**4 / (8 * stiffness)))
    for (law, printed), tip in zip(laws, tips, strict=True):
        case = f"cantilever, {elements} elements"
        why = "nodes are exact, rounding only"
        published("blade", STATICS, case, f"tip deflection {law}, m", printed, tip[place], rel=1e-8, why=why)


def test_cantilever_with_a_tip_mass(published, uniform_beam):
    modes = blade_modes(beam_matrices(uniform_beam(edge=1e6, tip_mass=1.0)), 0.0)
    for number, printed in enumerate((1.557298, 16.25009)):
        published(
            "blade",
            TIP_MASS,
            "tip mass = mass of the beam",
            f"mode {number + 1}, (beta L)^2",
            printed,
            dimensionless(modes)[number],
            rel=5e-4,
            why=GATE,
        )


def test_a_worked_tip_mass(published, uniform_beam):
    inch, pound = 0.0254, 0.45359237
    width, thick, length = 2.0 * inch, 0.25 * inch, 5.5 * inch
    aluminium = blade_material("6061-T6")
    beam = uniform_beam(
        length=length,
        line_mass=aluminium.density * width * thick,
        flat=aluminium.modulus * width * thick**3 / 12,
        edge=aluminium.modulus * thick * width**3 / 12,
        tip_mass=0.44 * pound,
    )
    modes = blade_modes(beam_matrices(beam), 0.0)
    published(
        "blade",
        "published worked case of a cantilever with a tip mass",
        "6061-T6, 2.0 x 0.25 x 5.5 in, 0.44 lbm at the tip",
        "first frequency, Hz",
        95.6,
        modes.frequency[0],
        rel=0.01,
        why="the source does not print its modulus: ours is 68.3 GPa, the customary 10^7 psi gives 95.5 Hz",
    )


@pytest.mark.parametrize("softness", [0.02, 0.005])
def test_root_moment_of_a_strongly_stretched_beam(published, uniform_beam, softness):
    """String with an even load, and a bending layer at its root: M = z'(0) sqrt(EI T0)."""
    point, weight = np.polynomial.legendre.leggauss(40)
    radius, load = 0.5 * (1 + point), np.full((16, 40), 1e-3)
    air = SpanLoads(radius, 0.5 * weight, load, 0.0 * load)
    # T0 = m Omega^2 L^2 / 2, slope of the string at its root 2 p / (m Omega^2 L); m = L = Omega = 1
    beam = stiffened(uniform_beam(edge=1e3), 0.5 * softness**2)
    found = elastic_root_loads(beam_matrices(beam, elements=120), air, 1.0, damping_ratio=0.0)
    printed = 2e-3 * np.sqrt(0.5 * softness**2 * 0.5)
    published(
        "blade",
        "bending layer of a stretched beam, leading term",
        f"layer {softness:g} L thick",
        "root moment under even load, N*m",
        printed,
        found.flap_moment[0],
        rel=2.0 * softness,
        why="the next term is of the order of the layer over the length",
    )
