"""`bladehold blade`: tables, formats, pictures, refusals."""

import csv
import io
import json
import re
from pathlib import Path

import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.sheet import load_sheet, resolve
from bladehold.study import blade_answer
from bladehold.study.words import rpm

EXAMPLES = Path(__file__).parents[2] / "examples"
REPAIRED = EXAMPLES / "tarn6_repaired.toml"
CHARTS = ("turn", "frequencies", "shapes", "folding")
STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}


# What the tests say of the blade, they say of one whose build and friction the sheet leaves open.
OPEN = ("layup", "skin_thickness", "pivot_friction", "leading_stop", "trailing_stop")


def without(text):
    """The text of the example without the keys that are to be open."""
    return "".join(line for line in text.splitlines(keepends=True) if not line.startswith(OPEN))


@pytest.fixture(scope="module")
def sheet(tmp_path_factory):
    path = tmp_path_factory.mktemp("blade") / "open.toml"
    path.write_text(without(REPAIRED.read_text(encoding="utf-8")), encoding="utf-8")
    return path


def flat(text):
    return re.sub(r"\s+", " ", text)


@pytest.fixture(scope="module")
def found(sheet):
    return blade_answer(resolve(load_sheet(sheet), EXAMPLES))


@pytest.fixture(scope="module")
def shown(cli, sheet):
    result = cli("blade", sheet)
    assert result.exit_code == 0 and result.stderr == ""
    return result.stdout


@pytest.fixture(scope="module")
def data(cli, sheet):
    return json.loads(cli("blade", sheet, "--json").stdout)


@pytest.fixture
def changed(tmp_path):
    """Write the example with words replaced; gives its path."""

    def write(*pairs):
        text = without(REPAIRED.read_text(encoding="utf-8")).partition("[bench]")[0]
        for old, new in pairs:
            assert old in text
            text = text.replace(old, new, 1)
        path = tmp_path / "own.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def test_the_headline_counts_resonances_and_names_the_highest_moment(shown, found):
    inside = sum(one.inside for one in found.motion.campbell.crossings)
    elastic = found.motion.elastic.flap_moment
    place = int(elastic.max(axis=1).argmax())
    head = flat(shown).partition(" Lay-up")[0]
    assert f"{inside} crossings of a frequency with an order inside the running range" in head
    assert f"highest flap moment {elastic.max():.2f} N·m in {found.motion.names[place]}" in head
    assert f"(rigid blade {found.motion.rigid.flap[place].max():.2f})" in head


def test_tables_are_narrow_and_come_in_order(shown):
    assert max(len(line.rstrip()) for line in shown.splitlines()) <= 80
    text = flat(shown)
    parts = [
        "Loads at the pivot",
        "Natural frequencies",
        "Where frequencies meet orders",
        "Load cases",
        " Folding ",
        " Warnings ",
        " Ranges left ",
        " Assumed inputs ",
        INVENTED,
        CAUTIONS[0],
    ]
    places = [text.index(part) for part in parts]
    assert places == sorted(places)


def test_loads_frequencies_and_cases_are_those_of_the_study(shown, found):
    hover = rpm(float(found.motion.speed[0]))
    moment = found.motion.elastic.flap_moment[0].mean()
    rigid = found.motion.rigid.flap[0].mean()
    pull = found.motion.elastic.centrifugal[0]
    assert f"hover, warm {hover:.0f} {pull:.0f} {moment:.2f} ± 0.00 {rigid:.2f} ± 0.00" in flat(shown)
    hertz = found.standing_and_hovering.frequency
    assert f"{hertz[0, 1]:.1f} {hertz[1, 1]:.1f} {hertz[1, 1] * 60 / hover:.2f}" in flat(shown)
    gust = next(case for case in found.cases if case.name == "vertical gust")
    peak, span = gust.peak, gust.span
    assert f"vertical gust 1 {float(peak.flap):.2f} {float(span.flap):.2f}" in flat(shown)
    for text in (*found.motion.campbell.warnings(), *found.breaches):
        assert flat(text) in flat(shown)


def test_assumed_inputs_are_those_of_every_answer_and_of_the_blade(shown, sheet):
    build = resolve(load_sheet(sheet), EXAMPLES)
    assert build.blade_assumptions
    for item in (*build.assumptions, *build.blade_assumptions):
        assert f"- {item.key} = {item.value}" in flat(shown)


def test_a_blade_that_does_not_come_out_is_told_plainly(shown, found, cli, changed):
    assert found.folding.start.straightened.tolist() == [True, False]
    assert "With the greatest friction a folded blade does NOT come out straight in hover" in flat(shown)
    assert f"takes {rpm(float(found.folding.straightens_at[1])):.0f} rpm" in flat(shown)
    easy = cli("blade", changed(("[propeller]\n", '[propeller]\npivot_friction = "0.12 N*m"\n'))).stdout
    assert "Friction measured" in flat(easy) and "does NOT come out" not in easy


def test_a_tap_test_and_a_skin_are_told(cli, changed):
    path = changed(("[propeller]\n", '[propeller]\ntap_frequency = "62 Hz"\nlayup = "foam-core"\n'))
    text, data = flat(cli("blade", path).stdout), json.loads(cli("blade", path, "--json").stdout)
    assert "Lay-up foam-core, skin" in text
    factor = data["tap_test_stiffness_factor"]
    assert f"its stiffness by the tap test is {factor:.2f} times that of the lay-up" in text
    assert all(row["speed_rpm"] > 1.0 for row in data["campbell"]["crossings"])


