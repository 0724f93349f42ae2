"""`bladehold rotor`: table, formats, pictures, refusals."""

import csv
import io
import json
import re
from pathlib import Path

import pytest

from bladehold.cautions import CAUTIONS, INVENTED

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED = EXAMPLES / "tarn6_repaired.toml"
CHARTS = ("performance", "loading", "disc", "planform")
STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}


def flat(text):
    return re.sub(r"\s+", " ", text)


def test_the_table_is_narrow_marks_the_thrust_used_and_says_what_is_behind_it(cli):
    result = cli("rotor", REPAIRED)
    assert result.exit_code == 0 and result.stderr == ""
    assert max(len(line.rstrip()) for line in result.stdout.splitlines()) <= 80
    (used,) = [line for line in result.stdout.splitlines() if line.startswith("│ >")]
    cells = [cell.strip() for cell in used.split("│")]
    assert cells[3] == "4.60"
    text = flat(result.stdout)
    for words in (
        "section naca4412",
        "Not calibrated",
        "propeller convention",
        "kg/m³",
        INVENTED,
        CAUTIONS[0],
    ):
        assert words in text
    assert cells[2] in text.split("4.6 kgf need ")[1][:12]


def test_a_calibrated_sheet_says_so(cli, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8")
    table = (
        '[propeller.calibration]\npitch_offset = "0.5 deg"\nchord_scale = 1.02\n'
        "lift_exponent = 0.08\nthrust_uncertainty = 0.02\n"
    )
    path = tmp_path / "own.toml"
    path.write_text(text.replace("[hub]\n", f"{table}\n[hub]\n"), encoding="utf-8")
    shown = flat(cli("rotor", path).stdout)
    assert "Calibrated on a stand run: pitch +0.50 deg, chord x 1.020" in shown
    assert "lift exponent +0.08; thrust within 2.0%" in shown


def test_a_measured_speed_is_set_against_the_models(cli, tmp_path):
    path = tmp_path / "own.toml"
    text = REPAIRED.read_text(encoding="utf-8").replace("[flying]\n", '[flying]\nused_speed = "4100 rpm"\n')
    path.write_text(text, encoding="utf-8")
    model = json.loads(cli("rotor", REPAIRED, "--json").stdout)["used_speed_rpm"]
    assert f"The speed measured at that thrust is {4100 / model - 1:+.1%}" in flat(cli("rotor", path).stdout)


def test_speeds_outside_a_range_are_flagged_and_the_range_is_told(cli, tmp_path):
    path = tmp_path / "slow.toml"
    text = REPAIRED.read_text(encoding="utf-8").replace('mass = "26 kg"', 'mass = "1.8 kg"', 1)
    text = text.replace('used_thrust = "4.6 kgf"', 'used_thrust = "0.3 kgf"')
    path.write_text(text, encoding="utf-8")
    result = cli("rotor", path)
    assert result.exit_code == 0
    flagged = [bool(match[1]) for match in re.finditer(r"^│ [> ](!?) ", result.stdout, re.MULTILINE)]
    rows = json.loads(cli("rotor", path, "--json").stdout)["rows"]
    assert flagged == [bool(row["breaches"]) for row in rows]
    assert any(flagged) and not all(flagged)
    assert "Reynolds number" in flat(result.stdout)


def test_json_says_what_stands_above_and_below_the_table(cli, tmp_path):
    path = tmp_path / "few.toml"
    whole = REPAIRED.read_text(encoding="utf-8")
    text = re.sub(r"^(section|tip_chord) = .*\n", "", whole, flags=re.MULTILINE)
    path.write_text(text.replace('used_thrust = "4.6 kgf"', 'used_thrust = "13 kgf"'), encoding="utf-8")
    shown = flat(cli("rotor", path).stdout)
    data = json.loads(cli("rotor", path, "--json").stdout)
    assert data["assumed"] == ["tip chord", "section"]
    assert "Assumed, not given: tip chord, section" in shown
    assert data["breaches"] and all(flat(text) in shown for text in data["breaches"])
    assert f"{data['used_torque_Nm']:.3g} N·m and {data['used_power_W']:.0f} W" in shown
    assert set(data["used_breaches"]) <= set(data["breaches"])


def test_json_and_csv_agree(cli):
    data = json.loads(cli("rotor", REPAIRED, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("rotor", REPAIRED, "--csv").stdout)))
    assert len(rows) == len(data["rows"]) > 5
    assert data["calibrated"] is False and CAUTIONS[0] in data["cautions"]
    for row, other in zip(rows, data["rows"], strict=True):
        assert row == {key: str(value) for key, value in other.items()} | {"breaches": ""}
        assert other["thrust_kgf"] == pytest.approx(other["thrust_N"] / 9.80665)
        assert other["power_W"] == pytest.approx(other["torque_Nm"] * other["speed_rpm"] * 0.1047197551)


@pytest.mark.parametrize("chart", CHARTS)
def test_pictures_are_written_in_the_format_of_their_ending(cli, tmp_path, chart):
    paths = [tmp_path / "new" / f"picture.{kind}" for kind in STARTS]
    words = [word for path in paths for word in ("--out", path)]
    result = cli("rotor", REPAIRED, "--chart", chart, *words)
    assert result.exit_code == 0
    for path, start in zip(paths, STARTS.values(), strict=True):
        assert path.read_bytes().lstrip().startswith(start)
        assert f"Wrote {path}" in result.stdout


def test_the_charts_differ(cli, tmp_path):
    drawn = set()
    for chart in CHARTS:
        path = tmp_path / f"{chart}.svg"
        assert cli("rotor", REPAIRED, "--chart", chart, "--out", path).exit_code == 0
        drawn.add(path.read_bytes())
    assert len(drawn) == len(CHARTS)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nowhere.toml",), "nowhere.toml"),
        ((REPAIRED, "--json", "--csv"), "not both"),
        ((REPAIRED, "--out", "a.pdf"), "html, svg, png"),
        ((REPAIRED, "--chart", "pie"), "planform"),
        ((REPAIRED, "--chart", "disc"), "name a picture file with --out"),
    ],
)
def test_bad_input_ends_with_2_and_words(cli, words, said):
    result = cli("rotor", *words)
    assert result.exit_code == 2
    assert result.stdout == "" and said in flat(result.stderr)


def test_a_disc_without_fast_flight_is_refused_in_words(cli, tmp_path):
    path = tmp_path / "still.toml"
    text = REPAIRED.read_text(encoding="utf-8").replace('top_speed = "16 m/s"', 'top_speed = "0 m/s"')
    path.write_text(text, encoding="utf-8")
    result = cli("rotor", path, "--chart", "disc", "--out", tmp_path / "disc.svg")
    assert result.exit_code == 2 and "flying.top_speed is 0" in result.stderr
    assert not (tmp_path / "disc.svg").exists()
