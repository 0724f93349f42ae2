"""The tables of a sheet that describe things one can hold: propeller, hub, screws, arm, drive."""

from typing import Annotated

from bladehold.quantity import Quantity
from bladehold.sheet import fields as f
from bladehold.tables import blade_material_names, cell_names, locking_names, lubrication_names, thread_names

Thread = Annotated[str, f.named("thread", thread_names)]
BladeMaterialName = Annotated[str, f.named("blade material", blade_material_names)]
Head = Annotated[str, f.word("socket", "hexagon")]
Nut = Annotated[str, f.word("hexagon", "locking", "thin", "tapped", "circlip", "none")]
ShearPlane = Annotated[str, f.word("thread", "shank")]
Lubrication = Annotated[str, f.named("lubrication state", lubrication_names)]
Chemistry = Annotated[str, f.named("cell chemistry", cell_names)]
Locking = Annotated[str, f.named("way of locking", locking_names)]


class Station(f.Section):
    """[[propeller.station]]: one station of a measured blade."""

    at: f.Share = f.key("place as a fraction of the rotor radius", "0.45", required=True)
    chord: f.SmallLength = f.key("chord there", "46 mm", required=True)
    twist: f.Angle = f.key("pitch angle of the chord line there", "14.5 deg", required=True)
    thickness: f.SmallLength | None = f.key("greatest thickness there", "5.1 mm")
    section: f.Text | None = f.key("blade section there, by name", "naca4412")


class Calibration(f.Section):
    """[propeller.calibration]: what a bench run taught about this blade."""

    pitch_offset: f.Angle | None = f.key("added to the pitch angle everywhere", "0.8 deg")
    chord_scale: f.PositiveRatio | None = f.key("factor on the chord", "1.04")
    profile_drag_factor: f.PositiveRatio | None = f.key("factor on section drag", "1.10")
    lift_exponent: f.Exponent | None = f.key(
        "exponent of section lift in the Reynolds number, from 20 000 to 200 000", "0.08"
    )
    thrust_uncertainty: f.Share | None = f.key("relative standard deviation of thrust", "0.02")
    torque_uncertainty: f.Share | None = f.key("relative standard deviation of torque", "0.03", used=False)
    source: f.Text | None = f.key("the bench run it comes from", "stand run 14")


class Propeller(f.Section):
    """[propeller]: one rotor's blades."""

    maker: f.Text | None = f.key("who made it", "Ostrel Works")
    part: f.Text | None = f.key("part number", "OW-24F")
    blades: Annotated[int, f.whole(2, 8)] = f.key("blades per rotor", "2", required=True)
    diameter: f.Diameter = f.key("tip circle diameter, blades straight", "24 in", required=True)
    pitch: f.Diameter = f.key("geometric pitch (advance per turn)", "8 in", required=True)
    folding: f.YesNo = f.key("true when each blade turns on one pivot screw", "true", required=True)
    blade_mass: f.PartMass = f.key("one blade, as weighed, without its screw", "36 g", required=True)
    balance_point: f.Length = f.key(
        "where the blade balances on an edge, measured outboard of the pivot", "104 mm", required=True
    )
    section: f.Text | None = f.key("blade section by name, see the sheet page", "naca4412")
    polar: f.Text | None = f.key(
        "file of a polar of your own (CSV: alpha_deg, cl, cd, perhaps reynolds) beside the sheet", "own.csv"
    )
    widest_chord: f.SmallLength | None = f.key("greatest chord", "50 mm")
    widest_at: f.Share | None = f.key("where the chord is greatest, as a fraction of the radius", "0.35")
    tip_chord: f.SmallLength | None = f.key("chord at the tip", "20 mm")
    root_thickness: f.SmallLength | None = f.key("blade thickness just outboard of the lug", "7 mm")
    tip_thickness: f.SmallLength | None = f.key("blade thickness near the tip", "2 mm")
    precone: f.Angle | None = f.key("built-in upward angle of the blades", "0 deg")
    layup: Annotated[str, f.word("solid-laminate", "foam-core", "hollow", "wood", "moulded")] | None = f.key(
        "how the blade is built", "solid-laminate"
    )
    blade_material: BladeMaterialName | None = f.key("of the whole section, or of its skin", "carbon-0-90")
    core_material: BladeMaterialName | None = f.key("inside the skin of a foam-core blade", "foam-pvc-80")
    skin_thickness: f.SmallLength | None = f.key("of a foam-core or hollow blade", "0.5 mm")
    lug_angle: f.Angle | None = f.key(
        "of the lug to the plane of rotation, leading edge up; 0 when it lies flat between the plates",
        "0 deg",
    )
    structural_damping: f.Share | None = f.key("damping ratio of the blade's bending", "0.01")
    pivot_friction: f.Torque | None = f.key(
        "moment that just moves a blade on its tightened pivot, in the plane of rotation", "0.12 N*m"
    )
    leading_stop: f.StopAngle | None = f.key("how far a blade can swing ahead of straight", "5 deg")
    trailing_stop: f.StopAngle | None = f.key(
        "how far it can swing back; a blade is folded against this stop", "120 deg"
    )
    tap_frequency: f.Frequency | None = f.key(
        "first flap frequency of one blade clamped at its root, standing still, from a tap test", "62 Hz"
    )
    tip_mass: f.PartMass | None = f.key("mass added at the tip, not part of blade_mass", "1 g")
    station: list[Station] | None = f.key("measured stations, from root to tip", "")
    calibration: Calibration | None = f.key("result of a bench calibration", "")


