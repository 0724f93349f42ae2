"""Every build a sheet accepts is drawn without clashes; axis and hatching do as they say."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from joint_drawing import NAMES, NUMBER, assessed, check_page, of_kind, scale_of, size, tree

from bladehold.report.clevis_page import broken_axis, hatch, merged
from bladehold.tables import UnknownName, nut, thread, thread_names

lengths = st.floats(-5.3, -0.9).map(lambda power: 10.0**power)  # m
usual = st.floats(2e-3, 30e-3)


@st.composite
def builds(draw):
    """Builds as a sheet may give them: any size of hub and screws that keeps holes inside their parts."""
    build, some = assessed(NAMES[1]).build, st.one_of(usual, lengths)
    row = thread(draw(st.sampled_from(thread_names())))
    kind = draw(st.sampled_from(("hexagon", "locking", "thin", "tapped", "circlip", "none")))
    try:
        engaged = nut(row.name, kind).thread_height
    except UnknownName:
        kind = "tapped" if kind == "locking" else kind
        engaged = 0.0 if kind in {"circlip", "none"} else draw(usual)
    plane = draw(st.sampled_from(("thread", "shank")))
    shank = max(row.nominal_diameter, draw(st.floats(1e-3, 12e-3)))
    crossing = row.profile.root_diameter if plane == "thread" else shank
    hole = max(row.nominal_diameter, crossing) * draw(st.floats(1.0, 1.5))
    bush = draw(st.none() | st.floats(1.1, 2.0))
    cut = hole * (bush or 1.0)
    beyond = st.floats(1.02, 4.0)
    width, plate_width = cut * draw(beyond), hole * draw(beyond)
    pivot_radius = draw(st.floats(3e-3, 0.3))
    hub = replace(
        build.hub,
        pivot_radius=pivot_radius,
        plate_thickness=draw(some),
        plate_width=draw(st.just(plate_width) | st.floats(plate_width, 0.5)),
        plate_edge_distance=hole / 2 * draw(beyond),
        plate_hole=hole,
        lug_thickness=draw(some),
        lug_width=width,
        lug_edge_distance=cut / 2 * draw(beyond),
        lug_hole=hole,
        bush_diameter=cut if bush else None,
        bush_length=draw(some),
        contact_length=cut * draw(beyond),
        gap=draw(st.just(0.0) | st.floats(0.0, 5e-3)),
        spacer_diameter=draw(st.floats(4e-3, 20e-3)),
        upper_plate_bolted=draw(st.booleans()),
    )
    pivot = replace(
        build.pivot,
        thread=row,
        head=draw(st.sampled_from(("socket", "hexagon"))),
        nut=kind,
        engagement=engaged,
        shear_plane=plane,
        shear_diameter=crossing,
        washers=draw(st.booleans()),
        length=draw(st.none() | st.floats(2e-3, 0.2)),
    )
    count = draw(st.integers(0, 12))
    screw = replace(build.mounting.screw, thread=thread(draw(st.sampled_from(thread_names()))))
    ties = replace(
        build.ties,
        count=count,
        screw=screw if count else None,
        distance=pivot_radius * draw(st.floats(0.02, 0.99)),
    )
    mounting = replace(
        build.mounting,
        count=draw(st.integers(2, 24)),
        screw=screw,
        bolt_circle=draw(st.floats(1e-3, 0.4)),
    )
    return replace(build, hub=hub, pivot=pivot, ties=ties, mounting=mounting)


@settings(max_examples=100, deadline=None)
@given(build=builds(), place=st.integers(0, 10))
def test_every_build_is_drawn_without_clashes(build, place):
    found = replace(assessed(NAMES[1]), build=build)
    drawing = tree(found, found.loads.names[place])
    check_page(drawing)
    hub, scale = found.build.hub, scale_of(drawing)
    *section, plan = of_kind(drawing, "lug")
    for drawn, true in ((size(*section)[1], hub.lug_thickness), (size(plan)[1], hub.lug_width)):
        # The bar that gives the scale is at least 68 units long and rounded, as all places are, to 0.1.
        assert abs(drawn - scale * true) < 0.11 + drawn * 0.11 / 68.0


@settings(max_examples=60, deadline=None)
@given(
    stretches=st.lists(st.tuples(st.floats(-1, 1), st.floats(0.01, 0.5)), min_size=1, max_size=6),
    scale=st.floats(10.0, 1000.0),
)
def test_a_broken_axis_keeps_scale_and_order(stretches, scale):
    kept = merged([(low, low + long) for low, long in stretches], 0.4)
    axis = broken_axis(kept, scale, 5.0, 26.0)
    for low, high in kept:
        assert axis(high) - axis(low) == pytest.approx(scale * (high - low), rel=1e-9)
    assert len(axis.breaks) == len(kept) - 1
    assert list(axis.units) == sorted(axis.units)
    for low, long in stretches:
        assert any(first <= low and low + long <= last for first, last in kept)


@settings(max_examples=60, deadline=None)
@given(
    wide=st.floats(20.0, 200.0),
    high=st.floats(20.0, 200.0),
    lean=st.sampled_from((1, -1)),
    hole=st.booleans(),
)
def test_hatching_stays_inside_and_out_of_holes(wide, high, lean, hole):
    rings = [[(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]]
    inner = (0.3 * wide, 0.3 * high, 0.7 * wide, 0.7 * high)
    if hole:
        a, b, c, d = inner
        rings.append([(a, b), (c, b), (c, d), (a, d)])
    lines = np.array([float(v) for v in NUMBER.findall(hatch(rings, lean, 6.0))]).reshape(-1, 2, 2)
    assert len(lines)
    assert (
        (lines >= -0.06).all()
        and (lines[..., 0] <= wide + 0.06).all()
        and (lines[..., 1] <= high + 0.06).all()
    )
    slopes = lines[:, 1] - lines[:, 0]
    assert slopes[:, 1] == pytest.approx(-lean * slopes[:, 0], abs=0.21)
    middles = lines.mean(axis=1)
    inside = (
        (middles[:, 0] > inner[0] + 0.1)
        & (middles[:, 0] < inner[2] - 0.1)
        & (middles[:, 1] > inner[1] + 0.1)
        & (middles[:, 1] < inner[3] - 0.1)
    )
    assert not (hole and inside.any())
    # Six units apart, the lines' length times that is the area.
    area = wide * high * (1.0 - (0.16 if hole else 0.0))
    drawn = 6.0 * np.hypot(slopes[:, 0], slopes[:, 1]).sum()
    assert drawn == pytest.approx(area, rel=0.35)
