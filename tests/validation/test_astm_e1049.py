"""ASTM E1049-85 (2017), Standard Practices for Cycle Counting in Fatigue Analysis, 5.4.4: the rainflow
example.

The history of figure 6 and its counts, as quoted in the reference figures of the project and in the
documentation of the library that counts.
"""

import numpy as np
import pytest

from bladehold.joint.counting import rainflow_pairs

SOURCE = "ASTM E1049-85, 5.4.4, rainflow example"
HISTORY = np.array([-2.0, 1.0, -3.0, 5.0, -1.0, 3.0, -4.0, 4.0, -2.0])
COUNTS = {3: 0.5, 4: 1.5, 6: 0.5, 8: 1.0, 9: 0.5}


@pytest.mark.parametrize("size", COUNTS)
def test_cycles_by_range(size, published):
    pairs = rainflow_pairs(HISTORY)
    found = np.abs(HISTORY[pairs.first] - HISTORY[pairs.second])
    published(
        "joint",
        SOURCE,
        f"cycles of range {size}",
        "count",
        COUNTS[size],
        float(pairs.count[found == size].sum()),
        abs=0.0,
        why="a count",
    )
