"""One propeller case in bladehold and in a general blade-element package, time per element side by side.

The case is that of tests/validation/test_cross_code_axial.py. The package is `wisdem`, whose blade-element
part is compiled. It is no dependency (1.3 GB installed): without it its half is skipped; with it, in an
environment of its own beside bladehold and pytest-benchmark, run `pytest benchmarks/bench_cross_code.py -s`.
As a turbine code it needs the section mirrored and 0.001 m/s in place of no wind.
"""

import numpy as np
import pytest

from bladehold.rotor import AnalyticPolar, BladeGeometry, solve_axial, solve_tilted

RADIUS, HUB, SPEED, DENSITY, VISCOSITY = 0.3556, 0.03556, 3000.0, 1.225, 1.8e-5
X = np.arange(0.125, 0.98, 0.05)
CHORD, TWIST, LEAD = 0.064 - 0.040 * X, np.arctan(0.2337 / (2.0 * np.pi * RADIUS * X)), np.radians(3.0)
AIR = {"density": DENSITY, "viscosity": VISCOSITY, "speed_of_sound": 340.0}
THRUST = {0.001: 36.533, 5.0: 27.731}


def lift(alpha):
    return 2.6 * np.sin(2.0 * (alpha + LEAD))


def drag(alpha):
    return 0.012 + 1.2 * np.sin(alpha + LEAD) ** 2


POLAR = AnalyticPolar(cl=lift, cd=drag)
BLADE = BladeGeometry(
    radius=RADIUS,
    hub_radius=HUB,
    r=RADIUS * X,
    chord=CHORD,
    twist=TWIST,
    thickness=0.1 * CHORD,
    sections=("closed form",),
    section_weights=np.ones((X.size, 1)),
)


def told(benchmark, elements):
    """Write the time per blade element beside the time."""
    benchmark.extra_info["elements"] = elements
    if benchmark.stats:
        each = benchmark.stats["median"] / elements
        benchmark.extra_info["ns_per_element"] = round(1e9 * each)
        print(f"\n{benchmark.name}: {elements} elements, {1e9 * each:.0f} ns each")


@pytest.mark.parametrize("wind", THRUST)
def test_bladehold_one_condition(benchmark, wind):
    found = benchmark(solve_axial, BLADE, 2, SPEED * np.pi / 30.0, wind, polar=POLAR, **AIR)
    told(benchmark, found.normal_load.size)
    assert found.thrust == pytest.approx(THRUST[wind], rel=0.005)


@pytest.mark.parametrize("wind", THRUST)
def test_general_package_one_condition(benchmark, wind):
    rotor = general_rotor(sectors=1)
    found = benchmark(rotor.evaluate, [wind], [SPEED], [0.0])
    told(benchmark, X.size)
    # towards the wind, so with the other sign
    assert -found[0]["T"][0] == pytest.approx(THRUST[wind], rel=0.005)


def test_bladehold_24_conditions_round_the_turn(benchmark):
    wind = np.linspace(0.001, 5.0, 24)
    found = benchmark(
        solve_tilted, BLADE, 2, SPEED * np.pi / 30.0, wind, 5.0, polar=POLAR, azimuths=36, **AIR
    )
    told(benchmark, found.normal_load.size)


def test_general_package_24_conditions_round_the_turn(benchmark):
    rotor = general_rotor(sectors=36, yaw=20.0)
    wind = np.linspace(0.001, 5.0, 24)
    benchmark.pedantic(rotor.evaluate, args=(wind, np.full(24, SPEED), np.zeros(24)), rounds=3)
    told(benchmark, 24 * 36 * X.size)


def general_rotor(sectors, yaw=0.0):
    """The same rotor in the general package; its blade is told as one of a turbine."""
    package = pytest.importorskip("wisdem.ccblade.ccblade")
    degrees = np.linspace(-180.0, 180.0, 721)
    alpha = np.radians(degrees)
    section = package.CCAirfoil(degrees, [1e5], -lift(-alpha)[:, np.newaxis], drag(-alpha)[:, np.newaxis])
    return package.CCBlade(
        RADIUS * X,
        CHORD,
        np.degrees(TWIST),
        [section] * X.size,
        HUB,
        RADIUS,
        B=2,
        rho=DENSITY,
        mu=VISCOSITY,
        yaw=yaw,
        shearExp=0.0,
        hubHt=100.0,
        nSector=sectors,
        hubloss=True,
        tiploss=True,
        wakerotation=True,
        usecd=True,
    )
