"""The tables of a sheet about aircraft, air, flying, policy and values of one's own."""

from typing import Annotated

from bladehold.quantity import Quantity
from bladehold.sheet import fields as f


class About(f.Section):
    """[about]: what this sheet is."""

    name: f.Text = f.key("short name of this build", "My build", required=True)
    organisation: f.Text | None = f.key("who runs it", "Harrow Fen Survey")
    note: f.Text | None = f.key("anything worth saying", "first season")
    invented: f.YesNo | None = f.key("true when the data is made up, as in the examples", "true")


class RotorPlace(f.Section):
    """[[aircraft.rotor]]: one rotor of a custom layout."""

    x: f.Offset = f.key("forward of the centre of mass", "600 mm", required=True)
    y: f.Offset = f.key("to the right of the centre of mass", "350 mm", required=True)
    z: f.Offset | None = f.key("below the centre of mass", "0 mm")
    spin: Annotated[str, f.word("cw", "ccw")] = f.key("sense seen from above", "cw", required=True)
    cant: f.Angle | None = f.key("tilt of the rotor axis", "0 deg")
    cant_direction: f.Direction | None = f.key("where the axis tilts to, from ahead to right", "90 deg")


class Aircraft(f.Section):
    """[aircraft]: the whole machine."""

    mass: f.Mass = f.key("take-off mass", "24 kg", required=True)
    rotors: Annotated[int, f.whole(1, 24)] = f.key("number of rotors", "6", required=True)
    layout: Annotated[str, f.word("flat", "coaxial", "custom")] | None = f.key(
        "how they are arranged", "flat"
    )
    coaxial_spacing: f.Length | None = f.key("between the discs of a coaxial pair", "120 mm")
    rotor_distance: f.Length | None = f.key("centre of the aircraft to a rotor axis", "780 mm")
    first_arm: f.Direction | None = f.key("where the first arm points, from ahead to the right", "30 deg")
    rotor_height: f.Offset | None = f.key("of the rotors above the centre of mass", "90 mm")
    mass_ahead: f.Offset | None = f.key("centre of mass ahead of the middle of the rotors", "0 mm")
    gyration_radius: f.Length | None = f.key(
        "radius of gyration of the whole machine against pitch and roll", "390 mm"
    )
    drag_area: f.Area | None = f.key("drag coefficient times frontal area", "0.35 m^2")
    drag_height: f.Offset | None = f.key("of the centre of drag above the centre of mass", "0 mm")
    rotor: list[RotorPlace] | None = f.key("places of the rotors in a custom layout", "")


class AirState(f.Section):
    """[air]: where it flies."""

    altitude: f.Altitude | None = f.key("pressure altitude", "300 m")
    temperature: f.AirTemperature | None = f.key("air temperature there", "25 degC")
    temperature_offset: f.TemperatureStep | None = f.key(
        "or: difference from the standard atmosphere", "10 K"
    )
    humidity: f.Share | None = f.key("relative humidity", "0.5")


class Segment(f.Section):
    """[[flying.segment]]: one part of a usual mission."""

    name: f.Text = f.key("what it is", "transit", required=True)
    share: f.Share = f.key("share of the flight time", "0.3", required=True)
    speed: f.Speed | None = f.key("speed over ground; the wind of [flying] comes from ahead on top", "12 m/s")
    climb: Annotated[Quantity, f.quantity("speed", "m/s", low=-30, high=30)] | None = f.key(
        "rate of climb, negative for descent", "0 m/s"
    )
    load_factor: Annotated[Quantity, f.ratio(above=0, high=5)] | None = f.key("lift over weight", "1.0")
    payload: f.Mass | None = f.key("carried on top of the take-off mass", "2 kg")


class Case(f.Section):
    """[[flying.case]]: a flight condition of your own."""

    name: f.Text = f.key("what it is", "sling load snatch", required=True)
    thrust: f.Force = f.key("thrust of the rotor that works hardest", "9 kgf", required=True)
    speed: f.Speed | None = f.key("air speed across the disc", "12 m/s")
    climb: f.Speed | None = f.key("air speed down through the disc", "3 m/s")
    temperature: f.AirTemperature | None = f.key("air and hub temperature", "-5 degC")
    cyclic_share: f.PositiveRatio | None = f.key("once-per-turn flap moment over the mean", "0.5")
    times: Annotated[int, f.whole(0, 100000)] | None = f.key("how often in a flight", "2")
    lasts: f.Duration | None = f.key("how long each time", "2 s")
    source: f.Text | None = f.key("where the figures come from", "log of the flight of 3 May")


