"""Load cases of the moving blade: what recurs every turn, and what happens now and then in a flight."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import (
    BODY_RATE_RANGE,
    CLAMPED,
    GUST_ANGLE_RANGE,
    FoldingBlade,
    LoadCase,
    RootComponents,
    beam_matrices,
    blade_modes,
    gust_case,
    gyroscopic_case,
    lag_swing,
    root_stiffness,
    speed_ramp,
    start_stop_case,
    stop_case,
    throttle_case,
)
from bladehold.sheet.build import Build
from bladehold.study.blade_folding import Folding, rigid_blade
from bladehold.study.blade_motion import BladeMotion

FloatArray = NDArray[np.float64]

SETTLING = 0.5
"""Time after a braking that is looked at, s."""


def blade_cases(build: Build, motion: BladeMotion, folds: Folding | None) -> tuple[LoadCase, ...]:
    """Return every load case of the blade: its conditions turn by turn, then the events of a flight.

    Conditions are those of the elastic blade; events are those of a rigid one, added to its steady loads in
    hover. Arguments: build; motion - of the blade; folds - None where it does not fold.
    """
    place = motion.hover
    hover = float(motion.speed[place])
    steady = motion.components.each(lambda values: values[place].mean(axis=-1))
    blade = rigid_blade(motion.model) if folds is None else folds.blade.part(1)
    slope = hover / build.flying.throttle_step
    events = build.flying.events
    greatest = motion.components.each(_furthest)
    cases = [
        *_turning(build, motion),
        gyroscopic_case(blade, steady, hover, build.flying.pitch_rate, 0.0, build.flying.flight_time),
        gust_case(steady, _gust_slope(motion, place), build.flying.gust, events.gusts),
        throttle_case(blade, steady, hover, slope, slope, events.throttle_steps, build.propeller.folding),
        start_stop_case(greatest),
    ]
    if folds is not None:
        cases.append(_braking(build, motion, blade, steady, slope, folds))
    return tuple(cases)


def case_breaches(build: Build, motion: BladeMotion) -> tuple[str, ...]:
    """Return the ranges that the events leave."""
    hover = float(motion.speed[motion.hover])
    found = (
        BODY_RATE_RANGE.breach(build.flying.pitch_rate / hover),
        GUST_ANGLE_RANGE.breach(build.flying.gust / (0.75 * hover * build.propeller.diameter / 2)),
    )
    return tuple(text for text in found if text)


def _turning(build: Build, motion: BladeMotion) -> list[LoadCase]:
    """One case for every condition, its block one turn."""
    turns = build.flying.flight_time * motion.speed / (2.0 * np.pi)
    basis = "elastic blade in the air loads of its condition, parts up to six times per turn"
    return [
        LoadCase(
            name,
            motion.components.each(lambda values, at=at: values[at]),
            np.asarray(motion.conditions.time_share[at] * turns[at]),
            basis,
        )
        for at, name in enumerate(motion.names)
    ]


def _gust_slope(motion: BladeMotion, place: int) -> RootComponents:
    """Loads per m/s of air from below, the inflow of the rotor held: lift by its slope, no relief."""
    damping = motion.air.damping
    assert damping is not None  # the motion always has it
    return RootComponents.of(
        normal_shear=damping[place] @ motion.air.weight, flap=damping[place] @ motion.arm
    )


def _braking(
    build: Build,
    motion: BladeMotion,
    blade: FoldingBlade,
    steady: RootComponents,
    slope: float,
    folds: Folding,
) -> LoadCase:
    """The blow on the leading stop when the rotor is braked from its greatest speed to idle.

    The stop is hard and the blade its only spring: that of its first frequency in the plane of turning.
    """
    built, fastest, idle = build.propeller.structure, float(motion.speed.max()), build.flying.idle
    clamped = blade_modes(beam_matrices(motion.model.matrices.beam, CLAMPED), 0.0)
    lag = float(clamped.frequency[int(np.argmax(clamped.flap_energy < 0.5))])
    swing = lag_swing(
        blade,
        speed_ramp(fastest, idle, (fastest - idle) / slope, SETTLING),
        np.clip(folds.hover_band.without_friction[1], -built.leading_stop, built.trailing_stop),
        leading_stop=-built.leading_stop,
        trailing_stop=built.trailing_stop,
    )
    stiffness = root_stiffness(blade.inertia, lag)
    return stop_case(blade, swing, stiffness, steady, build.flying.events.throttle_steps)


def _furthest(values: FloatArray) -> FloatArray:
    """The value furthest from zero over conditions and turn."""
    flat = values.ravel()
    return np.asarray(flat[np.abs(flat).argmax()])
