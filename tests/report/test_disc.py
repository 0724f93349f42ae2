"""Where things lie on the picture of a disc: flight up, turning as seen from above."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.report.disc import DiscLoads, disc_rows, furniture, page_angle

PSI = np.arange(8) * np.pi / 4
R = np.array([0.1, 0.2, 0.28])


def loads(value=None):
    value = np.arange(24.0).reshape(8, 3) if value is None else value
    return DiscLoads("thrust", "N/m²", R, 0.03, 0.3, PSI, value)


def place(angle):
    """x to the right and y up the page of an angle from the top clockwise."""
    return np.array([np.sin(angle), np.cos(angle)])


@pytest.mark.parametrize(("clockwise", "right"), [(False, 1.0), (True, -1.0)])
def test_azimuths_on_the_page(clockwise, right):
    down, advancing, up = (page_angle(np.array(a), clockwise=clockwise) for a in (0.0, np.pi / 2, np.pi))
    assert place(down) == pytest.approx([0.0, -1.0], abs=1e-12)
    assert place(up) == pytest.approx([0.0, 1.0], abs=1e-12)
    assert place(advancing) == pytest.approx([right, 0.0], abs=1e-12)


@given(psi=st.floats(0.0, 6.28), clockwise=st.booleans())
def test_the_blade_moves_forward_on_the_side_that_is_called_advancing(psi, clockwise):
    before, after = (page_angle(np.array(psi + d), clockwise=clockwise) for d in (-1e-4, 1e-4))
    forward = (place(after) - place(before))[1] / 2e-4
    assert forward == pytest.approx(np.sin(psi), abs=1e-6)


@pytest.mark.parametrize("clockwise", [False, True])
def test_cells_cover_the_disc_once_and_keep_their_values(clockwise):
    rows = disc_rows(loads(), clockwise=clockwise)
    area = sum(0.5 * (row["end"] - row["begin"]) * (row["outer"] ** 2 - row["inner"] ** 2) for row in rows)
    assert area == pytest.approx(np.pi * (1.0 - 0.1**2))
    for row in rows:
        middle = 0.5 * (row["begin"] + row["end"])
        azimuth = np.radians(row["azimuth"])
        expected = page_angle(np.array(azimuth), clockwise=clockwise)
        assert place(middle) == pytest.approx(place(expected), abs=1e-9)
        a, s = round(azimuth / (np.pi / 4)), int(np.argmin(np.abs(R - row["radius"] / 1e3)))
        assert row["value"] == loads().value[a, s]
        assert row["inner"] < R[s] / 0.3 < row["outer"]


@pytest.mark.parametrize(("clockwise", "side"), [(False, 1.0), (True, -1.0)])
def test_words_and_arrows_stand_on_the_right_side(clockwise, side):
    drawn = furniture(clockwise=clockwise)
    words = {word["text"]: word for word in drawn.words}
    assert words["advancing side"]["x"] * side > 0.0 > words["retreating side"]["x"] * side
    assert ("turns clockwise" in words) == clockwise
    arc = [point for point in drawn.lines if point["line"] == "turning"]
    assert all(point["x"] * side > 0.0 for point in arc)
    assert arc[-1]["y"] > arc[0]["y"], "the advancing side moves towards the flight"
    head = drawn.heads[1]
    step = np.array([arc[-1]["x"] - arc[-2]["x"], arc[-1]["y"] - arc[-2]["y"]])
    pointing = place(np.radians(head["angle"]))
    assert pointing @ step / np.linalg.norm(step) > 0.99


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"value": np.zeros((3, 8))}, "value must have the shape"),
        ({"value": np.full((8, 3), np.nan)}, "finite"),
        ({"psi": np.linspace(0.0, np.pi, 8)}, "even azimuths"),
        ({"psi": PSI[:2], "value": np.zeros((2, 3))}, "three even"),
    ],
)
def test_what_is_no_map_is_refused(change, word):
    fields = {"r": R, "hub_radius": 0.03, "radius": 0.3, "psi": PSI, "value": np.zeros((8, 3))} | change
    with pytest.raises(ValueError, match=word):
        DiscLoads(name="", unit="", **fields)
