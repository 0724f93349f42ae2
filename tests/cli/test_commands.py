"""Every command: exit codes, formats, cautions, width, and files written whole or not at all."""

import csv
import io
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.sheet import load_sheet
from bladehold.sheet.sheet import Sheet
from bladehold.sheet.starter import keys_of, starter_text

EXAMPLES = Path(__file__).parents[2] / "examples"
DELIVERED, REPAIRED = EXAMPLES / "tarn6_as_delivered.toml", EXAMPLES / "tarn6_repaired.toml"
LINE = EXAMPLES / "ostrel_line.csv"
ON_SHEETS = ["show", "check", "size", "limit", "calibrate", "aircraft", "drive", "life"]


def flat(text):
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("check", REPAIRED), 0),
        (("check", DELIVERED), 1),
        (("check", "nowhere.toml"), 2),
        (("check", DELIVERED, "--json", "--csv"), 2),
        (("size", DELIVERED), 0),
        (("size", DELIVERED, "--thread", "M2"), 1),
        (("size", DELIVERED, "--thread", "M44"), 2),
        (("size", DELIVERED, "--class", "8.9"), 2),
        (("limit", REPAIRED), 0),
        (("limit", DELIVERED), 1),
        (("show", REPAIRED), 0),
        (("calibrate", REPAIRED), 0),
        (("calibrate", DELIVERED), 2),
        (("range", LINE, "--base", REPAIRED, "--class", "8.9"), 2),
        (("range", LINE, "--base", REPAIRED, "--out", "line.pdf"), 2),
        (("fly",), 2),
    ],
)
def test_exit_codes(cli, words, code):
    result = cli(*words)
    assert result.exit_code == code
    if code == 2:
        assert result.stdout == "" and result.stderr.strip()


@pytest.mark.parametrize("command", ON_SHEETS)
def test_human_output_fits_80_columns_and_carries_the_cautions(cli, command):
    result = cli(command, REPAIRED)
    assert max(len(line.rstrip()) for line in result.stdout.splitlines()) <= 80
    assert "\x1b" not in result.stdout  # colour only on a terminal
    for sentence in (*CAUTIONS, INVENTED):
        assert flat(sentence) in flat(result.stdout), sentence


@pytest.fixture(scope="module")
def short_line(tmp_path_factory):
    """The smallest and the largest propeller of the line: each takes a second."""
    rows = LINE.read_text(encoding="utf-8").splitlines()
    kept = [row for row in rows if not row.startswith("OW-") or row.startswith(("OW-18F", "OW-32F"))]
    path = tmp_path_factory.mktemp("line") / "short.csv"
    path.write_text("\n".join(kept) + "\n", encoding="utf-8")
    return path


def test_range_fits_80_columns_and_carries_the_cautions(cli, short_line):
    result = cli("range", short_line, "--base", REPAIRED)
    assert result.exit_code == 1
    assert max(len(line.rstrip()) for line in result.stdout.splitlines()) <= 80
    assert all(flat(sentence) in flat(result.stdout) for sentence in (*CAUTIONS, INVENTED))


@pytest.mark.parametrize("command", ON_SHEETS)
def test_json_is_strict_and_carries_the_cautions(cli, command):
    def refuse(name):
        raise AssertionError(name)

    found = json.loads(cli(command, REPAIRED, "--json").stdout, parse_constant=refuse)
    assert set(CAUTIONS) <= set(found["cautions"]) and INVENTED in found["cautions"]


def test_check_csv_has_a_row_per_check_with_formula_and_source(cli):
    rows = list(csv.DictReader(io.StringIO(cli("check", DELIVERED, "--csv").stdout)))
    records = json.loads(cli("check", DELIVERED, "--json").stdout)["checks"]
    assert len(rows) == len(records) > 20
    for row, record in zip(rows, records, strict=True):
        assert (row["part"], row["mode"], row["level"]) == (record["part"], record["mode"], record["level"])
        assert row["formula"] and row["source"] and row["inputs"]


def test_verdict_comes_first_then_what_helps(cli):
    text = flat(cli("check", DELIVERED).stdout)
    order = [
        "DOES NOT HOLD",
        "With reservations",
        "Helps most",
        "The hardware holds",
        "Weakest check",
        "Loads",
    ]
    places = [text.index(word) for word in order]
    assert places == sorted(places)
    assert text.startswith("Tarn 6, as delivered DOES NOT HOLD: the pivot screw fails first")


def test_every_state_has_a_sign_and_a_word(cli):
    text = cli("check", DELIVERED, "--all").stdout
    assert "✗ fails" in text and "✓ holds" in text


def test_show_marks_what_is_assumed_and_what_is_not_used(cli):
    text = flat(cli("show", REPAIRED).stdout.replace("│", " "))
    assert "ASSUMED" in text and "kept; no check" in text
    found = json.loads(cli("show", REPAIRED, "--json").stdout)["lines"]
    by_key = {line["key"]: line for line in found}
    assert by_key["propeller.diameter"]["si"] == pytest.approx(0.6096)
    assert by_key["propeller.diameter"]["written"] == "24 in"
    assert "no check uses it yet" in by_key["motor.pole_pairs"]["remark"]
    assert "ASSUMED" in by_key["propeller.tap_frequency"]["remark"]


