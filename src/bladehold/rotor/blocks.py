"""Conditions of a tilted rotor solved together: from geometry and flight to balanced annuli."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.rotor.axial import annulus_constants, blade_elements
from bladehold.rotor.azimuth import State, Turn, approached, balanced, first_state, loads_at
from bladehold.rotor.geometry import BladeGeometry
from bladehold.rotor.momentum import TINY, LossModel, balance, turning
from bladehold.rotor.polar import Polar
from bladehold.rotor.skew import SkewModel, Slopes, wake_skew
from bladehold.rotor.span import span_weights

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
Start = tuple[FloatArray, FloatArray]

FEWEST_AZIMUTHS = 6  # carry a load's mean and its parts once and twice per turn
BLOCK = 8800  # elements solved together: their arrays stay in the processor's cache
COARSE: FloatArray = 2.0 * np.pi / 6.0 * np.arange(6.0)  # azimuths on which the solution is first approached
COARSE_TOLERANCE = 1e-3
HIGHEST_ADVANCE = 0.35  # up to which the laws of uneven inflow are followed


@dataclass(frozen=True, eq=False)
class Rotor:
    """What is the same in all conditions; azimuths - their number, spin - 1 or -1.

    Raises ValueError naming the field that cannot be.
    """

    geometry: BladeGeometry
    blades: int
    polar: Polar
    losses: LossModel
    skew: SkewModel
    azimuths: int
    spin: int

    def __post_init__(self) -> None:
        """Refuse what no rotor can be."""
        if self.blades < 1:
            raise ValueError(f"blades {self.blades} must be at least 1")
        if self.spin not in (1, -1):
            raise ValueError(f"spin {self.spin} must be 1 or -1")
        if self.azimuths < FEWEST_AZIMUTHS:
            raise ValueError(f"azimuths {self.azimuths} must be at least {FEWEST_AZIMUTHS}")

    @property
    def azimuth(self) -> FloatArray:
        """Azimuths psi, rad, [A]."""
        return 2.0 * np.pi / self.azimuths * np.arange(float(self.azimuths))


@dataclass(frozen=True, eq=False)
class Flow:
    """Conditions, each [C, 1]: rad/s, m/s, m/s, kg/m^3, Pa*s, m/s; inflow_ratio is NaN if not prescribed."""

    rotation_speed: FloatArray
    axial: FloatArray
    edge: FloatArray
    density: FloatArray
    viscosity: FloatArray
    sound: FloatArray
    inflow_ratio: FloatArray

    def part(self, which: slice) -> Flow:
        """Some of the conditions."""
        return Flow(**{name: values[which] for name, values in vars(self).items()})


@dataclass(frozen=True, eq=False)
class Found:
    """Elements [A, C, S] of one blade (joined: [C, A, S]), annuli [C, S] and conditions [C].

    normal, tangential - N/m; alpha - rad; in_plane - u_T, m/s; reynolds, mach; induced, swirl - m/s;
    unbalanced; kx, ky.
    """

    normal: FloatArray
    tangential: FloatArray
    alpha: FloatArray
    in_plane: FloatArray
    reynolds: FloatArray
    mach: FloatArray
    induced: FloatArray
    swirl: FloatArray
    unbalanced: BoolArray
    kx: FloatArray
    ky: FloatArray


def solve_all(rotor: Rotor, flow: Flow, start: Start | None) -> Found:
    """All conditions, elements [C, A, S]: the approach together, the rest by blocks.

    start - induced and swirl velocity of similar conditions, m/s, [C, S]; without it the search begins
    where the blades' changing speed round the turn is left out.
    """
    step = max(1, BLOCK // (rotor.azimuths * rotor.geometry.r.size))
    parts = [slice(first, first + step) for first in range(0, max(flow.edge.size, 1), step)]
    prescribed = bool(np.isfinite(flow.inflow_ratio).all()) and flow.edge.size > 0
    states = None if prescribed else first_states(rotor, flow, start)
    blocks = [solve_block(rotor, flow.part(part), states and states.part(part)) for part in parts]

    def joined(name: str) -> NDArray[Any]:
        values = [getattr(block, name) for block in blocks]
        values = [np.moveaxis(value, 0, 1) if value.ndim == 3 else value for value in values]
        whole = np.empty((flow.edge.size, *values[0].shape[1:]), dtype=values[0].dtype)
        return np.concatenate(values, out=whole)

    return Found(**{name: joined(name) for name in vars(blocks[0])})


def first_states(rotor: Rotor, flow: Flow, start: Start | None) -> State:
    """All conditions near balance, found on a few azimuths; start - as in `solve_all`."""
    coarse, *_ = _turn(rotor, flow, COARSE)
    state = first_state(coarse, *(_first_guess(rotor, flow) if start is None else start))
    return state if start is not None else approached(coarse, state, COARSE_TOLERANCE)[0]


def started(flow: Flow, speed: FloatArray, induced: FloatArray, swirl: FloatArray) -> Start:
    """Where to start from similar conditions: their velocities in the ratio of the rotation speeds."""
    before = speed.reshape(-1, 1)
    ratio = np.where(before > 0.0, flow.rotation_speed / np.maximum(before, TINY), 1.0)
    stations = induced.shape[-1]
    return ratio * induced.reshape(-1, stations), ratio * swirl.reshape(-1, stations)


def solve_block(rotor: Rotor, flow: Flow, state: State | None) -> Found:
    """Some conditions together, from states near balance; without them by the inflow prescribed."""
    turn, reynolds, mach = _turn(rotor, flow, rotor.azimuth)
    if state is None:
        none = np.zeros(turn.blade_speed.shape)
        induced = flow.inflow_ratio * flow.rotation_speed * rotor.geometry.radius - flow.axial + none
        state, unbalanced = State(induced, none, ()), none > 0.0
        even = replace(turn, skew=lambda induced, loss: (none, none), tip=none + np.inf, hub=none + np.inf)
        loads = loads_at(even, induced, none)
    else:
        state, loads, unbalanced = balanced(turn, state)
    scale = 0.5 * flow.density * rotor.geometry.chord
    return Found(
        normal=scale * loads.normal,
        tangential=scale * loads.tangential,
        alpha=loads.alpha,
        in_plane=loads.in_plane,
        reynolds=reynolds,
        mach=mach,
        induced=state.induced,
        swirl=state.swirl,
        unbalanced=unbalanced,
        kx=loads.kx[:, 0],
        ky=loads.ky[:, 0],
    )


def _turn(rotor: Rotor, flow: Flow, azimuth: FloatArray) -> tuple[Turn, FloatArray, FloatArray]:
    """The elements at some azimuths, with the Reynolds and Mach numbers of the undisturbed stream."""
    geometry = rotor.geometry
    solidity, tip, hub = annulus_constants(geometry, rotor.blades, rotor.losses)
    sine, cosine = (values[:, np.newaxis, np.newaxis] for values in (np.sin(azimuth), np.cos(azimuth)))
    blade_speed = flow.rotation_speed * geometry.r
    across = blade_speed + flow.edge * sine
    stream = np.sqrt(across * across + flow.axial * flow.axial)
    reynolds = stream * (flow.density / flow.viscosity * geometry.chord)
    mach = stream / flow.sound
    turn = Turn(
        solidity=solidity,
        twist=geometry.twist,
        tip=tip,
        hub=hub,
        x=geometry.r / geometry.radius,
        blade_speed=blade_speed,
        axial=flow.axial,
        edge=flow.edge,
        cosine=cosine,
        sine=sine,
        section=rotor.polar.at(reynolds, mach),
        skew=_skew(rotor, flow),
    )
    return turn, reynolds, mach


def _skew(rotor: Rotor, flow: Flow) -> Callable[[FloatArray, FloatArray], Slopes]:
    """The slopes kx, ky [C, 1] of the inflow, from v and F [C, S]: by the mean of F v over the disc.

    Where the air passes faster than the tips turn, as through a rotor that stands still, its speed
    stands for theirs in mu: the laws are made for working rotors, and Drees's has no bound otherwise.
    """
    area = rotor.geometry.r * span_weights(rotor.geometry)
    share = area / area.sum()
    tip_speed = flow.rotation_speed * rotor.geometry.radius

    def slopes(induced: FloatArray, loss: FloatArray) -> Slopes:
        through = flow.axial + ((loss * induced) @ share)[:, np.newaxis]
        fastest = np.maximum(np.maximum(tip_speed, np.abs(through)), TINY)
        advance = np.minimum(flow.edge / fastest, HIGHEST_ADVANCE)
        return rotor.skew.slopes(wake_skew(flow.edge, through), advance)

    return slopes


def _first_guess(rotor: Rotor, flow: Flow) -> Start:
    """Induced and swirl velocity of the annuli, the blades' changing speed round the turn left out."""
    geometry = rotor.geometry
    blade_speed = flow.rotation_speed * geometry.r
    stream, beta = np.hypot(blade_speed, flow.axial), np.arctan2(flow.axial, blade_speed)
    reynolds, mach = stream * (flow.density / flow.viscosity * geometry.chord), stream / flow.sound
    edge = flow.edge / np.maximum(stream, TINY)
    elements = blade_elements(
        geometry, rotor.blades, beta, rotor.polar, reynolds, mach, rotor.losses, edge if edge.any() else None
    )
    delta, _ = turning(elements)
    relative = stream * balance(elements, delta).slowing.reshape(stream.shape)
    phi = beta + delta.reshape(stream.shape)
    return relative * np.sin(phi) - flow.axial, blade_speed - relative * np.cos(phi)
