"""All that is told about the moving blade of a build: loads at its pivot, frequencies, cases, folding."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bladehold.blade import BladeModes, LoadCase, blade_modes
from bladehold.sheet.build import Build
from bladehold.study.blade_cases import blade_cases, case_breaches
from bladehold.study.blade_folding import Folding, folding
from bladehold.study.blade_motion import BladeMotion, blade_motion


@dataclass(frozen=True, eq=False)
class BladeAnswer:
    """motion - loads round the turn and frequencies; folding - None where the blade does not fold; cases -
    load cases, the conditions first, then the events; breaches - ranges left.
    """

    motion: BladeMotion
    folding: Folding | None
    cases: tuple[LoadCase, ...]
    breaches: tuple[str, ...]

    @cached_property
    def standing_and_hovering(self) -> BladeModes:
        """Modes at rest and at the speed of hover, [2, N]."""
        return blade_modes(self.motion.model.matrices, np.array([0.0, self.motion.speed[self.motion.hover]]))

    @property
    def hardest(self) -> int:
        """Place of the condition with the flap moment furthest from zero."""
        return int(np.abs(self.motion.elastic.flap_moment).max(axis=-1).argmax())

    @property
    def events(self) -> tuple[LoadCase, ...]:
        """The load cases that are no condition."""
        return self.cases[len(self.motion.names) :]


def blade_answer(build: Build) -> BladeAnswer:
    """Return what the moving blade of a build does.

    Errors: ValueError from the rotor when a thrust cannot be reached; BalanceError when the blade cannot have
    both its mass and its balance point.
    """
    motion = blade_motion(build)
    folds = folding(build, motion)
    found = (*motion.breaches, *(folds.breaches if folds else ()), *case_breaches(build, motion))
    return BladeAnswer(motion, folds, blade_cases(build, motion, folds), tuple(dict.fromkeys(found)))
