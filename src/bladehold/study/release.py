"""A blade that comes off in flight or on the stand: how fast, how hard, how far, what a barrier must stop."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY, air_at
from bladehold.blade import BalanceError
from bladehold.loss import (
    best_vacuum_angle,
    drag_rate,
    farthest_throw,
    greatest_vacuum_range,
    lost_pull,
    release_speed,
    rod_inertia,
    rotation_energy,
    translation_energy,
    vacuum_range,
)
from bladehold.sheet.build import Build
from bladehold.study.blade_model import blade_model
from bladehold.study.kinds import weathers
from bladehold.study.loads import Loads, loads_of
from bladehold.study.shape import blade_of, body_of
from bladehold.tables import Consequence, consequence, consequence_names

FloatArray = NDArray[np.float64]

VACUUM, EDGE_ON, TUMBLING = "vacuum", "edge first", "tumbling"
BOUNDS = (VACUUM, EDGE_ON, TUMBLING)
"""What is taken of the air's drag, the farthest throw first."""
HOVER, FLYING, STAND = "hover", "tilted at top speed", "test stand"

FULL_THROTTLE = "at full throttle with a full battery"
FLOWN = "the fastest of what is flown"
STATED = "the greatest speed that the sheet states"

STAND_OFF = (
    "farthest throw from the stand at any angle and without the air's drag, at the speed told beside it, "
    "over level ground without a barrier; a spin test that turns faster throws farther by the square of the "
    "speed, and a blade that glides may fly farther. Nobody stands in the plane of the rotor at any distance."
)


Place: TypeAlias = tuple[str, float, float, float, float]
"""Name, speed of turning, speed of the blade, height and steepest angle: the first fields of a Throw."""


@dataclass(frozen=True, eq=False)
class Throw:
    """Throws of one place, one for each of BOUNDS, [3].

    place - HOVER, FLYING or STAND; rotation_speed - rad/s; speed - with which the blade leaves, m/s; height -
    of the start, m; steepest - greatest angle above the horizon that the plane of the rotor has, rad; angle -
    that throws farthest, rad; distance - m; striking_speed - m/s; striking_energy - of translation, J.
    """

    place: str
    rotation_speed: float
    speed: float
    height: float
    steepest: float
    angle: FloatArray
    distance: FloatArray
    striking_speed: FloatArray
    striking_energy: FloatArray


@dataclass(frozen=True)
class Against:
    """A published figure beside ours: figure - of the table; ours - greatest, J or m/s; exceeded."""

    figure: Consequence
    ours: float
    exceeded: bool


@dataclass(frozen=True, eq=False)
class ReleaseAnswer:
    """What a blade does that comes off.

    mass - kg, centre_radius - of its centre of mass from the axis, m, inertia - about it, kg*m^2; fastest
    - greatest speed of turning that is known, rad/s, fastest_from - of what, and at it: speed - of the
    blade, tip_speed - m/s, translation, rotation - energies, J, pull - on the blade before and, as
    unbalance, after, N; throws - by place; against - published figures; stand_off - m, under the
    assumption STAND_OFF; barrier - energy of one blade, rotor - of all blades together, J; unconfirmed -
    sources of drag that are from memory; breaches - what was guessed or left.
    """

    build: Build
    mass: float
    centre_radius: float
    inertia: float
    fastest: float
    fastest_from: str
    speed: float
    tip_speed: float
    translation: float
    rotation: float
    pull: float
    throws: tuple[Throw, ...]
    against: tuple[Against, ...]
    stand_off: float
    barrier: float
    rotor: float
    unconfirmed: tuple[str, ...]
    breaches: tuple[str, ...]

    @property
    def unbalance(self) -> float:
        """Residual unbalance of the rotor without the blade, kg*m."""
        return self.mass * self.centre_radius


def release_answer(
    build: Build, loads: Loads | None = None, full_throttle: float | None = None
) -> ReleaseAnswer:
    """Return what a lost blade does at the speeds of a build's flying and on its test stand.

    Hover throws at the speed of hover, in the plane of the rotor that is canted most; tilted flight at the
    fastest speed there is, the air speed on top, with that cant beside the bank; the stand at that speed in
    its own plane. In the thinnest of the air that is flown in.
    Arguments: build; loads - of the build, where they are known already; full_throttle - speed of a rotor in
    hover with a full battery, rad/s, where it is known.
    Errors: ValueError from the rotor when a thrust cannot be reached.
    """
    known = loads_of(build) if loads is None else loads
    body = body_of(build)
    centre = body.pivot_radius + body.balance_point
    inertia, breaches = _inertia(build)
    fastest, fastest_from, told = _fastest(build, known, full_throttle)
    hover = known.hover_speed
    places = _places(build, centre, hover, fastest)
    rates = _rates(build)
    throws = _throws(body.mass, places, rates)
    speed, tip = float(release_speed(fastest, centre)), fastest * build.propeller.diameter / 2
    translation = float(translation_energy(body.mass, speed))
    rotation = float(rotation_energy(inertia, fastest))
    hardest = max(translation, *(float(throw.striking_energy.max()) for throw in throws))
    barrier = translation + rotation
    return ReleaseAnswer(
        build=build,
        mass=body.mass,
        centre_radius=centre,
        inertia=inertia,
        fastest=fastest,
        fastest_from=fastest_from,
        speed=speed,
        tip_speed=tip,
        translation=translation,
        rotation=rotation,
        pull=float(lost_pull(body.mass, centre, fastest)),
        throws=throws,
        against=_against(hardest, tip),
        stand_off=float(greatest_vacuum_range(speed, build.release.stand_height)),
        barrier=barrier,
        rotor=build.propeller.blades * barrier,
        unconfirmed=tuple(one.provenance.source for one in _drags() if one.provenance.unconfirmed),
        breaches=(*told, *breaches),
    )


