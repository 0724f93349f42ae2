"""Arm, controller and places of release, complete: gaps of the sheet filled in the open."""

from __future__ import annotations

from bladehold.sheet import build_loss as bl
from bladehold.sheet.build_flying import Aircraft
from bladehold.sheet.ledger import COMMON, SAFE_SIDE, Ledger
from bladehold.sheet.own import material_named
from bladehold.sheet.sheet import Sheet

_REACH = 0.7  # of the distance from the centre to a rotor: what stands out of the clamp
_MOUNT = 1.2  # a motor with mount, hub and screws over the motor
_MOTOR = 0.016  # of the mass of the aircraft, where no motor is weighed
_DAMPING, _MOUNT_DAMPING = 0.01, 0.05
_CONTROLLER = 0.1  # kg
_HEIGHT, _STAND = 120.0, 1.5  # m


def resolve_arm(sheet: Sheet, aircraft: Aircraft, ledger: Ledger) -> bl.ArmData | None:
    """Return the arm, None where the sheet has none; aircraft - resolved, for the length of the arm."""
    given = sheet.arm
    if given is None:
        return None
    reach = _REACH * aircraft.rotor_distance
    if given.tap_frequency is None:
        why = "not tapped: computed with a rigid clamp; a real one gives, and frequencies are lower"
        ledger.choice(None, "arm.tap_frequency", "computed", why)
    return bl.ArmData(
        shape=given.shape,
        length=ledger.millimetres(
            given.length, "arm.length", reach, f"{_REACH} of the distance of the rotors: {COMMON}"
        ),
        outer_diameter=given.outer_diameter.si if given.outer_diameter else 0.0,
        wall=given.wall.si if given.wall else 0.0,
        width=given.width.si if given.width else 0.0,
        height=given.height.si if given.height else 0.0,
        material=material_named(
            sheet,
            ledger.choice(
                given.material, "arm.material", "carbon-woven", f"softest common tube of laminate: {COMMON}"
            ),
        ),
        tap_frequency=given.tap_frequency.si if given.tap_frequency else None,
        damping=ledger.si(given.damping, "arm.damping", _DAMPING, f"{_DAMPING}", SAFE_SIDE),
        tip_mass=_tip_mass(sheet, ledger),
        rotor_height=ledger.millimetres(
            given.rotor_height, "arm.rotor_height", 0.06, f"motor on top of the arm: {COMMON}"
        ),
    )


def _tip_mass(sheet: Sheet, ledger: Ledger) -> float:
    given, motor = sheet.arm, sheet.motor
    assert given is not None
    rotors = 2 if sheet.aircraft.layout == "coaxial" else 1
    blades = rotors * sheet.propeller.blades * sheet.propeller.blade_mass.si
    if motor is not None and motor.mass is not None:
        guess, why = (
            _MOUNT * rotors * motor.mass.si + blades,
            f"{_MOUNT} of motor.mass and the blades: {COMMON}",
        )
    else:
        guess = _MOUNT * _MOTOR * rotors * sheet.aircraft.mass.si + blades
        why = f"motor and mount {_MOUNT * _MOTOR:.3g} of the aircraft, and the blades: {COMMON}"
    return ledger.si(given.tip_mass, "arm.tip_mass", guess, f"{1e3 * guess:.3g} g", why)


def resolve_controller(sheet: Sheet, ledger: Ledger) -> bl.ControllerData | None:
    """Return the controller on its mounts; None, and said so, where it is taken as fixed to the frame."""
    given = sheet.flight_controller
    if given is None:
        if sheet.arm is not None:
            why = "no table [flight_controller]: the accelerometer is taken as fixed to a rigid frame"
            ledger.choice(None, "flight_controller.mount_frequency", "rigid", why)
        return None
    return bl.ControllerData(
        mass=ledger.si(given.mass, "flight_controller.mass", _CONTROLLER, "100 g", COMMON),
        mount_frequency=given.mount_frequency.si,
        mount_damping=ledger.si(
            given.mount_damping,
            "flight_controller.mount_damping",
            _MOUNT_DAMPING,
            f"{_MOUNT_DAMPING}",
            SAFE_SIDE,
        ),
    )


def resolve_release(sheet: Sheet, ledger: Ledger) -> bl.ReleaseData:
    """Return where a blade may be thrown from."""
    bench = sheet.bench
    why = f"{SAFE_SIDE}: greatest height that open rules usually grant"
    height = ledger.si(sheet.flying.height, "flying.height", _HEIGHT, f"{_HEIGHT:.0f} m", why)
    stand = ledger.si(
        bench.stand_height if bench else None, "bench.stand_height", _STAND, f"{_STAND} m", COMMON
    )
    axis = ledger.choice(
        bench.stand_axis if bench else None,
        "bench.stand_axis",
        "level",
        f"{SAFE_SIDE}: blades fly at any angle",
    )
    return bl.ReleaseData(height=height, stand_height=stand, stand_level=axis == "level")
