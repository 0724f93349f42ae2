"""How likely a part breaks or yields in a flight, how likely the pivot is set wrongly, and what decides it.

Of a hub drawn at random, in one flight that meets every condition of the sheet. Strength alone: what wears in
use is the matter of `life`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from bladehold.chance import (
    DesignPoint,
    Estimate,
    LimitState,
    Marginal,
    Reliability,
    VarianceShares,
    counted,
    drawn,
    reliability,
    variance_shares,
)
from bladehold.sheet.build import Build
from bladehold.study.blade_folding import FACE_FRICTION, folding
from bladehold.study.blade_motion import blade_motion
from bladehold.study.checks.rule import RUPTURE
from bladehold.study.joint_stage import REACH, JointStage, TabledStage, joint_stage, tabled
from bladehold.study.pivot_clamp import PivotClamp, pivot_clamp
from bladehold.study.scatter import Variable, drawn_for, variables_of
from bladehold.study.tightness import tightness
from bladehold.tables import Scatter

FloatArray = NDArray[np.float64]

SAMPLES = 100_000
SHARE_SAMPLES = 1024  # of the shares of variance, a power of two
SUPPORTED = 1e-6
"""Least probability that assumed distributions are taken to support: own choice. Beyond it tails decide that
nobody has measured."""
DOUBT = 1.25  # the deviations are tried this many times greater and smaller
_STAGES = 6  # of the work, told to whoever waits
WIDE = 10.0  # greatest over least probability of these from which the number is called unsupported
_FACES = 60  # preloads at which the force on the faces is found
BREAKS, YIELDS = "breaks", "yields"


@dataclass(frozen=True, eq=False)
class PartChance:
    """One part: what happens to it, "breaks" or "yields"; the check that leads to it oftenest; how likely it
    is.

    drivers - the variables and their shares of the scatter at the nearest design point, greatest first.
    """

    part: str
    event: str
    mode: str
    found: Reliability
    drivers: tuple[tuple[str, float], ...]

    @property
    def beyond(self) -> bool:
        """Whether failure lies beyond the reach of what scatters: no draw fails and no design point is
        near.
        """
        return not self.found.points and self.found.estimate.failures == 0


@dataclass(frozen=True)
class SetChance:
    """The pivot's friction moment against what it must hold and may be, N*m: how likely it is outside.

    most - None where nothing bounds it from above.
    """

    least: float
    most: float | None
    loose: Estimate
    tight: Estimate


@dataclass(frozen=True, eq=False)
class Chance:
    """The answer: parts, the likeliest to break first; any_breaks, any_yields - of all parts together;
    setting - None where the blades do not fold or nothing clamps them; shares - of the variance of the least
    ln(1 + margin); doubt - any_breaks with all deviations DOUBT times smaller and greater; variables;
    samples; departure - greatest error of ln(1 + margin) by the table that stands in for the joint; left_out
    - parts and what happens to them, of which nothing that scatters brings any check within reach.
    """

    build: Build
    parts: tuple[PartChance, ...]
    any_breaks: Reliability
    any_yields: Reliability
    setting: SetChance | None
    shares: VarianceShares
    doubt: tuple[float, float]
    variables: tuple[Variable, ...]
    samples: int
    departure: float
    left_out: tuple[str, ...]

    @cached_property
    def drivers(self) -> tuple[tuple[str, float], ...]:
        """Variables and their total shares of the variance of the least margin, greatest first."""
        return _ranked(self.variables, np.maximum(self.shares.total, 0.0))

    @property
    def assumed(self) -> int:
        """How many of the distributions rest on no source that was read."""
        return sum(variable.row.provenance.mark in {"memory", "choice"} for variable in self.variables)

    @property
    def support(self) -> str:
        """What the number is worth: plainly, where the inputs do not carry it."""
        low, high = self.doubt
        rests = f"{self.assumed} of the {len(self.variables)} distributions are assumed, not measured"
        found = self.any_breaks.estimate.probability
        if found < SUPPORTED:
            most = max(SUPPORTED, high)
            return (
                f"below what these inputs support: {rests}, and their tails decide; read it as less than "
                f"about {most:.0e}, never as a count of failures"
            )
        band = f"with all scatter a quarter greater it is {high:.1e}, a fifth smaller {low:.1e}"
        if high > WIDE * max(low, 1e-300):
            return f"weakly supported: {rests}; {band}"
        return f"{rests}; {band}"


def chance(
    build: Build,
    own: Sequence[Scatter] = (),
    *,
    samples: int = SAMPLES,
    seed: int = 1,
    progress: Callable[[int, int], None] | None = None,
) -> Chance:
    """Return how likely each part fails in a flight, and what decides it.

    Failure is where load meets strength as drawn, without any factor. Arguments: build; own - rows that stand
    in for those of the scatter table; samples - drawn at random; seed; progress - told how many stages of how
    many are done. Errors: ValueError from the rotor when
    a thrust cannot be reached, and for a distribution that is none.
    """
    done = progress or (lambda stage, of: None)
    variables = variables_of(build, own)
    stage = joint_stage(build, variables, factors=False)
    done(1, _STAGES)
    table = tabled(stage)
    done(2, _STAGES)
    parts = tuple(_parts(table, samples, seed))
    done(3, _STAGES)
    breaking = _together(table, parts, BREAKS, samples, seed)
    done(4, _STAGES)
    shares = variance_shares(lambda u: table.log_margins(u).min(axis=-1), len(variables), SHARE_SAMPLES, seed)
    done(5, _STAGES)
    return Chance(
        build=build,
        parts=tuple(sorted(parts, key=_order)),
        any_breaks=breaking,
        any_yields=_together(table, parts, YIELDS, samples, seed),
        setting=setting_chance(build, variables, samples, seed),
        shares=shares,
        doubt=(
            _with_scatter(table, breaking.points, 1.0 / DOUBT, samples, seed),
            _with_scatter(table, breaking.points, DOUBT, samples, seed),
        ),
        variables=variables,
        samples=samples,
        departure=table.departure(),
        left_out=_left_out(stage),
    )


def _left_out(stage: JointStage) -> tuple[str, ...]:
    """Parts and events of which no check is kept."""
    kept = {(rule.part, _event(rule.level)) for rule in stage.rules}
    far = dict.fromkeys((rule.part, _event(rule.level)) for rule in stage.left_out)
    return tuple(f"{part}, {event}" for part, event in far if (part, event) not in kept)


def _order(part: PartChance) -> tuple[bool, float, float]:
    index = part.found.index
    return part.event != BREAKS, -part.found.estimate.probability, np.inf if index is None else index


def _event(level: str) -> str:
    return BREAKS if level == RUPTURE else YIELDS


def _parts(table: TabledStage, samples: int, seed: int) -> list[PartChance]:
    """Every part and event by itself."""
    rules, variables = table.stage.rules, table.stage.variables
    groups: dict[tuple[str, str], list[int]] = {}
    for at, rule in enumerate(rules):
        groups.setdefault((rule.part, _event(rule.level)), []).append(at)
    found = []
    for (part, event), columns in groups.items():
        one = reliability(_least(table, columns), len(variables), samples=samples, seed=seed)
        where = one.points[0].u if one.points else np.zeros(len(variables))
        mode = rules[columns[int(table.log_margins(where[np.newaxis])[0, columns].argmin())]].mode
        drivers = _ranked(variables, one.points[0].shares) if one.points else ()
        found.append(PartChance(part, event, mode, one, drivers))
    return found


def _least(table: TabledStage, columns: Sequence[int]) -> LimitState:
    """The limit state of some checks together."""

    def state(u: FloatArray) -> FloatArray:
        return np.asarray(table.log_margins(u)[:, columns].min(axis=-1))

    return state


def _ranked(variables: Sequence[Variable], shares: FloatArray) -> tuple[tuple[str, float], ...]:
    order = np.argsort(-shares, kind="stable")
    return tuple((variables[at].name, float(shares[at])) for at in order)


def _together(
    table: TabledStage, parts: Sequence[PartChance], event: str, samples: int, seed: int
) -> Reliability:
    """That any part meets an event: the points of all of them serve."""
    columns = [at for at, rule in enumerate(table.stage.rules) if _event(rule.level) == event]
    if not columns:
        return Reliability(counted(0, samples), (), None)
    centres = [point for part in parts if part.event == event for point in _leading(part.found.points)]
    count = len(table.stage.variables)
    return reliability(_least(table, columns), count, samples=samples, seed=seed, centres=centres)


def _leading(points: Sequence[DesignPoint]) -> Sequence[DesignPoint]:
    return points[:3]


def _with_scatter(
    table: TabledStage, points: Sequence[DesignPoint], times: float, samples: int, seed: int
) -> float:
    """Probability that any part breaks with all deviations a number of times greater."""
    scaled = tuple(
        replace(one, marginal=Marginal(one.marginal.kind, one.marginal.mean, times * one.marginal.deviation))
        for one in table.stage.variables
    )
    stage: JointStage = replace(table.stage, variables=scaled)
    other = replace(table, stage=stage)
    columns = [at for at, rule in enumerate(stage.rules) if _event(rule.level) == BREAKS]
    # What lay at u lies at u / times where everything scatters more.
    centres = [replace(point, u=point.u / times) for point in points]
    found = reliability(_least(other, columns), len(scaled), samples=samples, seed=seed, centres=centres)
    return found.estimate.probability


def setting_chance(build: Build, variables: Sequence[Variable], samples: int, seed: int) -> SetChance | None:
    """Return how likely the friction moment of the pivot lies outside its window in a flight.

    M = 2 mu R F, F the force on the faces. Arguments: build; variables; samples; seed. None where the blades
    do not fold, nothing clamps them or no torque is given. Source: `study.tightness`, its bounds as they are.
    """
    clamp = pivot_clamp(build)
    if build.pivot.tightening.torque <= 0.0 or clamp is None:
        return None
    motion = blade_motion(build)
    found = tightness(build, folding(build, motion))
    if found is None:
        return None
    most = next((bound.moment for bound in found.bounds if bound.name == found.governing), None)
    loose = tight = 0
    moment = _moments(build, variables, clamp)
    for u in drawn(len(variables), samples, seed):
        held = moment(u)
        loose += int(np.count_nonzero(held < found.least_moment))
        tight += 0 if most is None else int(np.count_nonzero(held > most))
    return SetChance(found.least_moment, most, counted(loose, samples), counted(tight, samples))


def _moments(
    build: Build, variables: Sequence[Variable], clamp: PivotClamp
) -> Callable[[FloatArray], FloatArray]:
    """The friction moment (N*m) of points [S, D]."""
    one = np.eye(len(variables))
    reached = drawn_for(build, variables, REACH * np.concatenate([one, -one]))
    preloads = np.linspace(0.0, 1.2 * float(reached.preload.max()), _FACES)
    faces, radius = clamp.faces(preloads), float(np.asarray(clamp.clamp.radius))
    low = build.policy.grip_friction

    def moment(u: FloatArray) -> FloatArray:
        draws = drawn_for(build, variables, u)
        rubbing = low + draws.friction * (FACE_FRICTION - low)
        return np.asarray(2.0 * rubbing * radius * np.interp(draws.preload, preloads, faces))

    return moment
