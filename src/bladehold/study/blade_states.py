"""What state a blade is in after a failure, and what that does to its rotor: unbalance, force, lost lift,
moment.

All of it in hover in warm air, with the other blades whole; forces at other speeds go with the square of the
speed. The rotor is taken to turn on at the same speed.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.blade import BalanceError, LagBand, folding_blade, lag_band, lag_unbalance, unbalance_force
from bladehold.rotor import span_weights
from bladehold.sheet.build import Build
from bladehold.study.air_loads import AZIMUTHS, solved_rotors
from bladehold.study.blade_folding import clamp_friction, pin_friction_arm
from bladehold.study.blade_model import blade_model
from bladehold.study.conditions import conditions_of
from bladehold.study.kinds import kinds_of
from bladehold.study.loads import speed_ratio
from bladehold.study.shape import blade_of, body_of

FloatArray = NDArray[np.float64]

WHOLE, EXTENDED, SWUNG, FOLDED = "in place", "extended with play", "swung back", "held folded at its stop"
HALF, GONE, ROTOR = "outboard half lost", "blade lost", "rotor lost"
STATES = (WHOLE, EXTENDED, SWUNG, FOLDED, HALF, GONE, ROTOR)
"""From the least to the worst."""


@dataclass(frozen=True)
class BladeState:
    """One state of one blade of a rotor.

    name; unbalance - kg*m, infinite where none can be told; force - of it in hover, N, that turns with the
    rotor; thrust_lost, torque_lost - shares of the rotor's; hub_moment - of lift that is no longer balanced,
    N*m, once per turn; angle - rad, behind straight or, of play, to either side; how - it is reached at.
    """

    name: str
    unbalance: float
    force: float
    thrust_lost: float
    torque_lost: float
    hub_moment: float
    angle: float
    how: str

    def force_at(self, speed: float) -> float:
        """Return the force that turns with the rotor at a speed. Argument: speed - rad/s."""
        return float(unbalance_force(self.unbalance, speed))


@dataclass(frozen=True, eq=False)
class HoverBlade:
    """One blade in steady hover, warm air: speed - rad/s; radius - of the stations, m, weight - of the span's
    integral, m, lift, drag - of the air, N/m, [S]; mass - kg, pivot - radius of it, point - balance point
    outboard of it, m; blades - of the rotor; band - of lag angles where friction holds a whole blade, [2] by
    least and greatest friction, free - one that is clamped no more; outboard - mass, kg, and first moment
    about the rotor's axis, kg*m, of the outboard half of its span; middle - its inboard end, m from the axis;
    remarks.
    """

    speed: float
    radius: FloatArray
    weight: FloatArray
    lift: FloatArray
    drag: FloatArray
    mass: float
    pivot: float
    point: float
    blades: int
    band: LagBand
    free: LagBand
    outboard: tuple[float, float]
    middle: float
    remarks: tuple[str, ...]

    def _sum(self, load: FloatArray) -> float:
        return float(load @ self.weight)

    @property
    def thrust(self) -> float:
        """Lift of the blade, N."""
        return self._sum(self.lift)

    @property
    def torque(self) -> float:
        """Moment of its drag about the rotor's axis, N*m."""
        return self._sum(self.drag * self.radius)


def hover_blade(build: Build) -> HoverBlade:
    """Return one blade of a build in hover. Errors: ValueError from the rotor for a thrust out of reach."""
    hover = tuple(kind for kind in kinds_of(build) if kind.name == "hover")
    conditions = conditions_of(build, 1.0, hover)
    geometry, polar = blade_of(build)
    columns, solution = solved_rotors(build, conditions, geometry, polar, AZIMUTHS)[0]
    place = int(np.flatnonzero(columns == conditions.names.index("hover, warm"))[0])
    body, weight = body_of(build), span_weights(geometry)
    lift, drag = solution.normal_load[place], solution.tangential_load[place]
    speed = float(solution.rotation_speed[place]) * speed_ratio(build)[0]
    reach = np.maximum(geometry.r - body.pivot_radius, 0.0)
    constant = float((drag * reach) @ weight) / speed**2
    outboard, inertia, remarks = _spread(build)
    whole: dict[str, Any] = {
        "mass": body.mass,
        "pivot_radius": body.pivot_radius,
        "balance_point": body.balance_point,
        "inertia": inertia,
        "drag_constant": constant,
        "friction_arm": pin_friction_arm(build),
    }
    return HoverBlade(
        speed=speed,
        radius=geometry.r,
        weight=weight,
        lift=lift,
        drag=drag,
        mass=body.mass,
        pivot=body.pivot_radius,
        point=body.balance_point,
        blades=build.propeller.blades,
        band=lag_band(folding_blade(clamp_friction=clamp_friction(build), **whole), speed),
        free=lag_band(folding_blade(clamp_friction=0.0, **whole), speed),
        outboard=outboard,
        middle=(body.pivot_radius + geometry.radius) / 2.0,
        remarks=remarks,
    )


def _spread(build: Build) -> tuple[tuple[float, float], float, tuple[str, ...]]:
    """Mass and first moment about the axis of the outboard half, inertia about the pivot, remarks."""
    body = body_of(build)
    length = build.propeller.diameter / 2 - body.pivot_radius
    try:
        model = blade_model(build, checked=True)
    except BalanceError as error:
        # Half of an even rod: more than a tapering blade has there.
        half = (body.mass / 2, body.mass / 2 * (body.pivot_radius + 0.75 * length))
        return half, body.mass * length**2 / 3.0, (f"mass is spread as in an even rod: {error}",)
    along = np.linspace(length / 2, length, 101)
    line = np.interp(along, model.stations, model.spread.line_mass)
    tip = build.propeller.structure.tip_mass
    mass = float(np.trapezoid(line, along)) + tip
    moment = float(np.trapezoid(line * (body.pivot_radius + along), along))
    moment += tip * build.propeller.diameter / 2
    return (mass, moment), model.inertia, model.breaches


