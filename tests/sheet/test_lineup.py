"""A list of propellers is read strictly too: every fault with its line, its column and the remedy."""

import pytest

from bladehold.sheet import SheetError
from bladehold.sheet.lineup import load_lineup
from bladehold.sheet.problem import MOST_PROBLEMS

HEAD = "name,diameter,claimed_thrust,present_screw"
GOOD = "A,24 in,13 kgf,M3"


def read(tmp_path, content):
    path = tmp_path / "line.csv"
    path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return load_lineup(path)


def faults(tmp_path, content):
    """The faults of a list as (line, column, sentence)."""
    with pytest.raises(SheetError) as caught:
        read(tmp_path, content)
    assert {problem.file for problem in caught.value.problems} == {str(tmp_path / "line.csv")}
    return [(problem.line, problem.key, problem.message) for problem in caught.value.problems]


def test_a_row_is_read_in_si_with_its_line(tmp_path):
    head = f'# a remark, "quoted",, oddly\n{HEAD},present_class,blades,blade_mass\n'
    text = f"{head}\n{GOOD},8.8,3,34 g\nB , 18 in,5.5 kgf,M4,,,\n"
    first, second = read(tmp_path, text)
    assert (first.name, first.present_screw, first.present_class, first.blades) == ("A", "M3", "8.8", 3)
    assert first.values == pytest.approx(
        {"diameter": 0.6096, "claimed_thrust": 13 * 9.80665, "blade_mass": 0.034}
    )
    assert (second.name, second.present_class, second.blades) == ("B", None, None)
    assert (first.line, second.line) == (4, 5)


@pytest.mark.parametrize(
    "change", [lambda t: "\ufeff" + t, lambda t: t.replace("\n", "\r\n"), lambda t: t.strip()]
)
def test_texts_of_other_systems_read_the_same(tmp_path, change):
    text = f"{HEAD}\n{GOOD}\nB,18 in,5.5 kgf,M4\n"
    assert read(tmp_path, change(text)) == read(tmp_path, text)


@pytest.mark.parametrize(
    ("cells", "column", "says"),
    [
        ("A,24,13 kgf,M3", "diameter", "the unit is missing"),
        ("A,24 kg,13 kgf,M3", "diameter", "kg is a unit of mass"),
        ("A,24 in,-13 kgf,M3", "claimed_thrust", "> 0 kgf"),
        ("A,24 in,13 kgf,M33", "present_screw", "did you mean M3?"),
        ("A,24 in,13 kgf,", "present_screw", "is missing"),
        (",24 in,13 kgf,M3", "name", "is missing"),
        ("\x1b[31mA,24 in,13 kgf,M3", "name", "no control characters"),
        ('"A\nB",24 in,13 kgf,M3', "name", "one line of text"),
        (f"{'A' * 501},24 in,13 kgf,M3", "name", "at most 500 characters"),
        ("A,24 in,13 kgf", "", "3 cells for 4 columns"),
        ("A,24 in,5,5 kgf,M3", "", "5 cells for 4 columns"),
        ('A,24 in,"13" kgf,M3', "", "not comma-separated text"),
    ],
)
def test_a_bad_row_is_told_with_its_line(tmp_path, cells, column, says):
    found = faults(tmp_path, f"# remark\n{HEAD}\n{GOOD}\n\n{cells}\n")
    assert [(line, key) for line, key, _ in found] == [(5, column)]
    assert says in found[0][2]


def test_lines_are_right_after_a_cell_of_several_lines(tmp_path):
    found = faults(tmp_path, f'{HEAD}\n"A\n\nB",24 in,13 kgf,M3\nC,24,13 kgf,M3\n')
    assert [(line, key) for line, key, _ in found] == [(2, "name"), (5, "diameter")]


@pytest.mark.parametrize(
    ("column", "cell", "says"),
    [
        ("present_class", "8.9", "did you mean 8.8?"),
        ("blades", "9", "from 2 to 8"),
        ("blades", "2.0", "whole number"),
        ("pivot_radius", "160 mm", "more than half of the blade tip radius (305 mm)"),
        ("balance_point", "310 mm", "beyond the blade tip"),
    ],
)
def test_optional_columns_are_checked_too(tmp_path, column, cell, says):
    ((line, key, message),) = faults(tmp_path, f"{HEAD},{column}\n{GOOD},{cell}\n")
    assert (line, key) == (2, column)
    assert says in message


def test_semicolons_are_named(tmp_path):
    ((line, _, message),) = faults(tmp_path, f"{HEAD}\n{GOOD}\n".replace(",", ";"))
    assert line == 1 and "separated by commas; this file has semicolons" in message


def test_all_columns_at_fault_are_told_at_once(tmp_path):
    found = faults(tmp_path, f"name,diametre,present_screw,name,zzz\n{GOOD},x\n")
    text = "\n".join(message for _, _, message in found)
    assert {line for line, _, _ in found} == {1}
    assert 'no such column "diametre"; did you mean diameter?' in text
    assert "the column diameter is missing" in text and "the column claimed_thrust is missing" in text
    assert 'the column "name" stands twice' in text
    assert 'no such column "zzz"; allowed: name, diameter' in text


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "a line of column names"),
        (HEAD.encode(), "a line of column names"),
        (b"# only\n# remarks\n", "a line of column names"),
        (bytes(range(256)), "not UTF-8 text"),
        (b"," * 2_000_000, "larger than 1 MB"),
        ((HEAD + "\n" + f"{GOOD}\n" * 2001).encode(), "more than 2000 propellers"),
    ],
    ids=["empty", "head", "remarks", "binary", "large", "long"],
)
def test_a_file_that_is_no_list(tmp_path, content, says):
    assert says in faults(tmp_path, content)[0][2]


def test_many_bad_rows_do_not_flood(tmp_path):
    found = faults(tmp_path, f"{HEAD}\n" + "A,24,13 kgf,M3\n" * 200)
    assert len(found) == MOST_PROBLEMS + 1
    assert found[-1] == (None, "", f"and {200 - MOST_PROBLEMS} more problems")
