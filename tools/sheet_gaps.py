"""What a sheet takes for every key that is left out: found by resolving small sheets, else worded here."""

from __future__ import annotations

import itertools
from typing import Any

from pydantic.fields import FieldInfo

from bladehold.sheet import parse_sheet, resolve, sections
from bladehold.sheet.build import Build
from bladehold.sheet.reader import typed
from bladehold.sheet.sheet import Sheet, section_in

# What a missing key means where nothing is assumed: left out, it changes nothing, or says "there is none".
NEUTRAL = {
    "about.organisation": "nothing",
    "about.note": "nothing",
    "about.invented": "false",
    "aircraft.coaxial_spacing": "of pairs very far: the developed wake, the pessimistic end",
    "air.temperature_offset": "not used",
    "propeller.maker": "nothing",
    "propeller.part": "nothing",
    "propeller.polar": "the tables of the named sections",
    "propeller.tip_thickness": "in proportion to the chord, as the section",
    "propeller.tip_mass": "0 g",
    "propeller.core_material": "`foam-pvc-80`, of a foam-core blade",
    "propeller.skin_thickness": "`0.5 mm`, of a foam-core or hollow blade",
    "propeller.pivot_friction": "from the preload of the pivot screw, least and greatest",
    "propeller.leading_stop": "`90 deg`",
    "propeller.trailing_stop": "`90 deg`",
    "propeller.precone": "0 deg: no relief of the flap moment counted",
    "propeller.station.thickness": "0.12 of the chord",
    "propeller.station.section": "propeller.section",
    "propeller.calibration.pitch_offset": "0 deg: the blade as described",
    "propeller.calibration.chord_scale": "1: the blade as described",
    "propeller.calibration.profile_drag_factor": "1: the section as tabulated",
    "propeller.calibration.lift_exponent": "0: the section as tabulated",
    "propeller.calibration.source": "nothing",
    "hub.maker": "nothing",
    "hub.part": "nothing",
    "hub.bush_material": "no bush: the screw bears on the lug itself",
    "hub.bush_diameter": "no bush",
    "hub.flap_stiffness": "computed from plates, lug and pivot screw",
    "hub.bush_length": "as long as the lug is thick",
    "hub.inspectable": "not said",
    "pivot_screw.length": "long enough for a whole nut",
    "pivot_screw.circlip_load": "no circlip",
    "pivot_screw.spring_washer_rate": "no spring washers",
    "pivot_screw.reachable": "not said",
    "pivot_screw.shank_diameter": "as thick as the thread",
    "pivot_screw.engagement": "the whole thread of the nut",
    "pivot_screw.prevailing_torque": "0 N*m: the whole torque counts towards the least preload",
    "tie_screws.thread": "needed unless count is 0",
    "aircraft.rotor.z": "0 mm",
    "aircraft.rotor.cant": "0 deg: upright",
    "aircraft.rotor.cant_direction": "0 deg",
    "arm.outer_diameter": "needed of a tube",
    "arm.wall": "needed of a tube or box",
    "arm.width": "needed of a plate or box",
    "arm.height": "needed of a plate or box",
    "motor.maker": "nothing",
    "motor.part": "nothing",
    "motor.fast_no_load_current": "friction is the same at any speed",
    "motor.fast_no_load_voltage": "friction is the same at any speed",
    "motor.current_limit": "no limit",
    "motor.mass": "the heat capacity is assumed",
    "battery.energy": "not used beside capacity",
    "battery.voltage": "as the curve of its cells ends",
    "battery.current_limit": "no limit",
    "flying.segment.speed": "0 m/s",
    "flying.segment.climb": "0 m/s",
    "flying.segment.load_factor": "1",
    "flying.segment.payload": "0 kg",
    "flying.case.times": "0: it counts for strength, not for lives",
    "flying.case.lasts": "1 s",
    "flying.case.source": "`the sheet`",
    "flying.claimed_thrust": "no comparison with a rating",
    "flying.cyclic_share": "computed round the turn",
    "flying.case.speed": "0 m/s",
    "flying.case.climb": "0 m/s",
    "flying.case.temperature": "air.temperature",
    "flying.case.cyclic_share": "computed round the turn",
    "propeller.calibration.thrust_uncertainty": "0: no allowance",
    "bench.file": "not used",
    "bench.rpm": "not used",
    "bench.thrust": "not used",
    "bench.torque": "not used",
    "bench.power": "not used",
    "bench.voltage": "not used",
    "bench.temperature_column": "not used",
    "bench.pressure_column": "not used",
    "bench.drive_efficiency": "electric power is not used",
    "bench.temperature": "not used",
    "bench.pressure": "not used",
    "policy.source": "`set in the sheet`",
    "classes.shear": "tensile strength / sqrt(3)",
    "materials.yield": "no yield point: tensile strength is used",
    "materials.bearing_yield": "bearing strength times yield over tensile strength",
    "materials.hole_factor": "`0.5` for a laminate, 1 else",
    "materials.pressure": "yield or pin bearing strength is used",
    "materials.modulus": "`70 GPa`, as unconfirmed",
    "classes.modulus": "`207 GPa`, as unconfirmed",
}
# Sheets that differ in everything an assumption may follow from, and sheets that bring the optional tables.
OTHER = {
    "aircraft.mass": "40 kg",
    "propeller.diameter": "30 in",
    "hub.lug_width": "24 mm",
    "pivot_screw.thread": "M5",
    "mounting_screws.thread": "M5",
    "flying.used_thrust": "9 kgf",
    "flying.top_speed": "14 m/s",
    "air.altitude": "2000 m",
}
TORQUES = {
    "pivot_screw.torque": "0.5 N*m",
    "mounting_screws.torque": "1 N*m",
    "pivot_screw.nut": "hexagon",
}
OPTIONAL_TABLES = (
    '[tie_screws]\ncount = 2\nthread = "M3"\n[[flying.case]]\nname = "own"\nthrust = "9 kgf"\n'
    '[motor]\nspeed_constant = "130 rpm/V"\nresistance = "48 mohm"\n'
    '[battery]\ncells = 12\nenergy = "1400 Wh"\n'
    '[arm]\nshape = "plate"\nwidth = "30 mm"\nheight = "8 mm"\n'
    '[flight_controller]\nmount_frequency = "25 Hz"\n'
)


