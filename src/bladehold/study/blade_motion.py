"""Loads at the pivot round the turn in every condition: of the elastic blade and of a rigid one."""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import (
    BladeModes,
    Campbell,
    RootComponents,
    RootHistory,
    SpanLoads,
    blade_modes,
    campbell_diagram,
)
from bladehold.sheet.build import Build
from bladehold.study.air_loads import solved_rotors
from bladehold.study.blade_model import BladeModel, blade_model
from bladehold.study.conditions import Conditions, conditions_of
from bladehold.study.elastic import STEPS, elastic_history, history_breaches, span_loads
from bladehold.study.loads import loads_of
from bladehold.study.shape import blade_of

FloatArray = NDArray[np.float64]

SPEEDS = 40  # of the Campbell diagram
BEYOND = 1.2  # the diagram runs this much beyond the fastest speed


@dataclass(frozen=True, eq=False)
class BladeMotion:
    """The moving blade in the flight conditions [C], over STEPS azimuths [C, A].

    model - the beam; conditions; speed - rad/s; air - loads of the air on one blade; elastic - loads at the
    pivot; rigid - those of a rigid blade in the same air; modes, campbell - at SPEEDS speeds; breaches -
    ranges left.
    """

    model: BladeModel
    conditions: Conditions
    speed: FloatArray
    air: SpanLoads
    elastic: RootHistory
    rigid: RootComponents
    modes: BladeModes
    campbell: Campbell
    breaches: tuple[str, ...]

    @property
    def names(self) -> tuple[str, ...]:
        """Names of the conditions."""
        return self.conditions.names

    @property
    def hover(self) -> int:
        """Place of hover in warm air among the conditions."""
        return self.names.index("hover, warm")

    @property
    def arm(self) -> FloatArray:
        """Lever of the stations about the pivot times their weight, m^2, [S]."""
        reach = np.maximum(self.air.radius - self.model.pivot_radius, 0.0)
        return np.asarray(self.air.weight * reach)

    @property
    def components(self) -> RootComponents:
        """The elastic blade's loads as the six components of a load case."""
        found = self.elastic
        return RootComponents.of(
            found.centrifugal[..., np.newaxis],
            found.flap_shear,
            found.lag_shear,
            found.flap_moment,
            found.lag_moment,
            found.feathering_moment,
        )


def blade_motion(build: Build) -> BladeMotion:
    """Return what the elastic blade puts into its pivot in every flight condition, and its frequencies.

    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError from the blade.
    """
    model, conditions = blade_model(build), conditions_of(build)
    geometry, polar = blade_of(build)
    solved = solved_rotors(build, conditions, geometry, polar, STEPS)
    speed = loads_of(build).speed[:-1]
    air = span_loads(geometry, polar, conditions, solved)
    elastic = elastic_history(build, model, conditions, air, speed)
    running = build.flying.idle, float(speed.max())
    speeds = np.linspace(0.0, BEYOND * running[1], SPEEDS)
    modes = blade_modes(model.matrices, speeds)
    campbell = campbell_diagram(modes, build.propeller.blades, running)
    found = (
        *(text for _, solution in solved for text in solution.breaches),
        *model.breaches,
        *history_breaches(elastic),
    )
    return BladeMotion(
        model=model,
        conditions=conditions,
        speed=speed,
        air=air,
        elastic=elastic,
        rigid=_rigid(build, model, air, conditions, speed),
        modes=modes,
        campbell=campbell,
        breaches=tuple(dict.fromkeys(text for text in found if text)),
    )


def _rigid(
    build: Build, model: BladeModel, air: SpanLoads, conditions: Conditions, speed: FloatArray
) -> RootComponents:
    """Loads of a rigid blade on its pivot round the turn: of the air, pull, coning and body rate."""
    pivot, weight = model.pivot_radius, air.weight
    arm = np.maximum(air.radius - pivot, 0.0)
    outward = model.mass * pivot + model.first_moment
    square = speed[:, np.newaxis] ** 2
    lever = model.inertia + pivot * model.first_moment
    # The blade stands at psi = 0 on the line about which the rate across does not act.
    turn = -2.0 * (speed * conditions.pitch_rate)[:, np.newaxis] * np.sin(azimuths())
    lag = air.tangential @ (weight * arm)
    swung = np.zeros(speed.shape)
    if build.propeller.folding:
        # A free blade trails until its pull, square to the line through the pivot, balances the drag.
        swung, lag = lag.mean(axis=-1) / pivot, np.zeros(lag.shape)
    return RootComponents.of(
        square * outward,
        air.normal @ weight + turn * outward,
        air.tangential @ weight + swung[:, np.newaxis],
        air.normal @ (weight * arm) - square * build.propeller.precone * lever + turn * lever,
        lag,
    )


def azimuths() -> FloatArray:
    """The azimuths of the histories, rad, [A]."""
    return 2.0 * np.pi * np.arange(float(STEPS)) / STEPS


def departure(history: RootComponents) -> dict[str, tuple[FloatArray, FloatArray]]:
    """Mean and greatest departure from it over the turn, of each component, [C].

    Arguments: history - [C, A]. Source: own, no formula.
    """
    found = {}
    for field in fields(RootComponents):
        series = np.asarray(getattr(history, field.name))
        mean = series.mean(axis=-1)
        found[field.name] = (mean, np.abs(series - mean[..., np.newaxis]).max(axis=-1))
    return found