class Hub(f.Section):
    """[hub]: two plates that hold the blade lugs."""

    maker: f.Text | None = f.key("who made it", "Ostrel Works")
    part: f.Text | None = f.key("part number", "OW-H24")
    pivot_radius: f.Length = f.key("rotor axis to pivot screw axis", "30 mm", required=True)
    plate_thickness: f.SmallLength = f.key("thickness of one hub plate", "3 mm", required=True)
    plate_material: f.Text | None = f.key("material of the plates", "7075-T6")
    plate_width: f.SmallLength | None = f.key("plate width across the pivot hole", "18 mm")
    plate_edge_distance: f.SmallLength | None = f.key(
        "pivot hole centre to the plate's outboard edge", "9 mm"
    )
    plate_hole: f.SmallLength | None = f.key("pivot hole in the plates", "4.1 mm")
    lug_thickness: f.SmallLength = f.key(
        "thickness of the blade root between the plates", "8 mm", required=True
    )
    lug_width: f.SmallLength = f.key("width of the blade root across the pivot hole", "18 mm", required=True)
    lug_edge_distance: f.SmallLength | None = f.key("pivot hole centre to the inboard end of the lug", "9 mm")
    lug_hole: f.SmallLength | None = f.key("pivot hole in the blade (inside the bush, if any)", "4.1 mm")
    lug_material: f.Text | None = f.key("material of the blade root", "carbon-woven")
    bush_material: f.Text | None = f.key("material of the bush in the lug", "C45")
    bush_diameter: f.SmallLength | None = f.key("outside diameter of the bush", "7 mm")
    bush_length: f.SmallLength | None = f.key("length of the bush", "8 mm")
    contact_length: f.SmallLength | None = f.key(
        "length of the lug-to-plate contact along the blade", "18 mm"
    )
    gap: f.Gap | None = f.key("clearance between lug and plate on each side", "0.1 mm")
    flap_stiffness: f.RotationalStiffness | None = f.key(
        "of clevis and plates against the flap moment, from a weight at the blade and the angle it makes",
        "900 N*m/rad",
    )
    spacer_material: f.Text | None = f.key("material of the spacers at the tie screws", "6061-T6")
    spacer_diameter: f.SmallLength | None = f.key("outside diameter of these spacers", "6 mm")
    upper_plate_bolted: f.YesNo | None = f.key(
        "true when the mounting screws clamp the upper plate too, not the lower one alone", "false"
    )
    inspectable: f.YesNo | None = f.key(
        "true when screw heads, nuts and lug faces can be seen without taking anything apart", "true"
    )


