"""Elastic contact of a lug between two plates: what pivot screw, ties, plates and faces feel.

Axes as in `joint.clevis`: x along the blade outboard from the pivot screw axis, z along the screw, up.

```text
   root      tie row        -a     screw     +a
    |           |            [=======|=======]   upper plate, a beam
    |       spacer|tie        : : : :|: : : :    face: strips that only press
    |           |            [###### lug ####]   a beam; M and L at x = 0 come in at its end
    |           |             : : : :|: : : :
    |           |            [=======|=======]   lower plate, clamped at its root
```

Plates and lug are beams (with shear if asked; the lug rigid if its stiffness is left out). Each face is a row
of springs of the through-thickness stiffness of half the lug and its plate, which do not pull and may start
with a gap. The screw is a spring that does not push; its heads press evenly on rings. The flap moment that
the pin could take by bearing within its hole is left out, as in `joint.clevis`, whose closed forms are the
limits for stiff parts. Preload is the screw's tension as tightened, first put on as a dead force: with a gap
a part of it is eaten by bending the plates, and `clamp` is what is left on the faces. All of it is one convex
energy, see `joint._contact_solve`.
"""

from __future__ import annotations

from dataclasses import dataclass, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint import _contact_solve as solver
from bladehold.joint._arrays import Floats, at_least_zero, real
from bladehold.joint._contact_plates import head_arm, head_mean, plate_stiffness
from bladehold.joint.contact_model import ClevisModel

_OPPOSITE = np.array([[1.0], [-1.0]])
_RIGID_LUG = (solver.LUG, solver.LUG_TURN)
_HEADS = 1e3  # stiffness between head and plate over that of the screw
UNSOLVED = 1e12
"""Stands for every figure of a case that did not come to rest: more than any part bears."""
_OTHERS = {"strip_width", "upper_root", "tie_preload"}
_NUMBERS = tuple(one.name for one in fields(ClevisModel) if one.name not in _OTHERS)


@dataclass(frozen=True)
class ClevisState:
    """What the parts of a clevis feel, each an array [...]: forces [N], not negative unless signed.

    `clamp` is the force on the faces as tightened, before load. Contact forces with their centres x [m]
    (0 where there is no force) and greatest pressures [Pa] with their x [m]; greatest opening of each face
    at its ends, the gap counted [m]; opening of the plates at the screw since tightening [m]; bending
    moments of the plates at the hole and the greatest inboard of the contact, at its end, tie row or root,
    positive where they bend a plate's outboard end away from the lug [N m]; force of all ties of the
    blade and of its spacer; force of the upper plate's root on the plate, up positive, and of the hub core
    pressed by it; rotation of the lug's outboard end (tip up) [rad] and its rise
    carried straight back to the screw axis [m], since tightening; energy stored in all
    springs and plates [J]; whether the case was solved: one that was not has `UNSOLVED` everywhere.
    """

    screw_tension: Floats
    clamp: Floats
    upper_force: Floats
    lower_force: Floats
    upper_centre: Floats
    lower_centre: Floats
    upper_pressure: Floats
    lower_pressure: Floats
    upper_pressure_place: Floats
    lower_pressure_place: Floats
    upper_opening: Floats
    lower_opening: Floats
    plate_opening: Floats
    upper_hole_moment: Floats
    lower_hole_moment: Floats
    upper_inboard_moment: Floats
    lower_inboard_moment: Floats
    tie_force: Floats
    spacer_force: Floats
    upper_root_force: Floats
    core_force: Floats
    lug_rotation: Floats
    lug_rise: Floats
    stored_energy: Floats
    converged: NDArray[np.bool_]


@dataclass(frozen=True)
class RotationalStiffness:
    """Spring that the clevis is to the blade's flapping: M over rotation and its slope [N m/rad]."""

    secant: Floats
    tangent: Floats
    converged: NDArray[np.bool_]


