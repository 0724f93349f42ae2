"""The joint for many hubs and flights at once: margins of every check at whatever was drawn.

Loads are interpolated between those of a few thrusts and blade masses, which were solved in full; preloads
enter the contact of the clevis case by case; strengths and the departures of true stress multiply; geometry,
whose departures are small, enters by its slopes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import RootLoads
from bladehold.sheet.build import Build
from bladehold.study.assess import outcomes
from bladehold.study.checks import STRENGTH
from bladehold.study.checks.rule import Rule
from bladehold.study.loads import Loads, loads_of
from bladehold.study.scatter import GEOMETRY, Draws, Variable, drawn_for, with_departure
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

THRUSTS = np.array([0.75, 0.9, 1.0, 1.12, 1.3])  # over those of the sheet
MASSES = np.array([0.8, 1.0, 1.25])  # times the square of the speed of turning, which pulls alike
PRELOADS = np.array([0.3, 1.0, 2.5])  # over that of the middle, at which conditions are picked
REACH = 7.0  # standard deviations that the table of a stage goes to, one variable at a time
THRUST_NODES, MASS_NODES, PRELOAD_NODES, TIE_NODES = 9, 5, 20, 10
_LITTLE = 1e-6
_SLACK = 0.01  # of the scale of preloads
STEP = 5e-5  # m, of the slopes by geometry
FAR = 2.2  # ln(1 + margin) beyond which a check is left out: no scatter of joints reaches nine times the load
SAME = 0.005  # of ln(1 + margin): a condition that asks no more than this beyond the others is left out
UNLOADED = 20.0  # ln(1 + margin) that stands for no load at all


@dataclass(frozen=True, eq=False)
class JointStage:
    """Margins of R checks at points of standard normal space.

    build - with the policy the margins are found by; variables - the axes; rules - the checks; names - of the
    conditions that may govern; tables - loads [K, J, C] at MASSES and THRUSTS; slopes - of ln(1 + margin) by
    geometry, 1/m, [G, R]; strengths - whether the strength drawn counts, or that of the table; left_out -
    checks that nothing that scatters brings within reach, FAR.
    """

    build: Build
    variables: tuple[Variable, ...]
    rules: tuple[Rule, ...]
    names: tuple[str, ...]
    tables: dict[str, FloatArray]
    slopes: FloatArray
    strengths: bool
    left_out: tuple[Rule, ...] = ()

    def log_margins(self, u: FloatArray) -> FloatArray:
        """Return ln(1 + margin), the smallest over all conditions, [S, R], of points [S, D]."""
        return self.of(drawn_for(self.build, self.variables, u))

    def of(self, draws: Draws) -> FloatArray:
        """Return ln(1 + margin) of what was drawn, [S, R]."""
        raw = self.plain(draws.thrust, draws.mass, draws.preload, draws.tie_preload)
        return self.scattered(raw, draws)

    def plain(
        self, thrust: FloatArray, mass: FloatArray, preload: FloatArray, tie_preload: FloatArray
    ) -> FloatArray:
        """Return ln(1 + margin) [S, R] with the strengths and measures of the sheet, stress as found.

        Arguments: thrust, mass - over those of the sheet; preload, tie_preload - N; [S].
        """
        preloads = preload[:, np.newaxis], tie_preload[:, np.newaxis]
        now = Situation(self.build, self._loads(thrust, mass), preloads=preloads, turns=False)
        found = outcomes(now, self.rules)
        return np.stack([_log_margin(outcome.margin).min(axis=-1) for _, outcome in found], axis=-1)

    def scattered(self, plain: FloatArray, draws: Draws) -> FloatArray:
        """Return ln(1 + margin) [S, R] with what multiplies: strength, true stress, geometry by slopes."""
        moved = draws.geometry.T @ self.slopes - np.log(draws.stress)[:, np.newaxis]
        if not self.strengths:
            return np.asarray(plain + moved)
        strength = np.stack([draws.strength[rule.held_by or rule.part] for rule in self.rules], axis=-1)
        return np.asarray(plain + moved + np.log(strength))

    def _loads(self, thrust: FloatArray, mass: FloatArray) -> Loads:
        """Loads [S, C] by the polynomials through the tables."""
        by_thrust, by_mass = _weights(THRUSTS, thrust), _weights(MASSES, mass)
        found = {
            name: np.einsum("sk,sj,kjc->sc", by_mass, by_thrust, table, optimize=True)
            for name, table in self.tables.items()
        }
        return _loads_from(found, self.names)


def joint_stage(
    build: Build, variables: Sequence[Variable], *, factors: bool, rules: tuple[Rule, ...] = STRENGTH
) -> JointStage:
    """Prepare a build for many draws.

    Arguments: build; variables - what scatters; factors - whether the policy's factors stand in the margins,
    with the table's strengths, or neither: failure is then where load meets strength as drawn; rules - the
    checks; those of setting-up are left out, and the centrifugal proof, which is no flight.
    Returns JointStage. Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    propeller = replace(build.propeller, thrust_uncertainty=0.0)
    policy = build.policy
    if not factors:
        policy = replace(policy, limit_to_ultimate=1.0, yield_factor=1.0, fitting=1.0)
    plain = replace(build, propeller=propeller, policy=policy)
    tables, names = _tabled(plain)
    asked = tuple(rule for rule in rules if not rule.service)
    none = np.zeros((len(GEOMETRY), 0))
    whole = JointStage(plain, tuple(variables), asked, names, tables, none, strengths=not factors)
    kept, far, matter = _that_matter(whole)
    fewer = {name: table[..., matter] for name, table in tables.items()}
    known = tuple(names[at] for at in matter)
    chosen = replace(whole, rules=kept, names=known, tables=fewer, left_out=far)
    return replace(chosen, slopes=_slopes(chosen))


