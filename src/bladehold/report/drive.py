"""What motor and battery make of the flying, as people meet it: sentences, tables, plain data."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import Any

import numpy as np
from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.air import GRAVITY
from bladehold.power import ENDS
from bladehold.report.data import answer
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.study.checks.parts import verb
from bladehold.study.drive import DriveAnswer, Greatest
from bladehold.study.words import kgf, limit_sentence, rpm

ZERO = 273.15


def minutes(seconds: float) -> str:
    """Return a time in minutes, "none" where there is none."""
    return f"{seconds / 60.0:.3g} min" if seconds > 0.0 else "no time"


def figure(value: float, digits: int = 0) -> str:
    """Return a number with so many decimals, a dash where there is none."""
    return f"{value:.{digits}f}" if math.isfinite(value) else "–"


def reasons(found: DriveAnswer) -> list[str]:
    """Return why motor and battery do not serve, one reason each; empty where they do."""
    told, flown = [], found.flown
    kinds = (
        ("collapsed", "the battery collapses"),
        ("saturated", "full throttle is not enough"),
        ("over_current", "the motor's current is too high"),
        ("over_temperature", "the windings get too hot"),
        ("over_pack_current", "the battery's current is too high"),
    )
    for name, words in kinds:
        for state, charge in ((flown.full, "full"), (flown.low, "at its reserve")):
            passed: Any = getattr(state, name)
            passed = passed if passed.ndim == 1 else passed.any(axis=-1)
            if name != "collapsed":
                passed = passed & ~state.collapsed  # where nothing else is worth a word
            if passed.any():
                where = flown.names[int(passed.argmax())]
                more = int(passed.sum()) - 1
                also = f" and {more} more" if more else ""
                told.append(f"{words} in {where}{also}, battery {charge}")
                break
    end = found.mission.flight
    if math.isfinite(float(end.ends)):
        where = found.mission.names[int(end.where)]
        told.append(f"the flight ends after {minutes(float(end.ends))}, in {where}: {ENDS[int(end.why)]}")
    return told


def headline(found: DriveAnswer) -> str:
    """Return whether motor and battery serve, in one sentence."""
    listed = reasons(found)
    if listed:
        return f"{found.build.name}: motor and battery DO NOT SERVE: {'; '.join(listed)}."
    left = 100.0 * float(found.mission.flight.charge[-1])
    return (
        f"{found.build.name}: motor and battery SERVE: the usual flight leaves {left:.0f} % of the "
        "charge, and at the "
        f"reserve {100 * found.throttle_left:.0f} % of the throttle are left in the hardest flying."
    )


def sentences(found: DriveAnswer) -> list[str]:
    """Return what stands above the tables, after the headline."""
    build = found.build
    full, low = found.greatest[0], found.greatest[-1]
    told = [
        f"Hover in the warm air: {_hover(found)}; figure of merit of the rotor {found.hover_merit:.2f}. "
        f"Hover alone lasts {minutes(found.hover_endurance)}; the mission, over and over, "
        f"{minutes(float(found.mission.longest.ends))}.",
        f"Greatest thrust of a rotor: {kgf(full.thrust)} kgf with the battery full ({full.stop}), "
        f"{kgf(low.thrust)} "
        f"kgf at its reserve ({low.stop}); lasting {kgf(low.lasting)} kgf ({low.lasting_stop}). Thrust "
        "to weight "
        f"{full.over_weight:.2f} full, {low.over_weight:.2f} at the reserve.",
        limit_sentence(found.held),
    ]
    claim = build.flying.claimed_thrust
    if claim is not None:
        told.append(_claim(found, claim, full))
    return told


def _hover(found: DriveAnswer) -> str:
    flown, at = found.flown, found.hover
    if not math.isfinite(float(flown.power[at])):
        return "more than the battery can give"
    return (
        f"throttle {100 * flown.full.throttle[at].max():.0f} %, {flown.power[at]:.0f} W out of the battery, "
        f"{flown.thrust_per_power[at]:.1f} g/W"
    )


def _claim(found: DriveAnswer, claim: float, full: Greatest) -> str:
    """What the maker's rating is worth on this aircraft."""
    held = found.held.lowest
    beyond = []
    if claim > full.thrust:
        beyond.append(f"motor and battery turn it to {kgf(full.thrust)} kgf at the most ({full.stop})")
    if claim > held.peak_thrust or held.thrust <= 0.0:
        holds = "nothing" if held.thrust <= 0.0 else f"{kgf(held.peak_thrust)} kgf"
        beyond.append(f"the {held.part} {verb(held.part, 'holds', 'hold')} {holds}")
    if not beyond:
        return f"The maker's rating of {kgf(claim)} kgf is within what motor, battery and hub can do."
    return f"! The maker's rating of {kgf(claim)} kgf is beyond this aircraft: {'; '.join(beyond)}."


