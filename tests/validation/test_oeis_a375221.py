"""OEIS A375221: the service life factor of a single test, as used for rotor disks of turbines."""

from bladehold.joint.damage import scatter_factor


def test_one_test(published):
    published(
        "joint",
        "OEIS A375221",
        "one test, spread 6, 95 % confidence",
        "scatter factor",
        4.00313075960085,
        scatter_factor(1),
        rel=1e-12,
        why="printed with more digits than a computer keeps",
    )
