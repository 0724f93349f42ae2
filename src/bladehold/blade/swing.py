"""The motion of a folding blade while the rotor speeds up or slows down: Coulomb friction and end stops.

Each blade keeps a clock of its own. While it turns about its pivot the equation of `bladehold.blade.folding`
is stepped by the classical Runge-Kutta formula of fourth order, with steps in proportion to the time scale of
the moment, cut where the turning stops or a stop is met (root of Hermite's cubic, then one step to it). While
friction or a stop holds it, the moment is a linear function of Omega^2 and the time of breaking loose is
known in closed form. Friction at rest and in motion is the same.
"""

from __future__ import annotations

from dataclasses import dataclass, field, fields

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.blade.folding import FoldingBlade, driving_moment

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]
State = tuple[FloatArray, FloatArray, FloatArray, FloatArray, FloatArray]

STEP = 0.2  # of a step, times the angular frequency of the motion
MOST_STEPS = 200_000
SMALLEST_BOUNCE = 1e-4  # rad, below which a blade is taken to rest on its stop
ROOT_STEPS = 5  # of Newton's, bracketed, on a cubic that is nearly straight
TINY = np.finfo(float).tiny


@dataclass(frozen=True, eq=False)
class SpeedHistory:
    """Rotation speed as straight lines between points: time - s, rising, speed - rad/s, both [..., K].

    K is at least 2; the history is used from the first to the last point.
    """

    time: FloatArray
    speed: FloatArray


@dataclass(frozen=True, eq=False)
class LagSwing:
    """How a blade moved. N steps, conditions [...].

    time - s, angle - rad, rate - rad/s, speed - rad/s, [N + 1, ...]: before the first step and after each; a
    blow is a step without duration. Of the steps, [N, ...]: acceleration - dOmega/dt, rad/s^2; sliding - 1
    turning back, -1 forward, 0 held. blow_ahead, blow_behind - hardest rate at which the leading and the
    trailing stop was met, rad/s, [...]; blows - how often, [...].
    """

    time: FloatArray
    angle: FloatArray
    rate: FloatArray
    speed: FloatArray
    acceleration: FloatArray
    sliding: FloatArray
    blow_ahead: FloatArray
    blow_behind: FloatArray
    blows: NDArray[np.int_]


def speed_ramp(first: ArrayLike, last: ArrayLike, duration: ArrayLike, hold: ArrayLike) -> SpeedHistory:
    """A straight ramp from one speed to another, then held.

    Arguments, broadcasting: first, last - rad/s; duration - of the ramp, s; hold - time after it, s.
    Source: own, no formula.
    """
    start, end, ramp, rest = np.broadcast_arrays(
        *(np.asarray(value, dtype=float) for value in (first, last, duration, hold))
    )
    time = np.stack([np.zeros_like(ramp), ramp, ramp + rest], axis=-1)
    return SpeedHistory(time, np.stack([start, end, end], axis=-1))


def lag_swing(
    blade: FoldingBlade,
    history: SpeedHistory,
    start_angle: ArrayLike,
    start_rate: ArrayLike = 0.0,
    leading_stop: ArrayLike = -np.inf,
    trailing_stop: ArrayLike = np.inf,
    restitution: ArrayLike = 0.0,
    step: float = STEP,
) -> LagSwing:
    """Motion of a blade about its pivot under a given history of the rotation speed.

    Arguments, all broadcasting but the last: blade; history - SpeedHistory; start_angle - rad, start_rate -
    rad/s; leading_stop, trailing_stop - least and greatest lag angle the hub allows, rad, infinite for none;
    restitution - rate after a blow over rate before, 0 to 1 (0: the stop takes the whole energy); step - of
    the integration, times the angular frequency of the motion.
    Errors: ValueError when times do not rise, a speed is negative, or the start lies beyond a stop;
    RuntimeError when a motion does not end within MOST_STEPS steps.
    Source: Lagrange's equation at the head of `bladehold.blade.folding`; own integration.
    """
    shape = np.broadcast_shapes(
        blade.mass.shape,
        history.time.shape[:-1],
        history.speed.shape[:-1],
        *(np.shape(value) for value in (start_angle, start_rate, leading_stop, trailing_stop, restitution)),
    )

    def flat(value: ArrayLike) -> FloatArray:
        return np.broadcast_to(np.asarray(value, dtype=float), shape).reshape(-1).copy()

    bodies = FoldingBlade(*(flat(getattr(blade, item.name)) for item in fields(blade)))
    ends = (flat(leading_stop), flat(trailing_stop))
    motion = _Motion(bodies, _Clock.of(history, shape), ends, flat(restitution), step)
    motion.run(flat(start_angle), flat(start_rate))
    return motion.record(shape)


