"""`bladehold scan`: the tables it prints make a sheet, and what it cannot read is refused in words."""

import csv
import io
import json
import re
import sys
import tomllib
from pathlib import Path

import numpy as np
import pytest
from blade_mesh import PIVOT, KnownBlade, write_stl

from bladehold.cautions import CAUTIONS
from bladehold.sheet import parse_sheet, resolve
from bladehold.study.shape import geometry_of

SHEET = (Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml").read_text(encoding="utf-8")
BLADE = KnownBlade()
STATED = ("--unit", "mm", "--pivot-radius", f"{PIVOT} mm", "--diameter", "24 in")


@pytest.fixture(scope="module")
def mesh(tmp_path_factory):
    return write_stl(tmp_path_factory.mktemp("scan") / "blade.stl", *BLADE.mesh(rings=32, count=60))


def test_the_tables_make_the_blade_of_a_sheet(cli, mesh):
    result = cli("scan", mesh, *STATED, "--stations", 16, "--section", "naca4412")
    assert result.exit_code == 0 and result.stderr == ""
    stations = tomllib.loads(result.stdout)["propeller"]["station"]
    assert len(stations) == 16
    assert {station["section"] for station in stations} == {"naca4412"}
    build = resolve(parse_sheet(SHEET.replace("[hub]\n", f"{result.stdout}\n[hub]\n")))
    blade = geometry_of(build)
    outboard = (blade.r > 0.08) & (blade.r < 0.98 * blade.radius)
    r = 1e3 * blade.r[outboard]
    assert 1e3 * blade.chord[outboard] == pytest.approx(BLADE.chord(r), rel=0.015)
    assert 1e3 * blade.thickness[outboard] == pytest.approx(BLADE.thickness(r), rel=0.015)
    assert np.degrees(blade.twist[outboard]) == pytest.approx(np.degrees(BLADE.twist(r)), abs=0.5)


def test_volume_balance_and_sense_stand_above_them(cli, mesh):
    head = [line for line in cli("scan", mesh, *STATED).stdout.splitlines() if line.startswith("#")]
    volume, centre = BLADE.volume_and_balance()
    assert "blade.stl" in head[0]
    assert float(head[1].partition("Volume ")[2].partition(" ")[0]) == pytest.approx(volume / 1e3, rel=0.01)
    balance = float(head[1].rpartition(" mm")[0].rpartition(" ")[2])
    assert balance == pytest.approx(centre - PIVOT, rel=0.005)
    assert "the root ends 9.1 mm inboard of the pivot" in head[2]
    assert "counterclockwise" in head[3]
    assert [f"# {caution}" for caution in CAUTIONS] == head[-len(CAUTIONS) :]
    text = cli("scan", mesh, *STATED).stdout
    areas = [float(found) for found in re.findall(r"# area ([\d.]+) mm\^2", text)]
    data = json.loads(cli("scan", mesh, *STATED, "--json").stdout)
    assert areas == pytest.approx([1e6 * row["area_m2"] for row in data["stations"]], abs=0.06)


def test_json_and_csv_hold_what_the_tables_hold(cli, mesh):
    words = ("--stations", 5, "--section", "clark-y")
    stations = tomllib.loads(cli("scan", mesh, *STATED, *words).stdout)["propeller"]["station"]
    data = json.loads(cli("scan", mesh, *STATED, *words, "--json").stdout)
    rows = list(csv.DictReader(io.StringIO(cli("scan", mesh, *STATED, *words, "--csv").stdout)))
    for station, one, row in zip(stations, data["stations"], rows, strict=True):
        assert {name: str(value) for name, value in one.items()} | {"breaches": ""} == row
        assert one["section"] == station["section"]
        for name, scale in (("at", 1.0), ("chord", 1e3), ("twist", 1.0), ("thickness", 1e3)):
            key = {"at": "at", "twist": "twist_deg"}.get(name, f"{name}_m")
            assert float(str(station[name]).split()[0]) == pytest.approx(scale * one[key], abs=0.006)
    volume, centre = BLADE.volume_and_balance()
    assert 1e9 * data["volume_m3"] == pytest.approx(volume, rel=0.01)
    assert 1e3 * data["balance_point_m"] == pytest.approx(centre - PIVOT, rel=0.005)
    assert data["breaches"] == [] and data["cautions"] == list(CAUTIONS)
    span = data["area_over_span"]
    assert span[0]["radius_m"] > data["root_end_m"] and span[-1]["radius_m"] < data["tip_radius_m"]


def test_doubts_are_told_in_every_format(cli, mesh, tmp_path):
    words = (*STATED[:2], *STATED[4:], "--pivot-radius", "80 mm")
    text = cli("scan", mesh, *words).stdout
    assert "# ! To doubt: way from pivot to root end" in text
    (doubt,) = json.loads(cli("scan", mesh, *words, "--json").stdout)["breaches"]
    rows = csv.DictReader(io.StringIO(cli("scan", mesh, *words, "--csv").stdout))
    assert {row["breaches"] for row in rows} == {doubt}
    written = cli("scan", mesh, *words, "--csv", "--out", tmp_path / "new" / "stations.csv")
    assert doubt in written.stdout


def test_without_the_mesh_library_the_extra_is_named(cli, mesh, monkeypatch):
    monkeypatch.setitem(sys.modules, "trimesh", None)
    result = cli("scan", mesh, *STATED)
    assert result.exit_code == 2 and 'pip install "bladehold[scan]"' in result.stderr


def test_a_file_holds_what_would_be_printed(cli, mesh, tmp_path):
    path = tmp_path / "stations.toml"
    result = cli("scan", mesh, *STATED, "--out", path)
    assert result.exit_code == 0 and str(path) in result.stdout
    assert path.read_text(encoding="utf-8") == cli("scan", mesh, *STATED).stdout


def test_the_pivot_may_be_given(cli, mesh):
    result = cli("scan", mesh, *STATED, "--pivot-at", f"{PIVOT}, 0, 0")
    assert result.exit_code == 0
    assert len(tomllib.loads(result.stdout)["propeller"]["station"]) == 12


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--unit", "in"), "in mm it would fit"),
        (("--unit", "furlong"), '--unit: "furlong" is no unit of length'),
        (("--diameter", "24"), "--diameter: read"),
        (("--pivot-radius", "30 g"), "--pivot-radius: read"),
        (("--up", "w"), '--up: "w" is no axis'),
        (("--up", "y"), "along another axis than y"),
        (("--json", "--csv"), "not both"),
        (("--up", "x"), "longest along x"),
        (("--stations", "2"), "2 stations are asked for"),
        (("--section", "naca4413"), "did you mean naca441"),
        (("--pivot-at", "1, 2"), "--pivot-at: read"),
        (("--pivot-at", "nan, 0, 0"), "pivot"),
    ],
)
def test_bad_options_end_with_2_and_words(cli, mesh, words, said):
    result = cli("scan", mesh, *STATED, *words)
    assert result.exit_code == 2
    assert result.stdout == "" and said in result.stderr
    assert "cannot be computed" not in result.stderr


def test_bad_files_end_with_2_and_words(cli, tmp_path):
    empty = tmp_path / "empty.stl"
    empty.write_bytes(b"")
    for path, said in ((empty, "no surface found"), (tmp_path / "nowhere.stl", "No such file")):
        result = cli("scan", path, *STATED)
        assert result.exit_code == 2 and said in result.stderr
    assert cli("scan", empty, "--unit", "mm").exit_code == 2
