"""The checks as a document shows them: by part, all of them, and what stands behind each."""

from __future__ import annotations

from collections.abc import Iterable

from bladehold.report.document import Block, Table, margin_words, table
from bladehold.report.terminal import state_of
from bladehold.study.assess import Assessment
from bladehold.study.record import Check

_SHOWN = {"Pa": (1e-6, "MPa"), "m": (1e3, "mm")}


def check_tables(found: Assessment) -> tuple[Block, ...]:
    """Return the weakest check of every part, every check with its numbers, and how each was found."""
    return (
        _margins("Weakest check of each part", found.by_part().values(), found),
        _numbers(found),
        _derivations(found),
    )


def _margins(caption: str, checks: Iterable[Check], found: Assessment) -> Table:
    listed = tuple(checks)
    least = found.build.policy.marginal
    rows = [
        (
            check.part,
            margin_words(check.margin, least),
            f"{check.mode} ({check.level})",
            check.condition,
            check.advice,
        )
        for check in listed
    ]
    heads = ("part", "margin", "how it fails", "in", "what helps")
    return table(caption, heads, rows, (1,), _tones(listed, least))


def _tones(checks: tuple[Check, ...], least: float) -> list[str]:
    return [state_of(check.margin, least) for check in checks]


def _numbers(found: Assessment) -> Table:
    least = found.build.policy.marginal
    rows = [
        (
            check.key,
            margin_words(check.margin, least),
            check.condition,
            shown(check.demand, check.unit),
            f"{check.factor:.3g}",
            shown(check.capacity, check.unit),
        )
        for check in found.checks
    ]
    heads = ("check", "margin", "in", "demand", "factor", "capacity")
    caption = "All checks, weakest first; margin = capacity / (factor x demand) - 1"
    return table(caption, heads, rows, (1, 3, 4, 5), _tones(found.checks, least))


def _derivations(found: Assessment) -> Table:
    rows = [
        (
            check.key,
            check.formula,
            "; ".join(f"{one.name} = {one.value:.6g} {one.unit}".strip() for one in check.inputs),
            check.source,
        )
        for check in found.checks
    ]
    heads = ("check", "formula", "inputs in the governing condition, SI", "source")
    return table("What stands behind every check", heads, rows)


def shown(value: float, unit: str) -> str:
    """Return a number to four figures in the unit that workshops use for it."""
    scale, name = _SHOWN.get(unit, (1.0, unit))
    return f"{scale * value:.4g} {name}".strip()
