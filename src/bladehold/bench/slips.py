"""Slips that stand files really contain: a number in the wrong column, rows twice, a supply that gives in."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bladehold.air import GRAVITY
from bladehold.bench.stand import StandRun

FloatArray = NDArray[np.float64]

# Thrust goes with the square of speed; CT of one propeller changes by some 10 % over a run (Reynolds number).
OUTLIER = 0.25  # of log(thrust / speed^2) away from the run's middle, besides what scatter explains
SCATTERS = 5.0  # standard deviations, by the median of deviations
SAG = 0.97  # of the voltage that the lighter half of the run leads one to expect


@dataclass(frozen=True)
class Slip:
    """One row that should not be trusted.

    Its line in the file, its number in the run, why, and if it is left out.
    """

    line: int
    row: int
    reason: str
    left_out: bool


def find_slips(run: StandRun) -> list[Slip]:
    """Return the suspicious rows of a run, in the order of the file.

    Found are: a speed or thrust that is not positive; a speed typed as a thrust; thrust or torque far off the
    run's own law T ~ speed^2; a row that repeats another; supply sag (voltage falls away, or speed falls
    while power still rises). Sag is shown but the row is kept when its speed and thrust still agree.
    """
    found: dict[int, Slip] = {}

    def add(row: int, reason: str, *, left_out: bool = True) -> None:
        found.setdefault(row, Slip(int(run.line[row]), row, reason, left_out))

    for row in _rows((run.speed <= 0.0) | (run.thrust <= 0.0)):
        add(row, "speed or thrust is not positive")
    good = (run.speed > 0.0) & (run.thrust > 0.0)
    for row in _rows(good & _speed_as_thrust(run)):
        add(row, "the thrust repeats the speed's digits: a speed typed as a thrust")
    for name, value in (("thrust", run.thrust), ("torque", run.torque)):
        for row in _off_the_law(run.speed, value, good):
            add(row, f"{name} lies {_times(run.speed, value, good, row)} off the run's own law")
    for row in _repeated(run):
        add(row, "repeats another row: one measurement counts once")
    for row in _sagging(run):
        add(row, "the supply sags here: speed and voltage were falling during the point", left_out=False)
    return [found[row] for row in sorted(found)]


def _speed_as_thrust(run: StandRun) -> NDArray[np.bool_]:
    """Where thrust in N or kgf has the same number as the speed in rpm."""
    rpm = run.speed * 30.0 / np.pi
    same = [
        np.abs(run.thrust / unit - rpm) < 0.005 * np.abs(rpm) for unit in (1.0, GRAVITY, GRAVITY / 1000.0)
    ]
    return np.asarray(np.any(same, axis=0) & (np.abs(_law(run.speed, run.thrust)) > OUTLIER))


def _law(speed: FloatArray, value: FloatArray) -> FloatArray:
    """log(value / speed^2) about the run's median; zero where it cannot be told."""
    usable = (speed > 0.0) & (value > 0.0)
    ratio = np.where(usable, np.log(np.where(usable, value, 1.0) / np.where(usable, speed, 1.0) ** 2), np.nan)
    if not usable.any():
        return np.zeros(speed.shape)
    return np.asarray(np.nan_to_num(ratio - np.nanmedian(ratio)), dtype=float)


def _rows(where: NDArray[np.bool_]) -> list[int]:
    return [int(row) for row in np.flatnonzero(where)]


def _off_the_law(speed: FloatArray, value: FloatArray, good: NDArray[np.bool_]) -> list[int]:
    usable = good & np.isfinite(value)
    if usable.sum() < 4:
        return []
    away = np.where(usable, _law(speed, np.where(usable, value, np.nan)), 0.0)
    # What changes slowly with speed is the propeller's own; a straight line in log speed takes it out,
    # robustly.
    x = np.log(np.where(usable, speed, 1.0))
    slope = _median_slope(x[usable], away[usable])
    rest = away - slope * (x - np.median(x[usable]))
    rest = rest - np.median(rest[usable])
    scatter = 1.4826 * np.median(np.abs(rest[usable]))
    wrong_sign = usable & (value <= 0.0)
    return _rows((usable & (np.abs(rest) > max(OUTLIER, SCATTERS * scatter))) | wrong_sign)


def _median_slope(x: FloatArray, y: FloatArray) -> float:
    """Slope through the medians of all pairs (Theil and Sen), 0 where the speeds are all alike."""
    first, second = np.triu_indices(x.size, 1)
    step = x[second] - x[first]
    far = np.abs(step) > 0.02
    return float(np.median((y[second] - y[first])[far] / step[far])) if far.any() else 0.0


def _times(speed: FloatArray, value: FloatArray, good: NDArray[np.bool_], row: int) -> str:
    away = float(_law(speed, np.where(good, value, np.nan))[row])
    return f"a factor {np.exp(abs(away)):.2g} {'above' if away > 0 else 'below'}, which is"


def _repeated(run: StandRun) -> list[int]:
    seen: dict[tuple[float, float, float, float], int] = {}
    again = []
    for row in range(run.speed.size):
        key = tuple(
            np.nan_to_num([run.speed[row], run.thrust[row], run.torque[row], run.power[row]]).tolist()
        )
        if key in seen:
            again.append(row)
        seen.setdefault(key, row)
    return again


def _sagging(run: StandRun) -> list[int]:
    """Rows where the supply gives in: volts below the line of the lighter half, or speed falling as power
    rises.

    A battery's volts fall evenly with load and make a line; a supply at its limit leaves the line.
    """
    rows: list[int] = []
    load = run.power if np.isfinite(run.power).all() else run.thrust
    if run.voltage.size >= 6 and np.isfinite(run.voltage).all():
        light = load <= np.median(load)
        slope = _median_slope(load[light] / load.max(), run.voltage[light])
        middle = np.median(run.voltage[light] - slope * load[light] / load.max())
        expected = middle + slope * load / load.max()
        rows = _rows(run.voltage < SAG * expected)
    if np.isfinite(run.power).all():
        fastest = int(np.argmax(run.speed))
        slower = (run.power > run.power[fastest]) & (run.speed < run.speed[fastest])
        rows += _rows(slower)
    return sorted(set(rows))
