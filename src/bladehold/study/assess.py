"""Assess: every check on a build, in every condition, and one sentence that says how it stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.sheet.build import Build
from bladehold.study.checks import FATIGUE, RULES, STRENGTH, Rule
from bladehold.study.checks.parts import verb
from bladehold.study.fragment import assessment_html
from bladehold.study.loads import Loads, loads_of
from bladehold.study.record import Check, Input, Outcome
from bladehold.study.situation import Situation

FloatArray = NDArray[np.float64]

HOLDS, MARGINAL, FAILS = "holds", "marginal", "does not hold"


@dataclass(frozen=True)
class Assessment:
    """All checks of one build, weakest first, with the loads they rest on."""

    build: Build
    loads: Loads
    checks: tuple[Check, ...]

    @property
    def governing(self) -> Check:
        """The check with the smallest margin among those that may govern."""
        return next(check for check in self.checks if check.governs)

    @property
    def margin(self) -> float:
        """The smallest margin."""
        return self.governing.margin

    @property
    def flight_margin(self) -> float:
        """The smallest margin in flight alone, without the multiple of the centrifugal proof."""
        return min(check.flight_margin for check in self.checks if check.governs)

    @property
    def verdict(self) -> str:
        """One of "holds", "marginal", "does not hold"."""
        if self.margin < 0.0:
            return FAILS
        return MARGINAL if self.margin < self.build.policy.marginal else HOLDS

    @property
    def holds(self) -> bool:
        """Whether every check has a margin of zero or more."""
        return self.margin >= 0.0

    @property
    def shortest(self) -> Check | None:
        """The check of fatigue with the smallest margin; None where no part is damaged or can be checked."""
        lasting = (check for check in self.checks if check.level == FATIGUE and np.isfinite(check.margin))
        return next(lasting, None)

    @property
    def reservations(self) -> tuple[str, ...]:
        """Why the verdict must not be taken as green: what is assumed, unconfirmed or out of range."""
        found = []
        if self.build.assumptions:
            found.append(f"{len(self.build.assumptions)} inputs are assumed")
        if any(check.unconfirmed for check in self.checks):
            found.append("some strengths are unconfirmed")
        if self.breaches:
            found.append("some formulas are used outside their range")
        if self.shortest is not None and self.shortest.margin < 0.0:
            part = self.shortest.part
            found.append(f"the {part} {verb(part, 'does', 'do')} not last the service life")
        return tuple(found)

    @property
    def breaches(self) -> tuple[str, ...]:
        """Every range left, loads first, each once."""
        texts = [*self.loads.breaches, *(text for check in self.checks for text in check.breaches)]
        return tuple(dict.fromkeys(texts))

    def by_part(self) -> dict[str, Check]:
        """Return the weakest check of every part, weakest part first; service checks only where not met."""
        parts: dict[str, Check] = {}
        for check in self.checks:
            if check.governs:
                parts.setdefault(check.part, check)
        return parts

    def table(self) -> list[dict[str, Any]]:
        """Return the checks as plain rows, weakest first."""
        return [check.as_dict() for check in self.checks]

    def _repr_html_(self) -> str:
        return assessment_html(self)


def assess(build: Build, loads: Loads | None = None, situation: Situation | None = None) -> Assessment:
    """Check every part of a build in every condition.

    Arguments: build; loads - those of the build if they are known already (they do not depend on
    screws, plates or lug strength); situation - build and loads, if they are looked at besides. Returns
    Assessment. Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    now = situation or Situation(build, loads_of(build) if loads is None else loads)
    found = now.loads
    checks = [_record(rule, outcome, found.names) for rule, outcome in outcomes(now)]
    checks.sort(key=lambda check: check.margin)
    return Assessment(build, found, tuple(checks))


def outcomes(situation: Situation, rules: tuple[Rule, ...] = RULES) -> list[tuple[Rule, Outcome]]:
    """Return the outcome of every rule that applies to the situation."""
    results = [(rule, rule.function(situation)) for rule in rules]
    return [(rule, outcome) for rule, outcome in results if outcome is not None]


def weakest(situation: Situation, rules: tuple[Rule, ...] = STRENGTH) -> tuple[float, str]:
    """Return the smallest margin of the rules given and the key of its check, without writing any record."""
    found = [
        (float(outcome.margin.min()), rule.key, rule.service) for rule, outcome in outcomes(situation, rules)
    ]
    margin, key, _ = min(entry for entry in found if entry[0] < 0.0 or not entry[2])
    return margin, key


def margins(situation: Situation, rules: tuple[Rule, ...] = STRENGTH) -> dict[str, FloatArray]:
    """Return the smallest margin over conditions [...] of every part."""
    smallest: dict[str, FloatArray] = {}
    for rule, outcome in outcomes(situation, rules):
        margin = outcome.margin.min(axis=-1)
        smallest[rule.part] = np.minimum(smallest[rule.part], margin) if rule.part in smallest else margin
    return smallest


def _record(rule: Rule, outcome: Outcome, names: tuple[str, ...]) -> Check:
    """Write down one outcome in the condition that governs it."""
    place = int(np.argmin(outcome.margin))

    def here(value: ArrayLike) -> float:
        values = np.asarray(value, dtype=float)
        return float(values[place]) if values.ndim else float(values)

    return Check(
        part=rule.part,
        mode=rule.mode,
        level=rule.level,
        condition=names[place],
        demand=here(outcome.demand),
        capacity=here(outcome.capacity),
        unit=outcome.unit,
        factor=here(outcome.factor),
        margin=here(outcome.margin),
        flight_margin=float(outcome.margin[..., :-1].min()),
        formula=outcome.formula or rule.formula,
        inputs=tuple(Input(name, here(value), unit) for name, value, unit in outcome.inputs),
        source=outcome.source or rule.source,
        unconfirmed=tuple(dict.fromkeys(p.source for p in outcome.strengths if p.unconfirmed)),
        breaches=tuple(dict.fromkeys(text for text in outcome.breaches if text)),
        advice=rule.advice,
        service=rule.service,
    )
