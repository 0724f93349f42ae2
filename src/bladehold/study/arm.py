"""An unbalanced rotor on its arm: modes met, shaking over the speed, stress at the clamp, what the controller
feels.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY
from bladehold.joint.stress_life import FEWEST_CYCLES
from bladehold.loss import (
    Mount,
    carried_acceleration,
    mount_of,
    rod_response,
    tip_response,
    vibration_measure,
)
from bladehold.sheet.build import Build
from bladehold.study.arm_model import ArmModel, arm_model, axial_mount
from bladehold.study.life_curves import metal_curve
from bladehold.study.loads import Loads, loads_of
from bladehold.tables import Consequence, Provenance, consequence, factor

FloatArray = NDArray[np.float64]
ComplexArray = NDArray[np.complex128]

AXES = ("across the arm", "along the arm", "upright")
"""Axes of the accelerations, in the order of their first axis."""
ACCEPTABLE, BETWEEN, TROUBLE = "acceptable", "between", "trouble"
POINTS = 160
"""Speeds over the running range, evenly; each mode that is met in it adds NEAR more about its peak."""
NEAR = 15
CLAMP_NOTCH = 2.0
"""Stress concentration at the edge of the clamp, for fatigue: own choice, clamps fret and press."""
_WIDTHS = 4.0  # damping ratios to each side of a peak
_RIGID = Mount(0.0, 1.0, 0.0)  # a plate without mass, which does not leave its place


class NoArmError(ValueError):
    """A sheet that says nothing of its arms."""

    def __init__(self) -> None:
        super().__init__("the sheet lacks [arm]: what carries the motor is not known")


@dataclass(frozen=True)
class Meeting:
    """A mode that meets a multiple of the speed: mode - its name; order - multiple; frequency - Hz; speed -
    at which they meet, rad/s; inside - the running range.
    """

    mode: str
    order: int
    frequency: float
    speed: float
    inside: bool


@dataclass(frozen=True, eq=False)
class ClampStress:
    """Stress at the clamp over the speeds [P], Pa.

    bending, shear - amplitudes; amplitude - both as one, sqrt(bending^2 + 3 shear^2); mean - of thrust and
    weight; strength - of the material, factor - on it, margin - of the greatest stress [P]; hours - of life
    at each speed, scatter taken off, None where no curve is known; remarks - on the curve; unconfirmed -
    sources of strength, stiffness and curve that are from memory.
    """

    bending: FloatArray
    shear: FloatArray
    amplitude: FloatArray
    mean: FloatArray
    strength: float
    factor: float
    margin: FloatArray
    hours: FloatArray | None
    remarks: tuple[str, ...]
    unconfirmed: tuple[str, ...]


@dataclass(frozen=True, eq=False)
class ArmAnswer:
    """What an unbalanced rotor does to its arm and to the flight controller, over speeds [P].

    frequencies - first modes by name, Hz, lowest first; meetings - with 1 per turn and the blades' passing;
    running - ends of the flight range, rad/s; unbalance - kg m; speed - rad/s; force - that turns, N;
    clamp_moment - horizontal and vertical, N*m, [2, P]; clamp_torque - N*m; stress; tip_acceleration,
    body_acceleration, controller_acceleration - amplitudes along AXES, m/s^2, [3, P]; measure - the published
    one of the last, [3, P]; hover - its place among the speeds; breaches - ranges left.
    """

    build: Build
    model: ArmModel
    frequencies: dict[str, float]
    meetings: tuple[Meeting, ...]
    running: tuple[float, float]
    unbalance: float
    speed: FloatArray
    force: FloatArray
    clamp_moment: FloatArray
    clamp_torque: FloatArray
    stress: ClampStress
    tip_acceleration: FloatArray
    body_acceleration: FloatArray
    controller_acceleration: FloatArray
    measure: FloatArray
    hover: int
    breaches: tuple[str, ...]

    @property
    def worst(self) -> int:
        """Place of the speed with the smallest margin at the clamp."""
        return int(self.stress.margin.argmin())

    @property
    def greatest_measure(self) -> float:
        """Greatest published measure of vibration in the running range, m/s^2."""
        return float(self.measure.max())

    def feels(self, place: int) -> str:
        """ACCEPTABLE, BETWEEN or TROUBLE: the measure at a speed against the published thresholds."""
        low, high = thresholds()
        value = float(self.measure[:, place].max())
        return ACCEPTABLE if value < low.value else TROUBLE if value > high.value else BETWEEN


def thresholds() -> tuple[Consequence, Consequence]:
    """Return the published thresholds of vibration, m/s^2: acceptable below, nearly always trouble above."""
    return consequence("vibration_acceptable"), consequence("vibration_trouble")


def arm_answer(
    build: Build, unbalance: float, loads: Loads | None = None, model: ArmModel | None = None
) -> ArmAnswer:
    """Return what an unbalance of one rotor does from idle to the fastest speed.

    The force U Omega^2 turns in the plane of the rotor: across the arm it bends it sideways, along it it
    pulls, and at its height above the axis of the arm it bends it up and down and twists it. Steady speeds:
    a rotor that only passes through a peak shakes less.
    Arguments: build; unbalance - kg m, above 0; loads - of the build and model - of its arm, where they are
    known already.
    Errors: NoArmError without [arm]; ValueError for an unbalance that is not positive, or from the rotor.
    """
    if build.arm is None:
        raise NoArmError
    if not 0.0 < unbalance < np.inf:
        raise ValueError(f"unbalance must be above 0 kg m and finite, got {unbalance:g}")
    known = loads_of(build) if loads is None else loads
    model = arm_model(build, build.arm) if model is None else model
    hover = known.hover_speed
    running = build.flying.idle, float(known.speed[-1])
    frequencies = model.frequencies
    speed = _speeds(running, hover, frequencies, build.arm.damping)
    force = unbalance * speed**2
    moments, torque, motion, reactions = _shaken(model, speed, force)
    body, controller = _carried(build, model, speed, force, reactions)
    return ArmAnswer(
        build=build,
        model=model,
        frequencies=frequencies,
        meetings=_meetings(frequencies, build.propeller.blades, running),
        running=running,
        unbalance=unbalance,
        speed=speed,
        force=force,
        clamp_moment=moments,
        clamp_torque=torque,
        stress=_stress(build, model, (speed, hover), moments, torque, force),
        tip_acceleration=np.abs(motion) * speed**2,
        body_acceleration=body,
        controller_acceleration=controller,
        measure=vibration_measure(controller, speed / (2.0 * np.pi)),
        hover=int(np.searchsorted(speed, hover)),
        breaches=model.breaches,
    )


def _speeds(
    running: tuple[float, float], hover: float, frequencies: dict[str, float], damping: float
) -> FloatArray:
    """Speeds from idle to the fastest, closer about every peak, with hover among them, rad/s."""
    low, high = running
    about = 1.0 + _WIDTHS * damping * np.linspace(-1.0, 1.0, NEAR)
    peaks = 2.0 * np.pi * np.outer(list(frequencies.values()), about).ravel()
    inside = peaks[(peaks > low) & (peaks < high)]
    return np.unique(np.concatenate([np.linspace(low, high, POINTS), inside, [hover]]))


def _meetings(
    frequencies: dict[str, float], blades: int, running: tuple[float, float]
) -> tuple[Meeting, ...]:
    """Every mode with 1 per turn and with the passing of the blades, by speed."""
    low, high = running
    found = [
        Meeting(name, order, hertz, speed, low <= speed <= high)
        for name, hertz in frequencies.items()
        for order in (1, blades)
        for speed in (2.0 * np.pi * hertz / order,)
    ]
    return tuple(sorted(found, key=lambda one: one.speed))


def _shaken(
    model: ArmModel, speed: FloatArray, force: FloatArray
) -> tuple[FloatArray, FloatArray, ComplexArray, ComplexArray]:
    """Moments [2, P] and torque [P] at the clamp, N*m, motion of the tip, m, and force at the clamp, N, along
    AXES, [3, P].
    """
    arm = model.data
    couple = force * arm.rotor_height
    side = tip_response(model.horizontal, speed, force=force)
    up = tip_response(model.vertical, speed, moment=couple)
    stiffness, inertia, tip = model.twisting
    _, torque = rod_response(stiffness, inertia, arm.length, tip, arm.damping, speed, couple)
    stiffness, inertia, tip = model.pulling
    along, pull = rod_response(stiffness, inertia, arm.length, tip, arm.damping, speed, force)
    moments = np.abs(np.stack([side.moment, up.moment]))
    motion = np.stack([side.displacement, along, up.displacement])
    return moments, np.abs(torque), motion, np.stack([side.shear, pull, up.shear])


def _carried(
    build: Build, model: ArmModel, speed: FloatArray, force: FloatArray, reactions: ComplexArray
) -> tuple[FloatArray, FloatArray]:
    """Accelerations of body and controller along AXES, m/s^2, [3, P]."""
    damping, given = model.data.damping, build.controller
    plate = _RIGID
    if given is not None:
        plate = mount_of(given.mass, given.mount_frequency, given.mount_damping)
    sideways, upright = model.sideways, model.upright
    mass, stiffness = axial_mount(model)
    straight = np.sqrt(stiffness / mass) / (2.0 * np.pi)
    lever = force * model.data.rotor_height * float(upright.slope)
    ways = (
        (mount_of(sideways.mass, sideways.frequency, damping), float(sideways.participation), force),
        (mount_of(mass, straight, damping), mass, force),
        (mount_of(upright.mass, upright.frequency, damping), float(upright.participation), lever),
    )
    found = [
        carried_acceleration(
            tip,
            plate,
            build.aircraft.mass,
            drive,
            speed,
            _net(tip, along, drive, speed, reaction),
            participation=along,
        )
        for (tip, along, drive), reaction in zip(ways, reactions, strict=True)
    ]
    return np.abs([body for body, _ in found]), np.abs([carried for _, carried in found])


def _net(
    tip: Mount, along: float, drive: FloatArray, speed: FloatArray, reaction: ComplexArray
) -> ComplexArray:
    """Force (N) that stands for all that acts on the aircraft, so that a clamp at rest takes its reaction.

    One mode of the arm is coupled to the body; what the others bring to the clamp is added as it is where the
    clamp does not move. Source: derived; right to first order in the arm's mass over the aircraft's.
    """
    mass, stiffness, damping = (np.asarray(one, float) for one in (tip.mass, tip.stiffness, tip.damping))
    way = drive / (stiffness - mass * speed**2 + 1j * damping * speed)
    return np.asarray(reaction - along * speed**2 * way)


def _stress(
    build: Build,
    model: ArmModel,
    speeds: tuple[FloatArray, float],
    moments: FloatArray,
    torque: FloatArray,
    force: FloatArray,
) -> ClampStress:
    """Stress at the clamp; speeds - all of them and that of hover, from which thrust goes with the square."""
    arm, section = model.data, model.section
    bending = section.bending_stress(moments[1], moments[0]) + force / section.area
    shear = np.asarray(torque / section.torsion_modulus)
    amplitude = np.sqrt(bending**2 + 3.0 * shear**2)
    speed, hover = speeds
    thrust = build.flying.used_thrust * (speed / hover) ** 2
    own = float(model.vertical.mass) / 2.0
    lifted = np.abs(thrust - (arm.tip_mass + own) * GRAVITY) * arm.length
    mean = section.bending_stress(lifted, 0.0)
    metal = arm.material.tensile_yield
    strength, needed = (
        (arm.material.tensile_ultimate, build.policy.ultimate)
        if metal is None
        else (metal, build.policy.at_yield)
    )
    hours, remarks, curve = _hours(model, amplitude, mean, speed)
    rests_on = arm.material.strength_provenance, arm.material.modulus_provenance, *curve
    return ClampStress(
        bending=bending,
        shear=shear,
        amplitude=amplitude,
        mean=mean,
        strength=strength,
        factor=needed,
        margin=strength / (needed * (mean + amplitude)) - 1.0,
        hours=hours,
        remarks=remarks,
        unconfirmed=tuple(dict.fromkeys(one.source for one in rests_on if one.unconfirmed)),
    )


def _hours(
    model: ArmModel, amplitude: FloatArray, mean: FloatArray, speed: FloatArray
) -> tuple[FloatArray | None, tuple[str, ...], tuple[Provenance, ...]]:
    """Hours of life at each speed (rad/s), scatter taken off; remarks on the curve, and its sources."""
    arm, section = model.data, model.section
    chosen = metal_curve(arm.material, CLAMP_NOTCH, float(section.width), float(section.height))
    if chosen is None:
        return None, (f"no fatigue curve is known for {arm.material.name}: its life is not told",), ()
    specimen = getattr(chosen.curve, "notch", 1.0)
    local = CLAMP_NOTCH / specimen
    cycles = chosen.curve.cycles(local * (mean + amplitude), local * (mean - amplitude))
    turns = speed / (2.0 * np.pi)
    told = f"clamp edge counted with a stress concentration of {CLAMP_NOTCH:g}, own choice"
    fewest = f"0 h stands for fewer than {FEWEST_CYCLES:g} turns"
    scatter = factor("scatter_curve")
    hours = cycles / scatter.value / turns / 3600.0
    return hours, (*chosen.remarks, told, fewest), (*chosen.provenances, scatter.provenance)
