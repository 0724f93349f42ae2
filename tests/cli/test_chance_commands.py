"""The commands about uncertainty: codes, formats, pictures, own tables, refusals in words."""

import csv
import io
import json
import re
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
DELIVERED, REPAIRED = EXAMPLES / "tarn6_as_delivered.toml", EXAMPLES / "tarn6_repaired.toml"
FEW = ("--samples", 5000)


def flat(text):
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("chance", REPAIRED, *FEW), 0),
        (("chance", DELIVERED, *FEW), 1),
        (("chance", DELIVERED, *FEW, "--allowed", 0.5), 0),
        (("worst", REPAIRED), 1),
        (("chance", "nowhere.toml"), 2),
        (("chance", REPAIRED, "--chart", "parts"), 2),
        (("worst", REPAIRED, "--json", "--csv"), 2),
    ],
)
def test_exit_codes(cli, words, code):
    assert cli(*words).exit_code == code


def test_a_number_that_the_inputs_do_not_carry_is_not_given(cli):
    said = flat(cli("chance", REPAIRED, *FEW).stdout)
    assert "less than 1e-06" in said
    assert "below what these inputs support" in said
    assert "This is an aid to decide, not an approval." in said


def test_json_csv_and_pictures(cli, tmp_path):
    data = json.loads(cli("chance", DELIVERED, *FEW, "--json").stdout)
    first = data["parts"][0]
    assert first["low"] < first["probability"] < first["high"]
    rows = list(csv.DictReader(io.StringIO(cli("chance", DELIVERED, *FEW, "--csv").stdout)))
    assert [row["part"] for row in rows] == [part["part"] for part in data["parts"]]
    for chart in ("parts", "drivers"):
        out = tmp_path / f"{chart}.svg"
        cli("chance", DELIVERED, *FEW, "--chart", chart, "--out", out)
        assert "Tarn 6, as delivered" in out.read_text(encoding="utf-8")


def test_a_table_of_ones_own(cli, tmp_path):
    usual = cli("chance", "--show-scatter").stdout
    own = tmp_path / "own.csv"
    narrow = usual.replace("lognormal,1.0,0.1,", "lognormal,1.0,0.02,")
    assert narrow != usual
    own.write_text(narrow, encoding="utf-8")
    plain = json.loads(cli("chance", DELIVERED, *FEW, "--json").stdout)["any_part_breaks"]["probability"]
    found = json.loads(cli("chance", DELIVERED, *FEW, "--scatter", own, "--json").stdout)
    assert found["any_part_breaks"]["probability"] < 0.5 * plain


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("stress model,", "stres model,", "did you mean 'stress model'"),
        ("lognormal,1.0,0.1,", "lognormal,1.0,0.0,", "standard deviation"),
        ("lognormal,1.0,0.1,", "weibull,1.0,0.1,", "known are normal"),
        ("lognormal,1.0,0.1,", "lognormal,one,0.1,", "not a number"),
        (
            "lognormal,1.0,0.1,",
            "lognormal,30,0.1,",
            "line 17: stress model: read mean 30; allowed is 0.3 to 3",
        ),
        ("name,kind,mean,", "name;kind;mean;", "this file has semicolons"),
    ],
)
def test_a_faulty_table_is_refused(cli, tmp_path, old, new, said):
    text = cli("chance", "--show-scatter").stdout
    assert old in text
    own = tmp_path / "own.csv"
    own.write_text(text.replace(old, new), encoding="utf-8")
    result = cli("chance", DELIVERED, "--scatter", own)
    assert result.exit_code == 2
    assert said in flat(result.stderr)
    assert "own.csv" in result.stderr


@pytest.mark.parametrize("command", ["chance", "worst"])
def test_all_faults_of_a_table_are_told(cli, tmp_path, command):
    own = tmp_path / "own.csv"
    text = cli("chance", "--show-scatter").stdout
    own.write_text(text.replace("normal,1.0,", "normal,10,"), encoding="utf-8")
    result = cli(command, DELIVERED, "--scatter", own)
    assert result.exit_code == 2
    assert result.stderr.count("allowed is 0.3 to 3") == text.count("normal,1.0,") > 2


def test_a_missing_table_is_named_once(cli, tmp_path):
    result = cli("worst", DELIVERED, "--scatter", tmp_path / "own.csv")
    assert result.exit_code == 2 and "no such file" in result.stderr
    assert result.stderr.count("own.csv") == 1
