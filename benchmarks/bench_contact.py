"""Time of the clevis contact model: `make bench`. Targets are stated; nothing here asserts a time."""

import numpy as np
import pytest

from bladehold.joint.contact import solve_clevis
from bladehold.joint.contact_model import (
    clevis_model,
    foundation_modulus,
    plate_bending_stiffness,
    plate_shear_stiffness,
)

PLATE = plate_bending_stiffness(71e9, 20e-3, 4e-3)
CLEVIS = {
    "half_length": 9e-3,
    "contact_width": 18e-3,
    "foundation": foundation_modulus(9e9, 8e-3, 71e9, 4e-3),
    "hole_diameter": 5e-3,
    "head_diameter": 12.5e-3,
    "screw_stiffness": 1.5e8,
    "upper_bending": PLATE,
    "lower_bending": PLATE,
    "root_distance": 17.5e-3,
}
LUG = {
    "lug_bending": plate_bending_stiffness(50e9, 20e-3, 8e-3),
    "lug_shear": plate_shear_stiffness(3.5e9, 20e-3, 8e-3),
}
TIES = {"upper_root": "guided", "core_stiffness": 1e9, "tie_distance": 13e-3, "tie_stiffness": 5e7}
TIES |= {"spacer_stiffness": 2e8, "tie_preload": 1000.0}
CASES = np.random.default_rng(0)
LOADS = CASES.uniform(0, 60, 1000), CASES.uniform(0, 500, 1000), CASES.uniform(0, 6000, 1000)


@pytest.mark.parametrize(
    "more", [{}, LUG, LUG | TIES, LUG | {"gap": 5e-5}], ids=["rigid lug", "plain", "ties", "gap"]
)
def test_thousand_load_cases_of_one_clevis(benchmark, more):
    """Target: 12 ms with a rigid lug, 20 ms with one that bends."""
    state = benchmark(solve_clevis, clevis_model(**CLEVIS, **more), *LOADS)
    assert state.converged.all()


def test_thousand_clevises(benchmark):
    """Every case with a bed, screw and plates of its own. Target: 40 ms."""
    model = clevis_model(
        **(CLEVIS | LUG),
        gap=CASES.uniform(0, 5e-5, 1000),
    )
    state = benchmark(solve_clevis, model, *LOADS)
    assert state.converged.all()


def test_one_check(benchmark):
    """Target: 3 ms."""
    state = benchmark(solve_clevis, clevis_model(**CLEVIS, **LUG), 20.0, 300.0, 3000.0)
    assert state.converged