def _fastest(build: Build, loads: Loads, full_throttle: float | None) -> tuple[float, str, tuple[str, ...]]:
    """Greatest speed of turning that is known, rad/s, what of, and what is not known of it."""
    flown = float(loads.speed[-1])
    if full_throttle is not None:
        source = FULL_THROTTLE if full_throttle > flown else FLOWN
        return max(flown, full_throttle), source, ()
    if build.flying.greatest_speed is not None:
        return flown, STATED, ()
    told = (
        "the speed at full throttle is not known without [motor] and [battery] or flying.greatest_speed: a "
        "stand may turn faster than is flown, and then throws farther"
    )
    return flown, FLOWN, (told,)


def _inertia(build: Build) -> tuple[float, tuple[str, ...]]:
    """Moment of inertia of a blade about its centre of mass, kg*m^2, and what was guessed of it."""
    body = body_of(build)
    try:
        model = blade_model(build, checked=True)  # how its root is held does not matter here
    except BalanceError as error:
        length = build.propeller.diameter / 2 - body.pivot_radius
        told = f"the blade's inertia is that of an even rod: {error}"
        return float(rod_inertia(body.mass, length)), (told,)
    return model.inertia - body.mass * body.balance_point**2, model.breaches


def _places(build: Build, centre: float, hover: float, fastest: float) -> tuple[Place, ...]:
    """The places a blade is thrown from."""
    release, flying = build.release, build.flying
    flown = float(release_speed(fastest, centre)) + flying.top_speed
    upright = np.pi / 2 if release.stand_level else 0.0
    cant = max((one.cant for one in build.aircraft.places), default=0.0)
    return (
        (HOVER, hover, float(release_speed(hover, centre)), release.height, cant),
        (FLYING, fastest, flown, release.height, min(flying.bank + cant, np.pi / 2)),
        (STAND, fastest, float(release_speed(fastest, centre)), release.stand_height, upright),
    )


def _rates(build: Build) -> FloatArray:
    """Deceleration over speed squared (1/m) of a blade edge first and tumbling, in the thinnest air."""
    geometry, _ = blade_of(build)
    radii = np.concatenate([[geometry.hub_radius], geometry.r, [geometry.radius]])
    chord = np.interp(radii, geometry.r, geometry.chord)
    planform = float(np.trapezoid(chord, radii))
    warm = weathers(build)[0]
    density = float(air_at(warm.altitude, warm.temperature, build.air.humidity).density)
    drag = np.array([one.value for one in _drags()])
    return drag_rate(planform * drag, body_of(build).mass, density)


def _drags() -> tuple[Consequence, Consequence]:
    """Drag coefficients of a blade edge first and tumbling."""
    return consequence("edge_on_drag"), consequence("tumbling_drag")


def _throws(mass: float, places: tuple[Place, ...], rates: FloatArray) -> tuple[Throw, ...]:
    """The throws of all places at once, without air and with the two bounds of drag."""
    _, _, speeds, heights, tops = zip(*places, strict=True)
    speed, height, steepest = (np.array(one)[:, np.newaxis] for one in (speeds, heights, tops))
    free = best_vacuum_angle(speed, height, steepest)
    angle, landing = farthest_throw(speed, height, steepest, rates)
    angles = np.concatenate([free, angle], axis=-1)
    distance = np.concatenate([vacuum_range(speed, height, free), landing.distance], axis=-1)
    # Without air only the height adds to the energy.
    falling = np.sqrt(speed**2 + 2.0 * GRAVITY * height)
    striking = np.concatenate([falling, landing.speed], axis=-1)
    energy = translation_energy(mass, striking)
    return tuple(
        Throw(*place, angles[at], distance[at], striking[at], energy[at]) for at, place in enumerate(places)
    )


def _against(energy: float, tip_speed: float) -> tuple[Against, ...]:
    """Published figures of energy and of tip speed beside ours."""
    ours = {"J": energy, "m/s": tip_speed}
    figures = [consequence(name) for name in consequence_names()]
    return tuple(
        Against(figure, ours[figure.unit], ours[figure.unit] > figure.value)
        for figure in figures
        if figure.unit in ours
    )
