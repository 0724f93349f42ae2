"""The type of a number that may be a float or an array, without loading the array library."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

Real = TypeVar("Real", "float", "NDArray[np.float64]")
"""A float, or a float array of any shape; a formula returns what it was given."""
