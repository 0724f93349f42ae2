"""The commands `limit` and `derate`: speed and load factor beside thrust, and the table over the air."""

import csv
import io
import json
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED = EXAMPLES / "tarn6_repaired.toml"
TWO = ("--temperature", "-10 degC", "--temperature", "35 degC", "--altitude", "600 m")


def flat(text):
    return " ".join(text.split())


def test_limit_tells_speed_and_load_factor(cli):
    said = flat(cli("limit", REPAIRED).stdout)
    assert "Pulled up to 1.6 all parts hold to 30.5 m/s, then not the hub plates" in said
    assert "over 32.0" in said and "83 %" in said
    whole = json.loads(cli("limit", REPAIRED, "--json").stdout)
    plates = whole["flight"]["parts"][0]
    assert plates["part"] == "hub plates" and 2.0 < plates["load_factor"] < 2.5
    rows = list(csv.DictReader(io.StringIO(cli("limit", REPAIRED, "--csv").stdout)))
    assert float(rows[0]["level_speed_m_s"]) == pytest.approx(plates["level_speed_m_s"])
    fails = flat(cli("limit", EXAMPLES / "tarn6_as_delivered.toml").stdout)
    assert "fails in hover already" in fails and "not even level flight holds" in fails


def test_derate_as_table_json_csv_and_picture(cli, tmp_path):
    files = [tmp_path / f"a.{kind}" for kind in ("svg", "html", "png")]
    words = [word for path in files for word in ("--out", path)]
    result = cli("derate", REPAIRED, *TWO, *words)
    said = flat(result.stdout)
    assert result.exit_code == 0 and "HOLDS in all of these kinds of air" in said
    assert all(path.stat().st_size > 5000 for path in files)
    drawn = files[0].read_text(encoding="utf-8")
    assert "invented" in drawn and "not an approval" in drawn
    whole = json.loads(cli("derate", REPAIRED, *TWO, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("derate", REPAIRED, *TWO, "--csv").stdout)))
    assert len(whole["cells"]) == len(rows) == 2 and whole["holds"] and whole["cautions"]
    assert [row["temperature_degC"] for row in whole["cells"]] == [-10.0, 35.0]
    assert float(rows[1]["thrust_kgf"]) < float(rows[0]["thrust_kgf"])
    assert 0.5 < whole["cells"][0]["share_of_claim"] < 1.0


def test_a_thrust_that_does_not_hold_in_some_air_ends_with_one(cli):
    result = cli("derate", REPAIRED, "--temperature", "40 degC", "--altitude", "5000 m")
    assert result.exit_code == 1 and "DOES NOT HOLD" in flat(result.stdout)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--temperature", "20"), '--temperature: read "20": the unit is missing'),
        (("--temperature", "20 m"), "m is a unit of length"),
        (("--temperature", "200 degC"), "allowed is -100 degC to 70 degC"),
        (("--altitude", "20000 m"), "allowed is -2000 m to 11000 m"),
        (("--altitude", "high"), "--altitude: read"),
        (("--out", "a.pdf"), "pictures are written as"),
        (("--json", "--csv"), "give --json or --csv"),
    ],
)
def test_bad_air_is_refused_in_words(cli, words, says):
    result = cli("derate", REPAIRED, *words)
    assert result.exit_code == 2 and says in flat(result.stderr), result.stderr
