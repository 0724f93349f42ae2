"""Setting a preload by torque: the band of preloads that one torque makes, and the torques that keep a band.

Everything that lies between wrench and screw is in one `Spread`; both directions are exact inverses of each
other because preload is linear in torque.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from bladehold.joint._arrays import Floats, at_least_zero, larger, positive, real
from bladehold.joint.preload import SHORT_TERM_RELAXATION, Limits, maximum_preload, minimum_preload


@dataclass(frozen=True)
class Spread:
    """What scatters between the torque on the wrench and the preload in the screw; any shapes.

    diameter - of the thread D [m]; nut_factor_low, nut_factor_high - K [-]; scatter_up, scatter_down - share
    by which the preload lies above and below its nominal beside K [-]; wrench - tolerance of the wrench as
    a share [-]; prevailing_low, prevailing_high - running torque of a locking nut [N m]; relaxation - share
    lost soon after, taken from the least only [-]; loss - lost by embedding or creep, from the least only
    [N].
    """

    diameter: ArrayLike
    nut_factor_low: ArrayLike
    nut_factor_high: ArrayLike
    scatter_up: ArrayLike
    scatter_down: ArrayLike
    wrench: ArrayLike = 0.0
    prevailing_low: ArrayLike = 0.0
    prevailing_high: ArrayLike = 0.0
    relaxation: ArrayLike = SHORT_TERM_RELAXATION
    loss: ArrayLike = 0.0

    def __post_init__(self) -> None:
        """Refuse ends that are the wrong way round, and shares that leave nothing."""
        low, high = positive("least nut factor", self.nut_factor_low), real("", self.nut_factor_high)
        at_least_zero("greatest nut factor less the least", high - low)
        at_least_zero("least prevailing torque", self.prevailing_low)
        at_least_zero(
            "greatest prevailing torque less the least",
            real("", self.prevailing_high) - real("", self.prevailing_low),
        )
        for name in ("scatter_down", "wrench", "relaxation"):
            share = at_least_zero(name.replace("_", " "), getattr(self, name))
            larger("1", np.ones(()), name.replace("_", " "), share)
        at_least_zero("scatter up", self.scatter_up)
        at_least_zero("loss", self.loss)

    @property
    def least_per_torque(self) -> Floats:
        """Least preload for each newton metre that stretches the screw [1/m], losses in newtons left out."""
        nominal = 1.0 / (positive("greatest nut factor", self.nut_factor_high) * np.asarray(self.diameter))
        return minimum_preload(nominal, self.scatter_down, relaxation=self.relaxation)

    @property
    def greatest_per_torque(self) -> Floats:
        """Greatest preload for each newton metre that stretches the screw [1/m]."""
        nominal = 1.0 / (positive("least nut factor", self.nut_factor_low) * np.asarray(self.diameter))
        return maximum_preload(nominal, self.scatter_up)

    @property
    def factor(self) -> Floats:
        """Tightening factor alphaA, greatest over least preload of one torque without running torque [-]."""
        wrench = real("wrench tolerance", self.wrench)
        return self.greatest_per_torque / self.least_per_torque * (1.0 + wrench) / (1.0 - wrench)


def preload_limits(torque: ArrayLike, spread: Spread) -> Limits:
    """Greatest and least preload of a torque.

    Pmax = (1 + Gup) [T (1 + w) - Tp,low] / (Klow D),
    Pmin = (1 - Gdown) (1 - r) [T (1 - w) - Tp,high] / (Khigh D) - loss

    >>> spread = Spread(5e-3, 0.2, 0.2, 0.35, 0.35, prevailing_high=0.4)
    >>> limits = preload_limits(0.9, spread)
    >>> print(f"{limits.minimum:.0f} to {limits.maximum:.0f} N")
    309 to 1215 N

    Arguments (broadcast together):
        torque: T, as the wrench is set [N m]; spread: what scatters.
    Returns: preloads [N], not below 0.
    Errors: ValueError when the torque is negative.
    Source: NASA-STD-5020B (2021) eq. 1-4 with the torque left above running of eq. 29, 30.
    """
    setting, wrench = at_least_zero("torque", torque), real("wrench tolerance", spread.wrench)
    above = setting * (1.0 + wrench) - real("least prevailing torque", spread.prevailing_low)
    left = setting * (1.0 - wrench) - real("greatest prevailing torque", spread.prevailing_high)
    return Limits(
        np.maximum(above * spread.greatest_per_torque, 0.0),
        np.maximum(left * spread.least_per_torque - real("loss", spread.loss), 0.0),
    )


def torque_band(least_preload: ArrayLike, greatest_preload: ArrayLike, spread: Spread) -> Limits:
    """Torques whose every preload lies within a band, `preload_limits` solved for the torque.

    Arguments (broadcast together):
        least_preload: that the least must reach [N]; greatest_preload: that the greatest must not exceed
        [N]; spread: what scatters.
    Returns: greatest and least torque [N m]; where the least is above the greatest no torque serves.
    Errors: ValueError when the least preload is negative or the greatest not finite.
    Source: as `preload_limits`, derived from it.
    """
    wrench = real("wrench tolerance", spread.wrench)
    wanted = at_least_zero("least preload", least_preload)
    reached = (wanted + real("loss", spread.loss)) / spread.least_per_torque
    low = (reached + real("greatest prevailing torque", spread.prevailing_high)) / (1.0 - wrench)
    allowed = np.maximum(real("greatest preload", greatest_preload), 0.0) / spread.greatest_per_torque
    high = (allowed + real("least prevailing torque", spread.prevailing_low)) / (1.0 + wrench)
    # A least of zero asks for no torque at all, not even that of a locking nut.
    return Limits(np.asarray(high), np.where(wanted > 0.0, low, 0.0))
