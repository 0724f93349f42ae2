"""Bhandari, Design of Machine Elements: examples 4.5, 7.6, 7.16 and 11.1."""

import numpy as np
from scipy.optimize import brentq

from bladehold.joint import friction, lug, pattern, pin, separation, stiffness

SOURCE = "Bhandari, Design of Machine Elements"


def test_example_4_5_knuckle_pin(published):
    """P 50 kN, Syt 400 MPa, factor 5, Ssy half of Syt; fork ear 25 mm, eye 40 mm."""
    tensile, shear = 400e6 / 5, 200e6 / 5
    moment = pin.bending_moment_knuckle(50e3, 25e-3, 40e-3)
    diameter = brentq(lambda d: float(pin.bending_stress(moment, d)) - tensile, 10e-3, 100e-3, xtol=1e-12)
    why = "printed with one decimal before it is rounded up to 40"
    published(
        "joint", SOURCE, "Ex. 4.5", "pin diameter by bending, mm", 38.8, 1e3 * diameter, abs=0.05, why=why
    )
    assert pin.shear_capacity(40e-3, shear) > pin.double_shear_force(50e3)
    for thickness in (40e-3, 2 * 25e-3):  # eye, both fork ears: outside 80 mm, hole 40 mm
        assert lug.net_tension_capacity(80e-3, 40e-3, thickness, tensile) > 50e3
        assert lug.shear_out_capacity(thickness, 40e-3, 40e-3, shear) > 50e3
        assert lug.bearing_capacity(40e-3, thickness, tensile) > 50e3


def test_example_7_6_bracket(published):
    """P 25 kN at 500 mm, two bolts at 550 mm and two at 50 mm from the heel, allowable 35 MPa."""
    tension = pattern.heel_forces(25e3 * 0.500, [0.550, 0.550, 0.050, 0.050]).max()
    shear = 25e3 / 4
    area = pattern.principal_stress(tension, shear) / 35e6
    published(
        "joint",
        SOURCE,
        "Ex. 7.6",
        "greatest tension, N",
        11270.0,
        tension,
        abs=0.5,
        why="whole newtons printed",
    )
    published(
        "joint",
        SOURCE,
        "Ex. 7.6",
        "core area, mm2",
        401.446,
        1e6 * area,
        abs=0.0005,
        why=("three decimals printed"),
    )


def test_example_7_16_sleeve(published):
    """Steel bolt through an aluminium sleeve of twice its diameter, 5 kN preload, 10 kN load, factor 2.5.

    The example takes the joint as closed. By its own stiffnesses it opens at 9.86 kN, and the bolt then
    carries the whole 10 kN: the area needed is 65.79 mm2, which `bolt_load` sees.
    """
    bolt = stiffness.axial_stiffness(1e-4, 0.1, 207e9)
    sleeve = stiffness.axial_stiffness(3e-4, 0.1, 71e9)
    share = stiffness.load_factor(bolt, sleeve)
    allowable = 380e6 / 2.5

    def excess(area):
        return float(separation.tension_to_bolt_load(allowable * area, 5e3, share)) - 10e3

    area = brentq(excess, 4e-5, 1e-3, xtol=1e-15)
    why = "four decimals printed, joint taken as closed"
    published("joint", SOURCE, "Ex. 7.16", "bolt core area, mm2", 65.3195, 1e6 * area, abs=0.00005, why=why)
    assert separation.separation_load(5e3, share) < 10e3
    assert separation.bolt_load(5e3, 10e3, share) == 10e3


def test_example_11_1_annulus(published):
    """One face 100 to 200 mm, mu 0.2, 1 MPa at the inner edge, uniform wear, 750 rpm."""
    force = friction.uniform_wear_force(1e6, 50e-3, 100e-3)
    radius = friction.effective_radius_uniform_wear(50e-3, 100e-3)
    moment = friction.friction_moment(0.2, force, radius, faces=1)
    power = moment * 750 * 2 * np.pi / 60
    for quantity, printed, ours, unit in (
        ("axial force, N", 15707.96, force, 0.005),
        ("friction moment, N mm", 235619.45, 1e3 * moment, 0.005),
        ("power, kW", 18.5055, power / 1e3, 0.00005),
    ):
        published(
            "joint", SOURCE, "Ex. 11.1", quantity, printed, ours, abs=unit, why="half the last printed digit"
        )