@dataclass
class _Clock:
    """Where each case stands in its speed history; arrays [C], the history [C, K]."""

    times: FloatArray
    speeds: FloatArray
    rows: NDArray[np.intp]
    segment: NDArray[np.intp]
    now: FloatArray

    @classmethod
    def of(cls, history: SpeedHistory, shape: tuple[int, ...]) -> _Clock:
        """At the first point of every history."""
        count = history.time.shape[-1]
        times, speeds = (
            np.broadcast_to(np.asarray(value, dtype=float), (*shape, count)).reshape(-1, count)
            for value in (history.time, history.speed)
        )
        if count < 2 or not np.all(np.diff(times, axis=-1) > 0.0):
            raise ValueError("times of a speed history must rise and be two or more")
        if not np.all(speeds >= 0.0):
            raise ValueError(f"speed must be 0 or more, got {speeds.min():g}")
        rows = np.arange(times.shape[0])
        return cls(times, speeds, rows, np.zeros(rows.size, dtype=np.intp), times[:, 0].copy())

    def read(self) -> tuple[FloatArray, FloatArray, FloatArray, BoolArray]:
        """Speed, dOmega/dt, time left in the segment, and whether the case still runs."""
        running = self.segment < self.times.shape[1] - 1
        k = np.where(running, self.segment, self.times.shape[1] - 2)
        begin, end = self.times[self.rows, k], self.times[self.rows, k + 1]
        first, last = self.speeds[self.rows, k], self.speeds[self.rows, k + 1]
        slope = (last - first) / (end - begin)
        return first + slope * (self.now - begin), slope, np.where(running, end - self.now, 0.0), running

    def advance(self, taken: FloatArray, whole: BoolArray) -> None:
        """Go on by `taken` seconds; where `whole`, to the end of the segment, whatever rounding says."""
        last = self.times.shape[1] - 1
        end = self.times[self.rows, np.minimum(self.segment + 1, last)]
        self.now = np.where(whole, end, self.now + taken)
        self.segment = self.segment + whole


