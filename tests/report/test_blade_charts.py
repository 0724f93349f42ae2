"""The charts of the moving blade say what the study says."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.blade_charts import (
    ABOVE,
    LETTERS,
    drawn_conditions,
    folding_chart,
    frequency_chart,
    shape_chart,
    turn_chart,
)
from bladehold.sheet import parse_sheet, resolve
from bladehold.study import blade_answer
from bladehold.study.words import rpm

EXAMPLES = Path(__file__).parents[2] / "examples"
OPEN = ("layup", "skin_thickness", "pivot_friction", "leading_stop", "trailing_stop")
CHARTS = (turn_chart, frequency_chart, shape_chart, folding_chart)


@pytest.fixture(scope="module")
def build():
    """The repaired example with the build of its blade and the friction of its pivot left open."""
    text = (EXAMPLES / "tarn6_repaired.toml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith(OPEN)]
    return resolve(parse_sheet("\n".join(lines)), EXAMPLES)


@pytest.fixture(scope="module")
def found(build):
    return blade_answer(build)


def layers(chart):
    """Every layer, with the data of its panel where it has none of its own."""
    return [
        {"data": panel.get("data"), **layer}
        for panel in chart.to_dict()["vconcat"]
        for layer in panel["layer"]
    ]


def rows_with(chart, key):
    """The rows of every layer whose rows have the key."""
    return [layer["data"]["values"] for layer in layers(chart) if key in layer["data"]["values"][0]]


def notes_of(chart):
    return " ".join(chart.to_dict()["title"]["subtitle"])


def test_the_turn_is_that_of_top_speed_and_manoeuvre(build, found):
    motion = found.motion
    places = drawn_conditions(found, build)
    assert [motion.names[at].rpartition(",")[0] for at in places] == ["top speed", "manoeuvre at top speed"]
    peak = motion.elastic.flap_moment.max(axis=1)
    assert peak[places[1]] == peak.max()
    drawn = rows_with(turn_chart(found, build), "azimuth")[::2]
    for at, rows in zip(places, drawn, strict=True):
        for name, series in (
            ("elastic blade", motion.elastic.flap_moment),
            ("rigid blade", motion.rigid.flap),
        ):
            line = [row for row in rows if row["blade"] == name]
            assert [row["moment"] for row in line] == pytest.approx([*series[at], series[at, 0]])
            assert [row["azimuth"] for row in line] == pytest.approx(np.linspace(0.0, 360.0, len(line)))


def test_azimuth_runs_from_0_to_360_with_ticks_at_90(build, found):
    axes = [layer["encoding"]["x"] for layer in layers(turn_chart(found, build))]
    assert all(x["scale"]["domain"] == [0, 360] for x in axes)
    assert all(x["axis"]["values"] == [0, 90, 180, 270, 360] for x in axes)


def test_frequencies_are_those_of_the_diagram_up_to_the_end_of_the_axis(build, found):
    campbell = found.motion.campbell
    chart = frequency_chart(found, build)
    top = ABOVE * campbell.orders[-1] * campbell.running[1] / (2 * np.pi)
    drawn = rows_with(chart, "run")[0]
    low = [mode for mode in range(campbell.frequency.shape[1]) if campbell.frequency[:, mode].min() <= top]
    assert [row["Hz"] for row in drawn] == pytest.approx(campbell.frequency[:, low].T.ravel())
    assert {row["name"] for row in drawn} == {"mode 1, lag", "mode 2, flap"}
    axes = [layer["encoding"]["y"] for layer in layers(chart) if "y" in layer["encoding"]]
    assert all(y["scale"]["domain"] == pytest.approx([0.0, top]) for y in axes)
    assert "Not drawn, far above: mode 3 (flap, " in notes_of(chart)


def test_every_order_is_named_and_every_crossing_marked(build, found):
    campbell = found.motion.campbell
    chart = frequency_chart(found, build)
    named = [layer for layer in layers(chart) if layer["encoding"].get("text", {}).get("field") == "order"]
    assert {row["order"] for layer in named for row in layer["data"]["values"]} == {"1P", "2P", "3P", "4P"}
    marks = rows_with(chart, "meets")
    split = [[one for one in campbell.crossings if one.inside is way] for way in (True, False)]
    for rows, wanted in zip(marks, filter(None, split), strict=True):
        assert [row["rpm"] for row in rows] == pytest.approx([rpm(one.speed) for one in wanted])
        assert [row["Hz"] for row in rows] == pytest.approx([one.frequency for one in wanted])
    (shade,) = rows_with(chart, "to")
    ends = [rpm(end) for end in campbell.running]
    assert shade == [{"rpm": pytest.approx(ends[0]), "to": pytest.approx(ends[1])}]
    assert all(text in notes_of(chart) for text in campbell.warnings())


def test_shapes_are_those_of_hover(build, found):
    modes = found.standing_and_hovering
    rows = rows_with(shape_chart(found, build), "deflection")[0]
    names = list(dict.fromkeys(row["mode"] for row in rows))
    assert [name.partition(":")[0] for name in names] == ["flap 1", "flap 2", "flap 3", "lag 1"]
    flap = np.flatnonzero(modes.flap_energy[1] > 0.5)[:3]
    lag = int(np.argmax(modes.flap_energy[1] < 0.5))
    wanted = [*modes.flap[1, flap], modes.lag[1, lag]]
    for name, shape in zip(names, wanted, strict=True):
        drawn = [row for row in rows if row["mode"] == name]
        assert [row["deflection"] for row in drawn] == pytest.approx(shape)
        assert drawn[0]["mm"] == pytest.approx(1e3 * build.hub.pivot_radius)
        assert drawn[-1]["mm"] == pytest.approx(500.0 * build.propeller.diameter)


def test_rest_angles_are_those_of_both_frictions(build, found):
    folds = found.folding
    chart = folding_chart(found, build)
    rows = rows_with(chart, "leading_deg")[0]
    for at, name in enumerate(("least friction", "greatest friction")):
        band = [row for row in rows if row["friction"] == name]
        assert [row["leading_deg"] for row in band] == pytest.approx(np.degrees(folds.band.leading[:, at]))
        assert [row["trailing_deg"] for row in band] == pytest.approx(np.degrees(folds.band.trailing[:, at]))
        assert [row["speed_rpm"] for row in band] == pytest.approx(rpm(folds.speed))
    (hover,) = [rows for rows in rows_with(chart, "speed_rpm") if len(rows) == 1]
    assert hover[0]["speed_rpm"] == pytest.approx(rpm(folds.hover))
    assert "does NOT come out" in notes_of(chart)


def test_blades_that_do_not_fold_have_no_rest_angles(build, found):
    with pytest.raises(ValueError, match="do not fold"):
        folding_chart(replace(found, folding=None), build)


@pytest.mark.parametrize("draw", CHARTS)
def test_lines_differ_by_more_than_colour(build, found, draw):
    encodings = [layer["encoding"] for layer in layers(draw(found, build))]
    coloured = [encoding for encoding in encodings if "color" in encoding]
    for encoding in coloured:
        assert "strokeDash" in encoding or "shape" in encoding or "y2" in encoding
    for key in ("strokeDash", "shape"):
        for scale in (encoding[key]["scale"] for encoding in coloured if key in encoding):
            looks = [str(look) for look in scale["range"]]
            assert len(set(looks)) == len(scale["domain"])


@pytest.mark.parametrize("draw", CHARTS)
def test_notes_fit_and_tell_what_is_assumed_left_and_invented(build, found, draw):
    odd = replace(build, name="long " * 40 + "x" * 200)
    title = draw(found, odd).to_dict()["title"]
    assert max(map(len, title["text"])) <= 0.63 * LETTERS and max(map(len, title["subtitle"])) <= LETTERS
    words = " ".join(title["subtitle"])
    assert found.breaches and all(f"! Range left: {text[:40]}" in words for text in found.breaches)
    assert "Assumed of the moving blade: layup, " in words
    assert INVENTED in words and CAUTIONS[0] in words
