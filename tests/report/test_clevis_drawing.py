"""The drawing of the retention joint is to scale, legible, and shows margins, forces and measures."""

import math
import re
from dataclasses import replace
from xml.etree import ElementTree

import numpy as np
import pytest
from joint_drawing import (
    NAMES,
    SVG,
    assessed,
    box,
    check_page,
    hardest,
    of_kind,
    of_part,
    scale_of,
    sheet_text,
    size,
    tree,
    with_hub,
    with_pivot,
    words,
)

from bladehold.cautions import CAUTIONS, INVENTED
from bladehold.report.clevis_arrows import arrows_of
from bladehold.report.clevis_column import newtons
from bladehold.report.clevis_drawing import clevis_svg
from bladehold.report.clevis_states import SIGNS, STYLE, States, lines
from bladehold.report.render import FORMATS, render_drawing
from bladehold.sheet import parse_sheet, resolve
from bladehold.study.assess import assess
from bladehold.tables import head, nut

STARTS = {"html": b"<!DOCTYPE html>", "svg": b"<svg", "png": b"\x89PNG"}


@pytest.fixture(scope="module")
def assessments():
    return {name: assessed(name) for name in NAMES}


@pytest.fixture(scope="module")
def delivered(assessments):
    return assessments["tarn6_as_delivered"]


