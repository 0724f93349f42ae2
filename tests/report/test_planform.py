"""The drawing of a blade is to scale, says what was assumed, is safe and stands alone."""

import re
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.planform import planform_drawing
from bladehold.report.render import FORMATS, render_drawing
from bladehold.rotor.correction import Correction
from bladehold.sheet import parse_sheet, resolve
from bladehold.sheet.build import MeasuredStation
from bladehold.study.shape import blade_of

TEXT = (Path(__file__).parents[2] / "examples" / "tarn6_repaired.toml").read_text(encoding="utf-8")
SVG = "{http://www.w3.org/2000/svg}"
STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}


@pytest.fixture(scope="module")
def build():
    return resolve(parse_sheet(TEXT))


@pytest.fixture(scope="module")
def sparse():
    keys = "widest_chord|tip_chord|widest_at|root_thickness|section|lug_edge_distance|lug_hole"
    return resolve(parse_sheet(re.sub(rf"^({keys}) = .*\n", "", TEXT, flags=re.MULTILINE)))


def tree(build):
    return ElementTree.fromstring(planform_drawing(build))


def words(drawing):
    return [element.text for element in drawing.iter(f"{SVG}text")]


def of_class(drawing, kind):
    return [e for e in drawing.iter() if kind in (e.get("class") or "").split()]


def points(element):
    return np.array([[float(v) for v in pair.split(",")] for pair in element.get("points").split()])


