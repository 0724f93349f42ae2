"""What one lost member does: whether the blade stays, swings or leaves, and what the rest still holds.

Limit loads of flight count once, against rupture: a hub that has lost a member is asked to come home, not to
fly on (the residual strength that 14 CFR 25.571(b) asks of a damaged structure; from memory). Friction is not
counted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import pattern, pin, single_shear
from bladehold.joint.contact import ClevisState, solve_clevis
from bladehold.joint.interaction import CRITERIA, load_multiplier
from bladehold.study.checks import material
from bladehold.study.checks.parts import verb
from bladehold.study.clevis import Held, clevis_of, tie_holes
from bladehold.study.cycles import START_STOP
from bladehold.study.life import judge
from bladehold.study.life_members import Member, bent_pin, pivot_thread, plates_inboard, tie_thread
from bladehold.study.situation import Situation, inboard_moment, shear_ultimate
from bladehold.study.turns import Series

FloatArray = NDArray[np.float64]

STAYS, SWINGS, LEAVES = "stays", "swings", "leaves"
SOON = 1.0
"""Hours left below which there is no time to fly on, own choice."""
PIVOT, TIE, MOUNTING = "pivot screw", "tie screw", "mounting screw"

_LOOSE = Held(pivot=False, tightened=False)
"""The clevis whose pivot screw clamps no more."""


@dataclass(frozen=True)
class Remaining:
    """One margin after the loss: part, mode, condition in which it is smallest, margin there and in hover."""

    part: str
    mode: str
    condition: str
    margin: float
    in_hover: float


@dataclass(frozen=True)
class Loss:
    """One member lost.

    member; how - it failed; in_hover, in_all_flight - what the blade does in steady hover, and in the worst
    of all flight conditions: "stays", "swings" or "leaves"; why - in a sentence; remaining - margins,
    smallest first; opening - greatest distance (m) that the plates part at the pivot, wobble - half of what
    the lug tilts between the greatest and the least flap moment, rad; both None where they have no meaning;
    hours - fatigue life of what is left in the sheet's flying with its scatter factor, hours_part - of which
    part; infinite where nothing is damaged, None where it is not asked.
    """

    member: str
    how: str
    in_hover: str
    in_all_flight: str
    why: str
    remaining: tuple[Remaining, ...]
    opening: float | None = None
    wobble: float | None = None
    hours: float | None = None
    hours_part: str = ""

    @property
    def weakest(self) -> Remaining | None:
        """The smallest margin left; None where nothing is left to hold."""
        return self.remaining[0] if self.remaining else None

    @property
    def advice(self) -> str:
        """What to do when it is noticed in flight."""
        if LEAVES in (self.in_hover, self.in_all_flight):
            return "land at once, nobody near the plane of the rotors: the blade may leave"
        soon = self.hours is not None and self.hours < SOON
        if self.in_hover == self.in_all_flight == STAYS and not soon:
            return "land, and do not start again"
        return "land at once, slowly and without manoeuvres"


def losses(now: Situation) -> tuple[Loss, ...]:
    """Return what the loss of each member does, one at a time. Argument: now - a build under its loads."""
    return tuple(_losses(now))


def _losses(now: Situation) -> Iterator[Loss]:
    yield _clamp_lost(now)
    yield _sheared_at_one_face(now)
    nothing = "nothing else in this hub carries the pull of the blade"
    yield Loss(PIVOT, "sheared at both faces", LEAVES, LEAVES, nothing, ())
    if now.build.ties.screw is not None and now.build.ties.count > 0:
        yield _tie_lost(now)
    yield _mounting_lost(now)


def _flight(now: Situation) -> NDArray[np.bool_]:
    return np.asarray(now.loads.flight > 0.0)


def _state(now: Situation, held: Held, moment: FloatArray) -> ClevisState:
    """The clevis with what is left of it under limit loads of flight."""
    return solve_clevis(clevis_of(now.build, held), moment, now.loads.root.lift[_flight(now)], 0.0)


def _remaining(now: Situation, part: str, mode: str, margin: FloatArray) -> Remaining:
    """The smallest of the margins over the flight conditions, and that in hover."""
    names = [name for name, flies in zip(now.loads.names, _flight(now), strict=True) if flies]
    place = int(np.argmin(margin))
    hover = [at for at, name in enumerate(names) if name.startswith("hover")]
    return Remaining(part, mode, names[place], float(margin[place]), float(margin[hover].min()))


def _sorted(found: list[Remaining]) -> tuple[Remaining, ...]:
    return tuple(sorted(found, key=lambda one: one.margin))


def _over(capacity: float, demand: FloatArray) -> FloatArray:
    """Margin of a capacity over a demand; infinite without demand."""
    with np.errstate(divide="ignore"):
        return np.asarray(
            np.where(demand > 0.0, capacity / np.where(demand > 0.0, demand, 1.0) - 1.0, np.inf)
        )


def _plates_and_ties(now: Situation, state: ClevisState, ties: int) -> list[Remaining]:
    """Margins of plates inboard of the lug, and of the ties left, against rupture."""
    build, hub = now.build, now.build.hub
    pull = now.loads.root.in_plane[_flight(now)]
    area = (hub.plate_width - tie_holes(build)) * hub.plate_thickness
    stress = pull / 2 / area + 6.0 * inboard_moment(state) / (area * hub.plate_thickness)
    strength = material.tension(hub.plate_material, at_yield=False).value
    found = [_remaining(now, "hub plates", "bending between lug and root", _over(strength, stress))]
    if build.ties.screw is not None and ties > 0:
        breaks = build.ties.screw.thread.profile.stress_area * build.ties.screw.strength.tensile_strength
        force = _over(breaks, state.tie_force / ties)
        found.append(_remaining(now, "tie screws", "tension from prying", force))
    return found


def _outcomes(pin_left: Remaining, others: list[Remaining], closed: bool) -> tuple[str, str]:
    """What the blade does in hover and in all flight: the pin carries the pull, the others keep the lug."""

    def outcome(margin: Callable[[Remaining], float]) -> str:
        if margin(pin_left) < 0.0:
            return LEAVES
        return STAYS if closed and all(margin(one) >= 0.0 for one in others) else SWINGS

    return outcome(lambda one: one.in_hover), outcome(lambda one: one.margin)


def _clamp_lost(now: Situation) -> Loss:
    """The screw parted in its thread, or lost nut or circlip: its shank sits in holes it still reaches."""
    how, held = "clamping lost: nut off, or broken in the thread", _without_clamp(now)
    pull = now.loads.root.in_plane[_flight(now)]
    if not held[0].closed:
        single, bent_by = _single(now)
        return _pin_alone(now, how, single, "the pin is left in one plate", bent_by, held)
    parted = (held[0].opening or 0.0) / 2.0

    def bent(force: FloatArray) -> FloatArray:
        return np.asarray(now.pin_moment_of(force) + pin.double_shear_force(force) * parted / 2.0)

    margin = _pin_margin(now, pin.double_shear_force(pull), bent(pull))
    left = _remaining(now, PIVOT, "double shear and bending", margin)
    return _pin_alone(now, how, left, "the shank sits in its holes", bent, held)


def _sheared_at_one_face(now: Situation) -> Loss:
    """One shear plane gone: the pin holds lug and one plate."""
    single, bent_by = _single(now)
    first = "the pin holds in one plate alone"
    return _pin_alone(now, "sheared at one face", single, first, bent_by, _without_clamp(now))


def _pin_margin(now: Situation, shear: FloatArray, moment: FloatArray) -> FloatArray:
    """Margin of the pin at rupture under shear in its plane (N) and bending (N*m)."""
    screw = now.build.pivot
    cut = shear / float(pin.shear_capacity(screw.shear_diameter, shear_ultimate(screw)))
    bent = moment / pin.plastic_moment(screw.shear_diameter, screw.strength.tensile_strength)
    criterion = CRITERIA[f"5020b-{screw.shear_plane}-plastic"]
    return np.asarray(load_multiplier(criterion, cut, np.zeros_like(cut), bent) - 1.0)


def _single(now: Situation) -> tuple[Remaining, Callable[[FloatArray], FloatArray]]:
    """The pin in lug and one plate alone: its margin, and the moment that a pull bends it with."""
    hub = now.build.hub
    pull = now.loads.root.in_plane[_flight(now)]

    def bent_by(force: FloatArray) -> FloatArray:
        inner, outer = (
            single_shear.single_shear_moment(force, thickness, hub.gap)
            for thickness in (hub.lug_thickness, hub.plate_thickness)
        )
        return np.maximum(inner, outer)

    margin = _pin_margin(now, pull, bent_by(pull))
    return _remaining(now, PIVOT, "single shear and bending", margin), bent_by


def _pin_alone(
    now: Situation,
    how: str,
    pin_left: Remaining,
    first: str,
    pin_moment: Callable[[FloatArray], FloatArray],
    unclamped: tuple[_Unclamped, list[Remaining]],
) -> Loss:
    """A pivot screw that clamps no more, with what its pin still holds."""
    held, others = unclamped
    hours, part = _hours_left(now, _LOOSE, pin_moment) if held.closed else (None, "")
    in_hover, in_all_flight = _outcomes(pin_left, others, held.closed)
    remaining = _sorted([pin_left, *others])
    why = f"{first}; {held.why}"
    if in_hover != in_all_flight or LEAVES in (in_hover, in_all_flight):
        weak = remaining[0]
        ways = verb(weak.part, "gives", "give")
        why = f"{why}; the {weak.part} {ways} way in {weak.condition} ({weak.mode})"
    return Loss(PIVOT, how, in_hover, in_all_flight, why, remaining, held.opening, held.wobble, hours, part)


def _hours_left(
    now: Situation, held: Held, pin_moment: Callable[[FloatArray], FloatArray]
) -> tuple[float, str]:
    """Hours that the shortest-lived part lasts with what is left, and which; starts and stops are over.

    Arguments: now; held - what is left of the clevis; pin_moment - of a pull, N*m.
    """
    after = Situation(now.build, now.loads, held)
    pull = after.turning.pull
    bent = Series(*(pin_moment(value) for value in vars(pull).values()))
    found = [bent_pin(after, bent), plates_inboard(after), tie_thread(after)]
    if held.pivot:
        found.append(pivot_thread(after))
    lives = []
    for member in found:
        if isinstance(member, Member):
            going_on = np.array([group != START_STOP for group in member.cycles.group])
            cycles = replace(member.cycles, rates=member.cycles.rates * going_on)
            lives.append((float(judge(after, replace(member, cycles=cycles)).hours), member.part))
    return min(lives)


@dataclass(frozen=True)
class _Unclamped:
    """The plates without the pivot screw's clamp: whether they keep the lug, why, opening m, wobble rad."""

    closed: bool
    why: str
    opening: float | None
    wobble: float | None


