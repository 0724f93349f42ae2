"""Worst case: every input that is assumed or uncertain at its pessimistic end, all at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.sheet.build import Assumption, Build
from bladehold.study.assess import assess
from bladehold.study.joint_stage import joint_stage
from bladehold.study.scatter import Variable, variables_of
from bladehold.tables import Scatter

FloatArray = NDArray[np.float64]

END = 1.645
"""Standard deviations at which the ends are taken: 5 and 95 in 100."""
MOVES = 1e-4  # of ln(1 + margin): an input that does less has no pessimistic end


@dataclass(frozen=True)
class WorstPart:
    """One part: smallest margin of strength in flight as the sheet stands, and with all inputs at their
    worst; mode - of the latter; ends - the inputs that move it, most first, each "high" or "low", and by how
    much alone the margin falls.
    """

    part: str
    margin: float
    worst: float
    mode: str
    ends: tuple[tuple[str, str, float], ...]


@dataclass(frozen=True)
class Worst:
    """Parts, the weakest at its worst first; assumptions - of the sheet, which stand at their pessimistic
    ends from the start; held - variables that scatter but whose strengths stay at the table's least.
    """

    build: Build
    parts: tuple[WorstPart, ...]
    assumptions: tuple[Assumption, ...]

    @property
    def margin(self) -> float:
        """The smallest margin with all inputs at their worst."""
        return min(part.worst for part in self.parts)

    @property
    def holds(self) -> bool:
        """Whether every part holds even so."""
        return self.margin >= 0.0


def worst_case(build: Build, own: Sequence[Scatter] = ()) -> Worst:
    """Return the margins with every uncertain input at its pessimistic end, the policy's factors standing.

    The end of each input is the one that lowers the check in question, found by moving it alone to both ends;
    then all are moved at once. Strengths stay the least ones of the tables, which are ends already, and
    inputs that the sheet leaves out were filled in pessimistically when it was read. Arguments: build; own -
    rows in place of those of the scatter table. Returns Worst. Errors: ValueError from the rotor when a
    thrust cannot be reached.
    """
    variables = variables_of(build, own)
    moved = tuple(one for one in variables if not one.name.startswith("strength of"))
    stage = joint_stage(build, moved, factors=True)
    count = len(moved)
    one = END * np.eye(count)
    around = stage.log_margins(np.concatenate([np.zeros((1, count)), one, -one]))
    high, low = around[1 : count + 1] - around[0], around[count + 1 :] - around[0]
    ends = np.where(high <= low, END, -END) * (np.minimum(high, low) < -MOVES)
    at_worst = np.array([stage.log_margins(ends[:, at][np.newaxis])[0, at] for at in range(len(stage.rules))])
    as_is = {check.key: check.flight_margin for check in assess(build).checks}
    parts = []
    for part in dict.fromkeys(rule.part for rule in stage.rules):
        columns = [at for at, rule in enumerate(stage.rules) if rule.part == part]
        governs = columns[int(at_worst[columns].argmin())]
        parts.append(
            WorstPart(
                part=part,
                margin=min(as_is[stage.rules[at].key] for at in columns),
                worst=float(np.expm1(at_worst[governs])),
                mode=stage.rules[governs].mode,
                ends=_ends(moved, ends[:, governs], np.minimum(high, low)[:, governs], around[0, governs]),
            )
        )
    return Worst(build, tuple(sorted(parts, key=lambda found: found.worst)), build.assumptions)


def _ends(
    variables: Sequence[Variable], ends: FloatArray, falls: FloatArray, middle: float
) -> tuple[tuple[str, str, float], ...]:
    """Each input that moves a check: its end, and the fall of the margin by it alone."""
    order = np.argsort(falls, kind="stable")
    return tuple(
        (
            variables[at].name,
            "high" if ends[at] > 0.0 else "low",
            float(np.exp(middle) - np.exp(middle + falls[at])),
        )
        for at in order
        if ends[at] != 0.0
    )
