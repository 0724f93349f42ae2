"""How tight the pivot is set, complete: gaps of the sheet filled in the open."""

from __future__ import annotations

from bladehold.quantity import to_si
from bladehold.sheet import build as b
from bladehold.sheet.flying import Setting
from bladehold.sheet.ledger import COMMON, Ledger

_WORKSHOP, _STRAIGHT = to_si(20.0, "temperature", "degC"), to_si(3.0, "angle", "deg")
_GRADE = "G 6.3 of ISO 21940-11 is usual for rotors of this kind; none is named for propellers of drones"


def resolve_setting(given: Setting | None, ledger: Ledger, moving: Ledger) -> b.Setting:
    """Return how the pivot is set. Only the temperature of tightening enters a check; the rest goes on the
    ledger of the answers about moving blades.
    """
    at = given or Setting()
    return b.Setting(
        temperature=ledger.si(at.temperature, "setting.temperature", _WORKSHOP, "20 degC", COMMON),
        straight_angle=moving.si(at.straight_angle, "setting.straight_angle", _STRAIGHT, "3 deg", COMMON),
        balance_grade=moving.si(at.balance_grade, "setting.balance_grade", 6.3e-3, "6.3 mm/s", _GRADE),
        handling=moving.si(at.handling, "setting.handling", 1.5, "1.5", COMMON),
        hand_force=moving.si(at.hand_force, "setting.hand_force", 15.0, "15 N", COMMON),
    )