def solve_clevis(
    model: ClevisModel,
    flap_moment: ArrayLike,
    lift: ArrayLike,
    preload: ArrayLike,
    spread: ArrayLike = 0.0,
) -> ClevisState:
    """Forces, pressures and openings of a clevis under load.

    First the state as tightened, with `preload` as a dead force and nothing else; then the loaded one,
    where the screw's tension is preload + stiffness x (stretch since tightening), not below zero; ties alike.

    >>> from bladehold.joint.contact_model import clevis_model, foundation_modulus, plate_bending_stiffness
    >>> bending = plate_bending_stiffness(71e9, 20e-3, 4e-3)
    >>> clevis = clevis_model(
    ...     half_length=9e-3, contact_width=18e-3, foundation=foundation_modulus(9e9, 8e-3, 71e9, 4e-3),
    ...     hole_diameter=5e-3, head_diameter=8.5e-3, screw_stiffness=1.5e8, upper_bending=bending,
    ...     lower_bending=bending, root_distance=17.5e-3)
    >>> state = solve_clevis(clevis, [0.0, 20.0, 60.0], 300.0, 3000.0)
    >>> print(state.screw_tension.round(-1), state.converged.all())
    [3000. 3160. 5440.] True

    Arguments (broadcast together, and with the model's own shape):
        model: the clevis or an array of them; flap_moment: M on the lug at the screw axis, tip up positive
        [N m]; lift: L on the lug there, up positive [N]; preload: tension of the screw as tightened [N];
        spread: force that pulls the two plates apart at the screw axis [N].
    Returns: the state.
    Errors: ValueError when a preload is negative or an input not finite.
    Range: small slopes; plates and lug that bend along the blade only.
    Source: least energy of the parts, own; limits in `joint.clevis`.
    """
    # What does not come to rest may run away on the way; `converged` tells.
    with np.errstate(over="ignore", invalid="ignore"):
        return _Loaded(model, flap_moment, lift, preload, spread).state()


def rotational_stiffness(
    model: ClevisModel, flap_moment: ArrayLike, lift: ArrayLike, preload: ArrayLike
) -> RotationalStiffness:
    """Stiffness of the clevis against flapping: secant M / rotation and tangent dM / d rotation.

    The rotation counts from the state with the same lift and no flap moment. Where there is no flap moment
    the secant is the tangent. A lug with play that touches nothing has no stiffness.

    Arguments (broadcast together, and with the model's own shape):
        model: the clevis; flap_moment: M [N m]; lift: L [N]; preload: of the screw [N], all as for
        `solve_clevis`.
    Returns: both stiffnesses [N m/rad].
    Errors: as `solve_clevis`.
    Source: own.
    """
    loaded, level = (_Loaded(model, moment, lift, preload, 0.0) for moment in (flap_moment, 0.0))
    tangent, turned = loaded.tangent(), loaded.turn - level.turn
    moment = np.broadcast_to(real("flap moment", flap_moment), loaded.shape)
    turns = (moment != 0.0) & (turned != 0.0)
    secant = np.where(turns, moment / np.where(turns, turned, 1.0), tangent)
    return RotationalStiffness(secant, tangent, loaded.solved & level.solved)


