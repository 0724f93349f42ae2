"""Rao, Mechanical Vibrations: amplitude of one mode under a rotating unbalance, worked by hand."""

import pytest

from bladehold.loss import unbalance_magnification

SOURCE = "Rao, Mechanical Vibrations, rotating unbalance, worked by hand"


@pytest.mark.parametrize(("ratio", "printed", "places"), [(0.5, 0.3326, 4), (1.0, 10.000, 3)])
def test_amplitude(ratio, printed, places, published):
    published(
        "loss",
        SOURCE,
        f"damping ratio 0.05, speed {ratio:g} of the natural frequency",
        "M X / (m e)",
        printed,
        unbalance_magnification(ratio, 0.05),
        abs=0.5 * 10.0**-places,
        why=f"worked to {places} decimals",
    )
