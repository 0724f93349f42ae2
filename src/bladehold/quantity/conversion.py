"""Conversion to and from SI through the units library, loaded only when first needed.

The registry is built from the definitions below alone. The library's full registry
takes several times longer to load than a whole check may, and would also know units
that no kind allows.
"""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint

# Exact definitions: SI brochure (9th ed.), and NIST SP 811 (2008) appendix B for the customary units.
_DEFINITIONS = """
milli- = 1e-3
micro- = 1e-6
centi- = 1e-2
hecto- = 1e2
kilo- = 1e3
mega- = 1e6
giga- = 1e9
meter = [length]
second = [time]
gram = [mass]
kelvin = [temperature]; offset: 0
ampere = [current]
radian = []
degree = 3.14159265358979323846 / 180 * radian
revolution = 2 * 3.14159265358979323846 * radian
minute = 60 * second
hour = 60 * minute
hertz = 1 / second
inch = 0.0254 * meter
foot = 12 * inch
mile = 5280 * foot
knot = 1852 * meter / hour
pound = 453.59237 * gram
ounce = pound / 16
newton = kilogram * meter / second ** 2
gram_force = 9.80665 * gram * meter / second ** 2
pound_force = 9.80665 * pound * meter / second ** 2
pascal = newton / meter ** 2
joule = newton * meter
watt = joule / second
volt = watt / ampere
ohm = volt / ampere
degree_Celsius = kelvin; offset: 273.15
degree_Fahrenheit = 5 / 9 * kelvin; offset: 255.37222222222223
fahrenheit_step = 5 / 9 * kelvin
"""


@cache
def _registry() -> pint.UnitRegistry[Any]:
    import pint

    registry: pint.UnitRegistry[Any] = pint.UnitRegistry(None)
    for line in _DEFINITIONS.strip().splitlines():
        registry.define(line)
    return registry


@cache
def _factor(source: str, target: str) -> float | None:
    """Return the plain factor between two units, or None where an offset is involved (temperatures)."""
    quantity = _registry().Quantity
    if float(quantity(0.0, source).to(target).magnitude) != 0.0:
        return None
    return float(quantity(1.0, source).to(target).magnitude)


def convert(value: float, source: str, target: str) -> float:
    """Convert a value between two unit expressions that the kinds list.

    >>> round(convert(26.0, "inch", "meter"), 4)
    0.6604
    >>> round(convert(77.0, "degree_Fahrenheit", "kelvin"), 2)
    298.15
    """
    factor = _factor(source, target)
    if factor is not None:
        return factor * value
    return float(_registry().Quantity(value, source).to(target).magnitude)
