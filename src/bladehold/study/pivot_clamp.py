"""The clamp of a folding pivot as numbers: what the screw presses on, how stiff that is, how it grows."""

from __future__ import annotations

from dataclasses import dataclass, replace

from bladehold.joint import friction, relaxation, tightening
from bladehold.joint.preload import SHORT_TERM_RELAXATION
from bladehold.joint.setting import Spread
from bladehold.joint.tightness import Clamp
from bladehold.sheet.build import Build, Tightening
from bladehold.study.blade_folding import FACE_FRICTION
from bladehold.study.clamp import Stack, contact_diameter, pivot_stack
from bladehold.study.situation import spread_of
from bladehold.tables import lubrication
from bladehold.tables import relaxation as creep_of

THREAD_FRICTION = 0.12
"""For the screw's strength under the wrench, as in the check of its tightening."""
WRENCH = 0.06
"""Tolerance of a small torque wrench (ISO 6789, below 10 N m; from memory)."""
BETWEEN_SETTINGS = 52.0 * relaxation.WEEK
"""Time that a pivot is left alone where it is set once a year, s: own choice."""
CREEPING = {"laminate": "carbon laminate, 0.5 % moisture", "plastic": "polyamide"}
"""Row of the creep table for a kind of lug; 0.5 % moisture is usual in outdoor air."""


@dataclass(frozen=True)
class PivotClamp:
    """One construction of the pivot's clamp.

    stack - what is clamped; clamp, spread - as `bladehold.joint.tightness` takes them; creep - share of the
    preload lost between settings; strength - greatest preload that the screw bears under the wrench, N.
    """

    stack: Stack
    clamp: Clamp
    spread: Spread
    creep: float
    strength: float

    @property
    def gain(self) -> float:
        """Preload for each kelvin of warming, N/K."""
        return self.stack.gain


def pivot_clamp(build: Build, settings: int = 1) -> PivotClamp | None:
    """Return the clamp of a build's pivot; None where no nut or thread can clamp it.

    Arguments: build; settings - how often a year the nut is set anew.
    Bending the plates onto what they clamp costs preload that is not counted. Friction of metal faces is
    taken as that of laminate, from the most that may be counted on to FACE_FRICTION.
    """
    hub, screw = build.hub, build.pivot
    if screw.nut in {"circlip", "none"}:
        return None
    stack = pivot_stack(build)
    size = screw.thread
    creep = _creep(stack.material.kind, stack.softer, settings)
    return PivotClamp(
        stack=stack,
        clamp=Clamp(
            radius=float(
                friction.effective_radius_uniform_wear(hub.lug_hole / 2.0, contact_diameter(build) / 2.0)
            ),
            friction_low=build.policy.grip_friction,
            friction_high=FACE_FRICTION,
            gain=stack.gain,
        ),
        spread=replace(
            spread_of(_tightened(build.pivot.tightening), screw),
            wrench=WRENCH,
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


def _creep(kind: str, softer: float, settings: int) -> float:
    """Share lost to creep in the first time between settings, the worst.

    Arguments: kind - of material; softer - stiffness with spring washers over that without; settings - how
    often a year.
    """
    if kind not in CREEPING:
        return 0.0
    row = creep_of(CREEPING[kind])
    coefficient = relaxation.softened_coefficient(row.coefficient, softer, 1.0)
    alone = BETWEEN_SETTINGS / settings
    return 1.0 - float(relaxation.relaxed_share(alone, coefficient, row.exponent, row.shift))


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
