"""Shear, tension and bending of a screw acting together: named interaction criteria.

A criterion is data. Every one is asked the same way, with three ratios of load to allowable (factors
already in the load): shear Ps/Psa of one plane, tension Pt/Pta, and bending fb/Fb. Its value
reaches 1 where the screw fails, so that `load_multiplier` answers by how much all loads may grow.

The exponents of NASA-STD-5020B differ between a shank and threads in the shear plane, and the older
NASA forms and the ellipse differ again: a criterion must be taken for the plane at hand, see
`criteria_for`.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, real

Plane = Literal["shank", "thread"]
Level = Literal["yield", "ultimate"]

_NEWTON_STEPS = 8  # from x = 1 the root is at or above 1/3; the sixth step is at rounding


@dataclass(frozen=True)
class Criterion:
    """One interaction form, S^a + (T + B/K)^b <= 1, or S^a + T^b + B <= 1 with bending apart.

    Arguments: name - key in `CRITERIA`; shear_exponent, tension_exponent - a and b, both at least 1;
    bending_apart - True where bending has its own linear term (its allowable is then the plastic one);
    planes - what may lie in the shear plane; levels - where it applies; counts_preload - True where the
    tension ratio holds the preload; applies - what to put in; source; bending_factor - K, what
    the bending ratio is divided by before it joins tension.
    """

    name: str
    shear_exponent: float
    tension_exponent: float
    bending_apart: bool
    planes: tuple[Plane, ...]
    levels: tuple[Level, ...]
    counts_preload: bool
    applies: str
    source: str
    bending_factor: float = 1.0


_LIST = (
    Criterion(
        "5020b-shank",
        2.5,
        1.5,
        False,
        ("shank",),
        ("ultimate",),
        False,
        "full shank in the shear plane, bending elastic: fbu over Ftu; preload left out",
        "NASA-STD-5020B (2021) eq. 20",
    ),
    Criterion(
        "5020b-shank-plastic",
        2.5,
        1.5,
        True,
        ("shank",),
        ("ultimate",),
        False,
        "full shank in the shear plane, bending plastic: fbu over the plastic strength Fbu; preload left out",
        "NASA-STD-5020B (2021) eq. 21",
    ),
    Criterion(
        "5020b-thread",
        1.2,
        2.0,
        False,
        ("thread",),
        ("ultimate",),
        False,
        "threads in the shear plane, bending elastic: fbu over Ftu; preload left out",
        "NASA-STD-5020B (2021) eq. 22",
    ),
    Criterion(
        "5020b-thread-plastic",
        1.2,
        2.0,
        True,
        ("thread",),
        ("ultimate",),
        False,
        "threads in the shear plane, bending plastic: fbu over the plastic strength Fbu; preload left out",
        "NASA-STD-5020B (2021) eq. 23",
    ),
    Criterion(
        "5020b-theory",
        2.0,
        2.0,
        False,
        ("shank", "thread"),
        ("ultimate",),
        False,
        "theoretical ellipse; bending joins tension because both are direct stresses",
        "NASA-STD-5020B (2021) eq. 69",
    ),
    Criterion(
        "tm106943",
        3.0,
        2.0,
        False,
        ("shank", "thread"),
        ("yield", "ultimate"),
        True,
        "older NASA form; tension is the screw force with preload; bending 0 gives eq. 56",
        "NASA-TM-106943 (1995) eq. 56, 60",
    ),
    Criterion(
        "nsts08307",
        3.0,
        2.0,
        False,
        ("shank", "thread"),
        ("yield", "ultimate"),
        True,
        "to hold at least and at greatest preload; K = 1 at least preload, at greatest a plastic "
        "bending factor set by dataclasses.replace(criterion, bending_factor=K)",
        "NSTS 08307 Rev. A (1998) 3.7-3.8",
    ),
    Criterion(
        "nsts08307-plastic",
        3.0,
        2.0,
        True,
        ("shank", "thread"),
        ("ultimate",),
        True,
        "plastic bending, ratio of moment to the plastic moment",
        "NSTS 08307 Rev. A (1998) 3.8",
    ),
    Criterion(
        "extreme-fibre",
        2.0,
        2.0,
        False,
        ("shank", "thread"),
        ("yield",),
        True,
        "first yield by von Mises at the extreme fibre: tension and bending over Fty, shear over "
        "Fty/sqrt(3); mean shear is put at the extreme fibre, which is on the safe side",
        "von Mises yield; as `equivalent_stress`",
    ),
)

CRITERIA: MappingProxyType[str, Criterion] = MappingProxyType({c.name: c for c in _LIST})
"""All criteria by name."""


def criteria_for(plane: Plane, level: Level) -> tuple[Criterion, ...]:
    """Criteria that apply to a shear plane through a shank or a thread, at yield or ultimate.

    >>> [c.name for c in criteria_for("thread", "ultimate") if c.name.startswith("5020b")]
    ['5020b-thread', '5020b-thread-plastic', '5020b-theory']

    Arguments:
        plane: "shank" or "thread"; level: "yield" or "ultimate".
    Returns: criteria, those of the newest standard first.
    Source: of each criterion.
    """
    return tuple(c for c in _LIST if plane in c.planes and level in c.levels)


def interaction(
    criterion: Criterion, shear: ArrayLike, tension: ArrayLike, bending: ArrayLike = 0.0
) -> Floats:
    """Left-hand side of the criterion; the screw holds where it is at most 1.

    S^a + (T + B/K)^b, or S^a + T^b + B with bending apart.

    Arguments (broadcast together):
        criterion: one of `CRITERIA`; shear, tension, bending: load over allowable, not negative [-].
    Returns: value [-]. It is not a share of strength used unless a = b = 1; see `load_multiplier`.
    Errors: ValueError when a ratio is negative or not finite.
    Source: of the criterion.
    """
    shear, direct, apart = _terms(criterion, shear, tension, bending)
    return shear**criterion.shear_exponent + direct**criterion.tension_exponent + apart


def load_multiplier(
    criterion: Criterion, shear: ArrayLike, tension: ArrayLike, bending: ArrayLike = 0.0
) -> Floats:
    """Factor lambda by which all three ratios may be multiplied until the criterion reaches 1.

    Where both exponents are equal and bending joins tension, lambda = value^(-1/a). Otherwise, with x the
    multiplier over that of the largest ratio alone, f(x) = (s x)^a + (t x)^b + b x - 1 rises and is convex,
    f(1) >= 0 and f(1/3) <= 0; Newton's steps from x = 1 therefore fall onto the root and never
    pass it. Where the tension ratio holds preload, preload is scaled too: right about which side of 1
    it lies on, but not the external load's own multiplier.

    >>> print(f"{load_multiplier(CRITERIA['5020b-shank'], 0.5, 0.0):.3f}")
    2.000

    Arguments (broadcast together):
        criterion: one of `CRITERIA`; shear, tension, bending: load over allowable, not negative [-].
    Returns: lambda [-], infinite where all ratios are zero; margin of safety is lambda - 1.
    Errors: ValueError when a ratio is negative or not finite.
    Source: derived from the criterion.
    """
    shear, direct, apart = _terms(criterion, shear, tension, bending)
    a, b = criterion.shear_exponent, criterion.tension_exponent
    largest = np.maximum(np.maximum(shear, direct), apart)
    loaded = largest > 0
    scale = np.where(loaded, largest, 1.0)
    shear_term, direct_term, apart_term = (shear / scale) ** a, (direct / scale) ** b, apart / scale
    if a == b and not criterion.bending_apart:
        x = np.where(loaded, shear_term + direct_term, 1.0) ** (-1.0 / a)
        return np.where(loaded, x / scale, np.inf)
    x = np.ones_like(scale)
    for _ in range(_NEWTON_STEPS):
        rise_s, rise_t = shear_term * x ** (a - 1.0), direct_term * x ** (b - 1.0)
        value = (rise_s + rise_t + apart_term) * x - 1.0
        slope = a * rise_s + b * rise_t + apart_term
        x = np.where(loaded, x - value / np.where(loaded, slope, 1.0), 1.0)
    return np.where(loaded, x / scale, np.inf)


def margin_tm106943(shear: ArrayLike, tension: ArrayLike, bending: ArrayLike = 0.0) -> Floats:
    """Margin of safety as NASA-TM-106943 prints it, 1/sqrt((Rt + Rb)^2 + Rs^3) - 1.

    Not the multiplier of the loads less one: with shear leading and the criterion met it promises
    more than the criterion itself allows (shear ratio 0.5 alone: 1.83 instead of 1.00). The source
    warns of it. `load_multiplier` is what verdicts use.

    Arguments (broadcast together):
        shear, tension, bending: load over allowable, not negative [-].
    Returns: margin [-], infinite where all ratios are zero.
    Errors: ValueError when a ratio is negative or not finite.
    Source: NASA-TM-106943 (1995) eq. 59, 62.
    """
    with np.errstate(divide="ignore"):
        return 1.0 / np.sqrt(interaction(CRITERIA["tm106943"], shear, tension, bending)) - 1.0


def equivalent_stress(
    tension_stress: ArrayLike, bending_stress: ArrayLike, shear_stress: ArrayLike
) -> Floats:
    """Von Mises stress at the extreme fibre of a screw, sqrt((st + sb)^2 + 3 tau^2).

    Arguments (broadcast together):
        tension_stress: st, preload included [Pa]; bending_stress: sb [Pa]; shear_stress: mean shear in the
        plane, or torsion shear at the fibre [Pa].
    Returns: equivalent stress, to be at most Fty [Pa].
    Errors: ValueError when a stress is not finite.
    Source: von Mises yield criterion.
    """
    direct = real("tension stress", tension_stress) + real("bending stress", bending_stress)
    return np.sqrt(direct**2 + 3.0 * real("shear stress", shear_stress) ** 2)


def _terms(
    criterion: Criterion, shear: ArrayLike, tension: ArrayLike, bending: ArrayLike
) -> tuple[Floats, Floats, Floats]:
    """Shear, tension (with bending where it joins) and bending apart, broadcast to one shape."""
    shear = at_least_zero("shear ratio", shear)
    tension = at_least_zero("tension ratio", tension)
    bending = at_least_zero("bending ratio", bending)
    if criterion.bending_apart:
        terms = np.broadcast_arrays(shear, tension, bending)
    else:
        terms = np.broadcast_arrays(shear, tension + bending / criterion.bending_factor, np.zeros(()))
    return terms[0], terms[1], terms[2]
