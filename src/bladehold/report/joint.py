"""The retention joint as people meet it: the verdict in sentences, tables, and what stands behind them."""

from __future__ import annotations

import math
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.joint_data import point_rows
from bladehold.report.joint_words import (
    celsius,
    governing_bound,
    headline,
    hours,
    lasting,
    remarks,
    sentences,
    unconfirmed_sources,
    weakest_left,
)
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.study import JointAnswer
from bladehold.study.failsafe import STAYS
from bladehold.study.life import MemberLife
from bladehold.study.tightness import Tightness, Way
from bladehold.study.words import span

_SIGNS = {True: "✓", False: "✗", None: "–"}
_STYLES = {True: "", False: "bold", None: ""}


def show_joint(console: Console, found: JointAnswer) -> None:
    """Print the verdict, the tables, remarks, what was assumed, and the cautions."""
    console.print(Text(headline(found), style="bold" if found.holds else "bold red"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_table(
        console,
        "The clevis at limit load: screw, ties of one blade, faces, moments of the plates",
        _clevis_table(found),
    )
    tight = found.tightness
    if tight is not None:
        show_table(console, "Friction moment of the pivot: what it must be", _bound_table(tight))
        if tight.moment_least is not None:
            show_table(console, "What the torque of the sheet gives", _set_table(tight))
        title = f"Windows at {celsius(tight.temperatures[1])}, over all temperatures and one year"
        show_table(console, title, _way_table(tight))
        console.print(
            Text("> widest window by torque, >> by pull; no window: the least is above the greatest")
        )
    title = f"Life by part, hours of flight, scatter taken off; wanted {span(found.service_hours)}"
    show_table(console, title, _life_table(found))
    past = "; * read past the end of the tests" if any(life.beyond for life in found.lives) else ""
    console.print(Text(f"loads times: by so much all loads could grow until a part just lasts{past}"))
    show_table(console, "One member lost", _loss_table(found))
    show_table(console, "Facts about the hub", _fact_table(found))
    build = found.build
    show_notes(console, "Why, where a member is lost", whys(found))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_notes(console, "Unconfirmed figures", unconfirmed_sources(found))
    show_notes(console, "Remarks on formulas and figures", remarks(found))
    show_cautions(console, invented=build.invented)


def _clevis_table(found: JointAnswer) -> Table:
    table = number_table(
        "", "flap\nN·m", "screw\nN", "ties\nN", "press.\nMPa", "open\nmm", "at hole\nN·m", "inboard\nN·m"
    )
    named = {"greatest": "with the greatest preload", "none": "without preload"}
    last = ""
    for row in point_rows(found):
        if row["preload"] != last:
            last = row["preload"]
            table.add_row(Text(named[last], style="italic"))
        ties = f"{row['tie_force_N']:.0f}" if found.build.ties.screw is not None else "-"
        table.add_row(
            f"  {row['point']}",
            f"{row['flap_moment_Nm']:.2f}",
            f"{row['screw_tension_N']:.0f}",
            ties,
            f"{row['face_pressure_Pa'] / 1e6:.1f}",
            f"{1e3 * row['face_opening_m']:.3f}",
            f"{row['plate_moment_at_hole_Nm']:.2f}",
            f"{row['plate_moment_inboard_Nm']:.2f}" + ("" if row["solved"] else " ?"),
        )
    return table


def _bound_table(tight: Tightness) -> Table:
    table = number_table("", "N·m", "")
    table.add_row("at least: the blade does not flop", f"{tight.least_moment:.3g}", "")
    force = governing_bound(tight)
    for bound in tight.bounds:
        word = "in force" if bound is force else ("" if bound.possible else "no tightness gives it")
        table.add_row(f"at most: {bound.name}", f"{bound.moment:.3g}", word)
    if tight.measured is not None:
        word = {True: "serves", False: "does NOT serve", None: ""}[tight.measured_serves]
        table.add_row("measured with a spring balance", f"{tight.measured:.3g}", word)
    return table


def _set_table(tight: Tightness) -> Table:
    table = number_table("at", "preload, N\nleast", "\ngreatest", "moment, N·m\nleast", "\ngreatest")
    series = (tight.preload_least, tight.preload_greatest, tight.moment_least, tight.moment_greatest)
    for at, kelvin in enumerate(tight.temperatures):
        cells = [
            format(values[at], form)
            for values, form in zip(series, (".0f", ".0f", ".3f", ".3f"), strict=True)
            if values is not None
        ]
        table.add_row(celsius(kelvin), *cells)
    return table


def _way_table(tight: Tightness) -> Table:
    table = word_table("", "construction", "torque\nN·m", "pull at tip\nN", "ends set at")
    best = {id(tight.best_by_torque): ">", id(tight.best_by_pull): ">>"}
    if tight.best_by_torque is tight.best_by_pull:
        best[id(tight.best_by_pull)] = "> >>"
    for way in tight.ways:
        table.add_row(
            best.get(id(way), "") if way.width >= 1.0 else "",
            way.name,
            window(way.torque_least, way.torque_greatest, way.torque_width),
            window(way.pull_least, way.pull_greatest, way.pull_width),
            _ends(way),
            style="bold" if id(way) in best and way.width >= 1.0 else "",
        )
    return table


def window(least: float, greatest: float, width: float) -> str:
    """Return a window in words, and by how much its ends miss each other where there is none."""
    if width >= 1.0:
        return f"{least:.2f} to {greatest:.2f}"
    if not math.isfinite(least) or width <= 0.0:
        return "none"
    return f"none: {least:.2f} > {greatest:.2f}"


def _ends(way: Way) -> str:
    limit = ", screw's strength" if way.by_strength else ""
    return f"{celsius(way.least_at)}, {celsius(way.greatest_at)}{limit}"


def _life_table(found: JointAnswer) -> Table:
    table = word_table("part", "life", "loads\ntimes", "governed by")
    table.add_column("method", overflow="fold", min_width=17)
    for life in found.lives:
        short = life in found.short_lives
        sign = "–" if life.hours is None else ("✗" if short else "✓")
        table.add_row(
            f"{life.part}, {life.mode}",
            f"{sign} {hours(life)}{' *' if life.beyond else ''}",
            "" if life.hours is None else f"{life.multiplier:.2f}",
            case_words(life),
            life.method or "; ".join(life.breaches),
            style="bold red" if short else "",
        )
    return table


def case_words(life: MemberLife) -> str:
    """Return what damages a part most, and its share of all damage."""
    if life.hours is None:
        return ""
    return f"{life.case}, {life.case_share:.0%}" if life.case_share > 0.0 else life.case


def _loss_table(found: JointAnswer) -> Table:
    table = word_table("lost", "hover", "all flight", "weakest left", "lasts (new parts)", "what to do")
    for loss in found.losses:
        table.add_row(
            f"{loss.member}, {loss.how}",
            loss.in_hover,
            loss.in_all_flight,
            weakest_left(loss),
            lasting(loss),
            loss.advice,
            style="" if loss.in_all_flight == STAYS else "bold",
        )
    return table


def whys(found: JointAnswer) -> list[str]:
    """Return why the blade does what it does when a member is lost, loss by loss."""
    return [
        f"{loss.member}, {loss.how}: {loss.why}{_moved(loss.opening, loss.wobble)}" for loss in found.losses
    ]


def _moved(opening: float | None, wobble: float | None) -> str:
    texts: list[Any] = []
    if opening is not None:
        texts.append(f"plates part by {1e3 * opening:.2g} mm")
    if wobble is not None:
        texts.append(f"the blade wobbles by ±{math.degrees(wobble):.2g} deg")
    return f" ({', '.join(texts)})" if texts else ""


def _fact_table(found: JointAnswer) -> Table:
    table = word_table("", "what", "how it is", "source")
    for fact in found.facts:
        style = _STYLES[fact.good]
        table.add_row(_SIGNS[fact.good], fact.about, fact.finding, fact.source, style=style)
    return table