@dataclass
class _Motion:
    """The integration of all cases [C] side by side; what was found is kept in lists, one entry a step."""

    blade: FoldingBlade
    clock: _Clock
    stops: tuple[FloatArray, FloatArray]
    restitution: FloatArray
    step: float
    nodes: list[tuple[FloatArray, ...]] = field(default_factory=list)
    steps: list[tuple[FloatArray, FloatArray]] = field(default_factory=list)
    blow: tuple[FloatArray, FloatArray] = field(init=False)
    blows: NDArray[np.int_] = field(init=False)

    def run(self, angle: FloatArray, rate: FloatArray) -> None:
        low, high = self.stops
        if np.any((angle < low) | (angle > high)):
            raise ValueError("start_angle lies beyond a stop")
        self.blow = (np.zeros_like(angle), np.zeros_like(angle))
        self.blows = np.zeros(angle.size, dtype=np.int_)
        loose = np.zeros_like(angle)  # sign of the motion of a blade that has just broken loose
        for _ in range(MOST_STEPS):
            speed, slope, left, running = self.clock.read()
            self.nodes.append((self.clock.now, angle, rate, speed))
            if not running.any():
                return
            met = running & (((angle <= low) & (rate < 0.0)) | ((angle >= high) & (rate > 0.0)))
            if met.any():
                self.steps.append((slope, np.sign(rate)))
                rate = self._rebound(met, angle, rate, speed, slope)
                continue
            sign, held = self._sense(angle, rate, speed, slope, loose, running)
            moved = self._slide(angle, rate, speed, slope, np.where(held, 0.0, left), sign)
            wait, loose = self._wait(angle, speed, slope, left, held)
            taken = np.where(held, wait, moved[0])
            whole = running & (taken >= left * (1.0 - 1e-14))
            angle, rate = np.where(held, angle, moved[1]), np.where(held, 0.0, moved[2])
            self.clock.advance(taken, whole)
            loose = np.where(whole, 0.0, loose)
            self.steps.append((slope, np.where(held, 0.0, sign)))
        raise RuntimeError(f"the swing of a blade did not end within {MOST_STEPS} steps")

    def _sense(
        self,
        angle: FloatArray,
        rate: FloatArray,
        speed: FloatArray,
        slope: FloatArray,
        loose: FloatArray,
        running: BoolArray,
    ) -> tuple[FloatArray, BoolArray]:
        """Sign of the motion, and which blades friction or a stop holds."""
        low, high = self.stops
        sign, resting = np.sign(rate), running & (rate == 0.0)
        if not resting.any():
            return sign, resting
        moment, friction = self._balance(angle, speed, slope)
        back = (moment > friction) & (angle < high)
        forward = (moment < -friction) & (angle > low)
        started = np.where(back, 1.0, np.where(forward, -1.0, loose))
        sign = np.where(resting, started, sign)
        return sign, resting & (sign == 0.0)

    def _balance(
        self, angle: FloatArray, speed: FloatArray, slope: FloatArray
    ) -> tuple[FloatArray, FloatArray]:
        return driving_moment(self.blade, angle, 0.0, speed, slope), self.blade.friction_moment(speed)

    def _wait(
        self, angle: FloatArray, speed: FloatArray, slope: FloatArray, left: FloatArray, held: BoolArray
    ) -> tuple[FloatArray, FloatArray]:
        """Time until a held blade breaks loose, or that left in the segment; and the sign of its motion.

        The moment p + q Omega^2 meets +-(M_clamp + K_f Omega^2).
        """
        if not held.any():
            return left, np.zeros_like(angle)
        blade, (low, high) = self.blade, self.stops
        at_rest = driving_moment(blade, angle, 0.0, 0.0, slope)
        per_square = driving_moment(blade, angle, 0.0, 1.0, slope) - at_rest
        wait, loose = left, np.zeros_like(angle)
        for sign, free in ((1.0, angle < high), (-1.0, angle > low)):
            rise = per_square - sign * blade.friction_constant
            square = (sign * blade.clamp_friction - at_rest) / np.where(rise == 0.0, 1.0, rise)
            when = (np.sqrt(np.maximum(square, 0.0)) - speed) / np.where(slope == 0.0, 1.0, slope)
            sooner = held & free & (rise != 0.0) & (slope != 0.0) & (square >= 0.0)
            sooner &= (when > 0.0) & (when < wait)
            wait, loose = np.where(sooner, when, wait), np.where(sooner, sign, loose)
        return wait, loose

    def _slide(
        self,
        angle: FloatArray,
        rate: FloatArray,
        speed: FloatArray,
        slope: FloatArray,
        left: FloatArray,
        sign: FloatArray,
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """One step of the sliding blades, cut at the first event: its duration, angle and rate after it."""
        blade = self.blade
        ratio, square = blade.coupling / blade.inertia, speed * speed
        outer = (blade.friction_moment(speed) + blade.drag_constant * square) / blade.inertia
        damping = 2.0 * blade.drag_constant * speed / blade.inertia
        fastest = np.sqrt(ratio * square + np.abs(slope) * (1.0 + ratio) + rate * rate + outer) + damping
        taken = np.minimum(left, self.step / np.maximum(fastest, TINY))
        after, rate_after = _runge_kutta(blade, angle, rate, speed, slope, sign, taken)
        low, high = self.stops
        turns = rate_after * sign < 0.0
        stop = np.where(sign < 0.0, low, high)
        beyond = np.where(sign < 0.0, after < stop, after > stop)
        cut = np.flatnonzero((turns | beyond) & (taken > 0.0))
        if cut.size:
            few = blade.part(cut)
            state = angle[cut], rate[cut], speed[cut], slope[cut], sign[cut]
            whole = taken[cut], after[cut], rate_after[cut]
            found = _cut(few, state, whole, turns[cut], stop[cut])
            taken, after, rate_after = taken.copy(), after.copy(), rate_after.copy()
            taken[cut], after[cut], rate_after[cut] = found
        return taken, after, rate_after

    def _rebound(
        self, met: BoolArray, angle: FloatArray, rate: FloatArray, speed: FloatArray, slope: FloatArray
    ) -> FloatArray:
        """Rates after the blows, which are noted."""
        for blow, sign in zip(self.blow, (-1.0, 1.0), strict=True):
            np.maximum(blow, np.where(met, sign * rate, 0.0), out=blow)
        self.blows += met
        back = -self.restitution * rate
        moment, friction = self._balance(angle, speed, slope)
        pressing = (-np.sign(back) * moment + friction) / self.blade.inertia
        small = (pressing > 0.0) & (back**2 < 2.0 * pressing * SMALLEST_BOUNCE)
        return np.where(met, np.where(small, 0.0, back), rate)

    def record(self, shape: tuple[int, ...]) -> LagSwing:
        """What was kept, in the shape of the conditions."""
        time, angle, rate, speed = (np.stack(v).reshape(-1, *shape) for v in zip(*self.nodes, strict=True))
        pairs = list(zip(*self.steps, strict=True))
        acceleration, sliding = (np.stack(v).reshape(-1, *shape) for v in pairs)
        ahead, behind = (blow.reshape(shape) for blow in self.blow)
        return LagSwing(
            time, angle, rate, speed, acceleration, sliding, ahead, behind, self.blows.reshape(shape)
        )


def _acceleration(
    blade: FoldingBlade,
    angle: FloatArray,
    rate: FloatArray,
    speed: FloatArray,
    slope: FloatArray,
    sign: FloatArray,
) -> FloatArray:
    moment = driving_moment(blade, angle, rate, speed, slope)
    return np.asarray((moment - sign * blade.friction_moment(speed)) / blade.inertia)


def _runge_kutta(
    blade: FoldingBlade,
    angle: FloatArray,
    rate: FloatArray,
    speed: FloatArray,
    slope: FloatArray,
    sign: FloatArray,
    taken: FloatArray,
) -> tuple[FloatArray, FloatArray]:
    """Angle and rate after a step with friction of one sign."""
    half = 0.5 * taken
    middle, end = speed + slope * half, speed + slope * taken
    a1 = _acceleration(blade, angle, rate, speed, slope, sign)
    r2 = rate + half * a1
    a2 = _acceleration(blade, angle + half * rate, r2, middle, slope, sign)
    r3 = rate + half * a2
    a3 = _acceleration(blade, angle + half * r2, r3, middle, slope, sign)
    r4 = rate + taken * a3
    a4 = _acceleration(blade, angle + taken * r3, r4, end, slope, sign)
    sixth = taken / 6.0
    return angle + sixth * (rate + 2.0 * (r2 + r3) + r4), rate + sixth * (a1 + 2.0 * (a2 + a3) + a4)


def _cut(
    blade: FoldingBlade,
    state: State,
    whole: tuple[FloatArray, FloatArray, FloatArray],
    turns: BoolArray,
    stop: FloatArray,
) -> tuple[FloatArray, FloatArray, FloatArray]:
    """The steps that hold an event, cut there: duration, angle and rate after it, as of the `whole` step.

    Until its motion stops the blade goes one way, so that this is looked for first, then the stop.
    """
    angle, rate, speed, slope, sign = state
    taken, after, rate_after = whole
    slopes = (
        _acceleration(blade, angle, rate, speed, slope, sign) * taken,
        _acceleration(blade, after, rate_after, speed + slope * taken, slope, sign) * taken,
    )
    inner = turns & (rate != 0.0)
    if inner.any():
        taken = taken * np.where(inner, _hermite_root(rate, rate_after, *slopes), 1.0)
        after, rate_after = _runge_kutta(blade, *state, taken)
    # a blade that breaks loose and stops again within one step has not moved by anything that counts
    after = np.where(turns & (rate == 0.0), angle, after)
    rate_after = np.where(turns, 0.0, rate_after)
    hits = np.where(sign < 0.0, after < stop, after > stop)
    if hits.any():
        place = np.where(hits, stop, 0.0)
        share = _hermite_root(angle - place, after - place, rate * taken, rate_after * taken)
        taken = np.where(hits, taken * share, taken)
        _, at_stop = _runge_kutta(blade, *state, taken)
        after = np.where(hits, stop, after)
        rate_after = np.where(hits, sign * np.maximum(sign * at_stop, 0.0), rate_after)
    return taken, after, rate_after


def _hermite_root(
    first: FloatArray, last: FloatArray, slope: FloatArray, end_slope: FloatArray
) -> FloatArray:
    """Where in 0 .. 1 Hermite's cubic through two values of unlike sign is zero; slopes per unit."""
    change = last - first
    cubic, square = slope + end_slope - 2.0 * change, 3.0 * change - 2.0 * slope - end_slope
    place = np.clip(first / np.where(change == 0.0, 1.0, -change), 0.0, 1.0)
    low, high = np.zeros_like(place), np.ones_like(place)
    for _ in range(ROOT_STEPS):
        value = first + place * (slope + place * (square + place * cubic))
        before = value * first > 0.0
        low, high = np.where(before, place, low), np.where(before, high, place)
        grade = slope + place * (2.0 * square + place * 3.0 * cubic)
        newton = place - value / np.where(grade == 0.0, 1.0, grade)
        inside = (newton >= low) & (newton <= high)
        place = np.where(inside, newton, 0.5 * (low + high))
    return place
