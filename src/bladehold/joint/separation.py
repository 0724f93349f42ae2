"""A preloaded joint under external load: load in the screw, separation, rupture, slip.

phi is the stiffness share of `stiffness.load_factor`, n the loading-plane factor; n phi is the share of
an external tension that reaches the screw while the joint is closed.
"""

from __future__ import annotations

from types import MappingProxyType
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint._arrays import Floats, at_least_zero, positive, real

Surface = Literal["bare metal", "coated or non-metallic", "tested"]

FRICTION_CAPS: MappingProxyType[str, float] = MappingProxyType(
    {"bare metal": 0.20, "coated or non-metallic": 0.10}
)
"""Greatest friction that may be counted on without a test: clean bare metal on metal, and anything coated,
lubricated or non-metallic, carbon laminate included (NASA-STD-5020B (2021) TFSR 13-14)."""


def bolt_load(
    preload: ArrayLike, tension: ArrayLike, load_factor: ArrayLike, loading_plane_factor: ArrayLike = 1.0
) -> Floats:
    """Load in the screw: P + n phi F while the joint is closed, F once it has opened.

    Arguments (broadcast together):
        preload: P [N]; tension: external F [N]; load_factor: phi [-]; loading_plane_factor: n [-].
    Returns: screw load [N].
    Errors: ValueError when preload or tension is negative or n phi not within 0 to 1.
    Range: concentric joint, no prying.
    Source: NASA-STD-5020B (2021) eq. 8.
    """
    closed = at_least_zero("preload", preload) + _share(load_factor, loading_plane_factor) * real(
        "tension", tension
    )
    return np.maximum(closed, at_least_zero("tension", tension))


