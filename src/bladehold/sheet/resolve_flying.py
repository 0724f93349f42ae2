"""Aircraft and flying, complete: gaps of the sheet filled in the open."""

from __future__ import annotations

import math

from bladehold.air import GRAVITY
from bladehold.blade import gusts
from bladehold.quantity import Quantity, to_si
from bladehold.sheet import build as b
from bladehold.sheet import build_flying as bf
from bladehold.sheet import flying as written
from bladehold.sheet.ledger import COLDEST, COMMON, WARMEST, Ledger
from bladehold.sheet.sheet import Sheet

_APART = 1.1  # diameters between neighbouring rotor axes
_GYRATION = 0.4  # of the distance of the rotors: motors and arms in the circle, the rest near the middle
_IDLE = to_si(700.0, "rotational speed", "rpm")
_PITCH_RATE, _YAW_RATE = to_si(120.0, "angular rate", "deg/s"), to_si(45.0, "angular rate", "deg/s")
_BANK = to_si(30.0, "angle", "deg")
_CRUISE = 0.7  # of the greatest air speed
_LASTS = 1.0  # s, of a case that the sheet says no length of


def resolve_aircraft(sheet: Sheet, ledger: Ledger) -> bf.Aircraft:
    """Return the aircraft, with every assumption on the ledger."""
    given = sheet.aircraft
    guessed = 0.02 * given.mass.si
    drag = ledger.si(
        given.drag_area, "aircraft.drag_area", guessed, f"{guessed:.2g} m^2", f"0.02 m^2 per kg: {COMMON}"
    )
    layout = ledger.choice(given.layout, "aircraft.layout", "flat", "rotors beside each other")
    spacing = math.inf
    if layout == "coaxial":
        why = "not given: the lower rotor meets the fully developed wake, the pessimistic end"
        spacing = ledger.si(given.coaxial_spacing, "aircraft.coaxial_spacing", spacing, "very far", why)
        why = "in wind, lower rotors work in the upper ones' ideal hover wake over their whole disc"
        ledger.assumptions.append(b.Assumption("aircraft.layout", "coaxial wake", why))
    arms = given.rotors // 2 if layout == "coaxial" else given.rotors
    custom = layout == "custom"
    distance, first = _arms(given, arms, sheet.propeller.diameter.si, ledger if not custom else Ledger())
    gyration = _GYRATION * (_widest(given) if custom else distance)
    height = (
        0.0
        if custom
        else _offset(given.rotor_height, "aircraft.rotor_height", "in one plane with it", ledger)
    )
    return bf.Aircraft(
        mass=given.mass.si,
        rotors=given.rotors,
        layout=layout,
        drag_area=drag,
        coaxial_spacing=spacing,
        rotor_distance=distance,
        first_arm=first,
        rotor_height=height,
        mass_ahead=_offset(given.mass_ahead, "aircraft.mass_ahead", "balanced", ledger),
        gyration_radius=ledger.millimetres(
            given.gyration_radius,
            "aircraft.gyration_radius",
            gyration,
            f"{_GYRATION} of the distance of the rotors: {COMMON}",
        ),
        drag_height=_offset(given.drag_height, "aircraft.drag_height", "at the centre of mass", ledger),
        places=tuple(_place(place) for place in given.rotor or []),
    )


def _arms(given: written.Aircraft, arms: int, diameter: float, ledger: Ledger) -> tuple[float, float]:
    """Distance of the rotors (m) and bearing of the first arm (rad)."""
    reach = diameter if arms < 2 else _APART * diameter / (2.0 * math.sin(math.pi / arms))
    distance = ledger.millimetres(
        given.rotor_distance,
        "aircraft.rotor_distance",
        reach,
        f"discs a tenth of a diameter apart: {COMMON}",
    )
    between = math.pi / max(arms, 1) if arms % 2 == 0 else 0.0
    shown = f"{math.degrees(between):.4g} deg"
    why = "straight ahead lies between two arms, or on one where their number is odd"
    return distance, ledger.si(given.first_arm, "aircraft.first_arm", between, shown, why)


def _widest(given: written.Aircraft) -> float:
    return max(math.hypot(place.x.si, place.y.si) for place in given.rotor or [])


def _offset(given: Quantity | None, key: str, why: str, ledger: Ledger) -> float:
    return ledger.si(given, key, 0.0, "0 mm", f"{why}: {COMMON}")


def _place(place: written.RotorPlace) -> bf.Place:
    return bf.Place(
        x=place.x.si,
        y=place.y.si,
        z=place.z.si if place.z else 0.0,
        spin=place.spin,
        cant=place.cant.si if place.cant else 0.0,
        cant_direction=place.cant_direction.si if place.cant_direction else 0.0,
    )


