"""The sheet as a whole: its tables, and how to find a table or key by name."""

from __future__ import annotations

from typing import get_args

from pydantic.fields import FieldInfo

from bladehold.sheet import fields as f
from bladehold.sheet import flying as use
from bladehold.sheet import hardware


class Sheet(f.Section):
    """One build sheet, as the user wrote it."""

    about: use.About = f.key("what this sheet is", "", required=True)
    aircraft: use.Aircraft = f.key("the whole machine", "", required=True)
    air: use.AirState | None = f.key("where it flies", "")
    propeller: hardware.Propeller = f.key("one rotor's blades", "", required=True)
    hub: hardware.Hub = f.key("plates that hold the blades", "", required=True)
    pivot_screw: hardware.PivotScrew = f.key("the screw each blade turns on", "", required=True)
    tie_screws: hardware.TieScrews | None = f.key("screws between the plates", "")
    mounting_screws: hardware.MountingScrews = f.key("hub to motor bell", "", required=True)
    arm: hardware.Arm | None = f.key("what carries the motor", "")
    flight_controller: hardware.FlightController | None = f.key("what the accelerometer sits on", "")
    motor: hardware.Motor | None = f.key("one motor", "")
    battery: hardware.Battery | None = f.key("the pack", "")
    flying: use.Flying = f.key("what it is used for", "", required=True)
    setting: use.Setting | None = f.key("how tight the pivot is set", "")
    policy: use.Policy | None = f.key("factors and methods", "")
    bench: use.Bench | None = f.key("a thrust-stand run", "")
    classes: dict[f.Text, use.OwnClass] | None = f.key("screw strengths of your own", "")
    materials: dict[f.Text, use.OwnMaterial] | None = f.key("materials of your own", "")

    @classmethod
    def homes_of(cls, key: str) -> list[str]:
        """Return the headers of the tables that have this key."""
        return [
            header_of(name) for name, section in sections().items() if name and key in section.fields_by_key()
        ]


def sections() -> dict[str, type[f.Section]]:
    """Return every table of the sheet by its dotted name; "" is the sheet itself."""
    found: dict[str, type[f.Section]] = {"": Sheet}
    waiting: list[tuple[str, type[f.Section]]] = [("", Sheet)]
    while waiting:
        prefix, section = waiting.pop(0)
        for key, field in section.fields_by_key().items():
            inner = section_in(field)
            if inner is not None:
                name = f"{prefix}.{key}" if prefix else key
                found[name] = inner
                waiting.append((name, inner))
    return found


def header_of(name: str) -> str:
    """Return the header that a table is written under.

    >>> header_of("hub"), header_of("flying.case"), header_of("classes")
    ('[hub]', '[[flying.case]]', '[classes."a name"]')
    """
    *above, key = name.split(".")
    section = section_at(tuple(above))
    assert section is not None
    kind = str(section.fields_by_key()[key].annotation)
    if "dict[" in kind:
        return f'[{name}."a name"]'
    return f"[[{name}]]" if "list[" in kind else f"[{name}]"


def section_at(path: tuple[str | int, ...]) -> type[f.Section] | None:
    """Return the table class a path leads to; list places and names of own entries are passed over."""
    section: type[f.Section] | None = Sheet
    own_name = False
    for part in path:
        if section is None:
            return None
        field = None if own_name or isinstance(part, int) else section.fields_by_key().get(part)
        if field is not None:
            section = section_in(field)
        own_name = field is not None and "dict[" in str(field.annotation)
    return section


def section_in(field: FieldInfo) -> type[f.Section] | None:
    """Return the section class inside a field's annotation, through lists, dicts and `| None`."""
    waiting: list[object] = [field.annotation]
    while waiting:
        kind = waiting.pop()
        if isinstance(kind, type) and issubclass(kind, f.Section):
            return kind
        waiting.extend(get_args(kind))
    return None