def _without_clamp(now: Situation) -> tuple[_Unclamped, list[Remaining]]:
    """Plates held by their roots and ties alone. They keep the lug while the shank still reaches both."""
    build, flying, root = now.build, _flight(now), now.loads.root
    state = _state(now, _LOOSE, root.flap_peak[flying])
    low = _state(now, _LOOSE, (root.flap_mean - root.flap_cyclic)[flying])
    opening = float(state.plate_opening.max())
    reach = build.hub.plate_thickness / 2.0
    if not bool(np.all(state.converged)) or opening > reach:
        why = (
            "no tie and no mounting screw holds the upper plate down: it lifts off the lug"
            if not build.hub.upper_plate_bolted and build.ties.screw is None
            else f"the plates part by more than their {1e3 * reach:.1f} mm that the shank must sit in"
        )
        return _Unclamped(False, why, None, None), []
    tilt = np.abs(state.lug_rotation - low.lug_rotation)
    kept = "mounting screws" if build.hub.upper_plate_bolted else "ties"
    why = f"the {kept} hold the plates together, and without clamping the blade wobbles"
    found = _plates_and_ties(now, state, build.ties.count)
    return _Unclamped(True, why, opening, float(tilt.max()) / 2.0), found


def _tie_lost(now: Situation) -> Loss:
    """One tie screw gone, the rest as built."""
    build, left = now.build, now.build.ties.count - 1
    flap = now.loads.root.flap_peak[_flight(now)]
    state = _state(now, Held(ties=left, tightened=False), flap)
    screw = build.pivot
    breaks = screw.thread.profile.stress_area * screw.strength.tensile_strength
    found = _plates_and_ties(now, state, left)
    found.append(_remaining(now, PIVOT, "tension from prying", _over(breaks, state.screw_tension)))
    weak, opening = _sorted(found)[0], float(state.plate_opening.max())
    ends = [STAYS if margin >= 0.0 else SWINGS for margin in (_least_in_hover(found), weak.margin)]
    why = "pivot screw, plates and what ties are left hold the lug"
    if SWINGS in ends:
        why = f"the {weak.part} {verb(weak.part, 'gives', 'give')} way in {weak.condition} ({weak.mode})"
    hours, part = _hours_left(now, Held(ties=left), now.pin_moment_of)
    how = f"one of {build.ties.count} lost"
    return Loss(TIE, how, ends[0], ends[1], why, _sorted(found), opening, None, hours, part)


