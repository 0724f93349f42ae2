"""What holds for every function of the room: broadcasting, documented arguments, a source."""

import importlib
import inspect
import pkgutil
import re

import numpy as np
import pytest

from bladehold import joint
from bladehold.joint import bedding as beds
from bladehold.joint import (
    clevis,
    damage,
    embedding,
    fatigue,
    fatigue_parts,
    friction,
    interaction,
    laminate_lug,
    locking,
    lug,
    lug_curves,
    notch,
    pin,
    pin_peaking,
    preload,
    relaxation,
    separation,
    spring,
    stepped,
    stiffness,
    stress_life,
    strip,
    thread,
    tightness,
)
from bladehold.joint import pattern as screws
from bladehold.joint import tightening as vdi

SHANK = interaction.CRITERIA["5020b-shank"]
THREAD_PLASTIC = interaction.CRITERIA["5020b-thread-plastic"]
STEEL = stiffness.EXPONENTIAL_CONSTANTS["steel"]
STEEL_LINE = stress_life.ReversedLine(1040e6, 830e6, 350e6)
ALUMINIUM = stress_life.HandbookCurve(18.22, -7.77, 0.62, 70e6)
SCREW = fatigue_parts.ScrewThread(5e-3, 14.2e-6, 940e6)
SLIP = {"level": "limit", "surface": "bare metal"}