def resolve_flying(sheet: Sheet, altitude: float, ledger: Ledger, moving: Ledger) -> bf.Flying:
    """Return how it is flown; altitude - of the sheet's air, m. What only the moving blade asks for goes on
    the ledger `moving`.
    """
    given = sheet.flying
    if given.used_speed is None:
        why = "not measured: computed from blade shape, section and air"
        ledger.assumptions.append(b.Assumption("flying.used_speed", "computed", why))
    if given.greatest_speed is None:
        why = "not given: the centrifugal proof is taken at the fastest condition, not at full throttle"
        ledger.assumptions.append(b.Assumption("flying.greatest_speed", "fastest condition", why))
    even = sheet.aircraft.mass.si * GRAVITY / sheet.aircraft.rotors
    top = ledger.si(given.top_speed, "flying.top_speed", 20.0, "20 m/s", COMMON)
    altitude_shown = f"{altitude:.4g} m"
    gust = gusts()["rotorcraft"]
    return bf.Flying(
        used_thrust=ledger.si(
            given.used_thrust,
            "flying.used_thrust",
            even,
            f"{even / GRAVITY:.3g} kgf",
            "the weight shared evenly, no air on the frame: weigh it in flight with a log of the speed",
        ),
        used_speed=given.used_speed.si if given.used_speed else None,
        greatest_speed=given.greatest_speed.si if given.greatest_speed else None,
        claimed_thrust=given.claimed_thrust.si if given.claimed_thrust else None,
        load_factor=ledger.si(
            given.load_factor,
            "flying.load_factor",
            2.0,
            "2",
            "least limit manoeuvre of 14 CFR 27.337 for rotorcraft",
        ),
        top_speed=top,
        cruise_speed=ledger.si(
            given.cruise_speed,
            "flying.cruise_speed",
            _CRUISE * top,
            f"{_CRUISE * top:.3g} m/s",
            f"{_CRUISE} of top_speed: {COMMON}",
        ),
        climb_speed=ledger.si(given.climb_speed, "flying.climb_speed", 5.0, "5 m/s", COMMON),
        descent_speed=ledger.si(given.descent_speed, "flying.descent_speed", 2.0, "2 m/s", COMMON),
        cyclic_share=given.cyclic_share.si if given.cyclic_share else None,
        temperature_min=ledger.si(
            given.temperature_min, "flying.temperature_min", COLDEST, "-10 degC", COMMON
        ),
        temperature_max=ledger.si(
            given.temperature_max, "flying.temperature_max", WARMEST, "40 degC", COMMON
        ),
        altitude_max=ledger.si(
            given.altitude_max, "flying.altitude_max", altitude, altitude_shown, "that of [air]"
        ),
        pitch_rate=ledger.si(given.pitch_rate, "flying.pitch_rate", _PITCH_RATE, "120 deg/s", COMMON),
        yaw_rate=ledger.si(given.yaw_rate, "flying.yaw_rate", _YAW_RATE, "45 deg/s", COMMON),
        yaw_time=ledger.si(given.yaw_time, "flying.yaw_time", 2.0, "2 s", COMMON),
        control_time=ledger.si(given.control_time, "flying.control_time", 0.4, "0.4 s", COMMON),
        bank=ledger.si(given.bank, "flying.bank", _BANK, "30 deg", COMMON),
        gust=ledger.si(given.gust, "flying.gust", gust.velocity, f"{gust.velocity:g} m/s", gust.source),
        wind=ledger.si(given.wind, "flying.wind", 0.0, "0 m/s", f"calm: {COMMON}"),
        idle=ledger.si(given.idle, "flying.idle", _IDLE, "700 rpm", COMMON),
        flight_time=ledger.si(given.flight_time, "flying.flight_time", 900.0, "15 min", COMMON),
        spin_up=moving.si(given.spin_up, "flying.spin_up", 2.0, "2 s", COMMON),
        throttle_step=ledger.si(given.throttle_step, "flying.throttle_step", 0.5, "0.5 s", COMMON),
        events=_events(given, ledger),
        service_life=ledger.si(given.service_life, "flying.service_life", 300 * 3600.0, "300 h", COMMON),
        segments=_segments(given, ledger),
        cases=tuple(_case(case) for case in given.case or []),
    )


def _events(given: written.Flying, ledger: Ledger) -> bf.Events:
    why = "a gust of this size in every flight is much: the pessimistic end"
    return bf.Events(
        gusts=ledger.choice(given.gusts, "flying.gusts", 1, why),
        throttle_steps=ledger.choice(given.throttle_steps, "flying.throttle_steps", 100, COMMON),
        throttle_chops=ledger.choice(given.throttle_chops, "flying.throttle_chops", 2, COMMON),
        manoeuvres=ledger.choice(given.manoeuvres, "flying.manoeuvres", 10, COMMON),
        manoeuvre_time=ledger.si(given.manoeuvre_time, "flying.manoeuvre_time", 2.0, "2 s", COMMON),
    )


def _segments(given: written.Flying, ledger: Ledger) -> tuple[bf.Segment, ...]:
    listed = given.segment or []
    if not listed:
        why = f"the usual mix of hover, climb, descent, cruise and fast flight: {COMMON}"
        ledger.assumptions.append(b.Assumption("flying.segment", "none", why))
    return tuple(
        bf.Segment(
            name=one.name,
            share=one.share.si,
            speed=one.speed.si if one.speed else 0.0,
            climb=one.climb.si if one.climb else 0.0,
            load_factor=one.load_factor.si if one.load_factor else 1.0,
            payload=one.payload.si if one.payload else 0.0,
        )
        for one in listed
    )


def _case(case: written.Case) -> bf.OwnCase:
    return bf.OwnCase(
        name=case.name,
        thrust=case.thrust.si,
        speed=case.speed.si if case.speed else 0.0,
        climb=case.climb.si if case.climb else 0.0,
        temperature=case.temperature.si if case.temperature else None,
        cyclic_share=case.cyclic_share.si if case.cyclic_share else None,
        times=case.times or 0,
        lasts=case.lasts.si if case.lasts else _LASTS,
        source=case.source or "the sheet",
    )
