"""Forces drawn into the blade retention joint: one condition's numbers, gathered in one place."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.study.assess import Assessment
from bladehold.study.situation import Situation


@dataclass(frozen=True)
class Arrows:
    """Forces on one blade's joint in one condition: N, N*m and m, limit load.

    centrifugal - outward; lift - up; flap_moment - raises the tip; upper, lower - contact forces of the lug
    on its plates, lever - theirs about the screw axis; half_contact - half the length of that contact;
    tension - of the pivot screw with its greatest preload; preload_least, preload_greatest - of the
    pivot screw, 0 without a torque.
    """

    condition: str
    centrifugal: float
    lift: float
    flap_moment: float
    upper: float
    lower: float
    lever: float
    half_contact: float
    tension: float
    preload_least: float
    preload_greatest: float


def arrows_of(assessment: Assessment, condition: str | None = None) -> Arrows:
    """Return the forces of a condition, by default of the one that governs.

    Arguments: assessment; condition - a name out of its loads. Returns Arrows. Errors: ValueError on a
    condition that the assessment does not have.
    """
    loads = assessment.loads
    name = assessment.governing.condition if condition is None else condition
    if name not in loads.names:
        raise ValueError(f"condition must be one of {', '.join(loads.names)}, got {name!r}")
    place = loads.names.index(name)
    now = Situation(assessment.build, loads)

    def here(value: ArrayLike) -> float:
        return float(np.broadcast_to(np.asarray(value, dtype=float), (len(loads.names),))[place])

    state, clamp = now.limit_state, now.pivot_preload
    return Arrows(
        condition=name,
        centrifugal=here(loads.root.centrifugal),
        lift=here(loads.root.lift),
        flap_moment=here(loads.root.flap_peak),
        upper=here(state.upper_force),
        lower=here(state.lower_force),
        lever=here(np.maximum(np.abs(state.upper_centre), np.abs(state.lower_centre))),
        half_contact=assessment.build.hub.half_contact,
        tension=here(state.screw_tension),
        preload_least=float(np.max(clamp.minimum)),
        preload_greatest=float(np.max(clamp.maximum)),
    )
