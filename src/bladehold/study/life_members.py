"""The members of a retention that fatigue is looked for in: their cycles of load and their stresses."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import fatigue_parts, notch
from bladehold.joint.bearing_line import BearingLine
from bladehold.joint.contact import ClevisState
from bladehold.joint.fatigue_parts import PartLife, ScrewThread
from bladehold.joint.load_multiplier import ThreadLine
from bladehold.joint.stress_life import HandbookCurve, ReversedLine
from bladehold.sheet.build import Screw
from bladehold.study.checks import material
from bladehold.study.checks.eye import Eye, lug_eye, plate_eye
from bladehold.study.checks.hub_screws import mounting_shares
from bladehold.study.checks.parts import LUG, MOUNTING, PIVOT, PLATES, TIES
from bladehold.study.clevis import root_distance, tie_holes, tie_row
from bladehold.study.cycles import Counted, Span, counted
from bladehold.study.life_curves import (
    THREAD_METHOD,
    Chosen,
    laminate_curve,
    metal_curve,
    shank_curve,
    thread_curve,
)
from bladehold.study.situation import Situation
from bladehold.study.turns import Series, flown_in
from bladehold.tables import Material

FloatArray = NDArray[np.float64]

NOT_CHECKED = "fatigue is not checked"
_ANY_CYCLES = 1.0  # what a part would bear for so many cycles is not asked here


@dataclass(frozen=True, eq=False)
class Member:
    """One part in one mode under all its cycles.

    cycles - and the stress in them, by the states that are looked at one by one (preload, plates); chosen -
    the curve; remarks.
    """

    part: str
    mode: str
    cycles: Counted
    chosen: Chosen[ThreadLine | HandbookCurve | ReversedLine | BearingLine]
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True)
class Unchecked:
    """One part in one mode that no life can be given for, and why."""

    part: str
    mode: str
    why: str


Found = Member | Unchecked | None


def pivot_thread(now: Situation) -> Found:
    """Tension of the pivot screw at its thread, by flap moment and lift."""
    screw = now.build.pivot
    if screw.nut == "circlip":
        return Unchecked(PIVOT, "thread", f"the groove of the circlip is not known: its {NOT_CHECKED}")
    if screw.nut == "none":
        return Unchecked(PIVOT, "thread", f"nothing holds the pivot screw's thread: its {NOT_CHECKED}")
    tension = now.turning.force(lambda state: state.screw_tension)
    return _thread(now, PIVOT, "thread", screw, now.turning.force_rates, tension)


def pivot_section(now: Situation) -> Found:
    """Bending by the blade's pull and tension, at the section between lug and plates."""
    pull = now.turning.pull.times((now.pull_at_yield > 0.0).astype(float))
    return bent_pin(now, Series(*(now.pin_moment_of(value) for value in vars(pull).values())))


def bent_pin(now: Situation, moment: Series) -> Member:
    """The pivot screw's section under bending moments (N*m), with the tension beside them."""
    screw, turning = now.build.pivot, now.turning
    tension = turning.force(lambda state: state.screw_tension)
    mode = "section between lug and plates"
    if screw.shear_plane == "thread":
        return _thread(now, PIVOT, mode, screw, turning.force_rates, tension, moment)
    chosen = shank_curve(screw)

    def stress(bent: Span, pulled: Span) -> PartLife:
        return fatigue_parts.shank_life(
            bent.greatest,
            bent.least,
            screw.shear_diameter,
            chosen.curve,
            _ANY_CYCLES,
            maximum_tension=pulled.greatest,
            minimum_tension=pulled.least,
        )

    return Member(PIVOT, mode, _counted(now, turning.force_rates, stress, moment, tension), chosen)


def _counted(now: Situation, turns: FloatArray, stress: Callable[..., PartLife], *series: Series) -> Counted:
    return counted(now.loads, now.build.flying.flight_time, turns, stress, *series)


def _thread(
    now: Situation,
    part: str,
    mode: str,
    screw: Screw,
    turns: FloatArray,
    tension: Series,
    moment: Series | None = None,
) -> Member:
    thread = ScrewThread(
        diameter=screw.thread.nominal_diameter,
        stress_area=screw.thread.profile.stress_area,
        yield_strength=screw.strength.yield_strength,
        iso_898=screw.strength.family == "steel",
    )

    def stress(pulled: Span, bent: Span | None = None) -> PartLife:
        ends = {} if bent is None else {"maximum_moment": bent.greatest, "minimum_moment": bent.least}
        return fatigue_parts.thread_life(
            pulled.greatest, pulled.least, thread, THREAD_METHOD, _ANY_CYCLES, **ends
        )

    loads = (tension,) if moment is None else (tension, moment)
    return Member(part, mode, _counted(now, turns, stress, *loads), thread_curve(screw))


def lug_hole(now: Situation) -> Found:
    """The lug at its hole: local stress in metal, bearing in a laminate."""
    return _eye(now, LUG, lug_eye(now.build), now.turning.pull, now.turning.lug_moment)


def plate_hole(now: Situation) -> Found:
    """The harder used plate at its hole, half the pull in each."""

    def moment() -> Series:
        return _both(
            now.turning.moment(lambda state: state.upper_hole_moment),
            now.turning.moment(lambda state: state.lower_hole_moment),
        )

    return _eye(now, PLATES, plate_eye(now.build), now.turning.pull.times(0.5), moment)


