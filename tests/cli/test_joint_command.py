"""`bladehold joint`: exit codes, formats, pictures, refusals."""

import csv
import io
import json
import re
from pathlib import Path

import pytest

from bladehold.cautions import CAUTIONS
from bladehold.report.joint_words import crew_sentence, headline
from bladehold.sheet import load_sheet, resolve
from bladehold.study import joint_answer

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED, DELIVERED = (EXAMPLES / f"tarn6_{name}.toml" for name in ("repaired", "as_delivered"))
CHARTS = ("section", "tension", "tightness", "life")
STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}
FRICTION = 'pivot_friction = "0.25 N*m"'
# What makes the repaired example serve in all that is asked of it: no ties that bend the plates onto the lug,
# spring washers under the nut, a tamer machine.
TIES = ("[tie_screws]", "[mounting_screws]")


def flat(text):
    return re.sub(r"\s+", " ", text)


@pytest.fixture
def sheet(tmp_path):
    """Write an example with words replaced; gives its path."""

    def write(*pairs, ties=True):
        text = REPAIRED.read_text(encoding="utf-8").partition("[bench]")[0]
        if not ties:
            start, end = map(text.index, TIES)
            text = text[:start] + text[end:]
        for old, new in pairs:
            assert old in text
            text = text.replace(old, new, 1)
        path = tmp_path / "own.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


SPRUNG = (
    (FRICTION, ""),
    ('torque = "0.9 N*m"', 'torque = "0.9 N*m"\nspring_washer_rate = "800 N/mm"'),
    ("load_factor = 1.6", "load_factor = 1.3"),
)


@pytest.mark.parametrize("path", [REPAIRED, DELIVERED])
def test_both_examples_do_not_hold_and_end_with_1(cli, path):
    found = joint_answer(resolve(load_sheet(path), EXAMPLES))
    result = cli("joint", path)
    assert result.exit_code == 1 and result.stderr == "" and not found.holds
    assert flat(result.stdout).startswith(flat(headline(found)))
    assert flat(crew_sentence(found)) in flat(result.stdout)
    assert max(len(line.rstrip()) for line in result.stdout.splitlines()) <= 80


def test_a_joint_that_serves_in_all_ends_with_0(cli, sheet):
    path = sheet(*SPRUNG, ties=False)
    assert cli("joint", path).exit_code == 0
    assert json.loads(cli("joint", path, "--json").stdout)["holds"] is True


@pytest.mark.parametrize(
    ("pairs", "ties", "said"),
    [
        (
            (('torque = "0.9 N*m"', 'torque = "0.45 N*m"'),),
            False,
            "the tightness of the sheet does not serve",
        ),
        # The ties bend the plates onto the lug, which leaves them less for the flight.
        ((), True, "life"),
    ],
)
def test_a_wrong_torque_or_a_short_life_alone_ends_with_1(cli, sheet, pairs, ties, said):
    result = cli("joint", sheet(*SPRUNG, *pairs, ties=ties))
    assert result.exit_code == 1 and said in flat(result.stdout).partition(" Stiffness")[0]


def test_json_is_whole_and_ends_as_the_words_do(cli):
    result = cli("joint", DELIVERED, "--json")
    data = json.loads(result.stdout)
    assert result.exit_code == 1 and data["holds"] is False
    assert {"clevis", "curve", "tightness", "lives", "losses", "facts", "assumptions", "notes"} <= data.keys()
    assert CAUTIONS[0] in data["cautions"]
    assert all(row["life_h"] > 0.0 for row in data["lives"] if row["checked"] and row["life_h"] is not None)
    mended = json.loads(cli("joint", REPAIRED, "--json").stdout)
    assert any(row["life_h"] is None and row["checked"] for row in mended["lives"])


def test_csv_has_a_row_per_flap_moment_and_preload(cli):
    data = json.loads(cli("joint", REPAIRED, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("joint", REPAIRED, "--csv").stdout)))
    assert [float(row["screw_tension_N"]) for row in rows] == pytest.approx(
        [row["screw_tension_N"] for row in data["curve"]]
    )
    assert {row["preload"] for row in rows} == {"greatest", "none"}