def blade_states(build: Build, wobble: float = 0.0, blade: HoverBlade | None = None) -> dict[str, BladeState]:
    """Return every state that a blade of a build can be in, by its name, from the least to the worst.

    Arguments: build; wobble - of an extended blade in flap without its clamp, rad; blade - in hover, where it
    is known. SWUNG and FOLDED stand only for folding blades.
    """
    known = hover_blade(build) if blade is None else blade
    whole = BladeState(WHOLE, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, "clamped as before")
    found = [whole, _extended(build, known, wobble)]
    if build.propeller.folding:
        found += [_turned(known, *_free_angle(known))]
        stop = build.propeller.structure.trailing_stop
        found += [_turned(known, FOLDED, stop, "something holds it there, as a bent part or debris")]
    found += [_half(known), _gone(known), _rotor(known)]
    return {one.name: one for one in found}


def _extended(build: Build, blade: HoverBlade, wobble: float) -> BladeState:
    """A blade that its screw only hinges lies at the outer end of its play, the one opposite at the inner."""
    hub, screw = build.hub, build.pivot.outside_diameter
    play = max(hub.lug_hole - screw, 0.0) + max(hub.plate_hole - screw, 0.0)
    drawn_in = blade.point * (1.0 - np.cos(wobble))
    lag = float(np.max(np.abs(_apart(blade))))
    sideways = float(lag_unbalance(blade.mass, blade.point, [lag, *[0.0] * (blade.blades - 1)]))
    unbalance = blade.mass * (play + drawn_in) + sideways
    return BladeState(
        name=EXTENDED,
        unbalance=unbalance,
        force=float(unbalance_force(unbalance, blade.speed)),
        thrust_lost=0.0,
        torque_lost=0.0,
        hub_moment=0.0,
        angle=wobble,
        how=f"play of {1e3 * play:.2g} mm along the blade, and it no longer rests where friction held it",
    )


def _apart(blade: HoverBlade) -> FloatArray:
    """How far a free blade rests behind the others, held by friction at either end of their band, rad."""
    free = np.stack([blade.free.leading, blade.free.trailing])
    others = np.stack([blade.band.leading, blade.band.trailing])
    return np.asarray(free[:, np.newaxis] - others[np.newaxis])


def _free_angle(blade: HoverBlade) -> tuple[str, float, str]:
    """The rest angle that unbalances most, of a blade on its pin alone."""
    apart = _apart(blade)
    angle = float(apart.flat[int(np.abs(apart).argmax())])
    return SWUNG, angle, "drag against the pull, on the friction of its pin alone, the others held apart"


def _turned(blade: HoverBlade, name: str, angle: float, how: str) -> BladeState:
    """A blade at a lag angle to the others: its mass and its lift are no longer opposite theirs.

    Air meets a blade that is turned about its pivot square to its span with (s + e cos a) / (s + e) of the
    speed, s outboard of the pivot at radius e: lift and drag go with its square, the inflow aside.
    """
    reach = np.maximum(blade.radius - blade.pivot, 0.0)
    slower = np.maximum(reach + blade.pivot * np.cos(angle), 0.0) / (reach + blade.pivot)
    lift, drag = blade.lift * slower**2, blade.drag * slower**2
    place = blade.pivot + reach * np.exp(-1j * angle)
    # Drag acts square to the blade: its lever about the axis is the foot of the axis on the span.
    torque = float((drag * (reach + blade.pivot * np.cos(angle))) @ blade.weight)
    moment = abs(complex(((lift * place) - blade.lift * (blade.pivot + reach)) @ blade.weight))
    unbalance = float(lag_unbalance(blade.mass, blade.point, [angle, *[0.0] * (blade.blades - 1)]))
    return BladeState(
        name=name,
        unbalance=unbalance,
        force=float(unbalance_force(unbalance, blade.speed)),
        thrust_lost=(1.0 - float(lift @ blade.weight) / blade.thrust) / blade.blades,
        torque_lost=(1.0 - torque / blade.torque) / blade.blades,
        hub_moment=float(moment),
        angle=angle,
        how=how,
    )


def _half(blade: HoverBlade) -> BladeState:
    """A blade broken at half its span."""
    off = np.where(blade.radius > blade.middle, blade.weight, 0.0)
    _, unbalance = blade.outboard
    return BladeState(
        name=HALF,
        unbalance=unbalance,
        force=float(unbalance_force(unbalance, blade.speed)),
        thrust_lost=float(blade.lift @ off) / blade.thrust / blade.blades,
        torque_lost=float((blade.drag * blade.radius) @ off) / blade.torque / blade.blades,
        hub_moment=float((blade.lift * blade.radius) @ off),
        angle=0.0,
        how="broken at half its span",
    )


def _gone(blade: HoverBlade) -> BladeState:
    """A blade that has left: m (e + x), and all of its share."""
    unbalance = blade.mass * (blade.pivot + blade.point)
    return BladeState(
        name=GONE,
        unbalance=unbalance,
        force=float(unbalance_force(unbalance, blade.speed)),
        thrust_lost=1.0 / blade.blades,
        torque_lost=1.0 / blade.blades,
        hub_moment=float((blade.lift * blade.radius) @ blade.weight),
        angle=0.0,
        how="nothing holds it",
    )


def _rotor(blade: HoverBlade) -> BladeState:
    """A rotor that has left its motor: what is left does not shake."""
    return BladeState(ROTOR, 0.0, 0.0, 1.0, 1.0, 0.0, 0.0, "nothing holds it to the motor")
