"""Filling the gaps of a sheet: every value not given is assumed on the pessimistic side and listed."""

from __future__ import annotations

import math
from collections.abc import Callable
from pathlib import Path

from bladehold.air import GRAVITY, standard_temperature
from bladehold.quantity import Quantity, to_si
from bladehold.rotor.correction import Correction
from bladehold.sheet import build as b
from bladehold.sheet.hardware import Calibration
from bladehold.sheet.ledger import COLDEST, COMMON, SAFE_SIDE, WARMEST, WIDEST_AT, WIDEST_CHORD, Ledger
from bladehold.sheet.own import own_polar
from bladehold.sheet.resolve_blade import resolve_motion, resolve_structure
from bladehold.sheet.resolve_parts import resolve_hub, resolve_screws
from bladehold.sheet.resolve_setting import resolve_setting
from bladehold.sheet.sheet import Sheet
from bladehold.tables import factor


def resolve(sheet: Sheet, folder: str | Path = ".") -> b.Build:
    """Return the build a sheet describes, complete, with every assumption listed.

    Arguments: sheet - a validated sheet; folder - in which files that it names are looked for. Returns
    Build. Errors: SheetError on a file that cannot be used. The assumed values are pessimistic where a
    pessimistic side exists; where it does not, they say "common practice, no source".
    """
    ledger = Ledger()
    # What the blade is built of matters to a check only where a tap test makes the blade an elastic one.
    elastic = ledger if sheet.propeller.tap_frequency else Ledger()
    moving = Ledger()
    aircraft = _aircraft(sheet, ledger)
    propeller = _propeller(sheet, ledger, elastic, Path(folder))
    hub = resolve_hub(sheet, ledger)
    pivot, ties, mounting = resolve_screws(sheet, hub, ledger)
    flying = _flying(sheet, ledger, moving)
    return b.Build(
        name=sheet.about.name,
        invented=bool(sheet.about.invented),
        aircraft=aircraft,
        air=_air(sheet, ledger),
        propeller=propeller,
        hub=hub,
        pivot=pivot,
        ties=ties,
        mounting=mounting,
        flying=_seen(flying, aircraft, ledger),
        setting=resolve_setting(sheet.setting, ledger, moving),
        policy=_policy(sheet),
        assumptions=tuple(ledger.assumptions),
        blade_assumptions=(*(elastic.assumptions if elastic is not ledger else ()), *moving.assumptions),
        notes=tuple(ledger.notes),
    )


def _aircraft(sheet: Sheet, ledger: Ledger) -> b.Aircraft:
    aircraft = sheet.aircraft
    guessed = 0.02 * aircraft.mass.si
    drag = ledger.si(
        aircraft.drag_area, "aircraft.drag_area", guessed, f"{guessed:.2g} m^2", f"0.02 m^2 per kg: {COMMON}"
    )
    layout = ledger.choice(aircraft.layout, "aircraft.layout", "flat", "rotors beside each other")
    spacing = math.inf
    if layout == "coaxial":
        why = "not given: the lower rotor meets the fully developed wake, the pessimistic end"
        spacing = ledger.si(aircraft.coaxial_spacing, "aircraft.coaxial_spacing", spacing, "very far", why)
        why = "in wind, lower rotors work in the upper ones' ideal hover wake over their whole disc"
        ledger.assumptions.append(b.Assumption("aircraft.layout", "coaxial wake", why))
    return b.Aircraft(aircraft.mass.si, aircraft.rotors, layout, drag, spacing)


def _air(sheet: Sheet, ledger: Ledger) -> b.AirState:
    given = sheet.air
    altitude = ledger.si(
        given.altitude if given else None,
        "air.altitude",
        1000.0,
        "1000 m",
        f"{SAFE_SIDE}; thin air turns rotors faster",
    )
    standard = float(standard_temperature(altitude))
    humid = ledger.si(
        given.humidity if given else None,
        "air.humidity",
        1.0,
        "100 %",
        f"{SAFE_SIDE}; damp warm air is up to 3 % thinner",
    )
    if given and given.temperature_offset is not None:
        return b.AirState(altitude, standard + given.temperature_offset.si, humid)
    temperature = given.temperature.si if given and given.temperature else standard
    needed = any(case.temperature is None for case in sheet.flying.case or [])
    if needed and not (given and given.temperature):
        shown = f"{standard - 273.15:.1f} degC"
        why = "standard atmosphere at that altitude"
        ledger.assumptions.append(b.Assumption("air.temperature", shown, why))
    return b.AirState(altitude, temperature, humid)


