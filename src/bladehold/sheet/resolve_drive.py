"""Motor and battery, complete: gaps of the sheet filled in the open."""

from __future__ import annotations

import math

from bladehold.quantity import to_si
from bladehold.sheet import build_flying as bf
from bladehold.sheet.hardware import Battery, Motor
from bladehold.sheet.ledger import COMMON, Ledger
from bladehold.tables import cell

_HOT = to_si(100.0, "temperature", "degC")
_CELLS_AT = to_si(20.0, "temperature", "degC")
_SPECIFIC_HEAT = 600.0  # J/(kg K), copper, iron and aluminium together
_UNWEIGHED = 150.0  # J/K
# Volts of one cell: common practice, no source.
_CUTOFF = {"lithium-polymer": 3.3, "lithium-ion": 2.9}
_NOMINAL = {"lithium-polymer": 3.7, "lithium-ion": 3.6}
_AMPERE_HOUR = 3600.0


def resolve_drive(motor: Motor | None, battery: Battery | None, ledger: Ledger) -> bf.Drive | None:
    """Return motor and battery, None where the sheet lacks one of them."""
    if motor is None or battery is None:
        if motor is not None or battery is not None:
            there, missing = ("motor", "battery") if battery is None else ("battery", "motor")
            ledger.notes.append(
                f"[{there}] is given without [{missing}]: what drives the rotors is not computed"
            )
        return None
    return bf.Drive(_motor(motor, ledger), _battery(battery, ledger))


def _motor(given: Motor, ledger: Ledger) -> bf.MotorData:
    current = ledger.si(
        given.no_load_current, "motor.no_load_current", 1.5, "1.5 A", f"{COMMON}; read it off the data sheet"
    )
    voltage = ledger.si(given.no_load_voltage, "motor.no_load_voltage", 20.0, "20 V", COMMON)
    fast = None
    if given.fast_no_load_current and given.fast_no_load_voltage:
        fast = given.fast_no_load_current.si, given.fast_no_load_voltage.si
    heat = _SPECIFIC_HEAT * given.mass.si if given.mass else _UNWEIGHED
    return bf.MotorData(
        name=" ".join(word for word in (given.maker, given.part) if word) or "the motor",
        speed_constant=given.speed_constant.si,
        resistance=given.resistance.si,
        no_load=(current, voltage),
        fast_no_load=fast,
        current_limit=given.current_limit.si if given.current_limit else math.inf,
        pole_pairs=given.pole_pairs,
        temperature_limit=ledger.si(
            given.temperature_limit, "motor.temperature_limit", _HOT, "100 degC", COMMON
        ),
        thermal_resistance=ledger.si(
            given.thermal_resistance,
            "motor.thermal_resistance",
            1.0,
            "1 K/W",
            f"in the rotor's wash: {COMMON}",
        ),
        heat_capacity=ledger.si(
            given.heat_capacity,
            "motor.heat_capacity",
            heat,
            f"{heat:.3g} J/K",
            f"600 J/(kg K) of motor.mass: {COMMON}" if given.mass else COMMON,
        ),
        controller_resistance=ledger.si(
            given.controller_resistance, "motor.controller_resistance", 5e-3, "5 mohm", COMMON
        ),
        switching_loss=ledger.si(given.switching_loss, "motor.switching_loss", 0.01, "0.01", COMMON),
        wiring_resistance=ledger.si(
            given.wiring_resistance, "motor.wiring_resistance", 5e-3, "5 mohm", COMMON
        ),
    )


def _battery(given: Battery, ledger: Ledger) -> bf.BatteryData:
    chemistry = ledger.choice(given.chemistry, "battery.chemistry", "lithium-polymer", COMMON)
    if given.capacity is not None:
        capacity = given.capacity.si
    else:
        # The reader has seen to it that one of the two is there.
        assert given.energy is not None
        capacity = given.energy.si / (given.cells * _NOMINAL[chemistry])
        ledger.choice(
            None,
            "battery.capacity",
            f"{capacity / _AMPERE_HOUR:.3g} Ah",
            f"energy over {_NOMINAL[chemistry]:g} V per cell: {COMMON}",
        )
    row = cell(chemistry)
    resistance = given.cells * row.resistance / capacity
    cutoff = given.cells * _CUTOFF[chemistry]
    return bf.BatteryData(
        cells=given.cells,
        chemistry=chemistry,
        capacity=capacity,
        voltage=given.voltage.si if given.voltage else None,
        cutoff_voltage=ledger.si(
            given.cutoff_voltage,
            "battery.cutoff_voltage",
            cutoff,
            f"{cutoff:.3g} V",
            f"{_CUTOFF[chemistry]:g} V per cell under load: {COMMON}",
        ),
        reserve=ledger.si(given.reserve, "battery.reserve", 0.2, "0.2", COMMON),
        resistance=ledger.si(
            given.resistance,
            "battery.resistance",
            resistance,
            f"{1e3 * resistance:.3g} mohm",
            f"from the table of cells, unconfirmed: {row.resistance_provenance.source}",
        ),
        temperature=ledger.si(given.temperature, "battery.temperature", _CELLS_AT, "20 degC", COMMON),
        current_limit=given.current_limit.si if given.current_limit else math.inf,
        mass=given.mass.si if given.mass else None,
        other_power=ledger.si(given.other_power, "battery.other_power", 50.0, "50 W", COMMON),
    )
