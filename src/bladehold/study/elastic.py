"""The elastic blade in the air loads of flight conditions: what arrives at its pivot round the turn."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import (
    SLOPE_RANGE,
    RootHistory,
    RootLoads,
    SpanLoads,
    elastic_root_loads,
    flap_damping,
)
from bladehold.rotor import BladeGeometry, Polar, TiltedSolution, second_cycle, span_weights
from bladehold.sheet.build import Build
from bladehold.study.air_loads import Solved
from bladehold.study.blade_model import BladeModel
from bladehold.study.conditions import Conditions
from bladehold.validity import Range

FloatArray = NDArray[np.float64]

STEPS = 24  # azimuths; parts up to six times per turn need more than twelve
SLOPE_STEP = np.radians(1.0)  # over which the slope of lift is taken

LEFT_OUT_RANGE = Range(
    "parts of the flap moment beyond six times per turn, over the mean",
    0.0,
    0.1,
    "",
    "they are left out of the elastic blade's response",
    "own limit",
)


def elastic_history(
    build: Build, model: BladeModel, conditions: Conditions, air: SpanLoads, speed: FloatArray
) -> RootHistory:
    """Return the loads at the pivot round the turn, [..., C, A].

    The rotor is solved for a rigid blade; bending answers to its air loads, and flapping is damped by the
    air. In conditions with a pitch rate the aircraft turns about the line across the wind, up or down,
    whichever makes the flap moment swing more.
    Arguments: build; model - of its blade; conditions [..., C]; air - of them; speed - rad/s, [..., C].
    """

    def response(rate: FloatArray) -> RootHistory:
        return elastic_root_loads(
            model.matrices,
            air,
            speed,
            damping_ratio=build.propeller.structure.damping,
            upward_angle=build.propeller.precone,
            rate_across=rate,
        )

    up = response(conditions.pitch_rate)
    if not np.any(conditions.pitch_rate):
        return up
    down = response(-conditions.pitch_rate)
    more = _swing(down.flap_moment) > _swing(up.flap_moment)
    fields = {}
    for name, value in vars(up).items():
        which = more if value.ndim == more.ndim else more[..., np.newaxis]
        fields[name] = np.where(which, getattr(down, name), value)
    return RootHistory(**fields)


def history_breaches(history: RootHistory) -> tuple[str, ...]:
    """Return the ranges that a response leaves."""
    found = (SLOPE_RANGE.breach(history.slope), LEFT_OUT_RANGE.breach(history.left_out))
    return tuple(text for text in found if text)


def span_loads(
    geometry: BladeGeometry, polar: Polar, conditions: Conditions, solved: list[Solved]
) -> SpanLoads:
    """Return air loads on one blade round the turn, [..., C, A, S], and the damping of flapping, [..., C, S].

    Arguments: geometry, polar - of the blade; conditions [..., C]; solved - the rotor in them, at STEPS
    azimuths where wind blows.
    """
    shape, stations = conditions.thrust.shape, geometry.r.size
    normal, tangential = (np.empty((*shape, STEPS, stations)) for _ in range(2))
    damping = np.empty((*shape, stations))
    for columns, solution in solved:
        turning = isinstance(solution, TiltedSolution)
        for whole, load in ((normal, solution.normal_load), (tangential, solution.tangential_load)):
            whole[..., columns, :, :] = load if turning else load[..., np.newaxis, :]
        reynolds, mach, alpha = (
            getattr(solution, name).mean(axis=-2) if turning else getattr(solution, name)
            for name in ("reynolds", "mach", "alpha")
        )
        slope = _lift_slope(polar, reynolds, mach, alpha)
        density, speed = solution.density[..., np.newaxis], solution.rotation_speed[..., np.newaxis]
        damping[..., columns, :] = flap_damping(slope, geometry.chord, density, speed, geometry.r)
    return SpanLoads(geometry.r, span_weights(geometry), normal, tangential, damping=damping)


def elastic_root(
    history: RootHistory, rigid: RootLoads, own_share: FloatArray, *, folding: bool
) -> RootLoads:
    """Return what the checks need of the elastic blade; the rigid one where the user states the swing.

    Arguments: history [..., C, A]; rigid - loads of the rigid blade, [..., C]; own_share - of the user, not a
    number where there is none, [C]; folding - free to turn about the pivot.
    """
    mean, cyclic = history.flap_moment.mean(axis=-1), _swing(history.flap_moment)
    drag = np.abs(history.lag_shear).max(axis=-1)
    lag = np.abs(history.lag_moment).max(axis=-1)
    found = {
        "centrifugal": history.centrifugal,
        "drag": drag,
        "in_plane": np.hypot(history.centrifugal, drag),
        "lift": np.abs(history.flap_shear).max(axis=-1),
        "lift_swing": _swing(history.flap_shear),
        "flap_mean": mean,
        "flap_cyclic": cyclic,
        "flap_peak": np.abs(mean) + cyclic,
        "flap_relief": rigid.flap_mean + rigid.flap_relief - mean,
        "lag_moment": np.zeros_like(lag) if folding else lag,
        "lag_angle": rigid.lag_angle,
        "flap_second": second_cycle(history.flap_moment),
    }
    stated = np.isfinite(own_share)
    return RootLoads(**{name: np.where(stated, getattr(rigid, name), value) for name, value in found.items()})


def _swing(series: FloatArray) -> FloatArray:
    """Greatest departure from the mean over the turn."""
    return np.asarray(np.abs(series - series.mean(axis=-1, keepdims=True)).max(axis=-1))


def _lift_slope(polar: Polar, reynolds: FloatArray, mach: FloatArray, alpha: FloatArray) -> FloatArray:
    """Slope of lift, 1/rad, at a state of the sections; none where lift falls with the angle."""
    section = polar.at(reynolds, mach)
    rise = section(alpha + SLOPE_STEP)[0] - section(alpha - SLOPE_STEP)[0]
    return np.asarray(np.maximum(0.5 * rise / SLOPE_STEP, 0.0))
