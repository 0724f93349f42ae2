"""The range chart says of every propeller what its row says, and is drawn in every format."""

import json
import math
from dataclasses import replace

import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.chart import range_chart
from bladehold.report.render import FORMATS, render
from bladehold.study.range_chart import RangeRow

GRAVITY = 9.80665
FAILS = RangeRow(
    name="OW-24F",
    diameter=24 * 0.0254,
    claimed_thrust=13 * GRAVITY,
    used_thrust=4.6 * GRAVITY,
    present_screw="M3",
    present_class="A2-70",
    present_margin=-0.6,
    held_thrust=1.0 * GRAVITY,
    share_of_claim=0.13,
    needed={"8.8": "M6", "12.9": None},
    band={"8.8": ("M5", "M8"), "12.9": (None, None)},
    unmet={},
    besides="hub plates: bending between lug and root (yield) -0.10",
    assumed=("pitch",),
)
HOLDS = replace(
    FAILS,
    name="OW-18F",
    diameter=18 * 0.0254,
    present_screw="M8",
    present_margin=0.4,
    held_thrust=6 * GRAVITY,
    needed={"8.8": "M4", "12.9": "M3"},
)
CLASSES = ("8.8", "12.9")


def marks(rows, **options):
    """Every mark of the chart as (column label, what it stands for, screw or thrust)."""
    spec = range_chart(rows, CLASSES, invented=options.get("invented", False)).to_dict()
    found = []
    for panel in spec["vconcat"]:
        for layer in panel["layer"]:
            for value in layer["data"]["values"]:
                if "what" in value:
                    label = value["column"].split("\n", 1)[1]
                    found.append((label, value["what"], value.get("kgf", value.get("screw"))))
    return found


def test_screws_fitted_and_needed():
    found = marks([FAILS, HOLDS])
    assert ("OW-24F\n24 in", "fitted, fails", "M3") in found
    assert ("OW-18F\n18 in", "fitted, holds", "M8") in found
    assert ("OW-24F\n24 in", "needed in 8.8", "M6") in found
    assert ("OW-18F\n18 in", "needed in 12.9", "M3") in found


def test_a_class_without_a_screw_is_shown_not_left_out():
    assert ("OW-24F\n24 in", "needed in 12.9", "none holds") in marks([FAILS])


def test_thrusts_claimed_used_and_held():
    found = marks([FAILS, HOLDS])
    assert ("OW-24F\n24 in", "claimed by the maker", 13.0) in found
    assert ("OW-24F\n24 in", "used", 4.6) in found
    assert ("OW-24F\n24 in", "held, less than used", 1.0) in found
    assert ("OW-18F\n18 in", "held", 6.0) in found


def test_no_limit_found_has_no_mark_and_a_word():
    row = replace(HOLDS, held_thrust=math.inf)
    assert not [what for _, what, _ in marks([row]) if what.startswith("held")]
    title = range_chart([row], CLASSES, invented=False).to_dict()["title"]["subtitle"]
    assert any(line.startswith("No mark") for line in title)
    title = range_chart([FAILS], CLASSES, invented=False).to_dict()["title"]["subtitle"]
    assert not any(line.startswith("No mark") for line in title)


def test_a_screw_that_does_not_fit_fails():
    row = replace(FAILS, present_margin=None, held_thrust=math.nan)
    assert ("OW-24F\n24 in", "fitted, fails", "M3") in marks([row])


def test_columns_run_by_size_and_equal_propellers_stay_apart():
    spec = range_chart([FAILS, HOLDS, FAILS], CLASSES, invented=False).to_dict()
    columns = spec["vconcat"][0]["layer"][0]["encoding"]["x"]["sort"]
    assert columns == ["0\nOW-18F\n18 in", "1\nOW-24F\n24 in", "2\nOW-24F\n24 in"]


def test_many_classes_keep_marks_of_their_own():
    classes = ("4.6", "5.8", "8.8", "10.9", "12.9", "A2-70")
    row = replace(HOLDS, needed=dict.fromkeys(classes, "M4"), band=dict.fromkeys(classes, ("M4", "M5")))
    encoding = range_chart([row], classes, invented=False).to_dict()["vconcat"][0]["layer"][2]["encoding"]
    scales = (encoding["color"]["scale"]["range"], encoding["shape"]["scale"]["range"])
    looks = list(zip(*scales, strict=True))
    assert len(set(looks)) == len(looks) == len(classes) + 1


def test_bands_reach_from_end_to_end_on_an_axis_in_the_order_of_the_threads():
    panel = range_chart([FAILS, HOLDS], CLASSES, invented=False).to_dict()["vconcat"][0]
    spans = panel["layer"][1]["data"]["values"]
    ends = {(span["slot"], span["low"], span["high"]) for span in spans if span["column"].startswith("1")}
    assert ends == {("8.8", "M5", "M8"), ("12.9", "none holds", "none holds")}
    order = panel["layer"][1]["encoding"]["y"]["scale"]["domain"]
    assert order == ["none holds", "M8", "M6", "M5", "M4", "M3"]


def test_cautions_stand_in_the_picture():
    for invented in (True, False):
        lines = " ".join(range_chart([FAILS], CLASSES, invented=invented).to_dict()["title"]["subtitle"])
        assert CAUTIONS[0] in lines
        assert (INVENTED in lines) == invented


@pytest.mark.parametrize("kind", FORMATS)
def test_every_format_is_drawn(kind):
    drawn = render(range_chart([FAILS, HOLDS], CLASSES, invented=True), kind)
    starts = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}
    assert drawn.lstrip().startswith(starts[kind])
    if kind == "svg":
        assert b"OW-24F" in drawn and b"none holds" in drawn


def test_names_with_quotes_and_tags_do_not_break_the_picture():
    row = replace(FAILS, name='<b>"24" & co</b>')
    drawn = render(range_chart([row], CLASSES, invented=False), "svg").decode()
    assert "<b>" not in drawn
    assert json.loads(range_chart([row], CLASSES, invented=False).to_json())