class PivotScrew(f.Section):
    """[pivot_screw]: the one screw a folding blade turns on."""

    thread: Thread = f.key("metric coarse thread", "M4", required=True)
    length: f.SmallLength | None = f.key("length under the head", "20 mm")
    property_class: f.Text | None = f.key("property class or material marked on it", "A2-70", name="class")
    shear_plane: ShearPlane | None = f.key("what crosses the faces between lug and plates", "thread")
    shank_diameter: f.SmallLength | None = f.key(
        "plain shank, if thicker than the thread (shoulder screw)", "5 mm"
    )
    head: Head | None = f.key("head form", "socket")
    nut: Nut | None = f.key("what holds the other end", "locking")
    engagement: f.SmallLength | None = f.key("length of engaged thread, if not a whole nut", "6 mm")
    washers: f.YesNo | None = f.key("true with a washer under head and nut", "false")
    torque: f.Torque | None = f.key("tightening torque", "0.5 N*m")
    prevailing_torque: f.Torque | None = f.key("running torque of a locking nut", "0.3 N*m")
    lubrication: Lubrication | None = f.key("state of thread and head face", "dry")
    locking: Locking | None = f.key("what keeps it from turning", "prevailing-torque")
    circlip_load: f.Force | None = f.key("axial load the circlip carries, by its maker's table", "2 kN")
    spring_washer_rate: f.Stiffness | None = f.key(
        "stiffness of the stack of spring washers on the screw", "800 N/mm"
    )
    reachable: f.YesNo | None = f.key("true when it can be tightened with hub and blades in place", "true")


class TieScrews(f.Section):
    """[tie_screws]: screws that hold the two plates together beside each pivot."""

    count: Annotated[int, f.whole(0, 12)] = f.key("tie screws for one blade", "2", required=True)
    thread: Thread | None = f.key("metric coarse thread", "M3")
    property_class: f.Text | None = f.key("property class", "A2-70", name="class")
    distance: f.SmallLength | None = f.key("from the pivot inboard to the tie screws", "16 mm")
    torque: f.Torque | None = f.key("tightening torque", "0.9 N*m")
    lubrication: Lubrication | None = f.key("state of thread and head face", "dry")


class MountingScrews(f.Section):
    """[mounting_screws]: screws that hold the hub on the motor bell."""

    count: Annotated[int, f.whole(2, 24)] = f.key("number of screws", "4", required=True)
    thread: Thread = f.key("metric coarse thread", "M4", required=True)
    property_class: f.Text | None = f.key("property class", "8.8", name="class")
    bolt_circle: f.Length = f.key("diameter of the bolt circle", "25 mm", required=True)
    torque: f.Torque | None = f.key("tightening torque", "2.2 N*m")
    lubrication: Lubrication | None = f.key("state of thread and head face", "dry")
    engagement: f.SmallLength | None = f.key("engaged thread length in the motor bell", "6 mm")
    into_material: f.Text | None = f.key("material of the motor bell's threads", "6061-T6")


class Arm(f.Section):
    """[arm]: what carries the motor."""

    shape: Annotated[str, f.word("tube", "plate", "box")] = f.key(
        "cross-section: round tube, solid plate, rectangular tube", "tube", required=True
    )
    length: f.Length | None = f.key("clamp to motor axis", "520 mm")
    outer_diameter: f.SmallLength | None = f.key("outside diameter of a tube", "35 mm")
    wall: f.SmallLength | None = f.key("wall thickness of a tube or box", "1.5 mm")
    width: f.SmallLength | None = f.key("width of a plate or box, level", "30 mm")
    height: f.SmallLength | None = f.key("height of a plate or box, upright", "6 mm")
    material: f.Text | None = f.key("arm material", "carbon-woven")
    tap_frequency: f.Frequency | None = f.key(
        "first frequency of one arm with motor and propeller on it, tapped downward, frame held", "28 Hz"
    )
    damping: f.DampingRatio | None = f.key("damping ratio of that motion", "0.02")
    tip_mass: f.PartMass | None = f.key("motor, mount, hub and blades together", "650 g")
    rotor_height: f.Standoff | None = f.key("plane of the rotor above the axis of the arm", "55 mm")