class Flying(f.Section):
    """[flying]: what it is really used for."""

    used_thrust: f.Force | None = f.key("thrust of one rotor in hover, as really used", "5.2 kgf")
    used_speed: f.Turning | None = f.key(
        "speed of one rotor in hover at used_thrust, as read from the speed controller", "3900 rpm"
    )
    greatest_speed: f.Turning | None = f.key(
        "greatest speed that the controller and battery allow, for the centrifugal proof", "5800 rpm"
    )
    claimed_thrust: f.Force | None = f.key("the maker's thrust rating of the propeller", "15 kgf")
    load_factor: Annotated[Quantity, f.ratio(low=1, high=5)] | None = f.key(
        "greatest lift over steady lift in manoeuvres and gusts", "1.5"
    )
    top_speed: f.Speed | None = f.key("greatest air speed", "18 m/s")
    cruise_speed: f.Speed | None = f.key("usual air speed", "12 m/s")
    climb_speed: f.Speed | None = f.key("greatest rate of climb", "4 m/s")
    descent_speed: f.Speed | None = f.key("greatest rate of descent straight down", "2 m/s")
    cyclic_share: f.PositiveRatio | None = f.key(
        "once-per-turn flap moment over the mean at top speed, if you know it better", "0.5"
    )
    temperature_min: f.AirTemperature | None = f.key("coldest flying", "-10 degC")
    temperature_max: f.AirTemperature | None = f.key("warmest flying", "35 degC")
    idle: f.Turning | None = f.key("idle speed of the rotor", "700 rpm")
    pitch_rate: f.BodyRate | None = f.key("greatest pitch or roll rate", "120 deg/s")
    control_time: f.Duration | None = f.key("in which pitch and roll rates are reached", "0.4 s")
    yaw_rate: f.BodyRate | None = f.key("greatest yaw rate", "45 deg/s")
    yaw_time: f.Duration | None = f.key("in which it is reached", "2 s")
    bank: Annotated[Quantity, f.quantity("angle", "deg", low=0, high=75)] | None = f.key(
        "greatest bank angle in a turn at cruise speed", "35 deg"
    )
    gust: f.Speed | None = f.key("gust, vertical or level", "9.1 m/s")
    gusts: Annotated[int, f.whole(0, 100000)] | None = f.key(
        "such gusts in a flight, of each kind: from below, from above and level, in hover and at top speed",
        "1",
    )
    wind: f.Speed | None = f.key("steady wind that missions are flown in", "5 m/s")
    altitude_max: f.Altitude | None = f.key("highest pressure altitude flown at", "1500 m")
    height: f.FlightHeight | None = f.key("greatest height above the ground flown at", "60 m")
    flight_time: f.Duration | None = f.key("length of a usual flight", "18 min")
    spin_up: f.Duration | None = f.key("from rest to the speed of hover", "2 s")
    throttle_step: f.Duration | None = f.key(
        "quickest change of speed in flight: as long as it would take from hover speed to rest", "0.5 s"
    )
    throttle_steps: Annotated[int, f.whole(0, 100000)] | None = f.key(
        "hard throttle steps in a flight, between least and greatest load factor", "100"
    )
    throttle_chops: Annotated[int, f.whole(0, 100000)] | None = f.key(
        "times in a flight that the throttle is cut to idle and opened again", "2"
    )
    manoeuvres: Annotated[int, f.whole(0, 100000)] | None = f.key(
        "of each hard manoeuvre in a flight: pull-ups, turns, turns on the spot, tilting", "10"
    )
    manoeuvre_time: f.Duration | None = f.key("how long each lasts", "2 s")
    service_life: f.Duration | None = f.key("hours of flight before parts of the hub are replaced", "300 h")
    segment: list[Segment] | None = f.key("parts of a usual mission", "")
    case: list[Case] | None = f.key("flight conditions of your own", "")


class Setting(f.Section):
    """[setting]: how tight a folding pivot is set, and what it must do."""

    temperature: f.AirTemperature | None = f.key("at which the screws are tightened", "20 degC")
    straight_angle: f.Angle | None = f.key(
        "how far from straight a blade may stay at idle speed, beyond what its drag makes", "3 deg"
    )
    balance_grade: f.Speed | None = f.key(
        "grade of ISO 21940-11 that the blades at rest in hover must keep (6.3 mm/s is G 6.3)", "6.3 mm/s"
    )
    handling: Annotated[Quantity, f.ratio(above=0, high=20)] | None = f.key(
        "times its own weight that a blade must bear without flopping", "1.5"
    )
    hand_force: f.Force | None = f.key("at the tip, with which a blade can still be folded by hand", "15 N")