def _tabled(build: Build) -> tuple[dict[str, FloatArray], tuple[str, ...]]:
    """Every load in flight at each of MASSES and THRUSTS, [K, J, C], and the names of the conditions."""
    rows = []
    for share in MASSES:
        propeller = replace(build.propeller, blade_mass=share * build.propeller.blade_mass)
        rows.append(loads_of(replace(build, propeller=propeller), THRUSTS))
    count = len(rows[0].names) - 1  # without the proof

    def stacked(values: list[Any]) -> FloatArray:
        return np.stack([np.broadcast_to(one, rows[0].speed.shape)[..., :count] for one in values])

    found = {
        name: stacked([getattr(row, name) for row in rows])
        for name in ("thrust", "speed", "torque", "hub_moment")
    }
    found |= {
        field.name: stacked([getattr(row.root, field.name) for row in rows]) for field in fields(RootLoads)
    }
    return found, rows[0].names[:count]


def _loads_from(found: dict[str, FloatArray], names: tuple[str, ...]) -> Loads:
    """Loads [..., C] of flight alone."""
    shape = found["speed"].shape
    return Loads(
        names=names,
        bases=("",) * len(names),
        root=RootLoads(**{field.name: found[field.name] for field in fields(RootLoads)}),
        flight=np.ones(shape[-1]),
        time_share=np.zeros(shape[-1]),
        courses=(),
        breaches=(),
        **{name: found[name] for name in ("thrust", "speed", "torque", "hub_moment")},
    )


def _that_matter(stage: JointStage) -> tuple[tuple[Rule, ...], tuple[Rule, ...], IntArray]:
    """The checks that may fail, those out of reach, and conditions enough to find each margin within SAME.

    At all loads of the tables and at PRELOADS. Conditions are added by how many cases they settle.
    """
    middle = drawn_for(stage.build, stage.variables, np.zeros((1, len(stage.variables))))
    tables = {name: table[np.newaxis] for name, table in stage.tables.items()}
    spread = PRELOADS[:, np.newaxis, np.newaxis, np.newaxis]
    shape = (PRELOADS.size, *stage.tables["speed"].shape)
    loads = _loads_from({name: np.broadcast_to(table, shape) for name, table in tables.items()}, stage.names)
    preloads = spread * middle.preload, spread * middle.tie_preload
    found = outcomes(Situation(stage.build, loads, preloads=preloads, turns=False), stage.rules)
    near = [(rule, _log_margin(np.broadcast_to(outcome.margin, shape))) for rule, outcome in found]
    far = tuple(rule for rule, margin in near if margin.min() >= FAR)
    near = [(rule, margin) for rule, margin in near if margin.min() < FAR]
    margins = np.concatenate([margin.reshape(-1, shape[-1]) for _, margin in near])
    settles = margins <= margins.min(axis=-1, keepdims=True) + SAME
    chosen: list[int] = []
    while len(settles):
        chosen.append(int(settles.sum(axis=0).argmax()))
        settles = settles[~settles[:, chosen[-1]]]
    return tuple(rule for rule, _ in near), far, np.array(sorted(chosen))


