"""What the air puts on a blade in every condition: the rotor solved in still air, in wind, and in pairs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import AirLoads
from bladehold.rotor import (
    AxialSolution,
    BladeGeometry,
    Polar,
    TiltedSolution,
    blade_moments,
    blade_shears,
    greatest_departure,
    round_the_turn,
    second_cycle,
    sharp_gust,
    solve_for_thrust,
    solve_tilted_for_thrust,
    taken,
    wake_downwash,
)
from bladehold.sheet.build import Build
from bladehold.study.conditions import NO_BASE, Conditions
from bladehold.study.remembered import Remembered
from bladehold.study.shape import shape_key

FloatArray = NDArray[np.float64]

_KEPT = 4  # solutions that are remembered
AZIMUTHS = 12  # the departure from the mean is that of the curve through them, right within 0.1 %


@dataclass(frozen=True)
class RotorAir:
    """One rotor in all conditions [..., C]: speed rad/s at the thrust asked for, or before the gust, thrust
    N, torque N*m, the air loads on one of its blades, and the ranges left on the way.
    """

    speed: FloatArray
    thrust: FloatArray
    torque: FloatArray
    blade: AirLoads
    breaches: tuple[str, ...]


Solved = tuple[NDArray[np.intp], AxialSolution | TiltedSolution]


def solved_rotors(
    build: Build, conditions: Conditions, geometry: BladeGeometry, polar: Polar, azimuths: int
) -> list[Solved]:
    """Solve the rotor in every condition: momentum theory in axial flow, round the turn where wind blows
    across the disc, and in gusts with the speed and the inflow of the condition that they come into.

    Remembered, since the air does not feel screws, plates or the mass of a blade.
    Arguments: build; conditions [..., C]; geometry, polar - of the blade; azimuths - round the turn.
    Returns, for conditions without and with wind and for the gusts in each, their numbers and their solution.
    Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    craft = build.aircraft
    names = ("thrust", "axial_speed", "edge_speed", "gust", "gust_along", "held")
    felt = [getattr(conditions, name) for name in names] + list(vars(conditions.air).values())
    question = (
        shape_key(build),
        craft.layout == "coaxial" and craft.coaxial_spacing,
        azimuths,
        *((np.shape(values), np.asarray(values).tobytes()) for values in felt),
    )
    return _remembered.answer(
        question, build.propeller.polar, lambda: _solved(build, conditions, geometry, polar, azimuths)
    )


_remembered: Remembered[list[Solved]] = Remembered(_KEPT)


def _solved(
    build: Build, conditions: Conditions, geometry: BladeGeometry, polar: Polar, azimuths: int
) -> list[Solved]:
    windy = np.any(conditions.edge_speed > 0.0, axis=tuple(range(conditions.edge_speed.ndim - 1)))
    gusty = conditions.held != NO_BASE
    parts: list[Solved] = []
    still, blown = np.flatnonzero(~windy & ~gusty), np.flatnonzero(windy & ~gusty)
    # In descent the wake of the upper rotor of a pair does not reach the lower one.
    falling = np.any(conditions.axial_speed < 0.0, axis=tuple(range(conditions.axial_speed.ndim - 1)))
    paired = falling & (build.aircraft.layout == "coaxial")
    for columns in (still[~paired[still]], still[paired[still]]):
        if columns.size:
            parts.append((columns, _still(build, conditions.of(columns), geometry, polar)))
    if blown.size:
        parts.append((blown, solve_windy(build, conditions.of(blown), geometry, polar, azimuths)))
    for columns, solution in tuple(parts):
        into = gusty & np.isin(conditions.held, columns)
        level = into & (conditions.gust_along != 0.0)
        for gusts in (np.flatnonzero(into & ~level), np.flatnonzero(level)):
            if gusts.size:
                before = np.searchsorted(columns, conditions.held[gusts])
                steady = taken(solution, before, conditions.thrust.ndim - 1)
                along = conditions.gust_along[gusts]
                # Along the disc of a hovering rotor it makes the load change round the turn.
                if isinstance(steady, AxialSolution) and np.any(along):
                    steady = round_the_turn(steady, azimuths)
                parts.append((gusts, sharp_gust(steady, conditions.gust[gusts], polar, along)))
    return parts