def test_clamped_blades_have_a_lag_moment_and_no_folding(cli, changed):
    path = changed(("folding = true", "folding = false"))
    text, data = cli("blade", path).stdout, json.loads(cli("blade", path, "--json").stdout)
    assert data["folding"] is None and "least friction" not in text
    assert max(len(line.rstrip()) for line in text.splitlines()) <= 80
    lag = data["conditions"][0]["lag_elastic_mean_Nm"]
    assert lag > 0.1 and f"{lag:.2f} ± 0.00" in text
    result = cli("blade", path, "--chart", "folding", "--out", path.with_name("f.svg"))
    assert result.exit_code == 2 and "do not fold" in result.stderr
    assert not path.with_name("f.svg").exists()


def test_a_balance_point_that_cannot_be_is_told_with_both_numbers(cli, changed):
    result = cli("blade", changed(('balance_point = "102 mm"', 'balance_point = "160 mm"')))
    assert result.exit_code == 2 and result.stdout == ""
    assert "propeller.balance_point: 160.0 mm" in result.stderr
    assert re.search(r"put it at 1\d\d\.\d mm", result.stderr)
    assert re.search(r"no nearer than 1\d\d\.\d mm", result.stderr)


def test_without_fast_flight_hover_and_pull_up_are_drawn(cli, changed):
    path = changed(('top_speed = "16 m/s"', 'top_speed = "0 m/s"'))
    out = path.with_name("turn.svg")
    assert cli("blade", path, "--out", out).exit_code == 0
    drawn = out.read_text(encoding="utf-8")
    assert "pull-up in hover, " in drawn and "top speed" not in drawn


def test_json_holds_everything(data, found):
    motion = found.motion
    assert [row["name"] for row in data["conditions"]] == list(motion.names)
    for at, row in enumerate(data["turn"]["flap"]):
        assert row["elastic_Nm"] == pytest.approx(motion.elastic.flap_moment[at])
        assert row["rigid_Nm"] == pytest.approx(motion.rigid.flap[at])
    assert [row["name"] for row in data["cases"]] == [case.name for case in found.cases]
    for row, case in zip(data["cases"], found.cases, strict=True):
        assert row["in_plane_shear_peak_N"] == pytest.approx(float(case.peak.in_plane_shear))
        assert row["feathering_range_Nm"] == pytest.approx(float(case.span.feathering))
        assert row["times_per_flight"] == pytest.approx(float(case.repeats))
    assert len(data["campbell"]["crossings"]) == len(motion.campbell.crossings)
    assert data["campbell"]["frequency_Hz"] == [pytest.approx(row) for row in motion.campbell.frequency]
    assert data["breaches"] == list(found.breaches) and CAUTIONS[0] in data["cautions"]
    least, greatest = data["folding"]["friction"]
    assert least["unbalance_g_mm"] == pytest.approx(1e6 * found.folding.unbalance[0])
    assert greatest["straightened_after_s"] is None and greatest["straightened"] is False
    assert len(data["folding"]["band"]) == 2 * found.folding.speed.size
    assert data["weighed_over_layup_mass"] == pytest.approx(motion.model.spread.scale)


def test_csv_has_a_row_per_load_case(cli, data, sheet):
    rows = list(csv.DictReader(io.StringIO(cli("blade", sheet, "--csv").stdout)))
    assert [row["name"] for row in rows] == [case["name"] for case in data["cases"]]
    conditions = {row["name"]: row for row in data["conditions"]}
    for row, case in zip(rows, data["cases"], strict=True):
        assert {key: row[key] for key in case} == {key: str(value) for key, value in case.items()}
        given = conditions.get(row["name"])
        for key in data["conditions"][0].keys() - {"name"}:
            assert row[key] == ("" if given is None else str(given[key]))


@pytest.mark.parametrize("chart", CHARTS)
def test_pictures_are_written_in_the_format_of_their_ending(cli, tmp_path, chart):
    paths = [tmp_path / "new" / f"picture.{kind}" for kind in STARTS]
    words = [word for path in paths for word in ("--out", path)]
    result = cli("blade", REPAIRED, "--chart", chart, *words)
    assert result.exit_code == 0
    for path, start in zip(paths, STARTS.values(), strict=True):
        assert path.read_bytes().lstrip().startswith(start)
        assert f"Wrote {path}" in result.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nowhere.toml",), "nowhere.toml"),
        ((REPAIRED, "--json", "--csv"), "not both"),
        ((REPAIRED, "--out", "a.pdf"), "html, svg, png"),
        ((REPAIRED, "--chart", "pie"), "frequencies"),
        ((REPAIRED, "--chart", "turn"), "name a picture file with --out"),
    ],
)
def test_bad_input_ends_with_2_and_words(cli, words, said):
    result = cli("blade", *words)
    assert result.exit_code == 2
    assert result.stdout == "" and said in flat(result.stderr)


def test_measured_friction_and_a_stated_build_are_told(cli):
    text = flat(cli("blade", REPAIRED).stdout)
    assert "Lay-up foam-core, skin 0.6 mm" in text
    assert "Friction measured" in text and "NOT come out" not in text
    assert "propeller.layup" not in text and "propeller.blade_material" in text
