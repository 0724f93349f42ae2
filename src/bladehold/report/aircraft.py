"""What flying asks of each rotor, as people meet it: sentences, tables, plain data."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.report.data import answer
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.study.envelope import AircraftAnswer
from bladehold.study.kinds import Kind
from bladehold.study.words import kgf, rpm

SHOWN = ("hover", "cruise", "top speed", "manoeuvre at top speed")
MASSES = "the thrust used over an even share of the weight"


def headline(found: AircraftAnswer) -> str:
    """Return which flying is the hardest for a rotor, and which for its parts."""
    loads, trim = found.assessment.loads, found.trims[0]
    hard = int(loads.thrust[:-1].argmax())
    check = found.assessment.governing
    rotor = "" if trim.frame is None else f", rotor {_rotor(found, hard)}"
    return (
        f"{found.build.name}: hardest for a rotor is {loads.names[hard]}{rotor}: "
        f"{kgf(loads.thrust[hard])} kgf at "
        f"{rpm(loads.speed[hard]):.0f} rpm. Least margin: {check.part}, {check.mode} ({check.level}), "
        f"{check.margin:+.2f} in {check.condition}."
    )


def _rotor(found: AircraftAnswer, at: int) -> str:
    """Name of the rotor that works hardest in a condition of the flights."""
    place, kind = divmod(at, len(found.kinds))
    if place >= len(found.trims):
        return "of the case"
    trim = found.trims[place]
    return "" if trim.frame is None else trim.frame.names[int(trim.rotor[kind])]


def sentences(found: AircraftAnswer) -> list[str]:
    """Return what stands above the tables, after the headline."""
    flying, told = found.build.flying, []
    even = found.build.aircraft.mass * GRAVITY / found.build.aircraft.rotors
    told.append(
        f"An even share of the weight is {kgf(even)} kgf; in hover a rotor is used with "
        f"{kgf(flying.used_thrust)} "
        f"kgf, and all other thrusts are taken as much larger."
    )
    trim = found.trims[0].trim
    if trim is not None:
        left = max(_residuals(found))
        bound = "less than 1e-9" if left < 1e-9 else f"{left:.0e}"
        told.append(
            f"Balanced in {len(found.kinds)} kinds of flight in {len(found.air)} kinds of air: {bound} "
            "of the "
            "weight is left over."
        )
    if found.left is not None:
        roll, pitch, yaw = found.left.moment
        told.append(
            "Left for steering in hover, with the maker's rating as the most a rotor gives: roll "
            f"{roll:.0f}, "
            f"pitch {pitch:.0f}, yaw {yaw:.1f} N·m."
        )
    return [*told, *(f"! {note[:1].upper()}{note[1:]}." for note in found.notes)]


def show_aircraft(console: Console, found: AircraftAnswer) -> None:
    """Print what is flown, rotor by rotor, and what governs."""
    build = found.build
    console.print(Text(headline(found), style="bold" if found.assessment.holds else "bold red"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    for place, weather in enumerate(found.air):
        title = (
            f"What is flown in the {weather.label} air, {weather.temperature - 273.15:.0f} °C at "
            f"{weather.altitude:.0f} m"
        )
        show_table(console, title, _kind_table(found, place))
    if found.trims[0].frame is not None:
        show_table(console, "Rotor by rotor in the warm air, kgf", _rotor_table(found))
    show_table(console, "What governs each part", _governing_table(found))
    show_notes(console, "Where each kind comes from", _bases(found))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, build.assumptions)
    show_notes(console, "Remarks on formulas and figures", found.assessment.breaches)
    show_cautions(console, invented=build.invented)


def _kind_table(found: AircraftAnswer, place: int) -> Table:
    table = number_table(
        "", "pitch\n°", "roll\n°", "rotors, kgf\nleast", "\nmost", "rpm\nmost", "of the flight"
    )
    for row in kind_rows(found):
        if row["air"] != found.air[place].label:
            continue
        angles = (
            ("–", "–") if row["pitch_deg"] is None else (f"{row['pitch_deg']:.1f}", f"{row['roll_deg']:.1f}")
        )
        table.add_row(
            row["kind"],
            *(text.replace("-0.0", "0.0") for text in angles),
            f"{row['least_thrust_N'] / GRAVITY:.2f}",
            f"{row['greatest_thrust_N'] / GRAVITY:.2f}",
            f"{row['greatest_speed_rpm']:.0f}",
            _often(row),
        )
    return table


def _often(row: dict[str, Any]) -> str:
    if row["share"] > 0.0:
        return f"{100 * row['share']:.0f} %"
    if row["times"] > 0.0:
        return f"{row['times']:g} × {row['lasts_s']:g} s"
    return "its limit"


def kind_rows(found: AircraftAnswer) -> list[dict[str, Any]]:
    """Return a row per kind of flight and air: attitude, thrusts and speeds of all rotors, how much of it."""
    rows, loads = [], found.assessment.loads
    scale = found.build.flying.used_thrust / (
        found.build.aircraft.mass * GRAVITY / found.build.aircraft.rotors
    )
    for place, (weather, trim) in enumerate(zip(found.air, found.trims, strict=True)):
        for at, kind in enumerate(found.kinds):
            column = place * len(found.kinds) + at
            thrusts = [float(loads.thrust[column])] * found.build.aircraft.rotors
            if trim.trim is not None and not kind.sudden:
                thrusts = [float(value) for value in scale * trim.trim.thrust[at]]
            hardest = max(thrusts)
            speeds = [rpm(float(loads.speed[column]) * math.sqrt(value / hardest)) for value in thrusts]
            rows.append(
                {
                    "kind": kind.name,
                    "air": weather.label,
                    "pitch_deg": None if trim.trim is None else math.degrees(trim.trim.pitch[at]),
                    "roll_deg": None if trim.trim is None else math.degrees(trim.trim.roll[at]),
                    "air_speed_m_s": kind.speed,
                    "climb_m_s": kind.climb,
                    "load_factor": kind.load_factor,
                    "gust_m_s": kind.gust,
                    "gust_ahead_m_s": kind.gust_ahead,
                    "least_thrust_N": min(thrusts),
                    "greatest_thrust_N": hardest,
                    "greatest_speed_rpm": max(speeds),
                    "thrusts_N": thrusts,
                    "speeds_rpm": speeds,
                    "share": kind.share,
                    "times": kind.times,
                    "lasts_s": kind.lasts,
                    "basis": kind.basis,
                }
            )
    return rows


def _rotor_table(found: AircraftAnswer) -> Table:
    rows = {row["kind"]: row for row in kind_rows(found) if row["air"] == found.air[0].label}
    kinds = [name for name in SHOWN if name in rows]
    table = number_table("rotor", *(_two_lines(name) for name in kinds))
    frame = found.trims[0].frame
    assert frame is not None
    for at, name in enumerate(frame.names):
        cells = [
            f"{rows[kind]['thrusts_N'][at] / GRAVITY:.2f} at {rows[kind]['speeds_rpm'][at]:.0f}"
            for kind in kinds
        ]
        turns = "cw" if frame.spin[at] > 0.0 else "ccw"
        table.add_row(f"{name}, {turns}", *cells)
    return table


def _two_lines(name: str) -> str:
    first, _, rest = name.partition(" at ")
    return f"{first}\n{'at ' + rest if rest else ''}, kgf at rpm" if rest else f"{name},\nkgf at rpm"


def _governing_table(found: AircraftAnswer) -> Table:
    table = word_table("part", "how it fails", "margin", "in")
    for check in found.assessment.by_part().values():
        margin = f"{check.margin:+.2f}" if math.isfinite(check.margin) else "–"
        table.add_row(check.part, f"{check.mode} ({check.level})", margin, check.condition)
    return table


def _bases(found: AircraftAnswer) -> list[str]:
    cases = [f"{case.name}: flying.case: {case.source}" for case in found.build.flying.cases]
    return [*(f"{kind.name}: {kind.basis}" for kind in found.kinds), *cases]


def aircraft_data(found: AircraftAnswer) -> dict[str, Any]:
    """Return everything that `aircraft` says as plain data."""
    build, frame = found.build, found.trims[0].frame
    rotors = [] if frame is None else list(frame.names)
    return answer(
        build,
        {
            "sentence": headline(found),
            "sentences": sentences(found),
            "holds": found.assessment.holds,
            "rotors": rotors,
            "kinds": kind_rows(found),
            "governing": [
                {"part": part, "check": check.key, "condition": check.condition, "margin": check.margin}
                for part, check in found.assessment.by_part().items()
            ],
            "steering_left_Nm": None if found.left is None else [float(value) for value in found.left.moment],
            "residuals": _residuals(found),
            "assumptions": [asdict(item) for item in build.assumptions],
            "notes": list(build.notes),
            "breaches": list(found.assessment.breaches),
        },
    )


def _residuals(found: AircraftAnswer) -> list[float]:
    trims = [trim.trim for trim in found.trims if trim.trim is not None]
    return [float(np.maximum(one.force_residual, one.moment_residual).max()) for one in trims]


def flown_words(kind: Kind) -> str:
    """Return how much of a flight a kind is, in words."""
    return _often({"share": kind.share, "times": kind.times, "lasts_s": kind.lasts})