class _Loaded:
    """A batch of clevises solved as tightened and as loaded, cases on one last axis."""

    def __init__(
        self,
        model: ClevisModel,
        flap_moment: ArrayLike,
        lift: ArrayLike,
        preload: ArrayLike,
        spread: ArrayLike,
    ) -> None:
        tension = at_least_zero("preload", preload)
        loads = real("flap moment", flap_moment), real("lift", lift), real("spread", spread)
        self._model = model
        self.shape = np.broadcast_shapes(model.shape, tension.shape, *(load.shape for load in loads))
        self._part = {name: _flat(getattr(model, name), model.geometry, model.geometry) for name in _NUMBERS}
        self._moment, self._lift, self._spread = (_cases(load, self.shape) for load in loads)
        self._preload = _cases(tension, self.shape)
        self._tie_preload = _cases(model.tie_preload, self.shape)
        # heads sit on very stiff springs, which the screw between them makes up for
        self._part["head_stiffness"] = _HEADS * self._part["screw_stiffness"]
        radii = (self._part[one] / 2.0 for one in ("head_diameter", "hole_diameter"))
        self._seat = head_mean(next(radii), next(radii), self._part["half_length"])
        self._system = self._elastic()
        self._tighten()
        self._put_on()

    def _elastic(self) -> solver.System:
        """Plates and springs of the model's own shape."""
        model, part = self._model, self._part
        ties = bool(model.tie_stiffness.any() or model.spacer_stiffness.any())
        plates, kept = plate_stiffness(part, model.upper_root, ties, bool(model.lug_compliance.any()))
        _, weight = solver.face_points()
        width = np.broadcast_to(model.strip_width, (*model.geometry, solver.STRIPS)).reshape(
            -1, solver.STRIPS
        )
        faces = width.T * weight[:, np.newaxis] * (part["half_length"] * part["foundation"])
        springs = np.zeros((solver.ROWS, faces.shape[-1]))
        springs[: solver.FACES] = np.concatenate((faces, faces))
        springs[solver.SCREW_SPRING] = part["screw_stiffness"] * _HEADS / (_HEADS - 2.0)
        springs[solver.TIE_SPRING], springs[solver.SPACER_SPRING] = (
            part["tie_stiffness"],
            part["spacer_stiffness"],
        )
        springs[solver.CORE_SPRING] = part["core_stiffness"] * (model.upper_root != "clamped")
        return solver.System(plates, kept, springs)

    def _tighten(self) -> None:
        """Unknowns and forces as tightened, of one geometry once for each different pair of preloads.

        Without gap and tie preload they grow in proportion to the screw's.
        """
        model, whole = self._model, self._system
        in_proportion = not (model.gap.any() or model.tie_preload.any())
        springs = whole.springs.copy()
        springs[[solver.SCREW_SPRING, solver.TIE_SPRING]] = 0.0
        system = solver.System(whole.plates, whole.kept, springs)
        gap, place = self._part["gap"], np.arange(self._preload.size)
        if in_proportion:
            squeeze, ties = np.ones(springs.shape[-1]), np.zeros(springs.shape[-1])
        elif whole.single:
            pairs = self._preload + 1j * self._tie_preload
            different, place = np.unique(pairs, return_inverse=True)
            squeeze, ties = different.real, different.imag
        else:
            system = system.widened(model.geometry, self.shape)
            squeeze, ties = self._preload, self._tie_preload
            gap = _flat(model.gap, model.geometry, self.shape)
        load = np.zeros((2, len(system.kept), squeeze.size))
        load[:, system.at(solver.HEAD)] = _OPPOSITE * -squeeze
        tie = system.at(solver.TIE)
        if tie is not None:
            load[:, tie] = _OPPOSITE * -ties
        offset = np.zeros((solver.ROWS, squeeze.size))
        offset[: solver.FACES] = -gap
        v, forces, solved = solver.least_energy(system, offset, load, np.zeros(load.shape))
        if in_proportion:
            own = model.geometry, self.shape
            self._v0 = solver.widened(v, *own) * self._preload
            self._forces0 = solver.widened(forces, *own) * self._preload
            self._solved0 = np.broadcast_to(solved.reshape(model.geometry), self.shape).reshape(-1)
        else:
            self._v0, self._forces0, self._solved0 = v[..., place], forces[:, place], solved[place]

    def _put_on(self) -> None:
        """Unknowns and forces under load, from the tightened state on."""
        model, v0 = self._model, self._v0
        system = self._system.widened(model.geometry, self.shape)
        self._wide = {
            name: solver.widened(values, model.geometry, self.shape) for name, values in self._part.items()
        }
        load = np.zeros(v0.shape)
        if self._system.lugs > len(_RIGID_LUG):  # loads enter a lug that bends at its outboard end
            load[0, system.at(solver.LUG_OUTER)] = self._lift
            load[0, system.at(solver.LUG_OUTER_TURN)] = self._moment / self._wide["half_length"] - self._lift
        else:
            load[0, -2], load[0, -1] = self._lift, self._moment / self._wide["half_length"]
        seat = solver.widened(self._seat, model.geometry, self.shape)[list(system.kept)]
        load += _OPPOSITE[..., np.newaxis] * seat * self._spread
        start, screw = system.compressions(v0), system.springs[solver.SCREW_SPRING]
        offset = np.zeros(start.shape)
        offset[: solver.FACES] = -self._wide["gap"]
        offset[solver.SCREW_SPRING] = self._preload / screw - start[solver.SCREW_SPRING]
        stiffness = self._wide["tie_stiffness"]
        tightened = self._tie_preload / np.where(stiffness > 0.0, stiffness, 1.0)
        offset[solver.TIE_SPRING] = tightened - start[solver.TIE_SPRING]
        self._v, self._forces, solved = solver.least_energy(system, offset, load, v0)
        self._loaded, self._offset = system, offset
        self._solved = solved & self._solved0

    @property
    def solved(self) -> NDArray[np.bool_]:
        """Which cases were solved [...]."""
        return self._solved.reshape(self.shape)

    @property
    def turn(self) -> Floats:
        """Lug rotation since tightening [...]."""
        turned = self._lug_moves()[1] / self._wide["half_length"]
        return np.asarray(turned.reshape(self.shape))

    def _lug_moves(self) -> tuple[Floats, Floats]:
        """Rise at the axis and turn (times a) since tightening of the lug's outboard end, as if rigid."""
        moved = self._v[0] - self._v0[0]
        outer, turn = self._loaded.at(solver.LUG_OUTER), self._loaded.at(solver.LUG_OUTER_TURN)
        if outer is None or turn is None:
            return moved[-2], moved[-1]
        return moved[outer] - moved[turn], moved[turn]

    def tangent(self) -> Floats:
        """dM / d rotation with the springs that act at the end [...]."""
        unit = np.zeros(self._v.shape)
        turned = self._loaded.at(solver.LUG_OUTER_TURN)
        where = -1 if turned is None else turned
        unit[0, where] = 1.0
        turn = self._loaded.step(self._forces > 0.0, unit)[0, where]
        return np.asarray(self._wide["half_length"] ** 2 / turn).reshape(self.shape)

    def state(self) -> ClevisState:
        """What the parts feel."""
        part, forces, system = self._wide, self._forces, self._loaded
        a, root, tie = part["half_length"], part["root_distance"], part["tie_distance"]
        upper, lower = (_face(self, plate) for plate in range(2))
        tension, ties, spacer, core = forces[solver.FACES :]
        between = tension - self._spread
        outboard = between / 2.0 * head_arm(part["head_diameter"] / 2.0, part["hole_diameter"] / 2.0)
        held = ties - spacer
        moments = []
        for face in (upper, lower):
            inner = face.moment + a * face.force - a * between
            at_tie = face.moment + tie * face.force - tie * between
            at_root = face.moment + root * face.force - root * between - (root - tie) * held
            moments.append(_largest(inner, at_tie, at_root))
        axis = system.at(solver.AXIS)
        moved = self._v[:, axis] - self._v0[:, axis]
        opening = moved[0] - moved[1]
        pressing = self._forces0[: solver.FACES].reshape(2, solver.STRIPS, -1).sum(axis=1)
        stored = (self._v * system.bending(self._v)).sum(axis=(0, 1)) / 2.0
        stiffness = np.where(system.springs > 0.0, system.springs, 1.0)
        stored = stored + (forces**2 / stiffness).sum(axis=0) / 2.0
        rise = self._lug_moves()[0]

        def shaped(values: Floats) -> Floats:
            return np.asarray(np.where(self._solved, values, UNSOLVED).reshape(self.shape))

        return ClevisState(
            screw_tension=shaped(tension),
            clamp=shaped(pressing.min(axis=0)),
            upper_force=shaped(upper.force),
            lower_force=shaped(lower.force),
            upper_centre=shaped(upper.centre),
            lower_centre=shaped(lower.centre),
            upper_pressure=shaped(upper.pressure),
            lower_pressure=shaped(lower.pressure),
            upper_pressure_place=shaped(upper.place),
            lower_pressure_place=shaped(lower.place),
            upper_opening=shaped(upper.opening),
            lower_opening=shaped(lower.opening),
            plate_opening=shaped(opening),
            upper_hole_moment=shaped(upper.hole_moment - outboard),
            lower_hole_moment=shaped(lower.hole_moment - outboard),
            upper_inboard_moment=shaped(moments[0]),
            lower_inboard_moment=shaped(moments[1]),
            tie_force=shaped(ties),
            spacer_force=shaped(spacer),
            upper_root_force=shaped(between + held - upper.force),
            core_force=shaped(core),
            lug_rotation=shaped(self.turn.reshape(-1)),
            lug_rise=shaped(rise),
            stored_energy=shaped(stored),
            converged=self.solved,
        )


