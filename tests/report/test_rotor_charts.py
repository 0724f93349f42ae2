"""The charts of a rotor say what the solution says, and are drawn in every format."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.disc import DiscLoads
from bladehold.report.disc_charts import disc_chart, forward_chart
from bladehold.report.render import FORMATS, render
from bladehold.report.rotor_charts import LETTERS, loading_chart, performance_chart
from bladehold.sheet import load_sheet, resolve
from bladehold.sheet.build import Assumption, MeasuredStation
from bladehold.study.forward import forward_flight
from bladehold.study.performance import performance_of
from bladehold.study.words import rpm

EXAMPLES = Path(__file__).parents[2] / "examples"
STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}


@pytest.fixture(scope="module")
def build():
    return resolve(load_sheet(EXAMPLES / "tarn6_repaired.toml"))


@pytest.fixture(scope="module")
def found(build):
    return performance_of(build)


def layers(chart):
    return [layer for panel in chart.to_dict()["vconcat"] for layer in panel["layer"]]


def values(chart, key):
    """The values under one key of every layer that has it."""
    return [
        [row[key] for row in layer["data"]["values"]]
        for layer in layers(chart)
        if key in layer["data"]["values"][0]
    ]


def test_coefficients_over_speed(build, found):
    chart = performance_chart(found, build)
    lines = values(chart, "value")
    for name, pair in zip(
        ("thrust_coefficient", "power_coefficient", "figure_of_merit"),
        zip(lines[::2], lines[1::2], strict=True),
        strict=True,
    ):
        for drawn in pair:
            assert drawn == pytest.approx(getattr(found, name))
    used = [row for row in values(chart, "rpm") if len(row) == 1]
    assert used == [[pytest.approx(rpm(float(found.hover.rotation_speed)))]] * 3


def test_speeds_outside_a_range_look_different_and_are_in_the_legend(build, found):
    states = {state for row in values(performance_chart(found, build), "state") for state in row}
    assert states == {"inside its ranges"}
    mixed = performance_of(build, [0.08, 1.0])
    chart = performance_chart(mixed, build)
    assert {"inside its ranges", "outside its ranges"} == {s for row in values(chart, "state") for s in row}
    encodings = [layer["encoding"] for layer in layers(chart) if "color" in layer["encoding"]]
    assert all(encoding["color"]["legend"] is not None for encoding in encodings)


def test_coefficients_begin_at_zero_and_states_differ_in_shape_too(build, found):
    encodings = [layer["encoding"] for layer in layers(performance_chart(found, build))]
    assert all(encoding["y"]["scale"]["zero"] for encoding in encodings if "y" in encoding)
    shapes = [encoding["shape"]["scale"]["range"] for encoding in encodings if "shape" in encoding]
    assert shapes == [["circle", "cross"]] * 3


def notes_of(chart):
    return chart.to_dict()["title"]["subtitle"]


def test_ranges_left_and_speeds_left_out_are_told_in_words(build):
    heavy = replace(build, flying=replace(build.flying, used_thrust=180.0))
    fast = performance_of(heavy, [0.8, 1.0, 3.0])
    assert fast.left_out == 1
    words = " ".join(notes_of(performance_chart(fast, heavy)))
    assert "Faster speeds are left out: the blade tip would pass Mach 0.9" in words
    assert fast.solution.breaches and "! Range left: section Mach number" in words
    light = replace(build, flying=replace(build.flying, used_thrust=0.2))
    slow = performance_of(light)
    assert slow.hover.breaches
    assert "! Range left: section Reynolds number" in " ".join(notes_of(loading_chart(slow, light)))


def test_assumed_measures_are_told_in_words(build, found):
    assert not [line for line in notes_of(performance_chart(found, build)) if "Assumed" in line]
    why = Assumption("propeller.tip_chord", "20 mm", "x")
    guessed = replace(build, assumptions=(*build.assumptions, why))
    for chart in (performance_chart(found, guessed), loading_chart(found, guessed)):
        assert "Assumed, not given: tip chord; `show` says how." in " ".join(notes_of(chart))


def test_fast_flight_is_told_in_words(build):
    flown = forward_flight(build)
    chart = forward_chart(build, flown)
    words = " ".join(notes_of(chart))
    for place, name in enumerate(flown.names):
        solution = flown.solution
        said = words.split(f"{name.capitalize()}: ")[1].split("beyond stall")[0]
        assert f"{rpm(float(solution.rotation_speed[place])):.0f} rpm" in said
        assert f"reverse flow on {float(solution.reverse_share[place]):.0%} of the disc" in said
        assert f"{float(solution.stalled_share[place]):.0%} of the retreating blade" in said
    assert INVENTED in words and CAUTIONS[0] in words and "Not calibrated" in words
    cells = [layer["data"]["values"] for layer in layers(chart) if "theta" in layer["encoding"]]
    for place, rows in enumerate(cells):
        area = [row["outer"] ** 2 - row["inner"] ** 2 for row in rows]
        swept = np.pi * (build.propeller.diameter / 2) ** 2 / flown.solution.azimuth.size
        thrust = swept * sum(a * row["value"] for a, row in zip(area, rows, strict=True))
        assert thrust == pytest.approx(float(flown.solution.thrust[place]), rel=0.01)
    low, high = cells_domain(chart)
    values_drawn = [row["value"] for rows in cells for row in rows]
    assert (low, high) == (pytest.approx(min(values_drawn)), pytest.approx(max(values_drawn)))


def cells_domain(chart):
    return layers(chart)[0]["encoding"]["color"]["scale"]["domain"]


def test_titles_and_notes_are_broken_into_lines_that_fit(build, found):
    odd = replace(build, name="long " * 40 + "x" * 200)
    for chart in (performance_chart(found, odd), loading_chart(found, odd)):
        title = chart.to_dict()["title"]
        assert max(map(len, title["text"])) <= 0.63 * LETTERS and max(map(len, title["subtitle"])) <= LETTERS
        assert "".join(title["text"]).count("x") >= 200


def test_pages_fit_a_narrow_screen_and_have_a_title_and_no_way_to_the_network(build, found):
    page = render(performance_chart(found, build), "html").decode()
    assert '<html lang="en">' in page and 'content="width=device-width' in page
    assert "<title>Tarn 6, repaired: the rotor over its speeds</title>" in page
    assert "svg.marks { max-width: 100%; height: auto; }" in page
    assert '"renderer": "svg"' in page and '"actions": false' in page


def test_loads_along_the_blade_sum_to_the_rotors(build, found):
    chart = loading_chart(found, build)
    drawn = [row for row in values(chart, "load") if row[0] == 0.0 == row[-1]]
    mm = [row for row in values(chart, "mm") if len(row) == len(drawn[0])]
    thrust, drag = (np.trapezoid(load, np.array(x) / 1e3) for load, x in zip(drawn, mm, strict=True))
    assert thrust * build.propeller.blades == pytest.approx(build.flying.used_thrust, rel=1e-3)
    arm = np.trapezoid(np.array(drawn[1]) * np.array(mm[1]) / 1e3, np.array(mm[1]) / 1e3)
    assert arm * build.propeller.blades == pytest.approx(float(found.hover.torque), rel=1e-3)
    assert drag > 0.0


def test_every_station_of_model_and_sheet_is_marked(build, found):
    points = values(loading_chart(found, build), "share")
    assert [len(row) for row in points] == [found.hover.geometry.r.size] * 2
    stations = tuple(
        MeasuredStation(radius=r, chord=0.04, twist=0.2, thickness=0.005, section="naca4412")
        for r in (0.08, 0.2, 0.3)
    )
    table = replace(build, propeller=replace(build.propeller, stations=stations))
    chart = loading_chart(performance_of(table), table)
    assert [row for row in values(chart, "mm") if row == pytest.approx([80.0, 200.0, 300.0])]
    assert any("Red ticks" in line for line in chart.to_dict()["title"]["subtitle"])


def disc(low=0.0):
    psi = np.arange(12) * np.pi / 6
    value = low + 5.0 + 5.0 * np.sin(psi)[:, np.newaxis] * np.ones(4)
    return DiscLoads("thrust per disc area", "N/m²", np.array([0.1, 0.15, 0.2, 0.28]), 0.03, 0.3, psi, value)


def test_a_map_names_flight_turning_and_sides():
    chart = disc_chart([disc()], "Loads over the disc", ["note"], invented=True)
    words = {w for row in values(chart, "text") for w in row}
    assert words == {"flight", "turns counterclockwise", "advancing side", "retreating side"}
    cells = layers(chart)[0]
    assert len(cells["data"]["values"]) == 48
    domain = cells["encoding"]["color"]["scale"]["domain"]
    assert domain == pytest.approx([0.0, 10.0])


def test_loads_that_pull_down_have_a_colour_of_their_own():
    scale = layers(disc_chart([disc(low=-3.0)], "x", [], invented=False))[0]["encoding"]["color"]["scale"]
    assert scale["domainMid"] == 0.0
    assert (
        "domainMid"
        not in layers(disc_chart([disc()], "x", [], invented=False))[0]["encoding"]["color"]["scale"]
    )


def test_one_colour_means_one_load_in_all_maps():
    cells = layers(disc_chart([disc(), disc(low=10.0)], "x", [], invented=False))
    scales = [layer["encoding"]["color"]["scale"] for layer in cells if "color" in layer["encoding"]]
    assert [scale["domain"] for scale in scales] == [pytest.approx([0.0, 20.0])] * 2
    with pytest.raises(ValueError, match="share their colours"):
        disc_chart([disc(), replace(disc(), unit="deg")], "x", [], invented=False)


@pytest.mark.parametrize("kind", FORMATS)
@pytest.mark.parametrize("which", ["performance", "loading", "disc"])
def test_every_chart_is_drawn_in_every_format(build, found, which, kind):
    chart = {
        "performance": lambda: performance_chart(found, build),
        "loading": lambda: loading_chart(found, build),
        "disc": lambda: disc_chart([disc(-1.0)], "Loads", [], invented=True, clockwise=True),
    }[which]()
    assert render(chart, kind).lstrip().startswith(STARTS[kind])


def test_cautions_and_calibration_stand_in_every_picture(build, found):
    for chart in (performance_chart(found, build), loading_chart(found, build)):
        lines = " ".join(chart.to_dict()["title"]["subtitle"])
        assert CAUTIONS[0] in lines and INVENTED in lines and "Not calibrated" in lines
    lines = " ".join(disc_chart([disc()], "x", [], invented=False).to_dict()["title"]["subtitle"])
    assert CAUTIONS[0] in lines and INVENTED not in lines


def test_names_with_quotes_and_tags_do_not_break_the_picture(build, found):
    odd = replace(build, name='<b>"24" & co</b></script>')
    chart = performance_chart(found, odd)
    assert "<b>" not in render(chart, "svg").decode()
    assert '<b>"24"' not in render(chart, "html").decode()
    assert json.loads(chart.to_json())
