"""What failures do, as people read it: the worst first, in words, tables and data."""

from __future__ import annotations

import math
from typing import Any

from rich.console import Console
from rich.table import Table
from rich.text import Text

from bladehold.report.data import answer
from bladehold.report.plain_table import number_table, show_table, word_table
from bladehold.report.terminal import show_assumptions, show_cautions, show_notes
from bladehold.study.arm import ArmAnswer
from bladehold.study.consequence import HAZARDOUS, Consequence, ConsequenceAnswer
from bladehold.study.control import ControlAnswer, RotorOut
from bladehold.study.release import BOUNDS, STAND_OFF, ReleaseAnswer
from bladehold.study.words import rpm

CONTROL_HEADS = ("rotor lost", "hover is", "index", "yaw given up", "hardest of the others")
LEFT = (0.75, 0.5, 0.25)
"""Of its ceiling that a damaged rotor gives, in the table of control."""
G_MM = 1e6
"""g mm in a kg m."""


def headline(found: ConsequenceAnswer) -> str:
    """Return the worst that a single failure does, in one sentence."""
    name, screws = found.build.name, [row for row in found.rows if row.loss is not None]
    bad = [row for row in screws if row.effect == HAZARDOUS]
    if found.contained:
        through = f" A screw {bad[0].how} throws the blade: it is a critical part." if bad else ""
        return f"{name}: no failure of a screw that leaves anything to hold is hazardous.{through}"
    # The failure that leaves something to hold tells more of a hub than the one that leaves nothing.
    first = next(row for row in bad if row.loss is not None and row.loss.remaining)
    return (
        f"{name}: {len(bad)} of {len(screws)} single failures of screws are HAZARDOUS, among them the "
        f"{first.member}, {first.how}: {first.because}."
    )


def sentences(found: ConsequenceAnswer) -> list[str]:
    """Return what stands below the headline: control, arm, debris."""
    told = [_control_sentence(found.control) if found.control else f"! Control: {found.no_control}."]
    told.append(_arm_sentence(found.arm) if found.arm else f"! Arm: {found.no_arm}.")
    told.append(_release_sentence(found.release))
    told.append(
        f"From {found.build.release.height:.4g} m it takes {found.landing:.0f} s to land at "
        f"{found.build.flying.descent_speed:g} m/s."
    )
    return told


def _control_sentence(control: ControlAnswer) -> str:
    worst = control.worst
    said = f"Control: with rotor {worst.rotor} lost hover is {worst.hover}"
    if worst.thrust is None or control.margin is None:
        return f"{said}."
    holds = "hold" if control.margin >= 0.0 else "do NOT hold"
    return (
        f"{said}; the hardest of the others gives {worst.hardest:.3g} N, {worst.share:.0%} of what it can, "
        f"and their hubs {holds} that: {control.part}, margin {control.margin:+.2f}.{_warm(control)}"
    )


def _warm(control: ControlAnswer) -> str:
    """What the windings say to the hardest thrust."""
    if control.at <= control.lasting:
        return ""
    return f" Motors last at {control.lasting:.3g} N at most: land before their windings are too hot."


def _arm_sentence(arm: ArmAnswer) -> str:
    worst, hover = arm.worst, arm.hover
    return (
        f"Arm, a blade lost: {arm.force[hover]:.3g} N turn with the rotor in hover, margin at the clamp "
        f"{arm.stress.margin[hover]:+.2f}; smallest {arm.stress.margin[worst]:+.2f} at "
        f"{rpm(float(arm.speed[worst])):.0f} rpm, steady."
    )


def _release_sentence(release: ReleaseAnswer) -> str:
    return (
        f"A blade that leaves at {rpm(release.fastest):.0f} rpm ({release.fastest_from}) flies off with "
        f"{release.speed:.3g} m/s and {release.translation + release.rotation:.3g} J; stand-off for tests "
        f"{release.stand_off:.3g} m."
    )


