"""How far hardware may be loaded, in the terminal."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.terminal import show_cautions
from bladehold.sheet import Build
from bladehold.study.checks.parts import verb
from bladehold.study.flight_limit import FlightLimit, FlightLimits
from bladehold.study.limit import Limit, PartLimit
from bladehold.study.words import limit_sentence, rpm


def show_limit(console: Console, build: Build, limit: Limit, flight: FlightLimits | str) -> None:
    """Print the limits part by part; flight - of speed and load factor, or why there are none."""
    console.print(Text(f"{build.name}: {limit_sentence(limit)}", style="bold"))
    if isinstance(flight, str):
        console.print(Text(f"How fast and hard it may be flown is not told: {flight}", style="yellow"))
    else:
        console.print(Text(flight_sentence(flight)))
    table = Table(title="Where each part's margin is zero", title_justify="left", padding=(0, 1))
    table.add_column("part")
    for title in (
        "steady thrust\nkgf",
        "hardest condition\nkgf",
        "fastest\nrpm",
        "of the\nrating",
        "level speed\nm/s",
        "load\nfactor",
    ):
        table.add_column(title, justify="right")
    flown = {} if isinstance(flight, str) else {part.part: part for part in flight.parts}
    for part in limit.parts:
        of = flown.get(part.part)
        ends = ("", "") if of is None or isinstance(flight, str) else _flown(flight, of)
        table.add_row(part.part, *_thrusts(limit, part), *ends)
    console.print(table)
    console.print(
        Text(
            "Level speed: pulled up there to the sheet's load factor, at its pitch rate; load factor: pulled "
            "up to at the sheet's top speed. The worse of warm and cold air; gusts and the centrifugal "
            "proof are not in these two."
        )
    )
    show_cautions(console, invented=build.invented)


def _thrusts(limit: Limit, part: PartLimit) -> tuple[str, str, str, str]:
    if not math.isfinite(part.thrust):
        return "not reached", "", "", ""
    if part.thrust <= 0.0:
        return "0 (fails unloaded)", "", "", ""
    claim = limit.claimed_thrust
    return (
        f"{part.thrust / GRAVITY:.2f}",
        f"{part.peak_thrust / GRAVITY:.2f}",
        f"{rpm(part.speed):.0f}",
        f"{100 * part.peak_thrust / claim:.0f} %" if claim else "",
    )


def _flown(flight: FlightLimits, part: FlightLimit) -> tuple[str, str]:
    def told(value: float, greatest: float, digits: int) -> str:
        if not math.isfinite(value):
            return f"over {greatest:.{digits}f}"
        return "none" if value <= 0.0 else f"{value:.{digits}f}"

    return told(part.speed, flight.greatest[0], 1), told(part.load_factor, flight.greatest[1], 2)


def flight_sentence(flight: FlightLimits) -> str:
    """Return how fast and how hard the aircraft may be flown, and what stops it."""
    top, factor = flight.asked
    fast, hard = flight.speed, flight.load_factor
    if math.isinf(fast.speed):
        one = f"Pulled up to {factor:g} all parts hold beyond {flight.greatest[0]:.3g} m/s"
    elif fast.speed <= 0.0:
        one = f"Pulled up to {factor:g} the {fast.part} {verb(fast.part, 'fails', 'fail')} in hover already"
    else:
        one = f"Pulled up to {factor:g} all parts hold to {fast.speed:.1f} m/s, then not the {fast.part}"
    if math.isinf(hard.load_factor):
        two = f"at {top:g} m/s beyond a load factor of {flight.greatest[1]:.3g}"
    elif hard.load_factor <= 0.0:
        two = f"at {top:g} m/s not even level flight holds, because of the {hard.part}"
    else:
        two = f"at {top:g} m/s to a load factor of {hard.load_factor:.2f}, then not the {hard.part}"
    return f"{one}; {two}."


def limit_rows(limits: Mapping[str, Any], flown: Mapping[str, Any] | None) -> list[dict[str, Any]]:
    """Return the limits part by part as plain rows; flown - what is known of speed and load factor."""
    of = {row["part"]: row for row in flown["parts"]} if flown else {}
    return [{**row, **of.get(row["part"], {})} for row in limits["parts"]]
