"""What one rotor hands on to the aircraft at a thrust: torque, in wind forces and moments on its hub."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.air import Air
from bladehold.aircraft import HubForces
from bladehold.rotor import solve_axial, solve_tilted
from bladehold.sheet.build import Build
from bladehold.study.shape import blade_of

FloatArray = NDArray[np.float64]

STILL, WINDY = (0.8, 1.0, 1.25), (0.94, 1.0, 1.06)
"""Speeds at which the law is tabled, over that of the thrust: in wind thrusts differ less from rotor to
rotor.
"""
AZIMUTHS = 8  # that the mean loads on the hub are found with
_TIP_SPEED = 100.0  # m/s, at which the thrust is asked for to guess all speeds from
PARTS = ("drag", "side", "roll", "pitch", "torque")
_TILTED = ("drag_force", "side_force", "rolling_moment", "pitching_moment", "torque")


@dataclass(frozen=True, eq=False)
class TabledLaw:
    """Loads on the hub by thrust, for R states of flight in each of L kinds of air, tabled at J thrusts: [L,
    R, J].

    thrust - N, speed - of turning, rad/s, parts - the loads, at the nodes; between and beyond them all follow
    the polynomial through them. axial - velocity down through the disc that the table is made at, m/s, [L,
    R]: air that comes faster costs the power T dV more, the other loads stay.
    """

    thrust: FloatArray
    speed: FloatArray
    parts: dict[str, FloatArray]
    axial: FloatArray

    def __call__(self, thrust: FloatArray, axial: FloatArray, edge: FloatArray) -> HubForces:
        """Return the loads at thrusts (N) and axial velocities (m/s) [L, R, N]; edge velocities are not
        looked at.
        """
        weights = _lagrange(self.thrust, thrust)
        loads = {name: np.einsum("lrnj,lrj->lrn", weights, values) for name, values in self.parts.items()}
        speed = np.einsum("lrnj,lrj->lrn", weights, self.speed)
        loads["torque"] = loads["torque"] + thrust * (axial - self.axial[..., np.newaxis]) / speed
        return HubForces(**loads)


def _lagrange(nodes: FloatArray, at: FloatArray) -> FloatArray:
    """Weights [L, R, N, J] at points [L, R, N] of values at nodes [L, R, J] of their polynomial."""
    count = nodes.shape[-1]
    gap = at[..., np.newaxis] - nodes[..., np.newaxis, :]
    weights = np.ones((*at.shape, count))
    for j in range(count):
        for other in range(count):
            if other != j:
                apart = nodes[..., j] - nodes[..., other]
                weights[..., j] *= gap[..., other] / apart[..., np.newaxis]
    return weights


def tabled_law(build: Build, air: Air, thrust: FloatArray, axial: FloatArray, edge: FloatArray) -> TabledLaw:
    """Table the law of a build's rotor about a thrust (N) in R states of flight, in L kinds of air.

    Arguments: build; air - [L]; thrust - N, axial - velocity down through the disc, edge - along it, m/s, [L,
    R]. The rotor of the table turns counterclockwise seen from above. Lower rotors of pairs are taken as the
    upper ones; without wind along the disc the table is made in hover.
    """
    geometry, polar = blade_of(build)
    blades = build.propeller.blades
    # All states in one row [L * R], a column of speeds to each.
    of_air = {
        name: np.repeat(value, thrust.shape[-1])[:, np.newaxis]
        for name, value in vars(air).items()
        if name in ("density", "viscosity", "speed_of_sound")
    }
    guess = _TIP_SPEED / geometry.radius
    middle: dict[str, Any] = {name: value[0, 0] for name, value in of_air.items()}
    alone = float(solve_axial(geometry, blades, guess, 0.0, polar=polar, **middle).thrust)
    lighter = of_air["density"] / middle["density"]
    row, through, along = (value.reshape(-1, 1) for value in (thrust, axial, edge))
    speeds = guess * np.sqrt(row / (lighter * alone)) * np.where(along > 0.0, WINDY, STILL)
    nodes, parts = np.empty(speeds.shape), {name: np.zeros(speeds.shape) for name in PARTS}
    still, windy = np.flatnonzero(along == 0.0), np.flatnonzero(along > 0.0)

    def given(at: NDArray[np.intp]) -> dict[str, Any]:
        return {"polar": polar, **{name: value[at] for name, value in of_air.items()}}

    if still.size:
        there = solve_axial(geometry, blades, speeds[still], 0.0, **given(still))
        nodes[still], parts["torque"][still] = there.thrust, there.torque
    if windy.size:
        flow = through[windy], along[windy]
        blown = solve_tilted(geometry, blades, speeds[windy], *flow, azimuths=AZIMUTHS, **given(windy))
        nodes[windy] = blown.thrust
        for name, field in zip(PARTS, _TILTED, strict=True):
            parts[name][windy] = getattr(blown, field)
    shape = (*thrust.shape, -1)
    return TabledLaw(
        nodes.reshape(shape),
        speeds.reshape(shape),
        {name: values.reshape(shape) for name, values in parts.items()},
        np.where(edge > 0.0, axial, 0.0),
    )
