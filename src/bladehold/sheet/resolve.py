"""Filling the gaps of a sheet: every value not given is assumed on the pessimistic side and listed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from bladehold.air import GRAVITY, standard_temperature
from bladehold.quantity import Quantity
from bladehold.rotor.correction import Correction
from bladehold.sheet import build as b
from bladehold.sheet.build_flying import Aircraft, Flying
from bladehold.sheet.hardware import Calibration
from bladehold.sheet.ledger import COMMON, SAFE_SIDE, WIDEST_AT, WIDEST_CHORD, Ledger
from bladehold.sheet.own import own_polar
from bladehold.sheet.resolve_blade import resolve_structure
from bladehold.sheet.resolve_drive import resolve_drive
from bladehold.sheet.resolve_flying import resolve_aircraft, resolve_flying
from bladehold.sheet.resolve_loss import resolve_arm, resolve_controller, resolve_release
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
    drive, loss = Ledger(), Ledger()
    aircraft = resolve_aircraft(sheet, ledger)
    propeller = _propeller(sheet, ledger, elastic, Path(folder))
    hub = resolve_hub(sheet, ledger)
    pivot, ties, mounting = resolve_screws(sheet, hub, ledger)
    air = _air(sheet, ledger)
    flying = resolve_flying(sheet, air.altitude, ledger, moving)
    return b.Build(
        name=sheet.about.name,
        invented=bool(sheet.about.invented),
        aircraft=aircraft,
        air=air,
        propeller=propeller,
        hub=hub,
        pivot=pivot,
        ties=ties,
        mounting=mounting,
        flying=_seen(flying, aircraft, ledger),
        setting=resolve_setting(sheet.setting, ledger, moving),
        policy=_policy(sheet),
        drive=resolve_drive(sheet.motor, sheet.battery, drive),
        arm=resolve_arm(sheet, aircraft, loss),
        controller=resolve_controller(sheet, loss),
        release=resolve_release(sheet, loss),
        assumptions=tuple(ledger.assumptions),
        blade_assumptions=(*(elastic.assumptions if elastic is not ledger else ()), *moving.assumptions),
        drive_assumptions=tuple(drive.assumptions),
        loss_assumptions=tuple(loss.assumptions),
        notes=tuple(ledger.notes),
    )


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


def _seen(flying: Flying, aircraft: Aircraft, ledger: Ledger) -> Flying:
    """Remark on thrusts that do not fit the aircraft well, without changing them."""
    lifted = aircraft.rotors * flying.used_thrust / GRAVITY
    if lifted > 1.3 * aircraft.mass:
        ledger.notes.append(
            f"{aircraft.rotors} rotors at flying.used_thrust lift {lifted:.3g} kg, much more than the "
            f"aircraft's {aircraft.mass:g} kg: is used_thrust the steady thrust of one rotor?"
        )
    claim = flying.claimed_thrust
    if claim and flying.used_thrust > claim:
        ledger.notes.append(
            f"flying.used_thrust is more than the maker claims ({claim / GRAVITY:.3g} kgf): the rotor is "
            "used beyond its rating in hover already, or one of the two is mistyped"
        )
    elif claim and flying.used_thrust * flying.load_factor > claim:
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
