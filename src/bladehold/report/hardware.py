"""The hubs of a search: the lightest that hold, and why the others are out."""

from __future__ import annotations

import math
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.data import answer
from bladehold.report.plain_table import show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes, signed_margin
from bladehold.sheet import Build
from bladehold.study.hardware import LIVES, Hardware, Search
from bladehold.study.words import span

SHOWN, SHOWN_OUT = LIVES, 8


def headline(found: Search, build: Build) -> str:
    """Return the lightest hub that holds, in one sentence, or that there is none."""
    count = len(found.held) + len(found.out)
    tried = f"of {count} hubs tried {len(found.held)} hold"
    best = found.best
    if best is None:
        nearest = found.out[0].reason
        return f"{build.name}: NO hub among the {count} tried holds; the nearest is out by: {nearest}."
    margin = f"{grams(best.added)} per rotor, margin {best.margin:+.2f}"
    return f"{build.name}: {tried}; the lightest is {words(best)}, {margin}."


def words(one: Hardware) -> str:
    """Return what a hub has that the sheet's has not."""
    changed = [f"{axis} {text}" for axis, text in one.chosen.items() if text != "as it is"]
    return ", ".join(changed) or "the hub of the sheet"


def grams(added: float) -> str:
    """Return a mass that is added, in g, with its sign."""
    return "–" if math.isnan(added) else f"{1e3 * added:+.1f} g"


def show_search(console: Console, build: Build, found: Search, *, every: bool) -> None:
    """Print the ranked hubs that hold and those that are out; every - all of both."""
    console.print(Text(headline(found, build), style="bold" if found.best else "bold red"))
    present = found.present
    now = f"The hub of the sheet: margin {present.margin:+.2f}, {present.key}."
    console.print(Text(now))
    most = found.most_added
    allowed = "" if most is None else f", at most {1e3 * most:.3g} g added"
    held = found.held if every else found.held[:SHOWN]
    if held:
        show_table(console, f"Hubs that hold, lightest first{allowed}", _held_table(found, build, held))
    _more(console, len(found.held) - len(held), "hold")
    out = found.out if every else found.out[:SHOWN_OUT]
    if out:
        show_table(console, "Out, the nearest to holding first", _out_table(found, out))
    _more(console, len(found.out) - len(out), "are out")
    notes = [
        "Strength of all parts, in all that is flown and on the bench; the life beside is that of the part "
        "that wears first, at a scatter factor of 8. Screws are taken as long as they need to be and "
        "clamped with the force of the present ones.",
        "Added mass is that of one rotor, from measures and densities; plates and lugs as straight strips.",
    ]
    show_notes(console, "How to read this", notes)
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_cautions(console, invented=build.invented)


def _more(console: Console, count: int, what: str) -> None:
    if count > 0:
        console.print(Text(f"{count} more {what}: --all, or --csv", style="dim"))


def _held_table(found: Search, build: Build, held: tuple[Hardware, ...]) -> Table:
    table = word_table(*found.axes, "added", "margin", "governed by", "life")
    for one in held:
        assert one.margin is not None
        table.add_row(
            *(one.chosen[axis] for axis in found.axes),
            grams(one.added),
            signed_margin(one.margin, build.policy.marginal),
            one.key,
            _life(one),
        )
    return table


def _life(one: Hardware) -> str:
    if one.lasts is None:
        return ""
    if one.hours is None:
        return "no wear"
    return f"{'✓' if one.lasts else '✗'} {span(one.hours)}"


def _out_table(found: Search, out: tuple[Hardware, ...]) -> Table:
    table = word_table(*found.axes, "added", "out because")
    for one in out:
        table.add_row(*(one.chosen[axis] for axis in found.axes), grams(one.added), one.reason)
    return table


def search_rows(found: Search) -> list[dict[str, Any]]:
    """Return every hub looked at, ranked, as plain rows."""
    return [_row(one) for one in (*found.held, *found.out)]


def _row(one: Hardware) -> dict[str, Any]:
    return {
        **one.chosen,
        "added_kg": None if math.isnan(one.added) else one.added,
        "margin": one.margin,
        "check": one.key,
        "holds": not one.reason,
        "reason": one.reason,
        "life_h": one.hours,
        "lasts": one.lasts,
    }


def search_data(found: Search, build: Build) -> dict[str, Any]:
    """Return everything a search says as plain data."""
    best = found.best
    return answer(
        build,
        {
            "sentence": headline(found, build),
            "axes": list(found.axes),
            "most_added_kg": found.most_added,
            "present": _row(found.present),
            "best": None if best is None else _row(best),
            "hubs": search_rows(found),
            "assumptions": [vars(item) for item in build.assumptions],
            "notes": list(build.notes),
        },
    )
