"""The command `sweep`: tables, pictures, going on, and what it refuses."""

import csv
import io
import json
from pathlib import Path

import pytest

REPAIRED = Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml"
PLATES = ("--vary", "hub.plate_thickness=3 mm..5 mm:3")


def flat(text):
    return " ".join(text.split())


@pytest.mark.parametrize("keys", [1, 2, 3])
def test_pictures_for_one_two_and_more_keys(cli, tmp_path, keys):
    words = [*PLATES, "--vary", "hub.gap=0 mm..0.2 mm:2", "--vary", "propeller.blade_mass=30 g..40 g:2"]
    files = [tmp_path / f"a.{kind}" for kind in ("svg", "png", "html")]
    result = cli(
        "sweep", REPAIRED, *words[: 2 * keys], *(w for f in files for w in ("--out", f)), "--workers", 1
    )
    assert result.exit_code == 0 and all(path.stat().st_size > 5000 for path in files)
    drawn = files[0].read_text(encoding="utf-8")
    assert "invented" in drawn and "not an approval" in drawn and "points hold" in drawn


def test_table_json_and_words_agree(cli, tmp_path):
    table = tmp_path / "t.csv"
    result = cli("sweep", REPAIRED, *PLATES, "--table", table)
    said = flat(result.stdout)
    assert result.stderr == "3 points\n"
    assert "2 of 3 points hold" in said and "crosses zero near hub.plate_thickness = 3." in said
    assert "not an approval" in said and f"Wrote {table}" in result.stdout.replace("\n", "")
    rows = list(csv.DictReader(io.StringIO(table.read_text(encoding="utf-8"))))
    whole = json.loads(cli("sweep", REPAIRED, *PLATES, "--json").stdout)
    assert [float(row["margin"]) for row in rows] == [record["margin"] for record in whole["records"]]
    assert whole["states"] and whole["cautions"] and len(whole["crossings"]) == 1
    again = cli("sweep", REPAIRED, *PLATES, "--table", table)
    assert again.exit_code == 2 and "finished already" in flat(again.stderr)
    assert cli("sweep", REPAIRED, *PLATES, "--table", table, "--restart").exit_code == 0


def test_parquet_holds_the_same(cli, tmp_path):
    parquet = pytest.importorskip("pyarrow.parquet")
    table = tmp_path / "t.parquet"
    assert cli("sweep", REPAIRED, *PLATES, "--table", table).exit_code == 0
    found = parquet.read_table(table).to_pydict()
    whole = json.loads(cli("sweep", REPAIRED, *PLATES, "--json").stdout)
    assert found["margin"] == [record["margin"] for record in whole["records"]]
    assert found["state"] == [record["state"] for record in whole["records"]]


def test_quasi_random_points_are_the_same_again(cli):
    words = ("--vary", "hub.plate_thickness=3 mm..5 mm", "--draw", 4, "--workers", 1, "--json")
    one, two = (json.loads(cli("sweep", REPAIRED, *words).stdout) for _ in range(2))
    assert one == two and one["points"] == 4


def test_a_journal_of_another_sweep_is_refused_and_restarted(cli, tmp_path):
    table = tmp_path / "t.csv"
    part = tmp_path / "t.csv.part"
    part.write_text('{"sweep": {"sheet": "x", "keys": [], "points": "", "seed": null}}\n', encoding="utf-8")
    result = cli("sweep", REPAIRED, *PLATES, "--table", table)
    assert result.exit_code == 2 and "it belongs to another sweep: other sheet, keys, points" in flat(
        result.stderr
    )
    assert cli("sweep", REPAIRED, *PLATES, "--table", table, "--restart").exit_code == 0
    assert not part.exists()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--vary", "hub.gapp=0 mm..1 mm"), "did you mean gap?"),
        (("--vary", "hub.gap=0 mm..1 cm"), "write both ends in one unit"),
        ((*PLATES, *PLATES), "hub.plate_thickness is varied twice"),
        ((*PLATES, "--draw", "8"), "belong to a grid"),
        ((*PLATES, "--table", "t.xlsx"), "tables are written as csv, parquet"),
        ((*PLATES, "--out", "t.pdf"), "pictures are written as"),
        ((*PLATES, "--cluster", "nowhere"), "--cluster: no scheduler answers at nowhere"),
        ((), "Missing option '--vary'"),
    ],
)
@pytest.mark.filterwarnings("ignore")  # of the cluster library's own making
def test_bad_wishes_are_refused_in_words(cli, words, says):
    result = cli("sweep", REPAIRED, *words)
    assert result.exit_code == 2 and says in flat(result.stderr), result.stderr


def test_a_sheet_that_is_not_valid_is_refused_first(cli, tmp_path):
    path = tmp_path / "bad.toml"
    path.write_text("[hub]\n", encoding="utf-8")
    assert cli("sweep", path, *PLATES).exit_code == 2
