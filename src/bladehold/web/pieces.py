"""What the page shows of an assessment: the load path, parts with their checks, numbers a person reads."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bladehold.report.clevis_states import SIGNS, WORDS
from bladehold.report.terminal import state_of
from bladehold.study import Assessment
from bladehold.study.advise import Advice
from bladehold.study.checks import FATIGUE
from bladehold.study.checks.parts import BUSH, LUG, MOUNTING, PIVOT, PLATES, ROOT, TIES
from bladehold.study.record import Check

PATH = (LUG, BUSH, PIVOT, ROOT, PLATES, TIES, MOUNTING)
"""Parts in the order in which a blade's pull goes through them."""
_HOUR = 3600.0
_FULL = 3.0  # margin at the end of a bar
_HAND = {"m": ("mm", 1e3), "m^2": ("mm²", 1e6), "Pa": ("MPa", 1e-6), "kg": ("g", 1e3), "N*m": ("N·m", 1.0)}


def shown(value: float, unit: str) -> str:
    """Return an SI value in units that a person holds in the hand.

    >>> shown(0.004, "m"), shown(2.5e8, "Pa"), shown(0.5, "")
    ('4 mm', '250 MPa', '0.5')
    """
    name, times = _HAND.get(unit, (unit.replace("*", "·").replace("^2", "²"), 1.0))
    if not math.isfinite(value):
        return "without end" if value > 0 else "none"
    if unit == "s" and abs(value) >= _HOUR:
        return f"{value / _HOUR:.4g} h"
    return f"{value * times:.4g} {name}".strip()


def margin_words(margin: float) -> str:
    """Return a margin as it is read out."""
    if not math.isfinite(margin):
        return "unloaded"
    return f"{margin:+.2f}" if margin < 100.0 else "more than +100"


@dataclass(frozen=True)
class Bar:
    """A margin as a bar of 0 to 100, zero at a quarter: from, long; ghost - where another margin ends."""

    start: float
    length: float
    ghost: float | None


def bar(margin: float, ghost: float | None = None) -> Bar:
    """Return the bar of a margin, that of -1 at the left end and of `_FULL` or more at the right one."""
    zero = place(0.0)
    end = place(margin)
    return Bar(min(zero, end), max(abs(end - zero), 0.6), None if ghost is None else place(ghost))


def place(margin: float) -> float:
    """Return where a margin stands on the bar, 0 to 100."""
    return 100.0 * (min(max(margin, -1.0), _FULL) + 1.0) / (_FULL + 1.0)


@dataclass(frozen=True)
class CheckView:
    """One check as the page shows it."""

    check: Check
    state: str
    ident: str

    @property
    def sign(self) -> str:
        """The sign of its state."""
        return SIGNS[self.state]

    @property
    def word(self) -> str:
        """The word of its state."""
        return WORDS[self.state]

    @property
    def said(self) -> str:
        """Its margin."""
        return margin_words(self.check.margin)

    @property
    def bar(self) -> Bar:
        """Its margin as a bar."""
        return bar(self.check.margin)

    @property
    def numbers(self) -> list[tuple[str, str]]:
        """Demand, capacity, factor and every input, with units."""
        check = self.check
        rows = [
            ("demand at limit load", shown(check.demand, check.unit)),
            ("capacity", shown(check.capacity, check.unit)),
            ("factor", f"{check.factor:.4g}"),
        ]
        return rows + [(one.name, shown(one.value, one.unit)) for one in check.inputs]


@dataclass(frozen=True)
class PartView:
    """One part on the load path: its weakest check, and all of its checks, weakest first."""

    name: str
    ident: str
    weakest: CheckView
    checks: tuple[CheckView, ...]

    @property
    def worn(self) -> bool:
        """Whether it does not last the life asked for."""
        return any(one.check.level == FATIGUE and one.check.margin < 0.0 for one in self.checks)

    @property
    def state(self) -> str:
        """The state of its weakest check; no part is good that does not last."""
        return "little" if self.worn and self.weakest.state == "holds" else self.weakest.state

    @property
    def sign(self) -> str:
        """The sign of its state."""
        return SIGNS[self.state]

    @property
    def said(self) -> str:
        """Its smallest margin, and whether its life is short."""
        return f"{self.weakest.said}, life short" if self.worn else self.weakest.said


def parts_of(found: Assessment) -> tuple[PartView, ...]:
    """Return the parts in the order of the load path."""
    marginal = found.build.policy.marginal
    weakest = found.by_part()
    views = []
    for part in PATH:
        if part in weakest:
            ident = f"part-{part.replace(' ', '-')}"
            checks = tuple(
                CheckView(check, _state(check, marginal), f"{ident}-{at}")
                for at, check in enumerate(found.checks)
                if check.part == part
            )
            least = next(view for view in checks if view.check is weakest[part])
            views.append(PartView(part, ident, least, checks))
    return tuple(views)


def _state(check: Check, marginal: float) -> str:
    """A check of setting-up is met or not: a small margin in it is usual and no weakness."""
    return state_of(check.margin, 0.0 if check.service else marginal)


def advice_words(advice: Advice) -> str:
    """Return a change with what it weighs and brings."""
    grams = 1e3 * advice.added
    weighs = (
        "adds nothing"
        if abs(grams) < 0.05
        else f"adds {grams:.1f} g"
        if grams > 0
        else f"saves {-grams:.1f} g"
    )
    return (
        f"{advice.text}: {weighs} a rotor and lifts the smallest margin from {advice.before:+.2f} to "
        f"{advice.after:+.2f}; then the weakest is the {advice.governing}"
    )
