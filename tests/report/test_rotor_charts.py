"""The charts of a rotor say what the solution says, and are drawn in every format."""

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladehold.report.disc import DiscLoads
from bladehold.report.render import FORMATS, render
from bladehold.report.rotor_charts import disc_chart, loading_chart, performance_chart
from bladehold.sheet import load_sheet, resolve
from bladehold.sheet.build import MeasuredStation
from bladehold.study.performance import performance_of
from bladehold.study.words import CAUTIONS, INVENTED, rpm

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
