"""What of a build scatters, and the values it takes in many hubs and flights drawn at random."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bladehold.chance import Marginal
from bladehold.joint.preload import SHORT_TERM_RELAXATION
from bladehold.sheet.build import Build, Screw
from bladehold.study.checks.parts import BUSH, LUG, MOUNTING, PIVOT, PLATES, TIES
from bladehold.study.clamp import creep_share, embedding_force, pivot_stack, tie_seat
from bladehold.tables import Material, Scatter, scatter, scatter_names

FloatArray = NDArray[np.float64]
_Value = Callable[[str, float], FloatArray]

BAND = 1.96  # standard deviations at which the ends of a nut factor's band are taken
MILLIMETRE = 1e-3
STRONG = (PIVOT, TIES, MOUNTING, LUG, BUSH, PLATES)
GEOMETRY = ("plate thickness", "lug thickness", "plate width", "lug width")
SNUG = 1e-3  # N: a nut that is on takes up the play of the plates, even where nothing of its preload is left
_BELOW = 1e-6  # of a ratio that must stay positive however far it is drawn


@dataclass(frozen=True)
class Variable:
    """One quantity that scatters: name, its row of the table and the distribution made of it."""

    name: str
    row: Scatter
    marginal: Marginal


@dataclass(frozen=True, eq=False)
class Draws:
    """What was drawn for S hubs and flights, [S] each.

    thrust - over that of the sheet; mass - of a blade over that of the sheet, times the square of the speed
    of turning over that found: both pull alike; stress - true over found; preload, tie_preload - of the pivot
    screw and of one tie, N; strength - over the table's, by part; geometry - departures from the sheet, m,
    [G, S]; friction - place of the friction of the faces between its ends.
    """

    thrust: FloatArray
    mass: FloatArray
    stress: FloatArray
    preload: FloatArray
    tie_preload: FloatArray
    strength: dict[str, FloatArray]
    geometry: FloatArray
    friction: FloatArray


def variables_of(build: Build, own: Sequence[Scatter] = ()) -> tuple[Variable, ...]:
    """Return the quantities of a build that scatter.

    Arguments: build; own - rows that stand in for those of the table. What a build does not have (ties, a
    bush, a running torque) is left out. Errors: ValueError for a distribution that is none.
    """
    rows = {name: scatter(name) for name in scatter_names()} | {row.name: row for row in own}
    return tuple(_variable(build, name, rows[row]) for name, row in _named(build))


def _named(build: Build) -> Iterator[tuple[str, str]]:
    """Name of every variable and of its row."""
    hub, pivot, ties = build.hub, build.pivot, build.ties
    yield f"strength of the {PIVOT}", "pivot strength"
    if ties.screw is not None:
        yield f"strength of the {TIES}", "tie strength"
    yield f"strength of the {MOUNTING}", "mounting strength"
    yield f"strength of the {LUG}", _strength_row(hub.lug_material)
    if hub.bush_material is not None and hub.bush_diameter is not None:
        yield f"strength of the {BUSH}", _strength_row(hub.bush_material)
    yield f"strength of the {PLATES}", _strength_row(hub.plate_material)
    if pivot.tightening.torque > 0.0:
        yield "friction under the pivot's nut", "pivot friction"
        yield "wrench on the pivot's nut", "wrench"
        if pivot.tightening.prevailing_torque > 0.0:
            yield "running torque of the pivot's nut", "running torque"
        if creep_share(pivot_stack(build)) > 0.0:
            yield "age of the pivot's setting", "age of setting"
    if ties.screw is not None and ties.screw.tightening.torque > 0.0:
        yield "friction under the ties", "tie friction"
        yield "wrench on the ties", "wrench"
    if build.propeller.folding:
        yield "friction of lug and plates", "face friction"
    if build.flying.used_speed is None and build.propeller.thrust_uncertainty == 0.0:
        yield "rotor speed", "rotor speed"
    for name in ("temperature", "blade mass", "thrust", "stress model", *GEOMETRY):
        yield name, name


def _strength_row(material: Material) -> str:
    return "metal strength" if material.kind == "metal" else "laminate strength"


def _variable(build: Build, name: str, row: Scatter) -> Variable:
    deviation = row.deviation
    if name == "thrust":
        # What a bench run left open comes on top of what differs from flight to flight.
        deviation = float(np.hypot(deviation, build.propeller.thrust_uncertainty))
    return Variable(name, row, Marginal(row.kind, row.mean, deviation))


def drawn_for(build: Build, variables: Sequence[Variable], u: FloatArray) -> Draws:
    """Return what points in standard normal space mean for a build.

    Arguments: build; variables - D of them; u - [S, D]. A quantity that is not among them has its mean.
    """
    x = {variable.name: variable.marginal.at(u[:, at]) for at, variable in enumerate(variables)}
    count = len(u)

    def value(name: str, otherwise: float) -> FloatArray:
        return x.get(name, np.full(count, otherwise))

    flying = build.flying
    coldest, warmest = flying.temperature_min, flying.temperature_max
    temperature = coldest + value("temperature", 0.5) * (warmest - coldest)
    return Draws(
        thrust=np.maximum(value("thrust", 1.0), _BELOW),
        mass=np.maximum(value("blade mass", 1.0) * np.square(value("rotor speed", 1.0)), _BELOW),
        stress=value("stress model", 1.0),
        preload=_pivot_preload(build, value, temperature),
        tie_preload=_tie_preload(build, value, temperature),
        strength={part: value(f"strength of the {part}", 1.0) for part in STRONG},
        geometry=MILLIMETRE * np.stack([value(name, 0.0) for name in GEOMETRY]),
        friction=np.clip(value("friction of lug and plates", 0.5), 0.0, 1.0),
    )


def tightened_to(screw: Screw, place: FloatArray, wrench: FloatArray, running: FloatArray) -> FloatArray:
    """Return the preload (N) soon after tightening.

    P = (1 - r) (T w - s Tp) / (K D), ln K normal with the ends of the band at -BAND and BAND.
    Arguments: screw; place - of the nut factor in its band, standard deviations; wrench - w, torque reached
    over that asked for; running - s, share of the running torque that is left; [S].
    Source: NASA-STD-5020B (2021) eq. 1-4 without its bounds; the lognormal nut factor is own choice.
    """
    given = screw.tightening
    low = given.nut_factor_low / (1.0 + given.scatter_up)
    high = given.nut_factor_high / (1.0 - given.scatter_down)
    factor = np.sqrt(low * high) * np.exp(place / (2.0 * BAND) * np.log(high / low))
    left = np.maximum(given.torque * wrench - running * given.prevailing_torque, 0.0)
    return np.asarray((1.0 - SHORT_TERM_RELAXATION) * left / (factor * screw.thread.nominal_diameter))


def _pivot_preload(build: Build, value: _Value, temperature: FloatArray) -> FloatArray:
    """Preload of the pivot screw in a flight, N: creep and temperature after tightening."""
    screw = build.pivot
    if screw.tightening.torque <= 0.0:
        return np.zeros(temperature.shape)
    fresh = tightened_to(
        screw,
        value("friction under the pivot's nut", 0.0),
        value("wrench on the pivot's nut", 1.0),
        value("running torque of the pivot's nut", 0.5),
    )
    stack = pivot_stack(build)
    crept = 1.0 - creep_share(stack) * np.clip(value("age of the pivot's setting", 0.5), 0.0, 1.0)
    embedded = 0.0 if build.propeller.folding else embedding_force(stack)
    warmer = temperature - build.setting.temperature
    return np.maximum(fresh * crept - embedded + stack.gain * warmer, SNUG)


def _tie_preload(build: Build, value: _Value, temperature: FloatArray) -> FloatArray:
    """Preload of one tie in a flight, N; what embeds is left in, which strains tie and plates more."""
    screw, seat = build.ties.screw, tie_seat(build)
    if screw is None or screw.tightening.torque <= 0.0:
        return np.zeros(temperature.shape)
    fresh = tightened_to(
        screw,
        value("friction under the ties", 0.0),
        value("wrench on the ties", 1.0),
        np.full(temperature.shape, 0.5),
    )
    if seat is None:
        return fresh
    warmer = temperature - build.setting.temperature
    return np.maximum(fresh + seat.spring * seat.growth * warmer, 0.0)


def with_departure(build: Build, name: str, metres: float) -> Build:
    """Return the build with one of GEOMETRY greater by a length (m)."""
    hub = build.hub
    if name == "plate thickness":
        return replace(build, hub=replace(hub, plate_thickness=hub.plate_thickness + metres))
    if name == "lug thickness":
        return replace(
            build,
            hub=replace(hub, lug_thickness=hub.lug_thickness + metres, bush_length=hub.bush_length + metres),
        )
    if name == "plate width":
        return replace(build, hub=replace(hub, plate_width=hub.plate_width + metres))
    return replace(build, hub=replace(hub, lug_width=hub.lug_width + metres))