@dataclass(frozen=True)
class _Face:
    """A face's force, its moment about the screw axis, that of its outboard half, and extremes."""

    force: Floats
    moment: Floats
    hole_moment: Floats
    centre: Floats
    pressure: Floats
    place: Floats
    opening: Floats


def _face(case: _Loaded, plate: int) -> _Face:
    part, system = case._wide, case._loaded
    rows = slice(plate * solver.STRIPS, (plate + 1) * solver.STRIPS)
    point, _ = solver.face_points()
    force = case._forces[rows]
    arm = point[:, np.newaxis] * part["half_length"]
    total, moment = force.sum(axis=0), (force * arm).sum(axis=0)
    outboard = (force * np.maximum(arm, 0.0)).sum(axis=0)
    ends = np.array([-1.0, 1.0])
    side = 1.0 if plate == 0 else -1.0
    tips = side * (solver.face_shapes(ends, system.kept) @ case._v[plate]) - part["gap"]
    within = system.compressions(case._v)[rows] - part["gap"]
    there = np.concatenate((tips[:1], within, tips[1:]))
    places = np.concatenate((ends[:1], point, ends[1:]))
    most = there.argmax(axis=0)
    pressure = part["foundation"] * np.maximum(there.max(axis=0), 0.0)
    return _Face(
        total,
        moment,
        outboard,
        moment / np.where(total > 0.0, total, 1.0),
        pressure,
        np.where(pressure > 0.0, places[most] * part["half_length"], 0.0),
        np.maximum(-tips.min(axis=0), 0.0),
    )


def _largest(*signed: Floats) -> Floats:
    """Of several signed values the one of greatest size."""
    stacked = np.stack(np.broadcast_arrays(*signed))
    return np.asarray(np.take_along_axis(stacked, np.abs(stacked).argmax(axis=0)[np.newaxis], axis=0)[0])


def _cases(values: Floats, shape: tuple[int, ...]) -> Floats:
    """Values of every case on one axis."""
    return np.broadcast_to(values, shape).reshape(-1)


def _flat(values: Floats, own: tuple[int, ...], shape: tuple[int, ...]) -> Floats:
    """A model's values on one axis: one number for one clevis, else every case of `shape`."""
    return values.reshape(1) if own == () else _cases(values, shape)
