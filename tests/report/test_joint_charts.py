"""The charts of the retention joint say what the study says, in print too."""

from dataclasses import replace

import numpy as np
import pytest
from joint_builds import VARIANTS, build_of

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.clevis_drawing import clevis_svg
from bladehold.report.joint_charts import (
    ENDLESS,
    LASTS,
    LETTERS,
    OPEN,
    SHORT,
    life_chart,
    tension_chart,
)
from bladehold.report.joint_words import NO_DAMAGE, headline, hours
from bladehold.report.render import render
from bladehold.report.tightness_chart import BEST, MISSES, SERVES, between, tightness_chart
from bladehold.study import joint_answer
from bladehold.study.situation import greatest_pressure

NAMES = list(VARIANTS)
TIGHT = [name for name in NAMES if name not in {"clamped", "circlip"}]


@pytest.fixture(scope="module")
def answers():
    return {name: joint_answer(build_of(text)) for name, text in VARIANTS.items()}


@pytest.fixture(scope="module")
def found(answers):
    return answers["repaired"]


def lives_of(found):
    return life_chart(found, headline(found))


def layers(chart):
    """Every layer of every panel, however deep."""

    def of(panel):
        for inner in panel.get("vconcat", []):
            yield from of(inner)
        for layer in panel.get("layer", []):
            yield {"data": panel.get("data"), **layer}

    return list(of(chart if isinstance(chart, dict) else chart.to_dict()))


def rows_with(chart, *keys):
    """The rows of every layer whose first row has all the keys."""
    rows = [layer["data"]["values"] for layer in layers(chart)]
    return [some for some in rows if all(key in some[0] for key in keys)]


def notes_of(chart):
    return " ".join(chart.to_dict()["title"]["subtitle"])


def line(rows, name):
    return [row["value"] for row in rows if row["line"] == name]


def test_forces_pressure_and_gap_are_those_of_the_clevis(found):
    curve = found.curve
    forces, _, pressure, _, gaps, _ = rows_with(tension_chart(found), "flap", "value", "line")
    for preload, state in (("with the greatest preload", curve.tight), ("without preload", curve.loose)):
        assert line(forces, f"pivot screw, {preload}") == pytest.approx(state.screw_tension)
        assert line(forces, f"ties of one blade, {preload}") == pytest.approx(state.tie_force)
        assert line(pressure, preload) == pytest.approx(greatest_pressure(state) / 1e6)
        opening = np.maximum(state.upper_opening, state.lower_opening)
        assert line(gaps, preload) == pytest.approx(1e3 * opening)
    flap = [row["flap"] for row in pressure if row["line"] == "without preload"]
    assert flap == pytest.approx(curve.moment)


def test_hover_first_gap_and_greatest_of_flight_are_marked_on_every_panel(found):
    curve = found.curve
    marked = rows_with(tension_chart(found), "flap", "name", "row")
    # Two layers of the strip above, one of each panel.
    assert len(marked) == 5
    assert all([row["flap"] for row in rows] == [row["flap"] for row in marked[0]] for rows in marked)
    names = {row["name"].partition(",")[0]: row["flap"] for row in marked[0]}
    assert names["greatest of flight"] == pytest.approx(curve.limit)
    assert names["stiff plates first gape"] == pytest.approx(curve.first_gap)
    assert names["hover"] == pytest.approx(curve.points.moment[1])
    assert f"flight reaches {curve.limit:.2f} N·m ({curve.hardest})" in notes_of(tension_chart(found))


def test_without_ties_no_tie_is_drawn(answers):
    names = {
        row["line"] for rows in rows_with(tension_chart(answers["no ties"]), "value", "line") for row in rows
    }
    assert not any("ties" in name for name in names)


def test_without_preload_nothing_is_said_to_stay_shut(answers):
    chart = tension_chart(answers["circlip"])
    assert "Without preload the faces gape at any flap moment" in notes_of(chart)
    assert not any("gape" in row["name"] for rows in rows_with(chart, "name", "row") for row in rows)


