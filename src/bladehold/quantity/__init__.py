"""Units at the border: strict reading into SI, and showing SI in the user's units."""

from bladehold.quantity.conversion import from_si, to_si
from bladehold.quantity.kinds import KINDS, Kind
from bladehold.quantity.reading import Quantity, QuantityError, printable, read, read_fraction, shown
from bladehold.quantity.showing import show

__all__ = [
    "KINDS",
    "Kind",
    "Quantity",
    "QuantityError",
    "from_si",
    "printable",
    "read",
    "read_fraction",
    "show",
    "shown",
    "to_si",
]
