"""All that is told about the retention joint of a build: clevis under load, tightness, life, lost members."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.joint.clevis import first_gap_moment
from bladehold.joint.contact import ClevisState, solve_clevis
from bladehold.sheet.build import Build
from bladehold.study.assess import Assessment, assess
from bladehold.study.blade import blade_answer
from bladehold.study.clamp import Stack, pivot_stack
from bladehold.study.clevis import AS_BUILT, WITHOUT_PRELOAD, clevis_of, half_contact, joint_stiffness
from bladehold.study.facts import Fact, facts_of
from bladehold.study.failsafe import Loss, losses
from bladehold.study.life import MemberLife, lives_of
from bladehold.study.situation import Situation
from bladehold.study.tightness import Tightness, tightness

FloatArray = NDArray[np.float64]

STEPS = 61  # of the flap moment along the curves


@dataclass(frozen=True, eq=False)
class ClevisCurve:
    """The clevis from no flap moment to its greatest at rupture, with the lift in proportion.

    moment - N*m, [M]; loose, tight - states without preload and with the greatest, [M]; first_gap - flap
    moment at which rigid plates under the greatest preload would first gape, N*m; limit - the greatest flap
    moment of flight, N*m.
    """

    moment: FloatArray
    loose: ClevisState
    tight: ClevisState
    first_gap: float
    limit: float


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


def joint_answer(build: Build) -> JointAnswer:
    """Return what the retention joint of a build does.

    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError from the blade.
    """
    assessment = assess(build)
    now = Situation(build, assessment.loads)
    return JointAnswer(
        assessment=assessment,
        stack=pivot_stack(build),
        stiffness=joint_stiffness(build),
        curve=_curve(now),
        tightness=tightness(build, blade_answer(build).folding),
        lives=tuple(sorted(lives_of(now), key=_shortest)),
        losses=losses(now),
        facts=facts_of(now),
    )


def _shortest(life: MemberLife) -> float:
    return np.inf if life.hours is None else life.hours


def _curve(now: Situation) -> ClevisCurve:
    """Lift goes with the flap moment as in the condition with the greatest."""
    root = now.loads.root
    place = int(np.argmax(root.flap_peak))
    limit, lift = float(root.flap_peak[place]), float(root.lift[place])
    moment = np.linspace(0.0, now.policy.ultimate * limit, STEPS)
    lifts = moment * (lift / limit if limit > 0.0 else 0.0)
    clamp = float(now.pivot_preload.maximum)
    return ClevisCurve(
        moment=moment,
        loose=solve_clevis(clevis_of(now.build, WITHOUT_PRELOAD), moment, lifts, 0.0),
        tight=solve_clevis(clevis_of(now.build, AS_BUILT, now.tie_preload), moment, lifts, clamp),
        first_gap=float(first_gap_moment(clamp, half_contact(now.build), lift)),
        limit=limit,
    )
