"""The echo shows every key that was read, as written and in SI, and marks what is assumed or unused."""

import io
from pathlib import Path

import pytest
from rich.console import Console

from bladehold.cautions import CAUTIONS
from bladehold.report.echo import echo_of, show_echo
from bladehold.sheet import load_sheet, parse_sheet, resolve

EXAMPLES = Path(__file__).parents[2] / "examples"
SHEET = load_sheet(EXAMPLES / "tarn6_as_delivered.toml")
BUILD = resolve(SHEET)
OWN = """
[[flying.case]]
name = "snatch"
thrust = "5 kgf"
[classes."my 9"]
ultimate = "900 MPa"
yield = "700 MPa"
source = "paper"
"""


@pytest.fixture(scope="module")
def lines():
    return {line.key: line for line in echo_of(SHEET, BUILD)}


def test_every_key_read_is_echoed_once():
    keys = [line.key for line in echo_of(SHEET, BUILD)]
    assert len(keys) == len(set(keys))
    text = (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8")
    written = sum(1 for line in text.splitlines() if " = " in line and not line.startswith("#"))
    assert sum(1 for line in echo_of(SHEET, BUILD) if not line.remark.startswith("ASSUMED")) == written


def test_values_stand_as_written_and_in_si(lines):
    assert (lines["hub.gap"].written, lines["hub.gap"].unit) == ("0.1 mm", "m")
    assert lines["hub.gap"].si == pytest.approx(1e-4)
    assert lines["flying.used_thrust"].si == pytest.approx(4.6 * 9.80665)
    assert (lines["pivot_screw.washers"].written, lines["pivot_screw.washers"].si) == ("false", None)
    assert lines["aircraft.rotors"].written == "6"


def test_every_assumption_is_echoed_with_its_reason(lines):
    for item in BUILD.assumptions:
        assert lines[item.key].written == item.value
        assert lines[item.key].remark == f"ASSUMED: {item.why}"


def test_what_no_check_uses_is_marked_and_the_rest_is_not(lines):
    assert "no check uses it yet" in lines["motor.pole_pairs"].remark
    assert lines["pivot_screw.thread"].remark == ""


def test_places_in_lists_and_names_of_ones_own_are_written_out():
    text = (EXAMPLES / "tarn6_as_delivered.toml").read_text(encoding="utf-8") + OWN
    sheet = parse_sheet(text)
    keys = {line.key for line in echo_of(sheet, resolve(sheet))}
    assert {"flying.case[1].thrust", 'classes."my 9".yield'} <= keys


def test_the_table_keeps_everything_at_80_columns():
    out = io.StringIO()
    show_echo(Console(file=out, width=80), echo_of(SHEET, BUILD), BUILD)
    text = out.getvalue()
    assert max(len(line) for line in text.splitlines()) <= 80
    assert "…" not in text
    plain = " ".join(text.split())
    assert all(caution in plain for caution in CAUTIONS)
