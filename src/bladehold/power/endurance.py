"""How long a battery lasts: a flight in segments stepped through in time, with charge, voltage and warmth."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.power.battery import greatest_power, open_voltage, pack_resistance, slow_resistance
from bladehold.power.drive import PowerTrain, battery_draw, controller_demand, throttle_of
from bladehold.power.motor import COPPER, REFERENCE, motor_state
from bladehold.power.thermal import temperature_after

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.intp]

ENDS = (
    "lasts",
    "charge at its reserve",
    "voltage at its least",
    "full throttle is not enough",
    "collapse of the battery",
)
STEPS = 160  # of a flight
CYCLES = 24  # that a mission is cut into to see how long it can go on
_PASSES, _EARLY = 4, 3.0  # tries, and how many times shorter than expected is early
_ROOM = 1.5  # of the time that the energy would last, looked at


@dataclass(frozen=True, eq=False)
class Flight:
    """What is flown: K segments of N rotors. speed - rad/s, torque - N*m, [..., K, N]; duration - s, [...,
    K].
    """

    speed: FloatArray
    torque: FloatArray
    duration: FloatArray


@dataclass(frozen=True, eq=False)
class Discharge:
    """A battery over a flight, in T steps.

    segment - that each step is of, [T]; time - at the beginning of the steps and at the end, s, charge,
    temperature - of the hottest winding, K, [..., T + 1]; voltage - at the terminals at the beginning of each
    step, V, current - A, power - out of the terminals, W, [..., T]; ends - when it must end, s, infinite
    where it lasts; why - place in ENDS; where - segment it ends in, [...]; energy - out of the terminals, J,
    [...].
    """

    segment: IntArray
    time: FloatArray
    charge: FloatArray
    temperature: FloatArray
    voltage: FloatArray
    current: FloatArray
    power: FloatArray
    ends: FloatArray
    why: IntArray
    where: IntArray
    energy: FloatArray


def discharge(
    train: PowerTrain,
    flight: Flight,
    *,
    air_temperature: float,
    cutoff_voltage: float,
    reserve: float,
    charge: ArrayLike = 1.0,
    steps: int = STEPS,
) -> Discharge:
    """Fly a flight on one battery.

    Charge is counted, ds/dt = -I / C; the slow branch and the windings take their exact course over a step
    with steady current. Each step is taken with the current in its middle, found by a half step.
    Arguments: train; flight - [...]; air_temperature - K; cutoff_voltage - V, at the terminals; reserve -
    charge that is kept, 0 to 1; charge - at the start, broadcasting with [...]; steps - about how many.
    Returns Discharge; what follows after its end is not to be used.
    Source: midpoint rule; branch and winding as in `bladehold.power.battery` and `thermal`.
    """
    whole = flight.duration.sum(axis=-1, keepdims=True)
    share = (
        (flight.duration / np.where(whole > 0.0, whole, 1.0))
        .reshape(-1, flight.duration.shape[-1])
        .max(axis=0)
    )
    counts = np.maximum(np.ceil(steps * share).astype(int), 1)
    order = np.repeat(np.arange(counts.size), counts)
    return _stepped(
        train,
        flight,
        order,
        flight.duration / counts,
        air_temperature=air_temperature,
        cutoff_voltage=cutoff_voltage,
        reserve=reserve,
        charge=charge,
    )


def longest_flight(
    train: PowerTrain,
    flight: Flight,
    *,
    air_temperature: float,
    cutoff_voltage: float,
    reserve: float,
    charge: ArrayLike = 1.0,
) -> Discharge:
    """Go on with the segments of a flight, in short turns that keep their shares of the time, till it must
    end.

    Arguments: as in `discharge`; of the durations only their ratios matter.
    Returns Discharge; its `ends` is the endurance.
    Source: as `discharge`; own choice of CYCLES turns.
    """
    share = flight.duration / flight.duration.sum(axis=-1, keepdims=True)
    wanted, motor = controller_demand(train, flight.speed, flight.torque)
    rest, ohm = open_voltage(train.pack, 0.5), pack_resistance(train.pack, 0.5)
    _, current, _ = battery_draw(train, wanted, motor, rest, ohm)
    # What collapses half way still has a current when full, the least there is: its time is no shorter.
    full = open_voltage(train.pack, charge), pack_resistance(train.pack, charge)
    _, fresh, _ = battery_draw(train, wanted, motor, *(value[..., np.newaxis] for value in full))
    mean = np.sum(share * np.where(np.isfinite(current), current, fresh), axis=-1)
    usable = np.asarray(charge, dtype=float) * train.pack.capacity
    longest = _ROOM * np.where(np.isfinite(mean), usable / np.where(np.isfinite(mean), mean, 1.0), 1.0)
    count = flight.duration.shape[-1]
    turns = CYCLES * max(1, STEPS // (CYCLES * count))
    for _ in range(_PASSES):
        found = _stepped(
            train,
            flight,
            np.tile(np.arange(count), turns),
            longest[..., np.newaxis] * share / turns,
            air_temperature=air_temperature,
            cutoff_voltage=cutoff_voltage,
            reserve=reserve,
            charge=charge,
        )
        # What ends long before its charge is gone is stepped through again, in steps as fine as any other's.
        early = found.ends < longest / _EARLY
        if not early.any():
            break
        longest = np.where(early, _ROOM * found.ends, longest)
    return found


def _stepped(
    train: PowerTrain,
    flight: Flight,
    order: IntArray,
    lasting: FloatArray,
    *,
    air_temperature: float,
    cutoff_voltage: float,
    reserve: float,
    charge: ArrayLike,
) -> Discharge:
    """Step through segments in an order, each step of the time that its segment gives it, [..., K]."""
    shape = flight.duration.shape[:-1]
    cold = motor_state(train.motor, flight.speed, flight.torque, REFERENCE)
    wanted, motor = controller_demand(train, flight.speed, flight.torque)
    pack = train.pack
    left = np.broadcast_to(np.asarray(charge, dtype=float), shape).copy()
    slow, branch = np.zeros(shape), slow_resistance(pack)
    warm = np.full((*shape, flight.speed.shape[-1]), float(air_temperature))
    time, charges, warmth = [np.zeros(shape)], [left], [warm.max(axis=-1)]
    voltages, currents, ends = [], [], np.full(shape, np.inf)
    why, where = np.zeros(shape, dtype=np.intp), np.zeros(shape, dtype=np.intp)

    def drawn(
        at: int, there: FloatArray, lost: FloatArray, hot: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """Voltage, current and the throttle that is left to the rotor that has least."""
        now = motor[..., at, :]
        warmer = cold.copper[..., at, :] * COPPER * (hot - REFERENCE)
        there = np.maximum(there, 0.0)
        rest = open_voltage(pack, there) - lost
        bus, current, each = battery_draw(
            train, wanted[..., at, :] + warmer, now, rest, pack_resistance(pack, there)
        )
        volts = cold.voltage[..., at, :] + warmer / np.where(now != 0.0, now, 1.0)
        return bus, current, 1.0 - throttle_of(train, volts, now, bus, each).max(axis=-1)

    for at in order:
        step = lasting[..., at]
        bus, current, spare = drawn(at, left, slow, warm)
        half = np.exp(-0.5 * step / pack.slow_time)
        heated = (
            cold.copper[..., at, :],
            cold.iron[..., at, :],
            train.thermal_resistance,
            train.heat_capacity,
        )
        middle = temperature_after(warm, 0.5 * step[..., np.newaxis], *heated, air_temperature)
        _, mean, _ = drawn(
            at,
            left - 0.5 * step * current / pack.capacity,
            slow * half + branch * current * (1.0 - half),
            middle,
        )
        whole = np.square(half)
        after = left - step * mean / pack.capacity
        lost = slow * whole + branch * mean * (1.0 - whole)
        warm = temperature_after(warm, step[..., np.newaxis], *heated, air_temperature)
        bus_after, _, spare_after = drawn(at, after, lost, warm)
        found = _end((left, after, reserve), (bus, bus_after, cutoff_voltage), (spare, spare_after, 0.0))
        sooner = np.isfinite(found.share) & ~np.isfinite(ends)
        ends = np.where(sooner, time[-1] + found.share * step, ends)
        why, where = np.where(sooner, found.why, why), np.where(sooner, at, where)
        left, slow = np.where(np.isfinite(after), after, left), np.where(np.isfinite(lost), lost, slow)
        time.append(time[-1] + step)
        charges.append(left)
        warmth.append(warm.max(axis=-1))
        voltages.append(bus)
        currents.append(mean)
        if np.all(np.isfinite(ends)):
            break
    done = len(voltages)
    power = np.stack(voltages, axis=-1) * np.stack(currents, axis=-1)
    times = np.stack(time, axis=-1)
    flown = np.clip(ends[..., np.newaxis] - times[..., :-1], 0.0, np.diff(times, axis=-1))
    return Discharge(
        segment=order[:done],
        time=times,
        charge=np.stack(charges, axis=-1),
        temperature=np.stack(warmth, axis=-1),
        voltage=np.stack(voltages, axis=-1),
        current=np.stack(currents, axis=-1),
        power=power,
        ends=ends,
        why=why,
        where=where,
        energy=np.sum(np.where(flown > 0.0, power * flown, 0.0), axis=-1),
    )


@dataclass(frozen=True, eq=False)
class _End:
    """Share of a step after which the flight must end, infinite where it goes on, and why."""

    share: FloatArray
    why: IntArray


def _end(*falling: tuple[FloatArray, FloatArray, float]) -> _End:
    """Where a step must end: of values that fall, each at its beginning, at its end, and the least it may be,
    in the order of ENDS; one that is not a number tells of a battery that has collapsed.
    """

    def crossing(start: FloatArray, end: FloatArray, least: float) -> FloatArray:
        """Share of the step at which a falling value meets its least."""
        fall = np.where(start > end, start - end, 1.0)
        share = np.clip((start - least) / fall, 0.0, 1.0)
        return np.where(start <= least, 0.0, np.where(end <= least, share, np.inf))

    bus, bus_after, _ = falling[1]
    collapsed = np.where(np.isfinite(bus), np.where(np.isfinite(bus_after), np.inf, 1.0), 0.0)
    shares = np.stack([*(crossing(*one) for one in falling), collapsed])
    shares = np.where(np.isnan(shares), np.inf, shares)
    return _End(shares.min(axis=0), shares.argmin(axis=0) + 1)


def energy_at_rest(train: PowerTrain, high: float = 1.0, low: float = 0.0) -> float:
    """Energy (J) of a pack between two charges, drawn so slowly that nothing is lost: C times the integral of
    Voc.

    Arguments: train; high, low - charges, 0 to 1. Source: definition, exact for the curve's straight pieces.
    """
    pack = train.pack
    inside = pack.charge[(pack.charge > low) & (pack.charge < high)]
    points = np.concatenate([[low], inside, [high]])
    return float(pack.capacity * np.trapezoid(open_voltage(pack, points), points))


def matched_power(train: PowerTrain, charge: ArrayLike) -> FloatArray:
    """Power (W) at which a pack collapses. Arguments: train; charge - 0 to 1. Source: `greatest_power`."""
    return greatest_power(open_voltage(train.pack, charge), pack_resistance(train.pack, charge))
