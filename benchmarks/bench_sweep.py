"""What a sweep costs: seconds on two cores, the same a point from a hundred to ten thousand, and memory.

Target: 1,000 full assessments in 20 s on two cores, below 1 GB for 10,000 points. Ten thousand take minutes:
`python benchmarks/bench_sweep.py 100 1000 10000` prints what each number of points costs. The rotor is solved
anew wherever a key that the air feels moves: at every one of quasi-random points, seldom on a grid.
"""

from __future__ import annotations

import resource
import sys
import time
from itertools import product
from pathlib import Path

import pytest

from bladehold.sheet.vary import load_source, read_axis
from bladehold.study.sweep import sweep_of
from bladehold.study.sweep_run import run

REPAIRED = Path(__file__).parents[1] / "examples" / "tarn6_repaired.toml"
KEYS = {
    "hub and blade mass": (
        "hub.plate_thickness=3 mm..5 mm",
        "hub.gap=0 mm..0.2 mm",
        "propeller.blade_mass=30 g..40 g",
    ),
    "what the air feels": (
        "hub.plate_thickness=3 mm..5 mm",
        "flying.load_factor=1.4..2",
        "propeller.pitch=7 in..9 in",
    ),
}


def swept(name: str, count: int, *, grid: bool = False) -> float:
    """Seconds of a sweep on two cores, workers' start included: quasi-random, or a grid of about as many."""
    source = load_source(REPAIRED)
    along = round(count ** (1.0 / len(KEYS[name])))
    axes = [read_axis(f"{text}:{along}" if grid else text, source) for text in KEYS[name]]
    sweep = sweep_of(source, axes, drawn=None if grid else count)
    count = sweep.count
    before = time.perf_counter()
    found = run(sweep, workers=2)
    assert len(found.records) == count
    return time.perf_counter() - before


@pytest.mark.parametrize("name", KEYS)
def test_sweep_of_100(benchmark, name):
    benchmark.pedantic(swept, args=(name, 100), rounds=2)


def main(counts: list[int]) -> None:
    """Print the cost of sweeps of so many points."""
    for name, grid, count in product(KEYS, (False, True), counts):
        spent = swept(name, count, grid=grid)
        own, workers = (
            resource.getrusage(who).ru_maxrss / 1024
            for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
        )
        print(
            f"{name}, {'grid' if grid else 'quasi-random'}: {count} points, {spent:.1f} s, "
            f"{1e3 * spent / count:.1f} ms a point; {own:.0f} MB, each worker {workers:.0f} MB",
            flush=True,
        )


if __name__ == "__main__":
    main([int(word) for word in sys.argv[1:]] or [100, 1000])
