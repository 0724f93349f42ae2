"""The strict reader: what it accepts and every way in which it refuses."""

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladehold.tables.provenance import Provenance
from bladehold.tables.reader import MILLI, TableError, parse_table, read_table

REQUIRED = ("name", "pitch_mm")
OPTIONAL = ("note", "load_N", "load_source", "load_mark")
HEADER = "name,pitch_mm,note,load_N,load_source,load_mark\n"


def parse(text):
    return parse_table(text, "made_up.csv", REQUIRED, OPTIONAL)


def test_reads_cells_by_column():
    (line,) = parse(HEADER + 'M4,0.7,"a, b",12,ISO 0,read\n')
    assert line.text("name") == "M4"
    assert line.text("note") == "a, b"
    assert line.number("pitch_mm", MILLI) == 0.0007
    assert line.optional_number("load_N") == 12.0
    assert line.optional_provenance("load", 12.0) == Provenance("ISO 0", "read")


def test_blank_optional_cells_are_none():
    (line,) = parse(HEADER + "M4,0.7,,,,\n")
    assert line.text("note") == ""
    assert line.optional_number("load_N") is None
    assert line.optional_provenance("load", None) is None


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "missing"),
        (HEADER, "no lines"),
        ("name,pitch_mm\nM4,0.7\n", "missing"),
        (HEADER.strip() + ",extra\nM4,0.7,,,,,1\n", r"unknown columns \['extra'\]"),
        (HEADER.strip() + ",note\nM4,0.7,,,,,\n", "given twice"),
        (HEADER + "M4,0.7,,,\n", "line 2: 5 cells for 6 columns"),
        (HEADER + "M4,0.7,,,,,\n", "line 2: 7 cells for 6 columns"),
        (HEADER + "M4,0.7,,,,\nM5,,,,,\n", "line 3: pitch_mm is blank"),
        (HEADER + "M4, 0.7,,,,\n", "blanks around"),
    ],
)
def test_refuses_a_faulty_table(text, what):
    with pytest.raises(TableError, match=what) as error:
        parse(text)
    assert str(error.value).startswith("made_up.csv")


@pytest.mark.parametrize("cell", ["x", "nan", "inf", "1e3", "1,5", "1.", "0x1", "١"])
def test_refuses_what_is_not_a_plain_decimal(cell):
    (line,) = parse(HEADER + f'M4,"{cell}",,,,\n')
    with pytest.raises(TableError, match=r"pitch_mm is .* not a number"):
        line.number("pitch_mm")


def test_refuses_a_number_without_source_and_a_source_without_number():
    (bare,) = parse(HEADER + "M4,0.7,,12,,\n")
    with pytest.raises(TableError, match="line 2: load: a number needs a source"):
        bare.optional_provenance("load", bare.optional_number("load_N"))
    (idle,) = parse(HEADER + "M4,0.7,,,ISO 0,read\n")
    with pytest.raises(TableError, match="a source without a number"):
        idle.optional_provenance("load", None)
    (guess,) = parse(HEADER + "M4,0.7,,12,ISO 0,guess\n")
    with pytest.raises(TableError, match="unknown mark 'guess'"):
        guess.provenance("load")


@given(st.decimals(min_value=-1000, max_value=1000, places=3), st.sampled_from([-6, -3, 0, 6, 9]))
def test_units_are_converted_to_the_nearest_float(value, exponent):
    (line,) = parse(HEADER + f"M4,{value:f},,,,\n")
    assert line.number("pitch_mm", exponent) == float(value.scaleb(exponent))


def test_packaged_tables_are_read_once():
    columns = ("name", "nominal_diameter_mm", "pitch_mm", "source", "mark")
    assert read_table("threads.csv", columns) is read_table("threads.csv", columns)


def test_tables_need_no_array_library():
    code = (
        "import sys, bladehold.tables as tables;"
        "[tables.material(name) for name in tables.material_names()];"
        "tables.thread('M4'); sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
