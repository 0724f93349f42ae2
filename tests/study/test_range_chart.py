"""The line of propellers: scaling stated, present and needed screws consistent with assess and size."""

from dataclasses import replace
from pathlib import Path

import pytest
from sheets import EXAMPLES, repaired

from bladehold.sheet.lineup import Entry, load_lineup
from bladehold.study import assess, loads_of, range_rows, size
from bladehold.study.assess import weakest
from bladehold.study.checks.parts import PIVOT
from bladehold.study.range_chart import SPREADS, build_of, row_as_dict
from bladehold.study.situation import Situation
from bladehold.study.size import TOUCHED
from bladehold.tables import thread_names

PIVOT_RULES = tuple(rule for rule in TOUCHED if rule.part == PIVOT)


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


def test_bands_hold_the_middle_and_are_points_where_all_is_known(entries):
    base, names = repaired(), ("8.8", "12.9")
    order = [*thread_names(), None]  # none holds: beyond the largest
    for row in range_rows(base, entries[1:5:3], names):
        for name in names:
            low, high = (order.index(end) for end in row.band[name])
            assert low <= order.index(row.needed[name]) <= high
    some = range_rows(base, entries[1:3], ("12.9",))
    assert any(row.band["12.9"][0] != row.band["12.9"][1] for row in some)
    entry = entries[1]
    build, _ = build_of(base, entry)
    values = {
        **entry.values,
        "used_thrust": build.flying.used_thrust,
        **{name: getattr(build.propeller, name) for name in ("pitch", "blade_mass", "balance_point")},
        **{
            name: getattr(build.hub, name)
            for name in ("pivot_radius", "lug_thickness", "lug_width", "plate_thickness")
        },
    }
    (known,) = range_rows(base, [replace(entry, values=values)], ("8.8",))
    assert not known.assumed and known.band["8.8"] == (known.needed["8.8"],) * 2


def test_the_pessimistic_end_is_that_of_every_measure_alone(entries):
    """Each spread's sign: alone at its end it never makes the pivot screw's margin greater."""
    base, entry = repaired(), entries[3]
    build, assumed = build_of(base, entry)
    middle = weakest(Situation(build, loads_of(build)), PIVOT_RULES)[0]
    for name in assumed:
        there = build.flying if name == "used_thrust" else build.propeller
        scaled = getattr(there if hasattr(there, name) else build.hub, name)
        ends = {**entry.values, name: scaled * (1.0 + SPREADS[name])}
        other, _ = build_of(base, replace(entry, values=ends))
        assert weakest(Situation(other, loads_of(other)), PIVOT_RULES)[0] <= middle + 0.01, name


def test_what_no_pivot_screw_mends_is_said(entries):
    row = range_rows(repaired(), [entries[0]], ("8.8",))[0]
    build, _ = build_of(repaired(), entries[0])
    margin, key = size(build, threads=["M4"]).rest
    assert row.besides == f"{key} {margin:+.2f}" and margin < 0.0


def test_a_bush_as_long_as_the_lug_stays_flush_at_every_size(entries):
    """Lengths are scaled as sums, which leaves rounding: no bush must stand proud by that."""
    base = repaired()
    assert base.hub.bush_length == base.hub.lug_thickness
    for entry in entries:
        build, _ = build_of(base, entry)
        assert not build.hub.bush_carries, entry.name
    proud = replace(base, hub=replace(base.hub, bush_length=base.hub.lug_thickness + 1e-5))
    assert all(build_of(proud, entry)[0].hub.bush_carries for entry in entries)


def test_where_none_holds_what_comes_nearest_is_said(entries):
    """A bush that presses on the plates with its small ends wants another hub, whatever the screw."""
    base = repaired()
    proud = replace(base, hub=replace(base.hub, bush_length=base.hub.lug_thickness + 2e-4))
    (row,) = range_rows(proud, [entries[7]], ("8.8",))
    assert row.needed == {"8.8": None}
    build, _ = build_of(proud, entries[7])
    tried = [one for one in size(build, classes=["8.8"]).candidates if one.margin is not None]
    best = max(tried, key=lambda one: one.margin)
    assert row.unmet == {"8.8": f"{best.thread}: {best.reason} {best.margin:+.2f}"}
    assert row_as_dict(row)["unmet_8.8"] == row.unmet["8.8"]
