"""The range in which a formula was shown to hold, and what happens outside it.

Physics rooms state such ranges beside their formulas; the study asks them about
the values at hand and puts every breach on the check record, so that a result
outside its range is seen, never hidden.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike


@dataclass(frozen=True)
class Range:
    """One quantity's range in one formula, ends included.

    Arguments: quantity - what is bounded, in the trade's words; low, high - the
    ends in `unit` (None where the source sets none); unit - text, "" for a pure
    number; consequence - what the result is worth outside; source - who says so.
    """

    quantity: str
    low: float | None
    high: float | None
    unit: str
    consequence: str
    source: str

    def breach(self, value: ArrayLike) -> str | None:
        """One sentence when any of `value` (any shape, in `unit`) lies outside, else None.

        >>> Range("w/D", 1.5, 5.0, "", "factor extrapolated", "example").breach([2.0, 6.0])
        'w/D = 6 is outside 1.5 to 5: factor extrapolated (example)'
        """
        values = np.atleast_1d(np.asarray(value, dtype=float))
        low = -np.inf if self.low is None else self.low
        high = np.inf if self.high is None else self.high
        outside = values[~((values >= low) & (values <= high))]
        if outside.size == 0:
            return None
        worst = outside[np.argmax(np.maximum(low - outside, outside - high))]
        unit = f" {self.unit}" if self.unit else ""
        if self.low is None:
            ends = f"above {self.high:g}{unit}"
        elif self.high is None:
            ends = f"below {self.low:g}{unit}"
        else:
            ends = f"outside {self.low:g} to {self.high:g}{unit}"
        return f"{self.quantity} = {worst:.4g}{unit} is {ends}: {self.consequence} ({self.source})"