def _least_in_hover(found: list[Remaining]) -> float:
    return min(one.in_hover for one in found)


def _mounting_lost(now: Situation) -> Loss:
    """One mounting screw gone: the rotor on the others, without help of friction."""
    mounting, loads, flying = now.build.mounting, now.loads, _flight(now)
    how, left = f"one of {mounting.count} lost", mounting.count - 1
    if left < 3:
        why = f"{left} screw{'' if left == 1 else 's'} left do not hold the rotor about every axis"
        return Loss(MOUNTING, how, LEAVES, LEAVES, f"with its rotor: {why}", ())
    screw, radius = mounting.screw, mounting.bolt_circle / 2
    tension = pattern.loosened_circle_force(
        np.abs(loads.thrust[flying]), np.abs(loads.hub_moment[flying]), radius, mounting.count
    )
    shear = pattern.loosened_circle_shear(np.abs(loads.torque[flying]), radius, mounting.count)
    breaks = screw.thread.profile.stress_area * screw.strength.tensile_strength
    cuts = pin.shear_capacity(screw.shear_diameter, shear_ultimate(screw))
    together = load_multiplier(CRITERIA["5020b-thread"], shear / cuts, tension / breaks) - 1.0
    one = _remaining(now, "mounting screws", "tension and torque together", np.asarray(together))
    ends = [STAYS if margin >= 0.0 else LEAVES for margin in (one.in_hover, one.margin)]
    why = "the other screws hold the rotor"
    if LEAVES in ends:
        why = f"with its rotor: the other screws do not hold in {one.condition}"
    return Loss(MOUNTING, how, ends[0], ends[1], why, (one,))
