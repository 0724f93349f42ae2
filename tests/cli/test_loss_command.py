"""The command that tells what one failure does: words, data, charts, refusals."""

import csv
import io
import json
from pathlib import Path

import pytest

from bladehold.cautions import CAUTIONS

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED = EXAMPLES / "tarn6_repaired.toml"


@pytest.fixture(scope="module")
def told(cli):
    return cli("loss", REPAIRED)


def test_the_worst_comes_first_and_cautions_last(told):
    assert told.exit_code == 1
    words = " ".join(told.stdout.split())
    assert words.startswith("Tarn 6, repaired: 3 of 5 single failures of screws are HAZARDOUS")
    for part in ("Control: with rotor", "Arm, a blade lost", "stand-off for tests", "What is left of risk"):
        assert part in words
    for caution in CAUTIONS:
        assert " ".join(caution.split()) in words


def test_a_hub_that_keeps_its_blades_ends_well(cli, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8").replace(
        'plate_thickness = "4 mm"', 'plate_thickness = "5 mm"'
    )
    sheet = tmp_path / "thick.toml"
    sheet.write_text(text, encoding="utf-8")
    (tmp_path / "ow24f_stand.csv").write_bytes((EXAMPLES / "ow24f_stand.csv").read_bytes())
    found = cli("loss", sheet)
    assert found.exit_code == 0
    assert "it is a critical part" in " ".join(found.stdout.split())


def test_data_and_rows_say_the_same(cli):
    data = json.loads(cli("loss", REPAIRED, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("loss", REPAIRED, "--csv").stdout)))
    assert [row["how"] for row in rows] == [row["how"] for row in data["failures"]]
    assert [row["effect"] for row in rows] == [row["effect"] for row in data["failures"]]
    assert data["control"]["lost"][0]["hover"] == "held while it spins"
    assert data["release"]["throws"][0]["distance_m"]["vacuum"] > 100.0
    assert len(data["states"]) == 7
    assert data["contained"] is False
    assert data["cautions"]


@pytest.mark.parametrize("chart", ["arm", "control", "throw"])
def test_charts_are_written(cli, tmp_path, chart):
    out = tmp_path / f"{chart}.svg"
    assert cli("loss", REPAIRED, "--chart", chart, "--out", out).exit_code == 1
    drawn = out.read_text(encoding="utf-8")
    assert "Tarn 6, repaired" in drawn
    assert "invented" in drawn


def test_what_cannot_be_drawn_is_refused(cli, tmp_path):
    text = REPAIRED.read_text(encoding="utf-8")
    start = text.index("[arm]")
    bare = tmp_path / "bare.toml"
    bare.write_text(text[:start] + text[text.index("\n[", start + 1) + 1 :], encoding="utf-8")
    found = cli("loss", bare, "--chart", "arm", "--out", tmp_path / "x.svg")
    assert found.exit_code == 2
    assert "[arm]" in found.stderr
    assert not (tmp_path / "x.svg").exists()
    found = cli("loss", bare)
    assert found.exit_code == 1
    assert "! Arm: the sheet lacks [arm]" in " ".join(found.stdout.split())
    assert cli("loss", REPAIRED, "--json", "--csv").exit_code == 2
    assert cli("loss", REPAIRED, "--chart", "arm").exit_code == 2
