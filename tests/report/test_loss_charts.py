"""The charts of a shaken arm and of thrown blades say what the study says."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report import arm_charts, throw_chart
from bladehold.report.arm_charts import arm_chart
from bladehold.sheet import load_sheet, resolve
from bladehold.study.arm import AXES, arm_answer
from bladehold.study.loads import loads_of
from bladehold.study.release import BOUNDS, release_answer
from bladehold.study.words import rpm

EXAMPLES = Path(__file__).parents[2] / "examples"

ROUNDED = 5.1e-4  # of a value: four digits are drawn


@pytest.fixture(scope="module")
def build():
    return resolve(load_sheet(EXAMPLES / "tarn6_as_delivered.toml"), EXAMPLES)


@pytest.fixture(scope="module")
def shaken(build):
    return arm_answer(build, 100e-6, loads_of(build))


@pytest.fixture(scope="module")
def thrown(build):
    return release_answer(build, loads_of(build))


def rows_with(panel, key):
    """Rows of every layer of a panel whose rows have the key."""
    values = [layer["data"]["values"] for layer in panel["layer"]]
    return [rows for rows in values if key in rows[0]]


def test_force_stress_and_measure_are_those_of_the_answer(shaken):
    force, stress, felt = arm_chart(shaken).to_dict()["vconcat"]
    (line,) = rows_with(force, "name")
    assert [row["value"] for row in line] == pytest.approx(shaken.force, rel=ROUNDED)
    assert [row["rpm"] for row in line] == pytest.approx([rpm(float(s)) for s in shaken.speed], abs=0.051)
    (lines,) = rows_with(stress, "name")
    amplitude = [row["value"] for row in lines if row["name"] == "amplitude"]
    assert amplitude == pytest.approx(shaken.stress.amplitude / 1e6, rel=ROUNDED)
    (lines,) = rows_with(felt, "name")
    for axis, values in zip(AXES, shaken.measure, strict=True):
        assert [row["value"] for row in lines if row["name"] == axis] == pytest.approx(values, rel=ROUNDED)


def test_levels_are_the_allowed_stress_and_the_published_thresholds(shaken):
    _, stress, felt = arm_chart(shaken).to_dict()["vconcat"]
    allowed = {
        row["word"]: row["value"] for rows in rows_with(stress, "value") for row in rows if "word" in row
    }
    assert list(allowed.values()) == pytest.approx([shaken.stress.strength / shaken.stress.factor / 1e6])
    published = {
        row["word"]: row["value"] for rows in rows_with(felt, "value") for row in rows if "word" in row
    }
    assert published == {"acceptable below": 30.0, "trouble above": 60.0}


def test_every_mode_met_in_flight_is_marked_in_every_panel_and_named_in_the_first(shaken):
    inside = [one for one in shaken.meetings if one.inside]
    wanted = {f"{one.mode}, {one.order} per turn": rpm(one.speed) for one in inside}
    assert wanted
    for place, panel in enumerate(arm_chart(shaken).to_dict()["vconcat"]):
        marked = {"rule": [], "text": []}
        for layer in panel["layer"]:
            rows = [row for row in layer["data"]["values"] if "per turn" in row.get("word", "")]
            marked.setdefault(layer["mark"]["type"], []).extend(rows)
        assert {row["word"]: row["rpm"] for row in marked["rule"]} == pytest.approx(wanted)
        named = {row["word"]: row["rpm"] for row in marked["text"]}
        assert named == pytest.approx(wanted if place == 0 else {})


def test_rings_are_the_distances_of_every_place(thrown):
    maps = throw_chart.throw_chart(thrown).to_dict()["vconcat"][0]["hconcat"]
    for panel, throw in zip(maps, thrown.throws, strict=True):
        (rings,) = rows_with(panel, "bound")
        for name, distance in zip(BOUNDS, throw.distance, strict=True):
            reach = [np.hypot(row["east"], row["north"]) for row in rings if row["bound"] == name]
            assert reach == pytest.approx([distance] * len(reach), abs=0.01)
        scales = {
            axis: layer["encoding"][axis]["scale"]["domain"]
            for layer in panel["layer"]
            for axis in ("x", "y")
        }
        assert scales["x"] == scales["y"] and panel["width"] == panel["height"]
        assert scales["x"][1] > throw.distance.max()
        assert f"vacuum {throw.distance[0]:.3g} m" in panel["title"]["subtitle"][0]


def test_the_stand_off_is_drawn_about_the_stand(thrown):
    stand = throw_chart.throw_chart(thrown).to_dict()["vconcat"][0]["hconcat"][-1]
    thin = [rows for rows in rows_with(stand, "step") if "bound" not in rows[0]]
    reach = [np.hypot(row["east"], row["north"]) for row in thin[0]]
    assert reach == pytest.approx([thrown.stand_off] * len(reach), abs=0.01)


@pytest.mark.parametrize(
    ("draw", "letters", "name"),
    [
        (arm_chart, arm_charts.LETTERS, "shaken"),
        (throw_chart.throw_chart, throw_chart.LETTERS, "thrown"),
    ],
)
def test_notes_fit_and_tell_assumptions_ranges_and_cautions(draw, letters, name, build, request):
    found = request.getfixturevalue(name)
    odd = replace(found, build=replace(build, name="long " * 40), breaches=("something was left",))
    title = draw(odd).to_dict()["title"]
    assert max(map(len, title["text"])) <= 0.63 * letters and max(map(len, title["subtitle"])) <= letters
    words = " ".join(title["subtitle"])
    assert "! Range left: something was left" in words and "Assumed: " in words
    assert INVENTED in words and CAUTIONS[0] in words


def test_lines_differ_by_more_than_colour(shaken, thrown):
    charts = (
        arm_chart(shaken).to_dict()["vconcat"],
        throw_chart.throw_chart(thrown).to_dict()["vconcat"][0]["hconcat"],
    )
    for panel in (*charts[0], *charts[1]):
        for layer in panel["layer"]:
            if "color" in layer["encoding"]:
                assert "strokeDash" in layer["encoding"]