class Policy(f.Section):
    """[policy]: factors and methods, if other than the table's."""

    limit_to_ultimate: f.SafetyFactor | None = f.key("ultimate load over limit load", "1.5")
    yield_factor: f.SafetyFactor | None = f.key("factor on limit load against yield", "1.0")
    fitting: f.SafetyFactor | None = f.key("fitting factor", "1.15")
    centrifugal_proof: f.SafetyFactor | None = f.key("proof load over the greatest centrifugal load", "2.0")
    marginal: f.Share | None = f.key("margins below this are called marginal", "0.15")
    pin_bending: Annotated[str, f.word("bedded", "air-force", "knuckle")] | None = f.key(
        "lever of the pin bending moment", "bedded"
    )
    contact: Annotated[str, f.word("round", "strip")] | None = f.key(
        "outline of the faces of lug and plates that press on each other", "round"
    )
    grip_friction: f.Share | None = f.key("friction coefficient of clamped faces", "0.1")
    source: f.Text | None = f.key("who decided these", "house rule 3")


class OwnClass(f.Section):
    """[classes."name"]: strength of a screw that is not in the tables, or known better."""

    ultimate: f.Stress = f.key("tensile strength", "900 MPa", required=True)
    yield_strength: f.Stress = f.key("0.2 % proof strength", "700 MPa", required=True, name="yield")
    shear: f.Stress | None = f.key("ultimate shear strength", "540 MPa")
    modulus: f.Modulus | None = f.key("modulus of elasticity", "200 GPa")
    expansion: f.Expansion | None = f.key("thermal expansion", "11.7e-6 1/K", used=False)
    source: f.Text = f.key("where the figures come from", "mill certificate 7731", required=True)


class OwnMaterial(f.Section):
    """[materials."name"]: a material of your own, or figures for a listed one known better."""

    kind: Annotated[str, f.word("metal", "laminate", "plastic")] = f.key("what it is", "metal", required=True)
    ultimate: f.Stress = f.key("tensile strength (laminate: without hole)", "540 MPa", required=True)
    yield_strength: f.Stress | None = f.key("0.2 % proof strength", "480 MPa", name="yield")
    shear: f.Stress = f.key("shear strength (laminate: shear-out strength)", "320 MPa", required=True)
    bearing_ultimate: f.Stress = f.key("bearing strength, e/D = 2", "900 MPa", required=True)
    bearing_yield: f.Stress | None = f.key("bearing yield, e/D = 2", "700 MPa")
    hole_factor: f.Share | None = f.key("laminate: strength with a hole over strength without", "0.5")
    pressure: f.Stress | None = f.key("permissible pressure under a screw head", "410 MPa")
    modulus: f.Modulus | None = f.key("modulus of elasticity", "71 GPa")
    expansion: f.Expansion | None = f.key("thermal expansion", "23.4e-6 1/K", used=False)
    density: f.Density | None = f.key("density", "2800 kg/m^3", used=False)
    source: f.Text = f.key("where the figures come from", "mill certificate 7732", required=True)


class Bench(f.Section):
    """[bench]: a thrust-stand run that belongs to this propeller."""

    file: f.Text | None = f.key("CSV file beside the sheet", "stand.csv")
    rpm: f.Text | None = f.key("name of its speed column", "RPM")
    thrust: f.Text | None = f.key("name of its thrust column, with unit in brackets", "Thrust (kgf)")
    torque: f.Text | None = f.key("name of its torque column, with unit in brackets", "Torque (N*m)")
    power: f.Text | None = f.key("name of its electric power column", "Power (W)")
    voltage: f.Text | None = f.key("name of its voltage column, with unit in brackets", "Voltage (V)")
    temperature_column: f.Text | None = f.key(
        "name of its air temperature column, with unit in brackets", "Temp (degC)"
    )
    pressure_column: f.Text | None = f.key(
        "name of its air pressure column, with unit in brackets", "Pressure (hPa)"
    )
    drive_efficiency: f.Share | None = f.key(
        "shaft power over electric power, where there is power and no torque", "0.8"
    )
    stand_height: f.Length | None = f.key("height of the rotor's axis on the stand above the floor", "1.2 m")
    stand_axis: Annotated[str, f.word("upright", "level")] | None = f.key(
        "how the rotor's axis lies on the stand; level throws a blade up and down too", "level"
    )
    temperature: f.AirTemperature | None = f.key("air temperature of the run", "18 degC")
    pressure: Annotated[Quantity, f.quantity("stress", "hPa", low=200, high=1200)] | None = f.key(
        "air pressure of the run", "1002 hPa"
    )
