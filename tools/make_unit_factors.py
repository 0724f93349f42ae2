"""Write src/bladehold/quantity/factors.csv: every allowed unit's factor and offset to SI, by the units
library.

Run after a change to kinds.py: python tools/make_unit_factors.py. The units library (pint) is asked here and
in the tests, not at run time, because loading it takes a quarter of the time a whole check may.
"""

import csv
from pathlib import Path

import pint

from bladehold.quantity.kinds import KINDS

TARGET = Path(__file__).parents[1] / "src" / "bladehold" / "quantity" / "factors.csv"


def registry() -> pint.UnitRegistry:
    """The library's full registry, with the one step that it does not name."""
    units = pint.UnitRegistry()
    units.define("fahrenheit_step = 5 / 9 * kelvin")
    return units


def rows() -> list[tuple[str, str, str, str]]:
    """Kind, unit, factor and offset, so that SI value = factor * value + offset."""
    units = registry()
    found = []
    for kind in KINDS.values():
        for unit, expression in kind.units.items():
            offset = float(units.Quantity(0.0, expression).to(kind.si).magnitude)
            # Large steps keep the rounding of an offset's subtraction out of the factor.
            factor = (float(units.Quantity(1e6, expression).to(kind.si).magnitude) - offset) / 1e6
            if offset == 0.0:
                factor = float(units.Quantity(1.0, expression).to(kind.si).magnitude)
            found.append((kind.name, unit, f"{factor:.16g}", f"{offset:.16g}"))
    return found


if __name__ == "__main__":
    with TARGET.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream, lineterminator="\n")
        writer.writerow(("kind", "unit", "factor", "offset"))
        writer.writerows(rows())
    print(f"wrote {TARGET.name}, units library {pint.__version__}")
