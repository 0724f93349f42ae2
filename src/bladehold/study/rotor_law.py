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
    """Loads on the hub by thrust, for each of R states of flight, tabled at J thrusts: [R, J].

    thrust - N, speed - of turning, rad/s, parts - the loads, at the nodes; between and beyond them all follow
    the polynomial through them. axial - velocity down through the disc that the table is made at, m/s, [R]:
    air that comes faster costs the power T dV more, the other loads stay. density - of each air over that of
    the table, [L]: at one ratio of thrust to density the rotor turns alike and all its loads go with the
    density, Reynolds and Mach number left aside.
    """

    thrust: FloatArray
    speed: FloatArray
    parts: dict[str, FloatArray]
    axial: FloatArray
    density: FloatArray

    def __call__(self, thrust: FloatArray, axial: FloatArray, edge: FloatArray) -> HubForces:
        """Return the loads at thrusts (N) and axial velocities (m/s) [L, R, N]; edge velocities are not
        looked at.
        """
        ratio = self.density[:, np.newaxis, np.newaxis]
        weights = _lagrange(self.thrust, thrust / ratio)
        found = {name: np.einsum("lrnj,rj->lrn", weights, values) for name, values in self.parts.items()}
        speed = np.einsum("lrnj,rj->lrn", weights, self.speed)
        loads = {name: ratio * values for name, values in found.items()}
        loads["torque"] = loads["torque"] + thrust * (axial - self.axial[:, np.newaxis]) / speed
        return HubForces(**loads)


def _lagrange(nodes: FloatArray, at: FloatArray) -> FloatArray:
    """Weights [L, R, N, J] of values at nodes [R, J] in the polynomial through them, at points [L, R, N]."""
    count = nodes.shape[-1]
    gap = at[..., np.newaxis] - nodes[:, np.newaxis, :]
    weights = np.ones((*at.shape, count))
    for j in range(count):
        for other in range(count):
            if other != j:
                weights[..., j] *= gap[..., other] / (nodes[:, np.newaxis, j] - nodes[:, np.newaxis, other])
    return weights


def tabled_law(
    build: Build, air: Air, thrust: FloatArray, axial: FloatArray, edge: FloatArray, density: FloatArray
) -> TabledLaw:
    """Table the law of a build's rotor about a thrust (N) in R states of flight.

    Arguments: build; air - that the table is made in, one state of it; thrust - N, axial - velocity down
    through the disc, edge - along it, m/s, [R]; density - of each air that is flown in, kg/m^3, [L]. The
    rotor of the table turns counterclockwise seen from above. Lower rotors of pairs are taken as the upper
    ones; without wind along the disc the table is made in hover.
    """
    geometry, polar = blade_of(build)
    blades = build.propeller.blades
    given: dict[str, Any] = {"polar": polar, **vars(air)}
    given = {name: given[name] for name in ("polar", "density", "viscosity", "speed_of_sound")}
    guess = _TIP_SPEED / geometry.radius
    alone = float(solve_axial(geometry, blades, guess, 0.0, **given).thrust)
    speed = guess * np.sqrt(thrust / alone)
    speeds = speed[:, np.newaxis] * np.where(edge[:, np.newaxis] > 0.0, WINDY, STILL)
    nodes, parts = np.empty(speeds.shape), {name: np.zeros(speeds.shape) for name in PARTS}
    still, windy = np.flatnonzero(edge == 0.0), np.flatnonzero(edge > 0.0)
    if still.size:
        there = solve_axial(geometry, blades, speeds[still], 0.0, **given)
        nodes[still], parts["torque"][still] = there.thrust, there.torque
    if windy.size:
        flow = axial[windy, np.newaxis], edge[windy, np.newaxis]
        blown = solve_tilted(geometry, blades, speeds[windy], *flow, azimuths=AZIMUTHS, **given)
        nodes[windy] = blown.thrust
        for name, field in zip(PARTS, _TILTED, strict=True):
            parts[name][windy] = getattr(blown, field)
    made_at = np.where(edge > 0.0, axial, 0.0)
    return TabledLaw(nodes, speeds, parts, made_at, density / air.density)
