"""By how much all loads of a part may grow until one kind of cycle alone uses up its life.

Stresses of a cycle grow together, amplitude and mean alike. Each function is the inverse of the cycles to
failure of its curve; `damage` sums the kinds of cycle.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint import fatigue
from bladehold.joint._arrays import Floats, at_least_zero, positive, real
from bladehold.joint.bearing_line import BearingLine
from bladehold.joint.stress_life import HandbookCurve, ReversedLine, amplitude_and_mean


@dataclass(frozen=True, eq=False)
class ThreadLine:
    """The finite-life law of VDI 2230 as a stress-life curve: endurance - sigma_A, Pa; method - as there.

    The mean stress does not count. Source: VDI 2230 Part 1, 5.5.3.
    """

    endurance: ArrayLike
    method: str

    def cycles(self, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Cycles to failure between two stresses [Pa], see `fatigue.thread_cycles`."""
        amplitude, _ = amplitude_and_mean(maximum, minimum)
        return fatigue.thread_cycles(amplitude, self.endurance, self.method)


def load_multiplier(
    curve: ThreadLine | HandbookCurve | ReversedLine | BearingLine,
    cycles: ArrayLike,
    amplitude: ArrayLike,
    mean: ArrayLike,
) -> Floats:
    """Factor k on both stresses of a cycle with which it lasts just so often.

    Thread: S / sa. Handbook curve: at the same stress ratio, Sa / sa. Lines with Goodman's rule to a static
    strength F: S / (sa + S sm / F), S the fully reversed strength. A mean in compression counts as none.

    Arguments (broadcast together, the curve apart):
        curve: with Goodman's rule where it is a `ReversedLine`; cycles: N wanted [-]; amplitude: sa, of the
        curve's own specimens [Pa]; mean: sm [Pa].
    Returns: k [-]; infinite where nothing swings. With fewer cycles wanted than the curve knows, k of the
        fewest it knows.
    Errors: ValueError when the cycles are not positive, the amplitude negative, or the line's rule not
        Goodman's.
    Source: the curves' own, solved for the load.
    """
    swing, middle = at_least_zero("stress amplitude", amplitude), real("mean stress", mean)
    with np.errstate(divide="ignore", invalid="ignore"):
        if isinstance(curve, ThreadLine):
            return fatigue.thread_amplitude(cycles, curve.endurance, curve.method) / swing
        if isinstance(curve, HandbookCurve):
            grown = curve.allowable(cycles, middle + swing, middle - swing)
            return np.where(swing > 0.0, grown / swing, np.inf)
        if isinstance(curve, BearingLine):
            strength = positive("bearing strength", curve.strength)
            lasting = curve.reversed_share(cycles) * strength
        else:
            if curve.mean_stress != "goodman":
                raise ValueError(f"a line with mean stress by {curve.mean_stress} has no closed multiplier")
            strength = positive("tensile strength", curve.tensile_strength)
            lasting = curve.allowable(cycles, 0.0, 0.0)
        found = lasting / (swing + lasting * np.maximum(middle, 0.0) / strength)
        return np.where(swing > 0.0, found, np.inf)


def thread_load_multiplier(line: ThreadLine, cycles: ArrayLike, amplitude: ArrayLike) -> Floats:
    """Factor k on the stresses of several kinds of cycle with which these together use up a thread's life.

    Miner's sum of N_i (k s_i)^p / ND over the kinds with k s_i above 1, s_i = sa_i / S: with the kinds in
    order of falling s_i and D_j the sum of N_i s_i^p / ND over the first j, k is the least over j of
    max(1 / s_j, D_j^(-1/p)). The greatest swing leaves `VDI_FEWEST` cycles at the least.

    >>> line = ThreadLine(50e6, "vdi-rolled-before")
    >>> print(thread_load_multiplier(line, [2e6, 16e6], [50e6, 20e6]).round(2))
    1.0

    Arguments (broadcast together, the line apart):
        line: with one endurance; cycles: N_i wanted of each kind, the kinds on the last axis [-]; amplitude:
        sa_i [Pa].
    Returns: k [-], without the last axis; infinite where nothing swings.
    Errors: ValueError when cycles or an amplitude are negative, the endurance not positive, or the method
        unknown.
    Source: VDI 2230 Part 1, 5.5.3, with Miner's rule, solved for the load.
    """
    power = fatigue.thread_exponent(line.method)
    number, swing = np.broadcast_arrays(
        at_least_zero("cycles", cycles), at_least_zero("stress amplitude", amplitude)
    )
    share = np.where(number > 0.0, swing, 0.0) / positive("endurance", line.endurance)
    order = np.argsort(-share, axis=-1)
    share, number = (np.take_along_axis(values, order, axis=-1) for values in (share, number))
    used = np.cumsum(number * share**power, axis=-1) / fatigue.VDI_KNEE
    most = (fatigue.VDI_KNEE / fatigue.VDI_FEWEST) ** (1.0 / power)
    with np.errstate(divide="ignore", over="ignore"):
        together = np.maximum(1.0 / share, used ** (-1.0 / power)).min(axis=-1)
        return np.asarray(np.minimum(together, most / share[..., 0]))
