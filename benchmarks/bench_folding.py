"""Time of the blade room: `make bench`. Targets are stated; nothing here asserts a time."""

import numpy as np

from bladehold.blade import folding_blade, lag_swing, speed_ramp


def test_fifty_starts_from_the_folded_position(benchmark):
    """Target: well under a second."""
    cases = np.random.default_rng(1)
    blade = folding_blade(
        0.034, 0.030, 0.102, 4.6e-4, cases.uniform(0.05, 1.5, 50), friction_arm=0.0004, drag_constant=4e-6
    )
    history = speed_ramp(0.0, 540.0, cases.uniform(0.3, 2.0, 50), 1.0)
    swing = benchmark(lag_swing, blade, history, np.radians(cases.uniform(20.0, 150.0, 50)))
    assert swing.angle.shape[1:] == (50,)
