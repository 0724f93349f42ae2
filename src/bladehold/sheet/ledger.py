"""The record of what was assumed while a sheet is resolved."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TypeVar

from bladehold.quantity import Quantity, to_si
from bladehold.sheet import build as b

Value = TypeVar("Value")

# Assumed where the sheet is silent, and compared with what it does say: share of the tip radius, K.
WIDEST_CHORD, WIDEST_AT = 0.16, 0.35
COLDEST, WARMEST = to_si(-10.0, "temperature", "degC"), to_si(40.0, "temperature", "degC")

COMMON = "common practice, no source"
SAFE_SIDE = "not given: taken at the pessimistic end"


@dataclass
class Ledger:
    """Collects what was assumed while a sheet is resolved."""

    assumptions: list[b.Assumption] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def si(self, given: Quantity | None, key: str, value: float, shown: str, why: str) -> float:
        """Return the given SI value, or put the assumed one on record and return that."""
        if given is not None:
            return given.si
        self.assumptions.append(b.Assumption(key, shown, why))
        return value

    def choice(self, given: Value | None, key: str, value: Value, why: str) -> Value:
        """Return the given word, or put the assumed one on record and return that."""
        if given is not None:
            return given
        shown = (
            {True: "true", False: "false"}.get(value, str(value)) if isinstance(value, bool) else str(value)
        )
        self.assumptions.append(b.Assumption(key, shown, why))
        return value

    def millimetres(self, given: Quantity | None, key: str, value: float, why: str) -> float:
        """Return a length, or put the assumed one on record in millimetres."""
        return self.si(given, key, value, f"{1e3 * value:.4g} mm", why)
