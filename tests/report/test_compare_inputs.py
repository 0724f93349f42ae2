"""Sheets side by side: inputs by value, not by unit; assumed and missing ones told; many in more tables."""

import io
from pathlib import Path

from rich.console import Console

from bladehold.report.compare import InputRow, input_rows, inputs_of, show_comparison
from bladehold.sheet import load_sheet, parse_sheet, resolve
from bladehold.study.compare import MARGINS, MORE, Comparison, Entry, Row

REPAIRED = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
FIRST = load_sheet(REPAIRED)


def beside(*changes):
    text = REPAIRED.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1
        text = text.replace(old, new)
    other = parse_sheet(text)
    rows = inputs_of([(FIRST, resolve(FIRST, REPAIRED.parent)), (other, resolve(other, REPAIRED.parent))])
    return {row.key: row for row in rows}


def test_a_sheet_beside_itself_differs_in_nothing():
    assert not any(row.differs for row in beside().values())


def test_one_value_in_two_units_is_alike_and_shown_as_written():
    row = beside(('diameter = "24 in"', 'diameter = "609.6 mm"'))["propeller.diameter"]
    assert row.values == ("24 in", "609.6 mm") and not row.differs


def test_an_assumed_value_differs_and_is_marked():
    found = beside(('torque = "2.4 N*m"\n', ""))
    assert [key for key, row in found.items() if row.differs] == ["mounting_screws.torque"]
    assert found["mounting_screws.torque"].values == ("2.4 N*m", "0 N*m (assumed)")


def test_a_key_that_one_lacks_is_not_given_and_one_that_the_blade_alone_needs_is_there():
    found = beside(('pivot_friction = "0.25 N*m" ', ""), ('leading_stop = "5 deg"\n', ""))
    assert found["propeller.pivot_friction"].values == ("0.25 N*m", "not given")
    stop = found["propeller.leading_stop"]
    assert stop.differs and stop.values[0] == "5 deg"


def test_rows_have_all_keys_with_what_each_says():
    found = list(beside(('class = "8.8"\nshear_plane', 'class = "10.9"\nshear_plane')).values())
    rows = input_rows(found)
    changed = [row for row in rows if row["differs"]]
    assert len(rows) == len(found) > 100
    assert [(row["name"], row["A_said"], row["B_said"]) for row in changed] == [
        ("pivot_screw.class", "8.8", "10.9")
    ]


def test_many_builds_stand_in_several_tables_that_cut_no_words():
    words = "bending between lug and root (yield)"
    entries = tuple(Entry(0.1 * at, f"hub plates, {words}") for at in range(6))
    row = Row(MARGINS, "hub plates", "", MORE, entries)
    found = Comparison(tuple("abcdef"), (True,) * 6, (True,) * 6, (row,))
    inputs = [InputRow("hub.plate_thickness", tuple(f"{at} mm" for at in range(6)), differs=True)]
    console = Console(record=True, file=io.StringIO(), width=80)
    show_comparison(console, found, inputs, files=tuple("abcdef"), every=False, invented=True)
    said = console.export_text()
    assert "Margins of strength: A, B, C, D" in said and "Margins of strength: E, F" in said
    assert "as written or assumed: E, F" in said
    assert all(said.count(word) == 6 for word in ("bending", "between", "(yield)"))
    assert "5 mm" in said and max(map(len, said.splitlines())) <= 80
