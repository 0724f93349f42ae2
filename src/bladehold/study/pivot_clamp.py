"""The clamp of a folding pivot as numbers: what the screw presses on, how stiff that is, how it grows."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint import friction, tightening
from bladehold.joint.preload import SHORT_TERM_RELAXATION
from bladehold.joint.setting import Spread
from bladehold.joint.tightness import Clamp
from bladehold.sheet.build import Build, Tightening
from bladehold.study.blade_folding import FACE_FRICTION
from bladehold.study.clamp import Stack, creep_share, pivot_stack
from bladehold.study.clevis import faces_clamp
from bladehold.study.situation import preload_limits, spread_of
from bladehold.tables import lubrication

FloatArray = NDArray[np.float64]

_MOST, _TRIED = 1e5, 60  # N that bending may eat at the most, and how many preloads are tried
THREAD_FRICTION = 0.12
"""For the screw's strength under the wrench, as in the check of its tightening."""


@dataclass(frozen=True)
class PivotClamp:
    """One construction of the pivot's clamp.

    build - with it; stack - what is clamped; clamp, spread - as `bladehold.joint.tightness` takes them;
    creep - share of the preload lost between settings; strength - greatest preload that the screw bears under
    the wrench, N.
    """

    build: Build
    stack: Stack
    clamp: Clamp
    spread: Spread
    creep: float
    strength: float

    def faces(self, preload: ArrayLike) -> FloatArray:
        """Force (N) on the faces under a preload (N): what bends the plates over their gap is taken off."""
        ties = self.build.ties
        tie = 0.0 if ties.screw is None else float(preload_limits(ties.screw.tightening, ties.screw).maximum)
        return np.asarray(faces_clamp(self.build, preload, tie))

    def eaten(self, wanted: float) -> float:
        """Preload (N) that bends the plates before the faces feel the force wanted (N)."""
        tried = wanted + np.concatenate(([0.0], np.geomspace(1.0, _MOST, _TRIED)))
        for _ in range(2):
            there = self.faces(tried)
            enough = np.flatnonzero(there >= wanted)
            if not enough.size:
                return _MOST
            above = tried[enough[0]]
            tried = np.linspace(tried[max(enough[0] - 1, 0)], above, _TRIED)
        return float(above - wanted)

    @property
    def gain(self) -> float:
        """Preload for each kelvin of warming, N/K."""
        return self.stack.gain


def pivot_clamp(build: Build, settings: int = 1) -> PivotClamp | None:
    """Return the clamp of a build's pivot; None where no nut or thread can clamp it.

    Arguments: build; settings - how often a year the nut is set anew.
    Friction of metal faces is taken as that of laminate, from the most that may be counted on
    to FACE_FRICTION.
    """
    hub, screw = build.hub, build.pivot
    if screw.nut in {"circlip", "none"}:
        return None
    stack = pivot_stack(build)
    size = screw.thread
    creep = creep_share(stack, settings)
    return PivotClamp(
        build=build,
        stack=stack,
        clamp=Clamp(
            radius=float(
                friction.effective_radius_uniform_wear(hub.lug_hole / 2.0, build.hub.contact_diameter / 2.0)
            ),
            friction_low=build.policy.grip_friction,
            friction_high=FACE_FRICTION,
            gain=stack.gain,
        ),
        spread=replace(
            spread_of(_tightened(build.pivot.tightening), screw),
            relaxation=1.0 - (1.0 - SHORT_TERM_RELAXATION) * (1.0 - creep),
        ),
        creep=creep,
        strength=float(
            tightening.assembly_preload(
                screw.strength.yield_strength,
                size.profile.pitch_diameter,
                size.profile.root_diameter,
                size.pitch,
                THREAD_FRICTION,
            )
        ),
    )


def _tightened(given: Tightening) -> Tightening:
    """The tightening as given; without a torque, the scatter of one whose lubrication is not known."""
    if given.torque > 0.0:
        return given
    wet, dry = lubrication("lubricated"), lubrication("dry")
    return replace(
        given,
        nut_factor_low=((wet.nut_factor_low or 0.0) + (wet.nut_factor_high or 0.0)) / 2.0,
        nut_factor_high=dry.nut_factor_high or 0.0,
        scatter_up=wet.preload_scatter,
        scatter_down=dry.preload_scatter,
    )
