"""Ekvall, J. Aircraft 23(5) (1986), transverse lug, after an aircraft stress report that quotes him."""

from bladehold.joint import lug

SOURCE = "Ekvall, J. Aircraft 23(5) (1986), quoted in an aircraft stress report"
INCH, POUND = 0.0254, 4.4482216152605


def test_transverse_lug(published):
    """Straight lug, W/D 2, D 2 in, t 2.5 in, Ftu 66 ksi."""
    factor = lug.ekvall_transverse_factor(2.0)
    load = lug.bearing_capacity(2 * INCH, 2.5 * INCH, 66e3 * POUND / INCH**2, factor)
    why = "whole pounds printed"
    published("joint", SOURCE, "transverse", "load, lb", 230010.0, load / POUND, abs=0.5, why=why)
    published("joint", SOURCE, "transverse", "K_BR", 0.697, factor, abs=0.0005, why="three decimals printed")