class FlightController(f.Section):
    """[flight_controller]: what the accelerometer sits on."""

    mass: f.PartMass | None = f.key("controller with the plate it sits on", "120 g")
    mount_frequency: f.Frequency = f.key(
        "natural frequency of that plate on its soft mounts", "25 Hz", required=True
    )
    mount_damping: f.DampingRatio | None = f.key("damping ratio of the mounts", "0.1")


class Motor(f.Section):
    """[motor]: one motor with its speed controller and cables, from its data sheet."""

    maker: f.Text | None = f.key("who made it", "Ostrel Works")
    part: f.Text | None = f.key("part number", "OW-M80")
    speed_constant: f.SpeedConstant = f.key("no-load speed per volt", "130 rpm/V", required=True)
    resistance: f.Resistance = f.key("winding resistance, line to line", "48 mohm", required=True)
    no_load_current: f.Current | None = f.key("current without load", "1.1 A")
    no_load_voltage: f.Voltage | None = f.key("voltage at which that was measured", "20 V")
    fast_no_load_current: f.Current | None = f.key(
        "current without load at a higher voltage, if the data sheet has a second", "1.6 A"
    )
    fast_no_load_voltage: f.Voltage | None = f.key("that higher voltage", "44 V")
    current_limit: f.Current | None = f.key("largest current allowed", "70 A")
    pole_pairs: Annotated[int, f.whole(1, 60)] | None = f.key("pole pairs", "14", used=False)
    mass: f.PartMass | None = f.key("mass with cables, for its heat capacity", "410 g")
    temperature_limit: Annotated[Quantity, f.quantity("temperature", "degC", low=0, high=300)] | None = f.key(
        "highest winding temperature", "120 degC"
    )
    thermal_resistance: f.ThermalResistance | None = f.key("winding to air", "0.9 K/W")
    heat_capacity: f.HeatCapacity | None = f.key("heat stored per kelvin", "150 J/K")
    controller_resistance: f.Resistance | None = f.key("speed controller, on-resistance", "4 mohm")
    switching_loss: f.Share | None = f.key(
        "speed controller: lost in switching, of the battery's voltage times the motor's current", "0.01"
    )
    wiring_resistance: f.Resistance | None = f.key("cables to one controller, there and back", "3 mohm")


class Battery(f.Section):
    """[battery]: the whole pack as the aircraft carries it."""

    cells: Annotated[int, f.whole(1, 60)] = f.key("cells in series", "12", required=True)
    chemistry: Chemistry | None = f.key("what the cells are", "lithium-polymer")
    capacity: f.Charge | None = f.key("charge; give this or energy", "32 Ah")
    energy: f.Energy | None = f.key("energy on its label; give this or capacity", "1420 Wh")
    voltage: f.Voltage | None = f.key("open-circuit voltage, full", "50.4 V")
    cutoff_voltage: f.Voltage | None = f.key("voltage under load at which the flight ends", "39.6 V")
    reserve: f.Share | None = f.key("charge that is kept for landing", "0.2")
    resistance: f.Resistance | None = f.key("internal resistance of the pack, warm and full", "18 mohm")
    temperature: f.AirTemperature | None = f.key("of the cells in flight", "25 degC")
    current_limit: f.Current | None = f.key("largest current of the pack", "400 A")
    mass: f.Mass | None = f.key("mass of the pack", "7.4 kg", used=False)
    other_power: Annotated[Quantity, f.quantity("power", "W", low=0, high=100000)] | None = f.key(
        "drawn by everything but the rotors", "40 W"
    )