def test_the_planform_is_to_scale(build):
    drawing, (blade, _) = tree(build), blade_of(build)
    (outline,) = (points(e) for e in of_class(drawing, "blade"))
    lead, trail = outline[: len(outline) // 2], outline[len(outline) // 2 :][::-1]
    scale = (lead[-1, 0] - lead[0, 0]) / (blade.radius - blade.r[0])
    assert trail[:, 1] - lead[:, 1] == pytest.approx(
        scale * np.append(blade.chord, blade.chord[-1]), abs=0.11
    )
    assert lead[:-1, 0] - lead[0, 0] == pytest.approx(scale * (blade.r - blade.r[0]), abs=0.11)
    middle = lead[:, 1] + 0.25 * (trail[:, 1] - lead[:, 1])
    assert middle == pytest.approx(middle[0], abs=0.11)
    hole, balance = (e for e in of_class(drawing, "hole"))
    axis = lead[0, 0] - scale * blade.r[0]
    assert float(hole.get("cx")) - axis == pytest.approx(scale * build.hub.pivot_radius, abs=0.11)
    arm = scale * (build.hub.pivot_radius + build.propeller.balance_point)
    assert float(balance.get("cx")) - axis == pytest.approx(arm, abs=0.11)


def test_the_three_curves_are_the_models(build):
    drawing, (blade, _) = tree(build), blade_of(build)
    curves = [points(e) for e in of_class(drawing, "curve")]
    assert len(curves) == 3
    for curve, values in zip(curves, (blade.chord, blade.twist, blade.thickness), strict=True):
        slope, start = np.polyfit(values, curve[:, 1], 1)
        assert slope < 0.0
        assert curve[:, 1] == pytest.approx(slope * values + start, abs=0.11)


def test_measures_are_written_on_their_lines(build):
    found = words(tree(build))
    for text in (
        "pivot radius 30 mm",
        "balance point 102 mm",
        "tip radius 304.8 mm",
        "widest 50.0 mm",
        "tip 20.0 mm",
    ):
        assert text in found
    assert not any("ssumed" in text for text in found)


def test_what_was_assumed_is_named_and_drawn_dashed(sparse):
    drawing = tree(sparse)
    found = " ".join(words(drawing))
    assert "widest 48.8 mm, assumed" in found and "tip 19.5 mm, assumed" in found
    assert (
        "Assumed, not given: widest chord, place of the widest chord, tip chord, root thickness, section, "
        "lug edge distance, lug hole." in found
    )
    assert len(of_class(drawing, "assumed")) == 2


def test_measured_stations_are_dots_and_a_calibration_is_told(build):
    stations = tuple(
        MeasuredStation(radius=r, chord=c, twist=0.2, thickness=0.005, section="naca4412")
        for r, c in ((0.08, 0.03), (0.2, 0.045), (0.29, 0.02))
    )
    taught = replace(build.propeller, stations=stations, correction=Correction(np.radians(0.8), 1.1, 1.0))
    drawing = tree(replace(build, propeller=taught))
    found = " ".join(words(drawing))
    assert "widest 49.5 mm" in found and "measured stations" in found
    assert "pitch +0.80 deg, chord x 1.100" in found
    assert len(of_class(drawing, "mark")) == 9


def test_names_are_escaped_and_nothing_comes_from_outside(build):
    odd = replace(build, name='</title><script>alert("x")</script> & co')
    text = planform_drawing(odd)
    assert "<script" not in text
    assert ElementTree.fromstring(text).find(f"{SVG}title").text.startswith("</title><script>")
    assert "<script" not in render_drawing(text, "html").decode()
    assert re.findall(r"https?://[^\"]*", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"url\(|href|@import", text)


def test_it_takes_the_pages_ink_and_its_dark(build):
    style = tree(build).find(f"{SVG}style").text
    assert "currentColor" in style and "prefers-color-scheme: dark" in style
    assert all(rule.strip().startswith((".planform", "@media", "}")) for rule in style.splitlines())


def overlapping(drawing):
    """Pairs of texts whose boxes overlap, taking a letter as 0.56 of the size wide."""
    boxes = []
    for element in drawing.iter(f"{SVG}text"):
        size = 20.0 if element.get("class") == "title" else 16.0
        x, y, width = float(element.get("x")), float(element.get("y")), 0.56 * size * len(element.text)
        left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[element.get("text-anchor")] * width
        boxes.append((element.text, left, left + width, y - 0.75 * size, y + 0.2 * size))
    return [
        (a[0], b[0])
        for k, a in enumerate(boxes)
        for b in boxes[k + 1 :]
        if a[1] < b[2] and b[1] < a[2] and a[3] < b[4] and b[3] < a[4]
    ]


@pytest.mark.parametrize("diameter", ["16 in", "24 in", "40 in"])
def test_words_lie_beside_each_other_and_inside(diameter):
    build = resolve(parse_sheet(re.sub(r"(?m)^diameter = .*$", f'diameter = "{diameter}"', TEXT)))
    drawing = tree(build)
    width, height = (float(v) for v in drawing.get("viewBox").split()[2:])
    assert overlapping(drawing) == []
    for element in drawing.iter(f"{SVG}text"):
        assert 0.0 < float(element.get("x")) < width and 0.0 < float(element.get("y")) < height


def test_the_smallest_words_can_be_read_on_a_narrow_page(build):
    drawing = tree(build)
    size = float(re.search(r"font: (\d+)px", drawing.find(f"{SVG}style").text)[1])
    assert size * 390.0 / float(drawing.get("viewBox").split()[2]) > 9.0


def test_the_picture_of_the_pages_is_todays(build):
    page = Path(__file__).parents[2] / "docs" / "pictures" / "tarn6_blade.svg"
    assert page.read_text(encoding="utf-8") == planform_drawing(build)


def test_cautions_stand_in_the_drawing(build):
    for invented in (True, False):
        found = " ".join(words(tree(replace(build, invented=invented))))
        assert CAUTIONS[0] in found
        assert (INVENTED in found) == invented


@pytest.mark.parametrize("kind", FORMATS)
def test_every_format_is_drawn(build, kind):
    assert render_drawing(planform_drawing(build), kind).startswith(STARTS[kind])


def test_the_picture_in_the_pages_is_this_drawing(build):
    picture = Path(__file__).parents[2] / "docs" / "pictures" / "tarn6_blade.svg"
    assert picture.read_text(encoding="utf-8") == planform_drawing(build), "draw it again"


def test_a_long_name_is_cut_but_the_title_says_what_is_drawn(build):
    drawing = tree(replace(build, name="long " * 40))
    (title,) = [e.text for e in of_class(drawing, "title")]
    assert len(title) <= 52 and title.endswith("…: the blade")