def _propeller(sheet: Sheet, ledger: Ledger, elastic: Ledger, folder: Path) -> b.Propeller:
    given, radius = sheet.propeller, sheet.propeller.diameter.si / 2
    diameter = given.diameter.si
    why = f"{SAFE_SIDE}: lifts least of the usual sections at a given speed, so the rotor turns fastest"
    if given.polar is not None:
        why = "the polar is your own: taken for the thickness of the drawing only"
    section = ledger.choice(given.section, "propeller.section", "naca2412", why)
    planform: Callable[..., float] = ledger.si if given.station is None else _unused
    widest = planform(
        given.widest_chord,
        "propeller.widest_chord",
        WIDEST_CHORD * radius,
        f"{1e3 * WIDEST_CHORD * radius:.3g} mm",
        f"{WIDEST_CHORD} of the radius: {COMMON}",
    )
    tip = planform(
        given.tip_chord,
        "propeller.tip_chord",
        0.4 * widest,
        f"{400 * widest:.3g} mm",
        f"0.4 of the widest: {COMMON}",
    )
    place = planform(given.widest_at, "propeller.widest_at", WIDEST_AT, f"{WIDEST_AT}", COMMON)
    thickness = planform(
        given.root_thickness,
        "propeller.root_thickness",
        0.14 * widest,
        f"{140 * widest:.3g} mm",
        f"0.14 of the widest chord: {COMMON}",
    )
    if given.tap_frequency is None:
        why = "no tap test: checks take the blade as stiff, so bending takes nothing off the flap moment"
        ledger.assumptions.append(b.Assumption("propeller.tap_frequency", "infinite", why))
    stations = _stations(sheet, section)
    chord = max((station.chord for station in stations), default=widest)
    return b.Propeller(
        blades=given.blades,
        diameter=diameter,
        pitch=given.pitch.si,
        folding=given.folding,
        blade_mass=given.blade_mass.si,
        balance_point=given.balance_point.si,
        section=section,
        widest_chord=widest,
        widest_at=place,
        tip_chord=tip,
        root_thickness=thickness,
        precone=given.precone.si if given.precone else 0.0,
        tap_frequency=given.tap_frequency.si if given.tap_frequency else float("inf"),
        correction=_correction(given.calibration, ledger),
        thrust_uncertainty=_uncertainty(given.calibration),
        stations=stations,
        structure=resolve_structure(given, elastic),
        polar=own_polar(given.polar, folder, radius / chord) if given.polar else None,
    )


def _stations(sheet: Sheet, section: str) -> tuple[b.MeasuredStation, ...]:
    radius = sheet.propeller.diameter.si / 2
    return tuple(
        b.MeasuredStation(
            radius=s.at.si * radius,
            chord=s.chord.si,
            twist=s.twist.si,
            thickness=s.thickness.si if s.thickness else 0.12 * s.chord.si,
            section=s.section or section,
        )
        for s in sheet.propeller.station or []
    )


def _correction(given: Calibration | None, ledger: Ledger) -> Correction:
    """What a bench run taught of this blade; nothing, and said so, without one."""
    if given is None:
        why = "no bench run: thrust at a given speed may be 10 % off, more with a guessed section"
        ledger.assumptions.append(b.Assumption("propeller.calibration", "none", why))
        return Correction()
    return Correction(
        pitch_offset=given.pitch_offset.si if given.pitch_offset else 0.0,
        chord_scale=given.chord_scale.si if given.chord_scale else 1.0,
        profile_drag_factor=given.profile_drag_factor.si if given.profile_drag_factor else 1.0,
        lift_exponent=given.lift_exponent.si if given.lift_exponent else 0.0,
    )


def _uncertainty(given: Calibration | None) -> float:
    return given.thrust_uncertainty.si if given and given.thrust_uncertainty else 0.0


def _unused(given: Quantity | None, key: str, value: float, shown: str, why: str) -> float:
    """Return a planform value that the measured stations override, without calling it an assumption."""
    return value if given is None else given.si


