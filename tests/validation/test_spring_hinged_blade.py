"""W. Johnson, Helicopter Theory (1980), chapter 5: flapping of a rigid blade on a spring.

beta'' + (gamma/8) beta' + nu^2 beta = M: forced once per turn, the moment that reaches the hub is
(nu^2 - 1) / sqrt((nu^2 - 1)^2 + (gamma/8)^2) of the air's. A very stiff beam on a root spring must give it.
"""

import numpy as np
import pytest

from bladehold.blade import RootSupport, SpanLoads, beam_matrices, elastic_root_loads, flap_damping

SOURCE = "Johnson, Helicopter Theory (1980), ch. 5: spring-restrained rigid blade"
STEPS = 16


@pytest.mark.parametrize("lock", [2.0, 5.0, 10.0])
@pytest.mark.parametrize("nu", [1.05, 1.15, 1.3, 1.6])
def test_hub_moment_once_per_turn(published, uniform_beam, nu, lock):
    length, line, omega, density, slope = 0.33, 0.12, 420.0, 1.225, 5.7
    inertia = line * length**3 / 3
    chord = lock * inertia / (density * slope * length**4)
    beam = uniform_beam(length=length, line_mass=line, flat=1e7, edge=1e8)
    spring = inertia * omega**2 * (nu**2 - 1)
    point, weight = np.polynomial.legendre.leggauss(12)
    radius, weight = 0.5 * length * (1 + point), 0.5 * length * weight
    psi = 2 * np.pi * np.arange(STEPS) / STEPS
    load = np.cos(psi)[:, np.newaxis] * 30.0 * (radius / length) ** 2
    air = SpanLoads(
        radius,
        weight,
        load,
        0.0 * load,
        damping=flap_damping(slope, chord, density, omega, radius),
    )
    # a blade that does not bend needs few elements, and few of them round less
    matrices = beam_matrices(beam, RootSupport(spring), elements=3)
    found = elastic_root_loads(matrices, air, omega, damping_ratio=0.0)
    once = np.abs(np.fft.rfft(found.flap_moment)[1]) / np.abs(np.fft.rfft(load @ (weight * radius))[1])
    published(
        "blade",
        SOURCE,
        f"nu {nu:g}, gamma {lock:g}",
        "hub moment over air moment, once per turn",
        (nu**2 - 1) / np.hypot(nu**2 - 1, lock / 8),
        once,
        rel=1e-3,
        why="rigid limit: 0.1 %",
    )