def rotor_air(build: Build, conditions: Conditions, solved: list[Solved]) -> RotorAir:
    """Speed, torque and air loads on a rigid blade in every condition.

    Where the user states the once-per-turn share of the load, it replaces the departure from the mean.
    Arguments: build; conditions [..., C]; solved - the rotor in them.
    """
    pivot = build.hub.pivot_radius
    found = _sums.answer(
        (id(solved), pivot),
        solved,
        lambda: [(columns, _summed(solution, pivot)) for columns, solution in solved],
    )

    def joined(name: str) -> FloatArray:
        whole = np.empty(conditions.thrust.shape)
        for columns, loads in found:
            whole[..., columns] = loads[name]
        return whole

    values = {name: joined(name) for name in found[0][1]}
    speed, thrust, torque = values.pop("speed"), values.pop("thrust"), values.pop("torque")
    blade = _with_own_share(AirLoads(**values), conditions.own_share)
    breaches = [text for _, solution in solved for text in solution.breaches]
    return RotorAir(speed, thrust, torque, blade, tuple(dict.fromkeys(breaches)))


_sums: Remembered[list[tuple[NDArray[np.intp], dict[str, FloatArray]]]] = Remembered(_KEPT)


def _air(conditions: Conditions, polar: Polar) -> dict[str, Any]:
    air = conditions.air
    return {
        "density": air.density,
        "viscosity": air.viscosity,
        "speed_of_sound": air.speed_of_sound,
        "polar": polar,
    }


def _still(build: Build, conditions: Conditions, geometry: BladeGeometry, polar: Polar) -> AxialSolution:
    """Without wind across the disc; of a coaxial pair the lower rotor, which works harder."""
    blades, air = build.propeller.blades, _air(conditions, polar)
    case = (geometry, blades, conditions.thrust, conditions.axial_speed)
    alone = solve_for_thrust(*case, **air)
    if build.aircraft.layout != "coaxial" or np.any(conditions.axial_speed < 0.0):
        return alone
    downwash, _ = wake_downwash(alone, build.aircraft.coaxial_spacing, geometry)
    return solve_for_thrust(*case, **air, downwash=downwash)


def solve_windy(
    build: Build,
    conditions: Conditions,
    geometry: BladeGeometry,
    polar: Polar,
    azimuths: int = AZIMUTHS,
) -> TiltedSolution:
    """With wind across the disc; of a coaxial pair the lower rotor, in the upper one's ideal hover wake.

    The wake is taken evenly over the whole lower disc, as fast as at the upper one, though wind carries it
    aside: the pessimistic end. Source: momentum theory, e.g. Johnson, Helicopter Theory (1980), chapter 2.
    """
    wake: FloatArray | float = 0.0
    if build.aircraft.layout == "coaxial":
        disc = np.pi * geometry.radius**2
        wake = np.sqrt(conditions.thrust / (2.0 * conditions.air.density * disc))
    return solve_tilted_for_thrust(
        geometry,
        build.propeller.blades,
        conditions.thrust,
        conditions.axial_speed + wake,
        conditions.edge_speed,
        azimuths=azimuths,
        **_air(conditions, polar),
    )


def _summed(solution: AxialSolution | TiltedSolution, pivot: float) -> dict[str, FloatArray]:
    """Speed, torque, and the fields of AirLoads at the pivot."""
    shears, moments = blade_shears(solution, pivot), blade_moments(solution, pivot)
    series = {
        "lift": shears.normal,
        "drag": shears.tangential,
        "flap": moments.flap,
        "lag": moments.lead_lag,
    }
    found = {"speed": solution.rotation_speed, "thrust": solution.thrust, "torque": solution.torque}
    for name, load in series.items():
        turning = isinstance(solution, TiltedSolution)
        found[name] = load.mean(axis=-1) if turning else load
        found[f"{name}_swing"] = greatest_departure(load) if turning else np.zeros(load.shape)
    flap = moments.flap
    found["flap_second"] = (
        second_cycle(flap) if isinstance(solution, TiltedSolution) else np.zeros(flap.shape)
    )
    return found


def _with_own_share(loads: AirLoads, share: FloatArray) -> AirLoads:
    """The loads with the swing that the user's share of the mean gives, where there is one."""
    given = np.isfinite(share)
    fields = dict(vars(loads))
    for name in ("lift", "drag", "flap", "lag"):
        own = np.where(given, share, 0.0) * np.abs(fields[name])
        fields[f"{name}_swing"] = np.where(given, own, fields[f"{name}_swing"])
    fields["flap_second"] = np.where(given, 0.0, fields["flap_second"])
    return AirLoads(**fields)