def show_drive(console: Console, found: DriveAnswer) -> None:
    """Print what motor and battery make of the flying."""
    build = found.build
    assert build.drive is not None
    console.print(Text(headline(found), style="bold" if found.serves else "bold red"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_table(console, "In every condition, battery full; throttle also at its reserve", _flown_table(found))
    show_table(console, "Where the battery's power goes in hover", _loss_table(found))
    show_table(console, "The usual flight, battery full at the start", _mission_table(found))
    show_table(console, "Greatest thrust of a rotor, all alike", _greatest_table(found))
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, (*build.drive_assumptions, *build.assumptions))
    show_notes(console, "Remarks on formulas and figures", found.breaches)
    show_cautions(console, invented=build.invented)


def flown_rows(found: DriveAnswer) -> list[dict[str, Any]]:
    """Return a row per condition of what the power train does, its hardest rotor where rotors differ."""
    flown, rows = found.flown, []
    for at, name in enumerate(flown.names):
        full, low = flown.full, flown.low
        rows.append(
            {
                "condition": name,
                "throttle": float(full.throttle[at].max()),
                "throttle_at_reserve": float(low.throttle[at].max()),
                "motor_current_A": float(full.motor.current[at].max()),
                "winding_K": float(full.temperature[at].max()),
                "battery_V": float(full.pack_voltage[at]),
                "battery_A": float(full.pack_current[at]),
                "power_W": float(flown.power[at]),
                "thrust_per_power_g_W": float(flown.thrust_per_power[at]),
                "speed_rpm": rpm(float(flown.speed[at].max())),
                "fits": bool(full.fits[at]),
                "fits_at_reserve": bool(low.fits[at]),
            }
        )
    return rows


def _flown_table(found: DriveAnswer) -> Table:
    table = number_table(
        "", "throttle\n%", "reserve\n%", "motor\nA", "winding\n°C", "battery\nV", "\nA", "g/W"
    )
    for row in flown_rows(found):
        sign = "" if row["fits_at_reserve"] else " ✗"
        table.add_row(
            f"{row['condition']}{sign}",
            figure(100 * row["throttle"]),
            figure(100 * row["throttle_at_reserve"]),
            figure(row["motor_current_A"], 1),
            figure(row["winding_K"] - ZERO),
            figure(row["battery_V"], 1),
            figure(row["battery_A"]),
            figure(row["thrust_per_power_g_W"], 1),
        )
    return table


def loss_rows(found: DriveAnswer) -> list[dict[str, Any]]:
    """Return where the battery's power goes in hover: W, and share of it."""
    state, at = found.flown.full, found.hover
    whole = float(state.chemical[at])
    parts = {
        "shafts": float(state.motor.shaft[at].sum()),
        "copper of the motors": float(state.motor.copper[at].sum()),
        "iron and friction of the motors": float(state.motor.iron[at].sum()),
        "controllers": float(state.controller[at].sum()),
        "cables": float(state.wiring[at].sum()),
        "inside the battery": float(state.internal[at]),
        "everything else on board": float(state.other),
    }
    return [{"where": name, "power_W": value, "share": value / whole} for name, value in parts.items()]


def _loss_table(found: DriveAnswer) -> Table:
    table = number_table("", "W", "%")
    rows = loss_rows(found)
    for row in rows:
        table.add_row(row["where"], figure(row["power_W"]), figure(100 * row["share"], 1))
    total = sum(row["power_W"] for row in rows)
    table.add_row("all together", figure(total), figure(100 * sum(row["share"] for row in rows), 1))
    return table


def mission_rows(found: DriveAnswer) -> list[dict[str, Any]]:
    """Return a row per segment of the usual flight: time, speeds, power, energy, charge at its end."""
    mission, rows = found.mission, []
    flight = mission.flight
    time = found.build.flying.flight_time
    for at, name in enumerate(mission.names):
        steps = np.flatnonzero(flight.segment == at)
        over = steps.size == 0 or flight.ends < flight.time[steps[-1] + 1]
        end = None if over else float(flight.charge[steps[-1] + 1])
        flown = np.clip(flight.ends - flight.time[:-1], 0.0, np.diff(flight.time))[steps]
        spent = np.where(flown > 0.0, flown * flight.power[steps], 0.0)
        rows.append(
            {
                "segment": name,
                "share": float(mission.share[at]),
                "time_s": float(mission.share[at] * time),
                "air_speed_m_s": float(mission.speed[at]),
                "ground_speed_m_s": float(mission.ground[at]),
                "power_W": float(mission.power[at]),
                "energy_J": float(spent.sum()),
                "charge_at_end": end,
            }
        )
    return rows


def _mission_table(found: DriveAnswer) -> Table:
    table = number_table("", "min", "air\nm/s", "ground\nm/s", "W", "Wh", "charge\nleft, %")
    for row in mission_rows(found):
        left = "–" if row["charge_at_end"] is None else f"{100 * row['charge_at_end']:.0f}"
        table.add_row(
            row["segment"],
            f"{row['time_s'] / 60:.1f}",
            f"{row['air_speed_m_s']:.1f}",
            f"{row['ground_speed_m_s']:.1f}",
            figure(row["power_W"]),
            figure(row["energy_J"] / 3600),
            left,
        )
    return table


def _greatest_table(found: DriveAnswer) -> Table:
    table = word_table("charge", "for a moment", "stopped by", "lasting", "stopped by", "thrust to weight")
    for one in found.greatest:
        table.add_row(
            f"{100 * one.charge:.0f} %",
            f"{kgf(one.thrust)} kgf at {rpm(one.speed):.0f} rpm",
            one.stop,
            f"{kgf(one.lasting)} kgf",
            one.lasting_stop,
            f"{one.over_weight:.2f}",
        )
    return table


def drive_data(found: DriveAnswer) -> dict[str, Any]:
    """Return everything that `drive` says as plain data."""
    build, mission = found.build, found.mission
    return answer(
        build,
        {
            "serves": found.serves,
            "sentence": headline(found),
            "sentences": sentences(found),
            "reasons": reasons(found),
            "conditions": flown_rows(found),
            "hover_losses": loss_rows(found),
            "hover_figure_of_merit": found.hover_merit,
            "hover_endurance_s": found.hover_endurance,
            "throttle_left_at_reserve": found.throttle_left,
            "needed_thrust_N": found.needed,
            "needed_in": found.needed_in,
            "greatest": [
                {**asdict(one), "thrust_kgf": one.thrust / GRAVITY, "speed_rpm": rpm(one.speed)}
                for one in found.greatest
            ],
            "mission": {
                "segments": mission_rows(found),
                "ends_s": float(mission.flight.ends),
                "why": ENDS[int(mission.flight.why)],
                "charge_left": float(mission.flight.charge[-1]),
                "least_voltage_V": float(mission.flight.voltage.min()),
                "hottest_winding_K": float(mission.flight.temperature.max()),
                "energy_J": float(mission.flight.energy),
                "distance_m": mission.distance,
                "endurance_s": float(mission.longest.ends),
                "history": history_rows(found),
            },
            "endurance_by_mass": [
                {"mass_kg": float(m), "endurance_s": float(t)}
                for m, t in zip(found.mass, found.endurance, strict=True)
            ],
            "assumptions": [asdict(item) for item in (*build.drive_assumptions, *build.assumptions)],
            "notes": list(build.notes),
            "breaches": list(found.breaches),
        },
    )


def history_rows(found: DriveAnswer) -> list[dict[str, Any]]:
    """Return the usual flight step by step."""
    flight = found.mission.flight
    return [
        {
            "time_s": float(flight.time[at]),
            "segment": found.mission.names[int(flight.segment[at])],
            "charge": float(flight.charge[at]),
            "voltage_V": float(flight.voltage[at]),
            "current_A": float(flight.current[at]),
            "winding_K": float(flight.temperature[at]),
        }
        for at in range(flight.segment.size)
    ]
