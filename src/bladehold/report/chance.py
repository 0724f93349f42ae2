"""How likely failure is, and the worst case, as people meet them: sentences, tables, plain data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.chance import Estimate, Reliability
from bladehold.chance.design_point import GREATEST_DISTANCE
from bladehold.report.data import answer
from bladehold.report.plain_table import show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes, signed_margin
from bladehold.study.chance import SUPPORTED, Chance, PartChance
from bladehold.study.worst import Worst, WorstPart
from bladehold.tables.scatter import as_table

NAMED = 3  # variables named for each part
SHOWN = 5  # inputs shown at their ends, of the worst case; all are in its data
LEAST_SHARE = 0.02  # of the scatter, below which a variable is not named
SCOPE = (
    "Of a hub drawn at random, in one flight that meets every condition of the sheet; by strength alone, "
    "without factors. What wears in use is not in these numbers; it is told with the lives."
)


def headline(found: Chance, allowed: float) -> str:
    """Return how likely anything breaks, in one sentence, and which part first."""
    estimate, name = found.any_breaks.estimate, found.build.name
    if nothing_reaches(found.any_breaks):
        return f"{name}: no part breaks within {GREATEST_DISTANCE:g} standard deviations of what scatters."
    verdict = "MORE" if estimate.probability > allowed else "not more"
    first = found.parts[0]
    return (
        f"{name}: a part breaks in {probability_words(found.any_breaks)} of flights, {verdict} than the "
        f"{allowed:.0e} allowed; first the {first.part} ({first.mode})."
    )


def nothing_reaches(found: Reliability) -> bool:
    """Whether neither a draw fails nor a design point is near."""
    return not found.points and found.estimate.failures == 0


def probability_words(found: Reliability) -> str:
    """Return a probability with its bounds; as a bound only where the inputs support no number."""
    if nothing_reaches(found):
        return "none"
    estimate = found.estimate
    if estimate.probability < SUPPORTED:
        return f"less than {SUPPORTED:.0e}"
    return f"{figure(estimate.probability)} ({figure(estimate.low)} to {figure(estimate.high)})"


def figure(value: float) -> str:
    """Return a probability in two figures, one near certainty in four."""
    if value > 0.99:
        return f"{value:.4f}"
    return f"{value:.2g}" if value >= 1e-3 else f"{value:.1e}"


def sentences(found: Chance) -> list[str]:
    """Return what stands above the tables, after the headline."""
    told = [SCOPE, f"What the number is worth: {found.support}."]
    named = ", ".join(f"{name} {share:.0%}" for name, share in found.drivers[:NAMED])
    told.append(f"What makes the least margin scatter: {named} of its variance.")
    remark = found.any_breaks.remark
    if remark:
        told.append(f"! {remark[0].upper()}{remark[1:]}.")
    if found.setting is not None:
        loose, tight = found.setting.loose, found.setting.tight
        outside = loose.probability + tight.probability
        share = f"{figure(outside)} of flights" if outside > 0.0 else "no flight drawn"
        told.append(
            f"The pivot is set outside its window in {share}: too loose in {bounded(loose)}, too tight in "
            f"{bounded(tight)}."
        )
    return told


def bounded(estimate: Estimate) -> str:
    """Return a share of random draws with its bounds."""
    if estimate.failures == 0:
        return f"less than {figure(estimate.high)}"
    return f"{figure(estimate.probability)} ({figure(estimate.low)} to {figure(estimate.high)})"


def show_chance(console: Console, found: Chance, allowed: float) -> None:
    """Print how likely each part fails, what decides it, what is assumed."""
    build, bad = found.build, found.any_breaks.estimate.probability > allowed
    console.print(Text(headline(found, allowed), style="bold red" if bad else "bold"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_table(console, "In one flight, by part", _part_table(found))
    show_table(console, "What scatters", _variable_table(found))
    show_notes(console, "Remarks on the numbers", remarks(found))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_cautions(console, invented=build.invented)


def _part_table(found: Chance) -> Table:
    table = word_table("part", "probability", "beta", "what decides")
    for part in found.parts:
        index = "–" if part.found.index is None else f"{part.found.index:.2f}"
        drivers = ", ".join(
            f"{name} {share:.0%}" for name, share in part.drivers[:NAMED] if share >= LEAST_SHARE
        )
        table.add_row(
            f"{part.part}, {part.event}: {part.mode}", probability_words(part.found), index, drivers or "–"
        )
    return table


def _variable_table(found: Chance) -> Table:
    table = word_table("what", "distribution", "mean", "deviation", "share")
    shares = dict(found.drivers)
    for variable in found.variables:
        marginal = variable.marginal
        share = f"{shares[variable.name]:.0%}"
        table.add_row(
            variable.name, marginal.kind, f"{marginal.mean:.4g}", f"{marginal.deviation:.3g}", share
        )
    return table


def remarks(found: Chance) -> Iterator[str]:
    """Yield what must be known to read the numbers."""
    yield (
        f"probability: share of {found.samples:,} random draws, or by importance sampling about the design "
        "points where fewer than 100 fail, with bounds at 95 %, held against subset sampling; "
        "beta: distance of the nearest design point"
    )
    yield (
        f"none: no draw fails, and neither search came upon a failure within {GREATEST_DISTANCE:g} standard "
        "deviations"
    )
    yield (
        "the joint is tabled over thrust, blade mass and preloads: against the exact one margins differ by "
        f"{_percent(found.departure)} at the most among 200 draws; geometry enters by its slopes"
    )
    if found.left_out:
        parts = "; ".join(found.left_out)
        yield f"left out, since nothing that scatters brings it within nine times the load: {parts}"
    for part in found.parts:
        if part.found.remark and part.found.estimate.probability >= SUPPORTED:
            yield f"{part.part} {part.event}: {part.found.remark}"
    for variable in {one.row.name: one for one in found.variables}.values():
        yield f"{variable.row.name}: {variable.row.meaning} [{variable.row.provenance.source}]"


def _percent(log_difference: float) -> str:
    """Return a difference of ln(1 + margin) as a share of 1 + margin."""
    return f"{100.0 * log_difference:.1f} %"


def chance_data(found: Chance, allowed: float) -> dict[str, Any]:
    """Return the answer as plain data."""
    return answer(
        found.build,
        {
            "sentence": headline(found, allowed),
            "allowed": allowed,
            "support": found.support,
            "any_part_breaks": _reliability_data(found.any_breaks),
            "any_part_yields": _reliability_data(found.any_yields),
            "with_scatter_a_fifth_smaller": found.doubt[0],
            "with_scatter_a_quarter_greater": found.doubt[1],
            "parts": chance_rows(found),
            "setting": None if found.setting is None else asdict(found.setting),
            "shares_of_variance": [{"name": name, "total": share} for name, share in found.drivers],
            "scatter": as_table({one.row.name: one.row for one in found.variables}.values()),
            "greatest_error_of_log_margin": found.departure,
            "remarks": list(remarks(found)),
        },
    )


def _reliability_data(found: Reliability) -> dict[str, Any]:
    return {
        **asdict(found.estimate),
        "supported": found.estimate.probability >= SUPPORTED,
        "beyond_reach": nothing_reaches(found),
        "design_points": len(found.points),
        "reliability_index": found.index,
        "first_order": found.first_order,
        "remark": found.remark,
    }


def chance_rows(found: Chance) -> list[dict[str, Any]]:
    """Return a row for each part and event."""
    return [
        {
            "part": part.part,
            "event": part.event,
            "mode": part.mode,
            **_reliability_data(part.found),
            **_drivers(part),
        }
        for part in found.parts
    ]


def _drivers(part: PartChance) -> dict[str, str]:
    return {"drivers": "; ".join(f"{name} {share:.3f}" for name, share in part.drivers[:NAMED])}


def worst_headline(found: Worst) -> str:
    """Return whether the hardware holds in the worst case, in one sentence."""
    first = found.parts[0]
    if found.margin >= 0.0 > found.sheet_margin:
        return (
            f"{found.build.name}: DOES NOT HOLD as the sheet stands: {found.sheet}, margin "
            f"{found.sheet_margin:+.2f}; least margin in flight with every uncertain input at its "
            f"pessimistic end {first.worst:+.2f}, {first.part} ({first.mode})."
        )
    verdict = "HOLDS" if found.holds else "DOES NOT HOLD"
    return (
        f"{found.build.name}: {verdict} with every uncertain input at its pessimistic end; least margin "
        f"{first.worst:+.2f}, {first.part} ({first.mode})."
    )


def show_worst(console: Console, found: Worst) -> None:
    """Print the margins of the sheet beside those of the worst case."""
    build = found.build
    console.print(Text(worst_headline(found), style="bold" if found.holds else "bold red"))
    for sentence in worst_sentences(found):
        console.print(Text(sentence))
    table = word_table(
        "part", "of the sheet", "in the middle", "at the worst", "which end, and its cost alone"
    )
    for part in found.parts:
        table.add_row(
            f"{part.part}: {part.mode}",
            signed_margin(part.margin, build.policy.marginal),
            f"{part.middle:+.2f}",
            signed_margin(part.worst, build.policy.marginal),
            _ends(part),
        )
    show_table(console, "Smallest margin in flight", table)
    show_assumptions(console, build.assumptions)
    show_cautions(console, invented=build.invented)


WORST_SCOPE = (
    "The factors of the policy stand and strengths are the least of the tables; thrust, masses, measures, "
    "friction, torques, temperature and the formulas' own error are at their ends, 2.5 or 97.5 in 100 where "
    "they have none, whichever is worse, and no part is taken as better than the sheet takes it. What the "
    "sheet leaves out stays as it was filled in. All at once is rarer by far than each alone."
)


def worst_sentences(found: Worst) -> list[str]:
    """Return what stands above the table, after the headline."""
    told = [
        WORST_SCOPE,
        "The centrifugal proof and the checks of tightening are not moved; with them the sheet as it stands "
        f"has the least margin {found.sheet_margin:+.2f}: {found.sheet}.",
    ]
    if found.left_out:
        told.append(f"Out of reach of all that scatters: {', '.join(found.left_out)}.")
    return told


def _ends(part: WorstPart) -> str:
    shown = part.ends[:SHOWN]
    words = "; ".join(f"{name} {end} (-{fall:.2f})" for name, end, fall in shown)
    more = len(part.ends) - len(shown)
    return f"{words}; {more} more" if more else words


def worst_data(found: Worst) -> dict[str, Any]:
    """Return the worst case as plain data."""
    return answer(
        found.build,
        {
            "sentence": worst_headline(found),
            "holds": found.holds,
            "margin": found.margin,
            "scope": WORST_SCOPE,
            "sheet_check": found.sheet,
            "sheet_margin": found.sheet_margin,
            "left_out": list(found.left_out),
            "parts": worst_rows(found),
            "assumptions": [asdict(item) for item in found.assumptions],
        },
    )


def worst_rows(found: Worst) -> list[dict[str, Any]]:
    """Return a row for each part."""
    return [
        {
            "part": part.part,
            "mode": part.mode,
            "margin": part.margin,
            "middle_margin": part.middle,
            "worst_margin": part.worst,
            "ends": "; ".join(f"{name} {end}" for name, end, _ in part.ends),
        }
        for part in found.parts
    ]