def test_every_bound_is_a_line_and_says_whether_it_can_be_met(found):
    tight = found.tightness
    rows = rows_with(tightness_chart(found), "line", "moment", "at")[0]
    drawn = {row["line"]: row["moment"] for row in rows}
    least, *bounds = drawn.items()
    assert least[0].startswith("least: no flopping") and least[1] == pytest.approx(tight.least_moment)
    for (name, moment), bound in zip(bounds, tight.bounds, strict=True):
        assert bound.name in name and moment == pytest.approx(bound.moment)
        assert name.startswith("no tightness gives it") is not bound.possible
    assert sum("in force" in name for name in drawn) == 1


def test_the_band_goes_through_the_moments_of_the_sheets_torque(found):
    tight = found.tightness
    (band,) = rows_with(tightness_chart(found), "at", "high")
    ends = [kelvin - 273.15 for kelvin in tight.temperatures]
    for key, values in (("moment", tight.moment_least), ("high", tight.moment_greatest)):
        there = np.interp(ends, [row["at"] for row in band], [row[key] for row in band])
        assert there == pytest.approx(values, abs=1e-2)
    assert "Cross: friction as measured, 0.25 N·m" in notes_of(tightness_chart(found))


def test_a_moment_that_ends_at_zero_ends_where_its_line_meets_it():
    ends, along = [-10.0, 20.0, 30.0], [-10.0, 0.0, 10.0, 20.0, 25.0, 30.0]
    assert between(along, ends, [0.0, 1.0, 2.0]) == pytest.approx([0.0, 0.0, 0.0, 1.0, 1.5, 2.0])
    assert between(along, ends, [1.0, 4.0, 5.0])[:3] == pytest.approx([1.0, 2.0, 3.0])
    # A bush that grows less than its screw loosens in the heat instead.
    assert between(along, ends, [4.0, 1.0, 0.0]) == pytest.approx([4.0, 3.0, 2.0, 1.0, 0.5, 0.0])
    assert between(along, ends, [31.0, 1.0, 0.0])[3:] == pytest.approx([1.0, 0.0, 0.0])
    assert between([5.0, 20.0], [5.0, 20.0, 20.0], [0.0, 3.0, 3.0]) == pytest.approx([0.0, 3.0])


@pytest.mark.parametrize("name", TIGHT)
def test_bars_are_the_windows_and_those_that_miss_say_so(answers, name):
    tight = answers[name].tightness
    (rows, _) = rows_with(tightness_chart(answers[name]), "way", "low")
    assert [row["way"] for row in rows] == [way.name for way in tight.ways]
    for row, way in zip(rows, tight.ways, strict=True):
        ends = sorted([way.torque_least, way.torque_greatest])
        assert [row["low"], row["high"]] == pytest.approx(ends)
        serves = BEST if way is tight.best_by_torque else SERVES
        assert row["kind"] == (serves if way.torque_width >= 1.0 else MISSES)
        assert (row["said"] == "none") is (way.torque_width < 1.0)


def test_a_construction_that_bears_no_torque_at_all_has_a_row_without_a_bar(found):
    none = replace(found.tightness.ways[1], torque_greatest=0.0, torque_width=0.0)
    tight = replace(found.tightness, ways=(found.tightness.ways[0], none, *found.tightness.ways[2:]))
    chart = tightness_chart(replace(found, tightness=tight))
    row = next(row for row in rows_with(chart, "way", "low")[0] if row["way"] == none.name)
    assert (row["low"], row["high"], row["kind"]) == (None, None, MISSES)
    assert render(chart, "svg").startswith(b"<svg")


@pytest.mark.parametrize("name", ["clamped", "circlip"])
def test_where_no_tightness_is_asked_for_none_is_drawn(answers, name):
    with pytest.raises(ValueError, match="no tightness to draw"):
        tightness_chart(answers[name])


