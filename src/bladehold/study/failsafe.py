"""What one lost member does: whether the blade stays, swings or leaves, and what the rest still holds.

Limit loads of flight count once, against rupture: a hub that has lost a member is asked to come home, not to
fly on (the residual strength that 14 CFR 25.571(b) asks of a damaged structure; from memory). Friction is not
counted.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.joint import pattern, pin, single_shear
from bladehold.joint.contact import ClevisState, solve_clevis
from bladehold.joint.interaction import CRITERIA, load_multiplier
from bladehold.study.checks import material
from bladehold.study.clevis import Held, clevis_of
from bladehold.study.situation import Situation, inboard_moment, shear_ultimate

FloatArray = NDArray[np.float64]

STAYS, SWINGS, LEAVES = "stays", "swings", "leaves"
PIVOT, TIE, MOUNTING = "pivot screw", "tie screw", "mounting screw"


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

    member; how - it failed; blade - "stays", "swings" or "leaves"; why - in a sentence; remaining - margins,
    smallest first; opening - greatest distance (m) that the plates part at the pivot, wobble - half of what
    the lug tilts between the greatest and the least flap moment, rad; both None where they have no meaning.
    """

    member: str
    how: str
    blade: str
    why: str
    remaining: tuple[Remaining, ...]
    opening: float | None = None
    wobble: float | None = None

    @property
    def weakest(self) -> Remaining | None:
        """The smallest margin left; None where nothing is left to hold."""
        return self.remaining[0] if self.remaining else None


def losses(now: Situation) -> tuple[Loss, ...]:
    """Return what the loss of each member does, one at a time. Argument: now - a build under its loads."""
    return tuple(_losses(now))


def _losses(now: Situation) -> Iterator[Loss]:
    yield _clamp_lost(now)
    yield _sheared_at_one_face(now)
    yield Loss(
        PIVOT,
        "sheared at both faces",
        LEAVES,
        "nothing else in this hub carries the pull of the blade",
        (),
    )
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
    row = 0.0 if build.ties.screw is None else build.ties.count * build.ties.screw.thread.nominal_diameter
    area = (hub.plate_width - min(row, 0.8 * hub.plate_width)) * hub.plate_thickness
    stress = pull / 2 / area + 6.0 * inboard_moment(state) / (area * hub.plate_thickness)
    strength = material.tension(hub.plate_material, at_yield=False).value
    found = [_remaining(now, "hub plates", "bending between lug and root", _over(strength, stress))]
    if build.ties.screw is not None and ties > 0:
        breaks = build.ties.screw.thread.profile.stress_area * build.ties.screw.strength.tensile_strength
        force = _over(breaks, state.tie_force / ties)
        found.append(_remaining(now, "tie screws", "tension from prying", force))
    return found


def _clamp_lost(now: Situation) -> Loss:
    """The screw parted in its thread, or lost nut or circlip: its shank still sits in the holes."""
    how = "clamping lost: nut off, or broken in the thread"
    held, found = _without_clamp(now)
    pull = pin.double_shear_force(now.loads.root.in_plane[_flight(now)])
    capacity = float(pin.shear_capacity(now.build.pivot.shear_diameter, shear_ultimate(now.build.pivot)))
    found.append(_remaining(now, PIVOT, "double shear", _over(capacity, pull)))
    if not held.closed:
        return Loss(PIVOT, how, SWINGS, held.why, _sorted(found), held.opening, None)
    if min(one.margin for one in found) < 0.0:
        weak = _sorted(found)[0]
        why = f"the shank stays in both plates, but the {weak.part} give way ({weak.mode})"
        return Loss(PIVOT, how, SWINGS, why, _sorted(found), held.opening, held.wobble)
    return Loss(PIVOT, how, STAYS, held.why, _sorted(found), held.opening, held.wobble)