CASES = {
    "shear": (pin.shear_capacity, (5e-3, 480e6)),
    "air force": (pin.bending_moment_air_force, (3000.0, 3e-3, 8e-3, 0.1e-3)),
    "knuckle": (pin.bending_moment_knuckle, (3000.0, 3e-3, 8e-3, 0.1e-3)),
    "bending": (pin.bending_stress, (2.0, 5e-3)),
    "plastic": (pin.plastic_moment, (5e-3, 640e6)),
    "interaction": (lambda *x: interaction.interaction(SHANK, *x), (0.3, 0.4, 0.2)),
    "multiplier": (lambda *x: interaction.load_multiplier(SHANK, *x), (0.3, 0.4, 0.2)),
    "plastic multiplier": (lambda *x: interaction.load_multiplier(THREAD_PLASTIC, *x), (0.3, 0.4, 0.2)),
    "nut factor": (preload.nut_factor, (4.48e-3, 5e-3, 0.057, 0.12, 0.12)),
    "long form": (preload.torque_long_form, (5000.0, 2.24e-3, 0.057, 0.12, 3.4e-3, 0.12)),
    "greatest preload": (preload.maximum_preload, (5000.0, 0.3, 1.05, 100.0)),
    "least preload": (preload.minimum_preload, (5000.0, 0.3, 0.95, 100.0)),
    "assembly": (vdi.assembly_preload, (640e6, 4.48e-3, 4.0e-3, 0.8e-3, 0.12)),
    "torque": (vdi.tightening_torque, (5000.0, 0.8e-3, 4.48e-3, 0.12, 8.0e-3, 5.2e-3, 0.12)),
    "stepped": (stiffness.stepped_bolt_stiffness, (20e-6, 5e-3, 14e-6, 9e-3, 207e9)),
    "frustum": (stiffness.frustum_stiffness, (70e9, 5e-3, 8e-3, 8e-3, 0.5)),
    "45 deg": (stiffness.member_stiffness_45, (70e9, 5e-3, 16e-3)),
    "exponential": (lambda *x: stiffness.member_stiffness_exponential(*x, STEEL), (70e9, 5e-3, 16e-3)),
    "bolt load": (separation.bolt_load, (2000.0, 2500.0, 0.3, 0.5)),
    "separation": (separation.separation_load, (2000.0, 0.3, 0.5)),
    "to capacity": (separation.tension_to_bolt_load, (9000.0, 2000.0, 0.3, 0.5)),
    "slip": (lambda *x: separation.slip_margin(*x, **SLIP), (2000.0, 100.0, 200.0, 0.15, 1.25)),
    "strip": (thread.external_strip_area, (6e-3, 0.8e-3, 4.2e-3, 0.1e-3, 0.05e-3, 0.02e-3)),
    "net section": (lug.net_tension_capacity, (16e-3, 5e-3, 6e-3, 500e6, 0.9)),
    "shear-out": (lug.shear_out_capacity, (6e-3, 10e-3, 5e-3, 300e6)),
    "oblique": (lug.oblique_multiplier, (0.3, 0.4)),
    "clevis strip": (lambda *x: clevis.contact_forces(*x).greatest, (12.0, 300.0, 8e-3)),
    "clevis edge": (lambda *x: clevis.contact_forces(*x, "edge").greatest, (2.0, 300.0, 8e-3)),
    "clevis clamped": (lambda *x: clevis.screw_tension_clamped(*x).greatest, (12.0, 300.0, 8e-3, 2000.0)),
    "first gap": (clevis.first_gap_moment, (2000.0, 8e-3, 300.0)),
    "line load": (screws.circle_line_load_force, (10.0, 20e-3, 1.3, 1.9)),
    "principal": (screws.principal_stress, (100e6, 50e6)),
    "friction": (friction.effective_radius_uniform_pressure, (2.5e-3, 6e-3)),
    "amplitude": (fatigue.stress_amplitude, (500.0, 100.0, 14.2e-6, 0.3, 0.5)),
    "embedding": (embedding.embedding_amount, (3e-6, 2.5e-6, 1.5e-6, 2.0)),
    "embedding loss": (embedding.embedding_loss, (11e-6, 2e8, 1e8)),
    "creep": (relaxation.relaxed_share, (3e7, 0.1126, 0.2, 0.1)),
    "tightened again": (lambda t, *x: relaxation.retightened_share(t, [1e6, 4e6], *x), (3e7, 0.11, 0.2, 0.1)),
    "junker": (locking.clamp_against_slip, (300.0, 0.1, 2.0)),
    "disc spring": (spring.disc_spring_rate, (1e-4, 20e-3, 10.2e-3, 1.1e-3, 0.45e-3, 206e9)),
    "friction of K": (preload.friction_from_nut_factor, (0.18, 4.48e-3, 5e-3, 0.057)),
    "preload at": (tightness.preload_at, (300.0, 10.0, -8.0)),
    "gerber": (fatigue.gerber_amplitude, (129e6, 830e6, 450e6)),
    "held pin": (
        lambda *x: beds.bedded_pin(*x[:7], end_stiffness=x[7]).greatest,
        (3e-3, 8e-3, 1e-4, 4e-3, 207e9, 71e9, 45e9, 100.0),
    ),
    "lug depth": (lug_curves.average_depth, (16e-3, 5e-3, 9e-3)),
    "shear planes": (lug_curves.shear_plane_factor, (1.5, 0.6)),
    "press fit": (lug_curves.press_fit_pressure, (1e-5, 5e-3, 8e-3, 20e-3, 207e9, 71e9)),
    "shifted pin": (pin_peaking.shifted_pin_load, (10.0, 2e4, 4e4, 3e-3, 8e-3, 1e-4)),
    "engagement": (strip.engagement_to_break_screw, (14e-6, 9e-3, 13e-3, 800e6, 300e6, 1.6)),
    "step, tension": (
        lambda *x: stepped.step_stress_concentration(*x, "tension"),
        (6e-3, 5e-3, 0.2e-3),
    ),
    "hole": (laminate_lug.hole_stress_concentration, (60e9, 50e9, 10e9, 0.2)),
    "edge pressure": (laminate_lug.permissible_edge_pressure, (200e6, 60e6)),
    "asme": (fatigue.asme_amplitude, (129e6, 600e6, 450e6)),
    "bending amplitude": (fatigue.bending_amplitude, (2.0, 1.0, 14.2e-6)),
    "thread cycles": (lambda *x: fatigue.thread_cycles(*x, "vdi-rolled-after"), (90e6, 64e6)),
    "thread amplitude": (lambda *x: fatigue.thread_amplitude(*x, "vdi-rolled-before"), (1e5, 64e6)),
    "line": (STEEL_LINE.cycles, (700e6, -200e6)),
    "line allowable": (STEEL_LINE.allowable, (1e5, 500e6, -200e6)),
    "curve": (ALUMINIUM.cycles, (300e6, 20e6)),
    "curve allowable": (ALUMINIUM.allowable, (1e6, 300e6, 20e6)),
    "open hole": (notch.open_hole_factor, (20e-3, 6e-3)),
    "pin-loaded hole": (notch.pin_loaded_factor_ekvall, (20e-3, 6e-3)),
    "shoulder": (notch.shoulder_factor, (10e-3, 5e-3, 0.3e-3)),
    "sensitivity": (notch.notch_sensitivity, (0.3e-3, 1040e6)),
    "size": (lambda *x: stress_life.steel_line(*x).endurance, (1040e6, 30e-3)),
    "life hours": (damage.life_hours, (1e-4, 4.0, 0.01)),
    "scatter": (damage.scatter_factor, (2.0, 6.0, 3.0)),
    "turns": (damage.turn_cycles_per_hour, (300.0, 0.4, 2.0)),
    "thread life": (
        lambda *x: fatigue_parts.thread_life(*x[:2], SCREW, "vdi-rolled-after", *x[2:]).cycles,
        (6000.0, 1000.0, 1e6, 0.6, 0.1, 0.3, 0.6, 6000.0),
    ),
    "shank life": (
        lambda *x: fatigue_parts.shank_life(*x[:3], STEEL_LINE, *x[3:]).cycles,
        (5.0, 1.0, 5e-3, 1e6, 1.3, 3000.0, 2500.0),
    ),
    "hole life": (
        lambda *x: fatigue_parts.metal_hole_life(*x[:5], ALUMINIUM, *x[5:]).cycles,
        (6000.0, 1000.0, 20e-3, 6e-3, 4e-3, 1e6, 2.0, -1.0),
    ),
    "bearing life": (
        lambda *x: fatigue_parts.laminate_bearing_life(*x).cycles,
        (4000.0, 1000.0, 6e-3, 6e-3, 400e6, 1e6, 0.25),
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_broadcasting_equals_a_loop(name):
    """Each argument on an axis of its own gives what a loop over every combination gives."""
    function, typical = CASES[name]
    axes = [np.asarray(x) * np.array([1.0, 1.03]) for x in typical]
    together = function(*np.ix_(*axes))
    assert together.shape == (2,) * len(axes)
    for index in np.ndindex(together.shape):
        one = function(*(axis[i] for axis, i in zip(axes, index, strict=True)))
        assert together[index] == pytest.approx(float(one), rel=1e-12)


def room_functions():
    for module in pkgutil.iter_modules(joint.__path__):
        if not module.name.startswith("_"):
            loaded = importlib.import_module(f"bladehold.joint.{module.name}")
            for name, function in inspect.getmembers(loaded, inspect.isfunction):
                if function.__module__ == loaded.__name__ and not name.startswith("_"):
                    yield pytest.param(function, id=f"{module.name}.{name}")


PUBLIC = list(room_functions())


@pytest.mark.parametrize("function", PUBLIC)
def test_every_argument_is_documented(function):
    text = inspect.getdoc(function)
    section = re.search(r"Arguments?[^:]*:(.*?)Returns:", text, re.DOTALL)
    assert section, "no arguments documented"
    for argument in inspect.signature(function).parameters:
        assert re.search(rf"\b{argument}(, \w+)*:\s", section.group(1)), f"{argument} is not documented"


@pytest.mark.parametrize("function", PUBLIC)
def test_every_formula_names_its_source(function):
    assert "Source: " in inspect.getdoc(function)
