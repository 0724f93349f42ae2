"""Text stays text, pipes close, disks fill: nothing of it breaks an answer or leaves half a file."""

import csv
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED, LINE = EXAMPLES / "tarn6_repaired.toml", EXAMPLES / "ostrel_line.csv"
COMMAND = Path(sys.executable).with_name("bladehold")
ODD = "[/x] [red]odd[/red] :warning: {y} %s \\[z] <script>"
CASE = '\n[[flying.case]]\nname = "[/a] own"\nthrust = "2 kgf"\n'
FEW = "name,diameter,claimed_thrust,present_screw\n{},24 in,13 kgf,M3\n"


@pytest.fixture
def odd_sheet(tmp_path):
    """The repaired example with markup in its name and a case of the user's own."""
    text = REPAIRED.read_text(encoding="utf-8")
    path = tmp_path / "odd.toml"
    path.write_text(text.replace('"Tarn 6, repaired"', f"'{ODD}'", 1) + CASE, encoding="utf-8")
    return path


def joined(text):
    """A table's text with its frame and line breaks taken out."""
    return "".join(c for c in text if not c.isspace() and c not in "│┃")


@pytest.mark.parametrize("words", [("show",), ("check", "--all"), ("size",), ("limit",)])
def test_markup_in_a_sheet_is_printed_as_it_was_written(cli, odd_sheet, words):
    result = cli(words[0], odd_sheet, *words[1:])
    assert result.exit_code in {0, 1}
    assert joined(ODD) in joined(result.stdout)
    if words[0] in {"show", "check"}:
        assert "[/a]own" in joined(result.stdout)


def test_markup_in_a_list_is_printed_as_it_was_written(cli, tmp_path):
    path = tmp_path / "odd.csv"
    path.write_text(FEW.format("[/x] [b]odd"), encoding="utf-8")
    result = cli("range", path, "--base", REPAIRED, "--class", "8.8")
    assert result.exit_code in {0, 1}
    assert "[/x][b]odd" in joined(result.stdout)


def test_a_name_cannot_open_a_script_in_the_chart_page(cli, tmp_path):
    path, page = tmp_path / "odd.csv", tmp_path / "odd.html"
    path.write_text(FEW.format("</script><script>alert(1)</script>"), encoding="utf-8")
    assert cli("range", path, "--base", REPAIRED, "--class", "8.8", "--out", page).exit_code in {0, 1}
    html = page.read_text(encoding="utf-8")
    assert "alert(1)" in html
    assert "<script>alert" not in html and "</script><" not in html.split("alert(1)", 1)[1][:200]


@pytest.mark.parametrize("rows", ["", "A,18 in,5.5 kgf,M3\n"])
def test_a_row_that_cannot_be_computed_is_named_with_its_line_and_ends_no_list(cli, tmp_path, rows):
    path, chart = tmp_path / "line.csv", tmp_path / "line.svg"
    head = FEW.splitlines(keepends=True)[0]
    path.write_text(f"{head}{rows}B,4 in,13 kgf,M3\n", encoding="utf-8")
    line, asked = 3 if rows else 2, ("range", path, "--base", REPAIRED, "--class", "8.8")
    result = cli(*asked, "--out", chart)
    assert result.exit_code == 1
    said = joined(result.stdout)
    assert "1couldnotbecomputed" in said and f"B,line{line}:therotorscannotbalance" in said
    assert "Not computed, and not drawn: B." in chart.read_text(encoding="utf-8")
    *others, last = json.loads(cli(*asked, "--json").stdout)["propellers"]
    assert "cannot balance" in last["not_computed"] and last["present_margin"] is None
    assert [one["not_computed"] for one in others] == [""] * len(rows.splitlines())


def test_a_thrust_out_of_reach_is_told_with_the_file(cli, tmp_path):
    path = tmp_path / "strong.toml"
    text = REPAIRED.read_text(encoding="utf-8")
    path.write_text(text.replace('used_thrust = "4.6 kgf"', 'used_thrust = "460 kgf"'), encoding="utf-8")
    result = cli("check", path)
    assert result.exit_code == 2
    assert result.stderr.startswith(f"bladehold: {path}: describes something that cannot be computed: thrust")
    assert "cannot be reached" in result.stderr


def test_a_wrong_ending_is_refused_before_anything_is_made(cli, tmp_path):
    good, bad = tmp_path / "new" / "a.svg", tmp_path / "b.pdf"
    result = cli("range", LINE, "--base", REPAIRED, "--out", good, "--out", bad)
    assert result.exit_code == 2
    assert f"{bad}: pictures are written as html, svg, png" in result.stderr
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("kind", ["svg", "html"])
def test_a_chart_that_cannot_be_written_leaves_nothing(cli, tmp_path, monkeypatch, kind):
    path = tmp_path / "line.csv"
    path.write_text(FEW.format("A"), encoding="utf-8")

    def full(self, target):
        raise OSError(28, "No space left on device", str(self))

    monkeypatch.setattr(Path, "replace", full)
    result = cli("range", path, "--base", REPAIRED, "--class", "8.8", "--out", tmp_path / f"a.{kind}")
    assert result.exit_code == 2
    assert result.stdout == ""
    assert result.stderr == f"bladehold: {tmp_path / f'a.{kind}'}: No space left on device\n"
    assert [entry.name for entry in tmp_path.iterdir()] == ["line.csv"]


def test_a_folder_in_the_way_or_not_there_is_named(cli, tmp_path):
    result = cli("new", tmp_path, "--force")
    assert result.exit_code == 2 and result.stderr.startswith(f"bladehold: {tmp_path}: ")
    result = cli("new", tmp_path / "none" / "a.toml")
    assert result.exit_code == 2
    assert result.stderr.startswith(f"bladehold: {tmp_path / 'none' / 'a.toml'}: No such file")
    assert list(tmp_path.iterdir()) == []


def test_output_does_not_depend_on_the_code_page():
    plain = subprocess.run([COMMAND, "limit", REPAIRED], capture_output=True, check=False)
    narrow = subprocess.run(
        [COMMAND, "limit", REPAIRED],
        capture_output=True,
        check=False,
        env={**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C", "COLUMNS": "80"},
    )
    assert narrow.returncode == plain.returncode == 0
    assert narrow.stderr == b""
    assert "│" in narrow.stdout.decode("utf-8")


@pytest.mark.skipif(sys.platform == "win32", reason="pipes end otherwise there")
def test_a_reader_that_leaves_is_no_verdict():
    process = subprocess.Popen(
        [COMMAND, "check", REPAIRED, "--json"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout is not None and process.stderr is not None
    process.stdout.close()
    assert process.stderr.read() == b""
    process.stderr.close()
    assert process.wait() not in {0, 1, 2, 3}


def test_a_name_with_quotes_and_commas_survives_csv(cli, tmp_path):
    path = tmp_path / "line.csv"
    path.write_text(FEW.format('"He said ""24"", twice"'), encoding="utf-8")
    result = cli("range", path, "--base", REPAIRED, "--class", "8.8", "--csv")
    (row,) = csv.DictReader(io.StringIO(result.stdout))
    assert row["name"] == 'He said "24", twice'
