"""Units at the border: strict reading into SI, and showing SI in the user's units."""

from bladehold.quantity.conversion import from_si, to_si
from bladehold.quantity.kinds import KINDS, Kind
from bladehold.quantity.reading import Quantity, QuantityError, read, read_fraction
from bladehold.quantity.showing import show

__all__ = ["KINDS", "Kind", "Quantity", "QuantityError", "from_si", "read", "read_fraction", "show", "to_si"]
