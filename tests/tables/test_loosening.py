"""Embedding, creep and ways of locking as tabled, and together with the formulas they feed."""

import pytest

from bladehold.joint.locking import Holds, counts_as_locking
from bladehold.joint.relaxation import WEEK, relaxed_share, time_to_share
from bladehold.tables import (
    UnknownName,
    embedding,
    locking,
    locking_names,
    relaxation,
    relaxation_names,
)


def share(name, weeks):
    row = relaxation(name)
    return float(relaxed_share(weeks * WEEK, row.coefficient, row.exponent, row.shift))


def test_rougher_faces_embed_more_and_across_more_than_along():
    for direction in ("axial", "transverse"):
        rows = [embedding(name, direction) for name in ("fine", "medium", "rough")]
        assert rows[0].bearing_face < rows[1].bearing_face < rows[2].bearing_face
        assert all(row.provenance.unconfirmed for row in rows)
        assert rows[0].rz_high == rows[1].rz_low
    assert embedding("fine", "transverse").bearing_face > embedding("fine", "axial").bearing_face
    with pytest.raises(UnknownName, match="embedding"):
        embedding("polished", "axial")


def test_creep_rows_give_back_what_their_sources_say():
    assert share("metal", 500) == pytest.approx(0.95, abs=1e-4)
    assert share("carbon laminate, 66 degC, 0.5 % moisture", 3) == pytest.approx(0.80, abs=1e-3)
    assert share("glass laminate", 52) == pytest.approx(0.5, abs=1e-3)
    assert share("polyamide", 1000 / 168) == pytest.approx(0.5, abs=1e-3)


def test_moisture_in_order():
    carbon = [name for name in relaxation_names() if name.startswith("carbon") and "degC" not in name]
    left = [share(name, 52) for name in carbon]
    assert len(left) == 4
    assert left == sorted(left, reverse=True)
    row = relaxation(carbon[0])
    assert 50 < time_to_share(0.8, row.coefficient, row.exponent) / WEEK < 58


def test_every_way_holds_the_preload_without_slip_and_no_more_with_worse():
    order = ["nothing", "nut", "preload"]
    for name in locking_names():
        row = locking(name)
        assert row.no_slip == "preload"
        assert order.index(row.slip_with_axial) <= order.index(row.slip)


def test_the_sheets_ways_are_all_tabled():
    assert {"none", "prevailing-torque", "thread-lock", "pin", "wire"} <= set(locking_names())


def test_what_counts_on_a_folding_pivot():
    counting = {
        name
        for name in locking_names()
        if counts_as_locking(
            name, Holds(locking(name).no_slip, locking(name).slip, locking(name).slip_with_axial), True, True
        ).counts
    }
    assert counting == {"thread-lock", "wedge-washer", "castle-nut", "pin", "wire", "tab-washer"}
    assert locking("prevailing-torque").provenance.mark == "read"