def test_new_writes_a_sheet_that_can_be_checked_and_overwrites_nothing(cli, tmp_path):
    path = tmp_path / "mine.toml"
    assert cli("new", path).exit_code == 0
    assert cli("check", path).exit_code in {0, 1}
    path.write_text("precious", encoding="utf-8")
    assert cli("new", path).exit_code == 2
    assert path.read_text(encoding="utf-8") == "precious"
    assert cli("new", path, "--force").exit_code == 0
    assert load_sheet(path).about.name


def test_the_starter_mentions_every_key():
    text = starter_text()
    for key in keys_of(Sheet):
        assert re.search(rf"^(# )?{key.rsplit('.', 1)[-1]} = ", text, re.MULTILINE), key


def test_range_writes_charts_in_every_format(cli, tmp_path, short_line):
    outs = [tmp_path / "deep" / f"line.{kind}" for kind in ("html", "svg", "png")]
    words = [word for out in outs for word in ("--out", out)]
    assert cli("range", short_line, "--base", REPAIRED, "--class", "8.8", *words).exit_code == 1
    html, svg, png = (out.read_bytes() for out in outs)
    assert b"<script" in html and not re.search(rb"<script[^>]*src=", html)
    assert svg.startswith(b"<svg") and b"OW-32F" in svg
    assert png.startswith(b"\x89PNG")


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (("diameter", "diametre"), "did you mean diameter"),
        ((",present_screw", ",screw"), "present_screw"),
        (("18 in", "18"), "line 3: diameter"),
        (("M3", "M33"), "line 3: present_screw"),
        (("OW-18F,18 in", "OW-18F"), "line 3"),
        (("5.5 kgf", "5,5 kgf"), "line 3"),
    ],
)
def test_a_bad_list_is_refused_with_its_line_and_leaves_no_file(cli, tmp_path, change, says):
    text = LINE.read_text(encoding="utf-8").replace(*change, 1)
    bad = tmp_path / "bad.csv"
    bad.write_text(text, encoding="utf-8")
    out = tmp_path / "out.svg"
    result = cli("range", bad, "--base", REPAIRED, "--out", out)
    assert result.exit_code == 2 and result.stdout == "" and says in result.stderr
    assert [path.name for path in tmp_path.iterdir()] == ["bad.csv"]


def test_nothing_is_left_half_written(cli, tmp_path, monkeypatch):
    def broken(self, target):
        raise OSError(28, "No space left on device", str(target))

    monkeypatch.setattr(Path, "replace", broken)
    result = cli("new", tmp_path / "mine.toml")
    assert result.exit_code == 2 and "No space left" in result.stderr
    assert list(tmp_path.iterdir()) == []


def test_calibrate_stores_the_result_and_keeps_the_rest(cli, tmp_path):
    shutil.copytree(EXAMPLES, tmp_path / "examples")
    sheet = tmp_path / "examples" / "tarn6_repaired.toml"
    before = sheet.read_text(encoding="utf-8")
    found = json.loads(cli("calibrate", sheet, "--write", "--json").stdout)
    after = sheet.read_text(encoding="utf-8")
    assert (tmp_path / "examples" / "tarn6_repaired.toml.bak").read_text(encoding="utf-8") == before
    assert set(before.splitlines()) <= set(after.splitlines())
    stored = load_sheet(sheet).propeller.calibration
    assert stored.chord_scale.si == pytest.approx(found["chord_scale"], abs=1e-4)
    assert stored.lift_exponent.si == pytest.approx(found["lift_exponent"], abs=1e-3)
    assert stored.thrust_uncertainty.si == pytest.approx(found["thrust_uncertainty"], abs=1e-4)
    reasons = " ".join(slip["reason"] for slip in found["slips"])
    assert "speed typed as a thrust" in reasons and "repeats another row" in reasons and "sags" in reasons
    assert cli("calibrate", sheet, "--write").exit_code == 0  # once more replaces the table
    assert cli("check", sheet).exit_code == 0


def test_a_real_process_answers_the_same():
    run = [sys.executable, "-c", "from bladehold.cli.main import run; run()"]
    held = subprocess.run([*run, "check", REPAIRED], capture_output=True, text=True, check=False)
    refused = subprocess.run([*run, "check", LINE], capture_output=True, text=True, check=False)
    assert held.returncode == 0 and "HOLDS" in held.stdout and held.stderr == ""
    assert refused.returncode == 2 and "Traceback" not in refused.stderr and refused.stdout == ""


def test_a_fault_of_the_program_is_neither_a_verdict_nor_a_traceback():
    code = "import bladehold.sheet as s\ns.load_sheet = None\nfrom bladehold.cli.main import run\nrun()"
    broken = subprocess.run(
        [sys.executable, "-c", code, "check", REPAIRED], capture_output=True, text=True, check=False
    )
    assert broken.returncode == 3
    assert "Traceback" not in broken.stderr and "fault in the program itself" in broken.stderr
