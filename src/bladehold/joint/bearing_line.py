"""Fatigue of a laminate hole in bearing: the straight line from static strength, as a stress-life curve."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from bladehold.joint._arrays import Floats, positive
from bladehold.joint.stress_life import amplitude_and_mean

LAMINATE_FRACTION = 0.25
"""Pulsating bearing stress that lasts 1e6 cycles over the static bearing strength: woven aramid/epoxy at 1 Hz
(Akay and Kong Ah Mun, Composites 26 (1995) 451, abstract). Taken for carbon too, for want of a figure."""
LAMINATE_WATER = 0.60
"""Factor on the bearing fatigue limit in water, T300/5208 (Crews, Bolt-bearing fatigue of a graphite/epoxy
laminate, abstract): 40 % less, while the static strength falls only slightly."""
LAMINATE_KNEE = 1e6
"""Cycles at which the laminate's fraction was read."""


@dataclass(frozen=True, eq=False)
class BearingLine:
    """Line s = 1 - (1 - f) log10(N) / 6 of the greatest pulsating bearing stress over the static strength.

    strength - static, Pa; fraction - f at 1e6 cycles. Other cycles by Goodman's line to the static strength,
    past 1e6 cycles along the tangent in logarithms, see `fatigue_parts.laminate_bearing_life`.
    Source: Akay and Kong Ah Mun, Composites 26 (1995) 451, abstract (f); line and Goodman are own choices.
    """

    strength: ArrayLike
    fraction: ArrayLike = LAMINATE_FRACTION

    @property
    def method(self) -> str:
        """What a result says about how it was found."""
        share = 100.0 * float(np.min(self._fraction()))
        return f"bearing fatigue of laminate, {share:.3g} % of static at 1e6 cycles"

    def _fraction(self) -> Floats:
        f = positive("fraction", self.fraction)
        positive("1 - fraction", 1.0 - f)
        return f

    def _power(self) -> Floats:
        """Decades of cycles for one decade of stress on the tangent at 1e6 cycles."""
        f = self._fraction()
        return np.asarray(6.0 * f * np.log(10.0) / (1.0 - f))

    def _shares(self, maximum: ArrayLike, minimum: ArrayLike) -> tuple[Floats, Floats]:
        """Amplitude over static strength, and what the mean leaves of it."""
        amplitude, mean = amplitude_and_mean(maximum, minimum)
        strength = positive("bearing strength", self.strength)
        return amplitude / strength, 1.0 - np.maximum(mean, 0.0) / strength

    def cycles(self, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Cycles to failure between two bearing stresses [Pa]: infinite without a range, 0 past static."""
        f = self._fraction()
        swing, left = self._shares(maximum, minimum)
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            reversed_swing = np.where(left > 0.0, swing / left, np.inf)
            pulsating = np.where(left > 0.0, 2.0 * swing / (left + swing), np.inf)
            along = LAMINATE_KNEE * (f / pulsating) ** self._power()
            found = np.where(pulsating < f, along, 10.0 ** (6.0 * (1.0 - pulsating) / (1.0 - f)))
        return np.where(reversed_swing > 1.0, 0.0, found)

    def reversed_share(self, cycles: ArrayLike) -> Floats:
        """Fully reversed amplitude over static strength that lasts so many cycles [-]."""
        f = self._fraction()
        wanted = np.maximum(positive("required cycles", cycles), 1.0)
        early = 1.0 - (1.0 - f) * np.log10(np.minimum(wanted, LAMINATE_KNEE)) / 6.0
        late = f * (LAMINATE_KNEE / wanted) ** (1.0 / self._power())
        peak = np.where(wanted > LAMINATE_KNEE, late, early)
        return peak / (2.0 - peak)

    def allowable(self, cycles: ArrayLike, maximum: ArrayLike, minimum: ArrayLike) -> Floats:
        """Amplitude [Pa] that lasts so many cycles on the mean of two stresses, 0 where the mean fails."""
        _, left = self._shares(maximum, minimum)
        return np.asarray(np.maximum(left, 0.0) * self.reversed_share(cycles) * np.asarray(self.strength))

    def beyond(self, cycles: Floats) -> NDArray[np.bool_]:
        """Where a life lies past the cycles of the tests."""
        return np.asarray(cycles > LAMINATE_KNEE)