def said(field: FieldInfo, name: str) -> Any:
    """What a key says of itself: its example, or whether a check uses it."""
    words = field.json_schema_extra
    return words[name] if isinstance(words, dict) else None


def assumptions() -> dict[str, str]:
    """What resolving small sheets puts on record for each missing key, in words."""
    heavier = {key: value for key, value in OTHER.items() if key != "flying.used_thrust"}
    texts = [smallest(values) for values in ({}, OTHER, heavier)]
    tied = OPTIONAL_TABLES.replace("count = 2", 'count = 2\ntorque = "0.9 N*m"')
    texts += [smallest(values | TORQUES) + more for values in ({}, OTHER) for more in (OPTIONAL_TABLES, tied)]
    builds = [resolve(parse_sheet(text)) for text in texts]
    values: dict[str, dict[str, set[str]]] = {}
    for build in builds:
        given = build.assumptions, build.blade_assumptions, build.drive_assumptions, build.loss_assumptions
        for item in itertools.chain(*given):
            values.setdefault(item.key, {}).setdefault(item.why, set()).add(item.value)
    found = {
        key: "; or ".join(
            f"`{next(iter(shown))}`: {_short(why)}" if len(shown) == 1 else _short(why)
            for why, shown in by_why.items()
        )
        for key, by_why in values.items()
    }
    return found | _policy(builds[0])


def _short(why: str) -> str:
    return why.removeprefix("not given: ")


def smallest(values: dict[str, str]) -> str:
    """The smallest sheet that reads: every needed key with its example, or the value given."""
    wanted: dict[str, dict[str, str]] = {}
    for table, section in sections().items():
        top = Sheet.fields_by_key().get(table)
        if top is None or not top.is_required():
            continue
        wanted.setdefault(table, {})
        for key, field in section.fields_by_key().items():
            if field.is_required() and section_in(field) is None:
                wanted.setdefault(table, {})[key] = typed(said(field, "example"), field)
    for full, value in values.items():
        table, _, key = full.partition(".")
        wanted.setdefault(table, {})[key] = f'"{value}"'
    return "".join(
        f"[{table}]\n" + "".join(f"{key} = {value}\n" for key, value in keys.items())
        for table, keys in wanted.items()
    )


def _policy(build: Build) -> dict[str, str]:
    """What the policy takes without being told, with its source."""
    words = {}
    for key in sections()["policy"].fields_by_key():
        if key == "source":
            continue
        value = getattr(build.policy, key)
        source = build.policy.sources.get(key)
        shown = value if isinstance(value, str) else f"{value:g}"
        words[f"policy.{key}"] = f"`{shown}`: {source}" if source else f"`{shown}`"
    return words
