"""What the trade has learnt by breaking screws (common practice, no source), against the tool's answer.

A 22-inch two-blade folding propeller, 24 g blades balanced 92 mm outboard of the pivot, pivot radius 28 mm,
lug 8 x 16 mm, 7075-T6 plates of 3 mm, A2-70 screws with threads in the shear planes, flown hard (load factor
1.25, once-per-turn flap moment half of the mean) at 8 kgf per rotor: M3 does not hold, M4 is borderline, M5
holds. A 28-inch one, 50 g blades balanced 115 mm outboard, pivot radius 34 mm, lug 10 x 20 mm: M4 is good for
about 9 kgf, not for 20. Margins at factor 1 on yield. The pitch (a third of the diameter) and the section are
not part of the facts; the answer must not hang on the section, so four are tried.
"""

import pytest
from sheets import trade_sheet

from bladehold.air import GRAVITY
from bladehold.study import assess, limit
from bladehold.study.checks.parts import PIVOT
from bladehold.study.checks.rule import YIELD

SECTIONS = ["naca2412", "clark-y", "naca4412", "naca6409"]


def yield_margin(thread, section):
    build = trade_sheet(22, "24 g", "92 mm", "28 mm", ("8 mm", "16 mm"), thread, 8.0, section)
    return min(c.margin for c in assess(build).checks if c.part == PIVOT and c.level == YIELD)


@pytest.mark.parametrize("section", SECTIONS)
def test_22_inch_m3_fails_m4_is_borderline_m5_holds(section):
    assert yield_margin("M3", section) < -0.2
    assert -0.35 <= yield_margin("M4", section) <= 0.35
    assert yield_margin("M5", section) >= 0.0


@pytest.mark.parametrize("section", SECTIONS)
def test_28_inch_m4_ends_between_5_and_12_kgf(section):
    build = trade_sheet(28, "50 g", "115 mm", "34 mm", ("10 mm", "20 mm"), "M4", 9.0, section)
    pivot = next(part for part in limit(build).parts if part.part == PIVOT)
    assert 5.0 <= pivot.thrust / GRAVITY <= 12.0
    at_20 = trade_sheet(28, "50 g", "115 mm", "34 mm", ("10 mm", "20 mm"), "M4", 20.0, section)
    assert assess(at_20).by_part()[PIVOT].margin < -0.2


def test_even_pressure_on_the_pin_would_condemn_screws_that_the_trade_flies():
    """The handbook lever without peaking puts M5 below zero: why the bedded pin is the default."""
    from dataclasses import replace

    build = trade_sheet(22, "24 g", "92 mm", "28 mm", ("8 mm", "16 mm"), "M5", 8.0)
    even = replace(build, policy=replace(build.policy, pin_bending="air-force"))
    assert assess(even).by_part()[PIVOT].margin < 0.0 < assess(build).by_part()[PIVOT].margin
