"""From conditions to loads: rotor speed for the thrust, air loads on a blade, loads at its pivot."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import air_at
from bladehold.blade import (
    LAG_RANGE,
    BalanceError,
    RootLoads,
    SpanLoads,
    centrifugal_force,
    proof_flap_moment,
    rigid_root_loads,
    spun_up,
)
from bladehold.rotor import solve_for_thrust
from bladehold.sheet.build import Build
from bladehold.study.air_loads import AZIMUTHS, RotorAir, rotor_air, solved_rotors
from bladehold.study.blade_model import blade_model
from bladehold.study.conditions import Conditions, conditions_of, courses_of
from bladehold.study.course import Course
from bladehold.study.elastic import STEPS, elastic_history, elastic_root, history_breaches, span_loads
from bladehold.study.kinds import Kind
from bladehold.study.shape import blade_of, body_of
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

PROOF = "centrifugal proof"


@dataclass(frozen=True)
class Loads:
    """Loads of all conditions, last axis C + 1: the flight conditions, then the centrifugal proof.

    bases - where each condition comes from; thrust N, speed rad/s, torque N*m of one rotor; root - loads at
    one blade's pivot; hub_moment - largest moment of the whole rotor on its mounting, N*m; flight - 1 for
    flight conditions and 0 for the proof; time_share - of the flight, 0 for the proof, [C + 1]; courses - of
    flights through the conditions; breaches - ranges left on the way.
    """

    names: tuple[str, ...]
    bases: tuple[str, ...]
    thrust: FloatArray
    speed: FloatArray
    torque: FloatArray
    root: RootLoads
    hub_moment: FloatArray
    flight: FloatArray
    time_share: FloatArray
    courses: tuple[Course, ...]
    breaches: tuple[str, ...]

    @property
    def hover_speed(self) -> float:
        """Speed in hover in warm air, rad/s."""
        return float(self.speed[self.names.index("hover, warm")])


_SIGMAS = 1.645  # 95 % of rotors turn slower than this at the thrust they are asked for

MEASURED_RANGE = Range(
    "measured over computed speed at the thrust used",
    0.75,
    1.35,
    "",
    "the blade described is not the blade that was measured, or the speed is of another thrust or air",
    "own limit",
)


def loads_of(build: Build, thrust_scale: ArrayLike = 1.0, kinds: tuple[Kind, ...] | None = None) -> Loads:
    """Return the loads of every condition, with the thrusts used multiplied by thrust_scale [...].

    Arguments: build; thrust_scale - any shape, becomes the leading axes; kinds - other flying than that of
    the build, without courses. Returns Loads [..., C + 1].
    Errors: ValueError from the rotor when a thrust cannot be reached, naming the condition's thrust.
    """
    conditions = conditions_of(build, thrust_scale, kinds)
    geometry, polar = blade_of(build)
    solved = solved_rotors(build, conditions, geometry, polar, STEPS if tapped(build) else AZIMUTHS)
    air = rotor_air(build, conditions, solved)
    faster, speed_breach = speed_ratio(build)
    speed = air.speed * faster
    root = rigid_root_loads(body_of(build), air.blade, speed, conditions.pitch_rate)
    elastic_breaches: tuple[str, ...] = ()
    if tapped(build):
        along = span_loads(geometry, polar, conditions, solved)
        root, elastic_breaches = _elastic(build, conditions, along, speed, root)
    root = spun_up(body_of(build), root, conditions.stepped * speed / build.flying.throttle_step)
    courses = courses_of(build) if kinds is None else ()
    return _with_proof(build, conditions, air, speed, root, courses, (speed_breach, *elastic_breaches))


def tapped(build: Build) -> bool:
    """Return whether a tap test says how stiff the blade is; the checks then take it as elastic."""
    return bool(np.isfinite(build.propeller.tap_frequency))


def _elastic(
    build: Build, conditions: Conditions, air: SpanLoads, speed: FloatArray, rigid: RootLoads
) -> tuple[RootLoads, tuple[str, ...]]:
    """Loads of the elastic blade, and ranges left; those of the rigid one where no beam can be made of it."""
    try:
        model = blade_model(build, checked=True)
    except BalanceError as error:
        return rigid, (f"the blade is taken as rigid in spite of its tap test: {error}",)
    history = elastic_history(build, model, conditions, air, speed)
    root = elastic_root(history, rigid, conditions.own_share, folding=build.propeller.folding)
    return root, (*model.breaches, *history_breaches(history))


def _with_proof(
    build: Build,
    conditions: Conditions,
    air: RotorAir,
    speed: FloatArray,
    root: RootLoads,
    courses: tuple[Course, ...],
    breaches: tuple[str | None, ...],
) -> Loads:
    fastest = _fastest(build, speed)
    amplitude = root.flap_cyclic + build.hub.pivot_radius * root.lift_swing
    blades = build.propeller.blades
    # The once-per-turn moments of three and more blades add to a steady one of half their sum; those of two
    # blades swing between nothing and their full sum twice a turn.
    hub_moment = amplitude * (blades if blades == 2 else blades / 2)
    found = [*air.breaches, *breaches, LAG_RANGE.breach(np.degrees(root.lag_angle))]
    return Loads(
        names=(*conditions.names, PROOF),
        bases=(*conditions.bases, "policy.centrifugal_proof times the fastest condition"),
        thrust=_append(air.thrust, 0.0),
        speed=_append(speed, np.nan, fastest),
        torque=_append(air.torque, 0.0),
        root=_joined(root, *_proof_loads(build, fastest)),
        hub_moment=_append(hub_moment, 0.0),
        flight=np.append(np.ones(len(conditions.names)), 0.0),
        time_share=np.append(conditions.time_share, 0.0),
        courses=courses,
        breaches=tuple(text for text in found if text),
    )


def _fastest(build: Build, speed: FloatArray) -> FloatArray:
    """Greatest speed of turning [...]: of the conditions, or the stated one where that is greater.

    The stated one is the controller's limit. In a search for a thrust limit it goes with the conditions,
    since whoever limits the thrust limits the speed.
    """
    of_conditions = np.asarray(speed.max(axis=-1), dtype=float)
    stated = build.flying.greatest_speed
    if stated is None:
        return of_conditions
    if speed.ndim == 1:
        return np.asarray(np.maximum(of_conditions, stated), dtype=float)
    at_sheet = loads_of(replace(build, flying=replace(build.flying, greatest_speed=None))).speed.max()
    return of_conditions * max(1.0, stated / float(at_sheet))


def _proof_loads(build: Build, fastest: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Centrifugal proof load and the flap moment it brings with raised blades [...]; 14 CFR 35.35."""
    body, multiple = body_of(build), build.policy.centrifugal_proof
    force = centrifugal_force(body.mass, body.pivot_radius, body.balance_point, fastest)
    return multiple * force, proof_flap_moment(body, fastest, multiple)


