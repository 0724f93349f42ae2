"""Speed of the answers, warm: `make bench`. The targets are stated beside each.

Nothing here asserts a time.
"""

from dataclasses import replace
from pathlib import Path

import pytest

import bladehold
from bladehold.sheet.build import OwnCase
from bladehold.sheet.lineup import load_lineup
from bladehold.study import advise, assess, limit, range_rows, size
from bladehold.study.loads import loads_of

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="module")
def build():
    """The repaired example with user cases enough to make 24 conditions."""
    base = bladehold.load(EXAMPLES / "tarn6_repaired.toml").build
    count = 24 - (len(loads_of(base).names) - 1)
    cases = tuple(
        OwnCase(f"case {n}", base.flying.used_thrust * (1 + 0.05 * n), 2.0 * n % 15, 0.0, None, None)
        for n in range(count)
    )
    found = replace(base, flying=replace(base.flying, cases=cases))
    assert len(loads_of(found).names) == 25  # 24 conditions and the proof
    return found


def test_assess_24_conditions_30_stations(benchmark, build):
    """Target: under 50 ms."""
    assert benchmark(assess, build).checks


def test_checks_alone(benchmark, build):
    loads = loads_of(build)
    assert benchmark(assess, build, loads).checks


def test_limit(benchmark, build):
    assert benchmark(limit, build).parts


def test_size(benchmark, build):
    assert benchmark(size, build).smallest


def test_advise(benchmark, build):
    found = assess(build)
    assert benchmark(advise, found).most


def test_range_of_eight(benchmark, build):
    entries = load_lineup(EXAMPLES / "ostrel_line.csv")
    assert len(benchmark.pedantic(range_rows, args=(build, entries), rounds=3)) == 8