def _slopes(stage: JointStage) -> FloatArray:
    """Slopes of ln(1 + margin) by each of GEOMETRY at the middle of all that scatters, 1/m, [G, R]."""
    middle = drawn_for(stage.build, stage.variables, np.zeros((1, len(stage.variables))))
    flat = replace(stage, slopes=np.zeros((len(GEOMETRY), len(stage.rules))))

    def at(name: str, metres: float) -> FloatArray:
        return np.asarray(replace(flat, build=with_departure(stage.build, name, metres)).of(middle)[0])

    return np.stack([(at(name, STEP) - at(name, -STEP)) / (2.0 * STEP) for name in GEOMETRY])


def _weights(nodes: FloatArray, at: FloatArray) -> FloatArray:
    """Weights [S, J] of values at nodes [J] in the polynomial through them, at points [S]."""
    weights = np.ones((at.size, nodes.size))
    for j, node in enumerate(nodes):
        for other in nodes[nodes != node]:
            weights[:, j] *= (at - other) / (node - other)
    return weights


@dataclass(frozen=True, eq=False)
class TabledStage:
    """A JointStage tabled over thrust, blade mass and preloads, for very many draws.

    stage - the exact one; interpolator - of ln(1 + margin) [R], the smallest over the conditions, over ln
    thrust, ln mass, and ln(1 + P / scale) of both preloads; scale - N, [2]; ends - of the four, [2, 4].
    """

    stage: JointStage
    interpolator: Any
    scale: FloatArray
    ends: FloatArray

    def log_margins(self, u: FloatArray) -> FloatArray:
        """Return ln(1 + margin), [S, R], of points [S, D]."""
        draws = drawn_for(self.stage.build, self.stage.variables, u)
        preloads = np.stack([draws.preload, draws.tie_preload], axis=-1)
        at = np.column_stack([np.log(draws.thrust), np.log(draws.mass), np.log1p(preloads / self.scale)])
        return self.stage.scattered(self.interpolator(np.clip(at, *self.ends)), draws)

    def departure(self, count: int = 200, seed: int = 7) -> float:
        """Return the greatest difference of ln(1 + margin) from the exact stage among draws at random."""
        u = np.random.default_rng(seed).standard_normal((count, len(self.stage.variables)))
        return float(np.abs(self.log_margins(u) - self.stage.log_margins(u)).max())


def tabled(stage: JointStage) -> TabledStage:
    """Table a stage over the thrusts, masses and preloads that its variables reach in REACH deviations."""
    from scipy.interpolate import RegularGridInterpolator

    count = len(stage.variables)
    ends = REACH * np.concatenate([np.eye(count), -np.eye(count)])
    far = drawn_for(stage.build, stage.variables, ends)
    scale = np.array([max(float(np.median(of)) / 4.0, _LITTLE) for of in (far.preload, far.tie_preload)])
    axes = (
        _axis(np.log(far.thrust), THRUST_NODES),
        _axis(np.log(far.mass), MASS_NODES),
        _axis(_from_slack(far.preload / scale[0]), PRELOAD_NODES),
        _axis(_from_slack(far.tie_preload / scale[1]), TIE_NODES),
    )
    points = np.stack([axis.ravel() for axis in np.meshgrid(*axes, indexing="ij")])
    preload, tie_preload = scale[:, np.newaxis] * np.expm1(points[2:])
    values = stage.plain(np.exp(points[0]), np.exp(points[1]), preload, tie_preload)
    table = values.reshape(*(axis.size for axis in axes), len(stage.rules))
    limits = np.array([[axis[0] for axis in axes], [axis[-1] for axis in axes]])
    return TabledStage(stage, RegularGridInterpolator(axes, table), scale, limits)


def _from_slack(preload: FloatArray) -> FloatArray:
    """ln(1 + P) of what is reached, from next to nothing on: at none at all a lug with play jumps."""
    return np.log1p(np.append(preload, _SLACK) if preload.max() > 0.0 else preload)


def _axis(reached: FloatArray, nodes: int) -> FloatArray:
    """Even nodes over what is reached; what does not scatter has two close ones."""
    low, high = float(reached.min()), float(reached.max())
    return np.linspace(low, high, nodes) if high > low else np.array([low, low + _LITTLE])


def _log_margin(margin: FloatArray) -> FloatArray:
    with np.errstate(over="ignore"):
        return np.asarray(np.minimum(np.log(np.maximum(1.0 + margin, np.exp(-UNLOADED))), UNLOADED))