def _sheared_at_one_face(now: Situation) -> Loss:
    """One shear plane gone: the pin holds lug and one plate."""
    build, screw, how = now.build, now.build.pivot, "sheared at one face"
    pull = now.loads.root.in_plane[_flight(now)]
    moment = np.maximum(
        single_shear.single_shear_moment(pull, build.hub.lug_thickness, build.hub.gap),
        single_shear.single_shear_moment(pull, build.hub.plate_thickness, build.hub.gap),
    )
    tensile = screw.strength.tensile_strength
    shear = pull / float(pin.shear_capacity(screw.shear_diameter, shear_ultimate(screw)))
    bent = moment / pin.plastic_moment(screw.shear_diameter, tensile)
    criterion = CRITERIA[f"5020b-{screw.shear_plane}-plastic"]
    alone = load_multiplier(criterion, shear, np.zeros_like(shear), bent) - 1.0
    single = _remaining(now, PIVOT, "single shear and bending", np.asarray(alone))
    held, found = _without_clamp(now)
    found.append(single)
    if single.in_hover < 0.0:
        why = "what is left of the pin does not carry the pull even in hover"
        return Loss(PIVOT, how, LEAVES, why, _sorted(found))
    if single.margin < 0.0:
        why = f"the other face holds in hover, but not in {single.condition}"
        return Loss(PIVOT, how, LEAVES, why, _sorted(found), held.opening, held.wobble)
    if not held.closed or min(one.margin for one in found) < 0.0:
        why = held.why if not held.closed else f"the {_sorted(found)[0].part} give way"
        return Loss(
            PIVOT, how, SWINGS, f"the pin holds in one plate alone; {why}", _sorted(found), held.opening
        )
    why = "the pin holds in one plate alone, and plates and ties keep the lug between them"
    return Loss(PIVOT, how, STAYS, why, _sorted(found), held.opening, held.wobble)


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
    held = Held(pivot=False, tightened=False, level=False)
    state = _state(now, held, root.flap_peak[flying])
    low = _state(now, held, (root.flap_mean - root.flap_cyclic)[flying])
    opening = float(state.plate_opening.max())
    reach = build.hub.plate_thickness
    if not bool(np.all(state.converged)) or opening > reach:
        why = (
            "no tie and no mounting screw holds the upper plate down, it lifts off the lug and the shank"
            if not build.hub.upper_plate_bolted and build.ties.screw is None
            else f"the plates part by more than their {1e3 * reach:.1f} mm that the shank sits in"
        )
        return _Unclamped(False, why, None, None), []
    tilt = np.abs(state.lug_rotation - low.lug_rotation)
    kept = "ties" if build.ties.screw is not None and build.ties.count > 0 else "mounting screws"
    why = f"the shank stays in both plates, which the {kept} hold together; without clamping it wobbles"
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
    how = f"one of {build.ties.count} lost"
    weak = _sorted(found)[0]
    opening = float(state.plate_opening.max())
    if weak.margin < 0.0:
        return Loss(TIE, how, SWINGS, f"the {weak.part} do not hold: {weak.mode}", _sorted(found), opening)
    why = "pivot screw, plates and what ties are left hold the lug"
    return Loss(TIE, how, STAYS, why, _sorted(found), opening)


def _mounting_lost(now: Situation) -> Loss:
    """One mounting screw gone: the rotor on the others, without help of friction."""
    mounting, loads, flying = now.build.mounting, now.loads, _flight(now)
    how, left = f"one of {mounting.count} lost", mounting.count - 1
    if left < 3:
        why = f"{left} screw{'' if left == 1 else 's'} left do not hold the rotor about every axis"
        return Loss(MOUNTING, how, LEAVES, f"with its rotor: {why}", ())
    screw, radius = mounting.screw, mounting.bolt_circle / 2
    tension = pattern.loosened_circle_force(
        np.abs(loads.thrust[flying]), np.abs(loads.hub_moment[flying]), radius, mounting.count
    )
    shear = pattern.torque_shear_force(np.abs(loads.torque[flying]), left, radius)
    breaks = screw.thread.profile.stress_area * screw.strength.tensile_strength
    cuts = pin.shear_capacity(screw.shear_diameter, shear_ultimate(screw))
    together = load_multiplier(CRITERIA["5020b-thread"], shear / cuts, tension / breaks) - 1.0
    one = _remaining(now, "mounting screws", "tension and torque together", np.asarray(together))
    if one.margin < 0.0:
        return Loss(MOUNTING, how, LEAVES, "with its rotor: the other screws do not hold", (one,))
    return Loss(MOUNTING, how, STAYS, "the other screws hold the rotor", (one,))
