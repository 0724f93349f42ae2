"""Sheets for the tests of the study, as text."""

from __future__ import annotations

from pathlib import Path

from bladehold.sheet import Build, load_sheet, parse_sheet, resolve

EXAMPLES = Path(__file__).parents[2] / "examples"


def delivered() -> Build:
    return resolve(load_sheet(EXAMPLES / "tarn6_as_delivered.toml"))


def repaired() -> Build:
    return resolve(load_sheet(EXAMPLES / "tarn6_repaired.toml"))


def trade_sheet(
    inches: float,
    blade: str,
    balance: str,
    pivot: str,
    lug: tuple[str, str],
    thread: str,
    thrust: float,
    section: str = "naca2412",
) -> Build:
    """A folding two-blade hub as the trade describes it, every factor at one.

    What the trade does not say is stated here: pitch a third of the diameter, sea level, 15 degC.
    """
    return resolve(
        parse_sheet(f"""
[about]
name = "trade fact"
[aircraft]
mass = "{6 * thrust} kg"
rotors = 6
[air]
altitude = "0 m"
[propeller]
blades = 2
diameter = "{inches} in"
pitch = "{inches / 3:.4f} in"
folding = true
section = "{section}"
blade_mass = "{blade}"
balance_point = "{balance}"
[hub]
pivot_radius = "{pivot}"
plate_thickness = "3 mm"
plate_material = "7075-T6"
lug_thickness = "{lug[0]}"
lug_width = "{lug[1]}"
[pivot_screw]
thread = "{thread}"
class = "A2-70"
shear_plane = "thread"
[mounting_screws]
count = 4
thread = "M4"
class = "8.8"
bolt_circle = "25 mm"
[flying]
used_thrust = "{thrust} kgf"
load_factor = 1.25
top_speed = "0 m/s"
climb_speed = "0 m/s"
temperature_min = "15 degC"
temperature_max = "15 degC"
[[flying.case]]
name = "flown hard"
thrust = "{1.25 * thrust} kgf"
temperature = "15 degC"
cyclic_share = 0.5
[policy]
yield_factor = 1.0
fitting = 1.0
centrifugal_proof = 1.0
""")
    )
