"""Least energy of two plates and a lug pressed on each other: the solver behind `joint.contact`.

Unknowns of one plate with the lug, lengths in metres, rotations times the contact half-length a: root,
inboard end of the contact (deflection, rotation), screw axis (deflection, rotation), outboard end
(deflection, rotation), tie row, screw head, lug deflection and lug rotation; tie and root only where
something acts there. The lug's two are the same for both plates. Energy E(v) = v K v / 2 - load v + sum(w
q+^2) / 2 over one-sided springs w with compression q = (linear in v) + offset: it is convex and its
gradient is continuous and piecewise linear, so Newton's method with an exact search along each step ends at
its least value.

Arrays keep the batch on the last axis: v (plate, unknown, batch), q (spring, batch).
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache, cached_property

import numpy as np
from numpy.typing import NDArray

from bladehold.joint._arrays import Floats
from bladehold.joint._contact_search import length_of_step, take

POINTS = 10  # along each half of a face
STRIPS = 2 * POINTS
UNKNOWNS = 15
ROOT, INNER, INNER_TURN, AXIS, TURN, OUTER, OUTER_TURN, TIE, HEAD = range(9)
LUG_INNER, LUG_INNER_TURN, LUG_OUTER, LUG_OUTER_TURN, LUG, LUG_TURN = LUGS = range(9, UNKNOWNS)
SLAVES = (ROOT, INNER, INNER_TURN, AXIS, TURN, OUTER, OUTER_TURN)
FACES = 2 * STRIPS  # rows of q: upper face, lower face, then one each for
SCREW_SPRING, TIE_SPRING, SPACER_SPRING, CORE_SPRING = range(FACES, FACES + 4)
ROWS = FACES + 4
_SIDE = np.array([1.0, -1.0])[:, np.newaxis, np.newaxis]  # the upper plate is pressed by a rising lug
_TOLERANCE = 1e-10  # residual force over the greatest force
_ROUNDING = 1e-9  # the same where the springs that act no longer change, which is exact but for rounding
_LEAST = 1.0  # N, below which a force is none
_FLOOR = 1e-12  # stiffness put on unknowns that nothing holds, over the greatest of the faces'
_STEPS = 80
_RUNAWAY = 1e6  # over loads and preloads, what forces no clevis makes of them: a case that ran away
_SHRINK = 0.85  # the batch is packed anew when no more than this part of it is still unsolved
_WORK = 200_000  # multiplications in one product, below what a library of linear algebra spreads over threads
_FIRM = 1e-7  # floor over stiffness up to which a system's inverse is as good as elimination
_SETS = (24, 8)  # sets of acting springs worth an inverse each: so many, or one for so many cases
_BITS = 2 ** np.arange(ROWS)


@cache
def face_points() -> tuple[Floats, Floats]:
    """Points along the face, x/a from -1 to 1, and their weights (sum 2): Lobatto's rule for each half.

    Lobatto's points include both ends, so that a hard face may bear on its very edge.
    """
    last = np.polynomial.legendre.Legendre.basis(POINTS - 1)
    point = np.concatenate(([-1.0], np.sort(last.deriv().roots().real), [1.0]))
    weight = 2.0 / (POINTS * (POINTS - 1) * last(point) ** 2)
    half = (point + 1.0) / 2.0
    return np.concatenate((half - 1.0, half)), np.concatenate((weight, weight)) / 2.0


def face_shapes(point: Floats, kept: tuple[int, ...]) -> Floats:
    """Rise of the lug above the plate at x/a = `point` per unknown kept, shape (points, unknowns)."""
    shapes = np.zeros((len(point), UNKNOWNS))
    outboard = point >= 0.0
    s = np.where(outboard, point, point + 1.0)
    near, far = 1.0 - 3.0 * s**2 + 2.0 * s**3, 3.0 * s**2 - 2.0 * s**3
    parts = (near, s - 2.0 * s**2 + s**3, far, s**3 - s**2)
    ends = [
        (outboard, -1.0, (AXIS, TURN, OUTER, OUTER_TURN)),
        (~outboard, -1.0, (INNER, INNER_TURN, AXIS, TURN)),
    ]
    if LUG_OUTER in kept:
        ends.append((outboard, 1.0, (LUG, LUG_TURN, LUG_OUTER, LUG_OUTER_TURN)))
        ends.append((~outboard, 1.0, (LUG_INNER, LUG_INNER_TURN, LUG, LUG_TURN)))
    else:
        shapes[:, LUG], shapes[:, LUG_TURN] = 1.0, point
    for where, sign, columns in ends:
        for column, shape in zip(columns, parts, strict=True):
            shapes[where, column] = sign * shape[where]
    return shapes[:, kept]


@dataclass(frozen=True)
class System:
    """The elastic parts of a batch of clevises; a last axis of 1 stands for one geometry.

    Stiffness of the plates alone (2, unknowns, unknowns, batch) in the order of `kept`, which of the eleven
    unknowns these are, and the springs' stiffness (springs, batch), faces first [N/m]. Of one geometry the
    matrices and inverses found are kept, by the number of the set of springs that act.
    """

    plates: Floats
    kept: tuple[int, ...]
    springs: Floats
    found: dict[int, tuple[Floats, Floats | None]] = field(default_factory=dict)

    def at(self, unknown: int) -> int | None:
        """Position of an unknown, None where it is left out."""
        return self.kept.index(unknown) if unknown in self.kept else None

    @property
    def single(self) -> bool:
        """Whether it is one geometry."""
        return (self.plates.shape[-1], self.springs.shape[-1]) == (1, 1)

    @cached_property
    def lugs(self) -> int:
        """How many of the unknowns are the lug's, the last ones."""
        return sum(one in LUGS for one in self.kept)

    def take(self, index: NDArray[np.intp]) -> System:
        """The part of the batch at `index`."""
        if self.single:
            return self
        return System(take(self.plates, index), self.kept, take(self.springs, index))

    def widened(self, own: tuple[int, ...], shape: tuple[int, ...]) -> System:
        """The same for every case of `shape`, from a batch of shape `own`; one geometry stays one."""
        if own == ():
            return self
        springs = widened(self.springs, own, shape)
        return System(widened(self.plates, own, shape), self.kept, springs)

    def compressions(self, v: Floats) -> Floats:
        """Linear part of q for every spring, shape (springs, batch)."""
        faces = _SIDE * np.stack([_product(_shapes(self.kept), one) for one in v])
        out = np.zeros((ROWS, v.shape[-1]))
        out[:FACES] = faces.reshape(FACES, -1)
        head, tie, root = self.at(HEAD), self.at(TIE), self.at(ROOT)
        out[SCREW_SPRING] = v[0, head] - v[1, head]
        if tie is not None:
            out[TIE_SPRING] = v[0, tie] - v[1, tie]
            out[SPACER_SPRING] = -out[TIE_SPRING]
        if root is not None:
            out[CORE_SPRING] = -v[0, root]
        return out

    def forces(self, springs: Floats) -> Floats:
        """Gradient of the springs' energy for spring forces (springs, batch), the transpose of the above."""
        faces = _SIDE * springs[:FACES].reshape(2, STRIPS, -1)
        out: Floats = np.stack([_product(_shapes(self.kept).T, one) for one in faces])
        head, tie, root = self.at(HEAD), self.at(TIE), self.at(ROOT)
        out[0, head] += springs[SCREW_SPRING]
        out[1, head] -= springs[SCREW_SPRING]
        if tie is not None:
            out[0, tie] += springs[TIE_SPRING] - springs[SPACER_SPRING]
            out[1, tie] -= springs[TIE_SPRING] - springs[SPACER_SPRING]
        if root is not None:
            out[0, root] -= springs[CORE_SPRING]
        return out

    def bending(self, v: Floats) -> Floats:
        """Forces that hold the plates bent to v, K v."""
        if self.plates.shape[-1] == 1:
            return np.stack([_product(self.plates[plate, :, :, 0], v[plate]) for plate in range(2)])
        return np.asarray(np.einsum("pijb,pjb->pib", self.plates, v))

    def step(self, acting: NDArray[np.bool_], force: Floats) -> Floats:
        """Change of v by `force` (2, unknowns, batch) while the springs that act (springs, batch) do.

        Cases of one geometry with the same springs at work share one matrix.
        """
        if not self.single:
            return self._eliminated(self.springs * acting, force)
        numbers, first, which = np.unique(_BITS @ acting, return_index=True, return_inverse=True)
        most, cases = _SETS
        if numbers.size > max(most, acting.shape[-1] // cases):
            return self._eliminated(self.springs * acting, force)
        new = [at for at, number in enumerate(numbers.tolist()) if number not in self.found]
        if new:
            self._invert(acting[:, first[new]], numbers[new])
        out = np.empty(force.shape)
        own, lugs = len(self.kept) - self.lugs, self.lugs
        both = np.concatenate((force[0, :own], force[1, :own], force[0, own:] + force[1, own:]))
        order, ends = np.argsort(which, kind="stable"), np.cumsum(np.bincount(which))
        for number, begin, end in zip(numbers.tolist(), [0, *ends], ends, strict=False):
            here, (matrix, inverse) = order[begin:end], self.found[number]
            pushed = both[:, here]
            moved = _loosely(matrix, pushed) if inverse is None else _product(inverse, pushed)
            if moved is None:
                out[..., here] = self._eliminated(self.springs * acting[:, here], force[..., here])
                continue
            out[0, :own, here], out[1, :own, here] = moved[:own].T, moved[own:-lugs].T
            out[:, own:, here] = moved[np.newaxis, -lugs:]
        return out

    def _invert(self, acting: NDArray[np.bool_], numbers: NDArray[np.int64]) -> None:
        """Keep matrix and inverse of each set of acting springs, the plates' unknowns first, then the lug's.

        No inverse where something is held so little that rounding would tell.
        """
        held = self.springs * acting
        own, lugs, count = len(self.kept) - self.lugs, self.lugs, numbers.size
        size = 2 * own + lugs
        blocks = self._blocks(held)
        whole = np.zeros((count, size, size))
        for plate in range(2):
            rows = np.array([*range(plate * own, (plate + 1) * own), *range(2 * own, size)])
            whole[:, rows[:, np.newaxis], rows] += blocks[:, :, plate].transpose(2, 0, 1)
        for unknown, stiffness in self._couplings(held, own):
            for sign, i, j in ((1, 0, 0), (1, own, own), (-1, 0, own), (-1, own, 0)):
                whole[:, unknown + i, unknown + j] += sign * stiffness
        try:
            inverse = np.linalg.inv(whole)
        except np.linalg.LinAlgError:  # one of them at least has a part that nothing holds
            inverse = np.zeros_like(whole)
        weakest = np.diagonal(inverse, axis1=1, axis2=2)
        firm = (weakest > 0.0).all(axis=1) & (weakest.max(axis=1) * self._floor < _FIRM)
        for at, number in enumerate(numbers.tolist()):
            self.found[number] = whole[at], inverse[at] if firm[at] else None

    @cached_property
    def _floor(self) -> float:
        return float(_FLOOR * self.springs[:FACES].sum(axis=0).max())

    def _blocks(self, held: Floats) -> Floats:
        """Stiffness of each plate with the springs held there (unknowns, unknowns, 2, batch)."""
        size, batch = len(self.kept), held.shape[-1]
        strips = held[:FACES].reshape(2, STRIPS, batch).transpose(1, 0, 2).reshape(STRIPS, -1)
        blocks = _product(_products(self.kept), strips).reshape(size, size, 2, batch)
        blocks += self.plates.transpose(1, 2, 0, 3)
        diagonal = np.arange(size)
        blocks[diagonal, diagonal] += self._floor
        root = self.at(ROOT)
        if root is not None:
            blocks[root, root, 0] += held[CORE_SPRING]
        return blocks

    def _couplings(self, held: Floats, own: int) -> list[tuple[int, Floats]]:
        """Unknowns at which a spring joins the plates, counted within `own` of each, and its stiffness."""
        ends = [(own - 1, held[SCREW_SPRING])]
        if self.at(TIE) is not None:
            ends.append((own - 2, held[TIE_SPRING] + held[SPACER_SPRING]))
        return ends

    def _eliminated(self, held: Floats, force: Floats) -> Floats:
        """The same as `step` case by case, with springs of stiffness `held` (springs, batch)."""
        size, slaves = len(self.kept), sum(one in SLAVES for one in self.kept)
        batch, floor = held.shape[-1], self._floor
        a = np.empty((size, size + 1, 2, batch))
        a[:, :size] = self._blocks(held)
        a[:, size] = force.transpose(1, 0, 2)
        _eliminate(a, slaves, floor)
        masters = self._masters(a[slaves:, slaves:], held, floor)
        v = np.empty((size, 2, batch))
        ends, lugs = size - slaves - self.lugs, self.lugs
        v[slaves:-lugs, 0], v[slaves:-lugs, 1] = masters[:ends], masters[ends:-lugs]
        v[-lugs:] = masters[-lugs:, np.newaxis]
        for i in range(slaves - 1, -1, -1):
            v[i] = (a[i, size] - (a[i, i + 1 : size] * v[i + 1 :]).sum(axis=0)) / a[i, i]
        return v.transpose(1, 0, 2)

    def _masters(self, blocks: Floats, held: Floats, floor: float) -> Floats:
        """Both plates at tie row and screw with the lug between, coupled by screw, ties and spacer."""
        own = blocks.shape[0] - self.lugs
        size = 2 * own + self.lugs
        a = np.zeros((size, size + 1, blocks.shape[-1]))
        lug = range(2 * own, size)
        for plate in range(2):
            rows = [*range(plate * own, (plate + 1) * own), *lug]
            a[np.ix_(rows, [*rows, size])] += blocks[:, :, plate]
        for unknown, stiffness in self._couplings(held, own):
            for sign, i, j in ((1, 0, 0), (1, own, own), (-1, 0, own), (-1, own, 0)):
                a[unknown + i, unknown + j] += sign * stiffness
        _eliminate(a, size, floor)
        v = np.empty((size, a.shape[-1]))
        for i in range(size - 1, -1, -1):
            v[i] = (a[i, size] - (a[i, i + 1 : size] * v[i + 1 :]).sum(axis=0)) / a[i, i]
        return v


def _loosely(matrix: Floats, pushed: Floats) -> Floats | None:
    """Solution where something is held by next to nothing; None where rounding lets a part slip uphill."""
    try:
        moved: Floats = np.asarray(np.linalg.solve(matrix, pushed), dtype=float)
    except np.linalg.LinAlgError:
        return None
    return moved if ((pushed * moved).sum(axis=0) >= 0.0).all() else None


def _eliminate(a: Floats, count: int, floor: float) -> None:
    """Gauss elimination of the first unknowns, in place; a pivot that nothing holds gets the floor."""
    for i in range(count):
        np.maximum(a[i, i], floor, out=a[i, i])
        factor = a[i, i + 1 : a.shape[0]] / a[i, i]
        a[i + 1 :, i + 1 :] -= factor[:, np.newaxis] * a[i, i + 1 :]


@cache
def _shapes(kept: tuple[int, ...]) -> Floats:
    return face_shapes(face_points()[0], kept)


@cache
def _products(kept: tuple[int, ...]) -> Floats:
    shapes = _shapes(kept)
    return (shapes[:, :, np.newaxis] * shapes[:, np.newaxis]).reshape(STRIPS, -1).T.copy()


def _product(a: Floats, b: Floats) -> Floats:
    """a @ b in blocks of columns, each too small to be spread over threads, whose waiting costs far more."""
    columns = max(_WORK // a.size, 1)
    if b.shape[1] <= columns:
        return a @ b
    out = np.empty((a.shape[0], b.shape[1]))
    for begin in range(0, b.shape[1], columns):
        np.matmul(a, b[:, begin : begin + columns], out=out[:, begin : begin + columns])
    return out


def widened(values: Floats, own: tuple[int, ...], shape: tuple[int, ...]) -> Floats:
    """Values (..., batch of shape `own`) for every case of `shape`, again on one last axis."""
    lead = values.shape[:-1]
    if values.shape[-1] == 1 and own == ():
        return values
    apart = values.reshape(*lead, *(1,) * (len(shape) - len(own)), *own)
    return np.broadcast_to(apart, (*lead, *shape)).reshape(*lead, -1)


def net(force: Floats, lugs: int) -> Floats:
    """The same forces with the lug's own in the first plate's rows alone: zero when in balance."""
    out = force.copy()
    out[0, -lugs:] += force[1, -lugs:]
    out[1, -lugs:] = 0.0
    return out


def least_energy(
    system: System, offset: Floats, load: Floats, start: Floats
) -> tuple[Floats, Floats, NDArray[np.bool_]]:
    """Unknowns of least energy, forces of all springs, and which cases were solved.

    Arguments: system - the elastic parts; offset - of the compressions q (springs, batch) [m]; load - (2,
    unknowns, batch) [N]; start - unknowns to start from (2, unknowns, batch) [m]; what nothing holds
    stays there.
    """
    batch = load.shape[-1]
    found, found_forces = np.empty(load.shape), np.empty((offset.shape[0], batch))
    solved = np.zeros(batch, dtype=bool)
    index = np.arange(batch)
    part, v, q = system, start, system.compressions(start) + offset
    rest = load - part.bending(v)  # what bending leaves of the loads for the springs
    scale = np.abs(load).max(axis=(0, 1))
    acting = (q > 0.0) & (part.springs > 0.0)
    greatest = _RUNAWAY * (scale + (part.springs * np.maximum(q, 0.0)).max(axis=0) + _LEAST)
    left_over = rest - part.forces(part.springs * np.maximum(q, 0.0))
    for turn in range(_STEPS):
        step = part.step(acting, left_over)
        move, bent = part.compressions(step), part.bending(step)
        length = length_of_step(part.springs, q, move, step, rest, bent)
        v, q, rest = v + length * step, q + length * move, rest - length * bent
        pressed = part.springs * np.maximum(q, 0.0)
        left_over = rest - part.forces(pressed)
        now = pressed > 0.0
        settled = (now == acting).all(axis=0) & (length == 1.0)
        error = np.abs(net(left_over, part.lugs)).max(axis=(0, 1)) / np.maximum(
            scale, pressed.max(axis=0) + _LEAST
        )
        done = (error <= _TOLERANCE) | settled & (error <= _ROUNDING)
        done &= pressed.max(axis=0) <= greatest
        acting = now
        if done.mean() >= 1.0 - _SHRINK or turn == _STEPS - 1:
            ready = index[done]
            found[..., ready], found_forces[:, ready], solved[ready] = v[..., done], pressed[:, done], True
            left = np.flatnonzero(~done)
            index, part, scale = index[left], part.take(left), scale[left]
            greatest = greatest[left]
            v, q, rest, pressed = (one[..., left] for one in (v, q, rest, pressed))
            left_over = left_over[..., left]
            acting = acting[:, left]
            if not left.size:
                break
    found[..., index], found_forces[:, index] = v, pressed
    return found, found_forces, solved
