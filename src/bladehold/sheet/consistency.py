"""Faults no single key shows: parts that do not fit together, names that are nowhere defined."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from bladehold.air import GRAVITY
from bladehold.quantity import shown
from bladehold.rotor import section_catalogue
from bladehold.sheet.arm_faults import arm_faults
from bladehold.sheet.fields import advice
from bladehold.sheet.ledger import COLDEST, WARMEST, WIDEST_AT, WIDEST_CHORD
from bladehold.sheet.locate import Path
from bladehold.sheet.resolve_parts import drilled_hole, grip
from bladehold.tables import UnknownName, material_names, nut, property_class_names, thread

if TYPE_CHECKING:
    from bladehold.quantity import Quantity
    from bladehold.sheet.flying import Flying
    from bladehold.sheet.hardware import Battery, Propeller
    from bladehold.sheet.sheet import Sheet

_LEAST_CELL, _FULL_CELL, _MOST_CELL = 3.0, 4.2, 4.6  # V, of a full lithium cell
_LEAST_CURRENT = 10.0  # A, of a battery shorted over a motor or over itself: none of this size gives less
_ENOUGH = 0.95  # of the weight: what is left may be a slip of the scale, not another aircraft

Fault = tuple[Path, str]


def contradictions(sheet: Sheet) -> list[Fault]:
    """Return every contradiction as the key it is reported at and a sentence."""
    checks = (_names, _air, _blade, _holes, _bush, _screws, _stations, _layout, _flying, _drive, arm_faults)
    return [fault for check in checks for fault in check(sheet)]


def _names(sheet: Sheet) -> Iterator[Fault]:
    classes = (*property_class_names(), *(sheet.classes or {}))
    materials = (*material_names(), *(sheet.materials or {}))
    ties = sheet.tie_screws
    wanted: list[tuple[Path, str, str | None, tuple[str, ...]]] = [
        (("pivot_screw", "class"), "property class", sheet.pivot_screw.property_class, classes),
        (("mounting_screws", "class"), "property class", sheet.mounting_screws.property_class, classes),
        (("tie_screws", "class"), "property class", ties.property_class if ties else None, classes),
        (("hub", "plate_material"), "material", sheet.hub.plate_material, materials),
        (("hub", "lug_material"), "material", sheet.hub.lug_material, materials),
        (("hub", "bush_material"), "material", sheet.hub.bush_material, materials),
        (("hub", "spacer_material"), "material", sheet.hub.spacer_material, materials),
        (("mounting_screws", "into_material"), "material", sheet.mounting_screws.into_material, materials),
        (("arm", "material"), "material", sheet.arm.material if sheet.arm else None, materials),
        (("propeller", "section"), "blade section", sheet.propeller.section, tuple(section_catalogue())),
    ]
    for number, station in enumerate(sheet.propeller.station or []):
        place = ("propeller", "station", number, "section")
        wanted.append((place, "blade section", station.section, tuple(section_catalogue())))
    for path, kind, name, allowed in wanted:
        if name is not None and name not in allowed:
            yield path, f"read {shown(name)}: {advice(kind, name, allowed)}"


def _air(sheet: Sheet) -> Iterator[Fault]:
    air = sheet.air
    if air and air.temperature and air.temperature_offset:
        yield ("air", "temperature_offset"), "give either temperature or temperature_offset, not both"


def _blade(sheet: Sheet) -> Iterator[Fault]:
    propeller, hub = sheet.propeller, sheet.hub
    tip = propeller.diameter.si / 2
    pivot, balance = hub.pivot_radius, propeller.balance_point
    if pivot.si >= 0.5 * tip:
        yield (
            ("hub", "pivot_radius"),
            f"{pivot} is more than half of the blade tip radius ({1e3 * tip:.0f} mm)",
        )
    elif pivot.si + balance.si >= tip:
        yield (
            ("propeller", "balance_point"),
            f"{balance} outboard of a pivot at {pivot} lies beyond the blade tip ({1e3 * tip:.0f} mm)",
        )
    yield from _planform(propeller, pivot.si / tip)


def _planform(propeller: Propeller, pivot: float) -> Iterator[Fault]:
    """Widest chord and tip chord, as given or as assumed; pivot - as a share of the tip radius."""
    tip = propeller.diameter.si / 2
    assumed = propeller.station is None
    for key, chord in (("widest_chord", propeller.widest_chord), ("tip_chord", propeller.tip_chord)):
        if chord and chord.si > tip:
            yield ("propeller", key), f"{chord} is longer than the blade"
    widest = propeller.widest_chord.si if propeller.widest_chord else WIDEST_CHORD * tip
    if propeller.tip_chord and propeller.tip_chord.si > widest and (assumed or propeller.widest_chord):
        yield (
            ("propeller", "tip_chord"),
            f"{propeller.tip_chord} is more than widest_chord ({1e3 * widest:.3g} mm)",
        )
    place = propeller.widest_at.si if propeller.widest_at else WIDEST_AT
    if not pivot < place < 1.0 and (assumed or propeller.widest_at):
        text = f"the widest chord, at {place:g}, must lie between the pivot ({pivot:.2f}) and the tip (1)"
        yield ("propeller", "widest_at"), text


def _pin_diameter(sheet: Sheet) -> float:
    screw = sheet.pivot_screw
    nominal = thread(screw.thread).nominal_diameter
    return max(nominal, screw.shank_diameter.si) if screw.shank_diameter else nominal


def _holes(sheet: Sheet) -> Iterator[Fault]:
    hub, pin = sheet.hub, _pin_diameter(sheet)
    drilled = drilled_hole(sheet)
    lug_hole = hub.lug_hole.si if hub.lug_hole else drilled
    lug_cut = hub.bush_diameter.si if hub.bush_diameter else lug_hole
    plate_hole = hub.plate_hole.si if hub.plate_hole else drilled
    plate_width = hub.plate_width.si if hub.plate_width else hub.lug_width.si
    for key, hole in (("lug_hole", hub.lug_hole), ("plate_hole", hub.plate_hole)):
        if hole and hole.si < pin:
            yield ("hub", key), f"{hole} does not admit the pivot screw ({1e3 * pin:g} mm)"
    if lug_cut >= hub.lug_width.si:
        yield (
            ("hub", "lug_width"),
            f"{hub.lug_width} leaves nothing beside the hole or bush ({1e3 * lug_cut:g} mm)",
        )
    if plate_hole >= plate_width:
        yield ("hub", "plate_width"), f"the plate leaves nothing beside its hole ({1e3 * plate_hole:g} mm)"
    if hub.lug_edge_distance and hub.lug_edge_distance.si <= lug_cut / 2:
        yield ("hub", "lug_edge_distance"), "the hole or bush breaks out of the lug's end"
    if hub.contact_length and hub.contact_length.si <= max(lug_hole, plate_hole):
        yield ("hub", "contact_length"), f"{hub.contact_length} of contact lies wholly within the hole"
    if hub.plate_edge_distance and hub.plate_edge_distance.si <= plate_hole / 2:
        yield ("hub", "plate_edge_distance"), "the hole breaks out of the plate's edge"


def _bush(sheet: Sheet) -> Iterator[Fault]:
    hub = sheet.hub
    for key, value in (("bush_diameter", hub.bush_diameter), ("bush_length", hub.bush_length)):
        if value and not hub.bush_material:
            yield ("hub", key), "a bush needs bush_material too"
    if hub.bush_material and not hub.bush_diameter:
        yield ("hub", "bush_material"), "a bush needs bush_diameter too"
    if hub.bush_diameter and hub.bush_diameter.si <= (
        hub.lug_hole.si if hub.lug_hole else drilled_hole(sheet)
    ):
        yield ("hub", "bush_diameter"), f"{hub.bush_diameter} is not larger than the hole in it"


def _screws(sheet: Sheet) -> Iterator[Fault]:
    screw, ties = sheet.pivot_screw, sheet.tie_screws
    if screw.shank_diameter and screw.shank_diameter.si < thread(screw.thread).profile.root_diameter:
        yield ("pivot_screw", "shank_diameter"), f"{screw.shank_diameter} is thinner than the thread root"
    if screw.prevailing_torque and screw.torque and screw.prevailing_torque.si >= screw.torque.si:
        yield (
            ("pivot_screw", "prevailing_torque"),
            "is not smaller than torque: nothing is left to clamp with",
        )
    yield from _circlip(sheet)
    if screw.nut and screw.nut not in {"tapped", "circlip", "none"}:
        try:
            nut(screw.thread, screw.nut)
        except UnknownName as error:
            sizes = ", ".join(error.allowed)
            yield ("pivot_screw", "nut"), f'read "{screw.nut}": not made for {screw.thread}; made for {sizes}'
    if screw.nut in {"circlip", "none"} and screw.engagement:
        yield ("pivot_screw", "engagement"), f'there is nothing to engage with nut = "{screw.nut}"'
    if screw.length and screw.nut not in {"tapped", "none"}:
        held = grip(sheet, bool(screw.washers))
        if screw.length.si <= held:
            reach = f"{screw.length} does not reach through the hub: it grips {1e3 * held:.3g} mm"
            yield ("pivot_screw", "length"), reach
    if screw.nut == "tapped" and not screw.engagement:
        yield ("pivot_screw", "nut"), "a tapped hole needs engagement, the length of engaged thread"
    if ties and ties.count > 0 and ties.thread is None:
        yield ("tie_screws", "count"), "tie screws need a thread"
    if ties and ties.distance and ties.distance.si >= sheet.hub.pivot_radius.si:
        yield (
            ("tie_screws", "distance"),
            "is not smaller than hub.pivot_radius: the ties would sit beyond the axis",
        )


def _circlip(sheet: Sheet) -> Iterator[Fault]:
    screw = sheet.pivot_screw
    if screw.nut == "circlip" and screw.circlip_load is None:
        yield ("pivot_screw", "nut"), "a circlip needs circlip_load, what its maker says it carries"
    if screw.circlip_load and screw.nut != "circlip":
        yield ("pivot_screw", "circlip_load"), 'goes with nut = "circlip"'
    if screw.nut == "circlip" and screw.torque and screw.torque.si > 0.0:
        yield ("pivot_screw", "torque"), "a pin held by a circlip cannot be tightened"


def _stations(sheet: Sheet) -> Iterator[Fault]:
    stations = sheet.propeller.station
    if stations is None:
        return
    if len(stations) < 4:
        yield ("propeller", "station"), "give at least 4 stations, from root to tip, or none"
    for number in range(1, len(stations)):
        if stations[number].at.si <= stations[number - 1].at.si:
            place = ("propeller", "station", number, "at")
            yield (
                place,
                f"stations run outward: {stations[number].at} does not follow {stations[number - 1].at}",
            )


def _layout(sheet: Sheet) -> Iterator[Fault]:
    aircraft = sheet.aircraft
    listed = len(aircraft.rotor or [])
    if aircraft.layout == "custom" and listed != aircraft.rotors:
        yield ("aircraft", "rotors"), f"{aircraft.rotors} rotors, but {listed} tables [[aircraft.rotor]]"
    if aircraft.layout == "coaxial" and aircraft.rotors % 2:
        yield ("aircraft", "rotors"), f"{aircraft.rotors} rotors cannot stand in coaxial pairs"
    if aircraft.coaxial_spacing and aircraft.layout != "coaxial":
        yield ("aircraft", "coaxial_spacing"), 'a spacing of pairs goes with layout = "coaxial"'
    if aircraft.mass_ahead is not None and aircraft.layout == "custom":
        yield (
            ("aircraft", "mass_ahead"),
            "the places of a custom layout count from the centre of mass already: leave mass_ahead out",
        )
    if listed and aircraft.layout != "custom":
        yield ("aircraft", "rotor"), 'places of rotors go with layout = "custom"'
    spins = {rotor.spin for rotor in aircraft.rotor or []}
    upright = not any(rotor.cant and rotor.cant.si for rotor in aircraft.rotor or [])
    if listed > 2 and len(spins) == 1 and upright:
        yield (
            ("aircraft", "rotor"),
            f"all {listed} rotors turn {spins.pop()}: nothing balances their torque, the aircraft would spin",
        )


def _flying(sheet: Sheet) -> Iterator[Fault]:
    flying = sheet.flying
    if flying.used_thrust is not None:
        yield from _lifting(sheet, flying.used_thrust)
    if flying.cruise_speed and flying.top_speed and flying.cruise_speed.si > flying.top_speed.si > 0.0:
        yield ("flying", "cruise_speed"), f"{flying.cruise_speed} is more than top_speed ({flying.top_speed})"
    low = sheet.air.altitude if sheet.air else None
    if flying.altitude_max and low and flying.altitude_max.si < low.si:
        place = ("flying", "altitude_max")
        yield place, f"{flying.altitude_max} is below the altitude of [air] ({low})"
    cold, warm = flying.temperature_min, flying.temperature_max
    if cold and cold.si > (warm.si if warm else WARMEST):
        yield (
            ("flying", "temperature_min"),
            f"{cold} is warmer than temperature_max ({warm or '40 degC, assumed'})",
        )
    elif warm and warm.si < (cold.si if cold else COLDEST):
        yield (
            ("flying", "temperature_max"),
            f"{warm} is colder than temperature_min ({cold or '-10 degC, assumed'})",
        )
    shares = [segment.share.si for segment in flying.segment or []]
    if shares and abs(sum(shares) - 1.0) > 1e-3:
        yield ("flying", "segment"), f"the shares of the segments add up to {sum(shares):.3f}, not to 1"
    yield from _wind(flying)
    parts = [segment.name for segment in flying.segment or []]
    for number, name in enumerate(parts):
        if name in parts[:number]:
            yield ("flying", "segment", number, "name"), f"there are two segments called {shown(name)}"
    names = [case.name for case in flying.case or []]
    for number, name in enumerate(names):
        if name in names[:number]:
            yield ("flying", "case", number, "name"), f"there are two cases called {shown(name)}"


def _wind(flying: Flying) -> Iterator[Fault]:
    wind = flying.wind.si if flying.wind else 0.0
    if wind and not flying.segment:
        yield (
            ("flying", "wind"),
            "blows in the segments of a mission only: give [[flying.segment]], or leave it",
        )
    top = flying.top_speed
    for number, segment in enumerate(flying.segment or []):
        through = (segment.speed.si if segment.speed else 0.0) + wind
        if top and through > top.si * (1.0 + 1e-9) and top.si > 0.0 and through > wind:
            yield (
                ("flying", "segment", number, "speed"),
                f"{segment.speed} over ground into the wind is {through:.3g} m/s through the air, "
                f"more than top_speed ({top})",
            )


def _lifting(sheet: Sheet, thrust: Quantity) -> Iterator[Fault]:
    lifted = sheet.aircraft.rotors * thrust.si / GRAVITY
    if lifted < _ENOUGH * sheet.aircraft.mass.si:
        share = sheet.aircraft.mass.si / sheet.aircraft.rotors
        message = (
            f"{sheet.aircraft.rotors} rotors at {thrust} lift {lifted:.3g} kg, "
            f"but the aircraft weighs {sheet.aircraft.mass}: steady flight needs {share:.3g} kgf per rotor"
        )
        yield ("flying", "used_thrust"), message


def _drive(sheet: Sheet) -> Iterator[Fault]:
    motor, battery = sheet.motor, sheet.battery
    if motor is not None:
        fast = motor.fast_no_load_current, motor.fast_no_load_voltage
        if any(fast) and not all(fast):
            key = "fast_no_load_voltage" if fast[0] else "fast_no_load_current"
            yield ("motor", key), "is needed beside the other figure of the second no-load point"
        elif motor.fast_no_load_voltage is not None:
            slow = motor.no_load_voltage
            if slow is None or motor.no_load_current is None:
                yield ("motor", "no_load_voltage"), "a second no-load point needs the first one, whole"
            elif slow.si >= motor.fast_no_load_voltage.si:
                key = "fast_no_load_voltage"
                yield (
                    ("motor", key),
                    f"{motor.fast_no_load_voltage} is not higher than no_load_voltage ({slow})",
                )
    if battery is not None:
        yield from _battery(battery)
        full = _full(battery)
        for table, part in (("motor", motor), ("battery", battery)):
            ohm = part.resistance if part else None
            if ohm and ohm.si > 0.0 and full / ohm.si < _LEAST_CURRENT:
                yield (
                    (table, "resistance"),
                    f"{ohm} lets no more than {full / ohm.si:.2g} A through at {full:.3g} V: is it in mohm?",
                )


def _full(battery: Battery) -> float:
    return battery.voltage.si if battery.voltage else _FULL_CELL * battery.cells


def _battery(battery: Battery) -> Iterator[Fault]:
    if (battery.capacity is None) == (battery.energy is None):
        yield ("battery", "capacity"), "give either capacity or energy"
    full = _full(battery)
    if (
        battery.voltage
        and not _LEAST_CELL * battery.cells <= battery.voltage.si <= _MOST_CELL * battery.cells
    ):
        per_cell = battery.voltage.si / battery.cells
        yield (
            ("battery", "voltage"),
            f"{battery.voltage} over {battery.cells} cells is {per_cell:.3g} V per cell",
        )
    if battery.cutoff_voltage and battery.cutoff_voltage.si >= full:
        text = f"{battery.cutoff_voltage} is no less than the full {full:.3g} V"
        yield ("battery", "cutoff_voltage"), text
    if battery.reserve and battery.reserve.si >= 1.0:
        yield ("battery", "reserve"), "keeps the whole charge: nothing is left to fly with"
