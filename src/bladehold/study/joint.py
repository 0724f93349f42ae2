"""All that is told about the retention joint of a build: clevis under load, tightness, life, lost members."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.joint.clevis import first_gap_moment
from bladehold.joint.contact import ClevisState, solve_clevis
from bladehold.sheet.build import Build
from bladehold.study.assess import Assessment, assess
from bladehold.study.blade import BladeAnswer, blade_answer
from bladehold.study.checks import FATIGUE
from bladehold.study.clamp import Stack, pivot_stack
from bladehold.study.clevis import AS_BUILT, WITHOUT_PRELOAD, clevis_of, joint_stiffness
from bladehold.study.facts import Fact, facts_of
from bladehold.study.failsafe import Loss, losses
from bladehold.study.life import MemberLife, lives_of
from bladehold.study.record import Check
from bladehold.study.situation import Situation
from bladehold.study.tightness import Tightness, tightness

FloatArray = NDArray[np.float64]

STEPS = 61  # of the flap moment along the curves
POINTS = ("no flap moment", "hover", "greatest of flight", "at rupture")
CLOSED = 1e-6
"""Opening that still counts as shut, m: own choice, well below the roughness of the faces."""


@dataclass(frozen=True, eq=False)
class ClevisPoints:
    """The clevis at the flap moments (N*m) and lifts (N) of POINTS, loose and tight as in the curve, [4]."""

    moment: FloatArray
    lift: FloatArray
    loose: ClevisState
    tight: ClevisState


@dataclass(frozen=True, eq=False)
class ClevisCurve:
    """The clevis from no flap moment to its greatest at rupture, with the lift in proportion.

    moment - N*m, [M]; loose, tight - states without preload and with the greatest, [M]; points - the same at
    the places of POINTS, [4]; preload_least, preload_greatest - of the pivot screw, N; first_gap,
    first_gap_least - flap moment at which rigid plates under the greatest and the least preload would first
    gape, N*m; limit - the greatest flap moment of flight, N*m, in the condition `hardest`.
    """

    moment: FloatArray
    loose: ClevisState
    tight: ClevisState
    points: ClevisPoints
    preload_least: float
    preload_greatest: float
    first_gap: float
    first_gap_least: float
    limit: float
    hardest: str

    @property
    def opens_at(self) -> float | None:
        """Flap moment (N*m) from which a face gapes under the greatest preload; None where none does."""
        gapes = np.maximum(self.tight.upper_opening, self.tight.lower_opening) > CLOSED
        return float(self.moment[gapes.argmax()]) if gapes.any() else None


@dataclass(frozen=True, eq=False)
class JointAnswer:
    """assessment - all checks; stack - what the pivot screw clamps; stiffness - of the clevis against
    flapping, N*m/rad; curve - screw, plates and faces over the flap moment; tightness - None where the blades
    do not fold or nothing clamps; lives - of the parts, shortest first, those not checked last; losses - one
    member at a time; facts.
    """

    assessment: Assessment
    stack: Stack
    stiffness: float
    curve: ClevisCurve
    tightness: Tightness | None
    lives: tuple[MemberLife, ...]
    losses: tuple[Loss, ...]
    facts: tuple[Fact, ...]

    @property
    def build(self) -> Build:
        """The build it is about."""
        return self.assessment.build

    @property
    def service_hours(self) -> float:
        """The service life that is wanted, hours of flight."""
        return self.build.flying.service_life / 3600.0

    @property
    def shortest(self) -> MemberLife | None:
        """The shortest life among the parts that are checked."""
        return next((life for life in self.lives if life.hours is not None), None)

    @property
    def short_lives(self) -> tuple[MemberLife, ...]:
        """Lives that end before the service life, shortest first."""
        return tuple(one for one in self.lives if one.hours is not None and one.hours < self.service_hours)

    @property
    def weakest(self) -> Check:
        """The weakest check of strength or setting; fatigue is told by the lives."""
        return next(one for one in self.assessment.checks if one.governs and one.level != FATIGUE)

    @property
    def can_be_set(self) -> bool | None:
        """Whether a torque or a pull serves as built; None where no tightness is asked for."""
        found = self.tightness
        return None if found is None else found.governing is not None and found.as_built.width >= 1.0

    @property
    def set_right(self) -> bool | None:
        """Whether the friction measured, else the torque of the sheet, serves; None without either."""
        found, torque = self.tightness, self.build.pivot.tightening.torque
        if found is None or found.governing is None:
            return None
        if found.measured is not None:
            return found.measured_serves
        now = found.as_built
        return now.torque_least <= torque <= now.torque_greatest if torque > 0.0 else None

    @property
    def holds(self) -> bool:
        """Whether strength, all lives that are checked and the tightness, where one is asked for, serve."""
        right = self.can_be_set is not False and self.set_right is not False
        return self.assessment.holds and not self.short_lives and right


def joint_answer(build: Build, blade: BladeAnswer | None = None) -> JointAnswer:
    """Return what the retention joint of a build does.

    Arguments: build; blade - what its moving blade does, where that is known already.
    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError from the blade.
    """
    assessment = assess(build)
    now = Situation(build, assessment.loads)
    return JointAnswer(
        assessment=assessment,
        stack=pivot_stack(build),
        stiffness=joint_stiffness(build),
        curve=_curve(now),
        tightness=tightness(build, (blade or blade_answer(build)).folding),
        lives=tuple(sorted(lives_of(now), key=_shortest)),
        losses=losses(now),
        facts=facts_of(now),
    )


def _shortest(life: MemberLife) -> tuple[bool, float]:
    """By which the lives are put in order: those not checked last."""
    return life.hours is None, life.hours or 0.0


def _curve(now: Situation) -> ClevisCurve:
    """Lift goes with the flap moment as in the condition with the greatest."""
    root = now.loads.root
    place = int(np.argmax(root.flap_peak))
    limit, lift = float(root.flap_peak[place]), float(root.lift[place])
    moment = np.linspace(0.0, now.policy.ultimate * limit, STEPS)
    lifts = moment * (lift / limit if limit > 0.0 else 0.0)
    clamps, a = now.pivot_preload, now.build.hub.half_contact
    least, greatest = float(clamps.minimum), float(clamps.maximum)

    def states(flap: FloatArray, up: FloatArray) -> tuple[ClevisState, ClevisState]:
        tight = clevis_of(now.build, AS_BUILT, now.tie_preload)
        return (
            solve_clevis(clevis_of(now.build, WITHOUT_PRELOAD), flap, up, 0.0),
            solve_clevis(tight, flap, up, greatest),
        )

    hovers = [at for at, name in enumerate(now.loads.names) if name.startswith("hover")]
    hover = max(hovers, key=lambda at: float(root.flap_peak[at]))
    at_points = (
        np.array([0.0, float(root.flap_peak[hover]), limit, moment[-1]]),
        np.array([0.0, float(root.lift[hover]), lift, lifts[-1]]),
    )
    loose, tight = states(moment, lifts)
    return ClevisCurve(
        moment=moment,
        loose=loose,
        tight=tight,
        points=ClevisPoints(*at_points, *states(*at_points)),
        preload_least=least,
        preload_greatest=greatest,
        first_gap=float(first_gap_moment(greatest, a, lift)),
        first_gap_least=float(first_gap_moment(least, a, lift)),
        limit=limit,
        hardest=now.loads.names[place],
    )
