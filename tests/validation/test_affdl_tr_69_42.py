"""Air Force Stress Analysis Manual, AFFDL-TR-69-42, chapter 9 (lugs), after an aircraft stress report.

The manual's curves were not read; the report quotes the factors it read off them (its forms F5, F6). Loads
there are in newtons, strengths in pounds.
"""

from bladehold.joint import lug, pin

SOURCE = "AFFDL-TR-69-42 ch. 9, quoted in an aircraft stress report"
INCH, POUND = 0.0254, 4.4482216152605
PSI = POUND / INCH**2


def test_oblique_lug(published):
    """Lug of 7075, D 2, t 2.5, w 4, e 2.5 in, Ftu 71 ksi; Kbr 1.24, Kt 0.95, Ktru 0.7875, FF 1.15."""
    D, t, w, strength = 2 * INCH, 2.5 * INCH, 4 * INCH, 71e3 * PSI
    bearing = lug.bearing_capacity(D, t, strength, 1.24)
    tension = lug.net_tension_capacity(w, D, t, strength, 0.95)
    transverse = lug.bearing_capacity(D, t, strength, 0.7875)
    for quantity, printed, ours in (
        ("P'bru, lb", 440200.0, bearing),
        ("P'tu, lb", 337250.0, tension),
        ("P'tru, lb", 279562.0, transverse),
    ):
        published(
            "joint",
            SOURCE,
            "F5",
            quantity,
            printed,
            ours / POUND,
            abs=1.0,
            why="half pounds cut off in print",
        )
    axial_ratio = 1.15 * 317840 / min(bearing, tension)
    transverse_ratio = 1.15 * lug.transverse_load(317840, 529740) / transverse
    margin = lug.oblique_multiplier(axial_ratio, transverse_ratio) - 1
    published("joint", SOURCE, "F5", "Ra", 0.2437, axial_ratio, abs=0.00005, why="four figures printed")
    published("joint", SOURCE, "F5", "Rtr", 0.4899, transverse_ratio, abs=0.00005, why="four figures printed")
    published(
        "joint", SOURCE, "F5", "margin of safety", 0.710, margin, abs=0.0005, why="three decimals printed"
    )


def test_pin_bending(published):
    """P 617776 N, pin 50.8, lug 63.5, ear 31.75, gap 0.762 mm."""
    moment = pin.bending_moment_air_force(617776.0, 31.75e-3, 63.5e-3, 0.762e-3)
    bending = pin.bending_stress(moment, 50.8e-3)
    shear = pin.double_shear_force(617776.0) / pin.shear_area(50.8e-3)
    why = "one decimal printed"
    published("joint", SOURCE, "F6", "pin bending stress, MPa", 780.3, bending / 1e6, abs=0.05, why=why)
    published("joint", SOURCE, "F6", "pin shear stress, MPa", 152.4, shear / 1e6, abs=0.05, why=why)
