"""All checks of the joint for 200 load cases, warm: the target is 20 ms. Nothing here asserts a time."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

import bladehold
from bladehold.study.assess import outcomes
from bladehold.study.checks.registry import RULES, STRENGTH
from bladehold.study.loads import Loads, loads_of
from bladehold.study.situation import Situation

EXAMPLES = Path(__file__).parents[1] / "examples"
CASES = 200
RULE_SETS = {"strength": STRENGTH, "all": RULES}


def many(loads: Loads) -> Loads:
    """The conditions over and over, each time with other loads, the proof last."""
    count = len(loads.names) - 1
    index = np.append(np.arange(CASES) % count, count)
    vary = np.append(np.linspace(0.8, 1.2, CASES), 1.0)

    def tiled(values: np.ndarray) -> np.ndarray:
        return np.asarray(values)[..., index]

    root = {name: tiled(values) * vary for name, values in vars(loads.root).items()}
    return replace(
        loads,
        names=tuple(loads.names[i] for i in index),
        thrust=tiled(loads.thrust) * vary,
        speed=tiled(loads.speed),
        torque=tiled(loads.torque) * vary,
        root=type(loads.root)(**root),
        hub_moment=tiled(loads.hub_moment) * vary,
        flight=tiled(loads.flight),
        time_share=tiled(loads.time_share) * count / CASES,
    )


@pytest.mark.parametrize("rules", RULE_SETS)
@pytest.mark.parametrize("sheet", ["tarn6_repaired", "tarn6_as_delivered"])
@pytest.mark.parametrize("cases", [10, CASES])
def test_checks_of_every_case(benchmark, sheet, cases, rules):
    build = bladehold.load(EXAMPLES / f"{sheet}.toml").build
    loads = loads_of(build)
    loads = many(loads) if cases == CASES else loads
    assert benchmark(lambda: outcomes(Situation(build, loads), RULE_SETS[rules]))