def show_loss(console: Console, found: ConsequenceAnswer) -> None:
    """Print the verdict, what each failure does, the states behind it, control, debris, what is left."""
    build = found.build
    console.print(Text(headline(found), style="bold" if found.contained else "bold red"))
    for sentence in sentences(found):
        console.print(Text(sentence, style="yellow" if sentence.startswith("!") else ""))
    show_table(console, "What each failure does, the worst first", _row_table(found))
    show_table(console, "States of a blade, in hover", _state_table(found))
    if found.control is not None:
        show_table(
            console, "A rotor lost: how far hover lies inside what is left", _control_table(found.control)
        )
    show_table(console, "A blade that leaves: how far it lands, m", _throw_table(found.release))
    show_notes(console, "Published figures of injury beside it", against_words(found.release))
    show_notes(console, "How it is noticed, and what lowers it", _whys(found))
    show_notes(console, "What is left of risk", found.rest)
    show_notes(console, "Notes on the sheet", build.notes)
    show_assumptions(console, [*build.assumptions, *build.loss_assumptions])
    show_notes(console, "Unconfirmed figures", found.release.unconfirmed)
    show_notes(console, "Remarks on formulas and figures", remarks(found))
    show_cautions(console, invented=build.invented)


def remarks(found: ConsequenceAnswer) -> list[str]:
    """Return ranges left, guesses and assumptions of method, each once."""
    arm = () if found.arm is None else found.arm.stress.remarks
    told = [*found.breaches, *arm, f"Stand-off: {STAND_OFF}"]
    return list(dict.fromkeys(told))


def _row_table(found: ConsequenceAnswer) -> Table:
    table = word_table("effect", "what fails", "blade: hover / all flight", "hover then", "why")
    for row in found.rows:
        style = "bold red" if row.effect == HAZARDOUS else ""
        table.add_row(
            row.effect,
            f"{row.member}: {row.how}",
            blade_words(row),
            row.hover or "?",
            row.because,
            style=style,
        )
    return table


def blade_words(row: Consequence) -> str:
    """Return the state of the blade in hover, and in all flight where that is another."""
    worst = row.state.name
    return worst if row.in_hover == worst else f"{row.in_hover} / {worst}"


def state_cells(found: ConsequenceAnswer) -> list[tuple[str, ...]]:
    """Return a row of words for every state of a blade."""
    return [
        (
            state.name,
            f"{G_MM * state.unbalance:.0f}",
            f"{state.force:.0f}",
            f"{state.thrust_lost:.0%}",
            f"{state.torque_lost:.0%}",
            f"{state.hub_moment:.2f}",
            f"{math.degrees(state.angle):.1f}",
        )
        for state in found.states.values()
    ]


def _state_table(found: ConsequenceAnswer) -> Table:
    units = ("unbalance\ng mm", "force\nN", "thrust\nlost", "torque\nlost", "hub\nN·m", "angle\ndeg")
    return _filled(number_table("", *units), state_cells(found))


def control_cells(control: ControlAnswer) -> list[tuple[str, ...]]:
    """Return a row of words for the whole aircraft and for every rotor lost."""
    whole = ("none", "held", f"{control.index:.3g}", f"{control.index_without_yaw:.3g}", "–")
    rows = [_out_cells(one, one.rotor) for one in control.out]
    at = control.names.index(control.worst.rotor)
    less = [control.degraded(at, left) for left in LEFT]
    return [whole, *rows, *(_out_cells(one, f"{one.rotor} gives {one.left:.0%}") for one in less)]


def _out_cells(one: RotorOut, name: str) -> tuple[str, ...]:
    hardest = "–" if one.thrust is None else f"{one.hardest:.3g} N, {one.share:.0%} of the ceiling"
    return name, one.hover, f"{one.index:.3g}", f"{one.index_without_yaw:.3g}", hardest


def _control_table(control: ControlAnswer) -> Table:
    return _filled(word_table(*CONTROL_HEADS), control_cells(control))


def throw_cells(release: ReleaseAnswer) -> list[tuple[str, ...]]:
    """Return a row of words for every place that a blade leaves from."""
    return [
        (
            throw.place,
            f"{throw.speed:.1f}",
            f"{throw.height:.3g}",
            *(f"{distance:.0f}" for distance in throw.distance),
            f"{throw.striking_energy.max():.0f}",
        )
        for throw in release.throws
    ]


def _throw_table(release: ReleaseAnswer) -> Table:
    bounds = (f"{bound}\nm" for bound in BOUNDS)
    table = number_table("from", "leaves\nm/s", "height\nm", *bounds, "strikes\nJ")
    return _filled(table, throw_cells(release))


def against_words(release: ReleaseAnswer) -> list[str]:
    """Return every published figure with what a blade has, translation alone counted for its energy."""
    return [
        f"{one.figure.value:g} {one.figure.unit}, {one.figure.meaning} [{one.figure.provenance.source}]: "
        f"{'EXCEEDED, ' if one.exceeded else ''}{one.ours:.3g} {one.figure.unit}"
        for one in release.against
    ]


