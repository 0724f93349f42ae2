"""Momentum balance of annuli whose blade elements meet another stream at every azimuth.

With wind E across the axis a blade element at the azimuth psi meets

    u_T = Omega r - u + E sin(psi)                      in the plane of turning
    u_P = V + v + F v (r/R) (kx cos(psi) + ky sin(psi))    along the axis

with induced velocity v, swirl u and Prandtl's loss factor F of its annulus. Of v the share F is the mean
round the annulus, uneven over the disc; the rest the blade finds by its own tip or hub alone, and that
part follows its own lift (`own_share`). The mean over the turn of the loads balances the momentum of the
air, M being the through flow:

    sigma <W (cl u_T - cd u_P)> = 4 F M v               axial
    sigma <W (cl u_P + cd u_T)> = 4 F M u               swirl

Without wind this is the balance of `bladehold.rotor.momentum`. The flow along the span is left out
(independence principle), and so are flapping, unsteady lift and stall delay.

Sources: blade element in forward flight, Johnson, Helicopter Theory (1980), chapter 5; annulus-wise
momentum with Glauert's resultant velocity, Leishman, Principles of Helicopter Aerodynamics (2000),
chapter 3; the balance over the whole turn and its solution are our own.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bladehold.rotor.bracket import bracketed_root
from bladehold.rotor.momentum import TINY, prandtl_loss
from bladehold.rotor.skew import Slopes
from bladehold.rotor.slices import PolarSlice
from bladehold.rotor.wake import through_flow

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.intp]

TOLERANCE = 1e-7  # of the balance, as a force coefficient of the blade in the stream
MOST_STEPS, STEPS_TOGETHER = 12, 2
SMALLEST_GAIN = 1e-3  # of the square of a step, below which nothing is learnt from it
LONGEST_STEP = 0.1  # of the stream's speed
PROBE = 1e-5  # of the stream's speed, for the first slopes
ROUNDS = 30  # of the slow way: induced velocity bracketed, swirl carried over
WIDE = 3.0  # of the stream's speed, ends of the bracket
LIFT_SLOPE = 2.0 * np.pi  # per rad, of a thin section


@dataclass(frozen=True, eq=False)
class Turn:
    """Blade elements [A, ...] of annuli [...] round a turn.

    solidity - sigma; twist - rad; tip, hub - B (R - r) / (2 r) and B (r - R_hub) / (2 R_hub); x - r/R;
    blade_speed - Omega r, axial - V, edge - E, m/s; all broadcast to [...]. cosine, sine - of the
    azimuths, [A, 1, 1 ..]; section - lift and drag coefficients at alpha [A, ...]; skew - from v and F
    [...] to the slopes kx, ky that broadcast to [...].
    """

    solidity: FloatArray
    twist: FloatArray
    tip: FloatArray
    hub: FloatArray
    x: FloatArray
    blade_speed: FloatArray
    axial: FloatArray
    edge: FloatArray
    cosine: FloatArray
    sine: FloatArray
    section: PolarSlice
    skew: Callable[[FloatArray, FloatArray], Slopes]

    @property
    def speed(self) -> FloatArray:
        """What the annuli meet: the root of the sum of the squares of the three speeds, m/s, [...]."""
        square = np.square(self.blade_speed) + np.square(self.axial) + np.square(self.edge)
        return np.asarray(np.maximum(np.sqrt(square), TINY))


@dataclass(frozen=True, eq=False)
class Loads:
    """Elements [A, ...] at one state of the annuli [...].

    normal, tangential - W (cl u_T - cd u_P) and W (cl u_P + cd u_T), m^2/s^2, alpha - rad, in_plane -
    u_T, m/s, all [A, ...]; kx, ky - slopes of the inflow; nearby - the section, quicker near alpha;
    flow - 4 F M / sigma, m/s, [...]; axial_excess, swirl_excess - what the blades give beyond the
    balance, in units of the square of the stream's speed, [...].
    """

    normal: FloatArray
    tangential: FloatArray
    alpha: FloatArray
    in_plane: FloatArray
    kx: FloatArray
    ky: FloatArray
    nearby: PolarSlice
    flow: FloatArray
    axial_excess: FloatArray
    swirl_excess: FloatArray

    @property
    def worst(self) -> FloatArray:
        """The greater of the two excesses, [...]."""
        return np.maximum(np.abs(self.axial_excess), np.abs(self.swirl_excess))


@dataclass(frozen=True, eq=False)
class State:
    """Annuli [...]: induced velocity v and swirl u, m/s, and how they move with the excesses.

    slopes - the four elements of the inverse of the derivatives of the axial and the swirl excess by v
    and u, m/s: v by axial, v by swirl, u by axial, u by swirl.
    """

    induced: FloatArray
    swirl: FloatArray
    slopes: tuple[FloatArray, ...]

    def part(self, which: slice) -> State:
        """Some of the conditions, the first axis."""
        return State(self.induced[which], self.swirl[which], tuple(slope[which] for slope in self.slopes))


Settled = tuple[State, Loads]


def own_share(loss: FloatArray, flow: FloatArray, speed: FloatArray) -> FloatArray:
    """Share of the swing of the lift round the turn that is left near tip and hub.

    s = f / (f + 2 pi (1 - F) W), f = 4 F M / sigma. By tip and hub a blade meets the velocity
    (1 - F) v of its own trailing vortices. Momentum gives v = G W / f for the circulation G = W cl, so
    that a change of G changes this velocity by (1 - F) W / f times as much, and the lift coefficient,
    of slope 2 pi, by 2 pi / W times that, downwards: of a change that the uneven stream alone would make,
    s is left. Without loss s is 1; at the very tip it falls to 0 as F does, and as the mean load does.
    Arguments: loss - F, 0 to 1; flow - f, m/s, at least 0; speed - W, m/s; all broadcast.
    Source: own, linear and quasi-steady.

    >>> own_share(np.array([1.0, 0.5, 0.0]), np.array([90.0, 100 * np.pi, 0.0]), np.array(100.0)).tolist()
    [1.0, 0.5, 0.0]
    """
    held = LIFT_SLOPE * (1.0 - loss) * speed
    return np.asarray(flow / np.maximum(flow + held, TINY))


def loads_at(turn: Turn, induced: FloatArray, swirl: FloatArray) -> Loads:
    """Loads of the elements and balance of the annuli, by the formulas at the head of this page.

    Arguments: turn - the elements; induced - v, m/s, swirl - u, m/s, [...].
    """
    through, blade = turn.axial + induced, turn.blade_speed - swirl
    mean_speed = np.maximum(np.hypot(through, blade), TINY)
    loss = prandtl_loss(np.abs(through) / mean_speed, turn.tip, turn.hub)
    flow = 4.0 * loss * through_flow(induced, turn.axial, turn.edge) / turn.solidity
    kx, ky = turn.skew(induced, loss)
    uneven = loss * induced * turn.x
    in_plane = blade + turn.edge * turn.sine
    along = (kx * uneven) * turn.cosine
    along += (ky * uneven) * turn.sine
    along += through
    alpha = turn.twist - np.arctan2(along, in_plane)
    cl, cd, nearby = turn.section.follow(alpha)
    relative = np.sqrt(in_plane * in_plane + along * along)
    circulation, cd = cl * relative, cd * relative
    mean = circulation.mean(axis=0)
    circulation = mean + own_share(loss, flow, mean_speed) * (circulation - mean)
    normal, tangential = circulation * in_plane - cd * along, circulation * along + cd * in_plane
    square = turn.speed**2
    return Loads(
        normal=normal,
        tangential=tangential,
        alpha=alpha,
        in_plane=in_plane,
        kx=kx,
        ky=ky,
        nearby=nearby,
        flow=flow,
        axial_excess=(normal.mean(axis=0) - flow * induced) / square,
        swirl_excess=(tangential.mean(axis=0) - flow * swirl) / square,
    )


def first_state(turn: Turn, induced: FloatArray, swirl: FloatArray) -> State:
    """A state to start from, its slopes by small differences."""
    here, step = loads_at(turn, induced, swirl), PROBE * turn.speed
    by_v, by_u = loads_at(turn, induced + step, swirl), loads_at(turn, induced, swirl + step)
    a, b = (by.axial_excess - here.axial_excess for by in (by_v, by_u))
    c, d = (by.swirl_excess - here.swirl_excess for by in (by_v, by_u))
    determinant = a * d - b * c
    # where the excesses hardly change, as at rest, any small step will do
    safe = np.where(np.abs(determinant) > TINY, determinant, 1.0)
    return State(induced, swirl, (step * d / safe, -step * b / safe, -step * c / safe, step * a / safe))


def approached(turn: Turn, start: State, tolerance: float = TOLERANCE, steps: int = MOST_STEPS) -> Settled:
    """State near `start` in which the annuli balance; Broyden's method with bounded steps.

    Arguments: tolerance - of the excesses; steps - after so many the outcome is the last one tried.
    Source: Broyden, Mathematics of Computation 19 (1965) 577.
    """
    v, u = start.induced, start.swirl
    va, vs, ua, us = start.slopes
    longest = LONGEST_STEP * turn.speed
    loads = loads_at(turn, v, u)
    for _ in range(steps):
        open_ = loads.worst > tolerance
        if not open_.any():
            break
        axial, swirl = loads.axial_excess, loads.swirl_excess
        dv, du = -(va * axial + vs * swirl), -(ua * axial + us * swirl)
        shrink = open_ / np.maximum(1.0, np.maximum(np.abs(dv), np.abs(du)) / longest)
        dv, du = dv * shrink, du * shrink
        v, u = v + dv, u + du
        turn = replace(turn, section=loads.nearby)
        loads = loads_at(turn, v, u)
        da, ds = loads.axial_excess - axial, loads.swirl_excess - swirl
        gain_v, gain_u = va * da + vs * ds, ua * da + us * ds  # the step that would have been expected
        scale = dv * gain_v + du * gain_u
        usable = open_ & (np.abs(scale) > SMALLEST_GAIN * (dv * dv + du * du))
        scale = np.where(usable, scale, np.inf)
        miss_v, miss_u = (dv - gain_v) / scale, (du - gain_u) / scale
        row_a, row_s = dv * va + du * ua, dv * vs + du * us
        va, vs = va + miss_v * row_a, vs + miss_v * row_s
        ua, us = ua + miss_u * row_a, us + miss_u * row_s
    return State(v, u, (va, vs, ua, us)), loads


def balanced(turn: Turn, start: State) -> tuple[State, Loads, BoolArray]:
    """State near `start` in which all annuli [...] balance, its loads, and where that could not be had.

    A few steps of all annuli together; then those that are left alone, the uneven inflow held as it
    is; then those that still are left the slow way.
    """
    state, loads = approached(turn, start, steps=STEPS_TOGETHER)
    shape = loads.axial_excess.shape
    worst = loads.worst.ravel()
    for steps in (MOST_STEPS, 0):
        lost = np.flatnonzero(worst > TOLERANCE)
        if lost.size == 0:
            break
        few = _subset(turn, lost, shape, (loads.kx, loads.ky))
        begin = State(
            state.induced.ravel()[lost],
            state.swirl.ravel()[lost],
            tuple(slope.ravel()[lost] for slope in state.slopes),
        )
        found = approached(few, begin, steps=steps) if steps else bracketed(few, begin)
        state, loads = _replaced(state, loads, lost, *found)
        worst = loads.worst.ravel()
    return state, loads, (worst > TOLERANCE).reshape(shape)


def bracketed(turn: Turn, start: State) -> Settled:
    """State in which the annuli [N] balance, the slow way: v bracketed, then u carried over, and again.

    For a given u there always is a v, as drag and momentum pull back from far away to either side.
    An annulus that does not balance even so, and has run away to more than the stream's speed, is taken
    without induction.
    """
    v, u = start.induced, start.swirl
    wide, every = WIDE * turn.speed, np.arange(v.size)
    relax, before = np.ones(v.size), np.zeros(v.size)
    for _ in range(ROUNDS):

        def excess(induced: FloatArray, which: IntArray, swirl: FloatArray = u) -> FloatArray:
            part = turn if which.size == every.size else _subset(turn, which, every.shape, None)
            return loads_at(part, induced, swirl[which]).axial_excess

        ends = excess(-wide, every), excess(wide, every)
        v = bracketed_root(excess, -wide, wide, *ends, tolerance=0.1 * TOLERANCE)
        loads = loads_at(turn, v, u)
        if np.all(loads.worst <= TOLERANCE):
            break
        # the swirl that these loads would give, approached more carefully whenever it swings
        move = loads.swirl_excess * turn.speed**2 / np.maximum(loads.flow, TINY)
        relax = np.where(move * before < 0.0, 0.5 * relax, relax)
        before = move
        u = u + np.clip(relax * move, -LONGEST_STEP * turn.speed, LONGEST_STEP * turn.speed)
    worst = loads_at(turn, v, u).worst
    kept = (worst <= TOLERANCE) | (np.maximum(np.abs(v), np.abs(u)) <= turn.speed)
    v, u = kept * v, kept * u
    return replace(start, induced=v, swirl=u), loads_at(turn, v, u)


def _replaced(state: State, loads: Loads, lost: IntArray, few: State, theirs: Loads) -> Settled:
    """The whole with some annuli, counted along the flattened shape, put in their place."""

    def whole(values: FloatArray, part: FloatArray) -> FloatArray:
        shape = values.shape
        lead = values.ndim - state.induced.ndim  # the axis of azimuths, if there is one
        flat = values.reshape(*shape[:lead], -1).copy()
        flat[..., lost] = part
        return flat.reshape(shape)

    slopes = tuple(whole(mine, other) for mine, other in zip(state.slopes, few.slopes, strict=True))
    names = ("normal", "tangential", "alpha", "in_plane", "flow", "axial_excess", "swirl_excess")
    parts: dict[str, Any] = {name: whole(getattr(loads, name), getattr(theirs, name)) for name in names}
    return (
        State(whole(state.induced, few.induced), whole(state.swirl, few.swirl), slopes),
        replace(loads, **parts),
    )


def _subset(turn: Turn, index: IntArray, shape: tuple[int, ...], slopes: Slopes | None) -> Turn:
    """Some annuli, counted along the flattened shape, with the slopes of the inflow held as given.

    Without slopes given they are held already.
    """
    count, total = turn.cosine.shape[0], int(np.prod(shape))

    def flat(values: FloatArray) -> FloatArray:
        return np.broadcast_to(values, shape).ravel()[index]

    kx, ky = turn.skew(turn.axial, turn.axial) if slopes is None else slopes
    held = flat(kx), flat(ky)
    names = ("solidity", "twist", "tip", "hub", "x", "blade_speed", "axial", "edge")
    return Turn(
        **{name: flat(getattr(turn, name)) for name in names},
        cosine=turn.cosine.reshape(count, 1),
        sine=turn.sine.reshape(count, 1),
        section=turn.section.subset(total * np.arange(count)[:, np.newaxis] + index),
        skew=lambda induced, loss: held,
    )
