"""Masses of socket screws against a supplier's chart of DIN 912 (ISO 4762), kg per 1000 pieces.

Source: weight chart of DIN 912 screws published on the web by a Canadian supplier of metric fasteners, read.
The chart rounds to a tenth of a gram and is not smooth: M5 gains 0.13 g per mm from 16 to 20 mm and 0.16 from
20 to 25 mm. Ours is geometry at nominal measures and steel of 7850 kg/m^3.
"""

from dataclasses import replace
from pathlib import Path

import pytest

from bladehold.sheet import load_sheet, resolve
from bladehold.study.mass import screw_mass
from bladehold.tables import property_class, thread

EXAMPLES = Path(__file__).parents[2] / "examples"
SOURCE = "DIN 912, weight chart of a supplier"
CHART = [
    ("M3", 20, 1.4),
    ("M4", 20, 2.7),
    ("M5", 20, 4.0),
    ("M5", 30, 5.6),
    ("M6", 30, 8.3),
    ("M8", 40, 20.9),
]


@pytest.mark.parametrize(("size", "length", "grams"), CHART)
def test_socket_screws(published, size, length, grams):
    screw = resolve(load_sheet(EXAMPLES / "tarn6_as_delivered.toml")).pivot
    steel = property_class("8.8")
    one = replace(screw, thread=thread(size), head="socket", shear_plane="thread", strength=steel)
    published(
        "joint",
        SOURCE,
        f"{size} x {length}",
        "mass, g",
        grams,
        1e3 * screw_mass(one, 1e-3 * length),
        rel=0.12,
        why="the chart's own steps from length to length scatter by a fifth",
    )
