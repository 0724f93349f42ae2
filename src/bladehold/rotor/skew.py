"""How unevenly a rotor's wake draws the air through its disc when wind blows across the axis.

The wake trails away at the angle chi from the axis, and the induced velocity is taken linear over
the disc, v(r, psi) = v0(r) (1 + kx (r/R) cos(psi) + ky (r/R) sin(psi)), psi being zero where the blade
points down the wind and growing with the turning. The five laws below give kx and ky. They are set
beside each other in Chen, NASA TM-102219 (1989), and in Leishman, Principles of Helicopter
Aerodynamics (2000), chapter 3.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]
Slopes = tuple[FloatArray, FloatArray]

SMALLEST = 1e-12  # of sin(chi), below which there is no skew


@dataclass(frozen=True)
class SkewModel:
    """One law of uneven inflow: its name, and the slopes (kx, ky) it gives for chi (rad) and mu."""

    name: str
    slopes: Callable[[ArrayLike, ArrayLike], Slopes]


def wake_skew(edge: ArrayLike, through: ArrayLike) -> FloatArray:
    """Angle (rad) of the wake to the axis: chi = atan(E / |V + v|), 0 in axial flow.

    Arguments: edge - E, m/s, wind across the axis; through - V + v, m/s, mean through the disc, either
    sign (a wake blown upwards leans as one blown downwards); both broadcast.
    Source: Coleman, Feingold and Stempin, NACA ARR L5E10 (1945).

    >>> float(np.degrees(wake_skew(5.0, 5.0)).round(6))
    45.0
    """
    return np.asarray(np.arctan2(np.abs(edge), np.abs(through)), dtype=float)


def no_skew(wake_angle: ArrayLike, advance_ratio: ArrayLike) -> Slopes:
    """Even inflow: kx = ky = 0.

    Arguments: wake_angle - chi, to the axis, rad; advance_ratio - mu; both broadcast.
    Source: Glauert, ARC R&M 1111 (1926), without his term in x.
    """
    none = np.zeros(np.broadcast_shapes(np.shape(wake_angle), np.shape(advance_ratio)))
    return none, none


def drees_skew(wake_angle: ArrayLike, advance_ratio: ArrayLike) -> Slopes:
    """kx = 4/3 (1 - cos(chi) - 1.8 mu^2) / sin(chi), ky = -2 mu.

    From the bound and trailing vortices of a blade whose circulation changes round the turn; the only
    one of these laws with a lateral slope.
    Arguments: wake_angle - chi, to the axis, rad; advance_ratio - mu; both broadcast.
    Source: Drees, Journal of the Helicopter Association of Great Britain 3 (1949), as quoted in
    Leishman (2000), chapter 3.

    >>> kx, ky = drees_skew(np.pi / 2, 0.1)
    >>> round(float(kx), 4), round(float(ky), 4)
    (1.3093, -0.2)
    """
    angle, advance = np.broadcast_arrays(
        np.asarray(wake_angle, dtype=float), np.asarray(advance_ratio, dtype=float)
    )
    sine = np.sin(angle)
    slope = 4.0 / 3.0 * (1.0 - np.cos(angle) - 1.8 * advance**2) / np.maximum(sine, SMALLEST)
    return np.where(sine > SMALLEST, slope, 0.0), -2.0 * advance


def coleman_skew(wake_angle: ArrayLike, advance_ratio: ArrayLike) -> Slopes:
    """kx = tan(chi/2), ky = 0: slope at the centre of a skewed vortex cylinder.

    Arguments: wake_angle - chi, to the axis, rad; advance_ratio - without influence; both broadcast.
    Source: Coleman, Feingold and Stempin, NACA ARR L5E10 (1945).

    >>> round(float(coleman_skew(np.pi / 2, 0.1)[0]), 4)
    1.0
    """
    angle = np.tan(0.5 * np.asarray(wake_angle, dtype=float))
    return np.broadcast_to(
        angle, np.broadcast_shapes(np.shape(wake_angle), np.shape(advance_ratio))
    ), no_skew(wake_angle, advance_ratio)[1]


def white_blake_skew(wake_angle: ArrayLike, advance_ratio: ArrayLike) -> Slopes:
    """kx = sqrt(2) sin(chi), ky = 0: fitted to measured moments of rigid rotors.

    Arguments: wake_angle - chi, to the axis, rad; advance_ratio - without influence; both broadcast.
    Source: White and Blake, 35th Annual Forum of the American Helicopter Society (1979), as quoted in
    Leishman (2000), chapter 3.

    >>> round(float(white_blake_skew(np.pi / 2, 0.1)[0]), 4)
    1.4142
    """
    slope = np.sqrt(2.0) * np.sin(np.asarray(wake_angle, dtype=float))
    return np.broadcast_to(
        slope, np.broadcast_shapes(np.shape(wake_angle), np.shape(advance_ratio))
    ), no_skew(wake_angle, advance_ratio)[1]


def pitt_peters_skew(wake_angle: ArrayLike, advance_ratio: ArrayLike) -> Slopes:
    """kx = (15 pi / 32) tan(chi/2), ky = 0: static part of a finite-state inflow, thrust alone acting.

    Follows from the elements 1/2 and (15 pi / 64) tan(chi/2) of the static gain matrix. Quotations with
    23 in place of 32 (Leishman's table among them) give 1.39 times as much.
    Arguments: wake_angle - chi, to the axis, rad; advance_ratio - without influence; both broadcast.
    Source: Pitt and Peters, Vertica 5 (1981) 21.

    >>> round(float(pitt_peters_skew(np.pi / 2, 0.1)[0]), 4)
    1.4726
    """
    kx, ky = coleman_skew(wake_angle, advance_ratio)
    return 15.0 * np.pi / 32.0 * kx, ky


UNIFORM = SkewModel("uniform", no_skew)
DREES = SkewModel("Drees", drees_skew)
COLEMAN = SkewModel("Coleman, Feingold and Stempin", coleman_skew)
WHITE_BLAKE = SkewModel("White and Blake", white_blake_skew)
PITT_PETERS = SkewModel("Pitt and Peters, static", pitt_peters_skew)
SKEW_MODELS = (DREES, COLEMAN, PITT_PETERS, WHITE_BLAKE, UNIFORM)