@pytest.mark.parametrize("name", NAMES)
def test_every_life_is_on_its_side_of_the_service_life(answers, name):
    found = answers[name]
    wanted = found.service_hours
    rows = rows_with(life_chart(found, headline(found)), "kind", "hours")[0]
    drawn = {
        row["name"]: row
        for layer in rows_with(life_chart(found, headline(found)), "kind", "hours")
        for row in layer
    }
    assert len(drawn) == len(found.lives) >= len(rows) > 0
    for life in found.lives:
        row = drawn[f"{life.part}: {life.mode}"]
        assert row["said"].startswith(hours(life))
        if life.hours is None:
            assert row["kind"] == OPEN
        elif life.hours < wanted:
            assert row["kind"] == SHORT and row["hours"] < wanted
        else:
            assert row["kind"] in {LASTS, ENDLESS} and row["hours"] >= wanted
        assert (row["said"].partition(" *")[0] == NO_DAMAGE) is (life.hours == np.inf)


def test_what_is_not_checked_is_seen(answers):
    chart = life_chart(answers["circlip"], headline(answers["circlip"]))
    drawn = [row for rows in rows_with(chart, "kind") for row in rows if row["kind"] == OPEN]
    assert {(row["name"], row["said"]) for row in drawn} == {("pivot screw: thread", "not checked")}
    assert "Not checked: pivot screw (thread)" in notes_of(chart)


def test_a_life_off_the_axis_stands_at_its_end(found):
    wanted = found.service_hours
    lives = (
        replace(found.lives[0], hours=1e-9 * wanted),
        replace(found.lives[1], hours=1e9 * wanted),
    )
    chart = life_chart(replace(found, lives=lives), "as it is")
    short, long = rows_with(chart, "kind", "hours")[0]
    axis = next(x for layer in layers(chart) if "domain" in (x := layer["encoding"]["x"]).get("scale", {}))
    low, high = axis["scale"]["domain"]
    assert (short["hours"], short["kind"]) == (pytest.approx(low), SHORT)
    assert (long["hours"], long["kind"]) == (pytest.approx(high), ENDLESS)


def test_lives_do_not_rest_on_colour_alone(found):
    for layer in layers(life_chart(found, headline(found))):
        encoding = layer["encoding"]
        if "shape" in encoding:
            assert encoding["shape"]["field"] == encoding["color"]["field"]
            assert len(set(encoding["shape"]["scale"]["range"])) == len(encoding["shape"]["scale"]["domain"])
            break
    else:
        pytest.fail("no marks with shapes")


@pytest.mark.parametrize("draw", [tension_chart, tightness_chart])
def test_lines_differ_by_dash_and_shape(found, draw):
    lines = [one["encoding"] for one in layers(draw(found)) if "field" in one["encoding"].get("color", {})]
    lines = [encoding for encoding in lines if encoding["color"]["field"] == "line"]
    assert lines and all("strokeDash" in encoding or "shape" in encoding for encoding in lines)
    for encoding in lines:
        for key in {"strokeDash", "shape"} & encoding.keys():
            scale = encoding[key]["scale"]
            assert len({str(look) for look in scale["range"]}) == len(scale["domain"])


@pytest.mark.parametrize("draw", [tension_chart, tightness_chart, lives_of])
def test_notes_fit_and_carry_the_cautions(found, draw):
    assessment = replace(found.assessment, build=replace(found.build, name="long " * 40 + "x" * 200))
    title = draw(replace(found, assessment=assessment)).to_dict()["title"]
    assert max(map(len, title["text"])) <= 0.63 * LETTERS and max(map(len, title["subtitle"])) <= LETTERS
    words = " ".join(title["subtitle"])
    assert INVENTED in words and CAUTIONS[0] in words


@pytest.mark.parametrize("name", NAMES)
def test_all_pictures_of_all_builds_are_drawn(answers, name):
    found = answers[name]
    assert clevis_svg(found.assessment).startswith("<svg")
    charts = [tension_chart, lives_of, *([tightness_chart] if name in TIGHT else [])]
    for draw in charts:
        assert render(draw(found), "svg").startswith(b"<svg")
