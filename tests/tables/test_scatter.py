"""Tables of scatter of the user's own: what is accepted, and every fault at once with its line."""

import math

import pytest

from bladehold.chance import Marginal
from bladehold.tables import TableError, scatter, scatter_names, scatters_of

HEADER = "name,kind,mean,deviation,meaning,source,mark\n"


def rows(*lines):
    text = HEADER + "".join(f"{line},as measured,own tests,user\n" for line in lines)
    return scatters_of(text, "own.csv", lambda row: Marginal(row.kind, row.mean, row.deviation))


@pytest.mark.parametrize("name", scatter_names())
def test_the_packaged_rows_are_within_what_they_allow(name):
    row = scatter(name)
    assert rows(f"{name},{row.kind},{row.mean},{row.deviation}")[0].mean == row.mean


def test_powers_of_ten_are_numbers():
    (row,) = rows("wrench,normal,1.0E0,1e-9")
    assert (row.mean, row.deviation) == (1.0, 1e-9)


def test_a_mark_before_the_first_letter_is_passed_over():
    text = "\ufeff" + HEADER + "wrench,normal,1,0.02,as measured,own tests,user\n"
    assert scatters_of(text, "own.csv", lambda row: row)[0].deviation == 0.02


@pytest.mark.parametrize(
    ("line", "says"),
    [
        (
            "stress model,lognormal,3.1,0.1",
            "own.csv, line 2: stress model: read mean 3.1; allowed is 0.3 to 3",
        ),
        ("thrust,normal,0.29,0.1", "thrust: read mean 0.29; allowed is 0.3 to 3"),
        ("wrench,normal,1e999,0.1", "wrench: read mean 1e999; allowed is 0.3 to 3"),
        (
            "blade mass,normal,1,1.1",
            "blade mass: read deviation 1.1; a standard deviation above 0 and up to 1 is",
        ),
        ("face friction,uniform,1.2,0.1", "face friction: read mean 1.2; allowed is 0 to 1"),
        ("temperature,uniform,-0.1,0.1", "temperature: read mean -0.1; allowed is 0 to 1"),
        ("tie friction,normal,-3.5,1", "tie friction: read mean -3.5; allowed is -3 to 3"),
        ("pivot friction,normal,0,3.5", "pivot friction: read deviation 3.5"),
        ("lug width,normal,2.5,0.1", "lug width: read mean 2.5; allowed is -2 to 2"),
        ("lug width,normal,0,1.5", "lug width: read deviation 1.5"),
        ("wrench,normal,1,-0.1", "wrench: read deviation -0.1"),
        ("lug width,lognormal,0,0.1", "line 2: lug width: a lognormal quantity is positive"),
    ],
)
def test_what_cannot_be_meant_is_refused(line, says):
    with pytest.raises(TableError) as error:
        rows(line)
    assert says in str(error.value) and len(error.value.faults) == 1


def test_all_faults_are_told_in_their_order():
    with pytest.raises(TableError) as error:
        rows("thrust,normal,30,0", "wrench,normal,1", "trust,normal,1,0.1", "wrench,weibull,1,0.1")
    lines = [fault.split(":")[0] for fault in error.value.faults]
    assert lines == [f"own.csv, line {number}" for number in (2, 2, 3, 4, 5)]


def test_a_quantity_twice_is_refused():
    with pytest.raises(TableError, match="line 3: wrench stands in the table already"):
        rows("wrench,normal,1,0.1", "wrench,normal,1,0.2")


def test_very_many_faults_are_counted():
    with pytest.raises(TableError, match="and 60 more problems") as error:
        rows(*["wrench,normal,9,0.1"] * 100)
    assert len(error.value.faults) == 41


def test_semicolons_are_named():
    with pytest.raises(TableError, match="separated by commas; this file has semicolons"):
        scatters_of(HEADER.replace(",", ";"), "own.csv", math.isfinite)