def separation_load(
    preload: ArrayLike, load_factor: ArrayLike, loading_plane_factor: ArrayLike = 1.0
) -> Floats:
    """External tension that opens the joint, P'sep = P / (1 - n phi).

    >>> print(f"{separation_load(2090.0, 0.314, 0.5):.0f}")
    2479

    Arguments (broadcast together):
        preload: P [N]; the least for a separation check, the greatest in a rupture check;
        load_factor: phi [-]; loading_plane_factor: n [-].
    Returns: tension [N], infinite where n phi = 1.
    Errors: ValueError when preload is negative or n phi not within 0 to 1.
    Source: NASA-STD-5020B (2021) eq. 11.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        load = at_least_zero("preload", preload) / (1.0 - _share(load_factor, loading_plane_factor))
    return np.where(np.isnan(load), 0.0, load)


def tension_to_bolt_load(
    bolt_capacity: ArrayLike,
    preload: ArrayLike,
    load_factor: ArrayLike,
    loading_plane_factor: ArrayLike = 1.0,
) -> Floats:
    """External tension at which the screw of a closed joint reaches a load, (Pallow - P) / (n phi).

    With the rupture load and the greatest preload this is P'tu; with the proof load, over the
    external load, it is Shigley's load factor.

    Arguments (broadcast together):
        bolt_capacity: Pallow of the screw [N]; preload: P [N]; load_factor: phi [-];
        loading_plane_factor: n [-].
    Returns: tension [N], infinite where n phi = 0, negative where preload alone exceeds the capacity.
    Errors: ValueError when capacity or preload is negative or n phi not within 0 to 1.
    Source: NASA-STD-5020B (2021) eq. 10.
    """
    spare = at_least_zero("bolt capacity", bolt_capacity) - at_least_zero("preload", preload)
    share = _share(load_factor, loading_plane_factor)
    with np.errstate(divide="ignore", invalid="ignore"):
        tension = spare / share
    return np.where(share > 0, tension, np.where(spare >= 0, np.inf, -np.inf))


def ruptures_before_separation(
    bolt_capacity: ArrayLike,
    maximum_preload: ArrayLike,
    load_factor: ArrayLike,
    loading_plane_factor: ArrayLike = 1.0,
) -> NDArray[np.bool_]:
    """Whether the screw breaks while the joint is still closed, so that preload counts at ultimate.

    P'tu < P'sep, both at the greatest preload.

    Arguments (broadcast together):
        bolt_capacity: Ptu,allow [N]; maximum_preload: Pp,max [N]; load_factor: phi [-];
        loading_plane_factor: n [-].
    Returns: True where rupture comes first.
    Errors: as `separation_load` and `tension_to_bolt_load`.
    Source: NASA-STD-5020B (2021) eq. 10-11.
    """
    rupture = tension_to_bolt_load(bolt_capacity, maximum_preload, load_factor, loading_plane_factor)
    return rupture < separation_load(maximum_preload, load_factor, loading_plane_factor)


def separation_margin(
    minimum_preload: ArrayLike,
    tension: ArrayLike,
    separation_factor: ArrayLike,
    fitting_factor: ArrayLike = 1.0,
) -> Floats:
    """Margin against opening of the joint, MS = Pmin / (FF FSsep Pt) - 1.

    NASA-TM-106943 takes (1 - n phi) Pt for the tension; pass that to follow it.

    Arguments (broadcast together):
        minimum_preload: Pmin [N]; tension: limit tension Pt of the screw [N];
        separation_factor: FSsep [-]; fitting_factor: FF [-].
    Returns: margin [-], infinite without tension.
    Errors: ValueError when a load is negative or a factor not positive.
    Source: NASA-STD-5020B (2021) eq. 19.
    """
    factor = positive("separation factor", separation_factor) * positive("fitting factor", fitting_factor)
    return _margin(
        at_least_zero("least preload", minimum_preload), factor * at_least_zero("tension", tension)
    )


def allowed_friction(friction: ArrayLike, surface: Surface) -> Floats:
    """Friction coefficient as given, refused where it exceeds what an untested surface may claim.

    Arguments:
        friction: mu [-], any shape; surface: "bare metal" (clean), "coated or non-metallic" (lubricated
        too) or "tested".
    Returns: mu [-].
    Errors: ValueError above the cap of `FRICTION_CAPS`, for a negative mu or an unknown surface.
    Source: NASA-STD-5020B (2021) TFSR 13-14.
    """
    mu = at_least_zero("friction", friction)
    if surface == "tested":
        return mu
    if surface not in FRICTION_CAPS:
        raise ValueError(f"surface must be one of {', '.join(FRICTION_CAPS)}, tested; got {surface!r}")
    cap = FRICTION_CAPS[surface]
    if np.any(mu > cap):
        raise ValueError(
            f"friction {np.max(mu):g} is above {cap:g}, the most for a {surface} surface without a test"
        )
    return mu


def slip_margin(
    minimum_preload: ArrayLike,
    shear: ArrayLike,
    tension: ArrayLike,
    friction: ArrayLike,
    factor: ArrayLike,
    *,
    level: Literal["limit", "yield"],
    surface: Surface,
    bolts: ArrayLike = 1,
) -> Floats:
    """Margin against slip of a clamped joint, MS = mu nf Pmin / (FS (Ps + mu Pt)) - 1.

    Friction may be counted on at limit and yield loads, never at ultimate.

    Arguments (broadcast together):
        minimum_preload: Pmin of one screw [N]; shear, tension: Ps, Pt of the joint, limit loads [N];
        friction: mu [-]; factor: FS [-]; level: "limit" or "yield"; surface: see `allowed_friction`;
        bolts: nf screws [-].
    Returns: margin [-], infinite without load.
    Errors: ValueError for the ultimate level, friction above its cap, a negative load or a factor
        that is not positive.
    Source: NASA-STD-5020B (2021) eq. 84, TFSR 13-14.
    """
    if level not in ("limit", "yield"):
        raise ValueError(f"friction counts at limit or yield only, never at {level}")
    mu = allowed_friction(friction, surface)
    grip = mu * positive("number of screws", bolts) * at_least_zero("least preload", minimum_preload)
    demand = at_least_zero("shear", shear) + mu * at_least_zero("tension", tension)
    return _margin(grip, positive("factor", factor) * demand)


def _share(load_factor: ArrayLike, loading_plane_factor: ArrayLike) -> Floats:
    """Product n phi, each within 0 to 1."""
    phi, n = (
        at_least_zero("load factor", load_factor),
        at_least_zero("loading-plane factor", loading_plane_factor),
    )
    at_least_zero("1 - load factor", 1.0 - phi)
    at_least_zero("1 - loading-plane factor", 1.0 - n)
    return phi * n


def _margin(capacity: Floats, demand: Floats) -> Floats:
    """Capacity / demand - 1, infinite where nothing is demanded."""
    capacity, demand = np.broadcast_arrays(capacity, demand)
    loaded = demand > 0
    return np.where(loaded, capacity / np.where(loaded, demand, 1.0) - 1.0, np.inf)