def _flying(sheet: Sheet, ledger: Ledger, moving: Ledger) -> b.Flying:
    given = sheet.flying
    if given.used_speed is None:
        why = "not measured: computed from blade shape, section and air"
        ledger.assumptions.append(b.Assumption("flying.used_speed", "computed", why))
    if given.greatest_speed is None:
        why = "not given: the centrifugal proof is taken at the fastest condition, not at full throttle"
        ledger.assumptions.append(b.Assumption("flying.greatest_speed", "fastest condition", why))
    load_factor = ledger.si(
        given.load_factor,
        "flying.load_factor",
        2.0,
        "2",
        "least limit manoeuvre of 14 CFR 27.337 for rotorcraft",
    )
    return b.Flying(
        used_thrust=given.used_thrust.si,
        used_speed=given.used_speed.si if given.used_speed else None,
        greatest_speed=given.greatest_speed.si if given.greatest_speed else None,
        claimed_thrust=given.claimed_thrust.si if given.claimed_thrust else None,
        load_factor=load_factor,
        top_speed=ledger.si(given.top_speed, "flying.top_speed", 20.0, "20 m/s", COMMON),
        climb_speed=ledger.si(given.climb_speed, "flying.climb_speed", 5.0, "5 m/s", COMMON),
        cyclic_share=given.cyclic_share.si if given.cyclic_share else None,
        temperature_min=ledger.si(
            given.temperature_min, "flying.temperature_min", COLDEST, "-10 degC", COMMON
        ),
        temperature_max=ledger.si(
            given.temperature_max, "flying.temperature_max", WARMEST, "40 degC", COMMON
        ),
        pitch_rate=ledger.si(
            given.pitch_rate, "flying.pitch_rate", to_si(120.0, "angular rate", "deg/s"), "120 deg/s", COMMON
        ),
        throttle_steps=moving.choice(given.throttle_steps, "flying.throttle_steps", 100, COMMON),
        service_life=ledger.si(given.service_life, "flying.service_life", 300 * 3600.0, "300 h", COMMON),
        **resolve_motion(given, moving),
        cases=tuple(
            b.OwnCase(
                name=case.name,
                thrust=case.thrust.si,
                speed=case.speed.si if case.speed else 0.0,
                climb=case.climb.si if case.climb else 0.0,
                temperature=case.temperature.si if case.temperature else None,
                cyclic_share=case.cyclic_share.si if case.cyclic_share else None,
            )
            for case in given.case or []
        ),
    )


def _seen(flying: b.Flying, aircraft: b.Aircraft, ledger: Ledger) -> b.Flying:
    """Remark on thrusts that do not fit the aircraft well, without changing them."""
    lifted = aircraft.rotors * flying.used_thrust / GRAVITY
    if lifted > 1.3 * aircraft.mass:
        ledger.notes.append(
            f"{aircraft.rotors} rotors at flying.used_thrust lift {lifted:.3g} kg, much more than the "
            f"aircraft's {aircraft.mass:g} kg: is used_thrust the steady thrust of one rotor?"
        )
    if flying.claimed_thrust and flying.used_thrust * flying.load_factor > flying.claimed_thrust:
        ledger.notes.append("used_thrust times load_factor is more than the maker claims: can it do that?")
    return flying


def _policy(sheet: Sheet) -> b.Policy:
    given = sheet.policy
    own = (given.source if given else None) or "set in the sheet"
    sources: dict[str, str] = {}

    def value(name: str, given_value: Quantity | None, row_name: str) -> float:
        row = factor(row_name)
        sources[name] = row.provenance.source if given_value is None else own
        return row.value if given_value is None else given_value.si

    return b.Policy(
        limit_to_ultimate=value(
            "limit_to_ultimate", given.limit_to_ultimate if given else None, "limit_to_ultimate"
        ),
        yield_factor=value("yield_factor", given.yield_factor if given else None, "yield"),
        fitting=value("fitting", given.fitting if given else None, "fitting"),
        centrifugal_proof=value(
            "centrifugal_proof", given.centrifugal_proof if given else None, "centrifugal_proof"
        ),
        marginal=value("marginal", given.marginal if given else None, "marginal_band"),
        grip_friction=value("grip_friction", given.grip_friction if given else None, "slip_friction_other"),
        contact=(given.contact if given else None) or "round",
        pin_bending=(given.pin_bending if given else None) or "bedded",
        sources=sources,
    )