def _eye(now: Situation, part: str, eye: Eye, pull: Series, moment: Callable[[], Series]) -> Found:
    turns = now.turning.rates
    if eye.material.kind == "laminate":
        strength = material.bearing(eye.material, eye.edge / eye.hole, at_yield=False)
        chosen = laminate_curve(strength.value, strength.provenance)

        def bearing(force: Span) -> PartLife:
            return fatigue_parts.laminate_bearing_life(
                force.greatest, force.least, eye.pin, eye.thickness, strength.value, _ANY_CYCLES
            )

        dry = "laminate in bearing: fatigue of the dry hole by pull alone, flatwise bending is not in it"
        one = Series(*(value[np.newaxis] for value in vars(pull).values()))
        return Member(part, "at the hole", _counted(now, turns, bearing, one), chosen, (dry,))
    factor = float(notch.PIN_LOADED["ekvall"](eye.width, eye.hole))
    chosen_metal = metal_curve(eye.material, factor, eye.width, eye.thickness)
    if chosen_metal is None:
        return _no_curve(part, "at the hole", eye.material)

    def metal(force: Span, bent: Span) -> PartLife:
        return fatigue_parts.metal_hole_life(
            force.greatest,
            force.least,
            eye.width,
            eye.hole,
            eye.thickness,
            chosen_metal.curve,
            _ANY_CYCLES,
            bent.greatest,
            bent.least,
        )

    return Member(part, "at the hole", _counted(now, turns, metal, pull, moment()), chosen_metal)


def plates_inboard(now: Situation) -> Found:
    """The harder used plate between contact and root, by half the pull and the greatest moment there."""
    build, hub = now.build, now.build.hub
    mode = "between lug and root"
    plate = hub.plate_material
    factor, net, row = _tie_section(now)
    chosen = metal_curve(plate, 1.0, hub.plate_width, hub.plate_thickness)
    if plate.kind != "metal" or chosen is None:
        return _no_curve(PLATES, mode, plate)
    # The moment is straight between the contact's end, the ties and the root: these sections one after the
    # other on the first axis, each with its own width and notch.
    places = [build.hub.half_contact, root_distance(build), *([] if row is None else [row])]
    moments = [
        now.turning.moment(_inboard_at(place, row, side)) for place in places for side in ("upper", "lower")
    ]
    states, tail = len(moments[0].high), (1,) * (moments[0].high.ndim - 1)
    holed = np.repeat([place == row for place in places], 2 * states).reshape(-1, *tail)
    moment = _both(*moments)
    pull = now.turning.pull.times(0.5)

    def stress(force: Span, bent: Span) -> PartLife:
        return fatigue_parts.bent_plate_life(
            force.greatest,
            force.least,
            bent.greatest,
            bent.least,
            np.where(holed, net, hub.plate_width),
            hub.plate_thickness,
            chosen.curve,
            _ANY_CYCLES,
            np.where(holed, factor, 1.0),
        )

    remark = "plates at the root: holes of the mounting screws and fretting there are not counted in fatigue"
    cycles = _counted(now, now.turning.rates, stress, pull, moment)
    return Member(PLATES, mode, cycles, chosen, (remark,))


def _tie_section(now: Situation) -> tuple[float, float, float | None]:
    """Kt and net width (m) of a plate at its ties, and their distance inboard (m), None without."""
    hub, ties, row = now.build.hub, now.build.ties, tie_row(now.build)
    if ties.screw is None or row is None:
        return 1.0, hub.plate_width, None
    strip = hub.plate_width / ties.count
    hole = tie_holes(now.build) / ties.count
    factor = float(notch.open_hole_bending_factor(strip, hole, hub.plate_thickness))
    return factor, ties.count * (strip - hole), row


def _inboard_at(place: float, row: float | None, side: str) -> Callable[[ClevisState], FloatArray]:
    """Moment of the upper or lower plate at a place (m) inboard of the contact's end, by equilibrium."""

    def moment(state: ClevisState) -> FloatArray:
        force, centre = getattr(state, f"{side}_force"), getattr(state, f"{side}_centre")
        held = state.tie_force - state.spacer_force
        beyond = 0.0 if row is None else max(place - row, 0.0)
        return np.asarray(force * (centre + place) - place * state.screw_tension - beyond * held)

    return moment


def tie_thread(now: Situation) -> Found:
    """Tension of one tie screw at its thread; None without ties."""
    ties = now.build.ties
    if ties.screw is None or tie_row(now.build) is None or now.ties_left == 0:
        return None
    tension = now.turning.force(lambda state: state.tie_force).times(1.0 / now.ties_left)
    return _thread(now, TIES, "thread", ties.screw, now.turning.force_rates, tension)


def mounting_thread(now: Situation) -> Found:
    """Tension of the hardest pulled mounting screw at its thread: thrust and the hub moment going round.

    Nothing is taken off for preload, which in a stiff joint keeps most of the swing from the screw.
    """
    flown = flown_in(now.loads)
    even, swing = ((flown * share)[np.newaxis] for share in mounting_shares(now))
    tension = Series(even + swing, even - swing, even, even)
    return _thread(now, MOUNTING, "thread", now.build.mounting.screw, now.turning.rates, tension)


def _both(*series: Series) -> Series:
    """Plates or sections one after the other on the first axis."""
    return Series(
        *(np.concatenate(values) for values in zip(*(vars(one).values() for one in series), strict=True))
    )


def _no_curve(part: str, mode: str, found: Material) -> Unchecked:
    return Unchecked(part, mode, f"no fatigue curve for {found.name}: {part}, {mode}: {NOT_CHECKED}")


MEMBERS: tuple[Callable[[Situation], Found], ...] = (
    pivot_thread,
    pivot_section,
    lug_hole,
    plate_hole,
    plates_inboard,
    tie_thread,
    mounting_thread,
)
"""Every member there is."""
