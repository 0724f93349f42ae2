"""Load cases of changing rotation speed: throttle steps, braking into a stop, start and stop."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.folding import FoldingBlade
from bladehold.blade.load_case import LoadCase, RootComponents, event_case, sequence
from bladehold.blade.spin_up import stop_moment, swing_root_loads
from bladehold.blade.swing import LagSwing

FloatArray = NDArray[np.float64]


def rotor_acceleration(torque_step: ArrayLike, rotor_inertia: ArrayLike) -> FloatArray:
    """Angular acceleration (rad/s^2) right after a step of the motor torque, dOmega/dt = dQ / J.

    The greatest the step can give: the air's torque rises only afterwards.

    Arguments, broadcasting: torque_step - dQ, N*m; rotor_inertia - J of all that turns, kg m^2.
    Source: rigid-body mechanics.
    """
    return np.asarray(np.asarray(torque_step, dtype=float) / np.asarray(rotor_inertia))


def inertial_lag_moment(blade: FoldingBlade, acceleration: ArrayLike, angle: ArrayLike = 0.0) -> FloatArray:
    """Moment (N*m) of a blade's inertia about the pivot, backward, (I + e S cos(zeta)) dOmega/dt.

    What a clamped root carries; a blade that is free swings instead (`bladehold.blade.swing`).

    Arguments, broadcasting: blade; acceleration - dOmega/dt, rad/s^2; angle - zeta, rad.
    Source: derived at the head of `bladehold.blade.folding`.
    """
    return np.asarray((blade.inertia + blade.coupling * np.cos(angle)) * np.asarray(acceleration))


def inertial_in_plane_force(blade: FoldingBlade, acceleration: ArrayLike) -> FloatArray:
    """Force (N) at the pivot that holds a straight blade back as the rotor speeds up, m (e + x) dOmega/dt.

    An upper bound for a blade that is free to swing.

    Arguments, broadcasting: blade; acceleration - dOmega/dt, rad/s^2. Source: rigid-body mechanics.
    """
    return np.asarray(
        blade.mass * (blade.pivot_radius + blade.balance_point) * np.asarray(acceleration, dtype=float)
    )


def throttle_case(
    blade: FoldingBlade,
    steady: RootComponents,
    speed: ArrayLike,
    accelerating: ArrayLike,
    braking: ArrayLike,
    events: ArrayLike,
    folding: bool,
) -> LoadCase:
    """A throttle step up and one down, as far as inertia in the plane of turning goes.

    Each adds m (e + x) dOmega/dt across the blade and (I + e S) dOmega/dt to the lag moment of a clamped
    blade. The pivot of a folding blade passes on no more than its friction; what its swing and its stops add
    is the affair of `swing_case` and `stop_case`. That loads grow with speed is left to `start_stop_case`.

    Arguments: blade; steady - root loads at the speed, [...]; speed - Omega, rad/s; accelerating, braking -
    dOmega/dt of the steps, both 0 or more, rad/s^2, broadcasting with [...]; events - pairs of steps per
    flight; folding - free to turn about the pivot.
    Source: rigid-body mechanics; steps taken as sudden.
    """

    def stepped(slope: FloatArray) -> RootComponents:
        moment = inertial_lag_moment(blade, slope)
        more = steady.plus(
            RootComponents.of(in_plane_shear=inertial_in_plane_force(blade, slope), lag=moment)
        )
        if not folding:
            return more
        friction = blade.friction_moment(speed)
        return RootComponents.of(**(vars(more) | {"lag": np.clip(more.lag, -friction, friction)}))

    up, down = np.asarray(accelerating, dtype=float), np.asarray(braking, dtype=float)
    grip = "lag moment up to the friction of the pivot" if folding else "root clamped in lag"
    return event_case(
        "throttle step",
        sequence(steady, stepped(up), steady, stepped(-down)),
        events,
        f"rigid blade, sudden steps of dOmega/dt up and down, {grip}",
    )


def swing_case(
    name: str,
    blade: FoldingBlade,
    swing: LagSwing,
    steady: RootComponents,
    steady_speed: ArrayLike,
    events: ArrayLike,
) -> LoadCase:
    """The root loads of a swinging blade, out of the plane of turning those of the steady state.

    Normal shear, flap and feathering moment grow with Omega^2 from the steady state; the rest is that of
    `bladehold.blade.spin_up`, blows on the stops left out (`stop_case`).

    Arguments: name; blade; swing - the motion; steady - root loads [...] at steady_speed - rad/s; events -
    per flight. The block closes by the jump from its end to its start: give a motion that ends as it began,
    or count the start and stop once only.
    Source: Newton's equations; lift in proportion to Omega^2.
    """
    moving = swing_root_loads(blade, swing)
    both = np.stack([swing.speed[:-1], swing.speed[1:]], axis=1).reshape(-1, *swing.speed.shape[1:])
    growth = np.square(np.moveaxis(both, 0, -1) / np.asarray(steady_speed, dtype=float)[..., np.newaxis])
    out_of_plane = {
        part: np.asarray(getattr(steady, part))[..., np.newaxis] * growth
        for part in ("normal_shear", "flap", "feathering")
    }
    history = moving.plus(RootComponents.of(**out_of_plane))
    return event_case(
        name, history, events, "rigid blade swinging on its pivot with friction, lift as Omega^2"
    )


def stop_case(
    blade: FoldingBlade,
    swing: LagSwing,
    stiffness: ArrayLike,
    steady: RootComponents,
    events: ArrayLike,
    pressing_moment: ArrayLike = 0.0,
) -> LoadCase:
    """The hardest blows of a swing on its leading and its trailing stop, as lag moments by energy.

    Each blow adds +-M to the lag moment and M S / I backward or forward to the shear: what blade and hub
    exchange in all, screw and stop together (`stop_pivot_force` for the screw alone).

    Arguments: blade; swing - its motion; stiffness - of stop and blade, N*m/rad (`bladehold.blade.spin_up`);
    steady - root loads during the blow, [...]; events - per flight; pressing_moment - steady moment into the
    stop, N*m, 0 or more.
    Source: as in `stop_moment`; shear by momentum, derived.
    """

    def struck(rate: FloatArray, side: float) -> RootComponents:
        pressing = np.where(rate > 0.0, pressing_moment, 0.0)
        moment = side * stop_moment(blade.inertia, rate, stiffness, pressing)
        force = moment * blade.first_moment / blade.inertia
        return steady.plus(RootComponents.of(lag=moment, in_plane_shear=force))

    return event_case(
        "blow on a stop",
        sequence(steady, struck(swing.blow_ahead, -1.0), steady, struck(swing.blow_behind, 1.0)),
        events,
        "energy of the blade against the hub taken by one spring without damping",
    )


def start_stop_case(greatest: RootComponents, flights: ArrayLike = 1.0) -> LoadCase:
    """One cycle from nothing to the greatest steady loads and back.

    Arguments: greatest - root loads of the hardest steady condition, [...]; flights - starts per flight.
    Source: own, a count.
    """
    rest = greatest.times(0.0)
    return event_case(
        "start and stop", sequence(rest, greatest), flights, "rest to greatest load and back, once"
    )
