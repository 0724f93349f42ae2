"""The kinds of quantity a build sheet holds, and the units each may be written in.

A unit is allowed only where it makes sense: "41 g" is a mass, never a thrust. The
text on the left is what people write; the text on the right is the expression the
units library converts. Nothing that is not listed here is ever handed to it.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Kind:
    """One kind of quantity: its name in words, its SI unit and the allowed unit texts."""

    name: str
    si: str
    si_label: str
    units: dict[str, str]

    @property
    def allowed(self) -> str:
        """The allowed units as one line of text."""
        return ", ".join(self.units)


_LENGTH = {
    "mm": "millimeter",
    "cm": "centimeter",
    "m": "meter",
    "um": "micrometer",
    "in": "inch",
    "ft": "foot",
}
_MASS = {"kg": "kilogram", "g": "gram", "lb": "pound", "oz": "ounce"}
_FORCE = {
    "N": "newton",
    "kN": "kilonewton",
    "kgf": "kilogram_force",
    "gf": "gram_force",
    "lbf": "pound_force",
}
_TORQUE = {
    "N*m": "newton*meter",
    "Nm": "newton*meter",
    "N*cm": "newton*centimeter",
    "N*mm": "newton*millimeter",
    "kgf*m": "kilogram_force*meter",
    "kgf*cm": "kilogram_force*centimeter",
    "lbf*ft": "pound_force*foot",
    "lbf*in": "pound_force*inch",
}
_SPEED = {
    "m/s": "meter/second",
    "mm/s": "millimeter/second",
    "km/h": "kilometer/hour",
    "kn": "knot",
    "mph": "mile/hour",
    "ft/s": "foot/second",
    "ft/min": "foot/minute",
}
_STRESS = {
    "MPa": "megapascal",
    "GPa": "gigapascal",
    "hPa": "hectopascal",
    "Pa": "pascal",
    "N/mm^2": "newton/millimeter**2",
    "ksi": "kilopound_force/inch**2",
    "psi": "pound_force/inch**2",
}

KINDS: dict[str, Kind] = {
    kind.name: kind
    for kind in (
        Kind("length", "meter", "m", _LENGTH),
        Kind("mass", "kilogram", "kg", _MASS),
        Kind("force", "newton", "N", _FORCE),
        Kind("torque", "newton*meter", "N*m", _TORQUE),
        Kind(
            "temperature",
            "kelvin",
            "K",
            {"degC": "degree_Celsius", "degF": "degree_Fahrenheit", "K": "kelvin"},
        ),
        # A difference of ten degrees is the same step in K and degC, so both are understood here.
        Kind(
            "temperature difference",
            "kelvin",
            "K",
            {"K": "kelvin", "degC": "kelvin", "degF": "fahrenheit_step"},
        ),
        Kind("angle", "radian", "rad", {"deg": "degree", "rad": "radian"}),
        Kind("speed", "meter/second", "m/s", _SPEED),
        Kind(
            "area",
            "meter**2",
            "m^2",
            {
                "m^2": "meter**2",
                "cm^2": "centimeter**2",
                "mm^2": "millimeter**2",
                "ft^2": "foot**2",
                "in^2": "inch**2",
            },
        ),
        Kind(
            "rotational speed",
            "radian/second",
            "rad/s",
            {"rpm": "revolution/minute", "rad/s": "radian/second", "rev/s": "revolution/second"},
        ),
        Kind(
            "angular rate",
            "radian/second",
            "rad/s",
            {"deg/s": "degree/second", "rad/s": "radian/second"},
        ),
        Kind("stress", "pascal", "Pa", _STRESS),
        Kind(
            "density",
            "kilogram/meter**3",
            "kg/m^3",
            {"kg/m^3": "kilogram/meter**3", "g/cm^3": "gram/centimeter**3"},
        ),
        Kind("expansion", "1/kelvin", "1/K", {"1/K": "1/kelvin", "um/(m*K)": "micrometer/(meter*kelvin)"}),
        Kind("voltage", "volt", "V", {"V": "volt", "mV": "millivolt"}),
        Kind("current", "ampere", "A", {"A": "ampere", "mA": "milliampere"}),
        Kind("resistance", "ohm", "ohm", {"ohm": "ohm", "mohm": "milliohm"}),
        Kind("charge", "ampere*second", "A*s", {"Ah": "ampere*hour", "mAh": "milliampere*hour"}),
        Kind(
            "energy",
            "joule",
            "J",
            {"Wh": "watt*hour", "kWh": "kilowatt*hour", "J": "joule", "kJ": "kilojoule"},
        ),
        Kind("power", "watt", "W", {"W": "watt", "kW": "kilowatt"}),
        Kind("speed constant", "radian/second/volt", "rad/(V*s)", {"rpm/V": "revolution/minute/volt"}),
        Kind("frequency", "hertz", "Hz", {"Hz": "hertz"}),
        Kind("time", "second", "s", {"s": "second", "min": "minute", "h": "hour"}),
        Kind(
            "inertia",
            "kilogram*meter**2",
            "kg*m^2",
            {"kg*m^2": "kilogram*meter**2", "g*cm^2": "gram*centimeter**2"},
        ),
        Kind(
            "stiffness",
            "newton/meter",
            "N/m",
            {"N/mm": "newton/millimeter", "N/m": "newton/meter", "kN/mm": "kilonewton/millimeter"},
        ),
        Kind(
            "rotational stiffness",
            "newton*meter/radian",
            "N*m/rad",
            {"N*m/rad": "newton*meter/radian", "N*m/deg": "newton*meter/degree"},
        ),
        Kind("thermal resistance", "kelvin/watt", "K/W", {"K/W": "kelvin/watt"}),
        Kind("heat capacity", "joule/kelvin", "J/K", {"J/K": "joule/kelvin"}),
    )
}

# What people also type for the same unit; each is rewritten to the text listed above.
SPELLINGS: dict[str, str] = {
    "inch": "in",
    "inches": "in",
    '"': "in",
    "°C": "degC",
    "°F": "degF",
    "°": "deg",
    "µm": "um",
    "μm": "um",
    "Ω": "ohm",
    "mΩ": "mohm",
    "kt": "kn",
    "kmh": "km/h",
    "lbf*inch": "lbf*in",
    "Ncm": "N*cm",
    "Nmm": "N*mm",
    # As wrenches and data sheets have them; a trailing "lb" alone would be a mass, so it stays refused.
    "kgfcm": "kgf*cm",
    "lbfin": "lbf*in",
    "inlbf": "lbf*in",
    "in*lbf": "lbf*in",
    "in-lbf": "lbf*in",
    "lbfft": "lbf*ft",
    "ftlbf": "lbf*ft",
    "ft*lbf": "lbf*ft",
    "ft-lbf": "lbf*ft",
}
