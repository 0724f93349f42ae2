"""The flying part of a build, in SI: the aircraft, what turns its rotors, and how it is flown."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Place:
    """One rotor of a custom layout: x ahead, y right, z below the centre of mass, m; spin - "cw" or "ccw",
    seen from above; cant - tilt of its axis, cant_direction - where to, from ahead to the right, rad.
    """

    x: float
    y: float
    z: float
    spin: str
    cant: float
    cant_direction: float


@dataclass(frozen=True)
class Aircraft:
    """mass kg; rotors; drag_area m^2; coaxial_spacing between the discs of a pair, m, infinite if unknown.

    rotor_distance - centre to rotor, m; first_arm - its bearing, rad; rotor_height, drag_height - above the
    centre of mass, mass_ahead - of the middle of the rotors, m; gyration_radius - m; places - if custom.
    """

    mass: float
    rotors: int
    layout: str
    drag_area: float
    coaxial_spacing: float = float("inf")
    rotor_distance: float = 0.0
    first_arm: float = 0.0
    rotor_height: float = 0.0
    mass_ahead: float = 0.0
    gyration_radius: float = 0.0
    drag_height: float = 0.0
    places: tuple[Place, ...] = ()


@dataclass(frozen=True)
class OwnCase:
    """A flight condition of the user's: thrust N, speeds m/s, temperature K or None, share or None.

    times - in a flight; lasts - each time, s; source - where it comes from.
    """

    name: str
    thrust: float
    speed: float
    climb: float
    temperature: float | None
    cyclic_share: float | None
    times: int = 0
    lasts: float = 0.0
    source: str = "the sheet"


@dataclass(frozen=True)
class Segment:
    """One part of a mission: share of the flight time; speed over ground, climb - m/s; load_factor;
    payload - kg, on top of the take-off mass.
    """

    name: str
    share: float
    speed: float
    climb: float
    load_factor: float
    payload: float


@dataclass(frozen=True)
class Events:
    """How often something happens in a flight: gusts, throttle_steps, throttle_chops (to idle), and of each
    kind of manoeuvre, manoeuvres, each of manoeuvre_time, s.
    """

    gusts: int
    throttle_steps: int
    throttle_chops: int
    manoeuvres: int
    manoeuvre_time: float


@dataclass(frozen=True)
class Flying:
    """What it is used for: thrusts N per rotor, rotor speeds rad/s, speeds m/s, temperatures K.

    altitude_max - m; idle - rad/s; pitch_rate, yaw_rate - of the aircraft, rad/s, reached in control_time and
    yaw_time, s; bank - rad; gust, wind - m/s; flight_time, spin_up (rest to hover), throttle_step (hover to
    rest) - s; service_life - of parts, s; segments - of a mission, none where the sheet names none.
    """

    used_thrust: float
    used_speed: float | None
    greatest_speed: float | None
    claimed_thrust: float | None
    load_factor: float
    top_speed: float
    cruise_speed: float
    climb_speed: float
    descent_speed: float
    cyclic_share: float | None
    temperature_min: float
    temperature_max: float
    altitude_max: float
    idle: float
    pitch_rate: float
    yaw_rate: float
    control_time: float
    yaw_time: float
    bank: float
    gust: float
    wind: float
    flight_time: float
    spin_up: float
    throttle_step: float
    events: Events
    service_life: float
    segments: tuple[Segment, ...]
    cases: tuple[OwnCase, ...]


@dataclass(frozen=True)
class MotorData:
    """One motor, its controller and cables, as a sheet gives them, in SI.

    speed_constant - rad/(s V); no_load - current, A, and the voltage at which it was measured, V;
    fast_no_load - the same at a higher voltage, None where not given; current_limit - A, infinite where not
    given; temperature_limit K; thermal_resistance K/W; heat_capacity J/K; resistances ohm, pole_pairs None
    where not given; switching_loss - share of bus voltage times motor current.
    """

    name: str
    speed_constant: float
    resistance: float
    no_load: tuple[float, float]
    fast_no_load: tuple[float, float] | None
    current_limit: float
    pole_pairs: int | None
    temperature_limit: float
    thermal_resistance: float
    heat_capacity: float
    controller_resistance: float
    switching_loss: float
    wiring_resistance: float


@dataclass(frozen=True)
class BatteryData:
    """The pack as a sheet gives it, in SI: capacity A s; voltages V, of the pack, full one None if unknown;
    reserve - share of the charge; resistance - ohm, warm and full; temperature K; current_limit A; mass kg,
    None if unknown; other_power W.
    """

    cells: int
    chemistry: str
    capacity: float
    voltage: float | None
    cutoff_voltage: float
    reserve: float
    resistance: float
    temperature: float
    current_limit: float
    mass: float | None
    other_power: float


@dataclass(frozen=True)
class Drive:
    """What turns the rotors: motors, all alike, and one battery for all of them."""

    motor: MotorData
    battery: BatteryData
