"""The command `report`: files by their endings, the day they carry, exit codes, and what it refuses."""

from pathlib import Path

import openpyxl
import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
DELIVERED, REPAIRED = EXAMPLES / "tarn6_as_delivered.toml", EXAMPLES / "tarn6_repaired.toml"


def flat(text):
    return " ".join(text.split())


def test_every_ending_is_written_of_one_asking(cli, tmp_path):
    paths = [tmp_path / "made" / f"a.{kind}" for kind in ("html", "pdf", "xlsx", "CSV")]
    result = cli("report", DELIVERED, *(w for path in paths for w in ("--out", path)), "--date", "2026-01-31")
    said = flat(result.stdout)
    assert result.exit_code == 1 and said.startswith("Tarn 6, as delivered DOES NOT HOLD")
    assert "not an approval" in said and all(
        f"Wrote {path}" in result.stdout.replace("\n", "") for path in paths
    )
    html, pdf, xlsx, table = (path.read_bytes() for path in paths)
    assert b"2026-01-31" in html and html.startswith(b"<!DOCTYPE html>")
    assert pdf.startswith(b"%PDF-") and b"D:20260131" in pdf and xlsx.startswith(b"PK")
    # The table is the one that `check` prints.
    assert table.decode() == cli("check", DELIVERED, "--csv").stdout


def test_the_day_comes_from_the_environment_where_it_is_fixed(cli, tmp_path, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "1700000000")
    path = tmp_path / "a.xlsx"
    assert cli("report", REPAIRED, "--out", path).exit_code == 0
    told = {row[0]: row[1] for row in openpyxl.load_workbook(path)["Verdict"].iter_rows(values_only=True)}
    assert told["stated on"] == "2023-11-14" and told["verdict"] == "holds"
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "yesterday")
    result = cli("report", REPAIRED, "--out", path)
    assert result.exit_code == 2 and "SOURCE_DATE_EPOCH: read 'yesterday'" in flat(result.stderr)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "--out: a report is a file; name one that ends with .html, .pdf, .xlsx or .csv"),
        (("--out", "a.docx"), "--out a.docx: reports are written as html, pdf, xlsx, csv"),
        (("--out", "a.html", "--out", "b"), "--out b: reports are written as html, pdf, xlsx, csv"),
        (
            ("--out", "a.html", "--date", "31.1.2026"),
            "--date: read '31.1.2026'; give a day as year-",
        ),
    ],
)
def test_options_that_cannot_be_are_refused_before_anything_is_computed(
    cli, words, said, tmp_path, monkeypatch
):
    monkeypatch.chdir(tmp_path)
    result = cli("report", REPAIRED, *words)
    assert result.exit_code == 2 and said in flat(result.stderr) and not list(tmp_path.iterdir())


def test_bad_sheets_are_refused_in_words(cli, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text("[hub]\n", encoding="utf-8")
    out = tmp_path / "a.csv"
    for path in (bad, tmp_path / "none.toml"):
        result = cli("report", path, "--out", out)
        assert result.exit_code == 2 and path.name in result.stderr.replace("\n", "") and not out.exists()
