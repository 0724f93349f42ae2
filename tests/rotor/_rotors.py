"""Air, sections and blades shared by the tests of the solvers."""

import numpy as np
from hypothesis import strategies as st

from bladehold.rotor import AnalyticPolar, BladeGeometry, blade_from_measures, station_radii

AIR = {"density": 1.225, "viscosity": 1.79e-5, "speed_of_sound": 340.3}
PLATE = AnalyticPolar(cl=lambda a: 2.6 * np.sin(2 * a), cd=lambda a: 0.012 + 1.2 * np.sin(a) ** 2)


def measured(section="clark-y", pitch=0.23, **change):
    measures = {
        "diameter": 0.7112,
        "hub_radius": 0.03,
        "geometric_pitch": pitch,
        "widest_chord": 0.07,
        "widest_fraction": 0.35,
        "tip_chord": 0.025,
        "thickness_ratio": 0.117,
        "section": section,
    }
    return blade_from_measures(**(measures | change))


@st.composite
def wild_blades(draw):
    count = draw(st.integers(1, 6))
    radius = draw(st.floats(0.05, 3.0))
    hub = radius * draw(st.floats(0.0, 0.6))
    column = st.lists(st.floats(-np.pi, np.pi), min_size=count, max_size=count)
    chord = draw(st.lists(st.floats(1e-3, 1.0), min_size=count, max_size=count))
    weight = draw(st.lists(st.floats(0.0, 1.0), min_size=count, max_size=count))
    return BladeGeometry(
        radius=radius,
        hub_radius=hub,
        r=station_radii(hub, radius, count),
        chord=radius * np.array(chord),
        twist=np.array(draw(column)),
        thickness=0.1 * radius * np.array(chord),
        sections=("naca4415", "thin-cambered-5"),
        section_weights=np.stack([np.array(weight), 1.0 - np.array(weight)], axis=-1),
    )