def speed_ratio(build: Build) -> tuple[float, str | None]:
    """Return how much faster the rotor is taken to turn than its model at the same thrust, and a range left.

    The speed measured at the thrust used over that of the model in hover, 1 if not measured, times the
    pessimistic end of what a calibration left open.
    """
    # At a given thrust an error of thrust coefficient is one of speed squared; the pessimistic end is faster.
    doubt = float(np.sqrt(1.0 + _SIGMAS * build.propeller.thrust_uncertainty))
    stated = build.flying.used_speed
    if stated is None:
        return doubt, None
    ratio = stated / model_speed(build)
    return doubt * ratio, MEASURED_RANGE.breach(ratio)


def model_speed(build: Build) -> float:
    """Return the speed (rad/s) at which the model of a build's rotor gives the thrust used, in hover in the
    air of the sheet.
    """
    geometry, polar = blade_of(build)
    air = air_at(build.air.altitude, build.air.temperature, build.air.humidity)
    model = solve_for_thrust(
        geometry,
        build.propeller.blades,
        build.flying.used_thrust,
        0.0,
        density=air.density,
        viscosity=air.viscosity,
        speed_of_sound=air.speed_of_sound,
        polar=polar,
    )
    return float(model.rotation_speed)


def _append(values: FloatArray, filler: float, last: FloatArray | None = None) -> FloatArray:
    """Add one more condition at the end of the last axis."""
    end = np.full(values.shape[:-1], filler) if last is None else last
    return np.concatenate([values, end[..., np.newaxis]], axis=-1)


def _joined(flying: RootLoads, proof: FloatArray, flap: FloatArray) -> RootLoads:
    """Flight conditions followed by the proof, which pulls outward and presses raised blades down."""
    shape = flying.flap_peak.shape
    fields = {
        name: _append(np.broadcast_to(np.asarray(value, dtype=float), shape), 0.0)
        for name, value in vars(flying).items()
    }
    for name in ("centrifugal", "in_plane"):
        fields[name] = _append(np.broadcast_to(vars(flying)[name], shape), 0.0, proof)
    for name in ("flap_mean", "flap_peak"):
        fields[name] = _append(np.broadcast_to(vars(flying)[name], shape), 0.0, flap)
    return RootLoads(**fields)