@pytest.mark.parametrize("chart", CHARTS)
def test_pictures_are_written_in_the_format_of_their_ending(cli, tmp_path, chart):
    paths = [tmp_path / "new" / f"picture.{kind}" for kind in STARTS]
    words = [word for path in paths for word in ("--out", path)]
    result = cli("joint", REPAIRED, "--chart", chart, *words)
    assert result.exit_code == 1
    for path, start in zip(paths, STARTS.values(), strict=True):
        assert path.read_bytes().lstrip().startswith(start)
        assert f"Wrote {path}" in result.stdout


def test_the_section_is_drawn_by_default_in_the_condition_asked_for(cli, tmp_path):
    one, other = tmp_path / "one.svg", tmp_path / "other.svg"
    cli("joint", REPAIRED, "--out", one)
    cli("joint", REPAIRED, "--condition", "hover, cold", "--out", other)
    assert "Section at the pivot" in one.read_text(encoding="utf-8")
    assert "Forces drawn: hover, cold" in other.read_text(encoding="utf-8")
    assert "Forces drawn: hover, cold" not in one.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nowhere.toml",), "nowhere.toml"),
        ((REPAIRED, "--json", "--csv"), "not both"),
        ((REPAIRED, "--out", "a.pdf"), "html, svg, png"),
        ((REPAIRED, "--chart", "pie"), "tightness"),
        ((REPAIRED, "--chart", "life"), "name a picture file with --out"),
        ((REPAIRED, "--condition", "hover, cold"), "--chart section --out"),
        ((REPAIRED, "--condition", "hover, cold", "--chart", "life", "--out", "a.svg"), "for the section"),
    ],
)
def test_bad_input_ends_with_2_and_words(cli, words, said):
    result = cli("joint", *words)
    assert result.exit_code == 2
    assert result.stdout == "" and said in flat(result.stderr)


def test_an_unknown_condition_is_refused_with_those_there_are(cli, tmp_path):
    result = cli("joint", REPAIRED, "--condition", "landing", "--out", tmp_path / "a.svg")
    assert result.exit_code == 2 and not (tmp_path / "a.svg").exists()
    assert "'landing'" in result.stderr and "manoeuvre at top speed, cold" in flat(result.stderr)


def test_a_file_that_cannot_be_written_is_told(cli, tmp_path):
    (tmp_path / "taken").write_text("a file, no folder", encoding="utf-8")
    result = cli("joint", REPAIRED, "--chart", "life", "--out", tmp_path / "taken" / "a.svg")
    assert result.exit_code == 2 and "taken" in result.stderr


@pytest.mark.parametrize(
    ("pairs", "why"),
    [
        (
            (
                ("folding = true", "folding = false"),
                (FRICTION, ""),
                ('leading_stop = "5 deg"\ntrailing_stop = "120 deg"\n', ""),
            ),
            "do not fold",
        ),
        (
            (
                (FRICTION, ""),
                ('torque = "0.9 N*m"\nprevailing_torque = "0.4 N*m"\n', ""),
                ('nut = "locking"', 'nut = "circlip"\ncirclip_load = "2 kN"'),
            ),
            "nothing clamps",
        ),
    ],
)
def test_without_a_tightness_all_else_is_answered_and_its_chart_refused(cli, sheet, pairs, why):
    path = sheet(*pairs)
    result = cli("joint", path)
    assert result.exit_code in {0, 1} and why in flat(result.stdout)
    refused = cli("joint", path, "--chart", "tightness", "--out", path.with_name("a.svg"))
    assert refused.exit_code == 2 and why in refused.stderr and refused.stdout == ""


def test_a_balance_point_that_cannot_be_is_told(cli, sheet):
    result = cli("joint", sheet(('balance_point = "102 mm"', 'balance_point = "160 mm"')))
    assert result.exit_code == 2 and "propeller.balance_point: 160.0 mm" in result.stderr


def test_the_help_says_when_it_ends_with_1(cli):
    assert "Ends with 1" in flat(cli("joint", "--help").stdout)
