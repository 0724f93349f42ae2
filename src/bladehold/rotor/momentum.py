"""Blade-element momentum theory of a rotor in axial flow: climb, hover, descent, windmill.

A blade element at radius r moves at U = sqrt(V^2 + (Omega r)^2), at the angle
beta = atan(V / (Omega r)) to the plane of turning. Induction turns this stream by
delta, to the inflow angle phi = beta + delta, and slows it to W. Momentum through the
annulus, with loss factor F and solidity sigma = B c / (2 pi r), says

    axial       W sin(phi) - V       = W sigma cn / (4 F |sin phi|)
    swirl       Omega r - W cos(phi) = W sigma ct / (4 F |sin phi|)

with cn = cl cos(phi) - cd sin(phi) and ct = cl sin(phi) + cd cos(phi). Projected across
and along the undisturbed stream, these become

    (4 F |sin phi| + sigma cd) sin(delta) = sigma cl cos(delta)          one unknown, delta
    W = U cos(delta) 4 F |sin phi| / (4 F |sin phi| + sigma cd)

Nothing is divided by V, Omega, F or sin(phi), so hover, tip and hub are ordinary
points. At delta = 0 the residual is sigma cl(theta - beta); at the far end it has the
other sign whenever an ordinary rotor state exists, which gives the bracket.

Sources: annulus momentum with swirl and drag, Glauert, Airplane Propellers, in Durand,
Aerodynamic Theory IV (1935); one unknown angle with a guaranteed bracket, Ning, Wind
Energy 17 (2014) 1327. The turning delta as the unknown, and the choice among several
roots, are our own.

In descent, where momentum theory ends, M / W of `bladehold.rotor.wake.through_flow` stands for
|sin phi|. Wind E across the axis enters it too; the blades' own changing speed round the turn does
not, so that with wind the outcome is a first guess for `bladehold.rotor.azimuth`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.rotor.bracket import bracketed_root
from bladehold.rotor.slices import PolarSlice
from bladehold.rotor.wake import through_flow

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
IntArray = NDArray[np.intp]

ANGLE_TOLERANCE = 1e-8  # rad, and of the residual; loads then hold to about 1e-6
SCAN = np.array([0.06, 0.2, 0.5, 1.0])  # shares of the range of delta, closer near zero
NEAR = np.array([0.99, 1.01])  # shares of a neighbouring solution tried first
SLOWING_TOLERANCE = 1e-13
LEAST_STREAM = 1e-9  # V in units of U: slower, it is hover
LITTLE_WIND = 0.01  # E in units of U: more, and a first guess may leave drag out of M
TINY = 1e-30


@dataclass(frozen=True)
class LossModel:
    """Which of Prandtl's loss factors act: at the tip, at the hub."""

    tip: bool = True
    hub: bool = True


@dataclass(frozen=True, eq=False)
class Elements:
    """Blade elements [N] in the undisturbed stream.

    solidity - sigma; twist - theta, rad; beta - angle of the stream to the plane of turning, rad;
    sine, cosine - of beta; tip, hub - B (R - r) / (2 r) and B (r - R_hub) / (2 R_hub), infinite
    where no loss acts; section - lift and drag coefficients at alpha; edge - wind across the axis in
    units of U, None without.
    """

    solidity: FloatArray
    twist: FloatArray
    beta: FloatArray
    sine: FloatArray
    cosine: FloatArray
    tip: FloatArray
    hub: FloatArray
    section: PolarSlice
    edge: FloatArray | None = None

    def subset(self, index: IntArray) -> Elements:
        """Some of the elements."""
        return Elements(
            self.solidity[index],
            self.twist[index],
            self.beta[index],
            self.sine[index],
            self.cosine[index],
            self.tip[index],
            self.hub[index],
            self.section.subset(index),
            None if self.edge is None else self.edge[index],
        )


@dataclass(frozen=True, eq=False)
class Balance:
    """Momentum balance at a turning delta: the residual and its parts, all of delta's shape.

    residual - sigma cl cos(delta) - (4 F M/W + sigma cd) sin(delta); lift, drag - sigma cl, sigma cd;
    flow - 4 F M/W; slowing - W / U.
    """

    residual: FloatArray
    lift: FloatArray
    drag: FloatArray
    flow: FloatArray
    slowing: FloatArray


def prandtl_loss(sine: FloatArray, tip: FloatArray, hub: FloatArray) -> FloatArray:
    """Prandtl's loss factor: F = (2/pi)^2 acos(exp(-tip/|sin phi|)) acos(exp(-hub/|sin phi|)).

    The share of the mean induction that the air between the blades takes part in.
    Arguments: sine - |sin phi|, any shape; tip - B (R - r) / (2 r); hub - B (r - R_hub) / (2 R_hub);
    both broadcast with sine; infinity switches a loss off.
    Source: Glauert, Airplane Propellers, in Durand, Aerodynamic Theory IV (1935), division L; hub form
    as in Moriarty and Hansen, AeroDyn Theory Manual, NREL/TP-500-36881 (2005).

    >>> round(float(prandtl_loss(np.array(0.1), np.array(0.05), np.array(np.inf))), 4)
    0.5851
    """
    safe = np.maximum(sine, TINY)
    product = np.arccos(np.exp(-tip / safe)) * np.arccos(np.exp(-hub / safe))
    return np.asarray((2.0 / np.pi) ** 2 * product, dtype=float)


