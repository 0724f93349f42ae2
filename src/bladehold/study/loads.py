"""From conditions to loads: rotor speed for the thrust, air loads on a blade, loads at its pivot."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.air import air_at
from bladehold.blade import (
    LAG_RANGE,
    BladeBody,
    RootLoads,
    centrifugal_force,
    proof_flap_moment,
    rigid_root_loads,
)
from bladehold.rotor import (
    BladeGeometry,
    Polar,
    blade_from_measures,
    blade_from_table,
    blade_polar,
    section_catalogue,
    solve_for_thrust,
)
from bladehold.rotor.correction import corrected_geometry, corrected_polar
from bladehold.sheet.build import Build
from bladehold.study.air_loads import RotorAir, rotor_air
from bladehold.study.conditions import Conditions, conditions_of
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

PROOF = "centrifugal proof"


@dataclass(frozen=True)
class Loads:
    """Loads of all conditions, last axis C + 1: the flight conditions, then the centrifugal proof.

    thrust N, speed rad/s, torque N*m of one rotor; root - loads at one blade's pivot; hub_moment -
    largest moment of the whole rotor on its mounting, N*m; flight - 1 for flight
    conditions and 0 for the proof; breaches - ranges left on the way.
    """

    names: tuple[str, ...]
    thrust: FloatArray
    speed: FloatArray
    torque: FloatArray
    root: RootLoads
    hub_moment: FloatArray
    flight: FloatArray
    breaches: tuple[str, ...]


_SIGMAS = 1.645  # 95 % of rotors turn slower than this at the thrust they are asked for

MEASURED_RANGE = Range(
    "measured over computed speed at the thrust used",
    0.75,
    1.35,
    "",
    "the blade described is not the blade that was measured, or the speed is of another thrust or air",
    "own limit",
)


def geometry_of(build: Build) -> BladeGeometry:
    """Return the blade's aerodynamic shape as described; the blade proper begins at the pivot."""
    propeller = build.propeller
    radius, start = propeller.diameter / 2, build.hub.pivot_radius
    if propeller.stations:
        stations = propeller.stations
        return blade_from_table(
            radius=radius,
            hub_radius=start,
            r=[s.radius for s in stations],
            chord=[s.chord for s in stations],
            twist=[s.twist for s in stations],
            thickness=[s.thickness for s in stations],
            sections=tuple(s.section for s in stations),
        )
    return blade_from_measures(
        diameter=propeller.diameter,
        hub_radius=start,
        geometric_pitch=propeller.pitch,
        widest_chord=propeller.widest_chord,
        widest_fraction=propeller.widest_at,
        tip_chord=propeller.tip_chord,
        thickness_ratio=section_catalogue()[propeller.section].thickness_ratio,
        section=propeller.section,
        root_thickness=propeller.root_thickness,
    )


def blade_of(build: Build) -> tuple[BladeGeometry, Polar]:
    """Return shape and polar of the blade with what a bench run taught about them."""
    geometry, correction = geometry_of(build), build.propeller.correction
    return corrected_geometry(geometry, correction), corrected_polar(polar_of(build, geometry), correction)


def polar_of(build: Build, geometry: BladeGeometry) -> Polar:
    """Return the polar of the blade as described: the user's own, or that of the sections it names."""
    own = build.propeller.polar
    return blade_polar(geometry) if own is None else own


def body_of(build: Build) -> BladeBody:
    """Return the blade's body. Play in the clevis is not counted as relief: clamping may take it up."""
    propeller, hub = build.propeller, build.hub
    return BladeBody(
        mass=propeller.blade_mass,
        pivot_radius=hub.pivot_radius,
        balance_point=propeller.balance_point,
        folding=propeller.folding,
        upward_angle=propeller.precone,
        standing_frequency=propeller.tap_frequency,
    )


def loads_of(build: Build, thrust_scale: ArrayLike = 1.0) -> Loads:
    """Return the loads of every condition, with the thrusts used multiplied by thrust_scale [...].

    Arguments: build; thrust_scale - any shape, becomes the leading axes. Returns Loads [..., C + 1].
    Errors: ValueError from the rotor when a thrust cannot be reached, naming the condition's thrust.
    """
    conditions = conditions_of(build, thrust_scale)
    geometry, polar = blade_of(build)
    air = rotor_air(build, conditions, geometry, polar)
    measured, speed_breach = _measured_over_model(build, geometry, polar)
    # At a given thrust an error of thrust coefficient is one of speed squared; the pessimistic end is faster.
    doubt = 1.0 + _SIGMAS * build.propeller.thrust_uncertainty
    speed = air.speed * measured * np.sqrt(doubt)
    return _with_proof(build, conditions, air, speed, speed_breach)


def _with_proof(
    build: Build, conditions: Conditions, air: RotorAir, speed: FloatArray, speed_breach: str | None
) -> Loads:
    root = rigid_root_loads(body_of(build), air.blade, speed)
    fastest = _fastest(build, speed)
    amplitude = root.flap_cyclic + build.hub.pivot_radius * air.blade.lift_swing
    blades = build.propeller.blades
    # The once-per-turn moments of three and more blades add to a steady one of half their sum; those of two
    # blades swing between nothing and their full sum twice a turn.
    hub_moment = amplitude * (blades if blades == 2 else blades / 2)
    found = [*air.breaches, speed_breach, LAG_RANGE.breach(np.degrees(root.lag_angle))]
    return Loads(
        names=(*conditions.names, PROOF),
        thrust=_append(conditions.thrust, 0.0),
        speed=_append(speed, np.nan, fastest),
        torque=_append(air.torque, 0.0),
        root=_joined(root, *_proof_loads(build, fastest)),
        hub_moment=_append(hub_moment, 0.0),
        flight=np.append(np.ones(len(conditions.names)), 0.0),
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


def _measured_over_model(build: Build, geometry: BladeGeometry, polar: Polar) -> tuple[float, str | None]:
    """Speed measured at the thrust used over the speed the model needs for it in hover; 1 if not measured."""
    stated = build.flying.used_speed
    if stated is None:
        return 1.0, None
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
    ratio = stated / float(model.rotation_speed)
    return ratio, MEASURED_RANGE.breach(ratio)


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