def _filled(table: Table, rows: list[tuple[str, ...]]) -> Table:
    for row in rows:
        table.add_row(*row)
    return table


def _whys(found: ConsequenceAnswer) -> list[str]:
    return [f"{row.member}, {row.how}: {row.noticed}. Lowers it: {row.lowers}." for row in found.rows]


def loss_rows(found: ConsequenceAnswer) -> list[dict[str, Any]]:
    """Return every failure as a plain row, the worst first."""
    return [_row(row) for row in found.rows]


def _row(row: Consequence) -> dict[str, Any]:
    arm, at = row.arm, 0 if row.arm is None else row.arm.hover
    return {
        "member": row.member,
        "how": row.how,
        "effect": row.effect,
        "because": row.because,
        "blade_in_hover": row.in_hover,
        "blade": row.state.name,
        "unbalance_g_mm": G_MM * row.state.unbalance,
        "force_in_hover_N": row.state.force,
        "hover": row.hover,
        "arm_margin_in_hover": None if arm is None else float(arm.stress.margin[at]),
        "arm_margin_smallest": None if arm is None else float(arm.stress.margin.min()),
        "vibration_in_hover_m_s2": None if arm is None else float(arm.measure[:, at].max()),
        "noticed": row.noticed,
        "lowers": row.lowers,
        "hours_left": row.hours,
    }


def loss_data(found: ConsequenceAnswer) -> dict[str, Any]:
    """Return everything `loss` says as plain data, SI units."""
    release, control = found.release, found.control
    return answer(
        found.build,
        {
            "sentence": headline(found),
            "contained": found.contained,
            "failures": loss_rows(found),
            "states": [dict(vars(state)) for state in found.states.values()],
            "control": None if control is None else _control_data(control),
            "no_control": found.no_control,
            "arm": None if found.arm is None else _arm_data(found.arm),
            "no_arm": found.no_arm,
            "release": {
                "fastest_rpm": rpm(release.fastest),
                "fastest_from": release.fastest_from,
                "speed_m_s": release.speed,
                "tip_speed_m_s": release.tip_speed,
                "translation_J": release.translation,
                "rotation_J": release.rotation,
                "stand_off_m": release.stand_off,
                "barrier_J": release.barrier,
                "throws": [_throw(throw) for throw in release.throws],
                "against": [
                    {"figure": one.figure.meaning, "value": one.figure.value, "unit": one.figure.unit}
                    | {"ours": one.ours, "exceeded": one.exceeded, "source": one.figure.provenance.source}
                    for one in release.against
                ],
            },
            "landing_s": found.landing,
            "residual_risk": list(found.rest),
            "assumptions": [vars(item) for item in found.build.loss_assumptions],
            "remarks": remarks(found),
        },
    )


def _throw(throw: Any) -> dict[str, Any]:
    landed = dict(zip(BOUNDS, (float(distance) for distance in throw.distance), strict=True))
    return {"place": throw.place, "speed_m_s": throw.speed, "height_m": throw.height, "distance_m": landed}


def _control_data(control: ControlAnswer) -> dict[str, Any]:
    return {
        "ceiling_N": control.ceiling,
        "ceiling_from": control.ceiling_from,
        "lasting_N": control.lasting,
        "index": control.index,
        "index_without_yaw": control.index_without_yaw,
        "lost": [
            {
                "rotor": one.rotor,
                "hover": one.hover,
                "index": one.index,
                "index_without_yaw": one.index_without_yaw,
                "thrusts_N": None if one.thrust is None else [float(value) for value in one.thrust],
            }
            for one in control.out
        ],
        "margin_of_the_others": control.margin,
        "check": control.part,
    }


def _arm_data(arm: ArmAnswer) -> dict[str, Any]:
    return {
        "unbalance_kgm": arm.unbalance,
        "frequencies_Hz": arm.frequencies,
        "meetings": [
            {"mode": one.mode, "order": one.order, "rpm": rpm(one.speed), "inside": one.inside}
            for one in arm.meetings
        ],
        "margin_in_hover": float(arm.stress.margin[arm.hover]),
        "margin_smallest": float(arm.stress.margin[arm.worst]),
        "at_rpm": rpm(float(arm.speed[arm.worst])),
        "vibration_in_hover_m_s2": float(arm.measure[:, arm.hover].max()),
        "feels": arm.feels(arm.hover),
    }