def balance(elements: Elements, delta: FloatArray) -> Balance:
    """Momentum balance of the elements at a turning delta (rad), [..., N]; see the head of this page."""
    sine_delta, cosine_delta = np.sin(delta), np.cos(delta)
    sine_phi = elements.sine * cosine_delta + elements.cosine * sine_delta
    sine = np.abs(sine_phi)
    loss = 4.0 * prandtl_loss(sine, elements.tip, elements.hub)
    cl, cd = elements.section(elements.twist - elements.beta - delta)
    lift, drag = elements.solidity * cl, elements.solidity * cd
    if elements.edge is None:
        flow = loss * sine
    else:
        through = through_flow(cosine_delta * sine_phi - elements.sine, elements.sine, elements.edge)
        flow = loss * through / np.maximum(cosine_delta, TINY)
    slowed = cosine_delta * flow / np.maximum(flow + drag, TINY)
    opposed = (slowed * sine_phi - elements.sine) * elements.sine < 0.0
    opposed &= np.abs(elements.sine) > LEAST_STREAM
    if elements.edge is not None:
        opposed &= elements.edge < LITTLE_WIND
    if opposed.any():
        edge = 0.0 if elements.edge is None else elements.edge
        straight = np.maximum(cosine_delta, TINY)
        marked = (
            np.broadcast_to(values, flow.shape)[opposed]
            for values in (elements.sine, sine_phi, straight, loss, drag, edge)
        )
        flow[opposed] = _flow_against_stream(*marked)
    return Balance(
        residual=lift * cosine_delta - (flow + drag) * sine_delta,
        lift=lift,
        drag=drag,
        flow=flow,
        slowing=cosine_delta * flow / np.maximum(flow + drag, TINY),
    )


def _flow_against_stream(
    sine_beta: FloatArray,
    sine_phi: FloatArray,
    cosine_delta: FloatArray,
    loss: FloatArray,
    drag: FloatArray,
    edge: FloatArray,
) -> FloatArray:
    """4 F M/W where v opposes V, [N]; loss - 4 F, drag - sigma cd, edge - E/U.

    M follows from V and v, and v from W, which drag slows: W/U = cos(delta) flow / (flow + sigma cd) is
    solved between none and the value without drag.
    """

    def flow(slowing: FloatArray, which: IntArray) -> FloatArray:
        induced = slowing * sine_phi[which] - sine_beta[which]
        through = through_flow(induced, sine_beta[which], edge[which])
        return np.asarray(loss[which] * through / np.maximum(slowing, TINY))

    def excess(slowing: FloatArray, which: IntArray) -> FloatArray:
        through = flow(slowing, which)
        slowed = cosine_delta[which] * through / np.maximum(through + drag[which], TINY)
        return np.asarray(slowed - slowing)

    every, none = np.arange(loss.size), np.zeros(loss.shape)
    ends = excess(none, every), excess(cosine_delta, every)
    return flow(bracketed_root(excess, none, cosine_delta, *ends, tolerance=SLOWING_TOLERANCE), every)


def turning(elements: Elements, near: FloatArray | None = None) -> tuple[FloatArray, BoolArray]:
    """The turning delta (rad) [N] of the stream at every element, and where there is none [N].

    Arguments: elements - N of them; near - [N], the turning of a similar rotor state, which is
    followed where it brackets a root.
    """
    if near is None:
        return _turning_in(elements, *_widest_bracket(elements))
    low, high = NEAR[0] * near, NEAR[1] * near
    signs = np.where(near >= 0.0, 1.0, -1.0)
    at_low, at_high = (signs * balance(elements, delta).residual for delta in (low, high))
    lost = np.flatnonzero(~((at_low >= 0.0) & (at_high < 0.0)))
    if lost.size:
        found = _widest_bracket(elements.subset(lost))
        for mine, theirs in zip((low, high, at_low, at_high, signs), found, strict=True):
            mine[lost] = theirs
    return _turning_in(elements, low, high, at_low, at_high, signs)


def _turning_in(
    elements: Elements,
    low: FloatArray,
    high: FloatArray,
    at_low: FloatArray,
    at_high: FloatArray,
    sign: FloatArray,
) -> tuple[FloatArray, BoolArray]:
    """The turning between low and high, where sign times the residual has the values given."""
    unbracketed = ~((at_low >= 0.0) & (at_high < 0.0))

    def residual(delta: FloatArray, which: IntArray) -> FloatArray:
        some = elements if which.size == low.size else elements.subset(which)
        return sign[which] * balance(some, delta).residual

    delta = bracketed_root(residual, low, high, at_low, at_high, tolerance=ANGLE_TOLERANCE)
    return np.where(unbracketed, 0.0, delta), unbracketed


def _widest_bracket(elements: Elements) -> tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]:
    """Bracket of the turning from a scan: low, high, the residuals there times a sign, and the sign.

    Where lift acts with the thrust (sign +1) the last change of sign is taken, the least stalled
    state; where it acts against it the first, the one connected with no load. The far end is where
    the air would pass straight along the axis or, in a stream that is braked, stand still at the blade.
    """
    lift = elements.solidity * elements.section(elements.twist - elements.beta)[0]
    forward = lift >= 0.0
    sign = np.where(forward, 1.0, -1.0)
    past = np.where(forward, np.maximum(elements.beta, 0.0), np.minimum(elements.beta, 0.0))
    reach = sign * 0.5 * np.pi - past
    nodes = np.concatenate([[0.0], SCAN])[:, np.newaxis] * reach
    values = np.concatenate([np.abs(lift)[np.newaxis], sign * balance(elements, nodes[1:]).residual])
    crossing = (values[:-1] >= 0.0) & (values[1:] < 0.0)
    first, last = np.argmax(crossing, axis=0), SCAN.size - 1 - np.argmax(crossing[::-1], axis=0)
    interval, column = np.where(forward, last, first), np.arange(lift.size)
    return (
        nodes[interval, column],
        nodes[interval + 1, column],
        values[interval, column],
        values[interval + 1, column],
        sign,
    )
