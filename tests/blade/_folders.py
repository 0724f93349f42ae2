"""Blades and the energy book shared by the tests of folding blades."""

import numpy as np

from bladehold.blade import drag_moment, driving_moment, folding_blade

MASS, E, X = 0.034, 0.030, 0.102
INERTIA = 1.3 * MASS * X**2
TOP = 540.0


def blade(**changes):
    measures = {
        "mass": MASS,
        "pivot_radius": E,
        "balance_point": X,
        "inertia": INERTIA,
        "clamp_friction": 0.3,
        "friction_arm": 0.0004,
        "drag_constant": 1.2 / TOP**2,
    }
    return folding_blade(**{**measures, **changes})


def kinetic_energy(body, angle, rate, speed):
    """Of the rigid blade as seen by one who stands still."""
    own = speed - rate
    return 0.5 * (
        body.mass * body.pivot_radius**2 * speed**2
        + 2.0 * body.coupling * speed * own * np.cos(angle)
        + body.inertia * own**2
    )


def angular_momentum(body, angle, rate, speed):
    """About the rotor axis."""
    own = speed - rate
    turning = body.mass * body.pivot_radius**2 * speed + body.inertia * own
    return turning + body.coupling * np.cos(angle) * (speed + own)


def books(body, swing):
    """Work of the motor, friction and drag, the angular impulse of the motor and of the drag; one case.

    The state between nodes is Hermite's cubic of the angle and of the rate, summed at five points of Gauss.
    The motor's torque is what the angular momentum about the rotor axis and the drag ask for.
    """
    points, weights = np.polynomial.legendre.leggauss(5)
    places, weights = 0.5 * (points + 1.0), 0.5 * weights
    step = np.diff(swing.time)
    slope, sign = swing.acceleration, swing.sliding

    def turning(angle, rate, speed):
        moment = driving_moment(body, angle, rate, speed, slope)
        grip = np.where(sign == 0.0, moment, sign * body.friction_moment(speed))
        return np.where(sign == 0.0, 0.0, (moment - grip) / body.inertia)

    ends = [
        (swing.angle[cut], swing.rate[cut], swing.speed[cut]) for cut in (slice(None, -1), slice(1, None))
    ]
    rate0, rate1 = (np.where(sign == 0.0, 0.0, end[1]) for end in ends)
    a0, a1 = (turning(*end) for end in ends)
    total = dict.fromkeys(("motor", "friction", "drag", "impulse", "drag_impulse"), 0.0)
    for u, weight in zip(places, weights, strict=True):
        angle = hermite(u, ends[0][0], ends[1][0], rate0 * step, rate1 * step)
        rate = hermite(u, rate0, rate1, a0 * step, a1 * step)
        speed = swing.speed[:-1] + u * step * slope
        acceleration, own = turning(angle, rate, speed), speed - rate
        drag = drag_moment(body, angle, rate, speed)
        lever = body.drag_arm + body.pivot_radius * np.cos(angle)
        # d/dt of the angular momentum about the rotor axis, plus the drag's moment there
        momentum = (
            (body.mass * body.pivot_radius**2) * slope
            + body.inertia * (slope - acceleration)
            + body.coupling * np.cos(angle) * (2.0 * slope - acceleration)
            - body.coupling * np.sin(angle) * rate * (speed + own)
        )
        torque = momentum + drag / body.drag_arm * lever
        total["motor"] += np.sum(weight * step * torque * speed)
        total["friction"] += np.sum(weight * step * np.abs(rate) * body.friction_moment(speed))
        total["drag"] += np.sum(weight * step * (drag / body.drag_arm * lever * speed - drag * rate))
        total["impulse"] += np.sum(weight * step * torque)
        total["drag_impulse"] += np.sum(weight * step * drag / body.drag_arm * lever)
    return total


def hermite(u, first, last, slope, end_slope):
    change = last - first
    return first + u * (
        slope + u * ((3 * change - 2 * slope - end_slope) + u * (slope + end_slope - 2 * change))
    )
