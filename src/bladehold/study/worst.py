"""Worst case: every input that is assumed or uncertain at its pessimistic end, all at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.sheet.build import Assumption, Build
from bladehold.study.assess import assess
from bladehold.study.joint_stage import joint_stage
from bladehold.study.scatter import BAND, Variable, variables_of
from bladehold.tables import Scatter

FloatArray = NDArray[np.float64]

ENDLESS = 4.0
"""Deviations that stand for the very end of a quantity that has one: 3 in 100,000 of its width off."""
MOVES = 1e-4  # of ln(1 + margin): an input that does less has no pessimistic end


@dataclass(frozen=True)
class WorstPart:
    """One part: smallest margin of strength in flight as the sheet stands, and with all inputs at their
    worst; mode - of the latter; middle - margin of that check with every input in its middle; ends - the
    inputs that move it, most first, each "high" or "low", and by how much alone the margin falls from there.
    """

    part: str
    margin: float
    worst: float
    mode: str
    middle: float
    ends: tuple[tuple[str, str, float], ...]


@dataclass(frozen=True)
class Worst:
    """Parts, the weakest at its worst first; assumptions - of the sheet, which stay as they were filled in;
    left_out - parts that nothing that scatters brings within reach; sheet, sheet_margin - the check that
    governs the sheet, centrifugal proof and tightening among them, which are not moved.
    """

    build: Build
    parts: tuple[WorstPart, ...]
    assumptions: tuple[Assumption, ...]
    left_out: tuple[str, ...]
    sheet: str
    sheet_margin: float

    @property
    def margin(self) -> float:
        """The smallest margin with all inputs at their worst."""
        return min(part.worst for part in self.parts)

    @property
    def holds(self) -> bool:
        """Whether every part holds even so, and the sheet as it stands."""
        return self.margin >= 0.0 and self.sheet_margin >= 0.0


def worst_case(build: Build, own: Sequence[Scatter] = ()) -> Worst:
    """Return the margins with every uncertain input at its pessimistic end, the policy's factors standing.

    The end of each input is the one that lowers the check in question, found by moving it alone to both ends,
    BAND deviations off or, of a uniform one, where it ends; then all are moved at once. Strengths stay the
    least ones of the tables, which are ends already; what the sheet leaves out stays as it was filled in. No
    part is taken as better than the sheet takes it. Arguments: build; own - rows in place of those of the
    scatter table. Returns Worst. Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    variables = variables_of(build, own)
    moved = tuple(one for one in variables if not one.name.startswith("strength of"))
    stage = joint_stage(build, moved, factors=True)
    count = len(moved)
    one = np.diag([ENDLESS if each.marginal.kind == "uniform" else BAND for each in moved])
    around = stage.log_margins(np.concatenate([np.zeros((1, count)), one, -one]))
    high, low = around[1 : count + 1] - around[0], around[count + 1 :] - around[0]
    moves = np.minimum(high, low) < -MOVES
    ends = np.where(high <= low, 1.0, -1.0) * moves * np.diag(one)[:, np.newaxis]
    at_worst = np.array([stage.log_margins(ends[:, at][np.newaxis])[0, at] for at in range(len(stage.rules))])
    found = assess(build)
    as_is = {check.key: check.flight_margin for check in found.checks}
    parts = []
    for part in dict.fromkeys(rule.part for rule in stage.rules):
        columns = [at for at, rule in enumerate(stage.rules) if rule.part == part]
        margins = {at: min(float(np.expm1(at_worst[at])), as_is[stage.rules[at].key]) for at in columns}
        governs = min(columns, key=lambda at: margins[at])
        parts.append(
            WorstPart(
                part=part,
                margin=min(as_is[stage.rules[at].key] for at in columns),
                worst=margins[governs],
                mode=stage.rules[governs].mode,
                middle=float(np.expm1(around[0, governs])),
                ends=_ends(moved, ends[:, governs], np.minimum(high, low)[:, governs], around[0, governs]),
            )
        )
    kept = {part.part for part in parts}
    return Worst(
        build=build,
        parts=tuple(sorted(parts, key=lambda part: part.worst)),
        assumptions=build.assumptions,
        left_out=tuple(dict.fromkeys(rule.part for rule in stage.left_out if rule.part not in kept)),
        sheet=f"{found.governing.key}, {found.governing.condition}",
        sheet_margin=found.margin,
    )


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
