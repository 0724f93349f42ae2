"""The line of propellers: scaling stated, present and needed screws consistent with assess and size."""

from pathlib import Path

import pytest
from sheets import EXAMPLES, repaired

from bladehold.sheet.lineup import Entry, load_lineup
from bladehold.study import assess, range_rows, size
from bladehold.study.range_chart import build_of, row_as_dict


@pytest.fixture(scope="module")
def entries():
    return load_lineup(EXAMPLES / "ostrel_line.csv")


def test_an_entry_equal_to_the_base_changes_nothing():
    base = repaired()
    known = {
        "diameter": base.propeller.diameter,
        "claimed_thrust": base.flying.claimed_thrust,
        "used_thrust": base.flying.used_thrust,
    }
    build, assumed = build_of(base, Entry("same", "M5", "8.8", None, known, 2))
    assert assess(build).margin == pytest.approx(assess(base).margin, rel=1e-9)
    assert "blade_mass" in assumed and "used_thrust" not in assumed


def test_unknown_measures_scale_and_are_named(entries):
    base = repaired()
    entry = next(e for e in entries if e.name == "OW-28F")
    build, assumed = build_of(base, entry)
    ratio = 28 / 24
    assert build.propeller.blade_mass == pytest.approx(base.propeller.blade_mass * ratio**3)
    assert build.hub.pivot_radius == pytest.approx(base.hub.pivot_radius * ratio)
    assert build.hub.lug_thickness == pytest.approx(0.010)
    assert {"blade_mass", "balance_point", "pivot_radius", "pitch"} <= set(assumed)
    assert "lug_thickness" not in assumed


def test_rows_agree_with_size_and_assess(entries):
    base = repaired()
    chosen = [e for e in entries if e.name in {"OW-22F", "OW-26F"}]
    for entry, row in zip(chosen, range_rows(base, chosen, ("8.8",)), strict=True):
        build, _ = build_of(base, entry)
        smallest = size(build, classes=["8.8"]).smallest
        assert row.needed["8.8"] == (smallest.thread if smallest else None)
        assert row.held_thrust >= row.used_thrust or row.present_margin < 0
        plain = row_as_dict(row)
        assert plain["diameter_in"] == pytest.approx(row.diameter / 0.0254)
        assert plain["needed_8.8"] == row.needed["8.8"]


def test_lineup_of_the_example_is_invented_and_complete(entries):
    assert entries[0].name == "OW-18F"
    assert (
        "invented" in Path(EXAMPLES / "ostrel_line.csv").read_text(encoding="utf-8").splitlines()[0].lower()
    )
