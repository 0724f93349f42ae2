"""The terminal view: verdict first, then what helps, then the tables, then what was assumed."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.cautions import cautions
from bladehold.sheet.build import Assumption
from bladehold.study.advise import Advices
from bladehold.study.assess import Assessment
from bladehold.study.limit import Limit
from bladehold.study.record import Check
from bladehold.study.size import Sizing
from bladehold.study.words import (
    advice_sentences,
    life_sentence,
    limit_sentence,
    proof_sentence,
    reservation_sentence,
    rpm,
    size_sentence,
    verdict_sentence,
)

# Word and sign say the same as the colour, so that nothing rests on colour alone.
_STATES = {"fails": ("✗", "bold red"), "little": ("!", "bold yellow"), "holds": ("✓", "green")}


def state_of(margin: float, marginal: float) -> str:
    """Return "fails", "little" or "holds" for a margin."""
    if margin < 0.0:
        return "fails"
    return "little" if margin < marginal else "holds"


def signed_margin(margin: float, marginal: float) -> Text:
    """Return a margin with its sign and word, styled."""
    sign, style = _STATES[state_of(margin, marginal)]
    return Text(f"{sign} {state_of(margin, marginal)} {_margin(margin)}", style=style)


def _margin(margin: float) -> str:
    if not math.isfinite(margin):
        return "  none"
    return f"{margin:+6.2f}" if margin < 100 else "  >100"


def show_assessment(
    console: Console, found: Assessment, advices: Advices, limit: Limit, sizing: Sizing, *, every: bool
) -> None:
    """Print an assessment: every - all checks, else the weakest of each part."""
    _, style = _STATES[state_of(found.margin, found.build.policy.marginal)]
    clean = not found.reservations
    console.print(Text(verdict_sentence(found), style=style if found.margin < 0 or clean else "bold"))
    reservation = reservation_sentence(found)
    if reservation:
        console.print(Text(reservation, style="yellow"))
    proof = proof_sentence(found)
    if proof:
        console.print(Text(proof))
    life = life_sentence(found)
    if life:
        console.print(Text(life))
    for sentence in (*advice_sentences(advices), limit_sentence(limit), size_sentence(sizing)):
        console.print(Text(sentence))
    checks = found.checks if every else tuple(found.by_part().values())
    console.print()
    console.print(_check_table(checks, found.build.policy.marginal, every=every))
    console.print()
    console.print(_load_table(found, every=every))
    show_notes(console, "Notes on the sheet", found.build.notes)
    show_assumptions(console, found.build.assumptions)
    show_notes(console, "Unconfirmed figures", unconfirmed(checks))
    show_notes(console, "Remarks on formulas and figures", found.breaches)
    show_cautions(console, invented=found.build.invented)


def unconfirmed(checks: Iterable[Check]) -> list[str]:
    """Return the unconfirmed sources with the parts they decide."""
    parts: dict[str, list[str]] = {}
    for check in checks:
        for source in check.unconfirmed:
            if check.part not in parts.setdefault(source, []):
                parts[source].append(check.part)
    return [f"{', '.join(names)}: {source}" for source, names in parts.items()]


def _check_table(checks: Sequence[Check], marginal: float, *, every: bool) -> Table:
    title = "All checks, weakest first" if every else "Weakest check of each part (all: --all)"
    table = Table(title=title, title_justify="left", expand=False, padding=(0, 1))
    for name in ("part", "how it fails", "in", "margin"):
        table.add_column(name, overflow="fold")
    for check in checks:
        table.add_row(
            check.part,
            f"{check.mode} ({check.level})",
            check.condition,
            signed_margin(check.margin, marginal),
        )
    return table


def _load_table(found: Assessment, *, every: bool) -> Table:
    """Loads in every condition, else in hover and where a part is governed."""
    told = {check.condition for check in found.by_part().values()}
    title = "Loads on one blade's root" + ("" if every else ", in hover and where they govern (all: --all)")
    table = Table(title=title, title_justify="left", padding=(0, 1))
    table.add_column("condition", overflow="fold")
    for name in ("thrust\nkgf", "speed\nrpm", "centrifugal\nN", "flap moment\nN·m", "lift\nN"):
        table.add_column(name, justify="right")
    loads = found.loads
    for place, name in enumerate(loads.names):
        if not (every or name in told or name.startswith("hover")):
            continue
        flap = f"{loads.root.flap_mean[place]:.2f} ± {loads.root.flap_cyclic[place]:.2f}"
        table.add_row(
            name,
            f"{loads.thrust[place] / GRAVITY:.2f}",
            f"{rpm(loads.speed[place]):.0f}",
            f"{loads.root.centrifugal[place]:.0f}",
            flap,
            f"{loads.root.lift[place]:.0f}",
        )
    return table


def show_notes(console: Console, title: str, lines: Iterable[str]) -> None:
    """Print lines under a title, nothing where there are none."""
    listed = list(lines)
    if not listed:
        return
    console.print()
    console.print(Text(title, style="bold"))
    for line in listed:
        console.print(Padding(Text(f"- {line}"), (0, 0, 0, 1)))


def show_assumptions(console: Console, assumptions: Iterable[Assumption]) -> None:
    """Print what the sheet did not give, what was taken for it, and why."""
    show_notes(console, "Assumed inputs", (f"{item.key} = {item.value}: {item.why}" for item in assumptions))


def show_cautions(console: Console, *, invented: bool) -> None:
    """Print the cautions that every output carries."""
    console.print()
    for text in cautions(invented=invented):
        console.print(Text(text, style="italic"))
