"""The command `compare`: both sheets in every view, and what it refuses."""

import csv
import io
import json
from pathlib import Path

EXAMPLES = Path(__file__).parents[2] / "examples"
DELIVERED, REPAIRED = EXAMPLES / "tarn6_as_delivered.toml", EXAMPLES / "tarn6_repaired.toml"


def flat(text):
    return " ".join(text.split())


def test_both_stand_side_by_side_in_words_and_pictures(cli, tmp_path):
    files = [tmp_path / f"a.{kind}" for kind in ("svg", "html", "png")]
    words = [word for path in files for word in ("--out", path)]
    result = cli("compare", DELIVERED, REPAIRED, *words)
    said = flat(result.stdout)
    assert result.exit_code == 1 and said.startswith(
        "B HOLDS in strength; a part ends before the service life in A, B; "
    )
    assert "≠ hub.plate_thickness 3 mm 4 mm" in said and "≠ tie_screws.count 0 (assumed) 2" in said
    assert "inputs: --all shows them too" in said and "not an approval" in said
    assert all(path.stat().st_size > 5000 for path in files)
    drawn = files[0].read_text(encoding="utf-8")
    assert "invented" in drawn and "A: Tarn 6, as delivered" in drawn


def test_json_and_csv_have_every_row(cli):
    whole = json.loads(cli("compare", DELIVERED, REPAIRED, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("compare", DELIVERED, REPAIRED, "--csv").stdout)))
    assert len(whole["rows"]) + len(whole["inputs"]) == len(rows) > 150
    assert whole["holds"] == {"A": False, "B": True} and whole["cautions"]
    margin = next(row for row in whole["rows"] if row["name"] == "smallest margin")
    assert margin["A"] < 0.0 < margin["B"] and margin["best"] == "B" and margin["differs"]
    assert any(entry["key"] == "pivot_screw.thread" for entry in whole["inputs"])


def test_the_same_sheet_twice_is_alike_and_holds(cli):
    result = cli("compare", REPAIRED, REPAIRED)
    said = flat(result.stdout)
    assert result.exit_code == 0 and said.startswith("All of them HOLD in strength; a part ends before")
    assert "A, B; 0 of" in said and "Inputs that differ" not in said
    assert "is given 2 times" in said
    assert (
        "smallest margin" not in said
        and "smallest margin" in cli("compare", REPAIRED, REPAIRED, "--all").stdout
    )


def test_what_cannot_be_compared_is_refused(cli, tmp_path):
    alone = cli("compare", REPAIRED)
    assert alone.exit_code == 2 and "name two to 26" in flat(alone.stderr)
    bad = tmp_path / "bad.toml"
    bad.write_text("[hub]\n", encoding="utf-8")
    result = cli("compare", REPAIRED, bad)
    assert result.exit_code == 2 and str(bad) in result.stderr.replace("\n", "")
    assert cli("compare", REPAIRED, tmp_path / "none.toml").exit_code == 2
    assert cli("compare", REPAIRED, REPAIRED, "--json", "--csv").exit_code == 2


def test_the_chart_is_of_strength_or_of_fatigue(cli, tmp_path):
    drawn = tmp_path / "fatigue.svg"
    assert cli("compare", DELIVERED, REPAIRED, "--chart", "fatigue", "--out", drawn).exit_code == 1
    text = drawn.read_text(encoding="utf-8")
    assert "smallest margin of fatigue" in text and "No mark: tie screws of A" in text
    alone = cli("compare", DELIVERED, REPAIRED, "--chart", "fatigue")
    assert alone.exit_code == 2 and "--out" in alone.stderr
