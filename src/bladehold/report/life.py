"""How long the parts last in the flying of a build, as people meet it: sentences, tables, plain data."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.aircraft import flown_words
from bladehold.report.data import answer
from bladehold.report.joint_data import life_row
from bladehold.report.joint_words import NOT_CHECKED, hours, life_remarks, unconfirmed_sources
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.study.flight_life import Keeping, LifeAnswer
from bladehold.study.life import MemberLife
from bladehold.study.words import figures, span

LEAST_SHARE = 0.005  # of the damage, below which a group is not named


def headline(found: LifeAnswer) -> str:
    """Return whether the parts last, in one sentence, and which is the shortest."""
    least, name = found.shortest, found.build.name
    wanted = span(found.service_hours)
    if least is None or least.hours is None:
        return f"{name}: no life could be computed."
    if not math.isfinite(least.hours):
        return f"{name}: NO DAMAGE by fatigue is found in any part that is checked; {wanted} are wanted."
    count = 3600.0 * least.hours / found.build.flying.flight_time
    said = (
        f"{least.part} ({least.mode}), {hours(least)} or {count_words(count)} flights with a factor of "
        f"{least.scatter:g} for scatter"
    )
    if found.lasts:
        return f"{name}: all parts that are checked LAST the {wanted} wanted; the shortest is the {said}."
    return f"{name}: parts END BEFORE the {wanted} wanted; the shortest is the {said}."


def count_words(flights: float) -> str:
    """Return a number of flights to three figures, past all use as a power of ten."""
    return figures(flights) if flights < 1e6 else f"over 1e{math.floor(math.log10(flights))}"


def sentences(found: LifeAnswer) -> list[str]:
    """Return what stands above the tables, after the headline."""
    least, told = found.shortest, []
    if least is not None and least.case_share > 0.0:
        told.append(f"Most of its damage: {least.case}, {100 * least.case_share:.0f} %. {_groups(least)}.")
    if found.levers:
        listed = "; ".join(f"{lever.change}: {times_words(lever.ratio)}" for lever in found.levers[:3])
        told.append(f"What changes that life most: {listed}.")
    open_ = [life for life in found.lives if life.hours is None]
    if open_:
        told.append(f"! Not checked: {', '.join(f'{one.part} ({one.mode})' for one in open_)}.")
    return told


def times_words(ratio: float) -> str:
    """Return by how much a life grows, in words."""
    return f"{figures(ratio)} times as long" if ratio < 1e4 else "without end"


def _groups(life: MemberLife) -> str:
    parts = sorted(life.groups, key=lambda group: -group[1])
    listed = ", ".join(f"{name} {100 * share:.0f} %" for name, share in parts if share >= LEAST_SHARE)
    return f"Of all cycles: {listed}" if listed else "No damage"


def show_life(console: Console, found: LifeAnswer) -> None:
    """Print how long the parts last, what wears them, what to do and what would help."""
    build = found.build
    console.print(Text(headline(found), style="bold" if found.lasts else "bold red"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_table(console, f"Life by part, wanted {span(found.service_hours)}", _life_table(found))
    if any(life.beyond for life in found.lives):
        console.print(Text("* read past the end of the tests"))
    show_table(console, "What the crew does", _keeping_table(found))
    show_table(console, "What changes the shortest life", _lever_table(found))
    show_table(console, "The mix that is flown", _mix_table(found))
    show_notes(console, "Rules behind what the crew does", rules_of(found))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_notes(console, "Unconfirmed figures", unconfirmed_sources(found))
    show_notes(console, "Remarks on formulas and figures", [*life_remarks(found), *found.loads.breaches])
    show_cautions(console, invented=build.invented)


def _life_table(found: LifeAnswer) -> Table:
    table = word_table("part", "life", "flights", "worn by", "loads times")
    for life in found.lives:
        if life.hours is None:
            table.add_row(f"{life.part}: {life.mode}", NOT_CHECKED, "–", "–", "–")
            continue
        flights = 3600.0 * life.hours / found.build.flying.flight_time
        endless = not math.isfinite(life.hours)
        table.add_row(
            f"{life.part}: {life.mode}",
            f"{hours(life)}{' *' if life.beyond else ''}",
            "–" if endless else count_words(flights),
            "nothing" if endless else worn(life),
            f"{life.multiplier:.2f}",
        )
    return table


def worn(life: MemberLife) -> str:
    """Return which cycles wear a part, the most first, in words."""
    parts = sorted(life.groups, key=lambda group: -group[1])
    return ", ".join(f"{name} {100 * share:.0f} %" for name, share in parts if share >= LEAST_SHARE)


def _keeping_table(found: LifeAnswer) -> Table:
    table = word_table("part", "goes after", "flights", "looked at every")
    for one in found.keeping:
        look = "–" if one.interval is None else span(one.interval)
        table.add_row(one.part, span(one.hours), count_words(one.flights), look)
    return table


def _lever_table(found: LifeAnswer) -> Table:
    table = word_table("change", "life")
    for lever in found.levers:
        table.add_row(lever.change, times_words(lever.ratio))
    if not found.levers:
        table.add_row("nothing wears it", "–")
    return table


def _mix_table(found: LifeAnswer) -> Table:
    table = number_table("", "of the flight", "turns per hour\nof flight", "group")
    loads, count = found.loads, len(found.kinds)
    for at, kind in enumerate(found.kinds):
        places = [
            place
            for place in range(at, len(loads.names) - 1, count)
            if loads.names[place].startswith(kind.name)
        ]
        turns = sum(
            loads.speed[place] * loads.time_share[place] * 3600.0 / (2.0 * math.pi) for place in places
        )
        if kind.share or kind.times:
            table.add_row(kind.name, flown_words(kind), f"{turns:,.0f}".replace(",", " "), kind.group)
    events = found.build.flying.events
    table.add_row("throttle steps, pull-up to push-over", f"{events.throttle_steps} ×", "–", "throttle")
    table.add_row("throttle chops, hover to idle", f"{events.throttle_chops} ×", "–", "throttle")
    for case in found.build.flying.cases:
        often = f"{case.times} × {case.lasts:g} s" if case.times else "strength only"
        table.add_row(case.name, often, "–", "own cases")
    return table


def rules_of(found: LifeAnswer) -> list[str]:
    """Return the rules behind what the crew does, each with its parts."""
    rules: dict[str, list[str]] = {}
    for one in found.keeping:
        for rule in one.rules:
            rules.setdefault(rule, []).append(one.part)
    return [f"{', '.join(parts)}: {rule}" for rule, parts in rules.items()]


def keeping_row(one: Keeping) -> dict[str, Any]:
    """Return what to do about one part as a row."""
    return {
        "part": one.part,
        "mode": one.life.mode,
        "life_h": one.life.hours,
        "retired_after_h": one.hours,
        "retired_after_flights": one.flights,
        "inspected_every_h": one.interval,
        "rules": "; ".join(one.rules),
    }


def lives_row(life: MemberLife) -> dict[str, Any]:
    """Return one life with what wears the part as a row."""
    return {**life_row(life), "slope": life.slope, "groups": dict(life.groups)}


def life_data(found: LifeAnswer) -> dict[str, Any]:
    """Return everything that `life` says as plain data."""
    build = found.build
    return answer(
        build,
        {
            "lasts": found.lasts,
            "sentence": headline(found),
            "sentences": sentences(found),
            "service_life_h": found.service_hours,
            "flight_time_s": build.flying.flight_time,
            "lives": [lives_row(life) for life in found.lives],
            "keeping": [keeping_row(one) for one in found.keeping],
            "levers": [asdict(lever) for lever in found.levers],
            "mix": [asdict(kind) for kind in found.kinds],
            "events": asdict(build.flying.events),
            "assumptions": [asdict(item) for item in build.assumptions],
            "notes": list(build.notes),
            "breaches": [*life_remarks(found), *found.loads.breaches],
        },
    )
