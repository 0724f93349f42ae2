"""Keys to vary: what is read, what is refused and how, and the sheet that comes out."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.sheet import SheetError, parse_sheet
from bladehold.sheet.vary import load_source, read_axis, sheet_at, source_of, with_values

REPAIRED = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
SOURCE = load_source(REPAIRED)


def axis(text):
    return read_axis(text, SOURCE)


def test_ranges_are_read_with_their_unit_and_points():
    found = axis(" hub.plate_thickness = 3 mm .. 5.5 mm : 7 ")
    assert (found.path, found.low, found.high, found.unit) == (("hub", "plate_thickness"), 3.0, 5.5, "mm")
    assert found.points == 7 and found.title == "hub.plate_thickness, mm" and not found.whole
    plain = axis("flying.load_factor=1.2..2")
    assert plain.unit == "" and plain.points is None and plain.title == "flying.load_factor"
    count = axis("tie_screws.count=1..2")
    assert count.whole and count.written(1.0) == 1
    place = axis("flying.segment[2].speed=5 m/s..9 m/s")
    assert place.path == ("flying", "segment", 1, "speed") and place.key == "flying.segment[2].speed"
    cold = axis("flying.temperature_min=-30 degC..0 degC")
    assert cold.low == -30.0 and cold.written(-12.5) == "-12.5 degC"


REFUSED = {
    "hub.plate_thickness": "write KEY=LOW..HIGH",
    "hub.plate_thickness=3 mm": "write KEY=LOW..HIGH",
    "=1..2": "write KEY=LOW..HIGH",
    "hub.plate_thicknes=3 mm..5 mm": "did you mean plate_thickness?",
    "hubs.gap=0 mm..1 mm": "did you mean hub?",
    "plate_thickness=3 mm..5 mm": "it belongs in [hub]",
    "hub=1..2": "is a table; name a key in it",
    "hub.plate_material=1..2": "holds no number",
    "propeller.folding=0..1": "holds no number",
    "hub.gap=3 kg..5 kg": "kg is a unit of mass",
    "hub.gap=0..1": "a length needs a unit",
    "hub.gap=0,1 mm..1 mm": "is no number with a unit",
    "hub.gap=3..5 mm": "each end needs its unit, as 3 mm..5 mm",
    "hub.gap=3 mm..5": "each end needs its unit, as 3 mm..5 mm",
    "hub.gap=0 mm..1 cm": "write both ends in one unit",
    "hub.gap=1 mm..1 mm": "the low end must be below the high end",
    "hub.gap=1 mm..0 mm": "the low end must be below the high end",
    "hub.gap=0 mm..30 mm": "must be >= 0 mm and <= 20 mm",
    "hub.gap=nan mm..1 mm": "is no number with a unit",
    "propeller.blade_mass=-3 g..4 g": "must be > 0 g",
    "hub.gap=0 mm..1 mm:1": "2 to 10000 points are allowed",
    "tie_screws.count=0..1.5": "counts things: give whole numbers",
    "flying.segment[9].speed=5 m/s..9 m/s": "the sheet has 5 flying.segment, counted from 1",
    "flying.segment[0].speed=5 m/s..9 m/s": "the sheet has 5 flying.segment, counted from 1",
    "flying.segment.speed=5 m/s..9 m/s": "say which flying.segment",
    "hub..gap=0 mm..1 mm": "read",
    "hub.g ap=0 mm..1 mm": "is no part of a key",
}


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_range_is_refused_in_words(text):
    with pytest.raises(ValueError) as error:
        axis(text)
    assert REFUSED[text] in str(error.value)


@given(st.floats(3.0, 5.0), st.floats(1.2, 2.0), st.integers(0, 3))
def test_a_point_is_the_sheet_typed_by_hand(thickness, factor, count):
    axes = [
        axis("hub.plate_thickness=3 mm..5 mm"),
        axis("flying.load_factor=1.2..2"),
        axis("tie_screws.count=0..3"),
    ]
    text = REPAIRED.read_text(encoding="utf-8")
    text = text.replace('plate_thickness = "4 mm"', f'plate_thickness = "{thickness!r} mm"')
    text = text.replace("load_factor = 1.6", f"load_factor = {factor!r}").replace(
        "[tie_screws]\ncount = 2", f"[tie_screws]\ncount = {count}"
    )
    assert sheet_at(SOURCE, axes, [thickness, factor, count]) == parse_sheet(text)


def test_the_source_stays_as_it_was_and_tables_that_lack_are_made():
    axes = [axis("flying.segment[2].speed=5 m/s..9 m/s"), axis("policy.fitting=1..1.2")]
    before = repr(SOURCE.data)
    changed = with_values(SOURCE.data, axes, [7.0, 1.1])
    assert repr(SOURCE.data) == before
    assert changed["flying"]["segment"][1]["speed"] == "7.0 m/s" and changed["policy"]["fitting"] == 1.1
    assert changed["flying"]["segment"][0] is SOURCE.data["flying"]["segment"][0]


def test_a_point_that_contradicts_itself_is_refused_without_a_line():
    with pytest.raises(SheetError) as error:
        sheet_at(SOURCE, [axis("flying.cruise_speed=8 m/s..20 m/s")], [18.0])
    (problem,) = error.value.problems
    assert problem.key == "flying.cruise_speed" and problem.line is None


def test_a_source_must_be_valid_as_it_stands():
    with pytest.raises(SheetError):
        source_of("[hub]\n")
    assert source_of(REPAIRED.read_text(encoding="utf-8")).title == "Tarn 6, repaired"
