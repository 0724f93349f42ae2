import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.joint import pin, stepped

M5 = {"stress_area": 14.183e-6, "root_diameter": 4.0185e-3}


def test_shoulder_shears_and_thread_pulls():
    found = stepped.stepped_section(6e-3, **M5)
    assert float(found.shear_area) == pytest.approx(np.pi / 4 * 36e-6)
    assert float(found.tension_area) == pytest.approx(14.183e-6)
    assert float(found.step_modulus) == pytest.approx(float(pin.section_modulus(4.0185e-3)))


def test_a_groove_weaker_than_the_thread_decides():
    found = stepped.stepped_section(6e-3, groove_diameter=3.8e-3, **M5)
    assert float(found.tension_area) == pytest.approx(np.pi / 4 * 3.8e-3**2)
    assert float(found.step_modulus) == pytest.approx(float(pin.section_modulus(3.8e-3)))
    wide = stepped.stepped_section(6e-3, groove_diameter=4.5e-3, **M5)
    assert float(wide.tension_area) == pytest.approx(14.183e-6)


@pytest.mark.parametrize("bad", [{"shoulder_diameter": 4e-3}, {"groove_diameter": 7e-3}])
def test_a_shoulder_thinner_than_what_follows_is_refused(bad):
    with pytest.raises(ValueError, match="shoulder diameter must be greater"):
        stepped.stepped_section(**{"shoulder_diameter": 6e-3, **M5, **bad})


@pytest.mark.parametrize("load", ["tension", "bending"])
@pytest.mark.parametrize("slope", [0.5, 1.5, 3.0, 10.0])
def test_step_as_deep_as_the_shaft_has_no_concentration(load, slope):
    """The fitted cubics meet 1 where d vanishes: this settles every sign in them."""
    D, d = 10e-3, 1e-9
    kt = float(stepped.step_stress_concentration(D, d, (D - d) / 2 / slope, load))
    assert kt == pytest.approx(1.0, abs=0.04)


@pytest.mark.parametrize(("load", "expected"), [("tension", 2.0), ("bending", 1.7)])
def test_usual_shoulder(load, expected):
    """D/d 1.5, r/d 0.1: handbooks' usual first guesses, 1.9 to 2.1 and 1.6 to 1.8."""
    kt = float(stepped.step_stress_concentration(15e-3, 10e-3, 1e-3, load))
    assert kt == pytest.approx(expected, abs=0.15)


@given(st.floats(1.05, 1.6), st.floats(0.02, 0.5), st.sampled_from(["tension", "bending"]))
def test_sharper_steps_concentrate_more(ratio, radius, load):
    def kt(r):
        return float(stepped.step_stress_concentration(ratio, 1.0, r, load))

    assert kt(radius) > 1.0
    assert kt(radius / 2) > kt(radius) - 0.05  # the two halves of the fit meet to 0.05


def test_unknown_load_and_no_step_are_refused():
    with pytest.raises(ValueError, match="load must be one of"):
        stepped.step_stress_concentration(2.0, 1.0, 0.1, "torsion")
    with pytest.raises(ValueError, match="larger diameter"):
        stepped.step_stress_concentration(1.0, 1.0, 0.1, "bending")
    assert stepped.STEP_FILLET.breach(25.0)


def test_ring_groove_and_collar_by_hand():
    ring = stepped.ring_shear_load(5e-3, 0.6e-3, 700e6)
    wall = stepped.groove_load(5e-3, 4.8e-3, 600e6)
    collar = stepped.groove_shear_load(4.8e-3, 1.0e-3, 346e6)
    assert float(ring) == pytest.approx(np.pi * 5e-3 * 0.6e-3 * 700e6)
    assert float(wall) == pytest.approx(np.pi / 4 * (25 - 23.04) * 1e-6 * 600e6)
    assert float(stepped.ring_capacity(ring, wall, collar)) == pytest.approx(float(wall))
    assert float(stepped.ring_capacity(ring, wall, collar, maker_rating=500.0)) == 500.0
    assert float(stepped.ring_capacity(ring, wall, maker_rating=9e9)) == pytest.approx(float(wall))
    with pytest.raises(ValueError, match="at least one load"):
        stepped.ring_capacity()
