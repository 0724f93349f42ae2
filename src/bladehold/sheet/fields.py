"""The field types of a build sheet: quantities with bounds, ratios, names from the tables."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Annotated, Any, get_args
from unicodedata import category

from pydantic import BaseModel, ConfigDict, Field, PlainValidator
from pydantic.fields import FieldInfo

from bladehold.quantity import Quantity, QuantityError, read, read_fraction, shown, to_si
from bladehold.tables import nearest_name

_LONGEST_TEXT = 500


class Section(BaseModel):
    """One table of the sheet: unknown keys are refused, nothing changes after reading."""

    model_config = ConfigDict(extra="forbid", frozen=True, arbitrary_types_allowed=True, defer_build=True)

    @classmethod
    def fields_by_key(cls) -> dict[str, FieldInfo]:
        """Return the fields by the key a user types (which is `class` where Python needs another name)."""
        return {field.alias or name: field for name, field in cls.model_fields.items()}


def _bounded(
    value: Quantity, unit: str, above: float | None, low: float | None, high: float | None
) -> Quantity:
    """Refuse a value outside its bounds; the bounds are given in `unit`, as the message shows them."""

    def text(bound: float) -> str:
        return f"{bound:g} {unit}".strip()

    limits = [(above, ">"), (low, ">="), (high, "<=")]
    si = value.si
    broken = (
        (above is not None and si <= _si(above, unit, value.kind))
        or (low is not None and si < _si(low, unit, value.kind))
        or (high is not None and si > _si(high, unit, value.kind))
    )
    if broken:
        allowed = " and ".join(f"{sign} {text(bound)}" for bound, sign in limits if bound is not None)
        raise QuantityError(f"read {shown(value.text)}: must be {allowed}")
    return value


def _si(bound: float, unit: str, kind: str) -> float:
    return bound if kind == "ratio" else to_si(bound, kind, unit)


def quantity(
    kind: str, unit: str, *, above: float | None = None, low: float | None = None, high: float | None = None
) -> PlainValidator:
    """Return the validator of one kind of quantity with bounds stated in `unit` (above is exclusive)."""

    def validate(raw: object) -> Quantity:
        value = raw if isinstance(raw, Quantity) else read(raw, kind)
        return _bounded(value, unit, above, low, high)

    return PlainValidator(validate)


def ratio(
    *, above: float | None = None, low: float | None = None, high: float | None = None
) -> PlainValidator:
    """Return the validator of a pure ratio: a plain number, or a percentage as text."""

    def validate(raw: object) -> Quantity:
        value = raw if isinstance(raw, Quantity) else read_fraction(raw)
        return _bounded(value, "", above, low, high)

    return PlainValidator(validate)


def whole(low: int, high: int) -> PlainValidator:
    """Return the validator of a whole number within bounds; 2.0, "2" and true are refused."""

    def validate(raw: object) -> int:
        if isinstance(raw, bool) or not isinstance(raw, int) or not low <= raw <= high:
            raise ValueError(f"read {shown(raw)}: a whole number from {low} to {high} is wanted here")
        return raw

    return PlainValidator(validate)


def word(*allowed: str) -> PlainValidator:
    """Return the validator of one word out of a fixed list."""
    return named("word", lambda: allowed)


_WORDS: dict[Any, Callable[[], Iterable[str]]] = {}  # by the function that validates them


def words_of(field: FieldInfo) -> tuple[str, ...]:
    """Return the words that a field allows, none where it takes anything else too.

    >>> from bladehold.sheet.hardware import PivotScrew
    >>> words_of(PivotScrew.model_fields["head"])
    ('socket', 'hexagon')
    """
    waiting: list[object] = [field.annotation, *field.metadata]
    while waiting:
        part = waiting.pop()
        if isinstance(part, PlainValidator) and part.func in _WORDS:
            return tuple(_WORDS[part.func]())
        waiting.extend(get_args(part))
    return ()


def named(kind: str, names: Callable[[], Iterable[str]]) -> PlainValidator:
    """Return the validator of a name out of a list; a wrong one is answered with the nearest."""

    def validate(raw: object) -> str:
        allowed = tuple(names())
        if not isinstance(raw, str):
            raise ValueError(f"read {shown(raw)}: a {kind} in quotes is wanted here: {', '.join(allowed)}")
        if raw not in allowed:
            raise ValueError(f"read {shown(raw)}: {advice(kind, raw, allowed)}")
        return raw

    _WORDS[validate] = names
    return PlainValidator(validate)


def advice(kind: str, name: str, allowed: tuple[str, ...]) -> str:
    """Return what to write instead of a name that is not in a list.

    >>> advice("thread", "M44", ("M3", "M4"))
    'no such thread; did you mean M4? known: M3, M4'
    """
    near = nearest_name(name[:200], allowed)
    hint = f"; did you mean {near}?" if near else ";"
    return f"no such {kind}{hint} known: {', '.join(allowed)}"


def free_text(raw: object) -> str:
    """Return one line of free text; control characters are refused, as it reaches terminals and pages."""
    if not isinstance(raw, str):
        raise ValueError(f"read {shown(raw)}: a text in quotes is wanted here")
    if not raw.strip():
        raise ValueError(f"read {shown(raw)}: the text is empty")
    if len(raw) > _LONGEST_TEXT:
        raise ValueError(f"read {shown(raw)}: at most {_LONGEST_TEXT} characters are allowed here")
    if not all(c.isprintable() or category(c) == "Zs" for c in raw):
        raise ValueError(f"read {shown(raw)}: one line of text is allowed here, no control characters")
    return raw


def yes_no() -> PlainValidator:
    """Return the validator of true or false, as TOML writes them."""

    def validate(raw: object) -> bool:
        if not isinstance(raw, bool):
            raise ValueError(f"read {shown(raw)}: true or false is wanted here (without quotes)")
        return raw

    return PlainValidator(validate)


def reader(field_type: Any) -> Callable[[object], float]:
    """Return a function that reads one cell by the rules of a field type and gives its SI value."""
    validate = get_args(field_type)[1].func

    def read_cell(raw: object) -> float:
        return float(validate(raw).si)

    return read_cell


def key(
    description: str, example: str, *, used: bool = True, required: bool = False, name: str | None = None
) -> Any:
    """Describe one key: what it means, an example as it would be typed, whether a check uses it yet."""
    return Field(
        default=... if required else None,
        description=description,
        alias=name,
        json_schema_extra={"example": example, "used": used},
    )


# The bounds catch slips of unit (a diameter of "26 m"), not bad taste.
Length = Annotated[Quantity, quantity("length", "mm", low=0.01, high=20000)]
Offset = Annotated[Quantity, quantity("length", "mm", low=-20000, high=20000)]
Gap = Annotated[Quantity, quantity("length", "mm", low=0, high=20)]
Standoff = Annotated[Quantity, quantity("length", "mm", low=0, high=1000)]
FlightHeight = Annotated[Quantity, quantity("length", "m", above=0, high=3000)]
SmallLength = Annotated[Quantity, quantity("length", "mm", low=0.01, high=500)]
Diameter = Annotated[Quantity, quantity("length", "in", above=0, high=120)]
Altitude = Annotated[Quantity, quantity("length", "m", low=-500, high=9000)]
Mass = Annotated[Quantity, quantity("mass", "kg", above=0, high=2000)]
PartMass = Annotated[Quantity, quantity("mass", "g", above=0, high=20000)]
Force = Annotated[Quantity, quantity("force", "kgf", above=0, high=2000)]
Torque = Annotated[Quantity, quantity("torque", "N*m", low=0, high=200)]
Area = Annotated[Quantity, quantity("area", "m^2", above=0, high=50)]
Angle = Annotated[Quantity, quantity("angle", "deg", low=-90, high=90)]
StopAngle = Annotated[Quantity, quantity("angle", "deg", low=0, high=175)]
Direction = Annotated[Quantity, quantity("angle", "deg", low=-360, high=360)]
Speed = Annotated[Quantity, quantity("speed", "m/s", low=0, high=120)]
Turning = Annotated[Quantity, quantity("rotational speed", "rpm", above=0, high=60000)]
BodyRate = Annotated[Quantity, quantity("angular rate", "deg/s", low=0, high=2000)]
AirTemperature = Annotated[Quantity, quantity("temperature", "degC", low=-80, high=80)]
TemperatureStep = Annotated[Quantity, quantity("temperature difference", "K", low=-80, high=80)]
Stress = Annotated[Quantity, quantity("stress", "MPa", above=0, high=10000)]
Modulus = Annotated[Quantity, quantity("stress", "GPa", above=0, high=2000)]
Expansion = Annotated[Quantity, quantity("expansion", "1/K", low=-1e-5, high=1e-3)]
Density = Annotated[Quantity, quantity("density", "kg/m^3", above=0, high=25000)]
Frequency = Annotated[Quantity, quantity("frequency", "Hz", above=0, high=5000)]
Voltage = Annotated[Quantity, quantity("voltage", "V", above=0, high=1500)]
Current = Annotated[Quantity, quantity("current", "A", above=0, high=5000)]
Resistance = Annotated[Quantity, quantity("resistance", "mohm", above=0, high=100000)]
SpeedConstant = Annotated[Quantity, quantity("speed constant", "rpm/V", above=0, high=20000)]
Charge = Annotated[Quantity, quantity("charge", "Ah", above=0, high=10000)]
Energy = Annotated[Quantity, quantity("energy", "Wh", above=0, high=100000)]
Duration = Annotated[Quantity, quantity("time", "min", above=0, high=100000)]
Stiffness = Annotated[Quantity, quantity("stiffness", "N/mm", above=0, high=1e7)]
RotationalStiffness = Annotated[Quantity, quantity("rotational stiffness", "N*m/rad", above=0, high=1e7)]
ThermalResistance = Annotated[Quantity, quantity("thermal resistance", "K/W", above=0, high=1000)]
HeatCapacity = Annotated[Quantity, quantity("heat capacity", "J/K", above=0, high=100000)]
Share = Annotated[Quantity, ratio(low=0, high=1)]
Exponent = Annotated[Quantity, ratio(low=-1, high=1)]
DampingRatio = Annotated[Quantity, ratio(above=0, high=1)]
PositiveRatio = Annotated[Quantity, ratio(above=0, high=10)]
SafetyFactor = Annotated[Quantity, ratio(low=1, high=20)]
Text = Annotated[str, PlainValidator(free_text)]
YesNo = Annotated[bool, yes_no()]