@pytest.fixture(scope="module")
def repaired(assessments):
    return assessments["tarn6_repaired"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("which", ["governing", "hardest"])
def test_the_examples_fill_a_page_without_clashes(assessments, name, which):
    found = assessments[name]
    check_page(tree(found, None if which == "governing" else hardest(found)))


@pytest.mark.parametrize("name", NAMES)
def test_parts_have_their_true_proportions(assessments, name):
    found = assessments[name]
    drawing, hub, screw = tree(found), found.build.hub, found.build.pivot
    scale = scale_of(drawing)
    lug, plan_lug = of_kind(drawing, "lug")[:2], of_kind(drawing, "lug")[2]
    assert size(*lug)[1] == pytest.approx(scale * hub.lug_thickness, abs=0.11)
    left, _, right, _ = box(lug[0])
    assert right - left == pytest.approx(scale * (hub.lug_edge_distance - hub.lug_cut / 2), abs=0.11)
    wide, high = size(lug[0])
    true = (hub.lug_edge_distance - hub.lug_cut / 2) / hub.lug_thickness
    assert wide / high == pytest.approx(true, rel=5e-3)
    assert size(plan_lug)[1] == pytest.approx(scale * hub.lug_width, abs=0.21)
    for side in ("upper", "lower"):
        assert size(of_kind(drawing, f"plate-{side}")[0])[1] == pytest.approx(
            scale * hub.plate_thickness, abs=0.11
        )
    upper, lower = (box(*of_kind(drawing, f"plate-{side}")) for side in ("upper", "lower"))
    assert lower[1] - upper[3] == pytest.approx(scale * (hub.lug_thickness + 2 * hub.gap), abs=0.11)
    top = head(screw.thread.name, screw.head)
    (drawn,) = of_kind(drawing, "head")
    assert size(drawn) == pytest.approx((scale * top.width, scale * top.height), abs=0.11)
    under = box(drawn)[3]
    lowest = max(box(*of_kind(drawing, kind))[3] for kind in ("thread",))
    assert lowest - under == pytest.approx(scale * screw.length, abs=0.21)


def test_both_views_lie_on_the_same_axis(repaired):
    drawing, build = tree(repaired), repaired.build
    scale = scale_of(drawing)
    head_box, hole_box = box(*of_kind(drawing, "head")), box(*of_kind(drawing, "screw"))
    pivot = (head_box[0] + head_box[2]) / 2
    assert pivot == pytest.approx((hole_box[0] + hole_box[2]) / 2, abs=0.11)
    spacers = of_kind(drawing, "spacer")
    for spacer in spacers:
        left, _, right, _ = box(spacer)
        assert pivot - (left + right) / 2 == pytest.approx(scale * build.ties.distance, abs=0.11)
        assert right - left == pytest.approx(scale * build.hub.spacer_diameter, abs=0.21)
    assert len(spacers) == 1 + build.ties.count
    mounting = [box(e) for e in of_kind(drawing, "mounting")]
    assert len(mounting) == build.mounting.count
    centres = np.array([((a + c) / 2, (b + d) / 2) for a, b, c, d in mounting])
    middle = centres.mean(axis=0)
    assert np.hypot(*(centres - middle).T) == pytest.approx(scale * build.mounting.bolt_circle / 2, abs=0.11)
    assert pivot - middle[0] == pytest.approx(scale * build.hub.pivot_radius, abs=0.11)


def test_every_part_shows_its_state_by_colour_hatching_sign_and_word(delivered, repaired):
    seen = set()
    for found in (delivered, repaired):
        drawing, states = tree(found), States.of(found)
        for part, state in states.states.items():
            shapes = of_part(drawing, part)
            assert shapes
            assert all(state in e.get("class").split() for e in shapes)
            assert states.said(part) in words(drawing)
            seen.add(state)
        for state, sign in SIGNS.items():
            if state in states.states.values():
                assert sign in words(drawing)
    assert {"fails", "holds"} <= seen


def test_the_three_hatchings_differ_without_colour():
    ring = [(0.0, 0.0), (60.0, 0.0), (60.0, 40.0), (0.0, 40.0)]
    drawn = {state: lines([ring], 1, state) for state in SIGNS}
    counts = {state: "".join(paths).count("M") for state, paths in drawn.items()}
    assert counts["unchecked"] == 0
    assert counts["fails"] == 2 * counts["little"] > counts["holds"] > 0
    assert re.search(r"\.of-little \{[^}]*stroke-dasharray", STYLE)
    assert not re.search(r"\.of-holds \{[^}]*stroke-dasharray", STYLE)


def test_a_small_margin_and_an_unchecked_part_look_so(repaired):
    policy = replace(repaired.build.policy, marginal=1.0)
    little = replace(repaired, build=replace(repaired.build, policy=policy))
    plates = of_part(tree(little), "hub plates")
    assert plates and all("little" in e.get("class").split() for e in plates)
    without = replace(repaired, checks=tuple(c for c in repaired.checks if c.part != "hub plates"))
    drawing = tree(without)
    assert all("unchecked" in e.get("class").split() for e in of_part(drawing, "hub plates"))
    assert "not checked" in words(drawing)


def test_a_clamped_root_has_its_margin_beside_it():
    text = sheet_text(NAMES[0]).replace("folding = true", "folding = false")
    found = assess(resolve(parse_sheet(text)))
    drawing = tree(found)
    check_page(drawing)
    assert words(drawing).count("clamped root") == 2
    assert words(drawing).count(States.of(found).said("clamped root")) == 2


def arrows_drawn(drawing):
    """Lengths of the straight force arrows with filled heads, longest last; the bar of the scale left out."""
    shafts = [e for e in drawing.iter(f"{SVG}line") if e.get("class") == "force"]
    heads = 11.0
    return sorted(
        heads + math.hypot(float(e.get("x2")) - float(e.get("x1")), float(e.get("y2")) - float(e.get("y1")))
        for e in shafts[:-1]
    )


def test_arrows_are_as_long_as_forces_are_great(repaired):
    condition = hardest(repaired)
    drawing, arrows = tree(repaired, condition), arrows_of(repaired, condition)
    drawn = arrows_drawn(drawing)
    forces = sorted([arrows.centrifugal, arrows.upper, arrows.lower, arrows.tension, arrows.tension])
    assert np.array(drawn) / drawn[-1] == pytest.approx(np.array(forces) / forces[-1], rel=5e-3)
    # The lift is too small for the scale: an open head says so.
    assert [e for e in drawing.iter() if e.get("class") == "force open"]
    found = words(drawing)
    for letter, force in (("P", arrows.centrifugal), ("L", arrows.lift), ("Nu", arrows.upper)):
        assert f"{letter} {newtons(force)}" in found
    assert f"M {arrows.flap_moment:.3g} N·m" in found


def test_arrows_are_those_of_the_condition(repaired):
    root = repaired.loads.root
    for place, name in enumerate(repaired.loads.names):
        arrows = arrows_of(repaired, name)
        assert arrows.centrifugal == root.centrifugal[place]
        assert arrows.flap_moment == root.flap_peak[place]
        assert arrows.upper - arrows.lower == pytest.approx(arrows.lift, abs=1e-9)
    assert arrows_of(repaired).condition == repaired.governing.condition
    with pytest.raises(ValueError, match="condition must be one of"):
        clevis_svg(repaired, "no such condition")


def test_a_proof_without_flap_moment_also_tells_the_hardest_flight(repaired):
    drawing = tree(repaired, "centrifugal proof")
    text = " ".join(words(drawing))
    assert "Forces drawn: centrifugal proof" in text
    assert "Hardest in flight" in text
    assert newtons(arrows_of(repaired, hardest(repaired)).upper) in words(drawing)


def test_dimensions_are_written(repaired):
    found, lever = words(tree(repaired)), 1e3 * arrows_of(repaired).lever
    names = ("t1 4", "t2 8", "g 0.05", "e 9", "ep 12", "w 18", "wp 20", "b 14", "r 30", f"c {lever:.3g}")
    for text in names:
        assert text in found
    assert "d 5 in hole 5" in found and "bolt circle ø 25" in found
    assert not any(text.endswith("*") for text in found)


def test_what_was_assumed_is_marked():
    text = re.sub(
        r"^(gap|lug_edge_distance|plate_width) = .*\n", "", sheet_text(NAMES[0]), flags=re.MULTILINE
    )
    drawing = tree(assess(resolve(parse_sheet(text))))
    found = words(drawing)
    assert "g 0.1*" in found and "e 9*" in found and "wp 18*" in found and "ep 9" in found
    assert any("* assumed" in line for line in found)
    marked = [e.text for e in drawing.iter(f"{SVG}text") if e.get("class") == "assumed"]
    assert set(marked) == {"g 0.1*", "e 9*", "wp 18*"}


def test_a_thin_gap_is_enlarged_and_a_wide_one_is_not(delivered):
    assert any("gap g, ×" in text for text in words(tree(delivered)))
    assert not any("gap g, ×" in text for text in words(tree(with_hub(delivered, gap=2e-3))))


def test_a_plate_too_wide_for_the_plan_says_so(repaired):
    drawing = tree(with_hub(repaired, plate_width=0.3))
    check_page(drawing)
    assert "wp 300, not all shown" in words(drawing)
    assert size(of_kind(drawing, "lug")[2])[1] > 50.0


def test_mounting_screws_outside_the_plan_are_counted(repaired):
    mounting = replace(repaired.build.mounting, bolt_circle=90e-3, count=12)
    drawing = tree(replace(repaired, build=replace(repaired.build, mounting=mounting)))
    shown = len(of_kind(drawing, "mounting"))
    assert 0 < shown < 12
    assert f"{12 - shown} of 12 mounting screws lie outside the plan." in " ".join(words(drawing))


def test_ties_and_mounting_screws_stand_clear_of_each_other(repaired):
    drawing = tree(repaired)
    spacers = [box(e) for e in of_kind(drawing, "spacer")[1:]]
    for a in (box(e) for e in of_kind(drawing, "mounting")):
        for b in spacers:
            apart = math.hypot((a[0] + a[2] - b[0] - b[2]) / 2, (a[1] + a[3] - b[1] - b[3]) / 2)
            assert apart > (a[2] - a[0] + b[2] - b[0]) / 2


@pytest.mark.parametrize(
    ("kind", "drawn"),
    [("locking", "nut-collar"), ("hexagon", "nut"), ("thin", "nut"), ("circlip", "circlip")],
)
def test_what_holds_the_screws_end_is_drawn(repaired, kind, drawn):
    drawing = tree(with_pivot(repaired, nut=kind, length=None))
    assert of_kind(drawing, drawn)
    if kind in {"hexagon", "thin", "locking"}:
        fitting, scale = nut("M5", kind), scale_of(drawing)
        parts = [*of_kind(drawing, "nut"), *of_kind(drawing, "nut-collar")]
        assert size(*parts) == pytest.approx((scale * fitting.width, scale * fitting.height), abs=0.11)


def test_a_tapped_end_has_its_engagement_and_no_nut(repaired):
    found = with_pivot(repaired, nut="tapped", engagement=7e-3)
    drawing, scale = tree(found), scale_of(tree(found))
    assert not of_kind(drawing, "nut") and not of_kind(drawing, "circlip")
    _, top, _, _ = box(*of_kind(drawing, "plate-lower"))
    _, _, _, end = box(*of_kind(drawing, "thread"))
    assert end - top == pytest.approx(scale * 7e-3, abs=0.21)
    assert of_kind(drawing, "boss")


def test_threads_are_drawn_where_threads_are(delivered, repaired):
    full, plain = tree(delivered), tree(repaired)
    assert not of_kind(full, "shank")
    assert box(*of_kind(full, "thread"))[1] == pytest.approx(box(*of_kind(full, "head"))[3], abs=0.11)
    (shank,) = of_kind(plain, "shank")
    assert box(shank)[1] == pytest.approx(box(*of_kind(plain, "head"))[3], abs=0.11)
    assert box(shank)[3] == pytest.approx(box(*of_kind(plain, "plate-lower"))[3], abs=0.11)


def test_a_long_bush_keeps_the_plates_apart(repaired):
    drawing = tree(with_hub(repaired, bush_length=9e-3))
    scale = scale_of(drawing)
    upper, lower = (box(*of_kind(drawing, f"plate-{side}")) for side in ("upper", "lower"))
    assert lower[1] - upper[3] == pytest.approx(scale * 9e-3, abs=0.11)
    assert size(of_kind(drawing, "bush")[0])[1] == pytest.approx(scale * 9e-3, abs=0.11)
    assert "g 0.5" in words(drawing)


def test_names_are_escaped_and_nothing_comes_from_outside(repaired):
    odd = replace(repaired, build=replace(repaired.build, name='</title><script>alert("x")</script> & co'))
    text = clevis_svg(odd)
    assert "<script" not in text
    assert ElementTree.fromstring(text).find(f"{SVG}title").text.startswith("</title><script>")
    assert re.findall(r"https?://[^\"]*", text) == ["http://www.w3.org/2000/svg"]
    assert not re.search(r"url\(|href|@import", text)


def test_it_can_be_read_aloud(delivered):
    drawing = tree(delivered)
    assert drawing.get("role") == "img"
    assert drawing.find(f"{SVG}title").text == f"{delivered.build.name}: blade retention joint, does not hold"
    assert "pivot screw fails -0." in drawing.find(f"{SVG}desc").text


def test_cautions_and_verdict_stand_in_the_drawing(repaired):
    for invented in (True, False):
        build = replace(repaired.build, invented=invented)
        found = " ".join(words(tree(replace(repaired, build=build))))
        assert CAUTIONS[0] in found
        assert "the hub plates (between lug and root) last shortest, 31.8 h" in found
        assert (INVENTED in found) == invented
        assert "Tarn 6, repaired HOLDS" in found


@pytest.mark.parametrize("kind", FORMATS)
def test_every_format_is_drawn(delivered, kind):
    assert render_drawing(clevis_svg(delivered), kind).startswith(STARTS[kind])


def test_words_are_large_enough_on_a_screen(delivered):
    drawing = tree(delivered)
    letters = float(re.search(r"font: (\d+)px", drawing.find(f"{SVG}style").text)[1])
    assert letters * 900.0 / float(drawing.get("viewBox").split()[2]) > 10.0
