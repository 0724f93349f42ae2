"""Time of what follows a failure: `make bench`. Targets are stated; nothing here asserts a time."""

from pathlib import Path

import numpy as np
import pytest

from bladehold.loss import bending_roots, farthest_throw
from bladehold.sheet import load_sheet, resolve
from bladehold.study import arm_answer, assess, loads_of, release_answer
from bladehold.study.consequence import consequence_answer

EXAMPLES = Path(__file__).parents[1] / "examples"


@pytest.fixture(scope="module")
def build():
    return resolve(load_sheet(EXAMPLES / "tarn6_repaired.toml"), EXAMPLES)


@pytest.fixture(scope="module")
def loads(build):
    return loads_of(build)


def test_three_roots_of_a_thousand_arms(benchmark):
    benchmark(bending_roots, np.linspace(0.0, 10.0, 1000), 0.01, 3)


def test_farthest_throw_of_six(benchmark):
    """Target: 50 ms."""
    benchmark(farthest_throw, np.array([[60.0], [80.0], [90.0]]), 80.0, 0.5, np.array([4e-3, 0.15]))


def test_unbalance_on_the_arm(benchmark, build, loads):
    """Target: 20 ms, loads known."""
    benchmark(arm_answer, build, 0.034 * 0.132, loads)


def test_release(benchmark, build, loads):
    """Target: 60 ms, loads known."""
    benchmark(release_answer, build, loads)


def test_whole_table_of_consequences(benchmark, build):
    """Target: 200 ms, checks known."""
    benchmark(consequence_answer, assess(build))
