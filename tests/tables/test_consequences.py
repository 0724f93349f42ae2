"""Figures that what follows a failure is held against."""

from bladehold.tables import consequence, consequence_names


def test_values_units_and_marks():
    figures = {name: (consequence(name).value, consequence(name).unit) for name in consequence_names()}
    assert figures == {
        "injury_low": (14.91, "J"),
        "injury_high": (33.90, "J"),
        "no_fatality": (66.0, "J"),
        "tip_speed_abrasion": (25.0, "m/s"),
        "tip_speed_laceration": (60.0, "m/s"),
        "vibration_acceptable": (30.0, "m/s^2"),
        "vibration_trouble": (60.0, "m/s^2"),
        "edge_on_drag": (0.02, "1"),
        "tumbling_drag": (0.745, "1"),
    }
    unconfirmed = {name for name in figures if consequence(name).provenance.unconfirmed}
    assert unconfirmed == {"edge_on_drag", "tumbling_drag"}
